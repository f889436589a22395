"""Runs a module's unittest cases and ends with "N passed, N failed"."""

import sys
import unittest


def main():
    suite = unittest.defaultTestLoader.loadTestsFromModule(sys.modules["__main__"])
    result = unittest.TextTestRunner(stream=sys.stdout, verbosity=1).run(suite)
    bad = len({test.id() for test, _ in result.failures + result.errors})
    good = max(result.testsRun - bad, 0)
    print(f"{good} passed, {bad} failed")
    sys.exit(0 if good > 0 and bad == 0 else 1)
