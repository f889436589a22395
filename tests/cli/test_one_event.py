#!/usr/bin/python3
"""A layout's overflight is traffic of one event: `assess` and `overflight --traffic` print the same
figures for it, for every seat, to the printed digit."""

import csv
import json
import math
import unittest

import hall

PASS = "{point: [-240, 0], altitude: 320, bearing_deg: 195, speed_ms: 72}"
LOW = "{point: [-800, 0], altitude: 120, bearing_deg: 195, speed_ms: 72}"
LEVELS = ("[72, 74, 75, 76, 76, 75, 74, 73.5, 73, 72, 71, 70.5, 70, 69, 68, 67, 65.5, 64, 62, 59, "
          "55]")
DIRECTIVITY = "{groups: [{angle_deg: [0, 60, 120, 180], gain_db: [-4, -1, 1, 0]}]}"
SHARED = (["lamax_dba", "lamax_open_dba", "lamax_shut_dba", "nc", "noise_excess_db"] +
          [f"l_{hz}_hz_db" for hz in (50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800,
                                      1000, 1250, 1600, 2000, 2500, 3150, 4000, 5000)])


class OneEvent(hall.HallTest):
    def rows(self, path):
        with open(self.path(path), encoding="utf-8", newline="") as source:
            return list(csv.DictReader(source))

    def traffic(self, track, weighting, method, directivity):
        """The demo's pass written as traffic of one event."""
        with open(self.path("one.csv"), "w", encoding="utf-8") as out:
            out.write("time,class,track,offset_db\n2026-05-01T20:00:00,jet,pass,0\n")
        with open(self.path("one.yaml"), "w", encoding="utf-8") as out:
            out.write("format: gradin-traffic-1\nunits: m\nname: one event\nevents: one.csv\n"
                      "air: {temperature_c: 15, humidity_pct: 60, pressure_kpa: 101.3}\n"
                      f"method: {{{', '.join(method + weighting)}}}\n"
                      "performance: {start: \"19:30\", minutes: 150}\n"
                      "classes:\n  - name: jet\n    reference_distance: 300\n"
                      f"    level_db: {LEVELS}\n")
            if directivity:
                out.write(f"    directivity: {directivity}\n")
            out.write(f"tracks:\n  - name: pass\n    straight: {track}\n")

    def overflight(self, track, weighting, method, directivity):
        """The same method in the layout's overflight file."""
        changes = [("approach.yaml", PASS, track)]
        for line in weighting:
            changes.append(("approach.yaml", "\nname:", f"\n{line}\nname:"))
        if method:
            line = f"method: {{{', '.join(method)}}}"
            changes.append(("approach.yaml", "\nname:", f"\n{line}\nname:"))
        if directivity:
            changes.append(("approach.yaml", "  reference_distance:",
                            f"  directivity: {directivity}\n  reference_distance:"))
        hall.copy_demo(self.folder, changes)

    def compare(self, layout, track=PASS, weighting=(), method=(), directivity=None,
                maximum="lamax"):
        self.traffic(track, list(weighting), list(method), directivity)
        self.overflight(track, list(weighting), list(method), directivity)
        code, out, err = self.run_here("assess", layout, "--out", "a", "--json", "--samples", "16",
                                       "--no-maps")
        self.assertEqual((code, err), (0, ""))
        one = json.loads(out)["noise"]["overflight"]
        code, _, err = self.run_here("overflight", layout, "--traffic", "one.yaml", "--out", "b",
                                     "--quiet", "--no-maps")
        self.assertEqual((code, err), (0, ""))
        seats, season = self.rows("a/seats.csv"), self.rows("b/season-seats.csv")
        self.assertEqual(len(seats), len(season))
        for a, b in zip(seats, season):
            self.assertEqual(a["seat"], b["seat"])
            for name in SHARED:
                name = name.replace("lamax", maximum)
                self.assertEqual(a[name], b[name], (a["seat"], name))
        flight, = self.rows("b/flights.csv")
        self.assertEqual(float(flight[f"outside_{maximum}_dba"]), one["outside_lamax_dba"])
        self.assertEqual(float(flight["closest_m"]), one["closest_m"])
        self.assertEqual(float(flight["window_s"]), one["window_s"])
        return one

    def test_the_demos_pass(self):
        for layout in ("thrust.yaml", "end_stage.yaml"):  # end_stage has the arch in
            self.compare(layout)

    def test_every_method(self):
        """What once stood on one side alone: weighting, lateral attenuation, impedance,
        directivity."""
        plain = self.compare("round.yaml", track=LOW)
        less = self.compare("round.yaml", track=LOW, weighting=["time_weighting: slow"],
                            method=["lateral_attenuation: yes", "impedance: yes"],
                            directivity=DIRECTIVITY, maximum="lasmax")
        self.assertLess(less["outside_lamax_dba"], plain["outside_lamax_dba"])

    def test_adjustments_by_hand(self):
        """ECAC Doc 29, vol. 2, 4.5.4, and its impedance adjustment (from memory), at the closest
        moment of a low pass. The maximum moves by them to 0.05 dB: both are level there."""
        plain = self.compare("round.yaml", track=LOW)
        less = self.compare("round.yaml", track=LOW,
                            method=["lateral_attenuation: yes", "impedance: yes"])
        rise = 120 - 15  # over the hall's ceiling, where its nearest point lies
        lateral = math.sqrt(plain["closest_m"] ** 2 - rise ** 2)
        elevation = math.degrees(math.atan2(rise, lateral))
        gamma = 1.089 * (1 - math.exp(-0.00274 * lateral)) if lateral <= 914 else 1.0
        attenuation = gamma * (1.137 - 0.0229 * elevation + 9.72 * math.exp(-0.142 * elevation))
        impedance = 10 * math.log10(416.86 * (101.3 / 101.325) / 409.81)
        self.assertGreater(attenuation, 3.0)
        self.assertAlmostEqual(less["outside_lamax_dba"] - plain["outside_lamax_dba"],
                               impedance - attenuation, delta=0.15)


if __name__ == "__main__":
    unittest.main()
