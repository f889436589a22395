"""Halls that are hostile to a plan: pits beside people, power for one motor, a crew that is just enough, lifts
one at a time with stops on their way, two gangs and one store lift; and plans that are late at odd moments.
Each plan is held against its YAML by rules written a second time (support/plan_rules.py).

usage: test_hostile_plans.py GRADIN"""

import json
import os
import unittest

import hall
from test_plans import LAYOUT, VENUE, complaints, plan_rows

USUAL = {"speed": 0.02, "accel": 0.02, "prepare": 60, "lift_kw": 3, "lift_crew": 1, "at_once": 3, "people": 6, "power": 12,
         "rate_set": 20, "rate_strike": 30, "gang": 2, "load": 10, "load_s": 120, "store_kw": 3, "store_crew": 0}
FILL = "fill: {from: A-A1, to: A-D2, facing_deg: 0}"
STEPS = "terrace: {steps: 2, riser: 0.3, facing_deg: 0}"
START = "2027-03-04T22:30"


class Hostile(hall.HallTest):
    def make(self, venue, one, two, columns=4, rules="", terms=""):
        """Two layouts by their lines of lifts; `one` has seats on its lifts, `two` on fixed floor."""
        text = VENUE.format(**{**USUAL, **venue}, terms=terms).replace("columns: 4", f"columns: {columns}")
        text = text.replace("travel: [-2, 2],", "travel: [-2, 2], steps_max: 2, riser: [0, 0.45], facings_deg: [0],")
        self.put("venue", text + rules)
        self.put("flat", LAYOUT.format(name="Flat", stands="lifts", lifts=one, rows=FILL))
        self.put("raised", LAYOUT.format(name="Raised", stands="floor", lifts=two,
                                         rows="straight: {front: [6, 8.6], facing_deg: 0, rows: 2, seats: 8}"))

    def put(self, name, text):
        with open(os.path.join(self.folder, f"{name}.yaml"), "w", encoding="utf-8") as out:
            out.write(text)

    def hold(self, *more, ways=(("flat", "raised"), ("raised", "flat"))):
        found = {}
        for one, two in ways:
            rows = found[one] = plan_rows(self.folder, one, two, *more)
            start = START if "--start" in more else None
            self.assertEqual(complaints(self.folder, one, two, rows, "venue", start), [], f"{one} to {two} {more}")
        return found["flat"] if "flat" in found else rows

    def test_a_pit_beside_people(self):
        """Column E sinks 1.5 m below a floor on which nothing else moves; seats stand 0.3 m beside it."""
        self.make({}, "    - {from: A-A1, height: 0}", "    - {from: A-E1, to: A-E2, height: -1.5}", columns=5)
        rows = self.hold()
        pit = next(r for r in rows if r["kind"] == "machine")
        last = max(int(r["end_s"]) for r in rows if r["kind"] == "strike")
        self.assertEqual(pit["name"], "A-E1..E2 (2)")
        self.assertGreaterEqual(int(pit["start_s"]), last)

    def test_power_for_one_motor(self):
        self.make({"at_once": 4, "power": 3, "store_kw": 3}, "    - {from: A-A1, to: A-D2, height: 0.4}",
                  "    - {from: A-A1, height: 0}")
        self.hold()

    def test_a_crew_that_is_just_enough(self):
        self.make({"people": 3, "gang": 3, "lift_crew": 3}, "    - {from: A-A1, to: A-D2, height: 0.4}",
                  "    - {from: A-A1, to: A-B1, height: -0.4}")
        self.hold()
        self.make({"people": 3, "gang": 2, "store_crew": 1}, "    - {from: A-A1, to: A-D2, height: 0.4}",
                  "    - {from: A-A1, to: A-B1, height: -0.4}")
        rows = self.hold()
        self.assertTrue(all(r["store_people"] for r in rows if r["store_trips_s"]))

    def test_one_lift_at_a_time_with_stops(self):
        """D1 moves only while A1 is low; A1 makes treads in both layouts and goes flat on the way."""
        rule = "  interlocks:\n    - {name: D1 beside A1, machine: A-D1, while: A-A1, within: [-0.1, 0.1]}\n"
        self.make({"at_once": 1}, f"    - {{from: A-A1, height: 0.5, {STEPS}}}\n    - {{from: A-D1, height: 0.6}}",
                  f"    - {{from: A-A1, height: 0.8, {STEPS}}}\n    - {{from: A-D1, height: -0.6}}", rules=rule)
        rows = self.hold()
        self.assertEqual([r["name"] for r in rows if r["kind"] == "machine"], ["A-A1", "A-D1", "A-A1"])

    def test_two_gangs_and_one_store_lift(self):
        """Trips take longer than the work between them: the lift is what both gangs wait for."""
        self.make({"people": 4, "load": 4, "load_s": 600, "power": 3}, "    - {from: A-A1, to: A-D2, height: 0.4}",
                  "    - {from: A-A1, height: 0}")
        rows = self.hold()
        self.assertGreater(sum(r["kind"] == "strike" and bool(r["block"]) for r in rows), 1)

    def test_late_at_odd_moments(self):
        """In the middle of a move, on the second on which one begins or ends, in a break, after the end of all."""
        terms = '    breaks: [{name: rest, after_hours: 0.5, minutes: 20}]\n'
        self.make({}, "    - {from: A-A1, to: A-D2, height: 0.4}", "    - {from: A-A1, height: 0}", terms=terms)
        first = self.hold("--start", START, ways=(("flat", "raised"),))
        with open(os.path.join(self.folder, "plan", "changeover.json"), encoding="utf-8") as source:
            plan = json.load(source)
        stop, n = plan["stops"][0], len(first)
        ends = sorted(int(r["end_s"]) for r in first)
        for at_s in (stop["from_s"] + 600, stop["from_s"], stop["to_s"], ends[0], plan["total_s"] + 7200):
            at_s = -(-at_s // 60) * 60
            begun = sum(int(r["start_s"]) < at_s for r in first)
            move = min(begun + 1, n)
            rows = self.hold("--start", START, "--from-move", str(move), "--at",
                             f"{at_s // 3600}:{at_s % 3600 // 60:02d}", ways=(("flat", "raised"),))
            late = [r for r in rows if r["state"] == "planned"]
            self.assertEqual(len(late), n - move + 1)
            self.assertTrue(all(int(r["start_s"]) >= at_s for r in late), f"{at_s} s, move {move}")


if __name__ == "__main__":
    unittest.main(verbosity=1)
