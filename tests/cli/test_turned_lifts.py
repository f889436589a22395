"""A hall turned by any angle with its lifts has the same figures, edges and rake.

usage: test_turned_lifts.py GRADIN"""

import json
import math
import tempfile
import unittest

import hall
import test_symmetry
from test_symmetry import Plan, write


class Angled(Plan):
    """Turned clockwise by any angle: the lifts, too, lie at a bearing."""

    def __init__(self, deg):
        super().__init__()
        self.deg = deg

    def move(self, x, y):
        s, c = math.sin(math.radians(self.deg)), math.cos(math.radians(self.deg))
        return x * c + y * s, y * c - x * s

    def bearing(self, deg):
        return (deg + self.deg) % 360

    def lifts(self):
        return {"origin": self.point(6, 4), "bearing_deg": self.deg,
                "facings_deg": [self.bearing(deg) for deg in (0, 90, 180, 270)]}


def answer(plan, *arguments):
    """What a verb says of the case as JSON."""
    with tempfile.TemporaryDirectory() as folder:
        write(folder, plan)
        code, out, err = hall.run(*arguments, cwd=folder)
    if code not in (0, 1) or any(not line.startswith("gradin: note:") for line in err.splitlines()):
        raise AssertionError(f"exit status {code}: {err}")
    return json.loads(out)


class Turned(test_symmetry.Likeness):
    def test_any_turn_with_the_lifts(self):
        """37 degrees, and a bearing whose quarter turns are no round numbers in binary."""
        for deg in (37.0, 301.3):
            self.same(Angled(deg), False, ("rating", "reason"))  # of shares close to a limit

    def test_edges_of_lifts_at_a_bearing(self):
        """The same edges, as long and as high, each at its turned place."""
        plan = Angled(37.0)
        base, turned = (answer(p, "fit", "layout.yaml", "--json")["open_edges"]
                        for p in (Plan(), plan))
        of_lifts = [edge for edge in base if edge["at"].startswith("L-")]
        self.assertGreater(len(of_lifts), 4)
        self.assertEqual(len(turned), len(base))

        def ends(edge, move=lambda x, y: (x, y)):
            places = [move(edge[f"{end}_x_m"], edge[f"{end}_y_m"]) for end in ("from", "to")]
            return [value for place in sorted(places) for value in place]
        for edge in base:
            wanted = ends(edge, plan.move)
            near = min(turned, key=lambda other: math.dist(ends(other), wanted))
            self.assertLess(math.dist(ends(near), wanted), 0.01, edge)
            for key in ("low_m", "high_m", "drop_m", "length_m"):
                self.assertAlmostEqual(edge[key], near[key], delta=0.0021, msg=(edge, near))

    def test_a_rake_on_lifts_at_a_bearing(self):
        """Its rows, and the lifts that it sets."""
        base, turned = (answer(p, "rake", "layout.yaml", "--block", "Lifts", "--c", "0.06", "--out",
                               "out", "--json") for p in (Plan(), Angled(37.0)))
        self.assertGreater(len(base["rows"]), 1)
        self.assertEqual(len(base["rows"]), len(turned["rows"]))
        for old, new in zip(base["rows"], turned["rows"]):
            for key in ("d_m", "t_m", "riser_mm", "c_mm"):
                self.assertEqual(old[key] is None, new[key] is None)
                if old[key] is not None:
                    self.assertAlmostEqual(old[key], new[key], delta=1.01)
        self.assertIn("L-A1", json.dumps(base))
        self.assertEqual(*([word for word in json.dumps(rake).replace('"', " ").split()
                            if word.startswith("L-")] for rake in (base, turned)))


if __name__ == "__main__":
    unittest.main()
