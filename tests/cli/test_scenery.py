"""Scenery that comes in and goes out: plans of random venues and of the demo held against the YAML by rules
written a second time (support/plan_scenery.py), tampered plans that are caught, and what is refused.

usage: test_scenery.py GRADIN"""

import copy
import json
import os
import random
import re
import unittest

import hall
from test_plans import complaints, draw_hall, plan_rows

N_RANDOM = 16
FACADE = """facade:
  buildups: [{{name: leaf, generic: brick_255_plastered}}]
  doors:
    - {{name: dock, start: [0, 8], bearing_deg: 0, width: 3, height: 3, sill: 0, buildup: leaf, joint_r_db: 38,
       move_s: {move_s}, drive: {{prepare_s: {prepare}, mass_kg: 500, crew: 1, power_kw: 1}}}}
machines:
"""
WALLS = """  - name: {name}
    pieces: {pieces}
    crew: {crew}
    {pace}
    by: {by}
    per_trip: {per_trip}
    area: {area}
    height: 2
    {more}
"""
WAY = "way: [[0.1, 8.2], [4.2, 8.2], [4.2, 10.8], [0.1, 10.8]]"
IN_WAY = "[[2, 9], [3, 9], [3, 10], [2, 10]]"  # of the walls and trees
ASIDE = "[[10.2, 2.3], [10.8, 2.3], [10.8, 5.7], [10.2, 5.7]]"


def draw_piece(draw, name, area, more=""):
    pace = draw.choice(["in_minutes: 3\n    out_minutes: 2", "in_minutes: 4.5",
                        "piece_kg: 40\n    in_kg_person_hour: 500\n    out_kg_person_hour: 900"])
    return WALLS.format(name=name, pieces=draw.randint(1, 9), crew=draw.randint(1, 3), pace=pace, area=area,
                        by=draw.choice(["dock", "store lift"]), per_trip=draw.randint(1, 4), more=more)


def draw_scenery(draw, folder):
    """On the stage, which is fixed floor; beside the seats on a column of lifts of its own."""
    draw_hall(draw, folder)

    def edit(name, change):
        path = os.path.join(folder, f"{name}.yaml")
        with open(path, encoding="utf-8") as source:
            text = source.read()
        with open(path, "w", encoding="utf-8") as out:
            out.write(change(text))

    facade = FACADE.format(move_s=draw.choice([20, 90]), prepare=draw.choice([0, 60]))
    edit("venue", lambda t: t.replace("machines:\n", facade, 1).replace("columns: 4", "columns: 5"))
    heights = [draw.choice([0, 0.3]) for _ in "12"]
    level = draw.choice(["", "level: 0\n    rides: yes", "level: 0.2\n    rides: yes"])
    walls = draw_piece(draw, "walls", "[[4, 9], [8, 9], [8, 11], [4, 11]]", WAY)
    crates = draw_piece(draw, "crates", IN_WAY)
    for name in ("flat", "raised"):
        text = "scenery:\n"
        kind = draw.choice(["same", "other", "none"])
        text += walls if kind == "same" else ""
        text += draw_piece(draw, f"{name} trees", "[[5, 9.5], [7, 9.5], [7, 10.5], [5, 10.5]]", WAY) if kind == "other" else ""
        text += draw_piece(draw, f"{name} props", ASIDE, level) if draw.random() < 0.7 else ""
        text += crates if draw.random() < 0.6 else ""
        lift = f"    - {{from: A-E1, to: A-E2, height: {heights[name == 'raised']}}}\n"
        edit(name, lambda t, lift=lift, text=text: t.replace("focus:\n", lift + "focus:\n", 1) +
             (text if "name" in text else ""))
        if draw.random() < 0.4:
            edit(name, lambda t: t.replace("focus:\n", "  doors: [{name: dock, open: 1}]\nfocus:\n", 1))

SHORT = ("--nodes", "1000") # the rules hold for the plans of every search


class Random(hall.HallTest):
    def test_small_venues(self):
        draw, n = random.Random(13), 0
        for number in range(N_RANDOM):
            draw_scenery(draw, self.folder)
            for one, two in (("flat", "raised"), ("raised", "flat")):
                rows = plan_rows(self.folder, one, two, *SHORT)
                n += sum(r["lane"] == "scenery" for r in rows)
                self.assertEqual(complaints(self.folder, one, two, rows, "venue"), [], f"{number}: {one} to {two}")
        self.assertGreater(n, 2 * N_RANDOM)


PIECE = "  - {{name: {name}, pieces: 2, crew: 1, in_minutes: 3, by: store lift, area: {area}, height: {height}{more}}}\n"
STAGE = "[[4, 9], [8, 9], [8, 10], [4, 10]]"
BEHIND = "[[4, 11], [8, 11], [8, 12], [4, 12]]"


def piece(name, area, more="", height=2):
    return PIECE.format(name=name, area=area, height=height, more=more and ", " + more)


class Two(hall.HallTest):
    """Two layouts of one small venue, whose scenery differs in one thing. Told by hand."""

    def moved(self, flat, raised, heights=(0, 0), edits=()):
        """[(kind, name)] by start, there and back; heights: of the lifts E in each layout."""
        draw_hall(random.Random(5), self.folder)
        replace(self.folder, "venue.yaml", "columns: 4", "columns: 5")
        for old, new in edits:
            replace(self.folder, "venue.yaml", old, new)
        for name, text, height in (("flat", flat, heights[0]), ("raised", raised, heights[1])):
            lift = f"    - {{from: A-E1, to: A-E2, height: {height}}}\n"
            replace(self.folder, f"{name}.yaml", "focus:\n", lift + "focus:\n")
            with open(os.path.join(self.folder, f"{name}.yaml"), "a", encoding="utf-8") as out:
                out.write("scenery:\n" + text if text else "")
        found = []
        for one, two in (("flat", "raised"), ("raised", "flat")):
            rows = plan_rows(self.folder, one, two, *SHORT)
            self.assertEqual(complaints(self.folder, one, two, rows, "venue"), [], f"{one} to {two}")
            found.append([(r["kind"], r["name"]) for r in rows if r["lane"] == "scenery"])
        return found

    def test_what_rides_in_one_layout_alone_goes_out_and_comes_in(self):
        both = [("strike", "props"), ("set", "props")]
        for flat, raised, wanted in (("rides: yes", "", both), ("", "rides: yes", both), ("", "", both),
                                     ("rides: yes", "rides: yes", [])):
            made = self.moved(piece("props", ASIDE, flat), piece("props", ASIDE, raised), (0, 0.3))
            self.assertEqual(made, [wanted, wanted], (flat, raised))

    def test_what_stays_on_a_lift_that_comes_back_rides_in_both(self):
        """A-E1 stands at 0 in both layouts, and goes down and up again for another lift's sake."""
        low = ("  crew:\n", "  interlocks:\n    - {name: E1 is low, machine: A-B1, while: A-E1, within: [-1, -0.9]}\n"
               "  crew:\n")
        rides = "rides: yes"
        for flat, raised in (("", ""), (rides, ""), ("", rides)):
            with self.assertRaisesRegex(AssertionError, r"props\s+stays\s+and\s+would\s+stand\s+on\s+A-E1"):
                self.moved(piece("props", ASIDE, flat), piece("props", ASIDE, raised), edits=[low])
        self.assertEqual(self.moved(piece("props", ASIDE, rides), piece("props", ASIDE, rides), edits=[low]), [[], []])

    def test_a_taller_piece_is_another(self):
        made = self.moved(piece("walls", STAGE), piece("walls", STAGE, height=3))
        self.assertEqual(made, [[("strike", "walls"), ("set", "walls")]] * 2)

    def test_scenery_on_a_floor_that_is_not_at_0_rolls_at_its_height(self):
        """Over the lift A-E2, level with it, onto a floor at 0.6 m."""
        floors = ("  ceiling: 8\n", "  ceiling: 8\n  floors:\n    - {name: wing, polygon: [[10, 6], [16, 6], "
                  "[16, 14], [10, 14]], z: [0.6, 0.6, 0.6, 0.6]}\n")
        props = piece("props", "[[10.2, 8], [11.8, 8], [11.8, 9], [10.2, 9]]",
                      "way: [[10.2, 5], [11.8, 5], [11.8, 8], [10.2, 8]]")
        for heights in ((0, 0.6), (0.6, 0.6)):
            made = self.moved("", props, heights, [floors])
            self.assertEqual(made, [[("set", "props")], [("strike", "props")]])

    def test_what_stands_behind_comes_in_first_and_goes_out_last(self):
        back = piece("back", BEHIND, "way: [[5, 8.5], [6, 8.5], [6, 11], [5, 11]]")
        for raised in (back + piece("front", STAGE), piece("front", STAGE) + back):
            made = self.moved("", raised)
            self.assertEqual(made, [[("set", "back"), ("set", "front")], [("strike", "front"), ("strike", "back")]])

    def test_what_stays_makes_way_and_comes_back(self):
        back = piece("back", BEHIND, "way: [[5, 8.5], [6, 8.5], [6, 11], [5, 11]]")
        front, aside = piece("front", STAGE), piece("aside", "[[1, 12], [2, 12], [2, 13], [1, 13]]")
        made = self.moved(front + aside, front + back + aside)
        self.assertEqual(made, [[("strike", "front"), (kind, "back"), ("set", "front")] for kind in ("set", "strike")])


DEMO = """scenery:
  - name: parlour walls
    pieces: 8
    crew: 4
    in_minutes: 6
    out_minutes: 4
    by: pavement doors
    area: [[10.5, 25.5], [19.5, 25.5], [19.5, 32], [10.5, 32]]
    height: 3
    way: [[0.1, 28.6], [10.5, 28.6], [10.5, 32.4], [0.1, 32.4]]
    level: 0
    rides: yes
  - name: furniture
    pieces: 14
    crew: 2
    in_minutes: 3
    by: store lift
    per_trip: 7
    area: [[12, 18.9], [18, 18.9], [18, 23.5], [12, 23.5]]
    height: 1.2
    after: [S]
"""


def with_scenery(folder, name, text, *changes):
    path = os.path.join(folder, f"{name}.yaml")
    with open(path, encoding="utf-8") as source:
        whole = source.read()
    at = whole.find("scenery:\n")
    whole = whole[:at] if at >= 0 else whole
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    with open(path, "w", encoding="utf-8") as out:
        out.write(whole + text)


def replace(folder, name, old, new):
    path = os.path.join(folder, name)
    with open(path, encoding="utf-8") as source:
        text = source.read()
    assert old in text
    with open(path, "w", encoding="utf-8") as out:
        out.write(text.replace(old, new))


class Demo(hall.HallTest):
    def test_both_ways_and_tampered(self):
        """The stage lifts come down for the walls and the doors open for them, in both directions; then one edit
        each of a good plan."""
        with_scenery(self.folder, "thrust", DEMO)
        for one, two in (("thrust", "flat_floor"), ("flat_floor", "thrust"), ("thrust", "round")):
            rows = plan_rows(self.folder, one, two, *SHORT)
            self.assertEqual(complaints(self.folder, one, two, rows), [], f"{one} to {two}")
            doors = [r for r in rows if r["name"] == "pavement doors"]
            self.assertEqual([r["task"][-6:] for r in doors], ["% open"] * 2)
        rows = plan_rows(self.folder, "thrust", "flat_floor", *SHORT)
        at = {r["name"]: k for k, r in enumerate(rows) if r["lane"] == "scenery"}
        walls, furniture = at["parlour walls"], at["furniture"]

        def begin(start):
            def edit(found):
                row = found[walls]
                row.update(start_s=str(start), end_s=str(start + int(row["duration_s"])))
            return edit
        for text, edit in (("not of", lambda found: found.pop(walls)),
                           ("time or people", lambda found: found[furniture].update(crew="1", people="A1")),
                           ("trips", lambda found: found[furniture].update(store_trips_s="")),
                           ("is not open", begin(0)), ("is not at", begin(0)),
                           ("is not at", begin(int(rows[-1]["start_s"])))):
            found = copy.deepcopy(rows)
            edit(found)
            said = complaints(self.folder, "thrust", "flat_floor", found)
            self.assertTrue(any(x.startswith("scenery:") and text in x for x in said), f"{text}: {said}")

    def refused(self, text, *arguments):
        code, out, err = hall.run(*arguments, cwd=self.folder)
        self.assertEqual((code, out), (2, ""), err)
        self.assertIn(text, hall.flat(err))

    def test_a_door_that_is_left_open(self):
        """The stop of each hour off shift names the doors that stand open then, and no other stop does."""
        n = {True: 0, False: 0}
        for start in ("2027-03-04T04:00", "2027-03-04T07:00", "2027-03-04T10:00", "2027-03-04T13:00"):
            rows = plan_rows(self.folder, "round", "end_stage", "--start", start, "--nodes", "1000")
            legs = [r for r in rows if r["name"] == "pavement doors"]
            opened, shut = int(legs[0]["end_s"]), int(legs[1]["start_s"])
            with open(os.path.join(self.folder, "plan", "changeover.json"), encoding="utf-8") as source:
                stops = json.load(source)["stops"]
            for stop in stops:
                is_open = not stop["break"] and opened <= stop["from_s"] and stop["to_s"] <= shut
                self.assertEqual("pavement doors left open" in stop["name"], is_open, (start, stop))
                n[is_open] += not stop["break"]
        self.assertTrue(n[True] and n[False], n)

    def test_what_cannot_stand(self):
        for text, old, new in (
                ("stands on floors at 0.00 and at 0.90 m", "[[10.5, 25.5], [19.5", "[[7.5, 25.5], [19.5"),
                ("stands on 7 seats, the first of them South-1-2", "[[12, 18.9], [18, 18.9], [18, 23.5], [12, 23.5]]",
                 "[[10, 7.55], [14, 7.55], [14, 8.3], [10, 8.3]]"),
                ("reaches outside the room", "[[0.1, 28.6], [10.5, 28.6]", "[[-0.4, 28.6], [10.5, 28.6]"),
                ("has fixed floor at 0", "    level: 0\n", ""),
                ("unknown door or store lift 'dock'", "by: pavement doors", "by: dock"),
                ("takes 13 people; the venue's crew has 12", "crew: 4", "crew: 13"),
                ("unknown machine 'T'", "after: [S]", "after: [T]"),
                ("takes 10000 h to bring in; at most 240 h are allowed", "pieces: 8\n", "pieces: 100000\n"),
                ("takes 241 h to bring in; at most 240 h are allowed", "pieces: 8\n", "pieces: 2401\n"),
                ("machines; 0 to 200 are allowed", "after: [S]", "after: [" + ", ".join(["S"] * 201) + "]"),
                ("needs 'in_minutes' or 'in_kg_person_hour'", "    in_minutes: 6\n", ""),
                ("stands where parlour walls stands", "[[12, 18.9], [18, 18.9], [18, 23.5], [12, 23.5]]",
                 "[[12, 26], [18, 26], [18, 28], [12, 28]]")):
            with_scenery(self.folder, "thrust", DEMO, (old, new))
            code, _, err = hall.run("check", "thrust.yaml", cwd=self.folder)
            self.assertEqual(code, 2)
            self.assertIn(text, hall.flat(err))

    def test_nothing_rides_unless_it_may(self):
        """The walls come in level with the fixed floor, and the stage stands at 0.9 m."""
        with_scenery(self.folder, "thrust", DEMO, ("    rides: yes\n", ""))
        self.refused("would stand on S-C1 while it moves", "changeover", "thrust.yaml", "flat_floor.yaml")

    def test_a_tower_does_not_land_on_what_stays(self):
        """W1 hangs over a tree, then stands low and slid off it: only its way down meets the tree."""
        tree = """scenery:
  - name: tree
    crew: 1
    in_minutes: 5
    by: pavement doors
    area: [[0.6, 6.6], [1.1, 6.6], [1.1, 7.4], [0.6, 7.4]]
    height: {height}
"""
        replace(self.folder, "thrust.yaml", "    - {name: W2, hoist: 1.9",
                     "    - {name: W1, hoist: 8, slide: 0, seated: no}\n    - {name: W2, hoist: 1.9")
        for height, is_good in ((2, False), (0.01, True)):
            for name in ("thrust", "flat_floor"):
                with_scenery(self.folder, name, tree.format(height=height))
                self.assertEqual(hall.run("check", f"{name}.yaml", cwd=self.folder)[0], 0)
            if is_good:
                rows = plan_rows(self.folder, "thrust", "flat_floor", *SHORT)
                self.assertEqual(complaints(self.folder, "thrust", "flat_floor", rows), [])
            else:
                self.refused("meets tree in every order of moves", "changeover", "thrust.yaml", "flat_floor.yaml")

    def test_the_text_says_what_goes_where(self):
        with_scenery(self.folder, "thrust", DEMO)
        code, text, err = hall.run("changeover", "flat_floor.yaml", "thrust.yaml", *SHORT, cwd=self.folder)
        self.assertEqual(code, 0, err)
        self.assertIn("scenery 0 pieces out, 22 in, 0 stay", hall.flat(text))
        self.assertIn("bring in 8 pieces, through pavement doors", hall.flat(text))
        self.assertIn("bring in 14 pieces, by store lift", hall.flat(text))


class Stands(hall.HallTest):
    """A hall without machines, whose second layout has a bank on platforms and a wall: nobody builds them in the
    plan, and it says so."""

    VENUE = """format: gradin-venue-1
units: m
name: Upper room
room:
  footprint: [[0, 0], [12, 0], [12, 18], [0, 18]]
  ceiling: 5
  absorption: {floor: [0.1, 0.1, 0.1, 0.1, 0.1, 0.1], ceiling: [0.1, 0.1, 0.1, 0.1, 0.1, 0.1],
    walls: [0.1, 0.1, 0.1, 0.1, 0.1, 0.1], seating: [0.1, 0.1, 0.1, 0.1, 0.1, 0.1]}
  local_rules: {rail_min: 1.1}
machines:
  crew: {people: 4, seating: [{name: chair, kind: loose, set_seats_person_hour: 40, strike_seats_person_hour: 60, crew: 2}]}
"""
    LAYOUT = """format: gradin-layout-1
units: m
venue: room.yaml
name: %s
form: end_stage
focus: [{name: stage, polygon: [[3, 14], [9, 14], [9, 17], [3, 17]], z: 0}]
blocks:
  - {name: Bank, stands_on: floor, seat_width: 0.5, row_depth: 0.9, %sstraight: {front: [6, 12], facing_deg: 0, rows: 6, seats: 16}}
%s"""
    WALL = "solids: [{name: wall, kind: wall, polygon: [[1, 17.4], [11, 17.4], [11, 17.6], [1, 17.6]], bottom: 0, top: 3}]\n"

    def stands(self, *layouts):
        """(out, in), and what the text says of it."""
        self.write("room.yaml", self.VENUE)
        names = [f"layout{k}.yaml" for k in range(2)]
        for name, (riser, wall) in zip(names, layouts):
            self.write(name, self.LAYOUT % (name, riser, wall))
        code, text, err = self.run_here("changeover", *names)
        self.assertEqual((code, err), (0, ""))
        plan = json.loads(self.run_here("changeover", *names, "--json")[1])
        said = re.search(r"  stands +(\d+) out, (\d+) in: platforms and set pieces, which no move builds\n", text)
        counts = plan["stands_out"], plan["stands_in"]
        self.assertEqual(tuple(map(int, said.groups())) if said else (0, 0), counts)
        return counts

    def write(self, name, text):
        with open(self.path(name), "w", encoding="utf-8") as out:
            out.write(text)

    def test_a_body_is_the_same_from_whichever_corner(self):
        for other in ("[[11, 17.4], [11, 17.6], [1, 17.6], [1, 17.4]]", "[[1, 17.6], [11, 17.6], [11, 17.4], [1, 17.4]]"):
            wall = re.sub(r"polygon: .*, bottom", f"polygon: {other}, bottom", self.WALL)
            self.assertNotEqual(wall, self.WALL)
            self.assertEqual(self.stands(("", self.WALL), ("", wall)), (0, 0))

    def test_each(self):
        """Rows 2 to 6 of a bank that rises stand on platforms."""
        plain, raised = ("", ""), ("riser: 0.2, ", "")
        self.assertEqual(self.stands(plain, plain), (0, 0))
        self.assertEqual(self.stands(raised, raised), (0, 0))
        self.assertEqual(self.stands(plain, raised), (0, 5))
        self.assertEqual(self.stands(raised, ("riser: 0.3, ", "")), (5, 5))
        self.assertEqual(self.stands(("", self.WALL), raised), (1, 5))
        self.assertEqual(self.stands(("riser: 0.2, ", self.WALL), ("", self.WALL)), (5, 0))


if __name__ == "__main__":
    unittest.main(verbosity=1)
