#!/usr/bin/python3
"""Pictures as SVG and PDF: whole files on their ISO sheet, the same bytes each time, named in the record.

usage: test_formats.py GRADIN"""

import os
import re
import shutil
import subprocess
import tempfile
import unittest
import xml.etree.ElementTree

import hall
import small
from hall import plain

STUDY = """format: gradin-study-1
units: m
name: Hoists
layout: layout.yaml
vary:
  - {layout: "machines.towers[T].hoist", values: [0, 0.5], name: hoist}
  - {venue: "facade.buildups[pane].layers[2].gap_mm", values: [12, 16], name: gap}
figures: [clear]
picture: {across: hoist, up: gap, figure: clear}
"""
DRAWN = [
    ["compare", "quiet-layout.yaml", "quiet-other.yaml", "--samples", "16", "--no-changeovers"],
    ["overflight", "layout.yaml", "--traffic", "season.yaml", "--bands", "125"],
    ["outlook", "layout.yaml", "--from", "street.csv"],
    ["rake", "layout.yaml", "--block", "Stalls", "--c", "0.06"],
    ["fit", "layout.yaml"],
    ["changeover", "layout.yaml", "other.yaml"],
    ["glazing", "venue.yaml"],
    ["sweep", "study.yaml", "--samples", "16"],
]
A3_PT = (297 * 72 / 25.4, 420 * 72 / 25.4) # ISO 216; 72 points to the inch


class Formats(unittest.TestCase):
    def setUp(self):
        temporary = tempfile.TemporaryDirectory()
        self.addCleanup(temporary.cleanup)
        self.folder = temporary.name
        for name in os.listdir(small.SMALL):
            if name.endswith((".yaml", ".csv")):
                shutil.copy(os.path.join(small.SMALL, name), self.folder)

    def made(self, name, *arguments, **more):
        code, _, err = hall.run(*arguments, "--quiet", cwd=self.folder, **more)
        self.assertEqual((code, err), (0, ""))
        with open(os.path.join(self.folder, name), "rb") as file:
            return file.read()

    def size_pt(self, data):
        """Width and height of an SVG or a PDF."""
        if data.startswith(b"%PDF-"):
            self.assertTrue(data.rstrip().endswith(b"%%EOF"))
            found = re.search(rb"/MediaBox \[ 0 0 ([0-9.]+) ([0-9.]+) \]", data)
            return float(found[1]), float(found[2])
        root = xml.etree.ElementTree.fromstring(data)
        self.assertEqual(root.tag, "{http://www.w3.org/2000/svg}svg")
        self.assertFalse([v for part in root.iter() for k, v in part.attrib.items()
                          if k.endswith("href") and not v.startswith(("#", "data:"))])
        return tuple(float(root.attrib[key].removesuffix("pt")) for key in ("width", "height"))

    def expect_a3(self, data, *, lying):
        for is_, wanted in zip(self.size_pt(data), A3_PT[::-1] if lying else A3_PT):
            self.assertAlmostEqual(is_, wanted, delta=1.0)

    def test_sections_and_views(self):
        for end in ("svg", "pdf"):
            for arguments in (["section", "layout.yaml", "--seat", "Stalls-2-2"],
                              ["view", "layout.yaml", "--sheet", "--size", "96x64"]):
                made = [self.made(f"a.{end}", *arguments, "--out", f"a.{end}", env={"OMP_NUM_THREADS": n})
                        for n in ("1", "2")]
                self.assertEqual(*made)
                self.expect_a3(made[0], lying=True)
                if end == "pdf":
                    self.assertEqual(re.findall(rb"/(?:Creation|Mod)Date \((.*?)\)", made[0]),
                                     2 * [b"20000101000000Z"])

    def test_maps_and_their_record(self):
        assess = ["assess", "layout.yaml", "--samples", "16", "--out", "out"]
        self.made("out/seats.csv", *assess)
        png = sorted(name[:-4] for name in os.listdir(os.path.join(self.folder, "out")) if name.endswith(".png"))
        self.assertGreater(len(png), 4)
        for end in ("svg", "pdf"):
            self.expect_a3(self.made(f"out/rating.{end}", *assess, "--format", end), lying=False)
            names = os.listdir(os.path.join(self.folder, "out"))
            self.assertEqual(sorted(name[:-4] for name in names if name.endswith(f".{end}")), png)
            self.assertFalse([name for name in names if name.endswith(".png")])

    def files_of(self, folder):
        return {name for name in os.listdir(os.path.join(self.folder, folder)) if not name.startswith("run-")}

    def test_every_verb_with_pictures(self):
        """Files of the same names but for the ending, none of them PNG; each is whole, and drawn by lines."""
        small.make_hall(self.folder)
        small.write(self.folder, "study.yaml", STUDY)
        for name in ("layout.yaml", "other.yaml"):
            with open(os.path.join(self.folder, name), encoding="utf-8") as file:
                small.write(self.folder, f"quiet-{name}", file.read().replace("overflight: pass.yaml\n", ""))
        for k, arguments in enumerate(DRAWN):
            for end in ("svg", "pdf"):
                code, _, err = hall.run(*arguments, "--out", f"{end}{k}", "--quiet", "--format", end, cwd=self.folder)
                self.assertIn((code, err), [(0, ""), (1, "")], arguments)
            self.check_endings(k)
        words = self.words_of(f"pdf{len(DRAWN) - 1}")
        self.assertIn("gap, mm", words)
        self.assertIn("hoist", words)

    def words_of(self, folder):
        return subprocess.run(["pdftotext", os.path.join(self.folder, folder, "response.pdf"), "-"],
                              capture_output=True, text=True, check=True).stdout.splitlines()

    def test_axes_say_the_unit_that_a_key_bears(self):
        hoist = '{layout: "machines.towers[T].hoist", values: [0, 0.5], name: hoist}'
        self.assertIn(hoist, STUDY)
        small.write(self.folder, "study.yaml", STUDY.replace(
            hoist, "{overflight: air.temperature_c, values: [5, 25], name: air}").replace("across: hoist", "across: air"))
        self.made("warm/response.pdf", "sweep", "study.yaml", "--samples", "16", "--out", "warm", "--format", "pdf")
        self.assertIn("air, deg C", self.words_of("warm"))

    def check_endings(self, k):
        names = self.files_of(f"svg{k}")
        self.assertTrue([name for name in names if name.endswith(".svg")], DRAWN[k])
        self.assertFalse([name for name in names if name.endswith(".png")], DRAWN[k])
        self.assertEqual(self.files_of(f"pdf{k}"), {name.replace(".svg", ".pdf") for name in names}, DRAWN[k])
        for end in ("svg", "pdf"):
            for name in sorted(name for name in names if name.endswith(".svg")):
                with open(os.path.join(self.folder, f"{end}{k}", name.replace(".svg", f".{end}")), "rb") as file:
                    data = file.read()
                self.assertAlmostEqual(self.size_pt(data)[0], A3_PT[0], delta=1.0, msg=name)
                if end == "svg":
                    self.assertGreater(data.count(b"<path") + data.count(b"<use"), 100, name)

    def test_other_endings_are_refused(self):
        for name in ("a.jpg", "png", ".png", "a.SVG"):
            code, out, err = hall.run("section", "layout.yaml", "--seat", "Stalls-2-2", "--out", name, cwd=self.folder)
            self.assertEqual((code, out), (2, ""), name)
            self.assertIn("ends in .png, .svg or .pdf", err)
        code, _, err = hall.run("assess", "layout.yaml", "--out", "out", "--format", "gif", cwd=self.folder)
        self.assertEqual((code, "png, svg or pdf" in err), (2, True), err)


if __name__ == "__main__":
    plain.main()
