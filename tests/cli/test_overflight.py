#!/usr/bin/python3
"""A season of traffic from the command: its files, its refusals, the same bytes."""

import csv
import json
import math
import os
import unittest

import hall

USE = ["overflight", "round.yaml", "--traffic", "season.yaml"]


TABLES = ["flights.csv", "level-time.png", "season-seats.csv", "season.json", "start-times.png"]


def with_performance(season, last):
    """The demo's season with another end of its performance."""
    lines = season.split("\n")
    at = next(i for i, line in enumerate(lines) if line.startswith("performance:"))
    lines[at] = lines[at][:lines[at].index("backgrounds:")] + last + "}"
    return "\n".join(lines)


def a_weight(f):
    """A weight of a frequency, IEC 61672-1 Annex E."""
    gain = 12194 ** 2 * f ** 4 / ((f ** 2 + 20.6 ** 2) * (f ** 2 + 12194 ** 2) * math.sqrt(
        (f ** 2 + 107.7 ** 2) * (f ** 2 + 737.9 ** 2)))
    return 20 * math.log10(gain) + 2.0


class ShortTest(hall.HallTest):
    """One class on one track: a season is as dear as the classes on tracks that occur."""

    def setUp(self):
        super().setUp()
        path = self.path("season.csv")
        with open(path, encoding="utf-8") as source:
            lines = source.read().splitlines()
        kept = lines[:1] + [line for line in lines if ",medium jet,approach" in line]
        with open(path, "w", encoding="utf-8") as out:
            out.write("\n".join(kept) + "\n")


class Season(ShortTest):
    def change_short(self, old, new):
        """A change of season.yaml, with one event of a jet alone: quick."""
        self.change("season.yaml", old, new)
        with open(self.path("season.csv"), "w", encoding="utf-8") as out:
            out.write("time,class,track,offset_db\n2026-05-01T20:00:00,medium jet,approach,\n")

    def test_files_and_the_same_bytes(self):
        for out, threads in (("a", "1"), ("b", "2")):
            code, _, err = self.run_here(*USE, "--out", out, "--threads", threads, "--no-maps")
            self.assertEqual((code, err), (0, ""))
        first = hall.read_bytes(self.path("a"))
        self.assertEqual(first, hall.read_bytes(self.path("b")))
        self.assertEqual(sorted(first), TABLES)

    def test_maps(self):
        code, out, err = self.run_here(*USE, "--out", "out", "--quiet", "--bands", "125")
        self.assertEqual((code, out, err), (0, "", ""))
        stems = {name.split("-sheet")[0].removesuffix(".png")
                 for name in hall.read_bytes(self.path("out"))} - set(TABLES)
        self.assertEqual(stems - {"level-time", "start-times"},
                         {"season_lamax", "season_lamax_open", "season_lamax_shut",
                          "season_lamax_open_minus_shut", "season_laeq", "season_over_limit",
                          "season_sii", "season_third_125hz"})  # words lost: the same at all seats

    def test_chosen_seats(self):
        self.assertNotEqual(self.trace("--seat", self.a_seat()), self.trace())

    def a_seat(self):
        self.run_here("assess", "round.yaml", "--out", "seats", "--samples", "16", "--no-maps")
        with open(self.path("seats/seats.csv"), encoding="utf-8", newline="") as source:
            return next(csv.DictReader(source))["seat"]

    def trace(self, *more):
        code, _, err = self.run_here(*USE, "--out", "out", "--quiet", "--no-maps", *more)
        self.assertEqual((code, err), (0, ""))
        return hall.read_bytes(self.path("out"))["level-time.png"]

    def test_progress_on_a_terminal_alone(self):
        for quiet in ((), ("--quiet",)):
            shown, _ = hall.on_terminal(*USE, *quiet, cwd=self.folder)
            self.assertEqual("room" in shown, not quiet, shown)
            self.assertTrue(shown.endswith("\r\x1b[K") or quiet, shown)

    def speech_beside(self, performance):
        """The season's speech figures with this at the end of its performance."""
        with open(self.path("season.yaml"), encoding="utf-8") as source:
            whole = source.read()
        with open(self.path("quiet.yaml"), "w", encoding="utf-8") as out:
            out.write(with_performance(whole, performance))
        code, out, err = self.run_here("overflight", "round.yaml", "--traffic", "quiet.yaml",
                                       "--json", "--cache", "rooms")
        self.assertEqual((code, err), (0, ""))
        return json.loads(out)["speech"]

    def test_each_background_counts_alone(self):
        """Two states in one run are the two alone; NC 35 as its octaves (reference/nc-curves) is
        NC 35, and hides more of the voice than NC 20. A weights: IEC 61672-1."""
        octaves = "[60, 52, 45, 40, 36, 34, 33]"
        with open(self.path("own.csv"), "w", encoding="utf-8") as out:
            out.write("band_hz,level_db\n63,60\n125,52\n250,45\n500,40\n1000,36\n2000,34\n"
                      "4000,33\n")
        both = self.speech_beside("backgrounds: [{name: low, nc: 20}, "
                                  f"{{name: full, level_db: {octaves}}}]")["backgrounds"]
        low = self.speech_beside("background_nc: 20")
        full = self.speech_beside("backgrounds: [{name: full, level_file: own.csv}]")
        curve = self.speech_beside("background_nc: 35")
        self.assertEqual([b["name"] for b in both], ["low", "full"])
        self.assertEqual(both[1], full["backgrounds"][0])
        self.assertEqual({**both[0], "name": "own noise"}, low["backgrounds"][0])
        self.assertEqual({**both[1], "name": "own noise"}, curve["backgrounds"][0])
        self.assertEqual([b["nc"] for b in both], [20, 35])
        self.assertLess(both[1]["sii"]["median"], both[0]["sii"]["median"] - 0.02)
        self.assertEqual(full["sii"], both[1]["sii"])
        # an octave is even over its hertz: its thirds have 10 lg of their widths, 1 dB apart
        by_hand = 10 * math.log10(sum(
            10 ** ((level + a_weight(10 ** (0.1 * (18 + 3 * octave + third)))) / 10)
            * 10 ** (0.1 * third) / (10 ** -0.1 + 1 + 10 ** 0.1)
            for octave, level in enumerate((60, 52, 45, 40, 36, 34, 33)) for third in (-1, 0, 1)))
        self.assertAlmostEqual(both[1]["level_dba"], by_hand, delta=0.06)
        silent = self.speech_beside("sii_least: 0.45")
        self.assertEqual(silent["backgrounds"], [])

    def test_backgrounds_refused(self):
        for wrong, said in (
                ("backgrounds: [{name: a}]", "needs one of nc, level_db and level_file"),
                ("backgrounds: [{name: a, nc: 20, level_db: [1, 2, 3, 4, 5, 6, 7]}]",
                 "needs one of nc, level_db and level_file"),
                ("backgrounds: [{name: a, level_db: [1, 2, 3, 4, 5, 6, 7, 8]}]", "7 octaves"),
                ("backgrounds: [{name: a, nc: 20}, {name: a, nc: 30}]", "a"),
                ("backgrounds: [{name: a, nc: 80}]", "70"),
                ("background_nc: 20, backgrounds: [{name: a, nc: 20}]", "one of them")):
            with open(os.path.join(hall.DEMO, "season.yaml"), encoding="utf-8") as source:
                whole = source.read()
            with open(self.path("season.yaml"), "w", encoding="utf-8") as out:
                out.write(with_performance(whole, wrong))
            code, out, err = self.run_here(*USE)
            self.assertEqual((code, out), (2, ""), wrong)
            self.assertIn(said, err)
            self.assertRegex(err, r"season\.yaml:\d+")

    def test_json_and_tables_agree(self):
        code, out, err = self.run_here(*USE, "--json", "--out", "out")
        self.assertEqual((code, err), (0, ""))
        season = json.loads(out)
        with open(self.path("out/season-seats.csv"), encoding="utf-8", newline="") as source:
            rows = list(csv.DictReader(source))
        levels = sorted(float(row["lamax_dba"]) for row in rows)
        self.assertEqual(season["lamax_dba"]["least"], levels[0])
        self.assertEqual(season["lamax_dba"]["most"], levels[-1])
        with open(self.path("out/flights.csv"), encoding="utf-8", newline="") as source:
            flights = list(csv.DictReader(source))
        self.assertEqual(sum(int(row["events"]) for row in flights), season["events"])
        self.assertEqual(len(season["starts"]), 96)
        self.assertAlmostEqual(sum(e["share_pct"] for e in season["elements"]), 100, delta=3)
        self.assertAlmostEqual(sum(b["share_pct"] for b in season["bays"]), 100, delta=1)
        by_seat = {row["seat"]: row for row in rows}
        worst = season["worst_seats"]
        self.assertEqual(worst[0]["events_over_a_show"],
                         max(float(row["events_over_a_show"]) for row in rows))
        for seat in worst:
            for key in ("lamax_dba", "laeq_show_dba", "sii"):
                self.assertEqual(float(by_seat[seat["seat"]][key]), seat[key])
        opened = [float(row["lamax_open_dba"]) for row in rows]
        self.assertEqual(season["lamax_open_dba"]["most"], max(opened))
        doubt = season["performance"]
        self.assertLess(doubt["events_over_low"], doubt["events_over"])
        self.assertLess(doubt["events_over"], doubt["events_over_high"])

    def test_text_fits_the_terminal(self):
        self.change("season.yaml", "name: four weeks of traffic", "name: " + "a long season, " * 10)
        code, out, err = self.run_here(*USE)
        self.assertEqual((code, err), (0, ""))
        self.assertLessEqual(max(len(line) for line in out.splitlines()), 80)
        out = hall.flat(out)
        self.assertIn("standard uncertainty of a level +-", out)
        self.assertIn("Bishop 1975", out)
        self.assertIn("as far as levels are known, each bound at a confidence of 84 %", out)
        self.assertIn("Seats that hear most", out)
        self.assertIn("no measurement", out)

    def test_directivity(self):
        """A table of noughts in a file changes nothing; the same inline, turned down, does."""
        self.change_short(MEDIUM_JET, MEDIUM_JET)
        code, before, _ = self.run_here(*USE, "--json")
        self.change_short(MEDIUM_JET, FILE)
        with open(self.path("jet.csv"), "w", encoding="utf-8") as out:
            out.write(HEADER + "50,315,0,0\n50,315,180,0\n400,5000,0,0\n400,5000,70,0\n"
                      "400,5000,180,0\n")
        code, same, err = self.run_here(*USE, "--json")
        self.assertEqual((code, err), (0, ""))
        strip = lambda text: {k: v for k, v in json.loads(text).items() if k != "traffic_digest"}
        self.assertEqual(strip(same), strip(before))
        self.change_short(MEDIUM_JET, GROUPS + "        - {angle_deg: [0, 180], gain_db: "
                          "[-20, -20]}\n")
        code, less, err = self.run_here(*USE, "--json")
        self.assertEqual((code, err), (0, ""))
        self.assertLess(json.loads(less)["performance"]["laeq_dba"]["median"],
                        json.loads(before)["performance"]["laeq_dba"]["median"])

    def test_room_by_radiosity(self):
        self.change("round.yaml", "\nname:", "\nroom_method: radiosity\nroom_patch: 6\nname:")
        code, out, _ = self.run_here(*USE, "--json")
        self.assertEqual(code, 0)
        season = json.loads(out)
        self.assertEqual(season["room_method"], "radiosity")
        self.assertGreater(season["room_patches"], 200)
        assess = ["assess", "round.yaml", "--json", "--samples", "16", "--no-maps"]
        code, out, _ = self.run_here(*assess, "--out", "out")
        # the same bytes with a room kept and with one found; a cache that fails is only a note
        for folder in ("made", "found"):
            code, kept, err = self.run_here(*assess, "--out", folder, "--cache", "rooms")
            self.assertEqual((code, kept, err), (0, out, ""))
            self.assertEqual(hall.read_bytes(self.path(folder)), hall.read_bytes(self.path("out")))
            self.assertEqual(len(os.listdir(self.path("rooms"))), 1)
        code, kept, err = self.run_here(*assess, "--out", "out", "--cache", "hall.yaml")
        self.assertEqual((code, kept), (0, out))
        self.assertRegex(err, r"^gradin: note: the room's field could not be kept: "
                              r"hall.yaml/[0-9a-f]{32}.room: Not a directory\n$")
        self.assertEqual(json.loads(out)["noise"]["room_patches"], season["room_patches"])


    def test_time_weighting_is_named(self):
        self.change_short("impedance: no", "impedance: no, time_weighting: slow")
        code, out, err = self.run_here(*USE, "--json", "--out", "out")
        self.assertEqual((code, err), (0, ""))
        self.assertEqual(json.loads(out)["maximum"], "LASmax")
        with open(self.path("out/season-seats.csv"), encoding="utf-8", newline="") as source:
            self.assertEqual(source.readline().split(",")[2], "lasmax_dba")
        with open(self.path("out/flights.csv"), encoding="utf-8", newline="") as source:
            self.assertIn("outside_lasmax_dba,outside_sel_dba,least_lasmax_dba", source.readline())


MEDIUM_JET = "  - name: medium jet\n    reference_distance: 300\n"
GROUPS = MEDIUM_JET + "    directivity:\n      groups:\n"
FILE = MEDIUM_JET + "    directivity: {file: jet.csv}\n"
HEADER = "from_hz,to_hz,angle_deg,gain_db\n"


class Refusals(ShortTest):
    def refuse(self, arguments, *lines):
        before = sorted(os.listdir(self.folder))
        code, out, err = self.run_here(*arguments)
        self.assertEqual((code, out, err.splitlines()), (2, "", list(lines)))
        self.assertEqual(sorted(os.listdir(self.folder)), before)

    def spoil(self, *bad):
        """Puts bad rows in place of the first ones; they are lines 2, 3, ..."""
        path = self.path("season.csv")
        with open(path, encoding="utf-8") as source:
            lines = source.read().splitlines()
        lines[1:1 + len(bad)] = bad
        with open(path, "w", encoding="utf-8") as out:
            out.write("\n".join(lines) + "\n")

    def test_use(self):
        self.refuse(["overflight", "round.yaml"], "gradin: overflight: --traffic FILE is needed")
        self.refuse(["overflight", "--traffic", "season.yaml"],
                    "gradin: overflight: one layout is needed, not 0")
        self.refuse([*USE, "--bands", "octaves,126"],
                    "gradin: overflight: --bands has '126'; allowed: octaves, and third octaves "
                    "from 50 to 5000 (Hz, nominal), divided by commas")
        self.refuse(["assess", "round.yaml", "--out", "out", "--bands", ""],
                    "gradin: assess: --bands is empty")

    def test_unknown_seats_are_all_named(self):
        code, out, err = self.run_here(*USE, "--seat", "nowhere at all", "--seat", "nobody's",
                                       "--out", "out")
        self.assertEqual((code, out), (2, ""))
        lines = err.splitlines()
        self.assertEqual(len(lines), 2)
        self.assertTrue(lines[0].startswith("--seat: there is no seat 'nowhere at all'"), err)
        self.assertFalse(os.path.exists(self.path("out")))

    def test_too_many_seats(self):
        many = sum((["--seat", "x"] for _ in range(7)), [])
        self.refuse([*USE, *many], "gradin: overflight: --seat is given more than 6 times")

    def test_bad_rows_are_named(self):
        self.spoil("2026-02-30T10:00:00,medium jet,approach,", "2026-05-01T10:00:00,jet,approach,",
                   "2026-05-01T10:00:00,medium jet,aproach,", "2026-05-01T10:00:00,medium jet",
                   "2026-05-01T10:00:00,medium jet,approach,loud")
        self.refuse([*USE, "--out", "out"],
                    "season.csv:2:1: the time must be YYYY-MM-DDThh:mm:ss, local",
                    "season.csv:3:1: unknown class", "season.csv:4:1: unknown track",
                    "season.csv:5:1: needs time,class,track,offset_db",
                    "season.csv:6:1: offset_db must be empty or a number from -30 to 30")

    def test_bad_rows_are_skipped_when_asked(self):
        self.spoil("nonsense")
        code, out, err = self.run_here(*USE, "--skip-bad", "--json")
        self.assertEqual((code, err),
                         (0, "gradin: skipped: season.csv:2:1: needs time,class,track,offset_db\n"))
        self.assertEqual(json.loads(out)["rows_skipped"], 1)

    def test_tracks(self):
        self.change("approach-track.csv", "t_s,x,y,z", "t,x,y,z")
        self.refuse(USE, "approach-track.csv:1:1: the first line must be t_s,x,y,z")

    def test_track_must_go_on_in_time(self):
        with open(self.path("river-track.csv"), "w", encoding="utf-8") as out:
            out.write("t_s,x,y,z\n0,0,0,100\n0,10,0,100\n")
        self.refuse(USE, "river-track.csv:3:1: needs t_s,x,y,z with rising t_s, at most 20000 rows")

    def test_time_weighting(self):
        self.change("season.yaml", "impedance: no", "impedance: no, time_weighting: slwo")
        self.refuse(USE, "season.yaml:7:66: method.time_weighting: unknown value 'slwo'; did you "
                    "mean 'slow'?")

    def refuse_group(self, group, *lines):
        self.change("season.yaml", MEDIUM_JET, GROUPS + group)
        self.refuse(USE, *lines)

    def test_directivity_bands(self):
        self.refuse_group("        - {to_hz: 400, angle_deg: [0, 180], gain_db: [0, 0]}\n"
                          "        - {from_hz: 400, angle_deg: [0, 180], gain_db: [0, 0]}\n",
                          "season.yaml:15:9: classes[1].directivity.groups: the band 400 Hz is in 2 "
                          "groups; each band needs one")

    def test_directivity_band_names(self):
        self.refuse_group("        - {to_hz: 440, angle_deg: [0, 180], gain_db: [0, 0]}\n",
                          "season.yaml:15:11: classes[1].directivity.groups[1]: from_hz and to_hz "
                          "must be nominal one-third octaves from 50 to 5000 Hz")

    def test_directivity_angles(self):
        self.refuse_group("        - {angle_deg: [0, 90, 60, 180], gain_db: [0, 0, 0, 0]}\n"
                          "        - {angle_deg: [0, 90], gain_db: [0, 0]}\n"
                          "        - {angle_deg: [0, 180], gain_db: [0]}\n",
                          "season.yaml:15:23: classes[1].directivity.groups[1].angle_deg: angles "
                          "must rise",
                          "season.yaml:16:23: classes[1].directivity.groups[2].angle_deg: angles "
                          "must run from 0 to 180",
                          "season.yaml:17:42: classes[1].directivity.groups[3].gain_db: has 1 "
                          "values; 2 are needed")

    def test_directivity_needs_a_bearing(self):
        self.change("season.yaml", "  - name: roof plant\n    reference_distance: 1\n",
                    "  - name: roof plant\n    reference_distance: 1\n    directivity: {groups: "
                    "[{angle_deg: [0, 180], gain_db: [0, -3]}]}\n")
        self.refuse(USE, "season.yaml:33:5: tracks[4]: keeps its place, and class roof plant has a "
                    "directivity; write fixed with bearing_deg")

    def test_directivity_file(self):
        self.change("season.yaml", MEDIUM_JET, FILE)
        with open(self.path("jet.csv"), "w", encoding="utf-8") as out:
            out.write(HEADER + "50,5000,0,0\n50,5000,200,0\n50,5000,90\n50,4444,90,0\n"
                      "50,5000,90,-99\n")
        self.refuse(USE, "jet.csv:3:1: angle_deg must lie between 0 and 180",
                    "jet.csv:4:1: needs four numbers: from_hz,to_hz,angle_deg,gain_db",
                    "jet.csv:5:1: from_hz and to_hz must be nominal one-third octaves from 50 to "
                    "5000 Hz",
                    "jet.csv:6:1: gain_db must lie between -60 and 40")
        with open(self.path("jet.csv"), "w", encoding="utf-8") as out:
            out.write(HEADER + "50,5000,0,0\n50,5000,90,0\n")
        self.refuse(USE, "season.yaml:13:25: classes[1].directivity.file: jet.csv, group from 50 "
                    "Hz: angles must run from 0 to 180")

    def test_performance(self):
        self.change("season.yaml", '"19:30"', '"7 pm"')
        self.refuse(USE, "season.yaml:8:22: performance.start: must be a time of day, \"hh:mm\"")


if __name__ == "__main__":
    unittest.main()
