#!/usr/bin/python3
"""gradin page: a sheet of A3 per layout whose figures are those of seats.csv and compare.json, read back
from the PDF by poppler, another program than wrote it.

usage: test_page.py GRADIN"""

import csv
import json
import os
import re
import subprocess
import tempfile
import unittest

import hall
import small
from hall import plain

CLASSES = ["clear", "good", "fair", "poor"]


def text_of(path, page=None, layout="-layout"):
    """The page's words in lines as they stand, or column by column."""
    which = [] if page is None else ["-f", str(page), "-l", str(page)]
    layout = [layout] if layout else []
    return subprocess.run(["pdftotext", *layout, *which, path, "-"], capture_output=True, text=True, check=True).stdout


class Page(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.temporary = tempfile.TemporaryDirectory()
        cls.folder = cls.temporary.name
        hall.copy_demo(cls.folder)
        cls.run_here("page", "thrust.yaml", "round.yaml", "--out", "two")
        cls.run_here("page", "hexagon_opera.yaml", "--out", "opera")
        cls.run_here("compare", "thrust.yaml", "round.yaml", "--no-maps", "--out", "compared")
        for layout in ("thrust", "hexagon_opera"):
            cls.run_here("assess", f"{layout}.yaml", "--no-maps", "--out", layout)

    @classmethod
    def tearDownClass(cls):
        cls.temporary.cleanup()

    @classmethod
    def run_here(cls, *arguments):
        code, _, err = hall.run(*arguments, "--quiet", cwd=cls.folder)
        if code != 0 or err:
            raise AssertionError(f"{arguments}: {code} {err}")

    def path(self, *parts):
        return os.path.join(self.folder, *parts)

    def seats(self, layout):
        with open(self.path(layout, "seats.csv"), encoding="utf-8", newline="") as table:
            return list(csv.DictReader(table))

    def test_a_page_each_and_one_of_the_pair(self):
        info = subprocess.run(["pdfinfo", self.path("two", "page.pdf")], capture_output=True, text=True, check=True).stdout
        self.assertIn("Pages:           3", info)
        size = re.search(r"Page size: +([0-9.]+) x ([0-9.]+) pts", info)
        for is_, wanted_mm in zip(size.groups(), (420, 297)): # ISO 216, lying
            self.assertAlmostEqual(float(is_) / 72 * 25.4, wanted_mm, delta=0.5)

    def blocks_are_the_table_s(self, layout, text):
        blocks = {}
        for row in self.seats(layout):
            blocks.setdefault(row["block"], []).append(row["rating"])
        for name, ratings in {**blocks, "all": [row["rating"] for row in self.seats(layout)]}.items():
            counts = [len(ratings), *(ratings.count(c) for c in CLASSES)]
            self.assertRegex(text, rf"(?m)(^|\s){re.escape(name)}\s+" + r"\s+".join(map(str, counts)) + r"\s", name)

    def test_blocks_are_the_table_s(self):
        self.blocks_are_the_table_s("thrust", text_of(self.path("two", "page.pdf"), 1))
        self.blocks_are_the_table_s("hexagon_opera", text_of(self.path("opera", "page.pdf")))

    def test_worst_seats_with_reasons_and_limits(self):
        with open(self.path("thrust", "summary.json"), encoding="utf-8") as source:
            worst = json.load(source)["worst_seats"]
        text = hall.flat(text_of(self.path("two", "page.pdf"), 1))
        self.assertEqual(len(worst), 10)
        found = [text.index(f"{w['seat']} {w['rating']} {w['reason'].replace('_', ' ')} {w['visible_pct']:.1f}")
                 for w in worst]
        self.assertEqual(found, sorted(found))
        for words in ("visible share at least 95 / 85 / 66 %", "limits NC 40, at most 42.0 dB(A), 84 % sure",
                      "Rails, guards, egress, loads and moving machinery: the local code", "never justifies"):
            self.assertIn(words, text)

    def test_a_section_through_each_bank(self):
        """The titles name blocks with rows there; blocks in none are counted."""
        for name, layout in (("two", "thrust"), ("opera", "hexagon_opera")):
            text = hall.flat(text_of(self.path(name, "page.pdf"), 1))
            blocks = {row["block"] for row in self.seats(layout)}
            titles = re.findall(r"Section \d: (.*?)(?= Section \d|  |$)", text)
            self.assertTrue(titles)
            self.assertTrue(any(block in " ".join(titles) for block in blocks))
            self.assertNotIn("in no section here", text)

    def test_the_pair_is_the_comparison_s(self):
        with open(self.path("compared", "compare.json"), encoding="utf-8") as source:
            pair = json.load(source)["pairs"][0]
        text = hall.flat(text_of(self.path("two", "page.pdf"), 3))
        n = pair["all"]
        self.assertIn(f"in B {n['better']} have a better class, {n['same']} the same, {n['worse']} a worse one", text)
        code, out, _ = hall.run("compare", "thrust.yaml", "round.yaml", cwd=self.folder)
        self.assertEqual(code, 0)
        verdict = hall.flat(out[out.index("In the round has"):out.index("ahead in seats;")])
        self.assertIn(verdict, hall.flat(text_of(self.path("two", "page.pdf"), 3, layout=None)))
        for way in ("A to B", "B to A"):
            hours, people = re.search(rf"{way} +(\d+:\d\d) +([0-9.]+)", out).groups()
            self.assertIn(f"{way} {hours} {people} ", text)

    def test_what_is_in_no_level_stands_beside_the_levels(self):
        """As much as the summary says: of what is not stated of the envelope."""
        with tempfile.TemporaryDirectory() as folder:
            small.make_hall(folder)
            code, out, err = hall.run("assess", "layout.yaml", "--out", "a", "--no-maps", "--samples", "64", cwd=folder)
            self.assertEqual((code, err), (0, ""))
            more, = re.findall(r"up to \+ ([0-9.]+) dB", out)
            code, _, err = hall.run("page", "layout.yaml", "--out", "p", "--samples", "64", "--quiet", cwd=folder)
            self.assertEqual((code, err), (0, ""))
            text = hall.flat(text_of(os.path.join(folder, "p", "page.pdf")))
        self.assertIn(f"Not in these levels: roof, walls and ground, not stated. This may add up to {more} dB", text)

    def test_a_room_that_cannot_be_kept_is_a_note(self):
        """Of a page and of a report as of assess, with --quiet, too, which does not silence notes."""
        with tempfile.TemporaryDirectory() as folder:
            small.make_hall(folder)
            small.change(folder, "layout.yaml", "form: end_stage", "room_patch: 8\nform: end_stage")
            told = [hall.run(verb, "layout.yaml", "--out", verb, "--samples", "16", "--quiet", "--cache", "venue.yaml", *more,
                             cwd=folder)[2]
                    for verb, *more in (("assess", "--no-maps"), ("page",), ("report", "--views", "0", "--no-checks"))]
        self.assertIn("gradin: note: ", told[0])
        self.assertEqual(told[1:], told[:1] * 2)

    def test_pictures_of_each_page_have_names_of_their_own(self):
        """A layout called "2" and the pair of the first two, too."""
        with tempfile.TemporaryDirectory() as folder:
            small.make_hall(folder)
            small.change(folder, "layout.yaml", "name: Small layout", 'name: "2"')
            code, _, err = hall.run("page", "layout.yaml", "other.yaml", "--out", "p", "--format", "svg", "--samples", "64",
                                    "--quiet", "--no-changeovers", cwd=folder)
            self.assertEqual((code, err), (0, ""))
            self.assertEqual(list(hall.read_bytes(os.path.join(folder, "p"))),
                             ["page-1-2.svg", "page-2-Another_layout.svg", "pages-1-2.svg"])

    def test_same_bytes_and_formats(self):
        for end in ("png", "svg"):
            made = []
            for threads in ("1", "2"):
                self.run_here("page", "hexagon_opera.yaml", "--out", "as", "--format", end, "--threads", threads,
                              "--samples", "64")
                made.append(hall.read_bytes(self.path("as")))
            self.assertEqual(list(made[0]), [f"page-1-Opera_with_surtitles.{end}"])
            self.assertEqual(*made)


if __name__ == "__main__":
    plain.main()
