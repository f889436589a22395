#!/usr/bin/python3
"""Any failure to open, read, write, sync or rename one of the run's own files ends a run with 3 and one
line, or changes nothing: no failure is worth a different answer. Each verb runs for the small hall with
the n-th call failing (io_preload.c), for every kind of call.

usage: test_io.py GRADIN IO_PRELOAD"""

import os
import shutil
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, os.path.join(os.path.dirname(os.path.dirname(os.path.abspath(__file__))), "cli"))
PRELOAD = os.path.abspath(sys.argv.pop(2))
import hall  # noqa: E402
import small  # noqa: E402
from hall import plain  # noqa: E402

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
    ["listen", "layout.yaml", "--seat", "Stalls-1-1", "--length", "10", "--out", "out.wav"],
    ["choose", "show.yaml", "layout.yaml", "other.yaml", "--out", "out"],
    ["programme", "month.yaml", "--out", "out"],
]
CALLS = ["open", "read", "fstat", "write", "fsync", "rename"]
MOST = 6  # of each kind and verb, spread from the first to the last

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
LEVELS = "band_hz,office\n125,48\n250,40\n500,36\n1000,33\n2000,30\n4000,27\n"


def contents(folder):
    """{path: bytes} of all below a folder."""
    found = {}
    for at, _, names in os.walk(folder):
        for name in names:
            path = os.path.join(at, name)
            with open(path, "rb") as file:
                found[os.path.relpath(path, folder)] = file.read()
    return found


class Faults(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.addCleanup(self.temporary.cleanup)
        self.top = os.path.realpath(self.temporary.name)
        self.hall = os.path.join(self.top, "hall")
        small.make_hall(self.hall)
        for name in ("layout.yaml", "other.yaml"): # quick
            small.write(self.hall, name, open(os.path.join(self.hall, name)).read() + "room_method: diffuse\n")
        small.write(self.hall, "show.yaml", SHOW)
        small.write(self.hall, "month.yaml", MONTH)
        small.write(self.hall, "levels.csv", LEVELS)
        self.inputs = contents(self.hall)

    def run_once(self, arguments, call, n):
        """(status, what it printed, what it wrote, what it said, calls of that kind)"""
        counted = os.path.join(self.top, "count")
        env = {**os.environ, "LD_PRELOAD": PRELOAD, "GRADIN_IO_CALL": call, "GRADIN_IO_FAIL": str(n),
               "GRADIN_IO_BELOW": self.hall + "/", "GRADIN_IO_COUNT": counted, "OMP_NUM_THREADS": "1"}
        done = subprocess.run([hall.GRADIN, *arguments], cwd=self.hall, env=env, capture_output=True, check=False)
        written = {path: data for path, data in contents(self.hall).items() if self.inputs.get(path) != data}
        for path in written:
            os.remove(os.path.join(self.hall, path))
        shutil.rmtree(os.path.join(self.hall, "out"), ignore_errors=True)
        with open(counted, encoding="utf-8") as file:
            return done.returncode, done.stdout, written, done.stderr.decode(), int(file.read())

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

    def walk(self, arguments):
        tally = {"same": 0, "refused": 0}
        for call in CALLS:
            whole = self.run_once(arguments, call, 0)
            self.assertIn(whole[0], (0, 1), f"{arguments}: {whole[3]}")
            missing = lambda written, is_marked: written and not is_marked and set(written) != set(whole[2])
            n_call = whole[4]
            step = max(1, -(-n_call // MOST))
            for n in range(1, n_call + 1, step):
                what = f"{' '.join(arguments)}: {call} {n} of {n_call}"
                tally[self.expect_no_other_answer(what, whole, self.run_once(arguments, call, n), missing)] += 1
        self.assertGreater(tally["refused"], 0, f"{arguments}: nothing failed")
        return tally


def test_of(arguments):
    def test(self):
        tally = self.walk(arguments)
        print(f"{' '.join(arguments)}: {tally['refused']} refused, {tally['same']} the same", flush=True)
    return test


for number, run in enumerate(RUNS):
    setattr(Faults, f"test_{number:02}_{run[0]}", test_of(run))

if __name__ == "__main__":
    plain.main()
