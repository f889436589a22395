"""Rows as halls have them: seats given row by row, trimmed to the walls or a fan, shifted to either
side; rows of boxes.

usage: test_rows.py GRADIN"""

import csv
import json
import math
import os
import tempfile
import unittest

import hall

ALIKE = [0.2] * 6
VENUE = {
    "format": "gradin-venue-1", "units": "m", "name": "Rows (invented)",
    "room": {"footprint": [[0, 0], [16, 0], [12, 16], [4, 16]], "ceiling": 9,
             "absorption": {"floor": ALIKE, "ceiling": ALIKE, "walls": ALIKE, "seating": ALIKE},
             "local_rules": {"rail_min": 0.7}}}
BLOCK = {"name": "A", "stands_on": "floor", "seat_width": 0.5, "row_depth": 0.9}
STRAIGHT = {"front": [8, 9], "facing_deg": 0, "rows": 3, "seats": 8}
ARC = {"centre": [8, 14], "radius": 6, "from_deg": 150, "to_deg": 210, "rows": 2}
BOXES = {"name": "Box", "front": [[5, 6], [11, 6]], "count": 3, "depth": 2.2, "floor": 3, "rows": 2,
         "seats": 3, "seat_width": 0.6, "row_depth": 0.9, "riser": 0.2, "parapet": 0.8,
         "partition_height": 2.0}


class Rows(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.put("venue.yaml", VENUE)

    def tearDown(self):
        self.temporary.cleanup()

    def put(self, name, content):
        with open(os.path.join(self.temporary.name, name), "w", encoding="utf-8") as out:
            json.dump(content, out)  # JSON is YAML

    def layout(self, **more):
        self.put("layout.yaml", {
            "format": "gradin-layout-1", "units": "m", "venue": "venue.yaml", "name": "Rows",
            "form": "end_stage", "axis_deg": 180,
            "focus": [{"name": "stage", "z": 0.8,
                       "polygon": [[5, 12], [11, 12], [11, 15], [5, 15]]}], **more})

    def seats(self, **more):
        self.layout(**more)
        code, _, err = hall.run("assess", "layout.yaml", "--out", "out", "--quiet", "--no-maps",
                                "--samples", "16", cwd=self.temporary.name)
        self.assertEqual((code, err), (0, ""))
        with open(os.path.join(self.temporary.name, "out", "seats.csv"), encoding="utf-8") as source:
            rows = list(csv.DictReader(source))
        for row in rows:
            row.update(x=float(row["x_m"]), y=float(row["y_m"]))
        return rows

    def per_row(self, block, **more):
        found = {}
        for row in self.seats(blocks=[block], **more):
            found[int(row["row"])] = found.get(int(row["row"]), 0) + 1
        return list(found.values())

    def refused(self, words, **more):
        self.layout(**more)
        code, out, err = hall.run("check", "layout.yaml", cwd=self.temporary.name)
        self.assertEqual((code, out), (2, ""))
        self.assertIn(words, err)

    def test_seats_are_given_row_by_row(self):
        block = {**BLOCK, "straight": {**STRAIGHT, "seats": [4, 7, 10]}}
        self.assertEqual(self.per_row(block), [4, 7, 10])
        for row in (1, 2, 3):  # each in the middle
            x = [seat["x"] for seat in self.seats(blocks=[block]) if seat["row"] == str(row)]
            self.assertAlmostEqual(sum(x) / len(x), 8.0, places=6)
        self.assertEqual(self.per_row({**BLOCK, "curved": {**ARC, "seats": [5, 9]}}), [5, 9])
        self.assertEqual(self.per_row({**BLOCK, "curved": {**ARC, "seats": 6}}), [6, 6])
        # as many as fit: pi/3 * 6 m and 6.9 m in seats of 0.5 m
        self.assertEqual(self.per_row({**BLOCK, "curved": ARC}), [12, 14])
        self.assertEqual(self.per_row({**BLOCK, "curved": {**ARC, "seats": [12, 14]}}), [12, 14])

    def test_rows_that_cannot_be_are_refused(self):
        self.refused("row 1 has 13 seats; its arc holds 12",
                     blocks=[{**BLOCK, "curved": {**ARC, "seats": [13, 14]}}])
        self.refused("has 2 values; 3 are needed",
                     blocks=[{**BLOCK, "straight": {**STRAIGHT, "seats": [4, 4]}}])
        self.refused("needs whole numbers",
                     blocks=[{**BLOCK, "straight": {**STRAIGHT, "seats": [4, 4.5, 4]}}])
        fan = {"point": [8, 15], "from_deg": 200, "to_deg": 160}
        self.refused("must be more than from_deg by less than 360",
                     blocks=[{**BLOCK, "trim": {"fan": fan}, "straight": STRAIGHT}])

    def test_rows_on_a_sloping_floor(self):
        """1 in 10, the first row's middle at `base`. Rows 0.9 m deep lie 0.9 m apart and rise 90 mm; rows of
        0.9, 1.1 and 1 m lie 1 and 1.05 m apart."""
        for depth, base, wanted in ((0.9, 0, [0, 0.09, 0.18]), ([0.9, 1.1, 1.0], 0.5, [0.5, 0.6, 0.705])):
            block = {**BLOCK, "row_depth": depth, "base": base, "slope": 0.1}
            for rows in ({"straight": STRAIGHT}, {"curved": {**ARC, "rows": 3, "radius": 5}}):
                for seat in self.seats(blocks=[{**block, **rows}]):
                    self.assertAlmostEqual(float(seat["floor_z_m"]), wanted[int(seat["row"]) - 1], delta=6e-4)
        # in the units of the layout a slope is the same, and a riser that is alike gives the same table
        straight = {**BLOCK, "straight": STRAIGHT}
        self.assertEqual(self.seats(blocks=[{**straight, "slope": 0.1}]),
                         self.seats(blocks=[{**straight, "riser": 0.09}]))

    def test_c_on_a_sloping_floor(self):
        """C = D (N + R) / (D + T) - R by hand, for who looks over one head: the stage's edge lies 0.8 m up and
        D = 3 m before the first row, T = 0.9 m, N = 90 mm, R = 1.12 - 0.8 m: -4.6 mm on a slope of 1 in 10, and
        3 * 0.32 / 3.9 - 0.32 m, -73.8 mm, on the level. Looking 6 mm aside makes D / (D + T) 0.0005 larger, C
        0.2 mm."""
        for slope, rise, wanted_mm in ((0.1, 90, -4.6), (0.0, 0, -73.8)):
            found = [seat for seat in self.seats(blocks=[{**BLOCK, "straight": STRAIGHT, "slope": slope}])
                     if seat["row"] == "2" and seat["c_case"] == "row in front"]
            self.assertEqual({seat["number"] for seat in found}, {"4", "5"})
            for seat in found:
                d, t = float(seat["c_d_m"]), float(seat["c_t_m"])
                self.assertAlmostEqual(d / (d + t), 3 / 3.9, delta=1e-3)
                self.assertEqual((float(seat["c_n_mm"]), float(seat["c_r_m"])), (rise, 0.32))
                self.assertAlmostEqual(float(seat["c_mm"]), wanted_mm, delta=1.0)

    def test_a_slope_that_cannot_be_is_refused(self):
        self.refused("slope: rises by itself; leave out riser",
                     blocks=[{**BLOCK, "straight": STRAIGHT, "slope": 0.1, "riser": 0.2}])
        self.refused("blocks[1].slope: is 0.3; allowed: 0 to 0.25",
                     blocks=[{**BLOCK, "straight": STRAIGHT, "slope": 0.3}])

    def test_trimmed_to_the_walls(self):
        """The room narrows northwards: row 1 at y 9, x from 2.25 to 13.75; 0.3 m to each side of it."""
        wide = {**BLOCK, "straight": {**STRAIGHT, "seats": 40}}
        self.refused("lies outside the room's footprint", blocks=[wide])
        found = self.seats(blocks=[{**wide, "trim": {"to_room": True}}])
        for row in range(3):
            y = 9 - 0.9 * row + 0.3  # the front corners are the outermost
            inner = 8 - y / 4
            fits = 2 * math.floor(inner / 0.5 + 1e-9)
            self.assertEqual(sum(seat["row"] == str(row + 1) for seat in found), fits)

    def test_trimmed_to_a_fan(self):
        fan = {"point": [8, 14], "from_deg": 160, "to_deg": 205}
        block = {**BLOCK, "trim": {"fan": fan}, "straight": {**STRAIGHT, "seats": 20}}
        found = {(seat["row"], round(seat["x"], 3)) for seat in self.seats(blocks=[block])}
        wanted = set()
        for row in range(3):
            for i in range(20):
                x, y = 8 + (i - 9.5) * 0.5, 9 - 0.9 * row
                bearings = [math.degrees(math.atan2(x + dx - 8, y + dy - 14)) % 360
                            for dx in (-0.25, 0.25) for dy in (-0.3, 0.3)]
                if min(bearings) >= 160 and max(bearings) <= 205:
                    wanted.add((str(row + 1), round(x, 3)))
        self.assertEqual(found, wanted)
        self.assertLess(len(found), 60)

    def test_every_other_row_is_shifted_to_either_side(self):
        for stagger in (0.5, -0.5, 0.25):
            seats = self.seats(blocks=[{**BLOCK, "straight": {**STRAIGHT, "stagger": stagger}}])
            first = {seat["row"]: seat["x"] for seat in reversed(seats)}
            self.assertAlmostEqual(first["2"] - first["1"], stagger * 0.5, places=6)
            self.assertAlmostEqual(first["3"], first["1"], places=6)

    def test_boxes_have_floor_walls_parapet_and_seats(self):
        seats = self.seats(boxes=[BOXES])
        self.assertEqual({seat["block"] for seat in seats}, {"Box 1", "Box 2", "Box 3"})
        self.assertEqual((len(seats), {seat["level"] for seat in seats}), (18, {"boxes"}))
        by_id = {seat["seat"]: seat for seat in seats}
        first, last = by_id["Box 1-1-1"], by_id["Box 3-2-3"]
        # 0.3 m clear and half a row behind the front line; facing north, so numbered from the west
        self.assertEqual((first["x"], first["y"], first["floor_z_m"]), (5.4, 5.25, "3.000"))
        self.assertEqual((last["x"], last["y"], last["floor_z_m"]), (10.6, 4.35, "3.200"))
        self.assertEqual(first["facing_deg"], "0.0")
        rail = {seat["rail"] for seat in seats} - {""}
        self.assertEqual(rail, {"Box parapet"})
        # past the walls between the boxes the outer boxes see less than the middle one
        seen = {name: sum(float(seat["visible_pct"]) for seat in seats if seat["block"] == name)
                for name in ("Box 1", "Box 2")}
        open_seen = sum(float(seat["visible_pct"])
                        for seat in self.seats(boxes=[{**BOXES, "partition_height": 0}])
                        if seat["block"] == "Box 1")
        self.assertLess(seen["Box 1"], open_seen)

    def test_chairs_in_boxes_turn(self):
        turned = self.seats(boxes=[{**BOXES, "seats": 1, "turn_deg": -30}])
        self.assertEqual({seat["facing_deg"] for seat in turned}, {"330.0"})

    def test_boxes_that_cannot_be_are_refused(self):
        self.refused("has rows wider than a box between its walls", boxes=[{**BOXES, "seats": 4}])
        self.refused("has rows deeper than a box", boxes=[{**BOXES, "rows": 3}])
        self.refused("boxes[1].parapet: is below the 0.700 m", boxes=[{**BOXES, "parapet": 0.6}])
        self.refused("two blocks are named 'Box 1'", boxes=[BOXES],
                     blocks=[{**BLOCK, "name": "Box 1", "straight": STRAIGHT}])


if __name__ == "__main__":
    unittest.main()
