#!/usr/bin/python3
"""A vomitory as a way out: a stair or a ramp under an open panel, in a hall with no door. Lengths, widths and
what wheelchairs take are told by hand from the drawing."""

import json
import math
import unittest

import rough

# The stair goes down at its north side, y = 4, x from 9 to 11.
VENUE = """format: gradin-venue-1
units: m
name: Sunk room (invented)
room:
  footprint: [[0, 0], [20, 0], [20, 20], [0, 20]]
  ceiling: 8
  absorption: {floor: ALPHA, ceiling: ALPHA, walls: ALPHA, seating: ALPHA}
  local_rules: {rail_min: 0.8, guard_drop: 0.6, exit_mm_person: 5}
machines:
  panels:
    - {name: V1, polygon: [[9, 1], [11, 1], [11, 4], [9, 4]], stair_top_deg: 0, leads_out: stairs}
""".replace("ALPHA", "[0.2, 0.2, 0.2, 0.2, 0.2, 0.2]")
LAYOUT = """format: gradin-layout-1
units: m
venue: hall.yaml
name: plain
form: custom
machines: {panels: [{name: V1, open: yes}]}
focus: [{name: stage, polygon: [[5, 15], [15, 15], [15, 19], [5, 19]], z: 0}]
blocks:
  - {name: Stalls, stands_on: floor, seat_width: 0.5, row_depth: 0.9,
     straight: {front: [10, 9.05], facing_deg: 180, rows: 1, seats: 2}}
"""
CHAIR = """  - {name: Chairs, stands_on: floor, seat_width: 0.9, row_depth: 1.4, pattern: [wheelchair],
     straight: {front: [5, 8.55], facing_deg: 180, rows: 1, seats: 1}}
"""


class WaysUnder(rough.RoughTest):
    venue_text, layout_text = VENUE, LAYOUT
    may_turn_back = True

    # The row's middle is at y = 9.05 and faces the stair: 5.05 m to the side of the stair, straight on.
    def test_a_stair_is_the_way_out(self):
        found = self.fit()
        self.assertEqual((found["exit_width_m"], found["blocked_exits"]), (2, []))
        (way,) = found["routes"]
        self.assertEqual((way["way"], way["exit"]), ("out", "V1"))
        self.assertAlmostEqual(way["length_m"], 5.05, delta=0.1)
        self.assertAlmostEqual(way["width_m"], 2.0, delta=0.02)

    def test_its_narrowest_place_counts(self):
        found = self.fit(venue=[("leads_out: stairs", "leads_out: stairs, exit_width: 1.2")])
        self.assertAlmostEqual(found["exit_width_m"], 1.2)
        self.assertAlmostEqual(found["routes"][0]["width_m"], 1.2, delta=0.02)

    def test_a_panel_that_leads_nowhere_or_is_shut_is_none(self):
        for venue, layout in (([("leads_out: stairs", "leads_out: nowhere")], []),
                              ([], [("open: yes", "open: no")])):
            found = self.fit(venue=venue, layout=layout, status=1)
            self.assertEqual(found["exit_width_m"], 0)

    # From (5, 8.55) to the side's near part, half a body of 0.9144 m from its end: (9.457, 4).
    def test_wheelchairs_take_a_ramp_and_no_stair(self):
        ways = [w for w in self.fit(CHAIR, status=1)["routes"] if w["wheelchair"]]
        self.assertEqual([w["way"] for w in ways], ["none"])
        found = self.fit(CHAIR, venue=[("leads_out: stairs", "leads_out: ramp")])
        (way,) = [w for w in found["routes"] if w["wheelchair"]]
        self.assertEqual((way["way"], way["exit"]), ("out", "V1"))
        self.assertAlmostEqual(way["length_m"], math.hypot(4.457, 4.55), delta=0.15)

    # A row across it, 0.4 m behind its side.
    def test_seats_before_it_shut_it(self):
        found = self.fit(layout=[("front: [10, 9.05]", "front: [10, 4.2]"), ("seats: 2", "seats: 8")], status=1)
        self.assertEqual([e["name"] for e in found["blocked_exits"]], ["V1"])
        self.assertEqual(found["exit_width_m"], 0)

    # A row askew to the stair, the hall turned clockwise by 37 degrees, mirrored, in feet.
    def test_figures_do_not_depend_on_how_the_hall_is_drawn(self):
        def drawn(turn_deg, mirror, unit_m):
            at, shape, units = rough.drawing(turn_deg, mirror, unit_m)

            def bearing(deg):
                return (mirror * deg + turn_deg) % 360

            venue = VENUE.replace("[[0, 0], [20, 0], [20, 20], [0, 20]]", shape((0, 0), (20, 0), (20, 20), (0, 20)))
            venue = venue.replace("[[9, 1], [11, 1], [11, 4], [9, 4]]", shape((9, 1), (11, 1), (11, 4), (9, 4)))
            venue = venue.replace("stair_top_deg: 0", f"stair_top_deg: {bearing(0)}, exit_width: {1.2 / unit_m}")
            venue = venue.replace("ceiling: 8", f"ceiling: {8 / unit_m}").replace("0.8, guard_drop: 0.6",
                                                                                 f"{0.8 / unit_m}, guard_drop: {0.6 / unit_m}")
            layout = LAYOUT.replace("[[5, 15], [15, 15], [15, 19], [5, 19]]", shape((5, 15), (15, 15), (15, 19), (5, 19)))
            layout = layout.replace("[10, 9.05], facing_deg: 180", f"{at(5, 11)}, facing_deg: {bearing(150)}")
            layout = layout.replace("0.5, row_depth: 0.9", f"{0.5 / unit_m}, row_depth: {0.9 / unit_m}")
            return venue.replace(*units), layout.replace(*units)

        ways = []
        for turn_deg, mirror, unit_m in ((0, 1, 1), (37, 1, 1), (0, -1, 1), (37, -1, 0.3048)):
            for name, text in zip(("hall.yaml", "plain.yaml"), drawn(turn_deg, mirror, unit_m)):
                with open(self.path(name), "w", encoding="utf-8") as out:
                    out.write(text)
            code, out, err = self.run_here("fit", "plain.yaml", "--json")
            self.assertEqual((code, err), (0, ""), out)
            ways.append(json.loads(out)["routes"][0])
        for way in ways:
            self.assertEqual((way["way"], way["exit"]), ("out", "V1"))
            self.assertAlmostEqual(way["length_m"], ways[0]["length_m"], delta=0.01 * ways[0]["length_m"])
            self.assertAlmostEqual(way["width_m"], 1.2, delta=0.02)

    # Turned about, the stair comes up at its south side, 1 m from the wall.
    def test_the_side_that_is_stated_counts(self):
        found = self.fit(venue=[("stair_top_deg: 0", "stair_top_deg: 180"), ("[9, 1], [11, 1]", "[9, 1.5], [11, 1.5]")])
        (way,) = found["routes"]
        # down beside it, at least half a body off its sides (a wall of none), and round its corner
        self.assertGreater(way["length_m"], 8.0)
        self.assertEqual(way["exit"], "V1")

    def test_a_way_out_needs_its_side(self):
        with open(self.path("hall.yaml"), "w", encoding="utf-8") as out:
            out.write(VENUE.replace("stair_top_deg: 0, ", ""))
        with open(self.path("plain.yaml"), "w", encoding="utf-8") as out:
            out.write(LAYOUT)
        code, _, err = self.run_here("check", "plain.yaml")
        self.assertEqual(code, 2)
        self.assertIn("leads_out: needs the side at which one enters it; give stair_top_deg", err)

    # Under a bank of four rows, 0.4 m up from row to row, from the second row's front on; a gap in the first row
    # leads to it. Row 1 walks there on the floor. Row 2 steps down 0.4 m at its far end and walks round row 1, for
    # at its near end is the stair, whose corner nobody passes; rows 3 and 4 stand 0.8 and 1.2 m up and have no
    # aisle.
    def test_a_vomitory_under_a_bank(self):
        found = self.fit("aisles: [{name: gap, polygon: [[9, 5.15], [11, 5.15], [11, 6.05], [9, 6.05]]}]\n",
                         venue=[("[11, 4], [9, 4]", "[11, 5.15], [9, 5.15]")], status=1,
                         layout=[("front: [10, 9.05], facing_deg: 180, rows: 1, seats: 2",
                                  "front: [10, 5.6], facing_deg: 0, rows: 4, seats: 20"),
                                 ("row_depth: 0.9", "row_depth: 0.9, riser: 0.4")])
        self.assertEqual((found["exit_width_m"], found["blocked_exits"]), (2, []))
        self.assertEqual(found["exit_width_m"], 2)
        # each row in two parts, left and right of the gap and of what is left out over the way
        self.assertEqual([w["way"] for w in found["routes"]], ["out"] * 4 + ["none"] * 4)
        self.assertEqual({w["exit"] for w in found["routes"] if w["way"] == "out"}, {"V1"})
        # along row 2 from its seat at the stair to the last one, 3.5 m, 0.7 m off its end, 1.8 m to the front of row
        # 1 and half a body past it, 4.9 m along it, 1.3 m in
        for way in found["routes"][2:4]:
            self.assertAlmostEqual(way["length_m"], 11.5, delta=1.0)
        self.assertEqual(found["dead_ends"], [])  # it leads to the stair


if __name__ == "__main__":
    unittest.main(verbosity=2)
