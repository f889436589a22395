"""What the tests of failing calls share: a run of every verb over the small hall, and what may come of it."""

import os
import shutil
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, os.path.join(os.path.dirname(os.path.dirname(os.path.abspath(__file__))), "cli"))
PRELOAD = os.path.abspath(sys.argv.pop(2))
MOST = int(sys.argv.pop(2)) if len(sys.argv) > 2 and sys.argv[2].isdigit() else 6
import hall  # noqa: E402
import small  # noqa: E402

# verb with its arguments; what it writes goes to "out"
RUNS = [
    ["check", "venue.yaml", "layout.yaml", "brief.yaml", "season.yaml", "wishes.yaml"],
    ["assess", "layout.yaml", "--samples", "16", "--no-maps", "--out", "out"],
    ["overflight", "layout.yaml", "--traffic", "season.yaml", "--no-maps", "--out", "out"],
    ["draft", "wishes.yaml", "--out", "out.yaml"],
    ["rake", "layout.yaml", "--block", "Stalls", "--c", "0.06", "--out", "out"],
    ["rails", "layout.yaml", "--out", "out"],
    ["changeover", "layout.yaml", "other.yaml", "--out", "out"],
    ["changeover", "--matrix", "layout.yaml", "other.yaml"],
    ["compare", "layout.yaml", "other.yaml", "--samples", "16", "--no-maps", "--out", "out"],
    ["fit", "layout.yaml", "--out", "out"],
    ["glazing", "venue.yaml", "--out", "out"],
    ["outlook", "layout.yaml", "--from", "street.csv", "--no-maps", "--out", "out"],
    ["spectrum", "levels.csv"],
    ["view", "layout.yaml", "--seat", "Stalls-1-1", "--size", "320x240", "--out", "out.png"],
    ["section", "layout.yaml", "--seat", "Stalls-1-1", "--out", "out.svg"],
    ["report", "layout.yaml", "other.yaml", "--samples", "16", "--out", "out"],
    ["sweep", "study.yaml", "--samples", "16", "--out", "out"],
    ["listen", "layout.yaml", "--seat", "Stalls-1-1", "--length", "10", "--out", "out.wav"],
    ["choose", "show.yaml", "layout.yaml", "other.yaml", "--out", "out"],
    ["programme", "month.yaml", "--out", "out"],
]
SHOW = """format: gradin-show-1
units: m
name: small play (invented)
brief: brief.yaml
must:
  seats: 4
quiet: {traffic: season.yaml, limit_dba: 45, events: 9}
performances: {starts: ["22:30"], minutes: 120, weekdays: [fri, sat, sun]}
partners:
  - {name: other, layout: other.yaml, hours: 90, margin_minutes: 60}
wishes:
  - {for: clear_share, weight: 1, nothing_at: 0.1, full_at: 0.9}
"""
MONTH = """format: gradin-programme-1
units: m
name: small month (invented)
layouts:
  - {name: one, file: layout.yaml}
  - {name: two, file: other.yaml}
shows:
  - {name: First, start: "2027-03-02T19:30", end: "2027-03-02T22:00", layouts: [one]}
  - {name: Second, start: "2027-03-06T19:30", end: "2027-03-06T22:00", layouts: [two]}
"""
STUDY = """format: gradin-study-1
units: m
name: small study (invented)
layout: layout.yaml
vary:
  - {name: depth, layout: "blocks[Arc].row_depth", values: [0.9, 1]}
figures: [clear_share]
aims: [{figure: clear_share, best: most}]
"""
LEVELS = "band_hz,office\n125,48\n250,40\n500,36\n1000,33\n2000,30\n4000,27\n"


def contents(folder):
    """{path: bytes} of all below a folder."""
    found = {}
    for at, _, names in os.walk(folder):
        for name in names:
            path = os.path.join(at, name)
            found[os.path.relpath(path, folder)] = contents_of(path)
    return found


def contents_of(path):
    with open(path, "rb") as file:
        return file.read()


def text_of(path):
    with open(path, encoding="utf-8") as file:
        return file.read()


class OnSmallHall(unittest.TestCase):
    """A copy of the small hall with a file of every kind."""

    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.addCleanup(self.temporary.cleanup)
        self.top = os.path.realpath(self.temporary.name)
        self.hall = os.path.join(self.top, "hall")
        small.make_hall(self.hall)
        for name in ("layout.yaml", "other.yaml"): # quick
            small.write(self.hall, name, text_of(os.path.join(self.hall, name)) + "room_method: diffuse\n")
        for name, text in (("show.yaml", SHOW), ("month.yaml", MONTH), ("study.yaml", STUDY), ("levels.csv", LEVELS)):
            small.write(self.hall, name, text)
        self.inputs = contents(self.hall)

    def run_faulty(self, arguments, counted, **env):
        """(status, what it printed, what it wrote, what it said, [calls counted])"""
        env = {**os.environ, "LD_PRELOAD": PRELOAD, "OMP_NUM_THREADS": "1", **env}
        done = subprocess.run([hall.GRADIN, *arguments], cwd=self.hall, env=env, capture_output=True, check=False,
                              timeout=600)
        written = self.take_written()
        with open(counted, encoding="utf-8") as file:
            return done.returncode, done.stdout, written, done.stderr.decode(), [int(n) for n in file.read().split()]

    def take_written(self, keeps_folders=False):
        """{path: bytes} of what a run wrote, which is removed."""
        written = {path: data for path, data in contents(self.hall).items() if self.inputs.get(path) != data}
        for path in written:
            os.remove(os.path.join(self.hall, path))
        for name in () if keeps_folders else ("out", "rooms"):
            shutil.rmtree(os.path.join(self.hall, name), ignore_errors=True)
        self.assertEqual([name for name in self.inputs if not os.path.exists(os.path.join(self.hall, name))], [])
        return written

    def expect_no_other_answer(self, what, whole, failed, missing):
        status, printed, written, said, _ = failed
        if status == whole[0] and (printed, written) == whole[1:3]:
            return "same"
        self.assertEqual(status, 3, f"{what}: {said}")
        self.assertTrue(said.strip(), f"{what}: no word")
        self.assertFalse([name for name in written if name.endswith(".tmp")], what)
        is_marked = any(os.path.basename(name).startswith("UNFINISHED-") for name in written)
        for name, data in written.items():
            if not is_marked:
                self.assertEqual(data, whole[2].get(name), f"{what}: {name}")
        self.assertFalse(missing(written, is_marked), f"{what}: {sorted(written)} is all that was written")
        return "refused"

    def tally(self, arguments, name, n_call, whole, outcomes):
        """Counts what came of each of outcomes, (number of the call that failed, what run_faulty() gives)."""
        found = {"same": 0, "refused": 0}
        def missing(written, is_marked): # a room that is kept is no result
            written = {name for name in written if not name.endswith(".room")}
            return written and not is_marked and written != set(whole[2])

        for n, failed in outcomes:
            what = f"{' '.join(arguments)}: {name} {n} of {n_call}"
            found[self.expect_no_other_answer(what, whole, failed, missing)] += 1
        return found


def spread(n, most):
    """Up to most of 1 to n, the first and the last among them."""
    count = min(n, most)
    return [1 + i * (n - 1) // max(count - 1, 1) for i in range(count)]


def add_tests(case, walk, runs):
    """A test per run; walk(test, arguments) gives the counts to print."""
    def test_of(arguments):
        def test(self):
            found = walk(self, arguments)
            self.assertGreater(found["refused"], 0, f"{arguments}: nothing failed")
            print(f"{' '.join(arguments)}: {found['refused']} refused, {found['same']} the same", flush=True)
        return test
    for number, run in enumerate(runs):
        setattr(case, f"test_{number:02}_{run[0]}", test_of(run))
