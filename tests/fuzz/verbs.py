#!/usr/bin/python3
"""Whole runs of the command over small halls in which values, keys and lines were changed: each ends with
0 to 2 and says why when it is not 0, and nobody is left with half a file or a report of the sanitizers.

usage: verbs.py GRADIN SECONDS SEED FOUND; what fails is kept below FOUND with its command"""

import os
import random
import re
import shutil
import subprocess
import sys
import tempfile
import time

TESTS = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
GRADIN, SECONDS, SEED, FOUND = os.path.abspath(sys.argv[1]), float(sys.argv[2]), int(sys.argv[3]), os.path.abspath(sys.argv[4])
sys.argv[1:] = [GRADIN, GRADIN]  # as the modules below want them
sys.path[:0] = [os.path.join(TESTS, "faults"), os.path.join(TESTS, "cli")]
import test_memory  # noqa: E402

NUMBER = re.compile(r"(?<![\w.])-?\d+(\.\d+)?")
VALUES = ["0", "-1", "1", "2", "0.001", "1e-9", "1e6", "1e308", "nan", "", "~", "[]", "{}", "[1, 2]", "yes", "x",
          "90", "180", "359.9", "720", "0.5", "3", "100", "10000", "-0.3", "1,5", "0x10", "'", "2026-02-30"]
TARGETS = ["venue.yaml", "layout.yaml", "other.yaml", "brief.yaml", "season.yaml", "pass.yaml", "wishes.yaml",
           "show.yaml", "month.yaml", "study.yaml", "events.csv", "seats.csv", "street.csv", "door.csv", "levels.csv",
           "box.obj", "solid.yaml", "patches.yaml"]
OUTSIDE_MEMORY = {0, 1, 2}


def change_number(text, chance):
    found = list(NUMBER.finditer(text))
    if not found:
        return text
    at = chance.choice(found)
    if chance.random() < 0.5:
        new = chance.choice(VALUES)
    else:
        new = repr(round(float(at.group()) * chance.choice([-1, 0.1, 0.5, 0.9, 1.1, 2, 10]) + chance.choice([0, 0, 1]), 4))
    return text[:at.start()] + new + text[at.end():]


def change_lines(text, chance):
    lines = text.splitlines(keepends=True)
    i, j = chance.randrange(len(lines)), chance.randrange(len(lines))
    kind = chance.randrange(4)
    if kind == 0:
        del lines[i]
    elif kind == 1:
        lines.insert(j, lines[i])
    elif kind == 2:
        lines[i], lines[j] = lines[j], lines[i]
    else:
        lines[i] = lines[i].replace("  ", " ", 1) if chance.random() < 0.5 else "  " + lines[i]
    return "".join(lines)


def change_words(text, chance):
    """One word in place of another of the same file: a key, a name, a choice."""
    words = re.findall(r"[A-Za-z_][\w-]*", text)
    if not words:
        return text
    old, new = chance.choice(words), chance.choice(words + ["", "\u202e", "=1+1", "../x", "a" * 300])
    at = chance.choice([m.start() for m in re.finditer(re.escape(old), text)])
    return text[:at] + new + text[at + len(old):]


def changed(text, chance):
    for _ in range(chance.choice([1, 1, 1, 2, 3])):
        change = chance.choice([change_number, change_number, change_number, change_lines, change_words])
        text = change(text, chance) or "\n"
    return text


def wrong(done, folder):
    """What is wrong with a run; None when nothing is."""
    said = done.stderr.decode("utf-8", "replace")
    if "Sanitizer" in said or "runtime error" in said:
        return "a report of the sanitizers"
    if done.returncode not in OUTSIDE_MEMORY:
        return f"status {done.returncode}"
    if done.returncode == 2 and not said.strip():
        return "refused without a word"
    if any(ord(c) < 32 and c not in "\n\t" for c in said) or "\u202e" in said:
        return "steers the terminal"
    if any(name.endswith(".tmp") for _, _, names in os.walk(folder) for name in names):
        return "a temporary file is left"
    return None


def keep(folder, arguments, what, done, number):
    place = os.path.join(FOUND, f"{number}")
    shutil.copytree(folder, place, dirs_exist_ok=True)
    with open(os.path.join(place, "COMMAND"), "w", encoding="utf-8") as file:
        file.write(f"{what}\ngradin {' '.join(arguments)}\n" + done.stderr.decode("utf-8", "replace"))
    print(f"{what}: {place}", flush=True)


def try_one(case, good, chance, number, tally):
    arguments = chance.choice(test_memory.DRAWN)
    name = chance.choice(TARGETS)
    path = os.path.join(case.hall, name)
    with open(path, "w", encoding="utf-8") as file:
        file.write(changed(good[name].decode(), chance))
    env = {**os.environ, "OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1", "ASAN_OPTIONS": "detect_leaks=0"}
    try:
        done = subprocess.run([GRADIN, *arguments], cwd=case.hall, capture_output=True, check=False, timeout=300, env=env)
        what = wrong(done, case.hall)
    except subprocess.TimeoutExpired as late:
        done, what = subprocess.CompletedProcess(arguments, -1, b"", late.stderr or b""), "takes more than 300 s"
    if what:
        keep(case.hall, arguments, what, done, number)
    word = what and "failed" or ("good", "limit", "refused")[done.returncode]
    tally[word] = tally.get(word, 0) + 1
    for kept in os.listdir(case.hall):
        if kept not in good:
            place = os.path.join(case.hall, kept)
            (shutil.rmtree if os.path.isdir(place) else os.remove)(place)
    for kept in {name, *(k for k in good if not os.path.exists(os.path.join(case.hall, k)))}:
        with open(os.path.join(case.hall, kept), "wb") as file:
            file.write(good[kept])


def main():
    case, chance, tally, number = test_memory.Memory("setUp"), random.Random(SEED), {}, 0
    case.setUp()
    good, end = case.inputs, time.monotonic() + SECONDS
    while time.monotonic() < end:
        number += 1
        try_one(case, good, chance, number, tally)
    case.doCleanups()
    print(f"verbs, seed {SEED}: {number} runs, {tally}")
    sys.exit(1 if tally.get("failed") else 0)


if __name__ == "__main__":
    main()
