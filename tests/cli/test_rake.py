#!/usr/bin/python3
"""gradin rake: the lines it prints, put into the layout, give the C-values that it promised."""

import csv
import os
import re

import hall
from hall import plain


class Rake(hall.HallTest):
    def rake(self, layout, block, c_mm, *more):
        return self.run_here("rake", f"{layout}.yaml", "--block", block, "--c", str(c_mm / 1000),
                             "--out", "rake", *more)

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
        """From the layout to the raked one the lifts alone move: one time for one move. Power for four lifts
        makes it longer in both."""
        times = []
        for power in (60, 17):
            self.change("hall.yaml", "    power_kw: 60\n", f"    power_kw: {power}\n")
            _, out, _ = self.rake("traverse", "South", 60)
            self.set_lines(out, "traverse.yaml", "raked.yaml")
            times.append(self.slowest_s())
            minutes = (times[-1] + 59) // 60
            self.assertIn(f", the slowest move {minutes // 60}:{minutes % 60:02d} h ", hall.flat(out))
        self.assertGreater(times[0], 60)  # preparation counts
        self.assertGreater(times[1], 1.9 * times[0])

    def slowest_s(self):
        code, _, err = self.run_here("changeover", "traverse.yaml", "raked.yaml", "--out", "moves",
                                     "--quiet")
        self.assertEqual((code, err), (0, ""))
        with open(self.path("moves/moves.csv"), encoding="utf-8", newline="") as source:
            moves = [m for m in csv.DictReader(source) if m["kind"] == "machine"]
        self.assertTrue(moves and all(m["name"].startswith("F-") for m in moves), moves)
        return max(int(m["duration_s"]) for m in moves)

    def assessed(self, layout, block):
        """Seats of the block after the lines were put in."""
        code, _, err = self.run_here("assess", layout, "--out", "out", "--quiet", "--samples", "16",
                                     "--no-maps")
        self.assertIn(code, (0, 1), err)
        return [s for s in hall.Table(self.path("out")).rows if s["block"] == block]

    def check_seats(self, seats, wanted_mm):
        """Every seat has it, and in each row the named one has least."""
        least = {}
        for row in self.rows():
            mine = {s["seat"]: float(s["c_mm"]) for s in seats if s["row"] == row["row"] and s["c_mm"]}
            self.assertEqual({s["floor_z_m"] for s in seats if s["row"] == row["row"]}, {row["floor_m"]})
            self.assertEqual(bool(mine), bool(row["least_seat"]))
            if not mine:
                continue
            self.assertEqual(mine[row["least_seat"]], min(mine.values()))
            self.assertEqual(min(mine.values()), float(row["c_least_seat_mm"]))
            self.assertGreaterEqual(min(mine.values()), wanted_mm)
            least[row["least_seat"]] = min(mine.values())
        return least

    def test_lines_set_the_layout(self):
        code, out, err = self.rake("traverse", "South", 60)
        self.assertEqual((code, err), (0, ""))
        self.assertIn("Reached at every seat: ", out)
        self.set_lines(out, "traverse.yaml", "traverse.yaml")
        least = self.check_seats(self.assessed("traverse.yaml", "South"), 60)
        self.assertGreater(len(least), 5)
        (governs,) = re.findall(r"^Seat (\S+) governs, with (\d+) mm$", out, re.M)
        self.assertEqual(float(governs[1]), min(least.values()))
        self.assertEqual(least[governs[0]], min(least.values()))
        for row in self.rows()[1:]:
            self.assertGreaterEqual(float(row["c_mm"]), 60.0)

    def test_platforms_in_feet_behind_other_people(self):
        """The row behind the places for wheelchairs is raised, too; the lines stand in feet."""
        code, out, err = self.run_here("rake", "hexagon_stage.yaml", "--block", "Stalls", "--c", "0.2",
                                       "--out", "rake")
        self.assertEqual((code, err), (0, ""))
        self.assertRegex(hall.flat(out), r"the first row is raised by \d+\.\d in, to see over people of "
                                         r"other blocks Reached at every seat")
        base, riser = (re.search(rf"^    {key}: (.*)$", out, re.M)[1] for key in ("base", "riser"))
        with open(self.path("hexagon_stage.yaml"), encoding="utf-8") as source:
            head, tail = source.read().split("  - name: Stalls\n")
        mine, rest = tail.split("  - name: ", 1)
        self.assertRegex(mine, r"riser: ")
        mine = re.sub(r"^    (base|riser): .*\n", "", mine, flags=re.M) + f"    base: {base}\n    riser: {riser}\n"
        with open(self.path("raked.yaml"), "w", encoding="utf-8") as out_file:
            out_file.write(f"{head}  - name: Stalls\n{mine}  - name: {rest}")
        self.check_seats(self.assessed("raked.yaml", "Stalls"), 0.2 * 304.8 - 0.5)

    def test_a_verdict_speaks_of_every_seat(self):
        """The column of worst seats, the verdict and the exit status agree."""
        found = set()
        for c_mm, more in ((90, []), (10, ["--step", "0.1"]), (60, ["--form", "constant-riser"]),
                           (150, ["--form", "constant-riser"])):
            code, text, _ = self.rake("thrust", "South", c_mm, *more)
            worst = min(float(row["c_least_seat_mm"]) for row in self.rows() if row["c_least_seat_mm"])
            section = min(float(row["c_mm"]) for row in self.rows() if row["c_mm"])
            is_short = min(worst, section) < c_mm - 0.5
            self.assertEqual("NO SETTING REACHES IT AT EVERY SEAT. " in text, is_short, text)
            self.assertEqual("Reached at every seat: " in text, not is_short, text)
            self.assertEqual(code, 1 if is_short else 0)
            self.assertRegex(text, rf"\nSeat South-\d+-\d+ governs, with {worst:.0f} mm\n")
            found.add(is_short)
        self.assertEqual(found, {True, False})

    def test_no_setting_reaches_it(self):
        code, out, err = self.rake("end_stage", "Stalls", 150)
        self.assertEqual((code, err), (1, ""))
        self.assertIn("NO SETTING REACHES IT AT EVERY SEAT. ", out)
        self.assertIn("What stands in the way: the travel of the lifts\n", out)
        self.assertIn("local codes and licensed practice decide", hall.flat(out))
        pasted = "    - {from: "  # lines of a layout, one per machine, as they are to be pasted
        self.assertLessEqual(max(len(line) for line in out.splitlines() if not line.startswith(pasted)), 80)
        self.assertEqual(sorted(os.listdir(self.path("rake"))), ["rake.csv", "rake.png", "run-rake.txt"])

    def test_same_bytes_whatever_the_threads(self):
        found = []
        for threads in ("1", "3"):
            code, _, err = self.run_here("rake", "thrust.yaml", "--block", "West", "--c", "0.06",
                                       "--out", threads, "--quiet",
                                       env={"OMP_NUM_THREADS": threads})
            self.assertEqual((code, err), (0, ""))
            found.append(hall.read_bytes(self.path(threads)))
        self.assertEqual(found[0], found[1])

    def refuse(self, arguments, line):
        before = sorted(os.listdir(self.folder))
        code, out, err = self.run_here("rake", *arguments)
        self.assertEqual((code, out, err), (2, "", line + "\n"))
        self.assertEqual(sorted(os.listdir(self.folder)), before)

    def test_refusals(self):
        good = ["thrust.yaml", "--block", "South", "--c", "0.06", "--out", "rake"]
        self.refuse(good[1:], "gradin: rake: one layout is needed, not 0")
        self.refuse(good[:1] + good[3:], "gradin: rake: --block NAME is needed")
        self.refuse(good[:3] + good[5:], "gradin: rake: --c LENGTH is needed")
        self.refuse(good[:5], "gradin: rake: --out DIR is needed")
        self.refuse(good + ["--form", "flat"],
                    "gradin: rake: --form is 'flat'; constant-c or constant-riser is needed")
        self.refuse(good[:3] + ["--c", "0", "--out", "rake"],
                    "gradin: rake: --c is '0'; m or ft above 0 up to 1 are needed")
        self.refuse(good[:3] + ["--c", "60", "--out", "rake"],
                    "gradin: rake: --c is '60'; m or ft above 0 up to 1 are needed")
        self.refuse(["thrust.yaml", "--block", "Sout", "--c", "0.06", "--out", "rake"],
                    "--block: the layout has no block 'Sout'; did you mean 'South'?")
        self.refuse(["thrust.yaml", "--block", "Nort", "--c", "0.06", "--out", "rake"],
                    "--block: the layout has no block 'Nort'; it has South, West, East, Places 1, "
                    "Places 2, W2 lower, W2 upper, W3 lower, W3 upper, E2 lower, E2 upper, E3 "
                    "lower, E3 upper, S1 lower, S1 upper, S2 lower, S2 upper")
        self.refuse(["thrust.yaml", "--block", "W2 upper", "--c", "0.06", "--out", "rake"],
                    "--block: 'W2 upper' stands on a tower, whose rows are fixed; name a block on "
                    "the floor or on lifts")
        self.refuse(["thrust.yaml", "--block", "Places 1", "--c", "0.06", "--out", "rake"],
                    "--block: 'Places 1' has one row; a rake needs two")


if __name__ == "__main__":
    plain.main()
