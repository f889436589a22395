#!/usr/bin/python3
"""gradin glazing: what it prints and writes, and what it refuses."""

import csv
import json
import os
import struct
import unittest

import hall
from hall import plain

BANDS = [50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000,
         2500, 3150, 4000, 5000]
OCTAVES = [63, 125, 250, 500, 1000, 2000, 4000]
# ISO 717-1 Annex C, worked example: 30 (-2; -3).
ANNEX_C = dict(zip(BANDS[3:19], [20.4, 16.3, 17.7, 22.6, 22.4, 22.7, 24.8, 26.6, 28.0, 30.5, 31.8,
                                 32.5, 33.4, 33.0, 31.0, 25.5]))


class Glazing(hall.HallTest):
    def put(self, name, values):
        with open(self.path(name), "w", encoding="utf-8") as out:
            out.write("band_hz,r_db\n" + "".join(f"{hz},{r}\n" for hz, r in values.items()))

    def refuse(self, arguments, *lines):
        before = sorted(os.listdir(self.folder))
        code, out, err = self.run_here("glazing", *arguments)
        self.assertEqual((code, out, err.splitlines()), (2, "", list(lines)))
        self.assertEqual(sorted(os.listdir(self.folder)), before)

    def at_pane(self):
        """Where hall.yaml names the measurement of the sample pane."""
        with open(self.path("hall.yaml"), encoding="utf-8") as source:
            for number, line in enumerate(source, 1):
                if "measured: pane.csv" in line:
                    return f"hall.yaml:{number}:{line.index('pane.csv') + 1}: "
        raise AssertionError("no measurement of the sample pane")

    def test_rates_the_worked_example_of_iso_717_1(self):
        self.put("example.csv", ANNEX_C)
        code, out, err = self.run_here("glazing", "example.csv")
        self.assertEqual((code, err), (0, ""))
        self.assertIn("  A  example.csv, measured\n     Rw (C; Ctr) 30 (-2; -3) dB\n", out)
        self.assertNotIn("STC", out)

    def test_rates_octaves(self):
        # EN 12354-3:2000 Annex F: R'tr,s,w 31 (Ctr -3)
        self.put("octaves.csv", dict(zip(OCTAVES[1:6], [24.4, 21.5, 24.9, 35.4, 37.5])))
        code, out, err = self.run_here("glazing", "octaves.csv", "--json")
        self.assertEqual((code, err), (0, ""))
        curve = json.loads(out)["buildups"][0]["measured"]
        self.assertEqual((curve["bands"], curve["rw_db"], curve["ctr_db"]), ("octaves", 31, -3))
        self.assertIsNone(curve["stc"])

    def test_readme_shows_what_it_prints(self):
        with open(os.path.join(hall.TOP, "README.md"), encoding="utf-8") as source:
            readme = source.read()
        code, out, err = self.run_here("glazing", "hall.yaml", "sample pane")
        self.assertEqual((code, err), (0, ""))
        block = "".join("    " + line + "\n" if line else "\n" for line in out.splitlines())
        self.assertIn(block, readme)

    def test_writes_table_json_and_plot(self):
        code, out, err = self.run_here("glazing", "hall.yaml", "--out", "g")
        self.assertEqual((code, err), (0, ""))
        files = hall.read_bytes(self.path("g"))
        self.assertEqual(sorted(files), ["glazing.csv", "glazing.json", "glazing.png"])
        rows = list(csv.reader(files["glazing.csv"].decode().splitlines()))
        self.assertEqual(rows[0][0], "band_hz")
        self.assertIn("sample pane measured_r_db", rows[0])
        self.assertEqual([int(row[0]) for row in rows[1:]], BANDS)
        found = {b["name"]: b for b in json.loads(files["glazing.json"])["buildups"]}
        pane = found["sample pane"]
        self.assertEqual((pane["sample_m2"], pane["report"]),
                         (1.82, "invented curve of a laboratory sample"))
        column = rows[0].index("sample pane predicted_r_db")
        self.assertEqual([float(row[column]) for row in rows[1:]], pane["predicted"]["r_db"])
        difference = [p - m for p, m in zip(pane["predicted"]["r_db"], pane["measured"]["r_db"])]
        for got, wanted in zip(pane["predicted_less_measured_db"], difference):
            self.assertAlmostEqual(got, wanted, delta=0.11)
        self.assertIsNone(found["foyer door"]["predicted"])
        width, height = struct.unpack(">II", files["glazing.png"][16:24])
        self.assertTrue(width == 1800 and 1000 < height < 3000, (width, height))
        self.assertEqual(self.run_here("glazing", "hall.yaml", "--out", "h", "--quiet")[1], "")
        self.assertEqual(hall.read_bytes(self.path("h")), files)

    def test_the_measured_curve_wins_in_the_assessment(self):
        summary = hall.assess("end_stage", options=("--no-maps", "--samples", "16")).summary
        pane = next(b for b in summary["noise"]["buildups"] if b["name"] == "sample pane")
        self.assertTrue(pane["measured"])
        self.assertEqual(pane["r_db"][0], 20.5)

    def test_octaves_are_spread_with_a_note(self):
        self.put("pane.csv", dict(zip(OCTAVES, [20, 24, 28, 32, 34, 38, 46])))
        note = ("gradin: note: build-up sample pane: the octaves of pane.csv stand for their three "
                "thirds each\n")
        code, out, err = self.run_here("glazing", "hall.yaml", "sample pane")
        self.assertEqual((code, err), (0, note))
        self.assertIn("dB from octaves", out)
        code, out, err = self.run_here("assess", "end_stage.yaml", "--out", "o", "--samples", "16",
                                       "--no-maps", "--quiet")
        self.assertEqual((code, err), (0, note))

    def test_missing_bands(self):
        gap = {hz: 30 for hz in BANDS if hz != 315}
        self.put("pane.csv", gap)
        self.refuse(["hall.yaml"], self.at_pane() + "facade.buildups[3].measured: pane.csv lacks "
                    "the band 315 Hz; all 21 from 50 to 5000 Hz are needed, or the 7 octaves from "
                    "63 to 4000 Hz")
        self.refuse(["pane.csv"], "band 315 Hz is missing; Rw needs the thirds 100 to 3150 Hz")
        self.put("pane.csv", {hz: 30 for hz in OCTAVES[1:]})
        self.refuse(["hall.yaml"], self.at_pane() + "facade.buildups[3].measured: pane.csv lacks "
                    "the band 63 Hz; all 21 from 50 to 5000 Hz are needed, or the 7 octaves from "
                    "63 to 4000 Hz")

    def test_fits_constants_and_predicts_the_neighbours_with_them(self):
        def run(*more):
            code, out, err = self.run_here("glazing", "hall.yaml", "--json", *more)
            self.assertEqual((code, err), (0, ""))
            found = json.loads(out)
            return found["fit"], {b["name"]: b for b in found["buildups"]}
        none, before = run()
        fit, after = run("--fit", "sample pane")
        self.assertIsNone(none)
        self.assertLess(fit["rms_db"], fit["rms_before_db"])
        self.assertTrue(10 < fit["shear_mpa"] < 140, fit)
        self.assertEqual(after["sample pane"]["measured"], before["sample pane"]["measured"])
        self.assertGreater(after["laminated single"]["critical_hz"][0],
                           before["laminated single"]["critical_hz"][0])
        for got, wanted in zip(fit["residual_db"], after["sample pane"]
                               ["predicted_less_measured_db"]):
            self.assertAlmostEqual(got, wanted, delta=0.25)
        self.refuse(["hall.yaml", "--fit", "glass"],
                    "--fit: build-up 'glass' is not among those compared")
        self.refuse(["hall.yaml", "--fit", "foyer door"], "build-up foyer door cannot be fitted: it "
                    "needs layers and measured thirds")

    def test_names(self):
        code, out, _ = self.run_here("glazing", "hall.yaml", "foyer door", "laminated double")
        self.assertEqual(code, 0)
        self.assertLess(out.index("A  foyer door"), out.index("B  laminated double"))
        self.refuse(["hall.yaml", "laminated doubl"],
                    "hall.yaml: unknown build-up 'laminated doubl'; did you mean 'laminated "
                    "double'?")
        self.refuse(["hall.yaml", "foyer door", "foyer door"],
                    "hall.yaml: build-up 'foyer door' is named twice")
        self.refuse(["door.csv", "foyer door"],
                    "gradin: glazing: door.csv has no build-ups to pick from")

    def test_use(self):
        self.refuse([], "gradin: glazing: a venue or a CSV file of band values is needed")
        self.refuse(["none.csv"], "none.csv: cannot be opened: No such file or directory")
        self.refuse(["end_stage.yaml"], "end_stage.yaml:2:9: format: is 'gradin-layout-1'; "
                    "'gradin-venue-1' is needed")
        self.refuse(["hall.yaml", "--out", "hall.yaml"],
                    "gradin: hall.yaml: exists and is no folder")

    def test_a_sample_without_a_measurement(self):
        self.change("hall.yaml", "      measured: pane.csv\n", "")
        code, _, err = self.run_here("glazing", "hall.yaml")
        self.assertEqual(code, 2)
        self.assertIn("sample_m2: belongs to a measurement; give the file under measured", err)


if __name__ == "__main__":
    plain.main()
