"""Levels: whoever stands over others has a sheet and a name of their own, and an aisle runs through
one level.

usage: test_levels.py GRADIN"""

import csv
import json
import os
import tempfile
import unittest

import hall

ALIKE = [0.2] * 6
VENUE = {
    "format": "gradin-venue-1", "units": "m", "name": "Two floors (invented)",
    "room": {"footprint": [[0, 0], [12, 0], [12, 16], [0, 16]], "ceiling": 9,
             "absorption": {"floor": ALIKE, "ceiling": ALIKE, "walls": ALIKE, "seating": ALIKE},
             "local_rules": {"rail_min": 0.8, "row_seats_one_aisle": 10,
                             "row_seats_two_aisles": 20},
             "solids": [{"name": "slab", "kind": "slab", "bottom": 3.2, "top": 3.5,
                         "polygon": [[0, 0], [12, 0], [12, 4.5], [0, 4.5]]}]}}
STALLS = {"name": "Stalls", "stands_on": "floor", "seat_width": 0.55, "row_depth": 0.9,
          "straight": {"front": [6, 9], "facing_deg": 0, "rows": 9, "seats": 18}}
BALCONY = {"name": "Balcony", "stands_on": "floor", "seat_width": 0.55, "row_depth": 0.9,
           "base": 3.7, "riser": 0.3,
           "straight": {"front": [6, 3.8], "facing_deg": 0, "rows": 4, "seats": 20}}
AISLE = {"name": "long aisle", "polygon": [[5.5, 0], [6.5, 0], [6.5, 10], [5.5, 10]]}


class Levels(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.put("venue.yaml", VENUE)

    def tearDown(self):
        self.temporary.cleanup()

    def put(self, name, content):
        with open(os.path.join(self.temporary.name, name), "w", encoding="utf-8") as out:
            json.dump(content, out)  # JSON is YAML

    def layout(self, blocks, aisles):
        self.put("layout.yaml", {
            "format": "gradin-layout-1", "units": "m", "venue": "venue.yaml", "name": "Levels",
            "form": "end_stage", "axis_deg": 180, "blocks": blocks, "aisles": aisles,
            "focus": [{"name": "stage", "z": 0.8,
                       "polygon": [[2, 12], [10, 12], [10, 15], [2, 15]]}]})

    def run_here(self, *arguments):
        return hall.run(*arguments, cwd=self.temporary.name)

    def seats(self, *options):
        """Of an assessment, with the maps only when no option is given."""
        code, _, err = self.run_here("assess", "layout.yaml", "--out", "out", "--quiet",
                                     "--samples", "64", *options)
        self.assertEqual((code, err), (0, ""))
        with open(os.path.join(self.temporary.name, "out", "seats.csv"), encoding="utf-8") as source:
            return list(csv.DictReader(source))

    def count(self, blocks, aisles):
        """{block: (its levels, its seats)}"""
        self.layout(blocks, aisles)
        found = {}
        for row in self.seats("--no-maps"):
            levels, n = found.get(row["block"], (set(), 0))
            found[row["block"]] = (levels | {row["level"]}, n + 1)
        return found

    def test_who_stands_over_others_is_on_another_level(self):
        self.assertEqual(self.count([STALLS, BALCONY], []),
                         {"Stalls": ({"main floor"}, 162), "Balcony": ({"level 2"}, 80)})
        self.seats()
        maps = [name for name in os.listdir(os.path.join(self.temporary.name, "out"))
                if name.startswith("visible")]
        self.assertEqual(sorted(maps), ["visible-sheet1-main_floor.png", "visible-sheet2-level_2.png"])

    def test_the_order_of_blocks_moves_nobody(self):
        self.assertEqual(self.count([STALLS, BALCONY], [AISLE]),
                         self.count([BALCONY, STALLS], [AISLE]))

    def test_an_aisle_of_the_stalls_leaves_the_balcony_whole(self):
        for block in (BALCONY, {**BALCONY, "level": "balcony"}):
            found = self.count([STALLS, block], [AISLE])
            self.assertEqual((found["Stalls"][1], found["Balcony"][1]), (162 - 9 * 2, 80))

    def test_an_aisle_of_a_level_is_cut_there_alone(self):
        found = self.count([STALLS, {**BALCONY, "level": "balcony"}], [{**AISLE, "level": "balcony"}])
        self.assertEqual(found, {"Stalls": ({"main floor"}, 162),
                                 "Balcony": ({"balcony"}, 80 - 4 * 2)})
        found = self.count([STALLS, BALCONY], [{**AISLE, "level": "level 2"}])
        self.assertEqual((found["Stalls"][1], found["Balcony"][1]), (162, 72))

    def test_two_levels_with_an_aisle_each(self):
        """Each aisle takes the seats that it touches, half a seat off its sides, on its own level alone."""
        west = {**AISLE, "name": "west", "level": "stalls", "polygon": [[2, 0], [3, 0], [3, 10], [2, 10]]}
        east = {**AISLE, "name": "east", "level": "circle", "polygon": [[9, 0], [10, 0], [10, 10], [9, 10]]}
        below, above = {**STALLS, "level": "stalls"}, {**BALCONY, "level": "circle"}
        found = {}
        for blocks, aisles in (([below, above], [west, east]), ([above, below], [east, west])):
            self.layout(blocks, aisles)
            for row in self.seats("--no-maps"):
                found.setdefault(row["block"], set()).add((row["level"], row["seat"], float(row["x_m"])))
        for block, level, n_row, n_seat, (low, high) in (("Stalls", "stalls", 9, 18, (2, 3)),
                                                         ("Balcony", "circle", 4, 20, (9, 10))):
            middles = [6 + 0.55 * (k - (n_seat - 1) / 2) for k in range(n_seat)]
            kept = sum(not low - 0.275 < x < high + 0.275 for x in middles)
            self.assertLess(kept, n_seat)
            self.assertEqual({where for where, _, _ in found[block]}, {level})
            self.assertEqual(len(found[block]), n_row * kept)
            self.assertEqual([x for _, _, x in found[block] if low - 0.27 < x < high + 0.27], [])

    def with_rail(self, path, **more):
        """What `check` says of a rail along a path, balcony and stalls given."""
        self.layout([STALLS, {**BALCONY, "level": "balcony"}], [])
        with open(os.path.join(self.temporary.name, "layout.yaml"), encoding="utf-8") as source:
            layout = json.load(source)
        layout["rails"] = [{"name": "front", "kind": "bar", "height": 1.1, "thickness": 0.04, "bars": 3,
                            "path": path, **more}]
        self.put("layout.yaml", layout)
        return self.run_here("check", "layout.yaml")

    def rail(self, path, **more):
        code, out, err = self.with_rail(path, **more)
        self.assertEqual((code, out), (0, "layout.yaml: layout, ok\n"))
        return [line.split("rails[1]: ")[1] for line in err.splitlines()]

    # The slab ends at y = 4.5, its top at 3.5 m; the first row's platform at y = 4.25, its top at 3.7 m.
    def test_rails_stand_on_what_carries_them(self):
        edge, stalls, out = [[0.1, 4.45], [11.9, 4.45]], [[0.1, 6], [11.9, 6]], [[6, 4.4], [6, 8]]
        for path in (edge, [[0.1, 4.7], [11.9, 4.7]]):  # a parapet may stand a little before the edge
            self.assertEqual(self.rail(path, foot=3.5), [])
            self.assertEqual(self.rail(path, level="balcony"), [])
        self.assertEqual(self.rail(stalls, level="main floor"), [])
        self.assertEqual(self.rail(stalls, foot=3.5), [
            "rail front hangs in the air for about 11.80 m, up to 3.50 m above what is under it"])
        self.assertEqual(self.rail(stalls, level="balcony"), [
            "rail front is on level balcony, but about 11.80 m of it stands up to 3.70 m below the lowest seat there"])
        # 15 pieces of 0.24 m; the middles of the first two are less than 0.32 m off the slab
        self.assertEqual(self.rail(out, foot=3.5), [
            "rail front hangs in the air for about 3.12 m, up to 3.50 m above what is under it"])

    def test_a_rail_through_the_wall_is_refused(self):
        for path in ([[0.1, 6], [12.2, 6]], [[0.1, -0.2], [11.9, 6]]):
            code, out, err = self.with_rail(path)
            self.assertEqual((code, out), (2, ""))
            self.assertIn(": rails[1]: rail front reaches outside the room's footprint; end it at the wall\n", err)
        self.assertEqual(self.with_rail([[0.1, 6], [12.09, 6]])[0], 0)

    def test_seats_on_the_stage_are_told(self):
        """Seats 0.55 m apart about x = 6: those less than 4 m from there are 14, from the third on."""
        self.layout([STALLS], [])
        with open(os.path.join(self.temporary.name, "layout.yaml"), encoding="utf-8") as source:
            text = source.read()
        self.put("layout.yaml", json.loads(text.replace("[[2, 12], [10, 12]", "[[2, 8.5], [10, 8.5]")))
        self.assertEqual(self.run_here("check", "layout.yaml")[2], "gradin: note: layout.yaml:1:312: focus[1]: 14 seats "
                         "stand inside focus area 'stage', the first of them Stalls-1-3\n")

    def test_an_aisle_where_nobody_sits_below_is_the_balconys(self):
        short = {**STALLS, "straight": {**STALLS["straight"], "rows": 5}}
        aisle = {**AISLE, "polygon": [[5.5, 0], [6.5, 0], [6.5, 4.4], [5.5, 4.4]]}
        found = self.count([short, BALCONY], [aisle])
        self.assertEqual((found["Stalls"][1], found["Balcony"][1]), (90, 72))

    def test_named_levels_come_lowest_first(self):
        self.layout([{**BALCONY, "level": "gallery"}, {**STALLS, "level": "parterre"}], [])
        by_name = {row["block"]: row["level"] for row in self.seats()}
        self.assertEqual(by_name, {"Balcony": "gallery", "Stalls": "parterre"})
        for sheet, level in ((1, b"parterre"), (2, b"gallery")):
            path = os.path.join(self.temporary.name, "out", f"rating-sheet{sheet}-{level.decode()}.png")
            with open(path, "rb") as source:
                self.assertIn(b"tEXtLevel\0" + level, source.read())

    def test_rows_of_a_balcony_do_not_end_at_an_aisle_below(self):
        """An aisle of the stalls beside the end of a balcony's row is no way out of it."""
        wide = {**BALCONY, "straight": {**BALCONY["straight"], "seats": 21}}
        aisles = [{**AISLE, "name": "west", "polygon": [[0, 0], [1.6, 0], [1.6, 12], [0, 12]]},
                  {**AISLE, "name": "east", "polygon": [[10.4, 0], [12, 0], [12, 12], [10.4, 12]]}]
        self.layout([STALLS, wide], aisles)
        code, out, _ = self.run_here("fit", "layout.yaml", "--json")
        self.assertEqual(code, 1)
        long_rows = json.loads(out)["long_rows"]
        self.assertEqual([row["first_seat"].rsplit("-", 2)[0] for row in long_rows], ["Balcony"] * 4)
        self.assertEqual([row["aisles"] for row in long_rows], [0] * 4)

    def test_what_cannot_be_drawn_is_refused(self):
        two = {**BALCONY, "name": "Upper", "level": "balcony", "base": 6.2, "riser": 0,
               "straight": {**BALCONY["straight"], "rows": 1}}
        venue = json.loads(json.dumps(VENUE))
        venue["room"]["solids"].append({"name": "upper slab", "kind": "slab", "bottom": 6.0,
                                        "top": 6.2,
                                        "polygon": [[0, 3], [12, 3], [12, 4.5], [0, 4.5]]})
        self.put("venue.yaml", venue)
        self.layout([STALLS, {**BALCONY, "level": "balcony"}, two], [])
        code, out, err = self.run_here("check", "layout.yaml")
        self.assertEqual((code, out), (2, ""))
        self.assertIn("Upper row 1 seat 1 stands over another seat of its level; give one of the "
                      "two another level", err)

    def test_an_aisle_of_no_level_is_refused(self):
        self.layout([STALLS, BALCONY], [{**AISLE, "level": "circle"}])
        code, out, err = self.run_here("check", "layout.yaml")
        self.assertEqual((code, out), (2, ""))
        self.assertIn("aisle long aisle is on level circle, on which no block has a seat", err)

    def test_a_rail_across_an_aisle_stands_on_the_platform(self):
        """Behind the last row of a raised block, aisle and all, as the crew sets it up."""
        block = dict(STALLS, riser=0.4, straight={"front": [6, 8], "facing_deg": 0, "rows": 4, "seats": 14})
        self.layout([block], [{"name": "middle aisle", "polygon": [[5.5, 4], [6.5, 4], [6.5, 9], [5.5, 9]]}])
        with open(os.path.join(self.temporary.name, "layout.yaml"), encoding="utf-8") as source:
            layout = json.load(source)
        layout["rails"] = [{"name": "back", "kind": "bar", "height": 1.1, "thickness": 0.04, "bars": 3,
                            "path": [[2.3, 4.9], [5.6, 4.9], [6.4, 4.9], [9.7, 4.9]]}]
        self.put("layout.yaml", layout)
        self.assertEqual(self.run_here("check", "layout.yaml"), (0, "layout.yaml: layout, ok\n", ""))


if __name__ == "__main__":
    unittest.main()
