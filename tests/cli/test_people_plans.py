"""A changeover as people work it: shifts, meals, rests and steps of small random venues held against the YAML
by rules written a second time; contingency against formulas and against a simulation of the test's own; the
rest planned again after a delay.

usage: test_people_plans.py GRADIN"""

import copy
import json
import math
import os
import random
import unittest

import hall
import plan_rules
from plan_hours import Hours
from test_plans import complaints, draw_hall, plan_rows

N_RANDOM = 150
START = "2027-03-04T22:30"


def draw_terms(draw):
    """Lines of machines.crew: long shifts, so that every machine's move fits into one."""
    lines = []
    if draw.random() < 0.5:
        lines.append(f'shifts: [{{from: "{draw.choice(["20:00", "22:00"])}", to: "{draw.choice(["04:00", "06:30"])}"}}]')
    rests = [r for r in ('{name: meal, at: "23:45", minutes: 40}', '{name: rest, after_hours: 1.5, minutes: 15}',
                         '{name: supper, after_hours: 4, minutes: 30, paid: yes}') if draw.random() < 0.6]
    if rests:
        lines.append(f"breaks: [{', '.join(rests)}]")
    steps = [f"{{name: {name}, when: {when}, minutes: {draw.choice([5, 12, 20])}, crew: {draw.choice([1, 2])}}}"
             for name, when in (("briefing", "first"), ("lock-out", "before_machines"), ("look", "before_set"),
                                ("release", "after_machines"), ("sign-off", "last")) if draw.random() < 0.5]
    if steps:
        lines.append(f"steps: [{', '.join(steps)}]")
    if draw.random() < 0.5:
        lines.append("contingency: {strike: [0.9, 1, 1.3], machines: [1, 1, 1.8], set: [0.8, 1, 1.5]}")
    return "".join(f"    {line}\n" for line in lines)


def read_plan(folder):
    with open(os.path.join(folder, "plan", "changeover.json"), encoding="utf-8") as source:
        return json.load(source)


class Random(hall.HallTest):
    def check(self, one, two, *more):
        rows = plan_rows(self.folder, one, two, "--start", START, *more)
        plan = read_plan(self.folder)
        self.assertEqual(complaints(self.folder, one, two, rows, "venue", START), [], f"{one} to {two} {more}")
        self.assertEqual(max(int(r["end_s"]) for r in rows), plan["total_s"])
        self.check_stops(plan, plan_rules.load(os.path.join(self.folder, "venue.yaml")))
        return rows, plan

    def check_stops(self, plan, venue):
        """Stops are exactly the minutes in which nobody works, and work is the rest."""
        hours = Hours(venue["machines"]["crew"], START)
        stopped = sum(s["to_s"] - s["from_s"] for s in plan["stops"])
        self.assertEqual(hours.work_s(0, plan["total_s"]), plan["work_s"])
        self.assertEqual(plan["total_s"] - stopped, plan["work_s"])
        for stop in plan["stops"]:
            self.assertEqual(hours.work_s(stop["from_s"], stop["to_s"]), 0)

    def check_late(self, one, two, rows, plan):
        """All from a move on as late as its float: in working time, so only what starts by itself is shifted."""
        hours = Hours(plan_rules.load(os.path.join(self.folder, "venue.yaml"))["machines"]["crew"], START)
        late = copy.deepcopy(rows)
        for row in late:
            by = int(row["float_s"])
            for key in ("start_s", "end_s"):
                is_start = key == "start_s"
                work = hours.work_s(0, int(row[key])) + by
                row[key] = str(hours.clock_end(work + 1) - 1 if is_start else hours.clock_end(work))
            row["store_trips_s"] = " ".join(str(hours.clock_end(hours.work_s(0, int(t)) + by + 1) - 1)
                                            for t in row["store_trips_s"].split())
            row["people"] = row["gang"] = ""
        found = [c for c in complaints(self.folder, one, two, late, "venue", START) if not c.startswith("gangs")]
        self.assertEqual(found, [], f"{one} to {two}, late")
        self.assertEqual(max(int(r["end_s"]) for r in late), plan["total_s"])

    def test_small_venues(self):
        draw = random.Random(5)
        for number in range(N_RANDOM):
            draw_hall(draw, self.folder, draw_terms(draw))
            one, two = (("flat", "raised"), ("raised", "flat"))[number % 2]
            rows, plan = self.check(one, two)
            if number % 4 == 0:
                self.check_late(one, two, rows, plan)
            if number % 3 == 0:
                self.check_again(one, two, rows, draw)

    def check_again(self, one, two, rows, draw):
        """What had begun stays, all else begins then or later."""
        number = draw.randrange(2, len(rows) + 1)
        minutes = int(rows[number - 1]["start_s"]) // 60 + draw.choice([1, 45, 130])
        again, plan = self.check(one, two, "--from-move", str(number), "--at", f"{minutes // 60}:{minutes % 60:02d}")
        at_s = minutes * 60
        key = lambda r: (r["name"], r["kind"], r["task"])  # noqa: E731
        begun = {key(r): r for r in rows[:number - 1]}
        for row in again:
            if row["state"] == "planned":
                self.assertGreaterEqual(int(row["start_s"]), at_s)
                continue
            was = begun.pop(key(row))
            self.assertEqual((row["start_s"], row["end_s"]), (was["start_s"], was["end_s"]))
            self.assertEqual(row["state"], "done" if int(was["end_s"]) <= at_s else "running")
        self.assertEqual(begun, {})
        self.assertEqual(plan["again"], {"from_move": number, "at_s": at_s})


CHAIN = "    contingency: {strike: [0.8, 1, 1.5], set: [0.9, 1.1, 2]}\n"


class Contingency(hall.HallTest):
    def small(self, seed, terms, changes=()):
        draw_hall(random.Random(seed), self.folder, terms)
        path = os.path.join(self.folder, "venue.yaml")
        with open(path, encoding="utf-8") as source:
            text = source.read()
        for old, new in changes:
            self.assertIn(old, text)
            text = text.replace(old, new)
        with open(path, "w", encoding="utf-8") as out:
            out.write(text)

    def plan(self, one, two, *more):
        plan_rows(self.folder, one, two, *more)
        return read_plan(self.folder)

    def test_a_single_chain_by_formula(self):
        """One gang takes seats off the floor and sets them elsewhere on it: moves one after another. A triangle's
        mean is (a + b + c) / 3, its variance (a2 + b2 + c2 - ab - ac - bc) / 18; sums of both hold for a chain."""
        self.small(3, CHAIN, ((", stored: yes", ""), ("people: ", "rail_crew: 1\n    people: 1 # ")))
        with open(os.path.join(self.folder, "venue.yaml"), encoding="utf-8") as source:
            text = source.read()
        gang = text.index("         crew: ")
        text = text[:gang] + "         crew: 1" + text[text.index(",", gang):]
        with open(os.path.join(self.folder, "venue.yaml"), "w", encoding="utf-8") as out:
            out.write(text)
        with open(os.path.join(self.folder, "flat.yaml"), encoding="utf-8") as source:
            text = source.read()
        with open(os.path.join(self.folder, "moved.yaml"), "w", encoding="utf-8") as out:
            out.write(text.replace("front: [6, 6]", "front: [6, 5.5]").replace("name: Flat", "name: Moved"))
        plan = self.plan("flat", "moved")
        moves = sorted(plan["moves"], key=lambda m: m["start_s"])
        self.assertGreaterEqual(len(moves), 2)
        for first, second in zip(moves, moves[1:]):
            self.assertEqual(first["end_s"], second["start_s"])
        mean = variance = 0.0
        for move in moves:
            a, c, b = {"strike": (0.8, 1, 1.5), "set": (0.9, 1.1, 2)}[move["kind"]]
            mean += move["duration_s"] * (a + b + c) / 3
            variance += move["duration_s"]**2 * (a * a + b * b + c * c - a * b - a * c - b * c) / 18
        late = plan["contingency"]
        self.assertAlmostEqual(late["mean_s"], mean, delta=4 * math.sqrt(variance / late["draws"]))
        self.assertAlmostEqual(late["deviation_s"], math.sqrt(variance), delta=0.04 * math.sqrt(variance))

    def simulate(self, plan, spread, hours, draws=3000):
        """The plan run by its links, drawn by this test's own generator."""
        draw, totals = random.Random(1), []
        trip_s = plan["store_trip_s"]
        parts = sorted([(m["start_s"], 0, k, None) for k, m in enumerate(plan["moves"], 1)] +
                       [(t, 1, k, n) for k, m in enumerate(plan["moves"], 1)
                        for n, t in enumerate(m["store_trips_s"], 1)], key=lambda p: p[:3])
        before = {}
        for link in plan["links"]:
            before.setdefault((link["then"], link["then_trip"]), []).append((link["first"], link["first_trip"]))
        for _ in range(draws):
            factor = {k: draw.triangular(s[0], s[2], s[1]) if (s := spread.get(m["kind"])) else 1
                      for k, m in enumerate(plan["moves"], 1)}
            end, start = {}, {}
            for at, _, k, trip in parts:
                move = plan["moves"][k - 1]
                t = max([end[p] for p in before.get((k, trip), [])], default=0)
                if trip:
                    t = max(t, start[k] + (at - move["start_s"]) * factor[k])
                    end[k, trip] = t + trip_s * factor[k]
                    end[k, None] = max(end[k, None], end[k, trip])
                else:
                    start[k] = t
                    end[k, None] = t + move["duration_s"] * factor[k]
            total = max(end.values())
            totals.append(hours.clock_end(math.ceil(total)) if hours else total)
        return sorted(totals)

    def hold(self, plan, totals):
        late = plan["contingency"]
        for share in (50, 80, 95):
            slack = 3.0 * math.sqrt(share * (100 - share) / len(totals)) + 0.5
            low, high = (totals[max(0, min(len(totals) - 1, int(len(totals) * (share + by) / 100)))]
                         for by in (-slack, slack))
            self.assertLessEqual(low - 3, late[f"within_{share}_s"])
            self.assertGreaterEqual(high + 3, late[f"within_{share}_s"])
        mean = sum(totals) / len(totals)
        self.assertAlmostEqual(late["mean_s"], mean, delta=4 * late["deviation_s"] / math.sqrt(len(totals)) + 2)

    def test_a_network_by_a_simulation_of_its_own(self):
        spread = {"strike": (0.9, 1, 1.3), "machine": (1, 1, 1.8), "set": (0.8, 1, 1.5)}
        terms = "    contingency: {strike: [0.9, 1, 1.3], machines: [1, 1, 1.8], set: [0.8, 1, 1.5]}\n"
        for seed in (4, 9):
            self.small(seed, terms)
            plan = self.plan("raised", "flat")
            self.hold(plan, self.simulate(plan, spread, None))

    def test_the_clock_of_drawn_nights(self):
        """Seats only, so that no machine waits for a break: drawn totals on the clock, rests and all."""
        terms = ('    contingency: {strike: [0.8, 1, 1.5], set: [0.9, 1.1, 2]}\n'
                 '    breaks: [{name: rest, after_hours: 0.25, minutes: 20}]\n')
        self.small(3, terms, ((", stored: yes", ""),))
        with open(os.path.join(self.folder, "flat.yaml"), encoding="utf-8") as source:
            text = source.read()
        with open(os.path.join(self.folder, "moved.yaml"), "w", encoding="utf-8") as out:
            out.write(text.replace("front: [6, 6]", "front: [6, 5.5]").replace("name: Flat", "name: Moved"))
        without = self.plan("flat", "moved")
        plan = self.plan("flat", "moved", "--start", START)
        venue = plan_rules.load(os.path.join(self.folder, "venue.yaml"))
        self.assertGreater(len(plan["stops"]), 0)
        hours = Hours(venue["machines"]["crew"], START)
        self.hold(plan, self.simulate(without, {"strike": (0.8, 1, 1.5), "set": (0.9, 1.1, 2)}, hours))

    def test_the_same_bytes_with_any_threads(self):
        self.small(4, CHAIN)
        texts = {hall.run("changeover", "raised.yaml", "flat.yaml", "--json", cwd=self.folder,
                          env={"OMP_NUM_THREADS": n})[1] for n in ("1", "2", "5")}
        self.assertEqual(len(texts), 1)

    def test_what_is_said_of_the_gap(self):
        """A gap that the plan just fits: no contingency is said to be none, a stated one says the chance."""
        self.small(4, "")
        total_s = self.plan("raised", "flat")["total_s"]
        gap = ["--gap", repr((total_s + 60) / 3600)]
        code, text, _ = hall.run("changeover", "raised.yaml", "flat.yaml", *gap, cwd=self.folder)
        self.assertEqual(code, 0)
        self.assertIn("it fits, with 0:01 h to spare, if nothing takes longer than stated", hall.flat(text))
        self.assertIn("contingency none is stated", hall.flat(text))
        self.small(4, CHAIN)
        code, text, _ = hall.run("changeover", "raised.yaml", "flat.yaml", *gap, cwd=self.folder)
        plan = json.loads(hall.run("changeover", "raised.yaml", "flat.yaml", *gap, "--json", cwd=self.folder)[1])
        self.assertEqual((code, plan["keeps_gap"], plan["fits_gap"]), (1, False, True))
        self.assertLess(plan["contingency"]["in_gap_pct"], 80)
        self.assertIn(f"but only in {math.floor(plan['contingency']['in_gap_pct'])} of 100 drawn nights",
                      hall.flat(text))
        wide = ["--gap", repr((plan["contingency"]["within_95_s"] + 60) / 3600)]
        code, text, _ = hall.run("changeover", "raised.yaml", "flat.yaml", *wide, cwd=self.folder)
        self.assertEqual(code, 0, text)


class Tampered(hall.HallTest):
    """Edits of a good plan, each caught by its own rule."""

    def test_each(self):
        terms = ('    breaks: [{name: rest, after_hours: 0.25, minutes: 15}]\n'
                 '    steps: [{name: lock-out, when: before_machines, minutes: 5}, '
                 '{name: sign-off, when: last, minutes: 5}]\n')
        draw_hall(random.Random(6), self.folder, terms)
        rows = plan_rows(self.folder, "raised", "flat", "--start", START)
        self.assertEqual(complaints(self.folder, "raised", "flat", rows, "venue", START), [])
        stop = read_plan(self.folder)["stops"][0]
        machine = next(k for k, r in enumerate(rows) if r["kind"] == "machine")
        step = next(k for k, r in enumerate(rows) if r["name"] == "lock-out")

        def begin(k, at):
            def edit(found):
                length = int(found[k]["duration_s"])
                found[k].update(start_s=str(at), end_s=str(at + length), store_trips_s="")
            return edit
        for rule, edit in (("hours", begin(machine, stop["from_s"] - 1)), ("line", begin(machine, stop["from_s"] - 1)),
                           ("hours", begin(machine, stop["from_s"] + 5)), ("steps", lambda found: found.pop(step)),
                           ("steps", begin(step, int(rows[-1]["end_s"]))),
                           ("steps", lambda found: found[step].update(crew="2", people="A1-A2"))):
            found = copy.deepcopy(rows)
            edit(found)
            said = complaints(self.folder, "raised", "flat", found, "venue", START)
            self.assertTrue(any(x.startswith(f"{rule}:") for x in said), f"{rule}: {said}")


class Papers(hall.HallTest):
    """The calendar and the cue sheets beside the table."""

    def make(self, *more):
        draw_hall(random.Random(6), self.folder, '    breaks: [{name: "rest, tea; all", after_hours: 0.5, minutes: 15}]\n')
        rows = plan_rows(self.folder, "raised", "flat", *more)
        return rows, hall.read_bytes(os.path.join(self.folder, "plan"))

    def test_a_calendar_after_rfc_5545(self):
        rows, files = self.make("--start", START)
        raw = files["moves.ics"]
        self.assertTrue(raw.startswith(b"BEGIN:VCALENDAR\r\n") and raw.endswith(b"END:VCALENDAR\r\n"))
        self.assertLessEqual(max(map(len, raw.split(b"\r\n"))), 75)  # 3.1, octets
        self.assertNotIn(b"\n", raw.replace(b"\r\n", b""))
        lines = raw.decode().replace("\r\n ", "").split("\r\n")
        n_stop = len(read_plan(self.folder)["stops"])
        self.assertEqual(lines.count("BEGIN:VEVENT"), len(rows) + n_stop)
        ids = [line for line in lines if line.startswith("UID:")]
        self.assertEqual(len(set(ids)), len(rows) + n_stop)  # 3.8.4.7
        self.assertIn(r"SUMMARY:rest\, tea\; all", lines)  # 3.3.11
        for key, column in (("DTSTART:", "start"), ("DTEND:", "end")):
            times = [line[len(key):] for line in lines if line.startswith(key)]
            for row in rows:
                self.assertIn(row[column].replace("-", "").replace(":", ""), times)
        self.assertNotIn("moves.ics", self.make()[1])

    def test_cue_sheets(self):
        first, second = self.make("--start", START)[1]["cues.pdf"], self.make("--start", START)[1]["cues.pdf"]
        self.assertEqual(first, second)
        self.assertTrue(first.startswith(b"%PDF-") and first.rstrip().endswith(b"%%EOF"))
        self.assertIn(b"(19700101000000Z)", first)
        self.assertIn(b"[ 0 0 595.275", first)  # 210 mm x 297 mm in points, ISO 216


class Refused(hall.HallTest):
    def expect(self, text, *arguments):
        code, out, err = hall.run("changeover", "thrust.yaml", "flat_floor.yaml", *arguments, cwd=self.folder)
        self.assertEqual((code, out), (2, ""), err)
        self.assertIn(text, hall.flat(err))

    def test_times(self):
        self.expect("--start needs a date and time such as", "--start", "2027-02-30T22:30")
        self.expect("--start needs", "--start", "22:30")
        self.expect("--at needs --from-move", "--at", "2:30")
        self.expect("--from-move needs --at", "--from-move", "3")
        for text in ("2:70", "2.5", "-1:00", "2027-03-04T22:30"):
            self.expect("--at needs hours and minutes", "--from-move", "3", f"--at={text}")
        self.expect("--at needs", "--start", START, "--from-move", "3", "--at", "2027-03-04T22:29")

    def test_moves(self):
        self.expect("so no move 300", "--from-move", "300", "--at", "1:00")
        self.expect("starts later than that", "--from-move", "20", "--at", "1:00")


if __name__ == "__main__":
    unittest.main(verbosity=1)
