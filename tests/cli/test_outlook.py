"""gradin outlook on the demo's second hall with glass in two of its walls: the same figures when all is
mirrored, turned and written in metres; and points that are refused.

usage: test_outlook.py GRADIN"""

import json
import os
import tempfile
import unittest

import hall
import test_moved_halls
from hall import plain

POINTS = [("west pavement", -15.0, 70.0, 5.5), ("north window", 40.0, 110.0, 20.0),
          ("corner", -10.0, 40.0, 5.5), ("east pavement", 100.0, 20.0, 5.5)]
GLASS = {"buildups": [{"name": "glass", "layers": [{"glass_mm": 6}]}],
         "glazing": [{"name": "west", "start": [2.5, 47.63], "bearing_deg": 30, "count": 4,
                      "width": 10, "height": 12, "sill": 2, "buildup": "glass"},
                     {"name": "north", "start": [30, 86.6], "bearing_deg": 90, "count": 5, "width": 8,
                      "height": 20, "sill": 3, "buildup": "glass"}]}


class Turn(test_moved_halls.Turn):
    def value(self, key, item):
        return item if key == "glass_mm" else super().value(key, item)

    def whole(self, item):
        return super().whole({**item, "facade": GLASS} if "room" in item else item)

    def outlook(self, points=None):
        """The outlook's JSON; its seats by their place in the table of the moved hall."""
        with tempfile.TemporaryDirectory() as folder:
            self.write(folder)
            with open(os.path.join(folder, "street.csv"), "w", encoding="utf-8") as out:
                out.write("name,x,y,z\n")
                for name, x, y, z in points or POINTS:
                    x, y = self.point((x, y))
                    out.write(f"{name},{x:.9f},{y:.9f},{z * self.unit:.9f}\n")
            code, text, err = hall.run("outlook", f"{self.layout}.yaml", "--from", "street.csv", "--out",
                                       "out", "--no-maps", "--json", cwd=folder)
            return code, json.loads(text) if text else None, err, os.listdir(folder)


def sums(made):
    return (sorted(seat["open_glass_pct"] for seat in made["seats"]),
            sorted(seat["glass_ahead_pct"] for seat in made["seats"]))


class Moved(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.base = Turn().outlook()[1]

    def test_the_hall_has_what_is_compared(self):
        kinds = {by["seen"] for seat in self.base["seats"] for by in seat["seen_from"]}
        self.assertEqual(kinds, {"seen", "partly"})
        self.assertTrue(any(point["seats_hidden"] for point in self.base["points"]))
        self.assertGreater(self.base["median_open_glass_pct"], 0.5)
        self.assertTrue(any(10 < area["standing_pct"] < 90
                            for point in self.base["points"] for area in point["focus"]))

    def same(self, ahead_slack, **turned):
        code, made, err, _ = Turn(**turned).outlook()
        self.assertEqual(code, 0, err)
        self.assertAlmostEqual(made["open_m2"], self.base["open_m2"], delta=0.011)
        for new, old, slack in zip(sums(made), sums(self.base), (0.5, ahead_slack)):
            self.assertEqual(len(new), len(old))
            self.assertLessEqual(max(abs(a - b) for a, b in zip(new, old)), slack)
        for new, old in zip(made["points"], self.base["points"], strict=True):
            self.assertAlmostEqual(new["from_wall_m"], old["from_wall_m"], delta=0.0011)
            for key in ("seats_seen", "seats_partly", "seats_hidden"):
                self.assertLessEqual(abs(new[key] - old[key]), 3, (new["name"], key))
            for a, b in zip(new["focus"], old["focus"], strict=True):
                self.assertAlmostEqual(a["seen_pct"], b["seen_pct"], delta=1.5)
                self.assertAlmostEqual(a["standing_pct"], b["standing_pct"], delta=1.5)

    def test_mirror_image_turned(self):
        self.same(0.11, mirror=True, deg=37.0)

    def test_feet_and_metres(self):
        self.same(0.11, units="m", unit=0.3048)


class Blind(unittest.TestCase):
    def test_a_hall_without_glass_says_so(self):
        with tempfile.TemporaryDirectory() as folder:
            hall.copy_demo(folder)
            with open(os.path.join(folder, "road.csv"), "w", encoding="utf-8") as out:
                out.write("name,x,y,z\nroad,-30,40,5\n")
            code, out, _ = hall.run("outlook", "hexagon_stage.yaml", "--from", "road.csv", "--out", "o",
                                    cwd=folder)
        self.assertEqual(code, 0)
        self.assertIn("The hall has no glass: nothing is seen through its walls.\n", out)
        self.assertNotIn("Glass that lets see through", out)


class Refused(unittest.TestCase):
    def test_a_point_inside_the_room(self):
        code, made, err, left = Turn().outlook(POINTS[:1] + [("foyer", 50.0, 40.0, 5.0)])
        self.assertEqual((code, made, "out" in left), (2, None, False))
        self.assertEqual(err, "street.csv:3:1: foyer lies inside the room; a point outside its walls is "
                              "needed\n")


if __name__ == "__main__":
    plain.main()
