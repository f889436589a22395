#!/usr/bin/python3
"""The table of small_hall.c: its seats, and the C-value that its rake was made for.

usage: check_table.py TABLE.csv"""

import csv
import sys

with open(sys.argv[1], encoding="utf-8", newline="") as table:
    rows = list(csv.DictReader(table))
assert len(rows) == 8 * 16, len(rows)
# Plain geometry: D 3 m, eye 1.12 m, rows of 0.95 m, 60 mm over each head. The seats beside the middle
# look a little aslant, which lengthens D and T alike and leaves C as it is, to a millimetre.
eye_m, d_m = 1.12, 3.0
for row in range(1, 9):
    seat = next(r for r in rows if r["row"] == str(row) and r["number"] == "8")
    assert abs(float(seat["eye_z_m"]) - eye_m) < 0.0011, (seat, eye_m)
    assert row == 1 or abs(float(seat["c_mm"]) - 60.0) <= 1.0, seat
    eye_m = (eye_m + 0.060) * (d_m + 0.95) / d_m
    d_m += 0.95
