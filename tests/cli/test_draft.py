#!/usr/bin/python3
"""A layout from its form: small invented venues of other grids, units and machines than the demo's.
Every draft passes check and fit; what cannot be made is refused by the key of the wish."""

import os
import re

import hall
from drafting import FOOT_M, FORMS, WISHES, DraftTest, feet, trial
from hall import plain


class Any(DraftTest):
    """Invariants over random venues and wishes."""

    def test_every_draft_passes_check_and_fit(self):
        n_made = 0
        forms = set()
        for seed in range(18):
            venue, wishes, has_tower = trial(seed)
            self.write_trial(venue, wishes, has_tower)
            code, out, err = self.run_here("draft", "wishes.yaml", "--out", "layout.yaml",
                                           "--replace")
            if code == 1: # fewer than 30 seats
                self.assertIn("are missing", out)
            elif code != 0: # it may be impossible; then one line says why
                self.assertEqual((code, out, len(err.splitlines())), (2, "", 1), err)
                self.assertRegex(err, r"^wishes.yaml:\d+:\d+: (venue|stage|c_value|seats|wheelchairs): ")
                continue
            with self.subTest(seed=seed):
                n = self.check_layout(out)
                people = venue["door"] * 1000 / venue["exit_mm"]
                self.assertLessEqual(n, people + 1e-9)
                for height in re.findall(r"height: ([\d.]+), thickness", self.read("layout.yaml")):
                    self.assertGreaterEqual(float(height), max(1.1, venue["rail_min"]) - 1e-9)
            n_made += 1
            forms.add(wishes["form"])
        self.assertGreaterEqual(n_made, 9)
        self.assertEqual(forms, set(FORMS))

    def test_a_looser_rule_never_takes_seats(self):
        """Without wheelchair places: their number rises in steps with the count, and a row of them
        may then find no room."""
        looser = [("one", 4), ("two", 8), ("high", 1.0), ("riser", 0.2), ("door", 2.0)]
        n_more = 0
        for seed in range(4):
            venue, wishes, _ = trial(seed)
            wishes["seats"] = "most\nwheelchairs: 0"
            self.write_trial(venue, wishes)
            code, out, _ = self.run_here("draft", "wishes.yaml", "--out", "layout.yaml", "--replace")
            if code != 0:
                continue
            before = self.seats(out)
            for rule, more in looser:
                self.write_trial(dict(venue, **{rule: venue[rule] + more}), wishes)
                after = self.seats(self.draft()[0])
                with self.subTest(seed=seed, rule=rule):
                    self.assertGreaterEqual(after, before)
                n_more += after > before
        self.assertGreater(n_more, 0)

    def test_same_bytes_for_any_threads_and_locale(self):
        venue, wishes, _ = trial(3)
        self.write_trial(venue, wishes, True)
        found = set()
        for env in ({"OMP_NUM_THREADS": "1"}, {"OMP_NUM_THREADS": "3"},
                    {"LC_ALL": "de_DE.UTF-8", "OMP_NUM_THREADS": "2"}):
            out, _ = self.draft(env=env)
            found.add((out, self.read("layout.yaml")))
        self.assertEqual(len(found), 1)


class Other(DraftTest):
    """Venues by hand."""

    def test_feet_and_a_stage_at_the_west(self):
        lengths = {"width", "depth", "ceiling", "rail_min", "guard_drop", "door_x", "door",
                   "door_height", "x", "y", "low", "riser", "stage_width", "stage_depth",
                   "stage_height", "inset", "c", "aisle"}
        venue, wishes, _ = trial(1)
        venue.update(side=8, columns=6, rows=5, width=72 * FOOT_M, depth=64 * FOOT_M, x=12 * FOOT_M,
                     y=12 * FOOT_M, units="ft", high=12, steps=2, riser=1.5 * FOOT_M,
                     low=-2 * FOOT_M, one=7, two=14)
        wishes.update(form="end_stage", axis=90, units="ft", seat=1.8, row=3.3, seats="most",
                      stage_width=24 * FOOT_M, stage_depth=8 * FOOT_M, c=0.06)
        self.write_trial(feet(venue, lengths), feet(wishes, lengths))
        out, _ = self.draft()
        self.assertGreater(self.check_layout(out), 60)
        self.assertIn("units: ft", self.read("layout.yaml"))
        self.assertIn("facing_deg: 270", self.read("layout.yaml"))

    def test_towers_are_seated_when_wished(self):
        venue, wishes, _ = trial(0)
        venue.update(side=2.0, columns=6, rows=6, width=20, depth=20, x=4, y=4, steps=2, door=4,
                     exit_mm=5)
        wishes.update(form="round", stage_width=4, stage_depth=4, stage_height=0.9, seats="most", c=0.03)
        self.write_trial(venue, wishes)
        without = self.seats(self.draft()[0])
        self.write_trial(venue, wishes, True)
        out, _ = self.draft()
        self.assertRegex(out, r"\n  T +16  seated, hoist at \d\.\d\d m\n")
        self.assertGreaterEqual(self.seats(out), without + 16 - 4)

    def test_towers_keep_interlocks(self):
        """Below 1.6 m the tower may hang only when slid out, which a draft does not do."""
        venue, wishes, _ = trial(0)
        venue.update(side=2.0, columns=6, rows=6, width=20, depth=20, x=4, y=4, steps=2, door=4,
                     exit_mm=5)
        wishes.update(form="round", stage_width=4, stage_depth=4, stage_height=0.9, seats="most", c=0.03)
        self.write_trial(venue, wishes, True)
        low = float(re.search(r"seated, hoist at (\d\.\d\d) m", self.draft()[0])[1])
        self.assertLess(low, 1.6)
        self.write("venue.yaml", self.read("venue.yaml") + "  interlocks:\n    - {name: low only out, "
                   "machine: T hoist, at: [0, 1.55], while: T slide, within: [0.5, 1]}\n")
        high = float(re.search(r"seated, hoist at (\d\.\d\d) m", self.draft()[0])[1])
        self.assertGreaterEqual(high, 1.6)
        self.write("wishes.yaml", self.read("wishes.yaml").replace("towers: yes", "towers: no"))
        out = self.draft()[0]
        self.check_layout(out)
        self.assertRegex(out, r"\n  T +0  flown out of the way, ")

    def test_wanted_capacity(self):
        venue, wishes, _ = trial(0)
        wishes.update(form="end_stage", seats=20, c=0.03)
        self.write_trial(venue, wishes)
        out, _ = self.draft()
        few = self.seats(out)
        self.assertIn("the wanted capacity is reached", out)
        self.write("wishes.yaml", WISHES.format(**dict(wishes, seats="most")))
        self.assertGreaterEqual(self.seats(self.draft()[0]), few)
        self.write("wishes.yaml", WISHES.format(**dict(wishes, seats=9999)))
        out = self.draft(code=1)[0]
        self.assertIn("the wanted 9999 are not reached", out)
        self.assertIn(f"\n  9999 are wanted: {9999 - self.seats(out)} are missing\n", out)
        self.assertRegex(hall.flat(out), "no counted choice has more places|"
                                         "every counted choice of more places, up to [0-9]+, was")
        code, text, _ = self.run_here("draft", "wishes.yaml", "--out", "-")
        self.assertEqual((code, text), (1, self.read("layout.yaml").replace("layout.yaml", "-")))

    def test_doors_limit(self):
        venue, wishes, _ = trial(0)
        wishes.update(form="end_stage", seats="most", c=0.03)
        venue.update(exit_mm=50)
        self.write_trial(venue, wishes)
        out, _ = self.draft()
        self.assertLessEqual(self.seats(out), 36)
        self.assertIn("exits: the doors let 36 people out", out)

    def test_text_says_its_limits_and_fits_80_columns(self):
        venue, wishes, _ = trial(0)
        self.write_trial(venue, dict(wishes, form="end_stage"))
        out, _ = self.draft()
        self.assertLessEqual(max(map(len, out.splitlines())), 80)
        for line in ("Limited by", "A draft is a start to edit; it approves nothing.",
                     "local codes and licensed practice decide"):
            self.assertIn(line, hall.flat(out))
        self.assertIn("It approves nothing", self.read("layout.yaml"))


class Refused(DraftTest):
    def refuse(self, pattern, changes=(), venue_changes=()):
        venue, wishes, _ = trial(0)
        wishes.update(form="thrust", axis=180, stage_width=venue["side"],
                      stage_depth=venue["side"], seats="most", c=0.03, stage_height=0.4)
        venue.update(columns=5, rows=5, width=5 * venue["side"] + 6, depth=5 * venue["side"] + 6)
        self.write_trial(venue, wishes)
        for name, group in (("wishes.yaml", changes), ("venue.yaml", venue_changes)):
            text = self.read(name)
            for old, new in group:
                self.assertTrue(re.search(old, text, flags=re.S), old)
                text = re.sub(old, new, text, flags=re.S)
            self.write(name, text)
        code, out, err = self.run_here("draft", "wishes.yaml", "--out", "layout.yaml")
        self.assertEqual((code, out), (2, ""), err)
        self.assertEqual(len(err.splitlines()), 1, err)
        self.assertRegex(err, pattern)
        self.assertFalse(os.path.exists(self.path("layout.yaml")))

    def test_what_cannot_be_made(self):
        self.refuse(r"^wishes.yaml:3:8: venue: .* has no lifts",
                    venue_changes=[(r"machines:.*", "")])
        self.refuse(r"^wishes.yaml:14:12: platforms: are for a venue without lifts",
                    [("towers: no", "towers: no\nplatforms: {step: 0.2, highest: 1}")])
        self.refuse(r"^wishes.yaml:7:8: stage: leaves no room for rows: .* is [0-9.]+ by [0-9.]+ m",
                    [("towers: no", "towers: no\nplatforms: {step: 0.02, highest: 0.02}"),
                     ("c_value: 0.03", "c_value: 0.9")], [(r"machines:.*", "")])
        self.refuse(r"^wishes.yaml:3:8: venue: .* is too narrow: .* is [0-9.]+ m wide",
                    [("form: thrust", "form: flat_floor")],
                    [(r"machines:.*", ""), (r"footprint: [^\n]*", "footprint: [[0, 0], [30, 0], [30, 1.8], [0, 1.8]]")])
        self.refuse(r"^wishes.yaml:3:8: venue: .* has lifts \w+ at a bearing", venue_changes=[
            (r"facings_deg: \[[^]]*\]", "bearing_deg: 1, facings_deg: [1, 91, 181, 271]")])
        self.refuse(r"^wishes.yaml:3:8: venue: .* has no door",
                    venue_changes=[(r"\n  doors:.*?38}\n", "\n")])
        self.refuse(r"^wishes.yaml:7:8: stage: is too wide", [("{width: [0-9.]+", "{width: 20")])
        self.refuse(r"^wishes.yaml:7:8: stage: is too deep", [(", depth: [0-9.]+", ", depth: 40")])
        self.refuse(r"^wishes.yaml:7:8: stage: is higher than its lifts rise",
                    [("height: 0.4", "height: 3")], [(r"travel: \[-1, [0-9.]+", "travel: [-1, 2")])
        self.refuse(r"^wishes.yaml:7:8: stage: leaves nothing to look at",
                    [("focus_inset: 0.4", "focus_inset: 4")])
        self.refuse(r"^wishes.yaml:8:10: c_value: no row of seats can be made",
                    [("c_value: 0.03", "c_value: 0.9")])
        self.refuse(r"^wishes.yaml:14:14: wheelchairs: none of the \d+ best choices can stand",
                    [("towers: no", "towers: no\nwheelchairs: 200")],
                    [("exit_mm_person: [57]", "exit_mm_person: 1")])

    def test_keys(self):
        self.refuse(r"^wishes.yaml:5:7: form: ", [("form: thrust", "form: trust")])
        self.refuse(r"^wishes.yaml:6:11: axis_deg: must be 0, 90, 180 or 270",
                    [("axis_deg: 180", "axis_deg: 45")])
        self.refuse(r"^wishes.yaml:\d+:\d+: .*seat_widht.*seat_width", [("seat_width", "seat_widht")])
        self.refuse(r"^wishes.yaml:13:9: towers: must be yes, no or a list of towers",
                    [("towers: no", "towers: perhaps")])
        self.refuse(r"^wishes.yaml:12:8: seats: must be a whole number up to \d+, or 'most'",
                    [("seats: most", "seats: -3")])
        self.refuse(r"^wishes.yaml:\d+:\d+: arch: the venue has no arch",
                    [("towers: no", "arch: {opening: 3, trim: 3}")])

    def test_use(self):
        self.assertEqual(self.run_here("draft", "a.yaml")[0::2],
                         (2, "gradin: draft: --out LAYOUT is needed\n"))
        self.write("there.yaml", "mine\n")
        code, _, err = self.run_here("draft", "a.yaml", "--out", "there.yaml")
        self.assertEqual((code, err), (2, "gradin: draft: the file of --out is there already; "
                                          "--replace overwrites it\n"))
        self.assertEqual(self.read("there.yaml"), "mine\n")


if __name__ == "__main__":
    plain.main()
