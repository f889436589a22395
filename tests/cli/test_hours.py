"""Shifts and breaks in what asks for many changeovers: a programme, a choice and the matrix take as long as
`changeover --start` does with as many steps of search, and a plan that fits only without its breaks does not fit.

usage: test_hours.py GRADIN"""

import csv
import datetime
import json
import os
import unittest

import hall

LAYOUT = {"end stage": "end_stage", "thrust": "thrust", "in the round": "round", "flat floor": "flat_floor"}


HOURS = """    shifts: [{from: "08:00", to: "18:00"}, {from: "22:00", to: "08:00"}]
    breaks:
      - {name: meal, after_hours: 4, minutes: 45, paid: yes}
      - {name: rest, after_hours: 2, minutes: 15, paid: yes}
    steps: [{name: inspection, when: before_set, minutes: 20, crew: 2}, {name: sign-off, when: last, minutes: 10}]
"""


class Hours(hall.HallTest):
    def setUp(self):
        super().setUp()
        hall.change_people(self.folder, HOURS)

    def plan(self, one, two, start):
        code, text, err = hall.run("changeover", f"{one}.yaml", f"{two}.yaml", "--start", start, "--nodes", "1000", "--json",
                                   cwd=self.folder)
        self.assertEqual(code, 0, err)
        return json.loads(text)

    def test_breaks_take_time(self):
        plan = self.plan("thrust", "flat_floor", "2027-03-04T22:30")
        self.assertGreater(plan["total_s"], plan["work_s"])

    def test_a_programme(self):
        """Each changeover begins and ends as its own plan from that start does."""
        self.assertEqual(hall.run("programme", "march.yaml", "--out", "out", "--quiet", cwd=self.folder)[0], 0)
        with open(os.path.join(self.folder, "out", "programme.csv"), encoding="utf-8", newline="") as source:
            rows = list(csv.DictReader(source))
        before, n = "flat_floor", 0
        for row in rows:
            layout = LAYOUT[row["layout"]]
            if layout != before:
                begin, done = (datetime.datetime.fromisoformat(row[key]) for key in ("changeover_from", "changeover_to"))
                plan = self.plan(before, layout, begin.isoformat()[:16])
                self.assertEqual((done - begin).total_seconds(), plan["total_s"] // 60 * 60, row["show"])
                n += 1
            before = layout
        self.assertGreaterEqual(n, 3)

    def test_the_matrix(self):
        code, text, err = hall.run("changeover", "--matrix", "thrust.yaml", "flat_floor.yaml", "--start",
                                   "2027-03-04T22:30", "--json", cwd=self.folder)
        self.assertEqual(code, 0, err)
        for pair, (one, two) in zip(json.loads(text)["pairs"], (("thrust", "flat_floor"), ("flat_floor", "thrust"))):
            self.assertEqual(pair["total_s"], self.plan(one, two, "2027-03-04T22:30")["total_s"])
        code, text, _ = hall.run("changeover", "--matrix", "thrust.yaml", "flat_floor.yaml", cwd=self.folder)
        self.assertIn("Working time: the shifts and breaks of the venue are not in it", text)

    def choose(self, partner):
        path = os.path.join(self.folder, "quiet_play.yaml")
        with open(path, encoding="utf-8") as source:
            lines = source.read().split("\n")
        keep = [x for x in lines if not x.startswith(("quiet:", "performances:", "  - {for: events", "voice:", "shades:"))]
        keep = [partner if "layout: end_stage.yaml" in x else x for x in keep]
        with open(os.path.join(self.folder, "small.yaml"), "w", encoding="utf-8") as out:
            out.write("\n".join(keep))
        code, text, err = hall.run("choose", "small.yaml", "flat_floor.yaml", "--samples", "32", "--no-crews", "--json",
                                   cwd=self.folder)
        self.assertIn(code, (0, 1), err)
        return json.loads(text)["layouts"][0]

    def test_a_choice(self):
        """A changeover that fits into its window by working time, and not with its breaks; begun at the stated
        start, and at the worst beginning of a shift."""
        starts = {"22:00": [], "08:00": []}
        for start, found in starts.items():
            found += [self.plan(*way, f"2027-03-04T{start}") for way in (("thrust", "flat_floor"), ("flat_floor", "thrust"))]
        longest = max(p["total_s"] for p in starts["22:00"])
        work = max(p["work_s"] for p in starts["22:00"])
        self.assertGreater(longest, work + 1800)
        hours = (work + 900) / 3600
        made = self.choose(f'  - {{name: Play, layout: thrust.yaml, hours: {hours:.3f}, start: "22:00"}}')
        self.assertEqual(made["changeovers"][0]["into_s"], starts["22:00"][0]["total_s"])
        self.assertEqual(made["changeovers"][0]["back_s"], starts["22:00"][1]["total_s"])
        self.assertIn("lacks it", [m["verdict"] for m in made["must"] if m["partner"] == "Play"])
        made = self.choose(f"  - {{name: Play, layout: thrust.yaml, hours: {hours:.3f}}}")
        self.assertEqual(made["changeovers"][0]["back_s"], max(starts[s][1]["total_s"] for s in starts))


if __name__ == "__main__":
    unittest.main(verbosity=1)
