#!/usr/bin/python3
"""Machines of the demo hall: every illegal setting is refused with the machine's and the rule's
name; the changeover verb, its files, its exit statuses."""

import csv
import io
import json
import os
import re
import struct

import hall
from hall import plain

CAUTION = "Nobody stands under or on moving machinery"


def text_of_png(data):
    """{key: text} of the tEXt chunks (ISO/IEC 15948)."""
    found, at = {}, 8
    while at < len(data):
        length, kind = struct.unpack(">I4s", data[at:at + 8])
        if kind == b"tEXt":
            key, text = data[at + 8:at + 8 + length].split(b"\0", 1)
            found[key.decode()] = text.decode("latin-1")
        at += 12 + length
    return found


class Illegal(hall.HallTest):
    """A demo layout with one setting replaced; the one line on stderr."""

    def refuse(self, layout, old, new, pattern):
        with open(self.path(f"{layout}.yaml"), encoding="utf-8") as source:
            self.assertIn(old, source.read())
        with open(self.path(f"{layout}.yaml"), encoding="utf-8") as source:
            text = source.read().replace(old, new, 1)
        name = f"try-{layout}.yaml"
        with open(self.path(name), "w", encoding="utf-8") as out:
            out.write(text)
        code, out, err = self.run_here("check", name)
        self.assertEqual((code, out), (2, ""), f"{new} was accepted")
        self.assertEqual(len(err.splitlines()), 1, err)
        self.assertRegex(err, rf"^{name}:\d+:\d+: .*{pattern}")

    def test_every_tower_beyond_its_hoist_and_slide(self):
        for tower in ("W1", "W2", "W3", "E1", "E2", "E3", "N1", "N2", "S1", "S2"):
            old = "focus:\n"
            lift = f"{tower} would be at 9.000 m; its travel is 0.000 to 8.000 m"
            with open(self.path("flat_floor.yaml"), encoding="utf-8") as source:
                stated = re.search(rf"    - {{name: {tower},.*}}\n", source.read())
            if stated:
                old = stated.group(0)
            tail = "" if stated else "focus:\n"
            self.refuse("flat_floor", old, f"    - {{name: {tower}, hoist: 9}}\n{tail}",
                        f"hoist: {lift}")
            slide = rf"slide: {tower} would be at -0.200 m; its travel is 0.000 to \d"
            self.refuse("flat_floor", old, f"    - {{name: {tower}, slide: -0.2}}\n{tail}", slide)

    def test_lifts_beyond_their_travel_and_terraces(self):
        old = "    - {from: S-A1, to: S-H3, height: 0.9}\n"
        self.refuse("flat_floor", old, "    - {from: S-A1, to: S-H3, height: 1.3}\n",
                    "height: S-A1 would be at 1.300 m; its travel is -2.400 to 1.200 m")
        self.refuse("flat_floor", old, "    - {from: S-A1, height: 0, terrace: {steps: 2, riser: 0.2, "
                    "facing_deg: 0}}\n", "terrace.steps: S-A1 makes at most 1 treads")
        old = "    - {from: F-A8, to: F-H8, height: 0.9}\n"
        for terrace, rule in (("steps: 4, riser: 0.2, facing_deg: 0", "F-A8 makes at most 3 treads"),
                              ("steps: 3, riser: 0.5, facing_deg: 0",
                               "the treads of F-A8 would stand 0.500 m apart; it makes 0.000 to 0.450 m"),
                              ("steps: 3, riser: 0.2, facing_deg: 45",
                               "F-A8 cannot terrace towards this bearing")):
            self.refuse("flat_floor", old,
                        f"    - {{from: F-A8, to: F-H8, height: 0.9, terrace: {{{terrace}}}}}\n", rule)

    def test_arch_shade_door_panel(self):
        arch = "  arch: {in: yes, opening: 16, trim: 7.5}\n"
        self.refuse("end_stage", arch, "  arch: {in: yes, opening: 19, trim: 7.5}\n",
                    "opening: arch would be at 19.000 m; its travel is 10.000 to 18.000 m")
        self.refuse("end_stage", arch, "  arch: {in: yes, opening: 16, trim: 13}\n",
                    "trim: arch would be at 13.000 m; its travel is 4.000 to 12.000 m")
        shade = "    - {name: blackout, closed: 1}\n"
        self.refuse("end_stage", shade, "    - {name: blackout, closed: 1.2}\n",
                    "closed: is 1.2; allowed: 0 to 1")
        self.refuse("end_stage", shade, shade + "  doors:\n    - {name: foyer west, open: -1}\n",
                    "open: is -1; allowed: 0 to 1")
        self.refuse("thrust", "    - {name: vom west, open: yes}\n",
                    "    - {name: vom north, open: yes}\n", "unknown floor panel 'vom north'")

    def test_every_interlock_that_binds_standing(self):
        for tower in ("W1", "W2", "W3", "E1", "E2", "E3"):
            is_seated = tower not in ("W1", "E1")
            old = f"    - {{name: {tower}, hoist: 1.9, slide: 0}}\n" if is_seated else "  towers:\n"
            self.refuse("thrust", old, ("" if is_seated else old) +
                        f"    - {{name: {tower}, hoist: 1.9, slide: 1}}\n",
                        f"interlock '{tower} slides only low': {tower} slide stands at 1.000 only "
                        f"while {tower} hoist is within 0.000 to 0.600 m; it is at 1.900")
        for tower in ("N1", "N2"):
            self.refuse("end_stage", f"{{name: {tower}, hoist: 8, slide: 0, seated: no}}",
                        f"{{name: {tower}, hoist: 6.5, slide: 0, seated: no}}",
                        f"interlock 'arch comes in before a flown tower {tower}': arch trim stands "
                        f"at 7.500 only while {tower} hoist is within 7.000 to 8.000 m; it is at 6.5")
        self.refuse("end_stage", "    - {name: blackout, closed: 1}\n",
                    "    - {name: blackout, closed: 1}\n"
                    "  doors:\n    - {name: pavement doors, open: 1}\n",
                    "interlock 'pavement doors pivot through the shade': pavement doors stands at "
                    "1.000 only while blackout is within 0.000 to 0.000; it is at 1.000")

    def test_clashes(self):
        for tower, section in (("N1", "S-B1"), ("N2", "S-E1")):
            self.refuse("flat_floor", f"{{name: {tower}, hoist: 8, slide: 0, seated: no}}",
                        f"{{name: {tower}, hoist: 0, seated: no}}",
                        f"machines clash: {tower} lower meets {section} between 0.80 m and 0.90 m")


class Changeover(hall.HallTest):
    def plan(self, *arguments, code=0):
        """By a short search, for what is asked holds for every plan."""
        found, out, err = self.run_here("changeover", *arguments, "--nodes", "1000")
        self.assertEqual((found, err), (code, ""))
        return out

    def test_files_agree_and_carry_cautions(self):
        text = self.plan("thrust.yaml", "flat_floor.yaml", "--out", "plan")
        self.assertLessEqual(max(map(len, text.splitlines())), 80)
        self.assertIn(CAUTION, hall.flat(text))
        files = hall.read_bytes(self.path("plan"))
        self.assertEqual(list(files), ["changeover.json", "cues.pdf", "moves.csv", "moves.png"])
        plan = json.loads(files["changeover.json"])
        rows = list(csv.DictReader(io.StringIO(files["moves.csv"].decode(), newline="")))
        self.assertEqual(len(plan["moves"]), len(rows))
        self.assertTrue(any(CAUTION in line for line in plan["cautions"]))
        for row in rows:
            self.assertEqual(row["caution"] != "", row["kind"] == "machine" or row["lane"] == "rails")
        self.assertEqual(plan["total_s"], max(int(row["end_s"]) for row in rows))
        self.assertEqual([m["start_s"] for m in plan["moves"]], [int(r["start_s"]) for r in rows])
        seats = sum(int(re.search(r"strike (\d+) x", r["task"]).group(1)) for r in rows
                    if r["kind"] == "strike" and " x " in r["task"])
        self.assertEqual(plan["seats_struck"], seats)

    def test_every_output_that_moves_a_machine_carries_cautions(self):
        text = self.plan("flat_floor.yaml", "thrust.yaml", "--out", "plan")
        matrix = self.plan("--matrix", "flat_floor.yaml", "thrust.yaml")
        nothing = self.plan("thrust.yaml", "thrust.yaml")
        for out in (text, matrix, nothing):
            for line in (CAUTION, "Trained operators", "controls nothing"):
                self.assertIn(line, out)
        files = hall.read_bytes(self.path("plan"))
        warning = text_of_png(files["moves.png"])["Warning"]
        for words in ("Nobody under or on moving machinery", "Trained operators", "controls nothing"):
            self.assertIn(words, warning)
        plan = json.loads(files["changeover.json"])
        self.assertTrue(any(CAUTION in line for line in plan["cautions"]))
        for row in csv.DictReader(io.StringIO(files["moves.csv"].decode(), newline="")):
            wanted = ("nobody under or on moving machinery" if row["kind"] == "machine"
                      else "an edge is open meanwhile" if row["lane"] == "rails" else "")
            self.assertEqual(row["caution"].split(";")[0], wanted)
        code, text, _ = self.run_here("rake", "thrust.yaml", "--block", "South", "--c", "0.06", "--out",
                                      "rake")
        self.assertIn("Nobody stands under or on moving machinery", text)
        files = hall.read_bytes(self.path("rake"))
        self.assertIn("Nobody stands under or on moving lifts", text_of_png(files["rake.png"])["Warning"])
        for row in csv.DictReader(io.StringIO(files["rake.csv"].decode(), newline="")):
            self.assertIn("nobody under or on moving lifts", row["caution"])

    def test_same_bytes_on_every_run_and_locale(self):
        for name, locale in (("a", "C"), ("b", "de_DE.UTF-8")):
            self.plan("round.yaml", "thrust.yaml", "--out", name, "--quiet")
        self.assertEqual(hall.read_bytes(self.path("a")), hall.read_bytes(self.path("b")))

    def test_json_is_the_file(self):
        out = self.plan("flat_floor.yaml", "thrust.yaml", "--json", "--out", "plan")
        self.assertEqual(out.encode(), hall.read_bytes(self.path("plan"))["changeover.json"])

    def test_nothing_to_move(self):
        out = self.plan("thrust.yaml", "thrust.yaml")
        self.assertIn("Nothing has to move.", out)
        self.assertIn(CAUTION, out)

    def test_the_same_layout_in_feet_needs_no_move(self):
        def feet(number):
            return f"{float(number) / 0.3048:.9f}"

        with open(self.path("flat_floor.yaml"), encoding="utf-8") as source:
            text = source.read().replace("units: m", "units: ft")
        text = re.sub(r"\b(height|hoist|slide|seat_width|row_depth|radius|thickness|z): (-?[\d.]+)",
                      lambda m: f"{m[1]}: {feet(m[2])}", text)
        text = re.sub(r"\[(-?[\d.]+), (-?[\d.]+)\]",
                      lambda m: f"[{feet(m[1])}, {feet(m[2])}]", text)
        with open(self.path("feet.yaml"), "w", encoding="utf-8") as out:
            out.write(text)
        self.assertIn("Nothing has to move.", self.plan("flat_floor.yaml", "feet.yaml"))
        metres = json.loads(self.plan("thrust.yaml", "flat_floor.yaml", "--json"))
        in_feet = json.loads(self.plan("thrust.yaml", "feet.yaml", "--json"))
        self.assertEqual(metres["total_s"], in_feet["total_s"])
        self.assertIn("6.23 ft -> 0.00 ft", [m["task"] for m in in_feet["moves"]])

    def test_gap(self):
        """By stated rates alone; what a contingency does to it: test_people_plans.py."""
        hall.change_people(self.folder)
        self.assertIn("it fits", self.plan("thrust.yaml", "flat_floor.yaml", "--gap", "12"))
        total = json.loads(self.plan("thrust.yaml", "flat_floor.yaml", "--json"))["total_s"]
        gap = str(total / 3600 + 0.25)
        self.assertIn("it fits, with 0:15 h", self.plan("thrust.yaml", "flat_floor.yaml", "--gap", gap,
                                                       "--margin", "0.25"))
        out = self.plan("thrust.yaml", "flat_floor.yaml", "--gap", gap, "--margin", "0.5", code=1)
        self.assertIn("it fits, but tightly, with 0:15 h", out)
        found = json.loads(self.plan("thrust.yaml", "flat_floor.yaml", "--gap", gap, "--margin", "0.5",
                                     "--json", code=1))
        self.assertEqual([found[key] for key in ("fits_gap", "margin_s", "keeps_margin")], [True, 1800, False])
        out = self.plan("thrust.yaml", "flat_floor.yaml", "--gap", "2.5", code=1)
        self.assertIn("2:30 h between the shows: it does not fit", out)
        plan = json.loads(self.plan("thrust.yaml", "flat_floor.yaml", "--gap", "2.5", "--json",
                                    code=1))
        self.assertEqual((plan["gap_s"], plan["fits_gap"]), (9000, False))

    def test_matrix(self):
        out = self.plan("--matrix", "thrust.yaml", "traverse.yaml", "flat_floor.yaml")
        self.assertIn(CAUTION, out)
        lines = out.splitlines()
        cells = {line[:20].strip(): re.findall(r"\d+:\d\d|-", line[20:]) for line in lines[2:5]}
        self.assertEqual([cells[n][i] for i, n in enumerate(("Thrust", "Traverse", "Flat floor"))],
                         ["-", "-", "-"])
        one = json.loads(self.plan("thrust.yaml", "flat_floor.yaml", "--json"))
        minutes = -(-one["total_s"] // 60)
        self.assertEqual(cells["Thrust"][2], f"{minutes // 60}:{minutes % 60:02d}")

    def test_refusals(self):
        for arguments, line in (
                (["thrust.yaml"], "gradin: changeover: two layouts are needed, not 1"),
                (["--matrix", "thrust.yaml"],
                 "gradin: changeover: --matrix takes 2 to 7 layouts, not 1"),
                (["--matrix", "--gap", "3", "thrust.yaml", "round.yaml"],
                 "gradin: changeover: --gap does not go with --matrix"),
                (["thrust.yaml", "round.yaml", "--gap", "soon"],
                 "gradin: changeover: --gap is 'soon'; hours above 0 up to 1000 are needed"),
                (["thrust.yaml", "round.yaml", "--gab", "3"],
                 "gradin: changeover: unknown option '--gab'; did you mean '--gap'?")):
            self.assertEqual(self.run_here("changeover", *arguments), (2, "", line + "\n"))
        self.change("hall.yaml", "    people: 12\n", "    people: 3\n")
        code, out, err = self.run_here("changeover", "thrust.yaml", "round.yaml")
        self.assertEqual((code, out), (2, ""))
        self.assertIn("takes 4 people; the venue's crew has 3", err)
        self.assertFalse(os.path.exists(self.path("plan")))


class Fit(hall.HallTest):
    def test_text_and_json_agree_and_defer(self):
        code, text, err = self.run_here("fit", "thrust.yaml")
        self.assertEqual((code, err), (0, ""))
        self.assertLessEqual(max(map(len, text.splitlines())), 80)
        self.assertIn("a licensed professional decide", hall.flat(text))
        found = json.loads(self.run_here("fit", "thrust.yaml", "--json")[1])
        edges = int(re.search(r"no rail beside them: (\d+)", text).group(1))
        self.assertEqual(len(found["open_edges"]), edges)
        self.assertTrue(found["rules_met"])
        self.assertTrue(any("never an answer" in line for line in found["cautions"]))

    def test_a_rule_that_is_not_met_gives_1(self):
        self.change("hall.yaml", "exit_mm_person: 5\n", "exit_mm_person: 30\n")
        code, text, err = self.run_here("fit", "thrust.yaml")
        self.assertEqual((code, err), (1, ""))
        self.assertRegex(text, r"clear width 4.00 m; \d+ places need 1\d\.\d\d m")

    def test_an_aisle_begins_where_it_left_a_seat_out(self):
        """An aisle from x 14.9 leaves out the seat from 14.45 to 15.0: the row before it ends 0.45 m
        from the aisle, on a platform; its outer end, 0.4 m above the floor, has none."""
        with open(self.path("row.yaml"), "w", encoding="utf-8") as out:
            out.write("format: gradin-layout-1\nunits: m\nvenue: hall.yaml\nname: Row\n"
                      "form: custom\nmachines:\n  towers: [{name: N1, hoist: 7.5, seated: no}, "
                      "{name: N2, hoist: 7.5, seated: no}]\nfocus:\n  - {name: stage, polygon: "
                      "[[9, 22], [21, 22], [21, 28], [9, 28]]}\nblocks:\n  - {name: Row, stands_on: floor, "
                      "base: 0.4, seat_width: 0.55, row_depth: 0.95, straight: {front: [15, 14], "
                      "facing_deg: 0, rows: 1, seats: 10}}\naisles:\n  - {name: aisle, polygon: "
                      "[[14.9, 12], [16.1, 12], [16.1, 16], [14.9, 16]]}\n")
        _, out, err = self.run_here("fit", "row.yaml")
        self.assertEqual(err, "")
        self.assertRegex(out, r"Rows: 0 of \d+ runs are longer")

    def test_says_what_it_does_not_look_at(self):
        self.assertIn("Edges of towers are the maker's and not looked at.",
                      " ".join(self.run_here("fit", "thrust.yaml")[1].split()))

    def test_rules_that_are_not_stated(self):
        for rule in ("guard_drop: 0.60", "row_seats_one_aisle: 11", "exit_mm_person: 5"):
            self.change("hall.yaml", f"    {rule}", f"    # {rule}")
            code, text, _ = self.run_here("fit", "flat_floor.yaml")
            self.assertEqual(code, 0)
            self.assertIn(f"the venue states no {rule.split(':')[0]}", hall.flat(text))
            hall.copy_demo(self.folder)

    def test_loads_over_a_stated_limit_give_1_and_name_machine_and_load(self):
        self.change("hall.yaml", "spread_kn_m2: 7.5, total_kn: 54", "spread_kn_m2: 5.2, total_kn: 38")
        with open(self.path("flat_floor.yaml"), encoding="utf-8") as source:
            text = source.read().replace("focus:\n", (
                "solids:\n  - {name: grand piano, kind: set, polygon: [[10, 26], [11.5, 26], [11.5, 28.6], "
                "[10, 28.6]], bottom: 0.9, top: 1.9, mass_kg: 560, carries_kn: 1}\nfocus:\n"), 1)
        with open(self.path("piano.yaml"), "w", encoding="utf-8") as out:
            out.write(text)
        self.assertEqual(self.run_here("fit", "flat_floor.yaml")[0], 0)
        code, text, err = self.run_here("fit", "piano.yaml")
        self.assertEqual((code, err), (1, ""))
        self.assertLessEqual(max(map(len, text.splitlines())), 80)
        # 560 kg and 1 kN: 6.49 kN on 3.90 m2; S-C1 is x 9.6..12.3, y 24.6..27.3: 1.95 m2 of it
        kn = 0.56 * 9.80665 + 1.0
        spread = 5.0 + kn * (1.5 * 1.3 / 3.9) / 7.29
        self.assertRegex(text, rf"S-C1 +spread +{spread:.2f} +5\.20 +{spread - 5.2:.2f}  kN/m2 grand piano")
        self.assertIn("EN 1991-1-1", text)
        self.assertIn("a licensed engineer and the makers of the machines decide", hall.flat(text))
        found = json.loads(self.run_here("fit", "piano.yaml", "--json")[1])
        self.assertFalse(found["rules_met"])
        self.assertEqual({one["at"] for one in found["loads"]["over"]}, {"S-C1", "S-C2"})

    def test_occupancy_from_another_source_or_of_the_venue(self):
        self.change("hall.yaml", "occupancy: en_1991_1_1,", "occupancy: asce_7,")
        text = self.run_here("fit", "thrust.yaml")[1]
        self.assertIn("seated 2.87, open floor 4.79, stage 7.18 kN/m2", text)
        self.assertIn("ASCE 7", text)
        self.assertRegex(text, r"F-D5 +spread +7\.18 +6\.00 +1\.18  kN/m2 stage")
        self.change("hall.yaml", "occupancy: en_1991_1_1,", "stage_kn_m2: 7.5,")
        self.assertIn("stage 7.50 (the venue's own) kN/m2", self.run_here("fit", "thrust.yaml")[1])

    def test_load_keys_that_are_wrong(self):
        for old, new, pattern in (
                ("load_limit: {spread_kn_m2: 7.5, total_kn: 54}", "load_limit: {}",
                 r"lifts\[2\].load_limit: states nothing; give spread_kn_m2, total_kn or both"),
                ("load_limit: {spread_kn_m2: 7.5, total_kn: 54}", "load_limit: {kn_m2: 7}",
                 r"unknown key 'kn_m2'"),
                ("payload: {people: 40, mass_kg: 4000}", "payload: {people: 0}",
                 r"payload.people: is 0; allowed: 1 to"),
                ("occupancy: en_1991_1_1", "occupancy: mine", r"loads.occupancy: .*en_1991_1_1, asce_7"),
                ("drive: {crew: 3, mass_kg: 300}", "drive: {crew: 3, accel_ms2: 0.1}",
                 r"panels\[1\].drive.accel_ms2: does not go with a time from end to end"),
                ("exit: when_open", "exit: maybe", r"doors\[3\].exit: .*by_hand, when_open, never")):
            self.change("hall.yaml", old, new)
            code, out, err = self.run_here("fit", "thrust.yaml")
            self.assertEqual((code, out), (2, ""))
            self.assertRegex(err.splitlines()[0], rf"^hall\.yaml:\d+:\d+: .*{pattern}")
            hall.copy_demo(self.folder)

    def test_exits_on_each_side_of_the_arch(self):
        arch = "arch: {in: yes, opening: 16, trim: 7.5}"
        self.assertIn("south of arch: 2 free, 4.00 m; ", self.run_here("fit", "end_stage.yaml")[1])
        self.change("end_stage.yaml", arch, arch.replace("7.5}", "7.5, closed: 1}"))
        code, text, _ = self.run_here("fit", "end_stage.yaml")
        self.assertEqual(code, 0)  # nobody sits behind the curtain
        self.assertIn("house curtain is down: each side needs its own exits", text)
        self.assertIn("not counted, pavement doors: an exit only when open", text)

    def test_use(self):
        self.assertEqual(self.run_here("fit"), (2, "", "gradin: fit: one layout is needed, not 0\n"))


if __name__ == "__main__":
    plain.main()
