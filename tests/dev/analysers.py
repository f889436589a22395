#!/usr/bin/python3
"""Runs clang-tidy or cppcheck over the C files of a build and prints what they say that is not among
the exceptions below, each with its reason.

usage: analysers.py tidy|cppcheck BUILD JOBS [PART OF A PATH]"""

import json
import os
import re
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))

# Bugs and what is likely to be one; not style, which clang-format and the reviewers have.
TIDY = ["-*", "clang-analyzer-*", "bugprone-*", "cert-*",
        "-bugprone-easily-swappable-parameters",       # says so of every two numbers in a row
        "-bugprone-narrowing-conversions",             # -Wconversion has what matters of it
        "-bugprone-reserved-identifier", "-cert-dcl37-c", "-cert-dcl51-cpp",  # __libc_malloc() is glibc's name
        "-bugprone-implicit-widening-of-multiplication-result",  # counts are bounded far below
        "-bugprone-branch-clone",                      # tables of cases read better whole
        "-bugprone-macro-parentheses",                 # names of members and types take none
        "-bugprone-sizeof-expression",                 # sizeof *pointer to pointer is meant
        "-bugprone-signed-char-misuse",
        "-bugprone-assignment-in-if-condition",
        "-cert-err33-c",                               # snprintf() into room that is known
        "-cert-err34-c",                               # tests read numbers that they wrote
        "-cert-msc30-c", "-cert-msc50-cpp",            # nothing here is secret
        "-clang-analyzer-security.insecureAPI.DeprecatedOrUnsafeBufferHandling",  # asks for Annex K, which glibc lacks
        "-clang-analyzer-security.insecureAPI.strcpy",
        "-clang-analyzer-optin.performance.Padding"]
# (part of the file's path, what is said): wrong or meant.
WRONG = [("", "Invalid log10() argument"),                 # the level of no sound is minus infinity
         ("tools/main.c", "'gradin_write_abandon' may not be"),  # atomics, poll() and unlink(): all may
         ("layered.c", "AST broken"),                      # cppcheck cannot read a compound literal there
         ("look_up.c", "Uninitialized variable: names"),   # filled by the loop before
         ("build_envelope.c", "Uninitialized variable: cut"),  # never empty: the line before sees to it
         ("angles.c", "Uninitialized variables: arcs"),    # one area at least is looked at
         ("cut_parts.c", "Uninitialized variable: x_m"),   # filled by the loop before
         ("encode.c", "Uninitialized variable: text"),     # a designated initializer
         ("moves.c", "Address of local auto-variable"),    # used while the function runs, and not after
         ("verbs/sweep.c", "Address of local auto-variable"),
         ("compare_text.c", "Casting between")]            # a member by its offset, which is a double's
CPPCHECK = ["--enable=warning,portability", "--std=c11", "--inline-suppr", "--quiet", "--error-exitcode=0",
            "--suppress=missingIncludeSystem", "--suppress=unknownMacro",
            "--suppress=nullPointerOutOfMemory", "--suppress=invalidPrintfArgType_sint",
            "--suppress=toomanyconfigs", "--suppress=preprocessorErrorDirective"]


def entries(build, part):
    with open(os.path.join(build, "compile_commands.json"), encoding="utf-8") as file:
        found = [e for e in json.load(file) if e["file"].endswith(".c") and part in e["file"]]
    ours = (os.path.join(TOP, "engine"), os.path.join(TOP, "tools"))
    return sorted({e["file"] for e in found if e["file"].startswith(ours)})


def tidy(name, build):
    known = [] if name.endswith("/status.c") else ["--extra-arg=-include" + os.path.join(TOP, "tests", "dev", "analysed.h")]
    run = subprocess.run(["clang-tidy", "-p", build, "--quiet", "--checks=" + ",".join(TIDY), *known,
                          "--extra-arg=-Wno-unknown-warning-option", "--extra-arg=-Wno-unused-command-line-argument", name],
                         capture_output=True, text=True, check=False)
    return run.stdout


def cppcheck(name, build):
    run = subprocess.run(["cppcheck", *CPPCHECK, "-I", os.path.join(TOP, "engine", "include"),
                          "-I", os.path.join(TOP, "engine"), "-I", os.path.join(TOP, "tools"), "-D__x86_64__=1",
                          "-D_GNU_SOURCE=1", "-D__linux__=1", "-D__GLIBC__=2", name], capture_output=True, text=True, check=False)
    return run.stderr


def findings(text):
    """Its lines 'FILE:LINE:COLUMN: KIND: ...' of our files, less those known to be wrong."""
    found = []
    for line in text.splitlines():
        match = re.match(r"(/\S+|\S+\.[ch]):\d+:\d+: (?:warning|error|portability)", line)
        if match and not any(file in line and part in line for file, part in WRONG):
            found.append(line)
    return found


def main():
    which, build, jobs = sys.argv[1], os.path.abspath(sys.argv[2]), int(sys.argv[3])
    names = entries(build, sys.argv[4] if len(sys.argv) > 4 else "")
    check = {"tidy": tidy, "cppcheck": cppcheck}[which]
    with ThreadPoolExecutor(jobs) as pool:
        texts = list(pool.map(lambda name: check(name, build), names))
    found = sorted({line for text in texts for line in findings(text)})
    print("\n".join(found))
    print(f"{len(names)} files, {len(found)} findings")
    sys.exit(1 if found or not names else 0)


if __name__ == "__main__":
    main()
