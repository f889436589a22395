#!/usr/bin/python3
"""tools/dev/api.py finds what it looks for: each check is tried on a small library that is wrong.

usage: test_api.py CC"""

import os
import subprocess
import sys
import tempfile
import unittest

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
sys.path.insert(0, os.path.join(TOP, "tests", "support"))
import plain  # noqa: E402

CC = sys.argv[1]
MARK = '__attribute__((visibility("default")))'
HEAD = "/* x.h\n *\n * Ownership and threads: none. */\n"
GOOD_H = HEAD + "#define GRADIN_API " + MARK + "\nGRADIN_API int gradin_one(void);\n"
GOOD_C = '#include "x.h"\nint gradin_one(void) { return 1; }\nint hidden(void) { return 2; }\n'


class Api(unittest.TestCase):
    def check(self, header, source, listed="gradin_one\n", static_hides=True):
        """What api.py says of a library of one file; without static_hides its archive shows all."""
        with tempfile.TemporaryDirectory() as root:
            os.makedirs(os.path.join(root, "engine/include/gradin"))
            os.makedirs(os.path.join(root, "tests/install"))
            for path, text in (("engine/include/gradin/x.h", header), ("x.c", source),
                               ("tests/install/symbols.txt", listed)):
                with open(os.path.join(root, path), "w", encoding="utf-8") as out:
                    out.write(text)
            compile_it = [CC, "-fPIC", "-fvisibility=hidden", "-Iengine/include/gradin", "x.c"]
            for step in (compile_it + ["-shared", "-o", "x.so"], compile_it + ["-c", "-o", "x.o"],
                         ["objcopy", "--localize-hidden", "x.o"] if static_hides else ["true"],
                         ["ar", "rcs", "x.a", "x.o"]):
                subprocess.run(step, cwd=root, check=True)
            run = subprocess.run(
                [sys.executable, os.path.join(TOP, "tools/dev/api.py"), "check",
                 os.path.join(root, "x.so"), os.path.join(root, "x.a"), root],
                capture_output=True, text=True, check=False)
            return run.returncode, run.stdout

    def refused(self, out, said):
        self.assertEqual(out[0], 1)
        self.assertIn(said, out[1])

    def test_a_good_library(self):
        self.assertEqual(self.check(GOOD_H, GOOD_C)[0], 0)

    def test_an_external_name_in_the_archive(self):
        self.refused(self.check(GOOD_H, GOOD_C, static_hides=False),
                     "x.a: exports hidden, which no public header declares")

    def test_an_exported_function_that_no_header_has(self):
        source = GOOD_C + MARK + " int gradin_two(void) { return 2; }\n"
        self.refused(self.check(GOOD_H, source),
                     "x.so: exports gradin_two, which no public header declares")

    def test_a_declared_function_that_is_not_there(self):
        self.refused(self.check(GOOD_H + "GRADIN_API int gradin_two(void);\n", GOOD_C,
                                "gradin_one\ngradin_two\n"),
                     "x.so: does not export gradin_two, which a public header declares")

    def test_a_declaration_without_the_mark(self):
        self.refused(self.check(GOOD_H.replace("GRADIN_API int", "int"), GOOD_C),
                     "gradin_one lacks GRADIN_API; run tools/dev/api.py mark")

    def test_a_name_without_the_prefix(self):
        source = GOOD_C + "int other(void) { return 3; }\n"
        self.refused(self.check(GOOD_H + "GRADIN_API int other(void);\n", source,
                                "gradin_one\nother\n"), "other does not start with gradin_")

    def test_a_list_that_is_old(self):
        self.refused(self.check(GOOD_H, GOOD_C, "gradin_one\ngradin_zero\n"),
                     "is not the list of public symbols (gradin_zero)")

    def test_a_header_that_is_silent_on_threads(self):
        self.refused(self.check(GOOD_H.replace("Ownership and threads: none.", "Nothing."), GOOD_C),
                     "x.h: its first comment says nothing about ownership and threads")


if __name__ == "__main__":
    del sys.argv[1]
    plain.main()
