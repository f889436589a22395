#!/usr/bin/python3
"""One unit for people: what a person reads of a layout in feet is in feet and inches, what of the same layout
in metres is in metres and millimetres, and both tell the same lengths. Tables are in SI unless --units asks for feet."""

import csv
import os
import re
import shutil
import tempfile
import unittest

import hall
import small
from hall import plain

FOOT_M, INCH_MM = 0.3048, 25.4  # exact by definition (ISO 80000-3, annex C)
METRIC = re.compile(r"\d (m|mm)\b|, (m|mm) +-?\d|\(m\)| (D|R|floor|height) m\b| (N|C) mm  ")
IMPERIAL = re.compile(r"\d (ft|in)\b|, (ft|in) +-?\d|\(ft\)| (D|R|floor|height) ft\b| (N|C) in  ")
LENGTHS = ("height: ", "riser: ", "hoist: ", "slide: ", "opening: ", "trim: ", "seat_width: ", "row_depth: ")


def in_metres(text):
    """The layout in feet with every length in metres."""
    text = text.replace("units: ft", "units: m")
    for key in LENGTHS:
        text = re.sub(rf"\b{key}([\d.]+)", lambda found: f"{found.group(0)[:-len(found.group(1))]}"
                      f"{float(found.group(1)) * FOOT_M:.9f}", text)
    return re.sub(r"\[\[.*?\]\]", lambda points: re.sub(
        r"[\d.]+", lambda number: f"{float(number.group(0)) * FOOT_M:.9f}", points.group(0)), text)


COMMANDS = {
    "assess": ["--out", "out", "--no-maps"],
    "rake": ["--block", "Stalls", "--out", "out"],
    "rails": ["--out", "out"],
    "fit": []}
# one C and one step in the unit of each layout
RAKE = {"feet": ["--c", "0.2", "--step", "0.05"],
        "metres": ["--c", f"{0.2 * FOOT_M:.6f}", "--step", f"{0.05 * FOOT_M:.6f}"]}


class Units(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.folder = os.path.join(self.temporary.name, "hall")
        small.make_hall(self.folder)
        with open(os.path.join(self.folder, "feet.yaml"), encoding="utf-8") as source:
            small.write(self.folder, "metres.yaml", in_metres(source.read()))

    def tearDown(self):
        self.temporary.cleanup()

    def test_tables_in_feet_are_the_tables_in_metres(self):
        """Every cell of every table, with --units ft and without."""
        for verb, name in (("assess", "seats.csv"), ("assess", "seats_short.csv"), ("rake", "rake.csv"), ("rails", "rails.csv"),
                           ("rails", "overhangs.csv")):
            tables = {}
            for units in ("m", "ft"):
                more = RAKE["metres"] if verb == "rake" else []
                code, _, err = hall.run(verb, "metres.yaml", *COMMANDS[verb], *more, "--units", units,
                                        cwd=self.folder)
                self.assertIn(code, (0, 1), err)
                with open(os.path.join(self.folder, "out", name), encoding="utf-8", newline="") as source:
                    tables[units] = list(csv.DictReader(source, strict=True))
            self.assertEqual(len(tables["m"]), len(tables["ft"]))
            n = 0
            for metric, feet in zip(tables["m"], tables["ft"]):
                for key, value in metric.items():
                    n += self.same_cell(key, value, feet)
            self.assertGreater(n, 3, name)

    def same_cell(self, key, value, feet):
        # half a millimetre, to which the metric table is rounded, and half of what the other is
        for end, other, scale, slack in (("_mm", "_in", INCH_MM, 0.63), ("_m", "_ft", FOOT_M, 0.00066)):
            if key.endswith(end):
                converted = feet[key[:-len(end)] + other]
                is_none = value in ("", "none")
                self.assertTrue(not is_none or value == converted, key)
                if not is_none:
                    self.assertAlmostEqual(float(converted) * scale, float(value), delta=slack,
                                           msg=key)
                return not is_none
        self.assertEqual(feet[key], value)
        return False

    def said(self, verb, layout):
        more = RAKE[layout] if verb == "rake" else []
        code, out, err = hall.run(verb, f"{layout}.yaml", *COMMANDS[verb], *more, cwd=self.folder)
        self.assertIn(code, (0, 1), err)
        # a published construction keeps its name: "102 mm brick"
        return re.sub(r"[\d.]+ mm (?=[a-z])", "", out) if verb == "assess" else out

    def table(self, name):
        with open(os.path.join(self.folder, "out", name), encoding="utf-8") as source:
            return source.read()

    def test_what_people_read_follows_the_layout(self):
        for verb in COMMANDS:
            with self.subTest(verb):
                feet, metres = self.said(verb, "feet"), self.said(verb, "metres")
                self.assertIsNone(METRIC.search(feet), feet)
                self.assertIsNone(IMPERIAL.search(metres), metres)
                self.assertIsNotNone(IMPERIAL.search(feet))
                self.assertIsNotNone(METRIC.search(metres))

    # The spreads of the summary: the same lengths, each to the last digit shown.
    def test_both_tell_the_same_lengths(self):
        feet, metres = self.said("assess", "feet"), self.said("assess", "metres")
        for label, unit, other, times, slack in (("C-value", "in", "mm", INCH_MM, 0.05 * INCH_MM + 0.5),
                                                 ("distance to focus", "ft", "m", FOOT_M, 0.001)):
            (there,) = re.findall(rf"  {label}, {unit} +(.*)", feet)
            (here,) = re.findall(rf"  {label}, {other} +(.*)", metres)
            for a, b in zip(there.split(), here.split(), strict=True):
                if a != "-":
                    self.assertAlmostEqual(times * float(a), float(b), delta=slack)

    def test_tables_stay_in_si(self):
        for verb, names in (("assess", ["seats.csv"]), ("rails", ["rails.csv", "overhangs.csv"]),
                            ("rake", ["rake.csv"])):
            self.said(verb, "feet")
            feet = [self.table(name) for name in names]
            shutil.rmtree(os.path.join(self.folder, "out"))
            self.said(verb, "metres")
            for name, there in zip(names, feet, strict=True):
                self.assertEqual(there, self.table(name), name)


if __name__ == "__main__":
    plain.main()
