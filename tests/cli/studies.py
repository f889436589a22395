"""Studies of the small hall, for the tests of gradin sweep."""

import csv
import os
import tempfile
import unittest

import hall
import small

ALL = ("[seats, wheelchairs, clear, good, fair, poor, clear_share, good_share, poor_share, visible_p10, "
       "visible_median, c_p10_mm, c_median_mm, c_p90_mm, distance_p90_m, distance_most_m, lamax_median_dba, "
       "lamax_p90_dba, lamax_most_dba, nc_p90, events, events_mean, words_lost_s, changeover_minutes, crew_hours, "
       "glass_kg_m2, glass_t]")
HEAD = """format: gradin-study-1
units: m
name: Invented study
layout: layout.yaml
partner: other.yaml
traffic: season.yaml
"""


class StudyTest(unittest.TestCase):
    def setUp(self):
        temporary = tempfile.TemporaryDirectory()
        self.addCleanup(temporary.cleanup)
        self.folder = temporary.name
        small.make_hall(self.folder)

    def path(self, *names):
        return os.path.join(self.folder, *names)

    def write(self, vary, more="", figures=ALL, head=HEAD):
        small.write(self.folder, "study.yaml", f"{head}vary:\n{vary}figures: {figures}\n{more}")

    def sweep(self, out, *options, status=0):
        code, printed, err = hall.run("sweep", "study.yaml", "--out", out, "--samples", "64", *options,
                                      cwd=self.folder)
        self.assertIn(code, (0, 1) if status is None else (status,), err)
        return printed, err

    def points(self, out):
        with open(self.path(out, "points.csv"), encoding="utf-8", newline="") as source:
            return list(csv.DictReader(source))

    def tables(self, out):
        """All that a finished sweep says, and not how it went there."""
        found = hall.read_bytes(self.path(out))
        self.assertNotIn("UNFINISHED-sweep.txt", found)
        found.pop("journal.txt", None)
        self.assertIn("points.csv", found)
        return found


def key(path, values, file="venue", name=None):
    return f"  - {file}: {path}\n    values: {values}\n" + (f"    name: {name}\n" if name else "")
