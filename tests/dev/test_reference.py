#!/usr/bin/python3
"""Published values: every table under reference/ is read by some test, is well formed, and the limits
that the demo's brief states are in line with what the trade quotes."""

import csv
import os
import re
import sys
import unittest

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
REFERENCE = os.path.join(TOP, "reference")
sys.path.insert(0, os.path.join(TOP, "tests", "support"))
import plain  # noqa: E402


def tables():
    return sorted(os.path.relpath(os.path.join(folder, name), REFERENCE)
                  for folder, _, names in os.walk(REFERENCE) for name in names if name.endswith(".csv"))


def tests_text():
    text = []
    for folder, _, names in os.walk(os.path.join(TOP, "tests")):
        for name in names:
            if name.endswith((".c", ".h", ".py", ".sh", ".case")):
                with open(os.path.join(folder, name), encoding="utf-8") as file:
                    text.append(file.read())
    return "\n".join(text)


def unread(names, text):
    """The tables whose name, SOURCE/NAME.csv, stands in no string of a test."""
    opened = set(re.findall(r'[\w.-]+/[\w.-]+\.csv(?=")', text))
    return [name for name in names if name.replace(os.sep, "/") not in opened]


def read(name):
    with open(os.path.join(REFERENCE, name), encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file, strict=True))


class Tables(unittest.TestCase):
    def test_every_table_is_read_by_a_test(self):
        self.assertGreater(len(tables()), 20)
        self.assertEqual(unread(tables(), tests_text()), [])

    def test_one_that_is_not_is_found(self):
        self.assertEqual(unread(["a/b.csv", "a/c.csv"], 'open("x/a/c.csv"); /* a/b.csv */'), ["a/b.csv"])

    def test_every_row_has_every_cell(self):
        for name in tables():
            for row in read(name):
                self.assertNotIn(None, row, name)
                self.assertNotIn(None, row.values(), name)

    def test_every_source_says_where_it_is_from(self):
        for name in tables():
            self.assertTrue(os.path.isfile(os.path.join(REFERENCE, os.path.dirname(name),
                                                        "provenance.md")), name)


class Brief(unittest.TestCase):
    """The demo's brief, clear, good and fair, against reference/viewing-limits."""

    def setUp(self):
        self.rows = read("viewing-limits/criteria.csv") + read("viewing-limits/found.csv")
        with open(os.path.join(TOP, "demo", "brief.yaml"), encoding="utf-8") as file:
            self.brief = file.read()

    def quoted(self, quantity, meaning):
        found = [float(r["value"]) for r in self.rows
                 if r["quantity"] == quantity and meaning in r["meaning"]]
        self.assertEqual(len(found), 1, f"{quantity}, {meaning}")
        return found[0]

    def stated(self, key):
        found = re.search(rf"^ *{key}: \[(.*)\]$", self.brief, re.MULTILINE)
        self.assertIsNotNone(found, key)
        return [float(value) for value in found.group(1).split(",")]

    def test_distance(self):
        _, good, fair = self.stated("distance_max")
        self.assertLessEqual(good, self.quoted("sight distance", "thrust"))
        self.assertLessEqual(fair, self.quoted("sight distance", "drama"))

    def test_visible_share(self):
        self.assertAlmostEqual(self.stated("visible_min")[2], self.quoted("visible fraction", "side seats"),
                               delta=0.01)

    def test_angles(self):
        self.assertLessEqual(self.stated("down_max_deg")[2], self.quoted("vertical angle", "LIMIT"))
        self.assertLessEqual(self.stated("turn_max_deg")[1], self.quoted("head turn", "pivot"))


if __name__ == "__main__":
    plain.main()
