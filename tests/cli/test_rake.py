#!/usr/bin/python3
"""gradin rake: the lines it prints, put into the layout, give the C-values that it promised."""

import csv
import os
import re

import hall
from hall import plain


class Rake(hall.HallTest):
    def rake(self, layout, block, c_mm, *more):
        return self.run_here("rake", f"{layout}.yaml", "--block", block, "--c", str(c_mm), "--out",
                             "rake", *more)

    def rows(self):
        with open(self.path("rake/rake.csv"), encoding="utf-8", newline="") as source:
            return list(csv.DictReader(source))

    def set_lines(self, printed, layout, target):
        """The lines that a rake printed, in place of the layout's own."""
        lines = [hall.flat(line) for line in
                 re.findall(r"^    - (\{from: F-.*(?:\n      .*)?\})$", printed, re.M)]
        self.assertEqual(len(lines), 3)
        with open(self.path(layout), encoding="utf-8") as source:
            text = source.read()
        for new in lines:
            start = new.split(" height")[0]
            whole = next(line for line in text.splitlines() if start in line).strip()[2:]
            text = text.replace(whole, new)
        with open(self.path(target), "w", encoding="utf-8") as out:
            out.write(text)

    def test_the_slowest_move_takes_as_long_as_in_the_changeover(self):
        """From the layout to the raked one the lifts alone move: one time for one move."""
        _, out, _ = self.rake("traverse", "South", 60)
        self.set_lines(out, "traverse.yaml", "raked.yaml")
        code, _, err = self.run_here("changeover", "traverse.yaml", "raked.yaml", "--out", "moves",
                                     "--quiet")
        self.assertEqual((code, err), (0, ""))
        with open(self.path("moves/moves.csv"), encoding="utf-8", newline="") as source:
            moves = [m for m in csv.DictReader(source) if m["kind"] == "machine"]
        self.assertTrue(moves and all(m["name"].startswith("F-") for m in moves), moves)
        seconds = max(int(m["duration_s"]) for m in moves)
        self.assertGreater(seconds, 60)  # preparation counts
        minutes = (seconds + 59) // 60
        self.assertIn(f", the slowest move {minutes // 60}:{minutes % 60:02d} h ", hall.flat(out))

    def test_lines_set_the_layout(self):
        code, out, err = self.rake("traverse", "South", 60)
        self.assertEqual((code, err), (1 if "NOT REACHED AT EVERY SEAT" in out else 0, ""))
        self.set_lines(out, "traverse.yaml", "traverse.yaml")
        promised = {row["row"]: row for row in self.rows()}
        code, _, err = self.run_here("assess", "traverse.yaml", "--out", "out", "--quiet",
                                     "--samples", "16", "--no-maps")
        self.assertEqual((code, err), (0, ""))
        seats = [s for s in hall.Table(self.path("out")).rows if s["block"] == "South"]
        for name, row in promised.items():
            mine = [s for s in seats if s["row"] == name]
            self.assertEqual({s["floor_z_m"] for s in mine}, {row["floor_m"]})
            found = [float(s["c_mm"]) for s in mine if s["c_mm"]]
            if row["c_least_seat_mm"]:
                self.assertEqual(min(found), float(row["c_least_seat_mm"]), f"row {name}")
            if row["c_mm"]:
                self.assertGreaterEqual(float(row["c_mm"]), 60.0)

    def test_a_verdict_speaks_of_every_seat(self):
        """The column of worst seats, the verdict and the exit status agree."""
        found = set()
        for c_mm, more in ((90, []), (10, ["--step", "100"])):
            code, text, _ = self.rake("thrust", "South", c_mm, *more)
            worst = min((float(row["c_least_seat_mm"]), row["row"]) for row in self.rows()
                        if row["c_least_seat_mm"])
            is_short = worst[0] < c_mm - 0.5
            line = f"Off the middle the worst seat has {worst[0]:.0f} mm, in row {worst[1]}"
            self.assertEqual(line in text, is_short, (line, text))
            self.assertEqual("NOT REACHED AT EVERY SEAT. In the middle section" in text, is_short, text)
            self.assertEqual("Reached at every seat: " in text, not is_short, text)
            self.assertEqual(code, 1 if is_short else 0)
            found.add(is_short)
        self.assertEqual(found, {True, False})

    def test_no_setting_reaches_it(self):
        code, out, err = self.rake("end_stage", "Stalls", 150)
        self.assertEqual((code, err), (1, ""))
        self.assertIn("NO SETTING REACHES IT. The best one gives a least C of ", out)
        self.assertIn("What stands in the way: the travel of the lifts\n", out)
        self.assertIn("local codes and licensed practice decide", hall.flat(out))
        pasted = "    - {from: "  # lines of a layout, one per machine, as they are to be pasted
        self.assertLessEqual(max(len(line) for line in out.splitlines() if not line.startswith(pasted)), 80)
        self.assertEqual(sorted(os.listdir(self.path("rake"))), ["rake.csv", "rake.png"])

    def test_same_bytes_whatever_the_threads(self):
        found = []
        for threads in ("1", "3"):
            code, _, err = self.run_here("rake", "thrust.yaml", "--block", "West", "--c", "60",
                                       "--out", threads, "--quiet",
                                       env={"OMP_NUM_THREADS": threads})
            self.assertEqual((code, err), (1, ""))
            found.append(hall.read_bytes(self.path(threads)))
        self.assertEqual(found[0], found[1])

    def refuse(self, arguments, line):
        before = sorted(os.listdir(self.folder))
        code, out, err = self.run_here("rake", *arguments)
        self.assertEqual((code, out, err), (2, "", line + "\n"))
        self.assertEqual(sorted(os.listdir(self.folder)), before)

    def test_refusals(self):
        good = ["thrust.yaml", "--block", "South", "--c", "60", "--out", "rake"]
        self.refuse(good[1:], "gradin: rake: one layout is needed, not 0")
        self.refuse(good[:1] + good[3:], "gradin: rake: --block NAME is needed")
        self.refuse(good[:3] + good[5:], "gradin: rake: --c MM is needed")
        self.refuse(good[:5], "gradin: rake: --out DIR is needed")
        self.refuse(good + ["--form", "flat"],
                    "gradin: rake: --form is 'flat'; constant-c or constant-riser is needed")
        self.refuse(good[:3] + ["--c", "0", "--out", "rake"],
                    "gradin: rake: --c is '0'; a whole number from 1 to 1000 is needed")
        self.refuse(["thrust.yaml", "--block", "Sout", "--c", "60", "--out", "rake"],
                    "--block: the layout has no block 'Sout'; did you mean 'South'?")
        self.refuse(["thrust.yaml", "--block", "Nort", "--c", "60", "--out", "rake"],
                    "--block: the layout has no block 'Nort'; it has South, West, East, Places 1, "
                    "Places 2, W2 lower, W2 upper, W3 lower, W3 upper, E2 lower, E2 upper, E3 "
                    "lower, E3 upper, S1 lower, S1 upper, S2 lower, S2 upper")
        self.refuse(["thrust.yaml", "--block", "W2 upper", "--c", "60", "--out", "rake"],
                    "--block: 'W2 upper' stands on a tower, whose rows are fixed; name a block on "
                    "the floor or on lifts")
        self.refuse(["thrust.yaml", "--block", "Places 1", "--c", "60", "--out", "rake"],
                    "--block: 'Places 1' has one row; a rake needs two")


if __name__ == "__main__":
    plain.main()
