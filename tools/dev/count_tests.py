#!/usr/bin/python3
"""Adds up what several ctest runs report.

usage: count_tests.py NAME=JUNIT.xml ... [--reports DIR] [--steps PASSED FAILED]

A Criterion program counts by its closing line, a program that ends with "N passed, N failed" by
that, any other entry as one test. A failed entry counts at least one failure. Every file of DIR is
a sanitizer report and counts one failure. The last line is "N passed, N failed"; exit status 0 only
when something passed and nothing failed."""

import argparse
import os
import re
import sys
import xml.etree.ElementTree as tree

ANSI = re.compile(r"\x1b\[[0-9;]*[A-Za-z]")
CRITERION = re.compile(
    r"Synthesis: Tested: (\d+) \| Passing: (\d+) \| Failing: (\d+) \| Crashing: (\d+)")
PLAIN = re.compile(r"^(\d+) passed, (\d+) failed$", re.MULTILINE)


def count_entry(output, is_failed):
    """(passed, failed) of one ctest entry."""
    text = ANSI.sub("", output)
    passed, failed = 0, 0
    closing = CRITERION.search(text)
    plain = PLAIN.findall(text)
    if closing:
        tested, passed = int(closing[1]), int(closing[2])
        failed = tested - passed
    elif plain:
        passed, failed = (int(n) for n in plain[-1])
    elif not is_failed:
        passed = 1
    return passed, max(failed, 1) if is_failed else failed


def count_run(name, path):
    """(passed, failed) of one ctest run."""
    if not os.path.exists(path):
        print(f"{name}: no test ran")
        return 0, 1
    passed = failed = skipped = 0
    for entry in tree.parse(path).getroot().iter("testcase"):
        if entry.find("skipped") is not None and entry.get("status") != "fail":
            print(f"{name}: {entry.get('name')} was skipped")
            skipped += 1
            continue
        output = entry.findtext("system-out") or ""
        is_failed = entry.find("failure") is not None or entry.get("status") != "run"
        p, f = count_entry(output, is_failed)
        if is_failed:
            print(f"---- {name}: {entry.get('name')} failed\n{output.strip()[-6000:]}\n----")
        passed, failed = passed + p, failed + f
    print(f"{name}: {passed} passed, {failed} failed, {skipped} entries skipped")
    if passed + failed == 0:
        return 0, 1
    return passed, failed


def count_reports(folder):
    names = sorted(os.listdir(folder)) if os.path.isdir(folder) else []
    for name in names:
        with open(os.path.join(folder, name), encoding="utf-8", errors="replace") as report:
            print(f"---- sanitizer report {name}\n{report.read(4000)}\n----")
    return len(names)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("run", nargs="+", metavar="NAME=JUNIT.xml")
    parser.add_argument("--reports", default="")
    parser.add_argument("--steps", nargs=2, type=int, default=(0, 0),
                        metavar=("PASSED", "FAILED"))
    options = parser.parse_args()
    passed, failed = options.steps
    for run in options.run:
        name, path = run.split("=", 1)
        p, f = count_run(name, path)
        passed, failed = passed + p, failed + f
    if options.reports:
        failed += count_reports(options.reports)
    print(f"{passed} passed, {failed} failed")
    return 0 if passed > 0 and failed == 0 else 1


if __name__ == "__main__":
    sys.exit(main())
