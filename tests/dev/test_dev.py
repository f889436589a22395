#!/usr/bin/python3
"""The checks of tools/dev find what they look for: each is tried on a small tree that is wrong."""

import os
import subprocess
import sys
import tempfile
import unittest

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
sys.path.insert(0, os.path.join(TOP, "tests", "support"))
import plain  # noqa: E402


def run_tool(name, *arguments):
    run = subprocess.run([sys.executable, os.path.join(TOP, "tools", "dev", name), *arguments],
                         capture_output=True, text=True, check=False)
    return run.returncode, run.stdout


class Tree(unittest.TestCase):
    """A temporary folder with a few files."""

    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.root = self.folder.name

    def tearDown(self):
        self.folder.cleanup()

    def put(self, path, text):
        full = os.path.join(self.root, path)
        os.makedirs(os.path.dirname(full), exist_ok=True)
        with open(full, "w", encoding="utf-8") as out:
            out.write(text)

    def arrows(self, rule):
        return run_tool("arrows.py", rule, self.root)


class Includes(Tree):
    def check_one(self, path, include, breach):
        self.put(path, f"int x;\n#include {include}\n")
        code, out = self.arrows("includes")
        if breach:
            self.assertEqual((code, out), (1, f"{path}:2: {breach}\n"))
        else:
            self.assertEqual((code, out), (0, ""))

    def test_upward_arrow(self):
        self.check_one("engine/geometry/a.c", '"gradin/layout.h"',
                       "geometry may not include gradin/layout.h")

    def test_writer_that_computes_through_another_writer(self):
        self.check_one("engine/table/a.c", '"gradin/render.h"',
                       "table may not include gradin/render.h")

    def test_whole_library_inside_a_room(self):
        self.check_one("engine/studies/a.c", '"gradin/gradin.h"',
                       "studies may not include gradin/gradin.h")

    def test_private_header_of_another_room(self):
        self.check_one("engine/sightline/a.c", '"layout/node.h"',
                       "sightline may not include layout/node.h; private headers are named "
                       "ROOM/NAME.h")

    def test_header_without_its_room(self):
        self.check_one("engine/sightline/a.c", '"focus.h"',
                       "sightline may not include focus.h; private headers are named ROOM/NAME.h")

    def test_public_header_with_a_private_one(self):
        self.check_one("engine/include/gradin/layout.h", '"layout/node.h"',
                       "a public header may not include layout/node.h")

    def test_public_header_upward(self):
        self.check_one("engine/include/gradin/base.h", '"gradin/table.h"',
                       "base may not include gradin/table.h")

    def test_outside_library_in_a_wrong_room(self):
        self.check_one("engine/sightline/a.c", "<yaml.h>",
                       "sightline may not use <yaml.h>; only files")

    def test_unknown_room(self):
        self.put("engine/attic/a.c", "int x;\n")
        self.assertEqual(self.arrows("includes"), (1, "engine/attic/a.c: unknown room 'attic'\n"))

    def test_allowed_ones(self):
        self.check_one("engine/files/a.c", '"gradin/geometry.h"', None)
        self.check_one("engine/files/b.c", '"files/node.h"', None)
        self.check_one("engine/files/c.c", '"base/digest.h"', None)
        self.check_one("engine/files/d.c", "<yaml.h>", None)
        self.check_one("engine/acoustics/room/e.c", '"acoustics/room/room.h"', None)


class Lengths(Tree):
    def test_long_file(self):
        self.put("tools/a.c", "\n" * 400)
        self.assertEqual(self.arrows("lengths"), (0, ""))
        self.put("tests/unit/base/b.c", "\n" * 401)
        self.assertEqual(self.arrows("lengths"),
                         (1, "tests/unit/base/b.c: has 401 lines; at most 400\n"))

    def test_table_of_data_is_excepted(self):
        self.put("engine/render/draw/colour_table.c", "\n" * 900)
        self.assertEqual(self.arrows("lengths"), (0, ""))


class Format(Tree):
    def test_format(self):
        with open(os.path.join(TOP, ".clang-format"), encoding="utf-8") as style:
            self.put(".clang-format", style.read())
        self.put("engine/base/a.c", "int one(void) {\n    return 1;\n}\n")
        code, out = self.arrows("format")
        if code == 77:
            self.skipTest(out)
        self.assertEqual((code, out), (0, ""))
        self.put("engine/base/b.c", "int one(void) {\n  return  1;\n}\n")
        self.assertEqual(self.arrows("format"),
                         (1, "engine/base/b.c:1: clang-format would change it\n"))


class Count(Tree):
    """count_tests.py: nothing that failed is lost."""

    def junit(self, *entries):
        body = "".join(
            f'<testcase name="t{i}" status="{"fail" if failed else "run"}">'
            f'{"<failure/>" if failed else ""}<system-out>{out}</system-out></testcase>'
            for i, (failed, out) in enumerate(entries))
        self.put("j.xml", f"<testsuite>{body}</testsuite>")
        return "run=" + os.path.join(self.root, "j.xml")

    def last(self, *arguments):
        code, out = run_tool("count_tests.py", *arguments)
        return code, out.splitlines()[-1]

    def test_sum_of_three_kinds(self):
        criterion = "[====] Synthesis: Tested: 7 | Passing: 7 | Failing: 0 | Crashing: 0"
        run = self.junit((False, criterion), (False, "x\n111 passed, 0 failed\n"), (False, "hi"))
        self.assertEqual(self.last(run), (0, "119 passed, 0 failed"))

    def test_crash_counts(self):
        criterion = "[====] Synthesis: Tested: 7 | Passing: 5 | Failing: 1 | Crashing: 1"
        self.assertEqual(self.last(self.junit((True, criterion))), (1, "5 passed, 2 failed"))

    def test_failed_entry_that_claims_none(self):
        run = self.junit((True, "9 passed, 0 failed\n"), (True, "killed"))
        self.assertEqual(self.last(run), (1, "9 passed, 2 failed"))

    def test_nothing_ran(self):
        self.assertEqual(self.last(self.junit()), (1, "0 passed, 1 failed"))
        self.assertEqual(self.last("run=" + os.path.join(self.root, "none.xml")),
                         (1, "0 passed, 1 failed"))

    def test_sanitizer_report_counts(self):
        run = self.junit((False, "ok"))
        self.put("reports/asan.1", "ERROR: LeakSanitizer")
        reports = os.path.join(self.root, "reports")
        self.assertEqual(self.last(run, "--reports", reports), (1, "1 passed, 1 failed"))

    def test_steps_count(self):
        run = self.junit((False, "ok"))
        self.assertEqual(self.last(run, "--steps", "3", "0"), (0, "4 passed, 0 failed"))
        self.assertEqual(self.last(run, "--steps", "2", "1"), (1, "3 passed, 1 failed"))


if __name__ == "__main__":
    plain.main()
