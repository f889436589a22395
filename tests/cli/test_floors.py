#!/usr/bin/python3
"""A hall whose fixed floor slopes: what stands on it, what it hides, its edges, and what wheelchairs take. Every
figure is told by hand from the drawing."""

import csv
import json
import math
import os
import unittest

import rough

ALPHA = "[0.2, 0.2, 0.2, 0.2, 0.2, 0.2]"
# From 0 at y = 12 up to 1.2 m at y = 0: a tenth. East of x = 14 the floor is at 0.
VENUE = """format: gradin-venue-1
units: m
name: Raked room (invented)
room:
  footprint: [[0, 0], [20, 0], [20, 24], [0, 24]]
  ceiling: 9
  absorption: {floor: ALPHA, ceiling: ALPHA, walls: ALPHA, seating: ALPHA}
  local_rules: {rail_min: 0.8, guard_drop: 0.6}
  floors:
    - {name: rake, polygon: [[0, 0], [14, 0], [14, 12], [0, 12]], z: [1.2, 1.2, 0, 0]}
facade:
  buildups: [{name: leaf, layers: [{plate_mm: 44, density_kgm3: 700, young_gpa: 3, poisson: 0.3, loss: 0.05}]}]
  doors: [{name: D1, start: [2, 24], bearing_deg: 90, width: 2, height: 2.2, sill: 0, buildup: leaf}]
""".replace("ALPHA", ALPHA)
LAYOUT = """format: gradin-layout-1
units: m
venue: hall.yaml
name: plain
form: custom
focus: [{name: stage, polygon: [[9.9, 14], [10.1, 14], [10.1, 18], [9.9, 18]], z: 0}]
blocks:
  - {name: Seat, stands_on: floor, seat_width: 0.5, row_depth: 0.9, straight: {front: [10, 8], facing_deg: 0, rows: 1, seats: 1}}
audience: {eye_height: 1.2}
"""
ROWS = ("front: [10, 8], facing_deg: 0, rows: 1, seats: 1", "front: [7, 11], facing_deg: 0, rows: 6, seats: 9")
CHAIR = """  - {name: Chair, stands_on: floor, seat_width: 0.9, row_depth: 1.4, pattern: [wheelchair],
     straight: {front: [2, 6], facing_deg: 0, rows: 1, seats: 1}}
"""


class Floors(rough.RoughTest):
    venue_text, layout_text = VENUE, LAYOUT

    def seats(self, *given, samples="16384", **changes):
        self.write(*given, **changes)
        code, _, err = self.run_here("assess", "plain.yaml", "--out", "out", "--quiet", "--samples", samples)
        self.assertEqual((code, err), (0, ""))
        with open(os.path.join(self.path("out"), "seats.csv"), encoding="utf-8", newline="") as source:
            return {row["seat"]: row for row in csv.DictReader(source)}

    def refused(self, message, **changes):
        self.write(**changes)
        code, _, err = self.run_here("check", "plain.yaml")
        self.assertEqual(code, 2)
        self.assertIn(message, err)

    # Row k stands 0.1 (12 - 11 + 0.9 (k - 1)) up; a wheelchair likewise, at y = 6.
    def test_places_take_its_height(self):
        found = self.seats(layout=[ROWS, ("audience", CHAIR + "audience")])
        for row in range(1, 7):
            self.assertAlmostEqual(float(found[f"Seat-{row}-1"]["floor_z_m"]), 0.1 * (1 + 0.9 * (row - 1)), delta=6e-4)
        self.assertAlmostEqual(float(found["Chair-1-1"]["floor_z_m"]), 0.6)

    # An open panel takes the seats over it, but not those on a slab with its top 2 m and more over the floor there.
    def test_a_slab_carries_over_an_open_panel(self):
        panel = ("facade:\n", """machines:
  panels: [{name: V, polygon: [[9, 14], [11, 14], [11, 16], [9, 16]], move_s: 60, drive: {crew: 1, mass_kg: 100}}]
facade:
""")
        high = ("  floors:\n", "  floors:\n    - {name: high, polygon: [[0, 12], [20, 12], [20, 20], [0, 20]], z: 1}\n")
        low = (high[0], high[1].replace("z: 1", "z: -2"))
        for floor, top_m, n in ((None, 1.5, 0), (None, 2.5, 8), (high, 2.5, 0), (high, 3.5, 8), (low, 0.5, 8)):
            for above_m in (0, 0.25):  # on the slab, and on a platform over it
                layout = [("[[9.9, 14], [10.1, 14], [10.1, 18], [9.9, 18]]", "[[9.9, 21], [10.1, 21], [10.1, 23], [9.9, 23]]"),
                          ("audience", f"""  - {{name: Up, stands_on: floor, base: {top_m + above_m}, seat_width: 0.5, row_depth: 0.9, straight: {{front: [10, 15], facing_deg: 0, rows: 2, seats: 4}}}}
solids: [{{name: deck, kind: slab, polygon: [[8, 13], [12, 13], [12, 17], [8, 17]], bottom: {top_m - 0.3}, top: {top_m}}}]
machines: {{panels: [{{name: V, open: yes}}]}}
audience""")]
                found = self.seats(samples="16", venue=[panel] + [x for x in (floor,) if x], layout=layout)
                self.assertEqual(sum(seat.startswith("Up") for seat in found), n, f"{floor} {top_m} {above_m}")

    # The same eyes as rows on a slope of their own over a level floor: C alike to the last digit.
    def test_c_is_that_of_rows_on_a_slope(self):
        level = [("z: [1.2, 1.2, 0, 0]", "z: 0")]
        own = [("row_depth: 0.9,", "row_depth: 0.9, slope: 0.1, base: 0.1,")]
        on_rake, by_slope = self.seats(layout=[ROWS]), self.seats(layout=[ROWS] + own, venue=level)
        self.assertEqual([row["c_mm"] for row in on_rake.values()],
                         [row["c_mm"] for row in by_slope.values()])
        self.assertNotEqual(on_rake["Seat-4-3"]["c_mm"], "")

    # A plane by its lowest height, slope and bearing is the same floor; so is one that runs the other way round.
    def test_both_ways_to_state_a_plane(self):
        figures = self.seats(layout=[ROWS])
        for z in ("z: 0, slope: 0.1, uphill_deg: 180",):
            self.assertEqual(self.seats(layout=[ROWS], venue=[("z: [1.2, 1.2, 0, 0]", z)]), figures)
        back = [("[[0, 0], [14, 0], [14, 12], [0, 12]], z: [1.2, 1.2, 0, 0]",
                 "[[0, 12], [14, 12], [14, 0], [0, 0]], z: [0, 0, 1.2, 1.2]")]
        self.assertEqual(self.seats(layout=[ROWS], venue=back), figures)

    # A block with risers begins on the floor under its first row and does not follow it.
    def test_risers_begin_on_it(self):
        found = self.seats(layout=[ROWS, ("row_depth: 0.9,", "row_depth: 0.9, riser: 0.2,")])
        self.assertEqual([float(found[f"Seat-{row}-1"]["floor_z_m"]) for row in (1, 2, 6)], [0.1, 0.3, 1.1])

    # A base is a height in the hall; below the floor that is there, it is refused.
    def test_a_base_below_it_is_refused(self):
        self.refused("stands 0.40 m below the floor", layout=[("row_depth: 0.9,", "row_depth: 0.9, base: 0.000001,")])

    # Before the seat's eye at (10, 4), 1.2 m up, a floor rises from y = 8 to 0.5 m at y = 12 and ends there. The ray
    # over its edge falls by 0.7 m in 8 m and meets the stage's height at y = 4 + 1.2 * 8 / 0.7 = 17.714.
    def test_it_hides_where_it_rises_above_a_sightline(self):
        hump = "polygon: [[0, 8], [20, 8], [20, 12], [0, 12]], z: [0, 0, 0.5, 0.5]"
        found = self.seats(layout=[("[10, 8]", "[10, 4]")],
                           venue=[("polygon: [[0, 0], [14, 0], [14, 12], [0, 12]], z: [1.2, 1.2, 0, 0]", hump)])
        seat = found["Seat-1-1"]
        hidden = (4 + 1.2 * 8 / 0.7 - 14) / 4
        self.assertAlmostEqual(float(seat["hidden_structure_pct"]), 100 * hidden, delta=0.3)
        self.assertEqual(seat["worst_occluder"], "rake")

    # A solid rail without a foot at y = 10 stands 0.2 m up, its top at 1.2 m; the eye at (10, 8) is at 1.6 m. Over
    # the panel's far edge, y = 10.025, the ray meets z = 0 at y = 8 + 1.6 * 2.025 / 0.4 = 16.1.
    def test_rails_stand_on_it(self):
        rail = "rails: [{name: panel, kind: solid, height: 1, path: [[1, 10], [13, 10]]}]\n"
        found = self.seats(rail)
        self.assertAlmostEqual(float(found["Seat-1-1"]["hidden_rails_pct"]), 100 * (16.1 - 14) / 4, delta=0.3)

    # A focus without a height lies on the slope and is seen whole, from a place on the same slope.
    def test_a_focus_lies_on_it(self):
        found = self.seats(layout=[("[[9.9, 14], [10.1, 14], [10.1, 18], [9.9, 18]], z: 0",
                                    "[[9, 9], [11, 9], [11, 11], [9, 11]]"), ("[10, 8]", "[10, 4]")])
        self.assertEqual((found["Seat-1-1"]["visible_pct"], found["Seat-1-1"]["hidden_structure_pct"]), ("100.0", "0.0"))
        self.refused("lies over surfaces of several heights",
                     layout=[("[[9.9, 14], [10.1, 14], [10.1, 18], [9.9, 18]], z: 0",
                              "[[9, 9], [11, 9], [11, 13], [9, 13]]")])

    # Corners and middle lie at 0; a pit beside the middle does not.
    def test_a_focus_over_a_pit_beside_its_middle_wants_a_height(self):
        pit = "rake, polygon: [[8.2, 14.5], [8.8, 14.5], [8.8, 15.2], [8.2, 15.2]], z: -1"
        rake = "rake, polygon: [[0, 0], [14, 0], [14, 12], [0, 12]], z: [1.2, 1.2, 0, 0]"
        whole = ("[[9.9, 14], [10.1, 14], [10.1, 18], [9.9, 18]], z: 0", "[[8, 14], [12, 14], [12, 18], [8, 18]]")
        self.refused("lies over surfaces of several heights", layout=[whole], venue=[(rake, pit)])
        beside = (whole[0], "[[8.8, 14], [12, 14], [12, 18], [8.8, 18]]")  # its edge is the focus' own
        self.assertEqual(set(self.seats(layout=[beside], venue=[(rake, pit)], samples="256")), {"Seat-1-1"})

    # Its east side, at x = 14, is open where it is more than 0.6 m up: from y = 0 to 6.
    def test_its_edge_is_open_where_it_is_high(self):
        (edge,) = self.fit()["open_edges"]
        self.assertEqual((edge["at"], edge["of"]), ("rake", "floor"))
        self.assertEqual(sorted((edge["from_y_m"], edge["to_y_m"])), [0, 6])
        self.assertEqual((edge["from_x_m"], edge["to_x_m"], edge["length_m"]), (14, 14, 6))
        self.assertAlmostEqual(edge["drop_m"], 1.195)  # of the highest piece of 0.1 m, in its middle
        rail = "rails: [{name: guard, kind: bar, height: 1, path: [[14, 0], [14, 6]]}]\n"
        self.assertEqual(self.fit(rail)["open_edges"], [])

    def test_two_floors_that_meet_have_no_edge_and_one_that_steps_has(self):
        more = "    - {name: east, polygon: [[14, 0], [20, 0], [20, 12], [14, 12]], z: 1.2, slope: 0, uphill_deg: 0}\n"
        more = more.replace(", slope: 0, uphill_deg: 0", "")
        edges = self.fit(venue=[("facade:", more + "facade:")])["open_edges"]
        # the east part, level at 1.2 m: along x = 14 where the rake lies 0.6 m lower, y > 6, and along y = 12
        self.assertEqual({e["at"] for e in edges}, {"east"})
        self.assertAlmostEqual(sum(e["length_m"] for e in edges), 6 + 6, delta=0.11)
        alike = more.replace("z: 1.2}", "z: [1.2, 1.2, 0, 0]}")
        self.assertEqual(self.fit(venue=[("facade:", alike + "facade:")])["open_edges"], [])

    # 0.1 is steeper than 1:12, where no rule is stated: no way. A rule of a tenth lets the chair out: from (2, 6) to
    # the near end of the door, half a body of 0.9144 m off it, 18 m on and 0.457 m aside.
    def test_wheelchairs(self):
        chair = [("audience", CHAIR + "audience")]
        found = self.fit(layout=chair, status=1)
        self.assertEqual([w["way"] for w in found["routes"] if w["wheelchair"]], ["none"])
        self.assertEqual((found["steep_wheelchair_places"], found["steepest_wheelchair_place_pct"]), (None, 10))
        rule = ("guard_drop: 0.6", "guard_drop: 0.6, wheelchair_way_slope_max: 0.1")
        found = self.fit(layout=chair, venue=[rule])
        (way,) = [w for w in found["routes"] if w["wheelchair"]]
        self.assertEqual((way["way"], way["exit"]), ("out", "D1"))
        self.assertAlmostEqual(way["length_m"], math.hypot(18, 0.457), delta=0.2)
        level = [rule, (rule[1], rule[1] + ", wheelchair_place_slope_max: 0.021")]
        found = self.fit(layout=chair, venue=level, status=1)
        self.assertEqual(found["steep_wheelchair_places"], 1)
        # on a platform of its own it stands level
        found = self.fit(layout=[("audience", CHAIR.replace("row_depth: 1.4,", "row_depth: 1.4, base: 0.7,") + "audience")],
                         venue=level, status=1)
        self.assertEqual((found["steep_wheelchair_places"], found["steepest_wheelchair_place_pct"]), (0, 0))

    # A lip of 30 mm at the foot of a ramp is a step, though the ramp itself is none.
    def test_a_lip_at_the_foot_of_a_ramp_is_a_step(self):
        chair = [("audience", CHAIR + "audience")]
        rule = ("guard_drop: 0.6", "guard_drop: 0.6, wheelchair_way_slope_max: 0.1")
        whole = ("[14, 0], [14, 12]", "[20, 0], [20, 12]")
        lip = ("z: [1.2, 1.2, 0, 0]", "z: [1.23, 1.23, 0.03, 0.03]")
        self.fit(layout=chair, venue=[rule, whole])
        found = self.fit(layout=chair, venue=[rule, whole, lip], status=1)
        self.assertEqual([w["way"] for w in found["routes"] if w["wheelchair"]], ["none"])

    def test_refusals(self):
        region = "    - {name: other, polygon: [[10, 10], [20, 10], [20, 14], [10, 14]], z: 0.2}\n"
        self.refused("hall.yaml:11:7: room.floors[2]: floor other overlaps floor rake", venue=[("facade:", region + "facade:")])
        self.refused("floor rake is no plane: corner", venue=[("z: [1.2, 1.2, 0, 0]", "z: [1.2, 1.2, 0.1, 0]")])
        self.refused("floor rake reaches outside the room's footprint", venue=[("[14, 0], [14, 12]", "[21, 0], [21, 12]")])
        self.refused("floor rake rises by 0.60 per unit of length", venue=[("1.2, 1.2, 0, 0", "7.2, 7.2, 0, 0")])
        self.refused("z: has 3 heights; its outline has 4 corners", venue=[("1.2, 1.2, 0, 0", "1.2, 1.2, 0")])
        self.refused("slope: goes with one z", venue=[("1.2, 1.2, 0, 0]", "1.2, 1.2, 0, 0], slope: 0.1, uphill_deg: 0")])
        lifts = ("facade:", "machines:\n  lifts:\n    - {name: F, origin: [2, 2], columns: 1, rows: 1, size: [3, 3], "
                 "travel: [-1, 1], speed_ms: 0.1}\nfacade:")
        self.refused("floor rake overlaps lift F-A1", venue=[lifts])

    # A place half over the step at x = 14, and one over the hinge at y = 12, where floors meet.
    def test_over_a_step_and_over_a_hinge(self):
        self.refused("stands over an edge between two heights", layout=[("[10, 8]", "[14, 6]")])
        self.write(layout=[("[10, 8]", "[10, 12]")])
        self.assertEqual(self.run_here("check", "plain.yaml")[0], 0)

    def test_turned_mirrored_and_in_feet(self):
        def drawn(turn_deg, mirror, unit_m):
            at, shape, units = rough.drawing(turn_deg, mirror, unit_m)
            room = ((0, 0), (20, 0), (20, 24), (0, 24))
            venue = [units, ("[[0, 0], [20, 0], [20, 24], [0, 24]]", shape(*room)),
                     ("[[0, 0], [14, 0], [14, 12], [0, 12]], z: [1.2, 1.2, 0, 0]",
                      shape((0, 0), (14, 0), (14, 12), (0, 12)) + f", z: {[z / unit_m for z in (1.2, 1.2, 0, 0)]}"),
                     ("ceiling: 9", f"ceiling: {9 / unit_m}"),
                     ("0.8, guard_drop: 0.6", f"{0.8 / unit_m}, guard_drop: {0.6 / unit_m}"),
                     ("start: [2, 24], bearing_deg: 90, width: 2, height: 2.2",
                      f"start: {at(2, 24)}, bearing_deg: {(mirror * 90 + turn_deg) % 360}, width: {2 / unit_m}, height: {2.2 / unit_m}")]
            # a row that is symmetric about its middle is its own mirror image, numbered from the other end
            layout = [units, ("[[9.9, 14], [10.1, 14], [10.1, 18], [9.9, 18]]", shape((9, 14), (12, 14), (12, 18), (9, 18))),
                      ("0.5, row_depth: 0.9", f"{0.5 / unit_m}, row_depth: {0.9 / unit_m}"), ("z: 0", f"z: {0.3 / unit_m}"),
                      (ROWS[0], f"front: {at(7, 11)}, facing_deg: {turn_deg}, rows: 6, seats: 9"),
                      ("eye_height: 1.2", f"eye_height: {1.2 / unit_m}")]
            return venue, layout

        figures, edges = [], []
        for turn_deg, mirror, unit_m in ((0, 1, 1), (37, 1, 1), (37, -1, 0.3048)):
            venue, layout = drawn(turn_deg, mirror, unit_m)
            found = self.seats(venue=venue, layout=layout, samples="1024")
            seats = [f"Seat-{row}-{seat if mirror == 1 else 10 - seat}" for row in range(1, 7) for seat in range(1, 10)]
            figures.append([(found[s]["visible_pct"], found[s]["c_mm"], found[s]["floor_z_m"]) for s in seats])
            fit = self.fit(venue=venue, layout=layout)
            edges.append(sorted((e["length_m"], e["drop_m"], e["high_m"]) for e in fit["open_edges"]))
        for other in figures[1:]:
            for one, same in zip(figures[0], other):
                self.assertAlmostEqual(float(one[0]), float(same[0]), delta=0.11)
                self.assertEqual(one[1:], same[1:])
        self.assertEqual(edges, [edges[0]] * 3)
        self.assertEqual(len(edges[0]), 1)


if __name__ == "__main__":
    unittest.main()
