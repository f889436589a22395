#!/usr/bin/python3
"""Labels of plans, sections, pages and charts: none is cut by the sheet's edge and no two lie over each
other, whatever the names. The boxes are those of the PDF's words by poppler, another program than drew
them. A box of a line's full height holds air above and below the letters: DejaVu Sans has capitals of
0.73 em in a line of 1.17 em (the font's own head table).

usage: test_labels.py GRADIN"""

import glob
import os
import re
import subprocess
import tempfile
import unittest
import xml.etree.ElementTree

import hall
from hall import plain

XHTML = "{http://www.w3.org/1999/xhtml}"
AIR = 0.24 # of a line's height above the letters, and below
QUICK = ["--samples", "64"]
LONG = "Orchestra stalls between the two cross aisles, upstage"


def words_of(path):
    """(width, height, [(left, top, right, bottom, word)]) of each page."""
    text = subprocess.run(["pdftotext", "-bbox", path, "-"], capture_output=True, text=True, check=True).stdout
    root = xml.etree.ElementTree.fromstring(re.sub(r"<!DOCTYPE[^>]*>", "", text))
    for page in root.iter(f"{XHTML}page"):
        yield (float(page.get("width")), float(page.get("height")),
               [(*(float(word.get(key)) for key in ("xMin", "yMin", "xMax", "yMax")), word.text)
                for word in page.iter(f"{XHTML}word")])


def letters(box):
    """The box without the air of its line; one that stands higher than wide is turned."""
    left, top, right, bottom, word = box
    if right - left >= bottom - top or len(word) < 2:
        air = AIR * (bottom - top)
        return left + 0.3, top + air, right - 0.3, bottom - air, word
    air = AIR * (right - left)
    return left + air, top + 0.3, right - air, bottom - 0.3, word


def overlaps(boxes):
    found, boxes = [], sorted(map(letters, boxes))
    for i, a in enumerate(boxes):
        for b in boxes[i + 1:]:
            if b[0] >= a[2]:
                break
            if b[1] < a[3] and a[1] < b[3]:
                found.append((a[4], b[4], round(a[0]), round(a[1])))
    return found


def deck_sides(path):
    """(left, top, right, bottom) of each side of the dashed outlines of an SVG that lie along its axes,
    in points."""
    sides, numbers = [], r"(-?[\d.]+) (-?[\d.]+)"
    for line in open(path, encoding="utf-8"):
        if "stroke-dasharray:9,6;" not in line:
            continue
        scale = float(re.search(r'matrix\(([\d.]+),0,0,\1,0,0\)', line).group(1))
        at = [(scale * float(x), scale * float(y))
              for x, y in re.findall(numbers, re.search(r' d="([^"]*)"', line).group(1).split("Z")[0])]
        for a, b in zip(at, at[1:] + at[:1]):
            if min(abs(a[0] - b[0]), abs(a[1] - b[1])) < 0.01:
                sides.append((min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1])))
    return sides


class Labels(unittest.TestCase):
    def setUp(self):
        temporary = tempfile.TemporaryDirectory()
        self.addCleanup(temporary.cleanup)
        self.folder = temporary.name

    def made(self, *arguments):
        code, _, err = hall.run(*arguments, "--quiet", cwd=self.folder)
        self.assertIn((code, err), [(0, ""), (1, "")], arguments)

    def expect_clear(self, most_cut=0):
        paths = sorted(glob.glob(os.path.join(self.folder, "**", "*.pdf"), recursive=True))
        self.assertTrue(paths)
        for path in paths:
            for width, height, words in words_of(path):
                name = os.path.relpath(path, self.folder)
                self.assertGreater(len(words), 30, name)
                self.assertEqual([w for w in words if w[0] < 0 or w[1] < 0 or w[2] > width or w[3] > height], [], name)
                self.assertEqual(overlaps(words), [], name)
                self.assertLessEqual(sum("\u2026" in w[4] for w in words), most_cut, name)
        return len(paths)

    def draw(self, layout, block):
        self.made("assess", f"{layout}.yaml", "--format", "pdf", "--out", f"{layout}-maps", *QUICK)
        self.made("page", f"{layout}.yaml", "--out", f"{layout}-page", *QUICK)
        self.made("section", f"{layout}.yaml", "--seat", f"{block}-2-2", "--out", f"{layout}.pdf")

    def test_both_halls(self):
        hall.copy_demo(self.folder)
        self.draw("thrust", "South")
        self.draw("hexagon_opera", "Stalls")
        self.made("page", "end_stage.yaml", "flat_floor.yaml", "--no-changeovers", "--out", "two", *QUICK)
        self.assertGreater(self.expect_clear(), 20)

    def test_decks(self):
        """No word stands on the dashed outline of a tower's deck, close as its rows are to it; each row of
        the towers has its number."""
        hall.copy_demo(self.folder)
        for form in ("svg", "pdf"):
            self.made("assess", "thrust.yaml", "--format", form, "--out", form, *QUICK)
        for sheet, n_number in (("sheet1-main_floor_lower", 12), ("sheet2-upper", 12)):
            svg, pdf = (os.path.join(self.folder, form, f"rating-{sheet}.{form}") for form in ("svg", "pdf"))
            sides = deck_sides(svg)
            self.assertGreaterEqual(len(sides), 32)
            words = [letters(word) for page in words_of(pdf) for word in page[2]]
            on_line = [(word[4], side) for side in sides for word in words
                       if word[0] < side[2] and side[0] < word[2] and word[1] < side[3] and side[1] < word[3]]
            self.assertEqual(on_line, [], sheet)
            within = [word for word in words if word[4] in ("1", "2") and any(
                abs(0.5 * (word[0] + word[2]) - x) + abs(0.5 * (word[1] + word[3]) - y) < 70
                for x, y in ((0.5 * (side[0] + side[2]), 0.5 * (side[1] + side[3])) for side in sides))]
            self.assertGreaterEqual(len(within), n_number, sheet)

    def test_names_on_hatching(self):
        """Heights and names on lifts over their load limit stand on a broad white ground; elsewhere none does."""
        limit = "load_limit: {spread_kn_m2: 7.5, total_kn: 54}"
        for folder, changed in (("kept", limit), ("over", "load_limit: {spread_kn_m2: 0.6, total_kn: 2}")):
            hall.copy_demo(self.folder, [("hall.yaml", limit, changed)])
            self.made("fit", "thrust.yaml", "--format", "svg", "--out", folder)
        grounds = {}
        for folder in ("kept", "over"):
            with open(os.path.join(self.folder, folder, "fit.svg"), encoding="utf-8") as file:
                grounds[folder] = len(re.findall(r"stroke-width:12;[^>]*stroke:rgb\(100%,100%,100%\)", file.read()))
        self.assertEqual(grounds["kept"], 0)
        self.assertGreaterEqual(grounds["over"], 12) # the stage lifts that stand at 0.90 m; those at 0 have no height

    def test_a_changeover_by_the_clock(self):
        """The chart goes by the time of day and shows the breaks; a cue of rails warns of the edge."""
        hall.copy_demo(self.folder)
        self.made("changeover", "thrust.yaml", "flat_floor.yaml", "--start", "2027-03-04T22:30", "--format", "pdf",
                  "--out", "night")
        self.assertEqual(self.expect_clear(), 2)
        chart, cues = (" ".join(word[4] for page in words_of(os.path.join(self.folder, "night", name)) for word in page[2])
                       for name in ("moves.pdf", "cues.pdf"))
        for words in ("h with breaks,", "h of work,", "time of day, local", "23:00 0:00 1:00", "nobody works"):
            self.assertIn(words, chart)
        self.assertGreaterEqual(cues.count("CAUTION: an open edge; nobody else near it"), 6)

    def test_long_names(self):
        for file, old in (("hexagon_opera.yaml", "name: Stalls"), ("hexagon_opera.yaml", "name: Balcony"),
                          ("hexagon_opera.yaml", "name: surtitles"), ("hexagon_opera.yaml", "name: Opera with surtitles")):
            self.assertIn(old, open(os.path.join(hall.DEMO, file), encoding="utf-8").read())
        hall.copy_demo(self.folder, [
            ("hexagon_opera.yaml", "name: Stalls", f"name: \"{LONG}\""),
            ("hexagon_opera.yaml", "name: Balcony", f"name: \"{LONG} upper\""),
            ("hexagon_opera.yaml", "name: surtitles", f"name: \"surtitles of {LONG}\""),
            ("hexagon_opera.yaml", "name: Opera with surtitles", f"name: \"{3 * LONG}\"")])
        self.draw("hexagon_opera", LONG)
        self.expect_clear(most_cut=60)


if __name__ == "__main__":
    plain.main()
