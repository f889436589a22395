#!/usr/bin/python3
"""tools/dev/count_tests.py counts right."""

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


class Count(unittest.TestCase):
    """count_tests.py: nothing that failed is lost."""

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
