#!/usr/bin/python3
"""Compiles every C file of a build with clang, warnings being errors, without making objects.

usage: clang_check.py BUILD JOBS

BUILD holds compile_commands.json of a build with gcc. Prints what clang says of files that it refuses
and how many files there were; exit status 1 when one was refused, or none found."""

import json
import os
import shlex
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor

DROPPED_WITH_VALUE = ("-o", "-MF", "-MT")
DROPPED = ("-MD", "-c")


def clang_command(entry):
    """The entry's command for clang: no launcher, no outputs."""
    words = shlex.split(entry["command"]) if "command" in entry else list(entry["arguments"])
    if os.path.basename(words[0]) == "ccache":
        words.pop(0)
    kept, skip = [], False
    for word in words[1:]:
        if skip:
            skip = False
        elif word in DROPPED_WITH_VALUE:
            skip = True
        elif word not in DROPPED:
            kept.append(word)
    return ["clang", "-fsyntax-only", "-Werror", *kept]


def check(entry):
    run = subprocess.run(clang_command(entry), cwd=entry["directory"], capture_output=True, text=True,
                         check=False)
    return (run.returncode, run.stdout + run.stderr, entry["file"])


def main():
    if len(sys.argv) != 3 or not sys.argv[2].isdigit():
        sys.exit(__doc__)
    with open(os.path.join(sys.argv[1], "compile_commands.json"), encoding="utf-8") as file:
        entries = [entry for entry in json.load(file) if entry["file"].endswith(".c")]
    with ThreadPoolExecutor(int(sys.argv[2])) as pool:
        found = list(pool.map(check, entries))
    for code, text, name in found:
        if code != 0:
            print(f"{name}\n{text}")
    n_bad = sum(code != 0 for code, _, _ in found)
    print(f"{len(found)} files, {n_bad} refused")
    sys.exit(1 if n_bad or not found else 0)


if __name__ == "__main__":
    main()
