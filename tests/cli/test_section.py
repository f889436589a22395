#!/usr/bin/python3
"""gradin section: its rows are the table's, feet and metres give one picture of the hall, and what is
refused leaves nothing behind.

usage: test_section.py GRADIN"""

import csv
import json
import os
import struct
import sys
import tempfile
import unittest

import hall
from hall import plain

sys.path.insert(0, os.path.join(hall.TOP, "tests", "schema"))
import validate  # noqa: E402


class Section(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.temporary = tempfile.TemporaryDirectory()
        cls.folder = cls.temporary.name
        hall.copy_demo(cls.folder)
        cls.tables = {}
        for layout in ("thrust", "hexagon_opera"):
            code, _, err = hall.run("assess", f"{layout}.yaml", "--no-maps", "--out", layout, "--quiet", cwd=cls.folder)
            if code not in (0, 1):
                raise AssertionError(err)
            with open(os.path.join(cls.folder, layout, "seats.csv"), encoding="utf-8", newline="") as table:
                cls.tables[layout] = {row["seat"]: row for row in csv.DictReader(table)}

    @classmethod
    def tearDownClass(cls):
        cls.temporary.cleanup()

    def section(self, layout, *arguments):
        return hall.run("section", f"{layout}.yaml", *arguments, cwd=self.folder)

    def made(self, layout, *arguments):
        code, out, err = self.section(layout, *arguments, "--out", "a.png", "--json")
        self.assertEqual((code, err), (0, ""))
        with open(os.path.join(hall.TOP, "reference", "section-schema.json"), encoding="utf-8") as source:
            rules = json.load(source)
        value = json.loads(out)
        self.assertEqual(list(validate.breaches(value, rules, rules)), [])
        return value

    def test_rows_are_the_table_s(self):
        for layout, table in self.tables.items():
            worst = min(table.values(), key=lambda row: float(row["visible_pct"]))
            made = self.made(layout, "--seat", worst["seat"])
            self.assertIn(worst["seat"], [row["seat"] for row in made["rows"]])
            for row in made["rows"]:
                line = table[row["seat"]]
                for key in ("c_mm", "visible_pct", "eye_z_m", "floor_z_m", "hidden_heads_pct", "hidden_rails_pct",
                            "hidden_structure_pct", "hidden_arch_pct"):
                    self.assertEqual(row[key], float(line[key]) if line[key] else None, f"{row['seat']} {key}")

    def test_it_lies_on_a3(self):
        self.made("thrust", "--line", "14,0,14,32")
        with open(os.path.join(self.folder, "a.png"), "rb") as picture:
            width, height = struct.unpack(">II", picture.read(24)[16:24]) # ISO/IEC 15948, 11.2.2
        self.assertAlmostEqual(width / height, 420 / 297, places=3) # ISO 216

    def test_a_line_is_in_the_layout_s_own_unit(self):
        made = self.made("hexagon_opera", "--line", "50,20,50,80") # feet
        self.assertAlmostEqual(made["length_m"], 60 * 0.3048, places=3) # the foot of 1959
        self.assertAlmostEqual(made["from_x_m"], 50 * 0.3048, places=3)

    def expect_refusal(self, *arguments, says):
        code, out, err = self.section("thrust", *arguments, "--out", "no.png")
        self.assertEqual((code, out, len(err.splitlines())), (2, "", 1), err)
        self.assertIn(says, err)
        self.assertFalse(os.path.exists(os.path.join(self.folder, "no.png")))

    def test_what_is_refused(self):
        seat = next(iter(self.tables["thrust"]))
        self.expect_refusal(says="one of --seat and --line is needed")
        self.expect_refusal("--seat", seat, "--line", "0,0,1,1", says="one of --seat and --line is needed")
        self.expect_refusal("--seat", seat + "x", says=f"did you mean '{seat}'")
        for line in ("1,2,3", "1,2,3,4,5", "1,2,3,x", "1,,3,4", "nan,0,1,1"):
            self.expect_refusal("--line", line, says="four numbers")
        self.expect_refusal("--line", "1,1,1,1", says="too short or misses the room")
        self.expect_refusal("--line", "900,1,901,1", says="too short or misses the room")


if __name__ == "__main__":
    plain.main()
