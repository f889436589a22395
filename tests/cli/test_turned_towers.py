#!/usr/bin/python3
"""A seating tower that a layout turns: its seats by hand arithmetic, what a venue does not allow, what
the changeover needs, what the tower sweeps through. The hall is this test's own (invented); its times
and angles are elementary kinematics and geometry.

usage: test_turned_towers.py GRADIN"""

import csv
import json
import os
import tempfile
import unittest

import hall

VENUE = """format: gradin-venue-1
units: m
name: Turning shed
room:
  footprint: [[0, 0], [20, 0], [20, 20], [0, 20]]
  ceiling: 9
  absorption:
    floor: [0.1, 0.1, 0.1, 0.1, 0.1, 0.1]
    ceiling: [0.3, 0.3, 0.3, 0.3, 0.3, 0.3]
    walls: [0.2, 0.2, 0.2, 0.2, 0.2, 0.2]
    seating: [0.6, 0.7, 0.8, 0.9, 0.9, 0.8]
  local_rules: {rail_min: 0.8}
machines:
  towers:
    - name: T
      front: [10, 6]
      facing_deg: 0
      width: 4
      depth: 2
      hoist: [0, 2]
      hoist_speed_ms: 0.01
      slide: {bearing_deg: 0, range: [0, 4], speed_ms: 0.1}
      turn: {range_deg: [-90, 90], speed_deg_s: 0.5, drive: {accel_deg_s2: 0.05, prepare_s: 60, crew: 3}}
      levels:
        - {name: low, deck: 1, thickness: 0.2, rows: 2, row_depth: 0.9, riser: 0.3, seat_width: 1, front: 0.2,
           rail: {kind: bar, height: 0.9}}
  crew:
    people: 6
    seating: [{name: chair, kind: loose, set_seats_person_hour: 60, strike_seats_person_hour: 60, crew: 2}]
"""
TURN = "      turn: {range_deg: [-90, 90], speed_deg_s: 0.5, drive: {accel_deg_s2: 0.05, prepare_s: 60, crew: 3}}\n"
LAYOUT = """format: gradin-layout-1
units: m
name: %s
venue: venue.yaml
form: custom
machines:
  towers: [{name: T%s}]
focus:
  - {name: stage, polygon: [[6, 15], [14, 15], [14, 19], [6, 19]]}
"""
CHAIRS = """blocks:
  - {name: Chairs, stands_on: floor, seat_width: 0.5, row_depth: 0.9,
     straight: {front: [10, 8], facing_deg: 0, rows: 1, seats: 4}}
"""
COLUMN = """  solids:
    - {name: pole, kind: column, polygon: [[%s, 6.4], [%s, 6.4], [%s, 6.6], [%s, 6.6]], bottom: 0, top: 9}
"""


class Hall(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.folder = self.temporary.name
        self.venue = VENUE

    def tearDown(self):
        self.temporary.cleanup()

    def write(self, name, text):
        with open(os.path.join(self.folder, name), "w", encoding="utf-8") as out:
            out.write(text)

    def change(self, old, new):
        self.assertIn(old, self.venue)
        self.venue = self.venue.replace(old, new)

    def pole(self, x):
        """A pole of 0.2 m at y 6.5."""
        at = [f"{value:.1f}" for value in (x - 0.1, x + 0.1, x + 0.1, x - 0.1)]
        self.change("machines:\n", COLUMN % tuple(at) + "machines:\n")

    def run_with(self, settings, *arguments, more=""):
        self.write("venue.yaml", self.venue)
        for i, set_so in enumerate(settings):
            self.write(f"{'ab'[i]}.yaml", LAYOUT % (f"Layout {'ab'[i]}", set_so) + (more if i == 0 else ""))
        return hall.run(*arguments, cwd=self.folder)

    def seats(self, set_so):
        code, _, err = self.run_with([set_so], "assess", "a.yaml", "--out", "out", "--no-maps", "--quiet")
        back = ("gradin: note: a.yaml: T low: T low has its back to the focus: all of it lies more than 90 deg off the "
                "facing of each of its seats\n")
        self.assertEqual((code, err), (0, back if "180" in set_so else ""))
        return hall.Table(os.path.join(self.folder, "out")).seat

    def moves(self, before, after, more=""):
        code, out, err = self.run_with([before, after], "changeover", "a.yaml", "b.yaml", "--out", "out",
                                       "--quiet", more=more)
        self.assertEqual((code, out, err), (0, "", ""))
        with open(os.path.join(self.folder, "out", "moves.csv"), encoding="utf-8", newline="") as source:
            return list(csv.DictReader(source))

    def refused(self, settings, *arguments, says):
        code, _, err = self.run_with(settings, *arguments)
        self.assertEqual(code, 2)
        self.assertIn(says, hall.flat(err))


class Seats(Hall):
    def expect(self, seat, x, y, facing):
        self.assertAlmostEqual(float(seat["x_m"]), x, delta=6e-4)
        self.assertAlmostEqual(float(seat["y_m"]), y, delta=6e-4)
        self.assertAlmostEqual(float(seat["facing_deg"]), facing, delta=0.06)

    def test_about_the_middle_of_its_plan(self):
        """Unturned, the first row's first seat stands 0.2 + 0.9/2 behind the front and 1.5 to the west:
        (8.5, 5.35), so (-1.5, 0.35) from the middle (10, 5). A quarter clockwise takes (x, y) to (y, -x):
        (0.35, 1.5). The second row's last one, (1.5, -0.55), goes to (-0.55, -1.5)."""
        seat = self.seats("")
        self.assertEqual(len(seat), 8)
        self.expect(seat["T low-1-1"], 8.5, 5.35, 0)
        seat = self.seats(", facing_deg: 90")
        self.expect(seat["T low-1-1"], 10.35, 6.5, 90)
        self.expect(seat["T low-2-4"], 9.45, 3.5, 90)
        # the slide takes the middle along
        seat = self.seats(", facing_deg: 90, slide: 2.5, hoist: 0.4")
        self.expect(seat["T low-1-1"], 10.35, 9.0, 90)
        self.assertAlmostEqual(float(seat["T low-1-1"]["floor_z_m"]), 1.4, delta=6e-4)

    def test_the_other_way_and_by_any_angle(self):
        """A quarter anticlockwise takes (x, y) to (-y, x). By 30 degrees clockwise (x, y) goes to
        (x cos + y sin, y cos - x sin): (-1.5, 0.35) to (-1.1240, 1.0531)."""
        self.expect(self.seats(", facing_deg: 270")["T low-1-1"], 9.65, 3.5, 270)
        self.expect(self.seats(", facing_deg: 30")["T low-1-1"], 8.8760, 6.0531, 30)

    def test_about_a_stated_pivot(self):
        """(8.5, 5.35) is (0.5, 1.35) from (8, 4): a quarter clockwise takes it to (1.35, -0.5)."""
        self.change("range_deg: [-90, 90]", "range_deg: [-90, 90], pivot: [8, 4]")
        self.expect(self.seats(", facing_deg: 90")["T low-1-1"], 9.35, 3.5, 90)

    def test_rail_and_deck_turn_along(self):
        """Turned about, the rail stands between the seats and the stage no more: it hides from none; the
        tower that faces the stage has it in front of its first row."""
        self.change("range_deg: [-90, 90]", "range_deg: [0, 180]")
        ahead = self.seats(", hoist: 2")
        away = self.seats(", hoist: 2, facing_deg: 180")
        self.assertGreater(max(float(s["hidden_rails_pct"]) for s in ahead.values()), 0.0)
        self.assertEqual(max(float(s["hidden_rails_pct"]) for s in away.values()), 0.0)

    def test_turned_by_the_layout_or_stated_so(self):
        """The same table but for the order of the columns' last digits: a tower turned by 90 degrees, and
        one whose venue states it there."""
        turned = self.seats(", facing_deg: 90")
        self.change(TURN, "")
        self.change("front: [10, 6]\n      facing_deg: 0", "front: [11, 5]\n      facing_deg: 90")
        stated = self.seats("")
        self.assertEqual(turned, stated)


class Refusals(Hall):
    def test_a_tower_that_does_not_turn(self):
        self.change(TURN, "")
        self.refused([", facing_deg: 90"], "check", "a.yaml",
                     says="a.yaml:7:12: machines.towers[1].facing_deg: T does not turn; it faces 0.0")
        # what it faces anyhow may be written
        self.assertEqual(self.run_with([", facing_deg: 0"], "check", "a.yaml")[0], 0)
        self.assertEqual(self.run_with([", facing_deg: 360"], "check", "a.yaml")[0], 0)

    def test_beyond_the_range(self):
        self.refused([", facing_deg: 120"], "check", "a.yaml",
                     says="a.yaml:7:12: machines.towers[1].facing_deg: T cannot face this bearing; it turns from "
                          "270.0 to 90.0")
        self.assertEqual(self.run_with([", facing_deg: 90"], "check", "a.yaml")[0], 0)

    def test_a_range_without_nought(self):
        self.change("range_deg: [-90, 90]", "range_deg: [10, 90]")
        self.refused([""], "check", "a.yaml", says="venue.yaml:23:13: machines.towers[1].turn.range_deg: must "
                                                   "include 0, at which the tower faces its facing_deg")

    def test_no_speed(self):
        """A changeover needs its time, so a venue states it."""
        self.change(" speed_deg_s: 0.5,", "")
        self.refused([""], "check", "a.yaml", says="venue.yaml:23:13: machines.towers[1].turn.speed_deg_s: is missing")

    def test_into_the_wall(self):
        """Turned by a quarter about (10, 1.2) it reaches 2 m to the south: out of the room."""
        self.change("front: [10, 6]", "front: [10, 2.2]")
        self.refused([", facing_deg: 90"], "check", "a.yaml",
                     says="machines clash: T low stands outside the room's footprint")

    def test_an_interlock_binds_the_turn(self):
        self.venue += ("  interlocks:\n    - {name: turns only far out, machine: T turn, at: [5, 90], while: T "
                       "slide, within: [2, 4]}\n")
        self.refused([", facing_deg: 90"], "check", "a.yaml",
                     says="interlock 'turns only far out': T turn stands at 90.000 only while T slide is within "
                          "2.000 to 4.000 m; it is at 0.000")
        self.assertEqual(self.run_with([", facing_deg: 90, slide: 2"], "check", "a.yaml")[0], 0)


class Moves(Hall):
    def test_its_time(self):
        """90 degrees at 0.5 degrees/s with 0.05 degrees/s2: 90/0.5 + 0.5/0.05 = 190 s, and 60 s of
        preparation: 250 s. From 270 to 90 by way of 0: 180/0.5 + 10 + 60 = 430 s."""
        move, = self.moves("", ", facing_deg: 90")
        self.assertEqual((move["name"], move["task"], move["crew"]), ("T turn", "facing 0 -> facing 90", "3"))
        self.assertEqual(float(move["end_s"]) - float(move["start_s"]), 250)
        move, = self.moves(", facing_deg: 270", ", facing_deg: 90")
        self.assertEqual(float(move["end_s"]) - float(move["start_s"]), 430)

    def test_order_of_its_drives(self):
        """Up, out, round; and back the same way: hoist 0.5 m, slide 1 m, a quarter."""
        there = self.moves("", ", facing_deg: 90, slide: 1, hoist: 0.5")
        back = self.moves(", facing_deg: 90, slide: 1, hoist: 0.5", "")
        self.assertEqual([move["name"] for move in there], ["T hoist", "T slide", "T turn"])
        self.assertEqual([move["name"] for move in back], ["T turn", "T slide", "T hoist"])
        for before, after in ((a, b) for plan in (there, back) for a, b in zip(plan, plan[1:])):
            self.assertLessEqual(float(before["end_s"]), float(after["start_s"]))

    def test_sweeps_past_a_pole(self):
        """The deck is 4 by 2 m about (10, 5). A pole 1.5 m north and 1.5 m west of it, 2.12 m away, is clear
        of it at 0 and at 90 degrees. On its way clockwise the north-west corner, 2.24 m away, comes through.
        The other way round, to 270, nothing of it comes by."""
        self.pole(8.5)
        for way in (", facing_deg: 90", ", facing_deg: 270"):
            self.assertEqual(self.run_with([way], "check", "a.yaml")[0], 0)
        self.refused(["", ", facing_deg: 90"], "changeover", "a.yaml", "b.yaml",
                     says="swept volumes clash: T turn (facing 0 -> facing 90) meets pole in every order of moves")
        self.assertEqual(len(self.moves("", ", facing_deg: 270")), 1)

    def test_just_out_of_reach(self):
        """The corner passes y 6.4 at x 10 - sqrt(5 - 1.4^2) = 8.256 and y 6.6 at 8.451: a pole whose east side
        is at 8.2 stays clear, one at 8.3 is met."""
        self.pole(8.1)
        self.assertEqual(len(self.moves("", ", facing_deg: 90")), 1)
        self.change("[[8.0, 6.4], [8.2, 6.4], [8.2, 6.6], [8.0, 6.6]]",
                    "[[8.1, 6.4], [8.3, 6.4], [8.3, 6.6], [8.1, 6.6]]")
        self.refused(["", ", facing_deg: 90"], "changeover", "a.yaml", "b.yaml", says="meets pole")

    def test_slides_clear_before_it_turns(self):
        """Slid 4 m to the east it turns clear of the same pole, and turns back there before it slides in."""
        self.pole(8.5)
        self.change("slide: {bearing_deg: 0", "slide: {bearing_deg: 90")
        out = ", facing_deg: 90, slide: 4"
        self.assertEqual([move["name"] for move in self.moves("", out)], ["T slide", "T turn"])
        self.assertEqual([move["name"] for move in self.moves(out, "")], ["T turn", "T slide"])

    def test_nobody_works_beside_it(self):
        """Chairs 3 m from the middle are out of the deck's reach, 2.24 m, and within a metre of it: struck
        before it turns or after, never meanwhile."""
        strike, turn = sorted(self.moves("", ", facing_deg: 90", more=CHAIRS), key=lambda m: m["name"] == "T turn")
        self.assertEqual(turn["name"], "T turn")
        self.assertTrue(float(strike["end_s"]) <= float(turn["start_s"]) or
                        float(turn["end_s"]) <= float(strike["start_s"]), (strike, turn))

    def test_the_plan_as_json(self):
        code, out, _ = self.run_with(["", ", facing_deg: 22.5"], "changeover", "a.yaml", "b.yaml", "--json")
        self.assertEqual(code, 0)
        self.assertEqual([move["task"] for move in json.loads(out)["moves"]], ["facing 0 -> facing 22.5"])


if __name__ == "__main__":
    unittest.main()
