#!/usr/bin/python3
"""Which days a season has: events on implausible dates and tracks no aircraft flies are refused, and
levels and counts are per stated day. LAeq over n days is 10 lg n below that of one: ISO 1996-1, 3.6
(energy mean)."""

import json
import math
import unittest

import hall

USE = ["overflight", "round.yaml", "--traffic", "season.yaml", "--no-maps"]
DAYS = "events: season.csv"
HEAD = "time,class,track,offset_db\n"


class SeasonDays(hall.HallTest):
    def write(self, name, text):
        with open(self.path(name), "w", encoding="utf-8") as out:
            out.write(text)

    def events(self, *times):
        self.write("season.csv", HEAD + "".join(f"{time},medium jet,approach,\n" for time in times))

    def state(self, days):
        """The demo's season with these days, and no event yet."""
        self.change("season.yaml", DAYS, f"{DAYS}\ndays: {days}")

    def refuse(self, arguments, *lines):
        code, out, err = self.run_here(*arguments)
        self.assertEqual((code, out, err.splitlines()), (2, "", list(lines)))

    def season(self):
        code, out, err = self.run_here(*USE, "--json")
        self.assertEqual((code, err), (0, ""))
        return json.loads(out)

    def test_a_mistyped_year(self):
        for stray in ("2062-05-01T20:00:00", "1996-05-01T20:00:00"):
            self.events("2026-05-01T20:00:00", stray, "2026-05-03T20:00:00")
            self.refuse(USE, "season.csv:3:1: is more than a year from the other events; if it is "
                             "meant, the traffic file states its days: {from, to}")
            code, _, err = self.run_here("check", "season.yaml")
            self.assertEqual(code, 2, err)

    def test_the_fewer_are_named(self):
        self.events("2026-05-01T20:00:00", "2029-05-01T20:00:00", "2029-05-02T20:00:00")
        code, _, err = self.run_here(*USE)
        self.assertEqual((code, err.count("\n"), err.startswith("season.csv:2:1: ")), (2, 1, True))

    def test_years_without_a_gap(self):
        self.events(*(f"{2020 + k}-05-01T20:00:00" for k in range(5)))
        self.assertEqual(self.season()["days"], 4 * 365 + 2)   # 2024 has a 29 February before 1 May

    def test_stated_days(self):
        self.events("2026-05-02T20:00:00")
        one = self.season()
        self.state("{from: 2026-05-01, to: 2026-05-10}")
        self.events("2026-05-02T20:00:00")
        ten = self.season()
        self.assertEqual((one["days"], ten["days"]), (1, 10))
        drop = (one["performance"]["laeq_dba"]["median"] -
                ten["performance"]["laeq_dba"]["median"])
        self.assertAlmostEqual(drop, 10 * math.log10(10), delta=0.011)
        self.assertAlmostEqual(one["performance"]["events_over"] / 10,
                               ten["performance"]["events_over"], delta=0.006)

    def test_outside_the_stated_days(self):
        for stated, is_in in (("{from: 2026-05-02, to: 2026-05-02}", True),
                              ("{from: 2026-05-03, to: 2026-05-09}", False),
                              ("{from: 2026-04-01, to: 2026-05-01}", False)):
            with self.subTest(stated):
                self.state(stated)
                self.events("2026-05-02T23:59:59")
                if is_in:
                    self.assertEqual(self.season()["days"], 1)
                else:
                    self.refuse(USE, "season.csv:2:1: is outside the stated days")

    def test_days_that_are_none(self):
        for stated, text in (("{from: 2026-05-03, to: 2026-05-02}", "days.to: is before from"),
                             ("{from: 2026-05-01, to: 2026-02-30}",
                              "days.to: is '2026-02-30'; a day YYYY-MM-DD is needed"),
                             ("{from: 2026-02-30, to: 2026-05-02}",
                              "days.from: is '2026-02-30'; a day YYYY-MM-DD is needed")):
            with self.subTest(stated):
                self.state(stated)
                code, _, err = self.run_here(*USE)
                self.assertEqual((code, err.count("\n")), (2, 1), err)
                self.assertTrue(err.startswith("season.yaml:6:") and err.endswith(text + "\n"), err)

    def test_tracks_that_nothing_flies(self):
        for row, text in (("9,0,1e308,300", "lies more than 1000 km from the hall"),
                          ("9,0,90000,300", "is further from the row before than anything flies "
                                            "(1000 m/s)"),
                          ("100000,0,1,300", "is more than a day from the track's time 0")):
            with self.subTest(row):
                self.write("river-track.csv", f"t_s,x,y,z\n0,0,0,300\n{row}\n")
                self.refuse(USE, f"river-track.csv:3:1: {text}")


if __name__ == "__main__":
    unittest.main()
