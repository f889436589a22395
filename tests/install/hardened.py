#!/usr/bin/python3
"""The command and the shared library are hard to abuse: addresses that move, relocations made
read-only before anything runs, no stack that runs code, guarded stacks and checked copies.

usage: hardened.py COMMAND LIBRARY. Sources: the ELF specification (PT_GNU_RELRO, PT_GNU_STACK,
DT_FLAGS), the manuals of ld (-z relro, -z now) and gcc (-fstack-protector, -D_FORTIFY_SOURCE)."""

import subprocess
import sys
import unittest


def readelf(*options):
    return subprocess.run(["readelf", "-W", *options], check=True, stdout=subprocess.PIPE,
                          text=True).stdout


class Hardened(unittest.TestCase):
    files = []

    def each(self):
        for path in self.files:
            with self.subTest(path):
                yield path

    def test_addresses_move(self):
        for path in self.each():
            self.assertIn("DYN", readelf("-h", path))

    def test_relocations_are_read_only_at_once(self):
        for path in self.each():
            self.assertIn("GNU_RELRO", readelf("-l", path))
            self.assertIn("NOW", readelf("-d", path))

    def test_stack_runs_no_code(self):
        for path in self.each():
            line = next(x for x in readelf("-l", path).splitlines() if "GNU_STACK" in x)
            self.assertNotIn("E", line.split()[-2])

    def test_stacks_are_guarded_and_copies_checked(self):
        for path in self.each():
            names = readelf("--dyn-syms", path)
            self.assertIn("__stack_chk_fail", names)
            self.assertIn("_chk@", names.replace("__stack_chk_fail@", ""))

    def test_no_path_of_the_build_is_searched(self):
        self.assertNotRegex(readelf("-d", self.files[1]), "R(UN)?PATH")


if __name__ == "__main__":
    Hardened.files = sys.argv[1:]
    unittest.main(argv=sys.argv[:1])
