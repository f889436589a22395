"""gradin programme: a run of three shows against all choices, worked out here from `changeover --json`
alone; what cannot be had; the calendar by the rules of RFC 5545; what is refused."""

import csv
import datetime
import itertools
import json
import os
import re
import tempfile
import unittest

import hall

HOUR = 30.0
FACTOR = 1.5
HEAD = """format: gradin-programme-1
units: m
name: Invented days
layouts:
  - {name: thrust, file: thrust.yaml}
  - {name: "flat, cleared; all", file: flat_floor.yaml}
clear_minutes: 30
ready_minutes: 90
margin_minutes: 15
night: {from: "22:00", to: "06:00", factor: 1.5}
hour_cost: 30
shows:
"""
FLAT = "flat, cleared; all"
SHOWS = [("Play", "2027-03-02T19:30", "2027-03-02T22:00", "thrust"),
         ("Ball", "2027-03-03T08:00", "2027-03-03T23:00", FLAT),
         ("Late play", "2027-03-05T19:00", "2027-03-05T21:00", None)]


def shows(rows, extra=""):
    return "".join(f'  - {{name: {name}, start: "{start}", end: "{end}"'
                   + (f', layouts: ["{layout}"]' if layout else "") + f"{extra}}}\n"
                   for name, start, end, layout in rows)


def time(text):
    return datetime.datetime.fromisoformat(text)


def night_s(begin, end):
    """Seconds of [begin, end) from 22:00 to 06:00, one night after the other."""
    total = 0.0
    night = begin.replace(hour=22, minute=0, second=0) - datetime.timedelta(days=1)
    while night < end:
        total += max((min(end, night + datetime.timedelta(hours=8)) - max(begin, night))
                     .total_seconds(), 0.0)
        night += datetime.timedelta(days=1)
    return total


class Programme(unittest.TestCase):
    def setUp(self):
        temporary = tempfile.TemporaryDirectory()
        self.addCleanup(temporary.cleanup)
        self.folder = temporary.name
        hall.copy_demo(self.folder)
        hall.change_people(self.folder)  # breaks and shifts: test_hours.py

    def write(self, text):
        with open(os.path.join(self.folder, "days.yaml"), "w", encoding="utf-8") as out:
            out.write(text)

    def run_verb(self, *options):
        return hall.run("programme", "days.yaml", *options, cwd=self.folder)

    def planned(self, text, status=0):
        self.write(text)
        code, out, err = self.run_verb("--json")
        self.assertEqual((code, err), (status, ""))
        return json.loads(out)

    def moves(self, start, end):
        code, out, _ = hall.run("changeover", start, end, "--nodes", "1000", "--json", cwd=self.folder)
        self.assertEqual(code, 0)
        return json.loads(out)

    def cost(self, plan, begin):
        """By day, and what the night adds, of the moves begun at this time."""
        hours = night = 0.0
        for m in plan["moves"]:
            start = begin + datetime.timedelta(seconds=m["start_s"])
            end = start + datetime.timedelta(seconds=m["duration_s"])
            hours += m["crew"] * (end - start).total_seconds() / 3600
            night += m["crew"] * night_s(start, end) / 3600
        return HOUR * (hours + (FACTOR - 1) * night)

    def test_the_head_has_the_programme_and_the_hall_on_lines_of_their_own(self):
        self.write(HEAD + shows(SHOWS))
        code, out, err = self.run_verb()
        self.assertEqual((code, err), (0, ""))
        self.assertEqual(out.splitlines()[:3], ["Invented days", "Quillon Hall (invented)", ""])

    def test_the_least_of_all_choices(self):
        made = self.planned(HEAD + shows(SHOWS))
        there, back = (self.moves("thrust.yaml", "flat_floor.yaml"),
                       self.moves("flat_floor.yaml", "thrust.yaml"))
        # Flat stays for the last show: nothing has to be moved. The night decides the one that must be.
        self.assertEqual([s["layout"] for s in made["shows"]], ["thrust", FLAT, FLAT])
        change = made["shows"][1]["changeover"]
        window = time("2027-03-02T22:30"), time("2027-03-03T06:15")
        self.assertEqual((time(change["window_from"]), time(change["window_to"])), window)
        length = datetime.timedelta(seconds=there["total_s"])
        begins = [window[0]] + [window[0].replace(minute=0) + datetime.timedelta(minutes=15 * k)
                                for k in range(3, 40)]
        fitting = [b for b in begins if b + length <= window[1]]
        self.assertGreater(len(fitting), 2)
        least = min(self.cost(there, b) for b in fitting)
        self.assertAlmostEqual(change["cost"], least, delta=0.06)
        self.assertAlmostEqual(made["cost"], least, delta=0.06)
        # Wished back to thrust for the last one: both ways, the second by day.
        rows = SHOWS[:2] + [SHOWS[2][:3] + ("thrust",)]
        made = self.planned(HEAD + shows(rows))
        self.assertEqual(made["changeovers"], 2)
        by_day = self.cost(back, time("2027-03-04T08:00"))
        self.assertAlmostEqual(made["cost"], least + by_day, delta=0.06)
        self.assertEqual(made["shows"][2]["changeover"]["night_hours"], 0.0)

    def test_what_cannot_be_had(self):
        rows = [SHOWS[0], ("Ball", "2027-03-02T23:00", "2027-03-03T01:00", FLAT)]
        made = self.planned(HEAD + shows(rows), status=1)
        short = made["shows"][1]["changeover"]["short_s"]
        self.assertEqual(made["clashes"], 1)
        # From 22:30 to 23:00 less 105 minutes: no window at all.
        total = self.moves("thrust.yaml", "flat_floor.yaml")["total_s"]
        self.assertEqual(short, total + 75 * 60)
        self.assertIn("the changeover from thrust takes", made["shows"][1]["clash"])
        self.assertEqual(made["free_day"], {"before": "Ball", "saved_clashes": 1,
                                            "saved_short_s": short,
                                            "saved_cost": made["free_day"]["saved_cost"]})
        code, out, _ = self.run_verb()
        self.assertEqual(code, 1)
        self.assertIn("Not as asked: 1 of what the shows need cannot be had.", out)
        self.assertNotIn("Every show can be had", out)
        self.assertIn("Sightlines and noise are not looked at", hall.flat(out))
        self.assertIn(" of them at night", out)
        self.planned(HEAD.replace('night: {from: "22:00", to: "06:00", factor: 1.5}\n', "") + shows(rows),
                     status=1)
        self.assertNotIn("at night", self.run_verb()[1])
        # Three days of margin: a day more is too little, and is worth a day of what is missing.
        wide = HEAD.replace("margin_minutes: 15", "margin_minutes: 4320")
        made = self.planned(wide + shows(rows), status=1)
        self.assertEqual(made["free_day"], {"before": "Ball", "saved_clashes": 0, "saved_short_s": 86400,
                                            "saved_cost": made["free_day"]["saved_cost"]})
        code, out, _ = self.run_verb()
        self.assertIn("One day more before Ball would save 24:00 h of what is missing.", out)
        made = self.planned(HEAD + shows(SHOWS[:1], ", seats: 9000"), status=1)
        self.assertRegex(made["shows"][0]["clash"], r"^needs 9000 seats; its layouts have at most 558$")
        made = self.planned(HEAD + shows(SHOWS[:1], ", wheelchairs: 99"), status=1)
        self.assertRegex(made["shows"][0]["clash"], r"^needs 99 places for wheelchairs; .* most \d+$")

    def test_a_way_that_no_order_of_moves_leads_is_a_clash(self):
        # The tower may stand out only low (the demo's own rule), and slide only when it is up.
        hall.copy_demo(self.folder, [("hall.yaml", "    - {name: W2 slides only low,",
                                      "    - {name: W2 slides when up, machine: W2 slide, while: W2 hoist, "
                                      "within: [1, 8]}\n    - {name: W2 slides only low,")])
        hall.change_people(self.folder)
        rows = [SHOWS[0], ("Ball", "2027-03-05T08:00", "2027-03-05T23:00", FLAT)]
        made = self.planned(HEAD + shows(rows), status=1)
        self.assertEqual((made["clashes"], made["changeovers"], made["shows"][1]["changeover"]), (1, 0, None))
        self.assertIn("no changeover leads here from thrust: no order of moves keeps every rule: W2",
                      made["shows"][1]["clash"])
        code, out, _ = self.run_verb("--out", "out")
        self.assertEqual(code, 1)
        self.assertIn("Ball: no changeover leads here from thrust", hall.flat(out))
        self.assertIn("no way", out)
        with open(os.path.join(self.folder, "out", "programme.csv"), encoding="utf-8", newline="") as table:
            row = list(csv.DictReader(table))[1]
        self.assertEqual((row["changeover_from"], row["layout"]), ("", FLAT))
        self.assertIn("no order of moves", row["clash"])
        # Any layout will do: then nothing is changed, and nothing clashes.
        made = self.planned(HEAD + shows([SHOWS[0], ("Ball", *rows[1][1:3], None)]))
        self.assertEqual([s["layout"] for s in made["shows"]], ["thrust", "thrust"])

    def test_a_calendar_after_rfc_5545(self):
        self.write(HEAD + shows(SHOWS))
        self.assertEqual(self.run_verb("--quiet", "--out", "out"), (0, "", ""))
        with open(os.path.join(self.folder, "out", "programme.ics"), "rb") as source:
            raw = source.read()
        self.assertTrue(raw.endswith(b"END:VCALENDAR\r\n"))
        lines = raw.split(b"\r\n")
        self.assertLessEqual(max(map(len, lines)), 75)  # 3.1, octets
        self.assertNotIn(b"\n", raw.replace(b"\r\n", b""))
        text = raw.decode().replace("\r\n ", "")
        self.assertEqual(text.count("BEGIN:VEVENT"), 4)
        ids = [line for line in text.split("\r\n") if line.startswith("UID:")]
        self.assertEqual(len(set(ids)), 4)  # 3.8.4.7
        self.assertIn(r"SUMMARY:Changeover: thrust to flat\, cleared\; all", text)  # 3.3.11
        self.assertIn("DTSTART:20270302T193000\r\nDTEND:20270302T220000", text)
        self.assertIn(r"movin", text)
        with open(os.path.join(self.folder, "out", "programme.csv"), encoding="utf-8", newline="") as f:
            rows = list(csv.DictReader(f))
        self.assertEqual([r["layout"] for r in rows], ["thrust", FLAT, FLAT])

    def test_what_is_refused(self):
        two = SHOWS[:2]
        late = [two[0], (two[1][0], "2027-03-02T21:00", *two[1][2:])]
        for text, what in (
                (HEAD + shows(late), "shows[2].start: is before the end of Play; shows stand in the "
                                     "order that they are played"),
                (HEAD + shows(two).replace("T19:30", " 19:30"),
                 "shows[1].start: is '2027-03-02 19:30'; a local time YYYY-MM-DDThh:mm is needed"),
                (HEAD + shows(two).replace("T22:00", "T19:30"), "shows[1].end: must be later than start"),
                (HEAD + shows(two).replace('["thrust"]', "[arena]"),
                 "unknown layout 'arena'; it is not in layouts"),
                (HEAD + shows(two).replace('["thrust"]', "[thrust, arena]"),
                 "shows[1].layouts[2]: unknown layout 'arena'; it is not in layouts"),
                (HEAD + shows(two).replace('["thrust"]', "[thrust, thrust]"),
                 "shows[1].layouts[2]: stands twice"),
                (HEAD.replace("thrust.yaml", "gone.yaml") + shows(two), "gone.yaml")):
            self.write(text)
            code, out, err = self.run_verb("--out", "none")
            self.assertEqual((code, out), (2, ""), text)
            self.assertIn(what, err)
            self.assertEqual(len(err.splitlines()), 1, err)
            self.assertFalse(os.path.exists(os.path.join(self.folder, "none")))

    def test_a_show_without_a_list_wishes_for_none_more_than_another(self):
        rows = [SHOWS[0], SHOWS[2]]
        made = self.planned(HEAD.replace("hour_cost", "step_cost: 5000\nhour_cost") +
                            shows([(rows[0][0], *rows[0][1:3], FLAT), rows[1]]))
        self.assertEqual((made["cost"], made["changeovers"]), (0.0, 0))

    def missing(self, made):
        return (made["clashes"], sum(s["changeover"]["short_s"] for s in made["shows"] if s["changeover"]),
                made["cost"])

    def made(self, text, *options):
        self.write(text)
        code, out, err = self.run_verb("--json", *options)
        self.assertEqual((code in (0, 1), err), (True, ""))
        return json.loads(out)

    def test_a_day_more_saves_what_is_said(self):
        """The shows from there on a day later, run again: a clash less, or night work less."""
        later = lambda found: (time(found[0]) + datetime.timedelta(days=1)).isoformat()[:16]
        early = [SHOWS[0], ("Ball", "2027-03-02T23:00", "2027-03-03T01:00", FLAT), SHOWS[2]]
        for season, keys in ((SHOWS, ["saved_cost"]), (early, ["saved_clashes", "saved_short_s"])):
            made = self.made(HEAD + shows(season))
            day = made["free_day"]
            at = [name for name, *_ in season].index(day["before"])
            moved = [(name, *(re.sub(".+", later, t) if k >= at else t for t in times), layout)
                     for k, (name, *times, layout) in enumerate(season)]
            again = self.made(HEAD + shows(moved))
            self.assertGreater(min(day[key] for key in keys), 0)
            saved = [a - b for a, b in zip(self.missing(made), self.missing(again))]
            for found, said in zip(saved, (day["saved_clashes"], day["saved_short_s"], day["saved_cost"])):
                self.assertAlmostEqual(found, said, delta=0.11)  # two costs and what is saved, each to 0.1

    def test_one_person_more_costs_what_is_said(self):
        """The demo's season with a crew of 13 in the venue's file."""
        with open(os.path.join(self.folder, "march.yaml"), encoding="utf-8") as source:
            text = source.read()
        said = self.made(text, "--one-more")["one_person_more"]
        with open(os.path.join(self.folder, "hall.yaml"), encoding="utf-8") as source:
            venue = source.read()
        with open(os.path.join(self.folder, "hall.yaml"), "w", encoding="utf-8") as out:
            out.write(venue.replace("    people: 12\n", "    people: 13\n"))
        again = self.planned(text)
        self.assertEqual({key: again[key] for key in ("cost", "clashes")}, said)


if __name__ == "__main__":
    hall.plain.main()
