#!/usr/bin/python3
"""gradin rails: never a height below the venue's own minimum, and the cautions with every table."""

import csv
import json
import os
import re
import tempfile
import unittest

import hall
from hall import plain


class Rails(hall.HallTest):
    def rails(self, layout):
        code, out, err = self.run_here("rails", f"{layout}.yaml", "--out", "rails")
        self.assertEqual((code, err), (0, ""))
        self.assertLessEqual(max(len(line) for line in out.splitlines()), 80)
        for words in ("A lower rail is no sightline fix without the authority's approval.",
                      "local codes and licensed practice decide"):
            self.assertIn(words, hall.flat(out))
        return out, self.table("rails.csv")

    def table(self, name):
        with open(self.path(os.path.join("rails", name)), encoding="utf-8", newline="") as source:
            return list(csv.DictReader(source, strict=True))

    def expect_minimum(self, rows, minimum):
        none = 0
        for row in rows:
            if row["whole_up_to_m"]:
                self.assertGreaterEqual(float(row["whole_up_to_m"]), minimum, row["seat"])
            self.assertEqual(row["note"] == "", row["whole_up_to_m"] != "")
            none += row["note"] == "none at or above the minimum"
        return none

    def test_nothing_below_the_minimum(self):
        _, rows = self.rails("thrust")
        low = self.expect_minimum(rows, 0.8)
        self.assertGreater(low, 0)
        self.change("hall.yaml", "rail_min: 0.80", "rail_min: 0.84")
        out, rows = self.rails("thrust")
        self.assertGreater(self.expect_minimum(rows, 0.84), low)
        self.assertIn("Lowest rail that the venue's own local rules allow: 0.840 m.", out)

    def assessed(self, layout):
        self.assertEqual(self.run_here("assess", f"{layout}.yaml", "--out", "out", "--quiet",
                                       "--no-maps")[0], 0)
        return hall.Table(self.path("out")).seat

    def test_figures_agree_with_the_assessment(self):
        """What its rails hide from a seat adds up to what the assessment says of rails; by seat the
        one that hides most comes first; taking one away gives back no more than it hides."""
        _, rows = self.rails("thrust")
        seats, hidden, last = self.assessed("thrust"), {}, {}
        for row in rows:
            hides = float(row["hides_pct"])
            hidden[row["seat"]] = hidden.get(row["seat"], 0.0) + hides
            self.assertLessEqual(hides, last.get(row["seat"], 100.0))
            self.assertLessEqual(float(row["gives_back_pct"]), hides)
            self.assertLess(float(row["whole_up_to_m"] or 0.0), float(row["height_m"]))
            last[row["seat"]] = hides
        self.assertGreater(len(hidden), 100)
        for name, seat in seats.items():
            self.assertAlmostEqual(float(seat["hidden_rails_pct"]), hidden.get(name, 0.0), delta=0.16)

    def test_a_rail_that_hides_nothing_is_not_blamed(self):
        """The guard behind the end stage stands at the far edge of what is looked at: it hides
        nothing from any seat, and no seat is sent to it."""
        self.rails("end_stage")
        _, out, _ = self.run_here("rails", "end_stage.yaml", "--out", "rails", "--json")
        self.assertNotIn("none at or above the minimum",
                         [seat["note"] for seat in json.loads(out)["seats"]])
        for seat in self.assessed("end_stage").values():
            self.assertEqual(seat["hidden_rails_pct"], "0.0")

    def test_obeyed_it_leaves_nothing_hidden(self):
        """A tower's rails lowered to the least of the heights given for them hide nothing."""
        self.change("hall.yaml", "rail_min: 0.80", "rail_min: 0.40")
        _, rows = self.rails("thrust")
        tops = [float(row["whole_up_to_m"]) for row in rows if "upper rail" in row["rail"]]
        self.assertGreater(len(tops), 50)
        with open(self.path("hall.yaml"), encoding="utf-8") as source:
            text = source.read()
        text, n = re.subn(r"(\{kind: \w+, height: )0\.85", rf"\g<1>{min(tops):.3f}", text)
        self.assertGreater(n, 0)
        with open(self.path("hall.yaml"), "w", encoding="utf-8") as target:
            target.write(text)
        _, rows = self.rails("thrust")
        self.assertEqual([row["rail"] for row in rows if "upper rail" in row["rail"]], [])

    def test_a_balcony_s_rail_needs_its_foot(self):
        """Without a foot it is refused, not put on the stalls floor; the level of its seats will do
        as well as the height."""
        before = self.assessed("hexagon_stage")
        self.change("hexagon_stage.yaml", "foot: 15.5, level: balcony,", "")
        code, _, err = self.run_here("check", "hexagon_stage.yaml")
        self.assertEqual(code, 2)
        self.assertRegex(err, r"hexagon_stage.yaml:\d+:\d+: rails\[1\]: rail balcony front could "
                              r"stand at 0.00 m or on balcony floor; give its foot, or the level of "
                              r"the seats that it guards\n")
        self.change("hexagon_stage.yaml", "foot: 15.5, ", "")
        self.assertEqual(before, self.assessed("hexagon_stage"))

    def test_on_a_level_it_stands_on_the_row_under_it(self):
        """The rail behind the balcony's last row, 6.4 ft above the balcony's floor: its level will do there, too."""
        self.rails("hexagon_stage")
        before = self.table("rails.csv")
        self.change("hexagon_stage.yaml", "foot: 21.9, level: balcony", "level: balcony")
        self.rails("hexagon_stage")
        self.assertEqual(before, self.table("rails.csv"))
        self.assertEqual(json.loads(self.run_here("fit", "hexagon_stage.yaml", "--json")[1])["open_edges"], [])

    def test_overhangs(self):
        out, _ = self.rails("end_stage")
        rows = self.table("overhangs.csv")
        lost = [row for row in rows if row["lose_arch_top"] != "0"]
        self.assertIn(f"under an overhang: {len(lost)}\n", out)
        for row in rows:
            self.assertEqual(row["lose_set_top"], "")
            self.assertEqual(row["arch_under"] == "", row["lose_arch_top"] == "0")
            self.assertLessEqual(float(row["arch_seen_to_m"]), 7.5)

    def test_refusals(self):
        for arguments, line in ((["rails"], "gradin: rails: one layout is needed, not 0"),
                                (["rails", "thrust.yaml"], "gradin: rails: --out DIR is needed"),
                                (["rails", "thrust.yaml", "--ot", "x"],
                                 "gradin: rails: unknown option '--ot'; did you mean '--out'?")):
            self.assertEqual(self.run_here(*arguments), (2, "", line + "\n"))


PARAPET = {
    "format": "gradin-layout-1", "units": "m", "venue": "venue.yaml", "name": "Parapet", "form": "custom",
    "audience": {"eye_height": 1.2},
    "focus": [{"name": "screen", "line": [[2, 12], [18, 12]], "bottom": 0, "top": 10}],
    "blocks": [{"name": "Seat", "stands_on": "floor", "seat_width": 0.5, "row_depth": 0.9,
                "straight": {"front": [10, 4], "facing_deg": 0, "rows": 1, "seats": 1}}],
    "solids": [{"name": "low", "kind": "slab", "polygon": [[6.8, 7.9], [7.2, 7.9], [7.2, 8.1], [6.8, 8.1]],
                "bottom": 0, "top": 1},
               {"name": "high", "kind": "slab", "polygon": [[12.8, 7.9], [13.2, 7.9], [13.2, 8.1], [12.8, 8.1]],
                "bottom": 0, "top": 3}]}
VENUE = {"format": "gradin-venue-1", "units": "m", "name": "Shed", "room": {
    "footprint": [[0, 0], [20, 0], [20, 20], [0, 20]], "ceiling": 12, "local_rules": {"rail_min": 0.8},
    "absorption": {key: [0.2] * 6 for key in ("floor", "ceiling", "walls", "seating")}}}


class NoneToTell(unittest.TestCase):
    """Where no seat looks over a rail that is said in words: a table without a line says nothing."""

    def said(self, **more):
        with tempfile.TemporaryDirectory() as folder:
            for name, made in (("venue", VENUE), ("layout", {**PARAPET, **more})):
                with open(os.path.join(folder, f"{name}.yaml"), "w", encoding="utf-8") as out:
                    json.dump(made, out)  # JSON is YAML
            code, out, err = hall.run("rails", "layout.yaml", "--out", "out", cwd=folder)
        self.assertEqual((code, err), (0, ""))
        self.assertNotIn("hides nothing up to", out)
        return out

    def test_no_rail_and_a_rail_that_nobody_looks_over(self):
        self.assertIn("There is no rail in this layout.\n", self.said())
        behind = {"name": "back", "kind": "bar", "height": 1, "path": [[8, 1], [12, 1]]}
        self.assertIn("No seat looks over a rail.\n", self.said(rails=[behind]))


class Slope(unittest.TestCase):
    """A solid rail 1 m high climbs 2 m over its 6 m, half way to a screen of 16 m by 10 m. Sheared, its
    shadow there is 12 m wide and 2 m high wherever it is cut: 24 of 160 m2, 15 %. A level box from its
    lower foot to its higher end throws one of 12 m by 6 m: 45 %."""

    def hides(self, cause, **more):
        with tempfile.TemporaryDirectory() as folder:
            for name, made in (("venue", VENUE), ("layout", {**PARAPET, **more})):
                with open(os.path.join(folder, f"{name}.yaml"), "w", encoding="utf-8") as out:
                    json.dump(made, out)  # JSON is YAML
            code, _, err = hall.run("assess", "layout.yaml", "--out", "out", "--no-maps", "--quiet",
                                    "--samples", "16384", cwd=folder)
            self.assertEqual(code, 0, err)
            (seat,) = hall.Table(os.path.join(folder, "out")).rows
            self.assertEqual((seat["x_m"], seat["y_m"]), ("10.000", "4.000"))
            return float(seat[f"hidden_{cause}_pct"])

    def test_a_solid_rail_on_a_slope_is_sheared(self):
        for path in ([[7, 8], [13, 8]], [[13, 8], [7, 8]]):
            rail = {"name": "parapet", "kind": "solid", "path": path, "height": 1, "thickness": 0.02}
            self.assertAlmostEqual(self.hides("rails", rails=[rail]), 15, delta=0.3)

    def test_a_level_box_hides_three_times_as_much(self):
        box = {"name": "box", "kind": "set", "polygon": [[7, 7.99], [13, 7.99], [13, 8.01], [7, 8.01]],
               "bottom": 1, "top": 4}
        self.assertAlmostEqual(self.hides("structure", solids=[box]), 45, delta=0.6)


if __name__ == "__main__":
    plain.main()
