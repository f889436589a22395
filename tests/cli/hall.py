"""What the tests of the command share: copies of the demo hall, runs of gradin, its tables.

usage of every script here: test_NAME.py GRADIN"""

import csv
import json
import os
import pty
import shutil
import subprocess
import sys
import tempfile
import unittest

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
DEMO = os.path.join(TOP, "demo")
LAYOUTS = ["end_stage", "thrust", "round", "traverse", "flat_floor"]
sys.path.insert(0, os.path.join(TOP, "tests", "support"))
import plain  # noqa: E402,F401

GRADIN = os.path.abspath(sys.argv.pop(1)) if len(sys.argv) > 1 else "gradin"


# Rooms that were computed are kept beside the command, for all tests: the results are the same bytes
# (cli_overflight), and a room by radiosity takes longer than all else.
ROOMS = os.path.join(os.path.dirname(GRADIN), "rooms")


def with_rooms(arguments):
    verb = arguments[0] if arguments else ""
    is_room = verb in ("compare", "listen", "choose", "page", "report") or verb in (
        "assess", "overflight", "export", "sweep") and any(str(word).endswith(".yaml") for word in arguments[1:-1])
    if not is_room or "--cache" in arguments:
        return arguments
    lacks_value = str(arguments[-1]).startswith("--") # perhaps: then it stays the last
    return [verb, "--cache", ROOMS, *arguments[1:]] if lacks_value else [*arguments, "--cache", ROOMS]


def run(*arguments, cwd=None, env=None, stdout=subprocess.PIPE, **more):
    """(exit status, stdout, stderr) of one run of gradin."""
    done = subprocess.run([GRADIN, *with_rooms(arguments)], cwd=cwd, stdout=stdout, stderr=subprocess.PIPE,
                          text=True, check=False, env={**os.environ, **(env or {})}, **more)
    return done.returncode, done.stdout, done.stderr


def on_terminal(*arguments, cwd=None):
    """(stderr, stdout) of a run that ends well and whose standard error alone is a terminal."""
    ours, theirs = pty.openpty()
    with subprocess.Popen([GRADIN, *arguments], cwd=cwd, stderr=theirs, stdout=subprocess.PIPE, text=True) as process:
        os.close(theirs)
        shown = b""
        try:
            while piece := os.read(ours, 4096):
                shown += piece
        except OSError:  # the other end is closed
            pass
        out, _ = process.communicate()
    os.close(ours)
    if process.returncode:
        raise AssertionError(f"{arguments}: exit status {process.returncode}: {shown}")
    return shown.decode(), out


def flat(text):
    """The words of a text on one line, wherever its lines end."""
    return " ".join(text.split())


PATCH = "room_patch: 6\n"


def copy_demo(folder, changes=(), patch=PATCH):
    """Copies the demo's inputs; changes are (file, old passage, new passage), every passage of
    that text replaced. A passage that is not there is an error. Layouts get coarse patches at
    their end, for most tests ask nothing of the room."""
    for name in os.listdir(DEMO):
        if name.endswith((".yaml", ".csv")):
            shutil.copy(os.path.join(DEMO, name), folder)
    for name, old, new in changes:
        path = os.path.join(folder, name)
        with open(path, encoding="utf-8") as source:
            text = source.read()
        if old not in text:
            raise AssertionError(f"{name} does not hold {old!r}")
        with open(path, "w", encoding="utf-8") as out:
            out.write(text.replace(old, new))
    for name in LAYOUTS:
        with open(os.path.join(folder, f"{name}.yaml"), "a+", encoding="utf-8") as file:
            file.seek(0)
            file.write("" if "room_patch" in file.read() else patch)


def change_people(folder, text=""):
    """The shifts, breaks, steps, rates and contingency of the demo's hall in a folder are these instead; none: it
    states none, and all work goes by its rates alone."""
    path = os.path.join(folder, "hall.yaml")
    with open(path, encoding="utf-8") as source:
        lines = source.read()
    first, after = lines.index("    # How people work here"), lines.index("  # A machine may move")
    with open(path, "w", encoding="utf-8") as out:
        out.write(lines[:first] + text + lines[after:])


def read_bytes(folder, records=False):
    """{name: bytes} of all files of a folder, with or without the records of runs."""
    found = {}
    for name in sorted(os.listdir(folder)):
        if not records and name.startswith("run-"):
            continue
        with open(os.path.join(folder, name), "rb") as source:
            found[name] = source.read()
    return found


def reference(name):
    """The rows of a table under reference/."""
    with open(os.path.join(TOP, "reference", name), encoding="utf-8", newline="") as source:
        return list(csv.DictReader(source))


class Table:
    """seats.csv and summary.json of one run."""

    def __init__(self, folder):
        with open(os.path.join(folder, "seats.csv"), encoding="utf-8", newline="") as source:
            self.rows = list(csv.DictReader(source))
        with open(os.path.join(folder, "summary.json"), encoding="utf-8") as source:
            self.summary = json.load(source)
        self.seat = {row["seat"]: row for row in self.rows}

    def numbers(self, column, where=lambda row: True):
        """{seat: number} of one column, empty cells left out."""
        return {row["seat"]: float(row[column]) for row in self.rows
                if row[column] != "" and where(row)}

    def mean(self, column):
        found = self.numbers(column)
        return sum(found.values()) / len(found)


def assess(layout, changes=(), options=()):
    """The Table of a layout of a changed demo hall."""
    with tempfile.TemporaryDirectory() as folder:
        copy_demo(folder, changes)
        code, _, err = run("assess", f"{layout}.yaml", "--out", "out", "--quiet", *options,
                           cwd=folder)
        if code != 0 or err:
            raise AssertionError(f"exit status {code}: {err}")
        return Table(os.path.join(folder, "out"))


class HallTest(unittest.TestCase):
    """A test with a copy of the demo in self.folder."""

    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.folder = self.temporary.name
        copy_demo(self.folder)

    def tearDown(self):
        self.temporary.cleanup()

    def change(self, name, old, new):
        copy_demo(self.folder, [(name, old, new)])

    def run_here(self, *arguments, **more):
        return run(*arguments, cwd=self.folder, **more)

    def path(self, name):
        return os.path.join(self.folder, name)
