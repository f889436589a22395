#!/usr/bin/python3
"""Focus areas of three kinds in a layout: their columns, their maps, their weights, and C."""

import csv
import json
import os
import re
import tempfile
import unittest

import hall
import small
from hall import plain

STAGE = "  - {name: stage, polygon: [[10, 30], [30, 30], [30, 36], [10, 36]]}\n"
SCREEN = "  - {name: screen, line: [[10, 37], [30, 37]], bottom: 6, top: 10, weight: 2}\n"
FACE = "  - {name: face, point: [20, 33], z: 5.5, weight: 0.5}\n"


class Kinds(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.folder = os.path.join(self.temporary.name, "hall")
        small.make_hall(self.folder)
        with open(os.path.join(self.folder, "feet.yaml"), encoding="utf-8") as source:
            self.text = source.read()

    def tearDown(self):
        self.temporary.cleanup()

    def assess(self, areas, *more):
        self.assertIn(STAGE, self.text)
        small.write(self.folder, "kinds.yaml", self.text.replace(STAGE, areas))
        code, out, err = hall.run("assess", "kinds.yaml", "--out", "out", "--samples", "256", *more,
                                  cwd=self.folder)
        self.assertIn(code, (0, 1), err)
        with open(os.path.join(self.folder, "out", "seats.csv"), encoding="utf-8", newline="") as source:
            return list(csv.DictReader(source)), out, err

    def test_each_area_has_its_share_and_the_total_is_weighted(self):
        seats, out, _ = self.assess(STAGE + SCREEN + FACE)
        weights = {"stage": 1.0, "screen": 2.0, "face": 0.5}
        seen = set()
        for seat in seats:
            mean = sum(w * float(seat[f"visible_{name}_pct"]) for name, w in weights.items()) / 3.5
            self.assertAlmostEqual(float(seat["visible_pct"]), mean, delta=0.11)
            seen |= {seat[f"visible_{name}_pct"] for name in weights}
        self.assertGreater(len(seen), 2)
        for name in weights:
            self.assertRegex(out, rf"\n    {name}, % +\d")
        maps = [name for name in os.listdir(os.path.join(self.folder, "out")) if name.startswith("visible_area_")]
        self.assertEqual(sorted({re.match(r"visible_area_(\d)", name)[1] for name in maps}), ["1", "2", "3"])
        with open(os.path.join(self.folder, "out", "summary.json"), encoding="utf-8") as source:
            areas = json.load(source)["sight"]["areas"]
        self.assertEqual([(a["name"], a["kind"]) for a in areas],
                         [("stage", "floor"), ("screen", "upright"), ("face", "point")])
        least = min(float(seat["visible_screen_pct"]) for seat in seats)
        self.assertAlmostEqual(areas[1]["visible_pct"]["least"], least, delta=0.06)

    def over_floor(self):
        with open(os.path.join(self.folder, "out", "summary.json"), encoding="utf-8") as source:
            return json.load(source)["sight"]["focus_over_floor_m"]

    def compare(self, first, second):
        for name, areas in (("one.yaml", first), ("two.yaml", second)):
            small.write(self.folder, name, self.text.replace(STAGE, areas))
        code, told, err = hall.run("compare", "one.yaml", "two.yaml", "--samples", "64", "--no-changeovers", cwd=self.folder)
        self.assertIn(code, (0, 1), err)
        return hall.flat(told)

    def test_feet_that_nobody_is_asked_to_see_are_said_to_be_so(self):
        raised = STAGE.replace("]]}", "]], z: 3}")
        says = "what lies under stage (3.00 ft over the floor)"
        _, on, _ = self.assess(STAGE, "--no-maps")
        self.assertEqual((self.over_floor(), says in hall.flat(on)), ([0], False))
        os.rename(os.path.join(self.folder, "kinds.yaml"), os.path.join(self.folder, "level.yaml"))
        _, over, _ = self.assess(raised + FACE, "--no-maps")
        self.assertEqual((self.over_floor(), says in hall.flat(over)), ([0.914, None], True))
        _, both, _ = self.assess(STAGE + raised.replace("stage", "faces"), "--no-maps")
        self.assertEqual((self.over_floor(), "what lies under" in hall.flat(both)), ([0, 0.914], False))
        both = self.compare(STAGE + raised.replace("stage", "faces"), STAGE + raised.replace("stage", "faces").replace("z: 3", "z: 5"))
        self.assertIn("faces lies 3.00 ft over the floor in", both)
        self.assertIn("5.00 ft over the floor in", both)
        self.assertNotIn("on the floor in", both)
        self.assess(raised, "--no-maps")
        code, told, err = hall.run("compare", "level.yaml", "kinds.yaml", "--samples", "64", cwd=self.folder)
        self.assertIn(code, (0, 1), err)
        self.assertIn("stage lies on the floor in", " ".join(told.split()))
        self.assertIn("3.00 ft over the floor in", " ".join(told.split()))
        deck = "solids:\n  - {name: deck, kind: set, bottom: 0, top: 3, polygon: [[9, 29], [31, 29], [31, 37], [9, 37]]}\n"
        self.assertNotIn("solids:", self.text)
        self.text += deck
        _, stands, _ = self.assess(raised, "--no-maps")
        self.assertEqual((self.over_floor(), says in hall.flat(stands)), ([0], False))

    def test_order_and_weight_move_neither_c_nor_distance(self):
        alone, _, _ = self.assess(STAGE, "--no-maps")
        self.assertNotIn("visible_stage_pct", alone[0])
        below = "  - {name: low, point: [20, 29], z: -3, weight: 90}\n"
        for areas in (SCREEN + FACE + STAGE, below + STAGE):
            seats, _, _ = self.assess(areas, "--no-maps")
            for was, now in zip(alone, seats, strict=True):
                for key in ("c_mm", "c_case", "c_line", "c_d_m", "c_r_m", "front_seat", "c_class", "distance_m",
                            "nearest_m", "off_axis_deg", "down_deg", "head_turn_deg", "focus_width_deg"):
                    self.assertEqual(was[key], now[key], key)

    def test_without_a_floor_c_is_not_measured(self):
        seats, out, err = self.assess(SCREEN)
        self.assertIn("focus: has no floor and the layout no c_line: C is not measured", err)
        self.assertIn("C: not measured; no focus area is a floor, and the layout states no c_line", hall.flat(out))
        self.assertEqual({seat["c_mm"] + seat["c_line"] for seat in seats}, {""})
        self.assertFalse([name for name in os.listdir(os.path.join(self.folder, "out")) if "c_value" in name])
        code, _, err = hall.run("rake", "kinds.yaml", "--block", "Stalls", "--c", "0.2", "--out", "out",
                                cwd=self.folder)
        self.assertEqual(code, 2)
        self.assertIn("'Stalls' has nothing to measure C to: no focus area is a floor", err)
        line = "c_line: {name: edge, path: [[10, 30], [30, 30]], z: 0}\n"
        seats, out, err = self.assess(SCREEN + line, "--no-maps")
        self.assertNotIn("not measured", out + err)
        self.assertEqual({seat["c_line"] for seat in seats}, {"edge"})
        self.assertTrue([seat for seat in seats if seat["c_mm"]])

    def test_what_hangs_before_surtitles_hides_its_width(self):
        """The demo's opera: loudspeakers 5 ft wide with their near side at y = 54.5, over the eyes of the
        balcony's front row, and surtitles 20 ft wide at y = 62.5, by similar triangles."""
        with tempfile.TemporaryDirectory() as folder:
            hall.copy_demo(folder)
            code, _, err = hall.run("assess", "hexagon_opera.yaml", "--out", "out", "--no-maps", "--quiet",
                                    cwd=folder)
            self.assertEqual((code, err), (0, ""))
            seats = hall.Table(os.path.join(folder, "out")).rows
        row = [seat for seat in seats if seat["block"] == "Balcony" and seat["row"] == "1"]
        seat = min(row, key=lambda seat: abs(float(seat["x_m"]) - 50 * 0.3048))
        y = float(seat["y_m"]) / 0.3048
        hidden = 5 * (62.5 - y) / (54.5 - y) / 20
        self.assertAlmostEqual(float(seat["visible_surtitles_pct"]), 100 * (1 - hidden), delta=2)
        self.assertEqual(float(seat["visible_conductor_pct"]), 100)
        self.assertEqual({seat["c_line"] for seat in seats if seat["c_line"]}, {"stage"})


if __name__ == "__main__":
    plain.main()
