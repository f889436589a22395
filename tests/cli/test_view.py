#!/usr/bin/python3
"""gradin view: the picture is there and whole, its figures are the table's, threads change no byte, and
what is refused leaves nothing behind.

usage: test_view.py GRADIN"""

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

CAPTION = 226 / 1800 # of the width: engine/render/view/view_page.c


def size_of(path):
    """Width and height in the header of a PNG (ISO/IEC 15948, 11.2.2)."""
    with open(path, "rb") as picture:
        head = picture.read(24)
    assert head[:8] == b"\x89PNG\r\n\x1a\n"
    return struct.unpack(">II", head[16:24])


class View(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.temporary = tempfile.TemporaryDirectory()
        cls.folder = cls.temporary.name
        hall.copy_demo(cls.folder)
        code, _, err = hall.run("assess", "thrust.yaml", "--no-maps", "--out", "out", "--quiet", cwd=cls.folder)
        if code not in (0, 1):
            raise AssertionError(err)
        with open(os.path.join(cls.folder, "out", "seats.csv"), encoding="utf-8", newline="") as table:
            cls.seats = list(csv.DictReader(table))
        cls.worst = min(cls.seats, key=lambda row: float(row["visible_pct"]))

    @classmethod
    def tearDownClass(cls):
        cls.temporary.cleanup()

    def view(self, *arguments, **more):
        return hall.run("view", "thrust.yaml", *arguments, cwd=self.folder, **more)

    def check(self, text):
        with open(os.path.join(hall.TOP, "reference", "view-schema.json"), encoding="utf-8") as source:
            rules = json.load(source)
        value = json.loads(text)
        self.assertEqual(list(validate.breaches(value, rules, rules)), [])
        return value["views"]

    def expect_row(self, made):
        row = next(row for row in self.seats if row["seat"] == made["seat"])
        for key in ("visible_pct", "hidden_heads_pct", "hidden_rails_pct", "hidden_structure_pct",
                    "hidden_arch_pct"):
            self.assertAlmostEqual(made[key], float(row[key]), places=1, msg=made["seat"])
        self.assertEqual(made["worst_occluder"] or "", row["worst_occluder"])

    def test_figures_are_the_table_s_and_threads_change_no_byte(self):
        pictures = []
        for threads in ("1", "2"):
            code, out, err = self.view("--seat", self.worst["seat"], "--size", "400x250", "--out", "a.png",
                                       "--json", env={"OMP_NUM_THREADS": threads})
            self.assertEqual((code, err), (0, ""))
            made = self.check(out)
            self.assertEqual(len(made), 1)
            self.expect_row(made[0])
            path = os.path.join(self.folder, "a.png")
            self.assertEqual(size_of(path), (400, -int(-(250 + 400 * CAPTION) // 1)))
            with open(path, "rb") as picture:
                pictures.append(picture.read())
        self.assertEqual(*pictures)

    def test_a_sheet_lies_on_a3(self):
        code, out, err = self.view("--sheet", "--size", "160x100", "--out", "sheet.png", "--json")
        self.assertEqual((code, err), (0, ""))
        made = self.check(out)
        self.assertEqual(len({view["seat"] for view in made}), 12)
        for view in made:
            self.expect_row(view)
        self.assertEqual(made[2]["visible_pct"], min(view["visible_pct"] for view in made))
        width, height = size_of(os.path.join(self.folder, "sheet.png"))
        self.assertAlmostEqual(width / height, 420 / 297, places=3) # ISO 216

    def expect_refusal(self, *arguments, says):
        code, out, err = self.view(*arguments, "--out", "no.png")
        self.assertEqual((code, out, len(err.splitlines())), (2, "", 1), err)
        self.assertIn(says, err)
        self.assertFalse(os.path.exists(os.path.join(self.folder, "no.png")))

    def test_what_is_refused(self):
        seat = self.worst["seat"]
        self.expect_refusal("--seat", seat + "x", says=f"did you mean '{seat}'")
        self.expect_refusal(says="--seat SEAT is needed")
        self.expect_refusal("--sheet", "--seat", seat, says="--seat does not go with --sheet")
        for size in ("1280", "x", "1280x", "63x100", "100x4097", "100x100x", "+100x100", "1e3x100"):
            self.expect_refusal("--seat", seat, "--size", size, says=f"--size is '{size}'")
        self.expect_refusal("--seat", seat, "--fov", "150", says="20 to 120 is allowed, up to 360 with --panorama")
        self.expect_refusal("--seat", seat, "--fov", "30", "--panorama", says="60 to 360 is allowed")
        code, _, err = self.view("--seat", seat, "--out", "picture.jpg")
        self.assertEqual((code, "ends in .png" in err), (2, True), err)


if __name__ == "__main__":
    plain.main()
