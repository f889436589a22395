"""Every changeover of the demo, and some of small random venues, held against its YAML by rules written a
second time (support/plan_rules.py); ten plans that were tampered with are caught, each by its own rule.

usage: test_plans.py GRADIN"""

import copy
import csv
import json
import os
import random
import re
import tempfile
import unittest

import hall
import plan_rules

N_RANDOM = 50


def plan_rows(folder, one, two, *more):
    out = os.path.join(folder, "plan")
    code, _, err = hall.run("changeover", f"{one}.yaml", f"{two}.yaml", "--out", out, "--quiet", *more, cwd=folder)
    if code:
        raise AssertionError(f"{one} to {two}: {err}")
    return plan_rules.read_moves(os.path.join(out, "moves.csv"))


def complaints(folder, one, two, rows, venue="hall", start=None):
    files = [plan_rules.load(os.path.join(folder, f"{name}.yaml")) for name in (venue, one, two)]
    return plan_rules.Plan(*files, rows, start).complaints()


class Demo(hall.HallTest):
    def test_all_twenty_pairs(self):
        """By the usual budget from one layout to its next, by a small one elsewhere: the rules are the same."""
        n = len(hall.LAYOUTS)
        for i, one in enumerate(hall.LAYOUTS):
            for k, two in enumerate(hall.LAYOUTS):
                if one != two:
                    budget = [] if k == (i + 1) % n else ["--nodes", "2000"]
                    rows = plan_rows(self.folder, one, two, *budget)
                    self.assertEqual(complaints(self.folder, one, two, rows), [], f"{one} to {two}")
                    for row in rows: # what starts later waited for something, and says for what
                        self.assertEqual(row["starts"] == "at once", row["start_s"] == "0", (one, two, row))


def stretches(rows, trip_s):
    """Each move and each trip for it: (row, begin, end)."""
    found = []
    for k, row in enumerate(rows):
        found.append((k, int(row["start_s"]), int(row["end_s"])))
        found += [(k, int(t), int(t) + trip_s) for t in row["store_trips_s"].split()]
    return found


def pairs_of(rows, trip_s):
    """Which row may follow which, and how much room is between: the order that the plan has."""
    parts = stretches(rows, trip_s)
    return [(a[0], b[0], b[1] - a[2]) for a in parts for b in parts if a[0] != b[0] and a[2] <= b[1]]


def least_floats(rows, pairs, total_s):
    """Backward pass: how much later each row may start when no pair turns round, which is always allowed."""
    later = [total_s - int(row["end_s"]) for row in rows]
    is_moving = True
    while is_moving:
        is_moving = False
        for first, then, room in pairs:
            if later[first] > later[then] + room:
                later[first] = later[then] + room
                is_moving = True
    return later


class Float(hall.HallTest):
    """Float from the table alone: it is never less than what a backward pass leaves that keeps the order of
    every two, and plans late by it are held against all rules again."""

    def check(self, one, two, n_late, venue="hall"):
        rows = plan_rows(self.folder, one, two)
        with open(os.path.join(self.folder, "plan", "changeover.json"), encoding="utf-8") as source:
            plan = json.load(source)
        total_s, pairs = plan["total_s"], pairs_of(rows, plan["store_trip_s"])
        floats = [int(row["float_s"]) for row in rows]
        for k, row in enumerate(rows):
            self.assertLessEqual(floats[k], total_s - int(row["end_s"]))
            self.assertEqual(row["near_critical"], "yes" if floats[k] <= total_s // 20 else "no")
            if row["critical"] == "yes":
                self.assertEqual(floats[k], 0)
        for k, least in enumerate(least_floats(rows, pairs, total_s)):
            self.assertGreaterEqual(floats[k], least, f"{one} to {two}: move {k + 1}")
        for late in range(0, len(rows), max(1, len(rows) // n_late)):
            self.check_late(one, two, rows, int(rows[late]["start_s"]), total_s, venue)
        return floats

    def check_late(self, one, two, rows, from_s, total_s, venue):
        """All that starts then or after is as late as its float allows."""
        moved = copy.deepcopy(rows)
        for row in moved:
            if int(row["start_s"]) >= from_s:
                shift(row, int(row["float_s"]))
        self.assertEqual(max(int(row["end_s"]) for row in moved), total_s)
        self.assertEqual(complaints(self.folder, one, two, moved, venue), [], f"{one} to {two} from {from_s}")

    def test_demo(self):
        floats = self.check("thrust", "flat_floor", 2)
        self.assertTrue(any(floats))

    def test_small_venues(self):
        draw = random.Random(11)
        for _ in range(4):
            draw_hall(draw, self.folder)
            self.check("flat", "raised", 3, "venue")
            self.check("raised", "flat", 3, "venue")


def shift(row, by):
    row["start_s"], row["end_s"] = str(int(row["start_s"]) + by), str(int(row["end_s"]) + by)
    row["store_trips_s"] = " ".join(str(int(t) + by) for t in row["store_trips_s"].split())


class Names(hall.HallTest):
    """Rows and seats that moves name are those that stand in the layouts' own tables of seats."""

    def seats_of(self, layout):
        out = os.path.join(self.folder, layout)
        code, _, err = hall.run("assess", f"{layout}.yaml", "--out", out, "--quiet", cwd=self.folder)
        self.assertEqual(code, 0, err)
        with open(os.path.join(out, "seats.csv"), encoding="utf-8", newline="") as source:
            return [r for r in csv.DictReader(source) if r["kind"] != "wheelchair"]

    def test_every_seat_once(self):
        rows = plan_rows(self.folder, "thrust", "flat_floor")
        for kind, layout in (("strike", "thrust"), ("set", "flat_floor")):
            seats, n = self.seats_of(layout), 0
            for row in rows:
                if not row["block"] or row["kind"] != kind:
                    continue
                named = plan_rules.places(row["name"][len(row["block"]):])
                found = [s for s in seats if s["block"] == row["block"] and
                         any(p[0] == int(s["row"]) and p[1] <= int(s["number"]) <= p[2] for p in named)]
                self.assertEqual(len(found), int(row["seats"]), row["name"])
                n += len(found)
                seats = [s for s in seats if s not in found]
            left = {s["block"] for s in seats}
            self.assertFalse(left & {r["block"] for r in rows if r["kind"] == kind}, left)
            self.assertGreater(n, 300)


class Tampered(hall.HallTest):
    """One good plan, one edit each; the complaint must be of the rule that the edit breaks."""

    @classmethod
    def setUpClass(cls):
        with tempfile.TemporaryDirectory() as folder:
            hall.copy_demo(folder)
            cls.good = plan_rows(folder, "thrust", "flat_floor")
            cls.files = [plan_rules.load(os.path.join(folder, f"{name}.yaml"))
                         for name in ("hall", "thrust", "flat_floor")]

    def row(self, rows, name, kind="machine"):
        return next(r for r in rows if re.match(name, r["name"]) and r["kind"] == kind)

    def expect(self, rule, edit):
        rows = copy.deepcopy(self.good)
        edit(rows)
        found = plan_rules.Plan(*self.files, rows).complaints()
        self.assertTrue(any(f.startswith(f"{rule}:") for f in found), f"{rule} not among {found}")

    def test_the_plan_is_good(self):
        self.assertEqual(plan_rules.Plan(*self.files, self.good).complaints(), [])

    def test_a_shortened_move(self):
        def edit(rows):
            row = self.row(rows, "W2 hoist")
            row["duration_s"] = str(int(row["duration_s"]) // 2)
            row["end_s"] = str(int(row["start_s"]) + int(row["duration_s"]))
        self.expect("duration", edit)

    def test_a_fourth_gang(self):
        def edit(rows):
            late = [r for r in rows if "bolted chair" in r["task"] and r["start_s"] != "0"][-1]
            shift(late, -int(late["start_s"]))
        self.expect("crew", edit)

    def test_a_person_in_two_places(self):
        def edit(rows):
            first, second = [r for r in rows if r["start_s"] == "0"][:2]
            second.update(gang=first["gang"], people=first["people"])
        self.expect("gangs", edit)

    def test_a_row_struck_twice(self):
        def edit(rows):
            first, second = [r for r in rows if r["block"] == "South" and r["kind"] == "strike"][:2]
            second["name"] = first["name"]
        self.expect("rows", edit)

    def test_a_gang_of_one(self):
        self.expect("crew", lambda rows: self.row(rows, "South", "strike").update(crew="1"))

    def test_all_towers_at_once(self):
        def edit(rows):
            start = min(int(r["start_s"]) for r in rows if "lifts" in r["lane"])
            for row in rows:
                if row["kind"] == "machine":
                    shift(row, start - int(row["start_s"]))
        self.expect("power", edit)

    def test_lifts_side_by_side_beyond_what_may_move(self):
        def edit(rows):
            lifts = [r for r in rows if r["lane"] == "lifts F"]
            for row in lifts:
                shift(row, int(lifts[0]["start_s"]) - int(row["start_s"]))
        self.expect("at_once", edit)

    def test_a_trip_upon_another(self):
        def edit(rows):
            first, second = [r for r in rows if r["store_trips_s"]][:2]
            second["store_trips_s"] = str(int(first["store_trips_s"].split()[0]) + 10)
        self.expect("store", edit)

    def test_a_trip_left_out(self):
        self.expect("store", lambda rows: self.row(rows, "South", "strike").update(store_trips_s=""))

    def test_a_machine_left_out(self):
        self.expect("chain", lambda rows: rows.remove(self.row(rows, "W2 slide")))

    def test_a_slide_before_its_tower_is_low(self):
        def edit(rows):
            row = self.row(rows, "W2 slide")
            shift(row, int(self.row(rows, "W2 hoist")["start_s"]) - int(row["start_s"]))
        self.expect("interlock", edit)

    def test_a_lift_under_seats(self):
        def edit(rows):
            row = self.row(rows, "F-C1")
            shift(row, -int(row["start_s"]))
        self.expect("seats", edit)

    def test_a_pit_beside_people(self):
        def edit(rows):
            row = self.row(rows, r"F-G4\.\.G7, F-B4|F-B4\.\.B7|F-A4")
            people = self.row(rows, "South", "strike")
            row["name"] = "F-B2"
            shift(row, int(people["start_s"]) - int(row["start_s"]))
        self.expect("people", edit)

    def test_a_machine_without_its_caution(self):
        self.expect("line", lambda rows: self.row(rows, "W2 slide").update(caution=""))


VENUE = """format: gradin-venue-1
units: m
name: Random hall (invented)
room:
  footprint: [[0, 0], [16, 0], [16, 14], [0, 14]]
  ceiling: 8
  absorption:
    floor: [0.1, 0.1, 0.1, 0.1, 0.1, 0.1]
    ceiling: [0.3, 0.3, 0.3, 0.3, 0.3, 0.3]
    walls: [0.2, 0.2, 0.2, 0.2, 0.2, 0.2]
    seating: [0.6, 0.7, 0.8, 0.9, 0.9, 0.8]
  local_rules: {{rail_min: 0.8}}
machines:
  lifts:
    - {{name: A, origin: [2, 2], columns: 4, rows: 2, size: [2, 2], travel: [-2, 2], speed_ms: {speed},
       drive: {{accel_ms2: {accel}, prepare_s: {prepare}, power_kw: {lift_kw}, crew: {lift_crew}, at_once: {at_once}}}}}
  crew:
    people: {people}
    power_kw: {power}
{terms}    seating:
      - {{name: chair, kind: loose, set_seats_person_hour: {rate_set}, strike_seats_person_hour: {rate_strike},
         crew: {gang}, seat_kg: 8, stored: yes}}
    store: {{name: store lift, travel: 4, speed_ms: 0.2, seats_per_trip: {load}, load_s: {load_s},
            drive: {{crew: {store_crew}, power_kw: {store_kw}}}}}
"""
LAYOUT = """format: gradin-layout-1
units: m
name: {name}
venue: venue.yaml
form: end_stage
axis_deg: 180
machines:
  lifts:
{lifts}
focus:
  - {{name: stage, polygon: [[3, 9], [9, 9], [9, 11], [3, 11]]}}
blocks:
  - name: Stalls
    stands_on: {stands}
    seat_width: 0.5
    row_depth: 1.0
    {rows}
"""


def draw_hall(draw, folder, terms=""):
    """A venue with lifts and a store lift, and two layouts: seats on lifts, then on the floor. terms: lines of
    the crew's hours, steps and contingency."""
    at_once, lift_kw = draw.randint(1, 5), draw.choice([2, 3, 5])
    gang = draw.randint(1, 3)
    store_kw = draw.choice([0, 3, 6])
    people = draw.randint(3, 8)
    venue = VENUE.format(
        speed=draw.choice([0.02, 0.05]), accel=draw.choice([0.02, 0.05]), prepare=draw.choice([0, 60, 240]),
        lift_kw=lift_kw, lift_crew=draw.randint(1, 2), at_once=at_once, people=people,
        power=max(store_kw, lift_kw) + draw.randint(0, 6), rate_set=draw.choice([10, 40]),
        rate_strike=draw.choice([15, 60]), gang=gang, load=draw.choice([4, 10, 25]), load_s=draw.choice([60, 240]),
        store_kw=store_kw, terms=terms, store_crew=int(people > gang and draw.random() < 0.5))
    up = [f"    - {{from: A-{c}{r}, height: {draw.choice([0.2, 0.4, 0.6])}}}" for c in "ABCD" for r in (1, 2)]
    flat = LAYOUT.format(name="Flat", stands="floor", lifts="    - {from: A-A1, height: 0}",
                         rows="straight: {front: [6, 6], facing_deg: 0, rows: 3, seats: 12}")
    raised = LAYOUT.format(name="Raised", stands="lifts", lifts="\n".join(up),
                           rows="fill: {from: A-A1, to: A-D2, facing_deg: 0}")
    for name, text in (("venue", venue), ("flat", flat), ("raised", raised)):
        with open(os.path.join(folder, f"{name}.yaml"), "w", encoding="utf-8") as out:
            out.write(text)


class Random(unittest.TestCase):
    def test_small_venues(self):
        draw = random.Random(7)
        for number in range(N_RANDOM):
            with tempfile.TemporaryDirectory() as folder:
                draw_hall(draw, folder)
                for one, two in (("flat", "raised"), ("raised", "flat")):
                    rows = plan_rows(folder, one, two)
                    self.assertEqual(complaints(folder, one, two, rows, "venue"), [], f"{number}: {one} to {two}")


if __name__ == "__main__":
    unittest.main(verbosity=1)
