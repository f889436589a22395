"""Seats from a CSV that another program wrote: its columns, units, signs, drawing and labels.

usage: test_seat_columns.py GRADIN"""

import csv
import json
import math
import os
import re
import sys
import unittest

import hall
from test_seat_list import HEADER, ListCase, layout

sys.path.insert(0, os.path.join(hall.TOP, "tests", "schema"))
import validate  # noqa: E402


COLUMNS = "{place: [X, Y], facing: ROT, row: Reihe, seat: Platz, kind: Art}"
# Two rows of the flat floor, front row B, labels as a house has them: odd numbers, a letter added.
HOUSE = [("B", ["1", "3", "5A"], 14.0), ("A", ["1", "3", "5"], 13.05)]


def listed(more, columns=COLUMNS, blocks="blocks: []\n"):
    """The same flat floor with its seats from a list of another program."""
    text = layout("straight: {front: [15, 14], facing_deg: 0, rows: 1, seats: 10}")
    head = text[:text.index("blocks:\n")]
    return (head + f"seat_lists:\n  - file: seats.csv\n    columns: {columns}\n"
            "    seat_width: 0.55\n    row_depth: 0.95\n" + "".join(f"    {m}\n" for m in more))


def house(write, separator=";"):
    """Its file: a line per seat by write(row, seat, x m, y m)."""
    return [separator.join(write(row, seat, 14.45 + 0.55 * i, y))
            for row, seats, y in HOUSE for i, seat in enumerate(seats)]


def comma(value):
    return f"{value:.4f}".replace(".", ",")


class ForeignList(ListCase):
    """Lists with columns, units and signs of their own."""

    MM = ["name: Stalls", "units: mm", "separator: semicolon", "decimal: comma"]

    def read(self, layout_text, lines):
        """The seat table of the layout as dictionaries."""
        self.put("list.yaml", layout_text)
        self.put("seats.csv", "\n".join(lines) + "\n")
        code, _, err = self.run_here("assess", "list.yaml", "--out", "out", "--no-maps", "--quiet")
        self.assertEqual((code, err), (0, ""))
        with open(os.path.join(self.temporary.name, "out", "seats.csv"), newline="",
                  encoding="utf-8") as source:
            return list(csv.DictReader(source))

    def plain_rows(self):
        """The same six seats as one stated list in metres."""
        return self.read(layout("file: seats.csv").replace("name: Chairs", "name: Stalls"),
                         [HEADER] + [f"{1 if row == 'B' else 2},{i + 1},{14.45 + 0.55 * i!r},{y},0,"
                                     "seat" for row, seats, y in HOUSE for i in range(3)])

    def assert_same_places(self, table, wanted, tolerance=0.0011):
        self.assertEqual(len(table), len(wanted))
        for one, other in zip(table, wanted):
            for key in ("x_m", "y_m", "floor_z_m", "eye_z_m", "facing_deg", "width_m", "visible_pct",
                        "c_mm"):
                if key in other and other[key] != "":
                    self.assertAlmostEqual(float(one[key]), float(other[key]), delta=tolerance,
                                           msg=key)

    def in_mm(self, kind="P"):
        head = "Reihe;Platz;Art;X;Y;ROT;Preis"
        return [head] + house(lambda row, seat, x, y: [row, seat, kind, comma(1000 * x),
                                                       comma(1000 * y), "0,0", '"12;50"'])

    def test_labels_stay_as_written_and_rows_count_from_the_front(self):
        table = self.read(listed(self.MM + ["kinds: {seat: [P]}"]), self.in_mm())
        self.assertEqual([(row["seat"], row["row"], row["number"], row["block"]) for row in table],
                         [(f"Stalls-{r}-{s}", r, s, "Stalls") for r, seats, _ in HOUSE
                          for s in seats])
        self.assert_same_places(table, self.plain_rows())
        # the row behind sits behind: its C is over the front row, whatever the letters say
        self.assertEqual([row["front_seat"] for row in table],
                         ["", "", "", "Stalls-B-1", "Stalls-B-3", "Stalls-B-5A"])
        # the file from the back to the front is the same hall
        lines = self.in_mm()
        turned = self.read(listed(self.MM + ["kinds: {seat: [P]}"]),
                           [lines[0]] + lines[4:] + lines[1:4])
        self.assertEqual([{**row} for row in turned], [{**row} for row in table])

    def test_a_rake_names_rows_as_the_house_does(self):
        self.put("list.yaml", listed(self.MM + ["kinds: {seat: [P]}"]))
        self.put("seats.csv", "\n".join(self.in_mm()) + "\n")
        rake = ["rake", "list.yaml", "--block", "Stalls", "--c", "0.06", "--out", "out"]
        code, out, err = self.run_here(*rake)
        self.assertEqual((code, err), (0, ""))
        self.assertRegex(out, r", in row A\n")
        self.assertEqual(re.findall(r"(?m)^ {3}(\w) +\d\.\d{3} ", out), ["B", "A"])
        with open(os.path.join(self.temporary.name, "out", "rake.csv"), encoding="utf-8") as source:
            self.assertEqual([row["row"] for row in csv.DictReader(source)], ["B", "A"])
        made = json.loads(self.run_here(*rake, "--json")[1])
        self.assertEqual([(row["row"], row["row_label"]) for row in made["rows"]], [(1, "B"), (2, "A")])
        self.assertEqual((made["least_row"], made["least_row_label"]), (2, "A"))
        with open(os.path.join(hall.TOP, "reference", "rake-schema.json"), encoding="utf-8") as source:
            rules = json.load(source)
        self.assertEqual(list(validate.breaches(made, rules, rules)), [])

    def test_units_turn_and_origin(self):
        """A drawing in inches whose origin lies at [3, 2] m and whose up is the bearing 37."""
        wanted = self.plain_rows()
        sine, cosine = math.sin(math.radians(37)), math.cos(math.radians(37))

        def drawn(facing, down=1.0):
            def write(row, seat, x, y):
                dx, dy = x - 3, y - 2
                right, up = dx * cosine - dy * sine, dx * sine + dy * cosine
                return [row, seat, "", f"{right / 0.0254:.5f}", f"{down * up / 0.0254:.5f}", facing]
            return ["Reihe,Platz,Art,X,Y,ROT"] + house(write, ",")

        base = ["name: Stalls", "units: in", "origin: [3, 2]", "turn_deg: 37"]
        self.assert_same_places(self.read(listed(base), drawn("-37")), wanted)
        self.assert_same_places(self.read(listed(base + ["facing_as: angle"]), drawn("127")), wanted)
        self.assert_same_places(self.read(listed(base + ["y_down: yes"]), drawn("-37", -1.0)), wanted)
        no_facing = COLUMNS.replace("facing: ROT, ", "")
        self.assert_same_places(self.read(listed(base + ["facing_deg: 0"], no_facing), drawn("")),
                                wanted)
        towards = self.read(listed(base + ["faces: [15, 22]"], no_facing), drawn(""))
        for row in towards:
            bearing = math.degrees(math.atan2(15 - float(row["x_m"]), 22 - float(row["y_m"]))) % 360
            self.assertAlmostEqual(float(row["facing_deg"]), bearing, delta=0.06)

    def test_heights_of_floors_and_eyes(self):
        """Row A half a metre up: by its floors, or by eyes of 1.12 m above them and 1.15 m above a
        wheelchair's. The sizes are the layout's own defaults as its audience states them."""
        for column, above in (("floor", {"": 0.0, "W": 0.0}), ("eye", {"": 1.2, "W": 1.1})):
            def write(row, seat, x, y):
                kind = "W" if seat == "3" else ""
                height = (0.5 if row == "A" else 0.0) + above[kind] - 10.0
                return [row, seat, kind, f"{x:.3f}", f"{y:.3f}", "0", f"{height:.4f}"]
            text = listed(["name: Stalls", "units: m", "origin_height: 10",
                           "kinds: {wheelchair: [W]}"],
                          COLUMNS.replace("{", "{" + column + ": Z, ", 1))
            text += "audience: {eye_height: 1.2, wheelchair_eye_height: 1.1}\n"
            table = self.read(text, ["Reihe,Platz,Art,X,Y,ROT,Z"] + house(write, ","))
            self.assertEqual([row["kind"] for row in table],
                             ["seat", "wheelchair", "seat"] * 2)
            self.assertEqual([row["floor_z_m"] for row in table], ["0.000"] * 3 + ["0.500"] * 3)
            self.assertEqual([row["eye_z_m"] for row in table],
                             ["1.200", "1.100", "1.200", "1.700", "1.600", "1.700"])

    def test_blocks_and_levels_from_columns(self):
        columns = "{place: [X, Y], row: R, seat: S, block: Block, level: Level}"
        lines = ["X,Y,R,S,Block,Level", "10,14,A,1,\"Left, front\",Stalls", "20,14,A,1,Right,Stalls",
                 "10.6,14,A,2,\"Left, front\",Stalls", "15,10,AA,10,Rear,\"Rear \"\"stalls\"\"\""]
        more = ["units: m", "facing_deg: 0"]
        table = self.read(listed(more, columns), lines)
        self.assertEqual([(row["seat"], row["level"]) for row in table],
                         [("Left, front-A-1", "Stalls"), ("Left, front-A-2", "Stalls"),
                          ("Right-A-1", "Stalls"), ("Rear-AA-10", 'Rear "stalls"')])
        some = self.read(listed(more + ["only: [Right, Rear]"], columns), lines)
        self.assertEqual([row["seat"] for row in some], ["Right-A-1", "Rear-AA-10"])
        self.assertEqual(self.check_list(more + ["only: [Right, Reer]"], lines, columns)[2].strip(),
                         "list.yaml:18:19: seat_lists[1].only[2]: 'Reer' is no block of seats.csv")
        lines[3] = lines[3].replace("Stalls", "Circle")
        self.assertEqual(self.check_list(more, lines, columns)[2].strip(),
                         "seats.csv:4:1: Left, front has the level 'Circle' here and 'Stalls' on "
                         "line 2: a block has one level")

    def check_list(self, more, lines, columns=COLUMNS):
        self.put("list.yaml", listed(more, columns))
        self.put("seats.csv", "\n".join(lines) + "\n")
        return self.run_here("check", "list.yaml")

    def test_bad_cells_are_named_by_line_column_and_key(self):
        good = self.in_mm("")
        for line, old, new, complaint in (
                (2, "14450,0000", "14450.0000", "6: X: is '14450.0000'; a plain number with a decimal "
                                                "comma is needed"),
                (3, "15000,0000", "", "6: X: is ''; a plain number with a decimal comma is needed"),
                (4, "B;", ";", "1: Reihe: is empty, longer than 100 characters, or no plain text "
                               "in UTF-8: a label is needed"),
                (4, ";5A;", ";;", "3: Platz: is empty, longer than 100 characters, or no plain text "
                                  "in UTF-8: a label is needed"),
                (5, ";0,0", ";361", "28: ROT: is 361; allowed: -360 to 360"),
                (6, ";;", ";Platte;", "5: Art: is 'Platte'; `kinds` of the list has no such word"),
                (6, ";;", ";\u00e9\u00e9;", "5: Art: is '\u00e9\u00e9'; `kinds` of the list has no such "
                                          "word"),
                (7, ";;", "", "1: has 5 cells; the first line has 7"),
                (7, ';"12;50"', ";\"12", "1: has a quote that stays open, or more text behind one"),
                (7, "15550,0000", "1e10", "6: X: is 1e10; allowed: -1000000000 to 1000000000")):
            lines = list(good)
            self.assertIn(old, lines[line - 1])
            lines[line - 1] = lines[line - 1].replace(old, new, 1)
            self.assertEqual(self.check_list(self.MM, lines),
                             (2, "", f"seats.csv:{line}:{complaint}\n"))
        # two labels that look alike, and a file in another code than UTF-8
        self.assertIn("seats.csv:4:3: Platz: is empty", self.check_list(self.MM, [*good[:3], good[3].replace("5A", "5A\u200b"), *good[4:]])[2])
        with open(os.path.join(self.temporary.name, "seats.csv"), "wb") as out:
            out.write("\n".join(good).replace("5A", "5\u00d6").encode("latin-1"))
        code, _, err = self.run_here("check", "list.yaml")
        self.assertEqual(code, 2)
        self.assertIn("seats.csv:4:3: Platz: is empty, longer than 100 characters, or no plain text in UTF-8", err)
        # every one is told, a letter beyond ASCII is one column, and the layout is not half read
        lines = list(good)
        lines[1] = lines[1].replace("B;", "\u00c4\u00d6;").replace("14450", "x")
        lines[2] = lines[2].replace(";0,0;", ";north;")
        self.assertEqual(self.check_list(self.MM, lines)[2].splitlines(),
                         ["seats.csv:2:7: X: is 'x,0000'; a plain number with a decimal comma is needed",
                          "seats.csv:3:28: ROT: is 'north'; a plain number with a decimal comma is "
                          "needed"])

    def test_bad_heights_and_twins(self):
        columns = COLUMNS.replace("{", "{floor: Z, ", 1)
        lines = ["Reihe,Platz,Art,X,Y,ROT,Z", "A,1,,10,10,0,0", "A,2,,11,10,0,70"]
        more = ["name: Stalls", "units: m"]
        self.assertEqual(self.check_list(more, lines, columns),
                         (2, "", "seats.csv:3:14: Z: is 70; allowed: -30 to 60\n"))
        lines[2] = "A,1,,11,10,0,0"
        code, _, err = self.check_list(more, lines, columns)
        self.assertEqual(code, 2)
        self.assertIn("seat Stalls-A-1 stands twice", err)
        # labels that add up to one name
        lines[1:] = ["A-1,1,,10,10,0,0", "A,1-1,,11,10,0,0"]
        self.assertIn("seat Stalls-A-1-1 stands twice", self.check_list(more, lines, columns)[2])
        # labels stand in complaints, too
        lines[1:] = ["C,7A,,10,10,0,0", "C,8,,10.2,10,0,0"]
        self.assertIn("Stalls row C seat 7A overlaps Stalls row C seat 8",
                      self.check_list(more, lines, columns)[2])

    def test_bad_statements(self):
        good = self.in_mm("")
        for more, columns, complaint in (
                (self.MM, COLUMNS.replace("Platz", "Plaz"),
                 "'Plaz' is no column of seats.csv; did you mean 'Platz'?"),
                (self.MM + ["facing_deg: 0"], COLUMNS,
                 "needs exactly one of columns.facing, faces, facing_deg"),
                (self.MM[1:], COLUMNS, "needs exactly one of columns.block, name"),
                (self.MM + ["base: 1"], COLUMNS.replace("{", "{floor: Y, ", 1),
                 "cannot stand beside a column of heights"),
                (self.MM, COLUMNS.replace("{", "{floor: Y, eye: Y, ", 1),
                 "cannot stand beside eye: one of the two gives the height"),
                (self.MM + ["only: [A]"], COLUMNS, "goes with a column of blocks (columns.block)"),
                (self.MM + ["kinds: {seat: [P]}"], COLUMNS.replace(", kind: Art", ""),
                 "goes with a column of kinds (columns.kind)"),
                (self.MM + ["level: A"], COLUMNS.replace("{", "{level: Art, ", 1),
                 "has a column level and a level for all"),
                (self.MM + ["stands_on: lifts"], COLUMNS.replace("{", "{floor: Y, ", 1),
                 "stands on lifts: their treads give the heights")):
            code, out, err = self.check_list(more, good, columns)
            self.assertEqual((code, out, len(err.splitlines())), (2, "", 1), complaint)
            self.assertIn(complaint, err)
            self.assertTrue(err.startswith("list.yaml:"), err)
        twice = [good[0].replace("Preis", "X")] + good[1:]
        self.assertIn("is the name of 2 columns of seats.csv", self.check_list(self.MM, twice)[2])
        self.assertIn("seats.csv has no seat", self.check_list(self.MM, good[:1])[2])


if __name__ == "__main__":
    unittest.main()
