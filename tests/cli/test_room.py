#!/usr/bin/python3
"""Radiosity in halls whose raised rows curve: seat-wide boxes, each turned a little, leave gaps that
close to nothing."""

import hall
from hall import plain

VENUE = """format: gradin-venue-1
units: m
name: Box (invented)
room:
  footprint: [[0, 0], [20, 0], [20, 30], [0, 30]]
  ceiling: 10
  absorption: {floor: ALPHA, ceiling: ALPHA, walls: ALPHA, seating: ALPHA}
  local_rules: {rail_min: 0.8}
facade:
  buildups: [{name: pane, measured: pane.csv}]
  glazing: [{name: W, start: [0, 14], bearing_deg: 0, count: 1, width: 2, height: 2, sill: 1,
             buildup: pane}]
"""
LAYOUT = """format: gradin-layout-1
units: m
name: Curved rows (invented)
venue: hall.yaml
form: end_stage
overflight: approach.yaml
focus: [{name: stage, polygon: [[5, 25], [15, 25], [15, 29], [5, 29]], z: 1}]
brief: {noise: {nc: 20}}
room_method: radiosity
room_patch: 3
blocks:
  - {name: C, stands_on: floor, seat_width: 0.55, row_depth: 0.9, riser: 0.15, ROWS}
"""
CURVED = "curved: {centre: [10, 25], radius: 8, from_deg: 150, to_deg: 210, rows: %d}"
STRAIGHT = "straight: {front: [10, 17], facing_deg: 0, rows: %d, seats: 18}"


class CurvedRows(hall.HallTest):
    def mean_lamax(self, rows):
        with open(self.path("hall.yaml"), "w", encoding="utf-8") as out:
            out.write(VENUE.replace("ALPHA", "[0.2, 0.2, 0.2, 0.2, 0.2, 0.2]"))
        with open(self.path("end_stage.yaml"), "w", encoding="utf-8") as out:
            out.write(LAYOUT.replace("ROWS", rows))
        self.assertEqual(self.run_here("assess", "end_stage.yaml", "--out", "out", "--no-maps",
                                       "--quiet"), (0, "", ""))
        return hall.Table(self.path("out")).mean("lamax_dba")

    def test_raised_curved_rows_sound_like_straight_ones(self):
        straight = self.mean_lamax(STRAIGHT % 4)
        self.assertAlmostEqual(self.mean_lamax(CURVED % 4), straight, delta=0.5)


if __name__ == "__main__":
    plain.main()
