#!/usr/bin/python3
"""A level passage through a bank of seats: which seats go, what stays over it, its edges, and the way out. Told by
hand from the drawing."""

import csv
import os
import unittest

import rough

# A bank faces north, its first row's middle at y = 14, ten rows of 0.9 m, up by 0.4 m each from 0: row k at
# y = 14.9 - 0.9 k, z = 0.4 (k - 1). The passage runs under it from y = 5 to y = 14.45, x from 9 to 11, to the door in
# the south wall. Headroom 2.2 m and 0.2 m of cover: rows whose tread is 2.4 m up and more stay, row 7 and those behind.
VENUE = """format: gradin-venue-1
units: m
name: Bank (invented)
room:
  footprint: [[0, 0], [20, 0], [20, 20], [0, 20]]
  ceiling: 9
  absorption: {floor: ALPHA, ceiling: ALPHA, walls: ALPHA, seating: ALPHA}
  local_rules: {rail_min: 0.8, guard_drop: 0.6}
facade:
  buildups: [{name: leaf, layers: [{plate_mm: 44, density_kgm3: 700, young_gpa: 3, poisson: 0.3, loss: 0.05}]}]
  doors: [{name: D1, start: [9, 0], bearing_deg: 90, width: 2, height: 2.2, sill: 0, buildup: leaf}]
""".replace("ALPHA", "[0.2, 0.2, 0.2, 0.2, 0.2, 0.2]")
LAYOUT = """format: gradin-layout-1
units: m
venue: hall.yaml
name: plain
form: custom
focus: [{name: stage, polygon: [[8, 17], [12, 17], [12, 19], [8, 19]], z: 0}]
blocks:
  - {name: Bank, stands_on: floor, seat_width: 0.5, row_depth: 0.9, riser: 0.4,
     straight: {front: [10, 14], facing_deg: 0, rows: 10, seats: 40}}
passages:
  - {name: P1, polygon: [[9, 0], [11, 0], [11, 14.45], [9, 14.45]], headroom: 2.2}
"""
CHAIR = """  - {name: Chair, stands_on: floor, seat_width: 0.9, row_depth: 1.4, pattern: [wheelchair],
     straight: {front: [10, 16.5], facing_deg: 0, rows: 1, seats: 1}}
"""
OUT = ("headroom: 2.2", "headroom: 2.2, leads_out: yes, mouth_deg: 0")
NO_DOOR = ("height: 2.2, sill: 0, buildup: leaf", "height: 2.2, sill: 0, buildup: leaf, exit: never")


class Passages(rough.RoughTest):
    venue_text, layout_text = VENUE, LAYOUT

    def rows(self, notes="", **changes):
        """{row: how many seats}"""
        self.fit(notes=notes, **changes)
        code, _, err = self.run_here("assess", "plain.yaml", "--out", "out", "--quiet", "--no-maps", "--samples", "1024")
        self.assertEqual((code, err), (0, notes))
        found = {}
        with open(os.path.join(self.path("out"), "seats.csv"), encoding="utf-8", newline="") as source:
            self.seat = {row["seat"]: row for row in csv.DictReader(source)}
        for row in self.seat.values():
            found[int(row["row"])] = found.get(int(row["row"]), 0) + 1
        return found

    # Four seats of 0.5 m lie over 2 m. Row 7 stands 2.4 m up.
    def test_seats_stay_where_the_headroom_is(self):
        self.assertEqual(self.rows(status=1), {row: 36 if row < 7 else 40 for row in range(1, 11)})
        lower = [("headroom: 2.2", "headroom: 2, cover: 0.4")]
        self.assertEqual(self.rows(status=1, layout=lower), {row: 36 if row < 7 else 40 for row in range(1, 11)})
        higher = [("headroom: 2.2", "headroom: 2.2, cover: 0.25")]
        self.assertEqual(self.rows(status=1, layout=higher), {row: 36 if row < 8 else 40 for row in range(1, 11)})

    # The sides in the bank are edges where the tread beside them is more than 0.6 m up: rows 3 to 6, whose treads
    # run from y = 9.05 to 12.65, at both sides; and row 7's front edge over the passage, 2.4 m up, y = 9.05.
    def test_its_edges(self):
        found = self.fit(status=1)
        sides = [e for e in found["open_edges"] if e["of"] == "passage"]
        self.assertAlmostEqual(sum(e["length_m"] for e in sides), 2 * 3.6, delta=0.11)
        self.assertAlmostEqual(max(e["drop_m"] for e in sides), 2.0)
        self.assertEqual({(e["from_x_m"], e["to_x_m"]) for e in sides}, {(9, 9), (11, 11)})
        over = [e for e in found["open_edges"] if e["of"] == "platform" and e["drop_m"] > 2.3 and e["from_y_m"] > 9]
        self.assertEqual([(e["length_m"], e["from_y_m"], e["to_y_m"]) for e in over], [(2, 9.05, 9.05)])

    # The way out of a place before the bank goes through it to the door, 16.5 m and straight; without it, nobody
    # passes the bank, which reaches from wall to wall.
    def test_the_way_through(self):
        chair = [("passages", CHAIR + "passages")]
        (way,) = [w for w in self.fit(status=1, layout=chair)["routes"] if w["wheelchair"]]
        self.assertEqual((way["way"], way["exit"]), ("out", "D1"))
        self.assertAlmostEqual(way["length_m"], 16.5, delta=0.15)
        self.assertAlmostEqual(way["width_m"], 2, delta=0.03)
        shut = [("passages", CHAIR + "passages"), ("[11, 14.45], [9, 14.45]", "[11, 8], [9, 8]")]
        (way,) = [w for w in self.fit(status=1, layout=shut)["routes"] if w["wheelchair"]]
        self.assertEqual(way["way"], "none")

    # One that leads out is an exit at its mouth, y = 14.45: 2.05 m from the place, 1.2 m wide where that is stated.
    def test_one_that_leads_out(self):
        chair = [("passages", CHAIR + "passages"), OUT]
        found = self.fit(status=1, layout=chair, venue=[NO_DOOR])
        self.assertAlmostEqual(found["exit_width_m"], 2, delta=1e-6)
        (way,) = [w for w in found["routes"] if w["wheelchair"]]
        self.assertEqual((way["way"], way["exit"]), ("out", "P1"))
        self.assertAlmostEqual(way["length_m"], 2.05, delta=0.1)
        narrow = [chair[0], (OUT[0], OUT[1] + ", exit_width: 1.2")]
        self.assertAlmostEqual(self.fit(status=1, layout=narrow, venue=[NO_DOOR])["exit_width_m"], 1.2)
        # a row across its mouth shuts it
        row = "  - {name: Row, stands_on: floor, seat_width: 0.5, row_depth: 0.9, straight: {front: [10, 15], facing_deg: 0, rows: 1, seats: 8}}\n"
        found = self.fit(status=1, layout=[("passages", row + "passages"), OUT], venue=[NO_DOOR])
        self.assertEqual([e["name"] for e in found["blocked_exits"]], ["P1"])

    def test_it_needs_its_mouth(self):
        with self.assertRaises(AssertionError):
            self.fit(layout=[("headroom: 2.2", "headroom: 2.2, leads_out: yes")])
        code, _, err = self.run_here("check", "plain.yaml")
        self.assertEqual(code, 2)
        self.assertIn("leads_out: needs the side at which one enters it; give mouth_deg", err)

    # From the floor before the mouth one looks through it: a rod that stands at y = 3 in the passage would be hidden
    # by the platforms else. Row 7 and those behind leave 2.2 m open over it, so a focus in it is seen whole.
    def test_one_sees_through_it(self):
        look = [("[[8, 17], [12, 17], [12, 19], [8, 19]]", "[[9.9, 1], [10.1, 1], [10.1, 2], [9.9, 2]]"),
                ("passages", "  - {name: Low, stands_on: floor, seat_width: 0.5, row_depth: 0.9, straight: {front: [10, 16], facing_deg: 180, rows: 1, seats: 1}}\npassages")]
        back = ("gradin: note: plain.yaml:8:5: blocks[1]: Bank has its back to the focus: all of it lies more than 90 deg "
                "off the facing of each of its seats\n")
        self.rows(status=1, layout=look, notes=back)
        self.assertEqual(self.seat["Low-1-1"]["visible_pct"], "100.0")
        self.rows(status=1, layout=look + [("[11, 14.45], [9, 14.45]", "[11, 8], [9, 8]")], notes=back)
        self.assertEqual(self.seat["Low-1-1"]["visible_pct"], "0.0")

    # A balcony on a slab over the passage keeps its seats.
    def test_a_slab_over_it_stays(self):
        found = self.rows(status=1, layout=[("passages", """  - {name: Up, level: balcony, stands_on: floor, base: 6, seat_width: 0.5, row_depth: 0.9,
     straight: {front: [10, 3], facing_deg: 0, rows: 1, seats: 8}}
solids: [{name: deck, kind: slab, polygon: [[7, 2], [13, 2], [13, 4], [7, 4]], bottom: 5.7, top: 6}]
passages""")])
        self.assertEqual(sum(1 for s in self.seat if s.startswith("Up")), 8)
        self.assertEqual(found[10], 40)

    # Where two cross, each keeps its own height: 3 m and 0.2 m of cover leave row 9, 3.2 m up, and row 10.
    def test_both_count_where_they_cross(self):
        other = "  - {name: P2, polygon: [[9, 0], [11, 0], [11, 14.45], [9, 14.45]], headroom: 3}\n"
        wanted = {row: 36 if row < 9 else 40 for row in range(1, 11)}
        self.assertEqual(self.rows(status=1, layout=[("headroom: 2.2}\n", "headroom: 2.2}\n" + other)]), wanted)
        self.assertEqual(self.rows(status=1, layout=[("passages:\n", "passages:\n" + other)]), wanted)

    def refused(self, message, **changes):
        self.write(**changes)
        code, out, err = self.run_here("check", "plain.yaml")
        self.assertEqual((code, out), (2, ""), err)
        self.assertIn(message, err)

    def test_where_it_cannot_be(self):
        self.refused("passage P1 reaches outside the room's footprint", layout=[("polygon: [[9, 0], [11, 0]", "polygon: [[9, -0.5], [11, -0.5]")])
        floor = "local_rules:", "floors: [{name: step, polygon: [[0, 0], [20, 0], [20, 2], [0, 2]], z: 0.3}]\n  local_rules:"
        base = "row_depth: 0.9, riser", "row_depth: 0.9, base: 0.001, riser"
        self.refused("passage P1 lies over floors at 0.30 and at 0.00 m", venue=[floor], layout=[base])

    def test_turned_mirrored_and_in_feet(self):
        def drawn(turn_deg, mirror, unit_m):
            at, shape, units = rough.drawing(turn_deg, mirror, unit_m)
            start = (9, 0) if mirror == 1 else (11, 0)
            venue = [units, ("[[0, 0], [20, 0], [20, 20], [0, 20]]", shape((0, 0), (20, 0), (20, 20), (0, 20))),
                     ("ceiling: 9", f"ceiling: {9 / unit_m}"), ("0.8, guard_drop: 0.6", f"{0.8 / unit_m}, guard_drop: {0.6 / unit_m}"),
                     ("start: [9, 0], bearing_deg: 90, width: 2, height: 2.2",
                      f"start: {at(*start)}, bearing_deg: {(90 + turn_deg) % 360}, width: {2 / unit_m}, height: {2.2 / unit_m}")]
            layout = [units, ("[[8, 17], [12, 17], [12, 19], [8, 19]]", shape((8, 17), (12, 17), (12, 19), (8, 19))),
                      ("0.5, row_depth: 0.9, riser: 0.4", f"{0.5 / unit_m}, row_depth: {0.9 / unit_m}, riser: {0.4 / unit_m}"),
                      ("[10, 14], facing_deg: 0", f"{at(10, 14)}, facing_deg: {turn_deg}"),
                      ("[[9, 0], [11, 0], [11, 14.45], [9, 14.45]], headroom: 2.2",
                       shape((9, 0), (11, 0), (11, 14.45), (9, 14.45)) + f", headroom: {2.2 / unit_m}, leads_out: yes, mouth_deg: {turn_deg}")]
            return venue, layout

        results = []
        for turn_deg, mirror, unit_m in ((0, 1, 1), (37, 1, 1), (37, -1, 0.3048)):
            venue, layout = drawn(turn_deg, mirror, unit_m)
            found = self.fit(status=1, venue=venue, layout=layout)
            results.append((sorted((e["of"], e["length_m"], e["drop_m"]) for e in found["open_edges"]), found["exit_width_m"]))
        for other in results[1:]:
            self.assertEqual(len(other[0]), len(results[0][0]))
            for one, same in zip(results[0][0], other[0]):
                self.assertEqual(one[0], same[0])
                self.assertAlmostEqual(one[1], same[1], delta=0.11)
                self.assertAlmostEqual(one[2], same[2], delta=0.002)
            self.assertAlmostEqual(other[1], results[0][1], delta=0.01)


if __name__ == "__main__":
    unittest.main()
