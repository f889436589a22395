#!/usr/bin/python3
"""Rails of galleries and platforms in a changeover: they stand as long as anybody works on the
seats behind them, and a rail of another kind is another rail. The order is common practice, no
source; the local code and the crew's own procedure decide."""

import json
import os
import re

import hall
from hall import plain

VENUE = """format: gradin-venue-1
units: m
name: Gallery hall (invented)
room:
  footprint: [[0, 0], [20, 0], [20, 30], [0, 30]]
  ceiling: 12
  absorption: {floor: ALPHA, ceiling: ALPHA, walls: ALPHA, seating: ALPHA}
  local_rules: {rail_min: 0.8}
facade:
  buildups: [{name: pane, measured: pane.csv}]
  glazing: [{name: W, start: [0, 14], bearing_deg: 0, count: 1, width: 2, height: 2, sill: 1,
             buildup: pane}]
machines:
  crew:
    people: 12
    power_kw: 10
    rail_m_person_hour: 15
    rail_crew: 4
    seating:
      - {name: chair, kind: loose, set_seats_person_hour: 30, strike_seats_person_hour: 45, crew: 4,
         seat_kg: 6}
"""
LAYOUT = """format: gradin-layout-1
units: m
name: LAYOUT
venue: hall.yaml
form: end_stage
focus: [{name: stage, polygon: [[5, 25], [15, 25], [15, 29], [5, 29]], z: 1}]
solids: [{name: gallery, kind: slab, polygon: [[2, 2], [18, 2], [18, 9], [2, 9]], bottom: 3.7,
          top: 4}]
blocks:
  - {name: Stalls, stands_on: floor, seat_width: 0.55, row_depth: 0.9,
     straight: {front: [10, 20], facing_deg: 0, rows: 2, seats: 4}}
"""
GALLERY = """  - {name: Upper, stands_on: floor, base: 4, riser: 0.3, seat_width: 0.55, row_depth: 0.9,
     straight: {front: [10, 5.5], facing_deg: 0, rows: 3, seats: 20}}
rails: [{name: edge rail, KIND, thickness: 0.04, path: [[2, 8.9], [18, 8.9]], height: 1.1, foot: 4}]
"""
PLATFORM = """  - {name: Upper, stands_on: floor, base: 1.3, riser: 0.3, seat_width: 0.55, row_depth: 0.9,
     straight: {front: [10, 15], facing_deg: 0, rows: 3, seats: 20}}
rails: [{name: edge rail, KIND, thickness: 0.04, path: [[4, 15.5], [16, 15.5]], height: 1.1,
         foot: 1}]
"""
BARS = "kind: bar, bars: 3"


class Guards(hall.HallTest):
    def setUp(self):
        super().setUp()
        with open(self.path("hall.yaml"), "w", encoding="utf-8") as out:
            out.write(VENUE.replace("ALPHA", "[0.2, 0.2, 0.2, 0.2, 0.2, 0.2]"))

    def write(self, name, more=""):
        with open(self.path(f"{name}.yaml"), "w", encoding="utf-8") as out:
            out.write(LAYOUT.replace("LAYOUT", name) + more)

    def plan(self, before, after):
        code, out, err = self.run_here("changeover", f"{before}.yaml", f"{after}.yaml", "--out",
                                       "out", "--quiet")
        self.assertEqual((code, out, err), (0, "", ""))
        with open(os.path.join(self.path("out"), "changeover.json"), encoding="utf-8") as source:
            return json.load(source)["moves"]

    def span(self, moves, name):
        found = [move for move in moves if move["name"].startswith(name)]
        self.assertTrue(found, moves)
        return (min(move["start_s"] for move in found), max(move["start_s"] + move["duration_s"]
                                                          for move in found))

    def check_guarded(self, seats):
        self.write("empty")
        self.write("full", seats.replace("KIND", BARS))
        moves = self.plan("full", "empty")
        self.assertGreaterEqual(self.span(moves, "edge rail")[0], self.span(moves, "Upper")[1])
        moves = self.plan("empty", "full")
        self.assertGreaterEqual(self.span(moves, "Upper")[0], self.span(moves, "edge rail")[1])

    def test_a_gallerys_rail_outlasts_its_seats(self):
        self.check_guarded(GALLERY)

    def test_a_platforms_rail_outlasts_its_seats(self):
        self.check_guarded(PLATFORM)

    def test_a_rail_far_off_waits_for_nobody(self):
        self.write("empty")
        self.write("full", GALLERY.replace("KIND", BARS).replace("8.9]", "12.5]")
                   .replace("foot: 4", "foot: 0"))
        moves = self.plan("full", "empty")
        self.assertEqual(self.span(moves, "edge rail")[0], 0)

    def waits(self, rail, foot, seats=PLATFORM):
        """Whether a rail at y = rail, its foot at `foot`, stays until the seats are struck."""
        seats = seats.replace("KIND", BARS).replace("15.5]", f"{rail}]").replace("8.9]", f"{rail}]")
        self.write("empty")
        self.write("full", re.sub(r"foot: \d", f"foot: {foot}", seats))
        moves = self.plan("full", "empty")
        return self.span(moves, "edge rail")[0] >= self.span(moves, "Upper")[1]

    # Common practice, no source: two rows and the way to them, 2.5 m, about a level, 1 m. The front
    # row sits at y 15 and 1.3 m.
    def test_near_is_two_and_a_half_metres_on_a_level(self):
        self.assertEqual([self.waits(y, 1) for y in (17.45, 17.55)], [True, False])
        self.assertEqual([self.waits(15.5, foot) for foot in (0.35, 0.25)], [True, False])

    # At a slab's edge (y 9, top at 4 m): within 0.3 m of it and a riser, 0.35 m, of its height. The
    # rows sit at y 3.7 to 5.5, farther from it than 2.5 m.
    def test_a_slab_is_shared_from_its_edge(self):
        self.assertEqual([self.waits(y, 4, GALLERY) for y in (9.25, 9.35)], [True, False])
        self.assertEqual([self.waits(8.9, foot, GALLERY) for foot in (3.66, 3.64, 4.34, 4.36)],
                         [True, False, True, False])

    def test_a_rail_of_another_kind_is_another_rail(self):
        self.write("bars", GALLERY.replace("KIND", BARS))
        for kind in ("kind: solid, bars: 3", "kind: bar, bars: 4", "kind: posts, bars: 3"):
            self.write("other", GALLERY.replace("KIND", kind))
            struck, stands = self.plan("bars", "other")
            self.assertEqual((struck["name"], stands["name"]), ("edge rail", "edge rail"))
            self.assertGreaterEqual(stands["start_s"], struck["start_s"] + struck["duration_s"])
        self.assertEqual(self.plan("bars", "bars"), [])


if __name__ == "__main__":
    plain.main()
