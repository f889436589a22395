#!/usr/bin/python3
"""seats_short.csv: the long table's own cells under the long table's own names; no cell and no column
without anything in it.

usage: test_short_table.py GRADIN"""

import csv
import os
import tempfile
import unittest

import hall
import small
from hall import plain

MARK = "\N{ZERO WIDTH NO-BREAK SPACE}"  # U+FEFF


class ShortTable(unittest.TestCase):
    def setUp(self):
        temporary = tempfile.TemporaryDirectory()
        self.addCleanup(temporary.cleanup)
        self.folder = temporary.name
        small.make_hall(self.folder)

    def tables(self, *changes):
        """The long and the short table, each as (names, rows), and the short one as text."""
        for old, new in changes:
            small.change(self.folder, "layout.yaml", old, new)
        code, _, err = hall.run("assess", "layout.yaml", "--out", "out", "--no-maps", "--quiet", "--samples", "64",
                                cwd=self.folder)
        self.assertEqual((code, err), (0, ""))
        read = []
        for name in ("seats.csv", "seats_short.csv"):
            with open(os.path.join(self.folder, "out", name), encoding="utf-8", newline="") as file:
                text = file.read()
            rows = list(csv.reader(text.removeprefix(MARK).splitlines()))
            read.append([dict(zip(rows[0], row)) for row in rows[1:]])
        return *read, text

    def test_cells_are_those_of_the_long_table(self):
        long, short, text = self.tables()
        self.assertEqual(list(short[0]), ["seat", "block", "level", "row", "number", "kind", "rating", "reason",
                                          "visible_pct", "distance_m", "c_mm", "lamax_dba"])
        self.assertEqual(len(long), len(short))
        for a, b in zip(long, short):
            for name, cell in b.items():
                self.assertEqual(cell, a[name] or "none", (b["seat"], name))
        # The front row has nobody before it.
        self.assertEqual(next(row for row in short if row["seat"] == "Stalls-1-1")["c_mm"], "none")
        self.assertTrue(any(float(row["c_mm"]) for row in short if row["c_mm"] != "none"))
        self.assertTrue(text.endswith("\r\n"))
        self.assertTrue(text.isascii())

    def test_a_column_without_figures_is_left_out(self):
        _, short, _ = self.tables(("overflight: pass.yaml\n", ""))
        self.assertNotIn("lamax_dba", short[0])
        for name in short[0]:
            self.assertTrue(any(row[name] not in ("", "none") for row in short), name)

    def test_names_are_read_as_they_are(self):
        """A spreadsheet takes a file that begins with U+FEFF for UTF-8 (RFC 3629, section 6)."""
        long, short, text = self.tables(("name: Stalls", 'name: "Oberes Parkett \N{LATIN SMALL LETTER O WITH DIAERESIS}, =1+1"'))
        self.assertTrue(text.startswith(MARK + "seat,"))
        self.assertEqual([row["block"] for row in short], [row["block"] for row in long])
        self.assertIn("Oberes Parkett \N{LATIN SMALL LETTER O WITH DIAERESIS}, =1+1", {row["block"] for row in short})


if __name__ == "__main__":
    plain.main()
