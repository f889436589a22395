#!/usr/bin/python3
"""Published values: every table under reference/ is read by some test, is well formed, and the limits
that the demo's brief states are in line with what the trade quotes."""

import csv
import math
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


OCTAVES = ["125", "250", "500", "1000", "2000", "4000"]


def by_octave(row):
    return [float(row[hz]) for hz in OCTAVES]


class Absorption(unittest.TestCase):
    """What the demo's surfaces and cloths claim against published tables and a closed form."""

    def setUp(self):
        with open(os.path.join(TOP, "demo", "hall.yaml"), encoding="utf-8") as file:
            self.hall = file.read()

    def stated(self, key, after=""):
        found = re.search(rf"{after}[^\x00]*?\b{key}: \[([^]]*)\]", self.hall)
        self.assertIsNotNone(found, key)
        return [float(value) for value in found.group(1).split(",")]

    def row(self, name, source, surface, credit=""):
        found = [r for r in read(name) if r["source"].startswith(source) and r["surface"] == surface
                 and r["credit"].startswith(credit)]
        self.assertEqual(len(found), 1, surface)
        return by_octave(found[0])

    def test_seats_are_upholstered_and_occupied(self):
        seats = self.row("absorption/seating.csv", "bies-2017",
                         "100 % occupied audience upholstered seats")
        self.assertEqual(self.stated("seating", "absorption:"), seats)
        chairs = self.row("absorption/seating.csv", "bies-2017", "wooden chairs 100 % occupied")
        other = next(r for r in read("absorption/values.csv")
                     if r["material"] == "occupied wooden chairs")
        self.assertEqual([float(other[f"{hz}_hz"]) for hz in OCTAVES], chairs)
        self.assertTrue(all(a > b for a, b in zip(chairs[:3], seats[:3])))

    def test_floor_and_curtain(self):
        name = "absorption/curtains-glass-stage.csv"
        self.assertEqual(self.stated("floor", "absorption:"), self.row(name, "bies", "wood floor on joists"))
        self.assertEqual(self.stated("absorption", "name: house curtain"),
                         self.row(name, "cox", "heavy velour 0.61 kg/m2 draped to half", "Beranek 1954"))

    def test_panes_are_heavy_plate_glass(self):
        published = self.row("absorption/curtains-glass-stage.csv", "bies", "glass heavy plate")
        other = next(r for r in read("absorption/values.csv") if r["material"] == "heavy plate glass")
        self.assertEqual([float(other[f"{hz}_hz"]) for hz in OCTAVES], published)

    def test_curtain_holds_back_what_open_cloth_can(self):
        rows = {(r["sheet"], r["incidence"]): by_octave(r)
                for r in read("absorption/curtain-transmission.csv")}
        self.assertEqual(self.stated("r_db", "name: house curtain"), rows["open cloth 0.61 of 350", "field 78"])
        most = rows["blind 0.45 of 1500", "field 78"]
        for claimed, closed in zip(self.stated("insertion_loss_db", "name: blackout"), most):
            self.assertLessEqual(claimed, closed)

    def test_closed_form(self):
        """tau = |2/(2 + z cos theta)|2 with 1/z = rho c (1/R + 1/(j w m)); 413 Pa s/m is from memory."""
        for row in read("absorption/curtain-transmission.csv"):
            mass = float(row["surface_kgm2"])
            resistance = row["flow_resistance_pa_s_m"]
            for hz in OCTAVES:
                w_m = 2j * math.pi * float(hz) * mass
                z = 1.0 / (413.0 * ((0.0 if resistance == "none" else 1.0 / float(resistance)) + 1.0 / w_m))
                n = 2000 if row["incidence"] == "field 78" else 1
                top = math.sin(math.radians(78)) ** 2  # even steps of sin2 weigh by sin cos
                angles = [math.asin(math.sqrt(top * (i + 0.5) / n)) if n > 1 else 0.0 for i in range(n)]
                tau = sum(abs(2 / (2 + z * math.cos(a))) ** 2 for a in angles) / n
                self.assertAlmostEqual(float(row[hz]), -10 * math.log10(tau), delta=0.11,
                                       msg=f"{row['sheet']}, {row['incidence']}, {hz} Hz")


if __name__ == "__main__":
    plain.main()
