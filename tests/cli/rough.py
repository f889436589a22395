"""Rough checks of a small hall given as two texts, each with changes: what `gradin fit` finds."""

import json
import math

import hall


def drawing(turn_deg, mirror, unit_m):
    """(at, shape, units): where a point and an outline of a hall lie when it is mirrored, turned clockwise and
    stated in another unit; the change that states the unit."""
    turn = math.radians(turn_deg)

    def at(x, y):
        x = mirror * x
        return [(x * math.cos(turn) + y * math.sin(turn)) / unit_m,
                (y * math.cos(turn) - x * math.sin(turn)) / unit_m]

    def shape(*corners):
        return str([at(x, y) for x, y in corners])

    return at, shape, ("units: m", "units: m" if unit_m == 1 else "units: ft")


class RoughTest(hall.HallTest):
    venue_text = layout_text = None
    may_turn_back = False  # rows of this hall face away from the stage; a note says so

    def write(self, more="", venue=(), layout=()):
        for name, text, changes in (("hall.yaml", self.venue_text, venue),
                                    ("plain.yaml", self.layout_text + more, layout)):
            for old, new in changes:
                self.assertIn(old, text)
                text = text.replace(old, new)
            with open(self.path(name), "w", encoding="utf-8") as out:
                out.write(text)

    def fit(self, more="", venue=(), layout=(), status=0, notes=""):
        self.write(more, venue, layout)
        code, out, err = self.run_here("fit", "plain.yaml", "--json")
        if self.may_turn_back:
            err = "".join(line for line in err.splitlines(True) if "has its back to the focus" not in line)
        self.assertEqual((code, err), (status, notes), out)
        return json.loads(out)
