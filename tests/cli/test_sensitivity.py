#!/usr/bin/python3
"""Every figure of a hall's files reaches the table: one figure is changed in a copy of the demo, and
seats.csv has to move the right way, by the right amount where plane geometry or plain acoustics
states it, and nowhere else."""

import functools
import re
import statistics
import unittest

import hall
from hall import plain

FEW = ("--samples", "256", "--no-maps")
LEVELS = ("lamax_dba", "lamax_open_dba", "lamax_shut_dba", "laeq_dba")


@functools.lru_cache(maxsize=None)
def demo(layout):
    """The layout as it is."""
    return hall.assess(layout, options=FEW)


@functools.lru_cache(maxsize=None)
def text_of(name):
    with open(f"{hall.DEMO}/{name}", encoding="utf-8") as source:
        return source.read()


def swap(name, pattern, new):
    """Changes for hall.assess: every match of pattern becomes new (a text or a function)."""
    passages = {m.group(0): re.sub(pattern, new, m.group(0))
                for m in re.finditer(pattern, text_of(name))}
    assert passages, f"{name} does not hold {pattern}"
    return [(name, old, changed) for old, changed in passages.items()]


def add_lines(layout, lines):
    """Puts lines before the layout's focus."""
    return [(f"{layout}.yaml", "\nfocus:\n", f"\n{lines}\nfocus:\n")]


class Sensitivity(unittest.TestCase):
    def pair(self, layout, changes):
        """(before, after), with the same seats in the same order."""
        before, after = demo(layout), hall.assess(layout, changes, FEW)
        self.assertEqual(list(before.seat), list(after.seat))
        self.assertNotEqual(before.summary["input_digest"], after.summary["input_digest"])
        return before, after

    def changed_columns(self, before, after):
        return {name for a, b in zip(before.rows, after.rows) for name in a if a[name] != b[name]}

    def expect_shift(self, before, after, column, wanted, delta, where=lambda row: True):
        """Every seat's figure has moved by wanted(row of before)."""
        old, new = before.numbers(column, where), after.numbers(column, where)
        self.assertEqual(set(old), set(new))
        self.assertGreater(len(old), 0)
        for seat, value in old.items():
            self.assertAlmostEqual(new[seat] - value, wanted(before.seat[seat]), delta=delta,
                                   msg=f"{column} of {seat}")

    def expect_all(self, before, after, column, moves):
        """moves(old, new) holds at every seat, and some seat has moved."""
        old, new = before.numbers(column), after.numbers(column)
        self.assertEqual(set(old), set(new))
        self.assertNotEqual(old, new, f"{column} has not moved")
        for seat, value in old.items():
            self.assertTrue(moves(value, new[seat]), f"{column} of {seat}: {value} -> {new[seat]}")

    def expect_quieter(self, before, after, columns=LEVELS):
        for column in columns:
            self.expect_all(before, after, column, lambda old, new: new <= old)

    def expect_same(self, before, after, *columns):
        for column in columns:
            self.assertEqual(before.numbers(column), after.numbers(column), column)

    def expect_only_noise(self, before, after):
        for name in self.changed_columns(before, after):
            self.assertRegex(name, r"^(l_\d+_hz_db|lamax.*|laeq_dba|nc|noise_excess_db|"
                                   r"noise_verdict|level_\w+|loudest_element)$")


class People(Sensitivity):
    def audience(self, text, layout="end_stage"):
        return self.pair(layout, add_lines(layout, f"audience: {{{text}}}"))

    def base(self, text, layout="end_stage"):
        return hall.assess(layout, add_lines(layout, f"audience: {{{text}}}"), FEW)

    def test_eye_height(self):
        """Both eyes rise by h: C falls by h T/(D+T)."""
        low, high = self.base("eye_height: 1.1"), self.base("eye_height: 1.2")
        seated = lambda row: row["kind"] != "wheelchair"  # noqa: E731
        self.expect_shift(low, high, "eye_z_m", lambda row: 0.1, 0.0011, seated)

        def wanted(row):
            d, t = float(row["c_d_m"]), float(row["c_t_m"])
            return -100.0 * t / (d + t)

        def both_seated(row):
            front = low.seat.get(row["front_seat"])
            return seated(row) and front is not None and seated(front)

        self.expect_shift(low, high, "c_mm", wanted, 1.6, both_seated)

    def test_wheelchair_eye_height(self):
        low, high = self.base("wheelchair_eye_height: 1.1"), self.base("wheelchair_eye_height: 1.2")
        self.expect_shift(low, high, "eye_z_m", lambda row: 0.1 * (row["kind"] == "wheelchair"),
                          0.0011)

    def test_crown(self):
        low, high = self.base("crown: 0.10"), self.base("crown: 0.14")
        self.assertGreater(high.mean("hidden_heads_pct"), low.mean("hidden_heads_pct"))
        self.expect_same(low, high, "c_mm", "eye_z_m", "distance_m")

    def test_head_breadth(self):
        low, high = self.base("head_breadth: 0.14"), self.base("head_breadth: 0.18")
        self.assertGreater(high.mean("hidden_heads_pct"), low.mean("hidden_heads_pct"))

    def test_shoulders(self):
        low = self.base("shoulder_drop: 0.4", "flat_floor")
        high = self.base("shoulder_drop: 0.05", "flat_floor")
        self.assertGreater(high.mean("hidden_heads_pct"), low.mean("hidden_heads_pct"))


class Room(Sensitivity):
    def test_rail_height(self):
        """A solid rail before a tower's seats hides what stands below it: higher hides more."""
        def solid(height):
            return hall.assess("thrust", swap(
                "hall.yaml", r"rail: \{kind: bar, height: 0\.85, thickness: 0\.04, bars: 3\}",
                f"rail: {{kind: solid, height: {height}, thickness: 0.04}}"), FEW)

        low, high = solid(0.82), solid(1.0)
        self.expect_all(low, high, "hidden_rails_pct", lambda old, new: new >= old)
        self.expect_same(low, high, "c_mm", "distance_m", *LEVELS)

    def test_rail_kind(self):
        """A panel in place of bars on the towers; where bars end, their round ends stood out by half a
        bar. Layouts' own rails stand beside and behind the rows: nobody looks past them."""
        before, after = self.pair("thrust", swap(
            "hall.yaml", r"kind: bar, (height: 0\.85, thickness: 0\.04), bars: 3", r"kind: solid, \1"))
        self.expect_all(before, after, "hidden_rails_pct", lambda old, new: new >= old - 0.8)
        hidden = [sum(table.numbers("hidden_rails_pct").values()) for table in (before, after)]
        self.assertGreater(hidden[1], 1.5 * hidden[0])

    def test_rail_bars(self):
        before, after = self.pair("thrust", swap("hall.yaml", r"bars: 3", "bars: 8"))
        self.assertGreater(after.mean("hidden_rails_pct"), before.mean("hidden_rails_pct"))

    def test_set_piece(self):
        wall = ("solids:\n  - {name: wall, kind: set, polygon: [[13, 22.6], [17, 22.6], "
                "[17, 22.8], [13, 22.8]], bottom: 0.9, top: 3.9}")
        before, after = self.pair("end_stage", add_lines("end_stage", wall))
        self.assertGreater(after.mean("hidden_structure_pct"),
                           before.mean("hidden_structure_pct") + 1.0)
        self.assertIn("wall", {row["worst_occluder"] for row in after.rows})

    def test_arch_opening(self):
        before, after = self.pair("end_stage", swap("end_stage.yaml", r"opening: 16", "opening: 13.1"))
        self.assertGreater(after.mean("hidden_arch_pct"), before.mean("hidden_arch_pct") + 1.0)

    def test_lift_height(self):
        """One lift section up: its seats' eyes, and C by dR: -h T/(D+T) against equal heights."""
        changes = swap("thrust.yaml", r"(\{from: F-H4, to: F-H8, height: )1\.05", r"\g<1>1.15")
        before, after = self.pair("thrust", changes)
        moved = {row["seat"] for a, row in zip(before.rows, after.rows)
                 if a["floor_z_m"] != row["floor_z_m"]}
        self.assertGreater(len(moved), 20)
        for seat in moved:
            self.assertEqual(after.seat[seat]["block"], "East")
            for column in ("floor_z_m", "eye_z_m"):
                self.assertAlmostEqual(float(after.seat[seat][column]),
                                       float(before.seat[seat][column]) + 0.1, delta=0.0011)

    def test_riser(self):
        """A higher riser of one terrace helps the rows of that terrace."""
        changes = swap("thrust.yaml", r"(to: F-F1, height: 1\.15, terrace: \{steps: 3, riser: )0\.3",
                       r"\g<1>0.4")
        before, after = self.pair("thrust", changes)
        gained = [float(after.seat[s]["c_mm"]) - c for s, c in before.numbers("c_mm").items()
                  if after.seat[s]["c_mm"] and before.seat[s]["floor_z_m"] in ("1.450", "1.750")]
        self.assertGreater(len(gained), 10)
        self.assertGreater(min(gained), 0.0)

    def test_tower_hoist(self):
        changes = swap("thrust.yaml", r"(\{name: S1, hoist: )1\.3", r"\g<1>1.7")
        before, after = self.pair("thrust", changes)
        self.expect_shift(before, after, "eye_z_m",
                          lambda row: 0.4 * row["block"].startswith("S1"), 0.0011)

    def test_seat_width(self):
        before = demo("thrust")
        after = hall.assess("thrust", swap("thrust.yaml", r"seat_width: 0\.52", "seat_width: 0.6"),
                            FEW)
        self.assertLess(len(after.rows), len(before.rows))


class Focus(Sensitivity):
    def test_height(self):
        """A focus higher by h: R falls by h and C rises by h T/(D+T)."""
        before, after = self.pair("round", swap("round.yaml", r"\], z: 0\.9\}", "], z: 1.0}"))
        self.expect_shift(before, after, "c_r_m", lambda row: -0.1, 0.0011)

        def wanted(row):
            d, t = float(row["c_d_m"]), float(row["c_t_m"])
            return 100.0 * t / (d + t)

        self.expect_shift(before, after, "c_mm", wanted, 1.6)

    def test_place(self):
        shift = lambda m: f"{float(m.group(1)):g}, {float(m.group(2)) + 1.0:g}]"  # noqa: E731
        old = re.search(r"name: stage, polygon: .*", text_of("end_stage.yaml")).group(0)
        new = re.sub(r"([\d.]+), ([\d.]+)\]", shift, old)
        before, after = self.pair("end_stage", [("end_stage.yaml", old, new)])
        self.assertGreater(after.mean("distance_m"), before.mean("distance_m") + 0.7)
        self.expect_same(before, after, "eye_z_m", *LEVELS)

    def test_weight(self):
        before, after = self.pair("flat_floor", swap("flat_floor.yaml", "weight: 2", "weight: 9"))
        self.assertNotEqual(before.mean("visible_pct"), after.mean("visible_pct"))

    def test_axis(self):
        before, after = self.pair("end_stage", swap("end_stage.yaml", "axis_deg: 180",
                                                    "axis_deg: 190"))
        self.assertLessEqual(self.changed_columns(before, after),
                             {"off_axis_deg", "rating", "reason"})
        for seat, old in before.numbers("off_axis_deg").items():
            moved = abs(float(after.seat[seat]["off_axis_deg"]) - old)
            self.assertLessEqual(moved, 10.1)
        self.assertIn("off_axis_deg", self.changed_columns(before, after))

    def test_visible_limit(self):
        before, after = self.pair("thrust", swap("brief.yaml", r"visible_min: \[0\.95",
                                                 "visible_min: [0.99"))
        self.assertLessEqual(self.changed_columns(before, after), {"c_class", "rating", "reason"})
        self.assertLessEqual(after.summary["rating"]["clear"]["seats"],
                             before.summary["rating"]["clear"]["seats"])

    def test_distance_limit(self):
        before, after = self.pair("end_stage", swap("brief.yaml", r"distance_max: \[.*?\]",
                                                    "distance_max: [5, 10, 12]"))
        self.assertGreater(sum(row["reason"] == "distance" for row in after.rows),
                           sum(row["reason"] == "distance" for row in before.rows))


class Noise(Sensitivity):
    LAYOUT = "flat_floor"

    def noise(self, changes):
        before, after = self.pair(self.LAYOUT, changes)
        self.expect_only_noise(before, after)
        return before, after

    def test_altitude(self):
        self.expect_quieter(*self.noise(swap("approach.yaml", "altitude: 320", "altitude: 500")))

    def test_source_level(self):
        """3 dB more at the source is 3 dB more at every seat and in every band."""
        levels = re.search(r"level_db: \[(.*?)\]", text_of("approach.yaml")).group(1)
        more = ", ".join(f"{float(x) + 3.0:g}" for x in levels.split(","))
        before, after = self.noise([("approach.yaml", levels, more)])
        for column in (*LEVELS, "l_50_hz_db", "l_1000_hz_db", "l_5000_hz_db"):
            self.expect_shift(before, after, column, lambda row: 3.0, 0.11)

    def test_reference_distance(self):
        """The same level stated at twice the distance is 20 lg 2 = 6.0 dB more, air aside."""
        before, after = self.noise(swap("approach.yaml", "reference_distance: 300",
                                        "reference_distance: 600"))
        # Less of it is air's, so the moment of the A-weighted maximum moves, and 50 Hz comes out of
        # the half shadow of the north wall meanwhile: at single seats that is up to 0.3 dB.
        self.expect_shift(before, after, "l_50_hz_db", lambda row: 6.0, 0.5)
        old, new = before.numbers("l_50_hz_db"), after.numbers("l_50_hz_db")
        self.assertAlmostEqual(statistics.median(new[seat] - old[seat] for seat in old), 6.0, delta=0.1)

    def test_track_offset(self):
        self.expect_quieter(*self.noise(swap("approach.yaml", r"point: \[-240, 0\]",
                                             "point: [-900, 0]")))

    def test_air(self):
        before, after = self.noise(swap("approach.yaml", "humidity_pct: 60", "humidity_pct: 20"))
        old, new = before.mean("l_5000_hz_db"), after.mean("l_5000_hz_db")
        self.assertLess(new, old - 1.0)  # dry air takes more at 5 kHz (ISO 9613-1)

    def test_pane_thickness(self):
        self.expect_quieter(*self.noise(
            swap("hall.yaml", r"\{glass_mm: 6\}, \{interlayer_mm: 0\.76\}, \{glass_mm: 6\}",
                 "{glass_mm: 12}, {interlayer_mm: 0.76}, {glass_mm: 12}")))

    def test_gap(self):
        before, after = self.noise(swap("hall.yaml", "gap_mm: 20", "gap_mm: 100"))
        self.assertLess(after.mean("lamax_dba"), before.mean("lamax_dba"))

    def test_seals(self):
        before, after = self.noise(swap("hall.yaml", "joint_r_db: 48", "joint_r_db: 40"))
        self.expect_quieter(after, before)

    def test_vent(self):
        before, after = self.noise(swap("hall.yaml", r"dn_e_db: \[36, 38, 42, 46, 48, 48\]",
                                        "dn_e_db: [26, 28, 32, 36, 38, 38]"))
        self.expect_quieter(after, before)

    def test_measured_door(self):
        """A leaf worse by 10 dB in every band lets more in."""
        worse = [("door.csv", line, f"{line.split(',')[0]},{float(line.split(',')[1]) - 10:g}")
                 for line in reversed(text_of("door.csv").split()[1:])]
        before, after = self.noise(worse)
        self.expect_quieter(after, before)

    def test_open_door(self):
        before, after = self.noise(swap(f"{self.LAYOUT}.yaml", r"focus:\n",
                                        "  doors:\n    - {name: pavement doors, open: 1}\nfocus:\n"))
        self.assertGreater(after.mean("lamax_dba"), before.mean("lamax_dba") + 3.0)

    def test_shades(self):
        """Shut shades give the shut column; open and shut themselves do not depend on the setting."""
        before, after = self.pair(self.LAYOUT, swap("flat_floor.yaml", r"focus:\n",
                                               "  shades:\n    - {name: blackout, closed: 1}\nfocus:\n"))
        self.expect_quieter(before, after, ("lamax_dba", "laeq_dba"))
        self.expect_same(before, after, "lamax_open_dba", "lamax_shut_dba")
        self.assertEqual(before.numbers("lamax_dba"), before.numbers("lamax_open_dba"))
        self.assertEqual(after.numbers("lamax_dba"), after.numbers("lamax_shut_dba"))

    def test_shade_loss(self):
        before, after = self.noise(swap("hall.yaml", r"insertion_loss_db: \[.*?\]",
                                        "insertion_loss_db: [6, 6, 6, 6, 6, 6]"))
        self.expect_quieter(before, after, ("lamax_shut_dba",))
        self.expect_same(before, after, "lamax_open_dba", "lamax_dba")  # open as set

    def test_absorption(self):
        """More absorption: a lower diffuse field everywhere."""
        self.expect_quieter(*self.noise(swap("hall.yaml", r"walls: \[.*?\]",
                                             "walls: [0.8, 0.8, 0.8, 0.8, 0.8, 0.8]")))

    def test_extra_absorption(self):
        self.expect_quieter(*self.noise(swap("hall.yaml", "area: 120", "area: 400")))

    def test_criterion(self):
        before, after = self.noise(swap("brief.yaml", r"nc: \d+", "nc: 15"))
        self.assertEqual(self.changed_columns(before, after), {"noise_excess_db", "noise_verdict"})
        self.expect_all(before, after, "noise_excess_db", lambda old, new: new > old)


if __name__ == "__main__":
    plain.main()
