"""Blocks whose seats stand in a CSV file.

usage: test_seat_list.py GRADIN"""

import math
import os
import tempfile
import unittest

import hall

HEADER = "row,number,x,y,facing_deg,kind"
# The places of one straight row of the flat floor's own chairs, numbered from their left.
ROW = [f"1,{i + 1},{15 + (i - 4.5) * 0.55!r},14,0,seat" for i in range(10)]


def layout(rows):
    """A flat floor with one block, its rows as given; nothing else."""
    return ("format: gradin-layout-1\nunits: m\nvenue: hall.yaml\nname: List\nform: flat_floor\n"
            "axis_deg: 180\nmachines:\n  towers: [{name: N1, hoist: 7.5, seated: no}, "
            "{name: N2, hoist: 7.5, seated: no}]\nfocus:\n  - {name: platform, polygon: [[9, 22], "
            "[21, 22], [21, 28], [9, 28]], z: 1}\nblocks:\n  - name: Chairs\n    stands_on: floor\n"
            "    seat_width: 0.55\n    row_depth: 0.95\n    " + rows + "\n")


class ListCase(unittest.TestCase):
    """A copy of the demo hall to put lists beside."""

    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        hall.copy_demo(self.temporary.name)

    def tearDown(self):
        self.temporary.cleanup()

    def put(self, name, text):
        with open(os.path.join(self.temporary.name, name), "wb") as out:
            out.write(text if isinstance(text, bytes) else text.encode())

    def run_here(self, *arguments):
        return hall.run(*arguments, cwd=self.temporary.name)


class SeatList(ListCase):
    def check(self, text):
        self.put("list.yaml", layout("file: seats.csv"))
        self.put("seats.csv", text)
        return self.run_here("check", "list.yaml")

    def test_same_seats_as_a_stated_row(self):
        tables = []
        for rows in ("straight: {front: [15, 14], facing_deg: 0, rows: 1, seats: 10}",
                     "file: seats.csv"):
            self.put("list.yaml", layout(rows))
            self.put("seats.csv", "\n".join([HEADER] + ROW) + "\n")
            code, _, err = self.run_here("assess", "list.yaml", "--out", "out", "--no-maps",
                                         "--quiet")
            self.assertEqual((code, err), (0, ""))
            with open(os.path.join(self.temporary.name, "out", "seats.csv"), "rb") as source:
                tables.append(source.read())
        self.assertEqual(*tables)

    def test_turned_seats_have_the_same_head_before_them(self):
        """Three rows of 16 chairs, all facing north or each turned to the platform's middle, (15, 25): who looks there
        from (x, y) has that chair of the row 0.95 m ahead before them which the line of sight passes."""
        def at(i):
            return 15 + 0.75 * (i - 7.5)

        def turned(x, y):
            return math.degrees(math.atan2(15 - x, 25 - y)) % 360

        def seen(facing):
            self.put("list.yaml", layout("file: seats.csv"))
            rows = [f"{row},{i + 1},{at(i)!r},{14 - 0.95 * (row - 1)!r},{facing(at(i), 14 - 0.95 * (row - 1))!r},seat"
                    for row in (1, 2, 3) for i in range(16)]
            self.put("seats.csv", "\n".join([HEADER] + rows) + "\n")
            code, _, err = self.run_here("assess", "list.yaml", "--out", "out", "--no-maps", "--quiet", "--samples", "16")
            self.assertEqual((code, err), (0, ""))
            return hall.Table(os.path.join(self.temporary.name, "out")).seat

        straight, each = seen(lambda x, y: 0), seen(turned)
        n_asked = 0
        for row in (2, 3):
            y = 14 - 0.95 * (row - 1)
            for i in range(16):
                way = (15 - at(i)) / (25 - y)
                front = min(range(16), key=lambda k: abs(at(k) - at(i) - 0.95 * way))
                if abs(at(front) - at(i) - 0.95 * way) * math.cos(math.atan(way)) > 0.25:
                    continue  # the view passes between two chairs
                n_asked += 1
                for found in (straight, each):
                    self.assertEqual(found[f"Chairs-{row}-{i + 1}"]["front_seat"], f"Chairs-{row - 1}-{front + 1}")
                self.assertEqual(straight[f"Chairs-{row}-{i + 1}"]["c_mm"], each[f"Chairs-{row}-{i + 1}"]["c_mm"])
            self.assertEqual({found[f"Chairs-1-{i + 1}"]["front_seat"] for found in (straight, each) for i in range(16)}, {""})
        self.assertGreater(n_asked, 16)

    def test_ends_of_lines_and_byte_order_mark(self):
        good = (0, "list.yaml: layout, ok\n", "")
        for end in ("\n", "\r\n"):
            self.assertEqual(self.check(end.join([HEADER] + ROW)), good)
        self.assertEqual(self.check(b"\xef\xbb\xbf" + "\n".join([HEADER] + ROW).encode()), good)

    def test_bad_rows_are_named(self):
        cells = "cells; the first line has 6"
        count = "a whole number from 1 to 10000 is needed"
        for bad, complaint in (
                ("1,1,15,14,0", f"1: has 5 {cells}"), ("1,1,15,14,0,seat,7", f"1: has 7 {cells}"),
                ("1,1,15,14,0,Seat", "13: kind: is 'Seat'; seat, wheelchair or companion is needed"),
                ("1,1,15,14,0,", "13: kind: is ''; seat, wheelchair or companion is needed"),
                ("1,1,15,14,nan,seat",
                 "11: facing_deg: is 'nan'; a plain number with a decimal point is needed"),
                ("1.5,1,15,14,0,seat", f"1: row: is '1.5'; {count}"),
                ("1,1.5,15,14,0,seat", f"3: number: is '1.5'; {count}"),
                ("0,1,15,14,0,seat", f"1: row: is '0'; {count}"),
                ("10001,1,15,14,0,seat", f"1: row: is '10001'; {count}"),
                ("A,1,15,14,0,seat", f"1: row: is 'A'; {count}"),
                ("1,1,15,14,1e300,seat", "11: facing_deg: is 1e300; allowed: -360 to 360"),
                ("1,1,1e300,14,0,seat", "5: x: is 1e300; allowed: -1000000 to 1000000")):
            self.assertEqual(self.check("\n".join([HEADER, ROW[0], bad])),
                             (2, "", f"seats.csv:3:{complaint}\n"), bad)

    def test_quotes_and_blanks_as_other_programs_write_them(self):
        good = (0, "list.yaml: layout, ok\n", "")
        self.assertEqual(self.check("\n".join([HEADER, ROW[0], '"1", 2,"16" , 14,0,"seat"'])), good)

    def test_bad_files(self):
        for text in ("", "Row,Number\n", "\n" + HEADER):
            self.assertEqual(self.check(text),
                             (2, "", f"seats.csv:1:1: the first line must be {HEADER}\n"))
        # what stands behind a zero byte must not get lost
        code, out, err = self.check("\n".join([HEADER, ROW[0] + "\0", ROW[1]]))
        self.assertEqual((code, out), (2, ""))
        self.assertIn("seats.csv holds a zero byte", err)

    def test_places_that_cannot_be(self):
        for text, words in ((ROW[0] + "\n" + ROW[0], "overlaps Chairs row 1 seat 1"),
                            (ROW[0] + "\n1,1,9,9,0,seat", "seat Chairs-1-1 stands twice"),
                            ("1,1,1e5,14,0,seat", "lies outside the room's footprint")):
            code, out, err = self.check(HEADER + "\n" + text)
            self.assertEqual((code, out, len(err.splitlines())), (2, "", 1))
            self.assertIn(words, err)


if __name__ == "__main__":
    unittest.main()
