#!/usr/bin/python3
"""Pictures as SVG and PDF: whole files on their ISO sheet, the same bytes each time, named in the record.

usage: test_formats.py GRADIN"""

import os
import re
import shutil
import tempfile
import unittest
import xml.etree.ElementTree

import hall
import small
from hall import plain

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

    def test_other_endings_are_refused(self):
        for name in ("a.jpg", "png", ".png", "a.SVG"):
            code, out, err = hall.run("section", "layout.yaml", "--seat", "Stalls-2-2", "--out", name, cwd=self.folder)
            self.assertEqual((code, out), (2, ""), name)
            self.assertIn("ends in .png, .svg or .pdf", err)
        code, _, err = hall.run("assess", "layout.yaml", "--out", "out", "--format", "gif", cwd=self.folder)
        self.assertEqual((code, "png, svg or pdf" in err), (2, True), err)


if __name__ == "__main__":
    plain.main()
