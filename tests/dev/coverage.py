#!/usr/bin/python3
"""Lines and branches of engine/ and tools/ that were run in a build with --coverage, by folder, and the
files with the most that were not. Branches are gcov's, of which each call of a logical word has two.

usage: coverage.py BUILD [LINES_PERCENT BRANCHES_PERCENT]; 95 and 90 by default"""

import gzip
import json
import os
import subprocess
import sys
import tempfile

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
N_WORST = 25


def notes(build):
    return [os.path.join(at, name) for at, _, names in os.walk(build) for name in names
            if name.endswith(".gcda") and ("gradin_" in at)]


def counts(build):
    """{file: ({line: count}, {(line, branch): count})} of our files, the same line of several objects as one."""
    found = {}
    with tempfile.TemporaryDirectory() as folder:
        for note in notes(build):
            subprocess.run(["gcov", "--json-format", "--branch-probabilities", "--object-file", note, note], cwd=folder,
                           stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
            for name in os.listdir(folder):
                with gzip.open(os.path.join(folder, name), "rt", encoding="utf-8") as file:
                    take(json.load(file), found)
                os.remove(os.path.join(folder, name))
    return found


def take(report, found):
    for entry in report["files"]:
        path = os.path.normpath(os.path.join(report["current_working_directory"], entry["file"]))
        name = os.path.relpath(path, TOP)
        if not name.startswith(("engine/", "tools/")) or name.startswith("tools/dev"):
            continue
        lines, branches = found.setdefault(name, ({}, {}))
        for line in entry["lines"]:
            at = line["line_number"]
            lines[at] = lines.get(at, 0) + line["count"]
            for i, branch in enumerate(line["branches"]):
                branches[at, i] = branches.get((at, i), 0) + branch["count"]


def share(items):
    items = list(items)
    return 100.0 * sum(count > 0 for count in items) / max(len(items), 1), len(items)


def of(found, names, which):
    return share(count for name in names for count in found[name][which].values())


def main():
    wanted = [float(word) for word in sys.argv[2:4]] or [95.0, 90.0]
    found = counts(os.path.abspath(sys.argv[1]))
    folders = sorted({"/".join(name.split("/")[:2]) if name.startswith("engine/") else "tools" for name in found})
    for folder in folders:
        names = [name for name in found if name.startswith(folder + "/")]
        print(f"{folder}: lines {of(found, names, 0)[0]:.1f} %, branches {of(found, names, 1)[0]:.1f} %")
    missed = {name: sum(count == 0 for count in found[name][1].values()) for name in found}
    for name in sorted(missed, key=missed.get, reverse=True)[:N_WORST]:
        print(f"  {name}: {missed[name]} branches not taken, lines {of(found, [name], 0)[0]:.1f} %")
    lines, branches = of(found, found, 0), of(found, found, 1)
    print(f"all: lines {lines[0]:.1f} % of {lines[1]}, branches {branches[0]:.1f} % of {branches[1]}")
    sys.exit(0 if found and lines[0] >= wanted[0] and branches[0] >= wanted[1] else 1)


if __name__ == "__main__":
    main()
