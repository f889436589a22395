"""What the tests of drafts share: random small venues and wishes of other grids, units and machines than the
demo's, and what every draft must keep."""

import csv
import json
import os
import random
import re
import tempfile
import unittest

import hall

FOOT_M = 0.3048
FORMS = ["end_stage", "thrust", "round", "traverse", "flat_floor"]

ROOM = """format: gradin-venue-1
units: {units}
name: Trial room (invented)
room:
  footprint: [[0, 0], [{width}, 0], [{width}, {depth}], [0, {depth}]]
  ceiling: {ceiling}
  absorption:
    floor: [0.1, 0.1, 0.1, 0.1, 0.1, 0.1]
    ceiling: [0.3, 0.3, 0.3, 0.3, 0.3, 0.3]
    walls: [0.2, 0.2, 0.2, 0.2, 0.2, 0.2]
    seating: [0.6, 0.7, 0.8, 0.9, 0.9, 0.8]
  local_rules: {{rail_min: {rail_min}, guard_drop: {guard_drop}, row_seats_one_aisle: {one},
                row_seats_two_aisles: {two}, exit_mm_person: {exit_mm}}}
facade:
  buildups: [{{name: leaf, layers: [{{glass_mm: 10}}]}}]
  doors:
    - {{name: door, start: [{door_x}, 0], bearing_deg: 90, width: {door}, height: {door_height},
       sill: 0, buildup: leaf, joint_r_db: 38}}
"""
LIFTS = """machines:
  lifts:
    - {{name: L, origin: [{x}, {y}], columns: {columns}, rows: {rows}, size: [{side}, {side}],
       travel: [{low}, {high}], steps_max: {steps}, riser: [0, {riser}],
       facings_deg: [0, 90, 180, 270], speed_ms: 0.05}}
"""
TOWER = """  towers:
    - name: T
      front: [{x}, {y}]
      facing_deg: 90
      width: 4.4
      depth: 2
      hoist: [0, 3]
      hoist_speed_ms: 0.005
      slide: {{bearing_deg: 90, range: [0, 1], speed_ms: 0.02}}
      levels:
        - {{name: low, deck: 1, thickness: 0.2, rows: 2, row_depth: 0.9, riser: 0.3,
           seat_width: 0.55, rail: {{kind: bar, height: 1.2}}}}
"""
WISHES = """format: gradin-wishes-1
units: {units}
venue: venue.yaml
name: Trial
form: {form}
axis_deg: {axis}
stage: {{width: {stage_width}, depth: {stage_depth}, height: {stage_height}, focus_inset: {inset}}}
c_value: {c}
seat_width: {seat}
row_depth: {row}
aisle_width: {aisle}
seats: {seats}
towers: {towers}
"""


def feet(figures, names):
    return {k: round(v / FOOT_M, 6) if k in names else v for k, v in figures.items()}


def trial(seed):
    """A random small venue and wishes, in metres: two dicts and whether it has a tower."""
    pick = random.Random(seed)
    side = pick.choice([1.8, 2.0, 2.7, 3.0])
    columns, rows = pick.randint(5, 7), pick.randint(5, 7)
    margin = pick.choice([3.0, 4.0])
    axis = pick.choice([0, 90, 180, 270])
    venue = {"units": "m", "width": columns * side + 2 * margin, "depth": rows * side + 2 * margin,
             "ceiling": 9, "rail_min": pick.choice([0.8, 1.2]), "guard_drop": pick.choice([0.4, 0.76]),
             "one": pick.choice([5, 7, 11]), "two": pick.choice([10, 14, 22]),
             "exit_mm": pick.choice([5, 7]), "door_x": margin, "door": 1.8, "door_height": 2.2,
             "x": margin, "y": margin, "columns": columns, "rows": rows, "side": side,
             "low": -1, "high": pick.choice([2.0, 4.0]), "steps": pick.choice([1, 2, 3]),
             "riser": pick.choice([0.4, 0.6])}
    across = columns if axis in (0, 180) else rows
    wishes = {"units": "m", "form": pick.choice(FORMS), "axis": axis,
              "stage_width": side * (2 + across % 2), "stage_depth": 2 * side - 0.1,
              "stage_height": pick.choice([0, 0.4, 0.9]), "inset": 0.4,
              "c": pick.choice([0.03, 0.06, 0.09]), "seat": pick.choice([0.5, 0.55, 0.6]),
              "row": pick.choice([0.85, 0.9, 1.0]), "aisle": pick.choice([0.9, 1.2]),
              "seats": pick.choice(["most", 30]), "towers": "no"}
    if wishes["form"] == "traverse":
        wishes["stage_width"] = side * (across - 2)
        wishes["stage_depth"] = side * (1 + (rows if axis in (0, 180) else columns) % 2 - 0.1)
    return venue, wishes, pick.random() < 0.5 and margin > 3.5


def wheelchair_places(n):
    """ADA Standards for Accessible Design 2010, table 221.2.1.1."""
    for most, places in ((3, 0), (25, 1), (50, 2), (150, 4), (300, 5), (500, 6)):
        if n <= most:
            return places
    return 6 + -(-(n - 500) // 150)


class DraftTest(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.folder = self.temporary.name

    def tearDown(self):
        self.temporary.cleanup()

    def path(self, name):
        return os.path.join(self.folder, name)

    def run_here(self, *arguments, **more):
        return hall.run(*arguments, cwd=self.folder, **more)

    def write(self, name, text):
        with open(self.path(name), "w", encoding="utf-8") as out:
            out.write(text)

    def read(self, name):
        with open(self.path(name), encoding="utf-8") as source:
            return source.read()

    def write_trial(self, venue, wishes, has_tower=False):
        text = ROOM.format(**venue) + LIFTS.format(**venue)
        if has_tower:
            text += TOWER.format(x=3.0, y=venue["depth"] / 2)
            wishes = dict(wishes, towers="yes")
        self.write("venue.yaml", text)
        self.write("wishes.yaml", WISHES.format(**wishes))

    def draft(self, code=0, **more):
        """(stdout, stderr) of one draft into layout.yaml."""
        found, out, err = self.run_here("draft", "wishes.yaml", "--out", "layout.yaml", "--replace",
                                        **more)
        self.assertEqual(found, code, err)
        return out, err

    def seats(self, out):
        return int(re.search(r"(\d+) places, of which", out)[1])

    def check_layout(self, out):
        """The layout passes check and fit, has its rails and its wheelchair places."""
        self.assertEqual(self.run_here("check", "layout.yaml"), (0, "layout.yaml: layout, ok\n", ""))
        code, text, err = self.run_here("fit", "layout.yaml", "--json")
        self.assertEqual((code, err), (0, ""), out + text)
        found = json.loads(text)
        self.assertEqual(found["open_edges"], [])
        self.assertEqual((found["long_rows"], found["blocked_vomitories"]), ([], []))
        ways = [route["way"] for route in found["routes"]]
        self.assertIn("out", ways)
        self.assertNotIn("none", ways)
        n, chairs, companions = map(int, re.search(
            r"(\d+) places, of which (\d+) wheelchair places and (\d+) companion", out).groups())
        self.assertGreaterEqual(chairs, wheelchair_places(n))
        self.assertGreaterEqual(companions, chairs)
        return n

    def places(self):
        """Seats of the layout by its table: x, y, facing, kind and block."""
        self.assertEqual(self.run_here("assess", "layout.yaml", "--out", "seen", "--quiet", "--no-maps",
                                       "--samples", "16")[0], 0)
        with open(self.path("seen/seats.csv"), encoding="utf-8") as file:
            return [(float(row["x_m"]), float(row["y_m"]), row["kind"], row["block"])
                    for row in csv.DictReader(line for line in file if not line.startswith("#"))]
