#!/usr/bin/python3
"""Seats from the inserts of a drawing that another program wrote (by ezdxf), and from one of gradin export.

usage: test_seat_drawing.py GRADIN"""

import math
import os
import resource
import unittest

import ezdxf

import hall
from hall import plain
from test_seat_columns import HOUSE, ForeignList, listed

COLUMNS = "{place: [x, y], facing: faces_down, row: REIHE, seat: PLATZ, block: BEREICH}"
OURS = "{place: [x, y], floor: z, facing: faces_up, row: ROW, seat: NUMBER, block: BLOCK, level: LEVEL, kind: KIND}"


class Drawings(ForeignList):
    def drawn(self, release="R2010", units=4, area="Stalls", change=lambda space: None):
        """The house's six seats in mm by chairs that face down at no turn, a piano, and an insert in a block."""
        drawing = ezdxf.new(release)
        drawing.header["$INSUNITS"] = units
        for name in ("CHAIR", "PIANO", "TABLE"):
            drawing.blocks.new(name).add_line((0, 0), (100, 0))
        drawing.blocks.get("TABLE").add_blockref("CHAIR", (0, 0))
        space = drawing.modelspace()
        space.add_blockref("PIANO", (5000, 5000))
        for row, seats, y in HOUSE:
            for i, seat in enumerate(seats):
                chair = space.add_blockref("CHAIR", (14450 + 550 * i, 1000 * y), dxfattribs={"rotation": 180})
                for tag, value in (("REIHE", row), ("PLATZ", seat), ("BEREICH", area)):
                    chair.add_attrib(tag, value, (0, 0))
        change(space)
        drawing.saveas(os.path.join(self.temporary.name, "chairs.dxf"))

    def text(self, columns=COLUMNS, units="mm", file="chairs.dxf"):
        return listed([f"units: {units}"], columns).replace("seats.csv", file)

    def refused(self, **more):
        self.put("list.yaml", self.text(**more))
        code, out, err = self.run_here("check", "list.yaml")
        self.assertEqual((code, out), (2, ""), err)
        return err

    def line_of(self, wanted, n):
        """Line of the value `wanted` that stands there for the nth time, counted from 1."""
        with open(os.path.join(self.temporary.name, "chairs.dxf"), encoding="utf-8") as file:
            return [k for k, line in enumerate(file, 1) if line.strip() == wanted][n - 1]

    def test_the_same_places_as_a_list(self):
        wanted = self.plain_rows()
        for release in ("R12", "R2000", "R2010"):
            self.drawn(release, units=0 if release == "R12" else 4)
            table = self.read(self.text(), [])
            self.assert_same_places(table, wanted)
            self.assertEqual([(r["block"], r["row"], r["number"]) for r in table],
                             [("Stalls", row, seat) for row, seats, _ in HOUSE for seat in seats])

    def test_what_was_exported_comes_back(self):
        wanted = self.plain_rows()
        code, _, err = self.run_here("export", "list.yaml", "--out", "chairs.dxf", "--quiet", "--samples", "16")
        self.assertEqual((code, err), (0, ""))
        table = self.read(self.text(OURS, "m"), [])
        self.assert_same_places(table, wanted)
        self.assertEqual([r["seat"] for r in table], [r["seat"] for r in wanted])

    def test_letters(self):
        name = "Oberes Parkett \N{LATIN SMALL LETTER O WITH DIAERESIS} \N{GREEK SMALL LETTER ALPHA}"
        self.drawn(area=name)
        self.assertEqual({r["block"] for r in self.read(self.text(), [])}, {name})
        self.drawn("R2000", area=name)  # in a code page, or as \U+03B1
        err = self.refused()
        self.assertIn("save the drawing as release 2007", err)

    def test_units_of_the_header_are_kept(self):
        for code, said in ((6, "m"), (1, "in"), (21, "another unit")):
            self.drawn(units=code)
            self.assertIn(f"has lengths in {said} by its header ($INSUNITS); `units` says mm", self.refused())

    def test_a_seat_that_lacks_what_others_have(self):
        self.drawn(change=lambda space: space.add_blockref("CHAIR", (1, 2)))
        self.assertIn(f"chairs.dxf:{self.line_of('INSERT', 9)}:1: an insert of 'CHAIR' lacks an attribute", self.refused())

    def test_what_cannot_be_a_seat(self):
        def several(space):
            space.query("INSERT")[1].dxf.column_count = 3

        def below(space):
            space.query("INSERT")[1].dxf.extrusion = (0, 0, -1)

        for change, said in ((several, "stands for several: explode it"), (below, "is mirrored from below")):
            self.drawn(change=change)
            self.assertIn(f"chairs.dxf:{self.line_of('INSERT', 3)}:1: an insert of 'CHAIR' {said}", self.refused())

    def rewritten(self, change):
        """The house's drawing with its text changed."""
        self.drawn()
        with open(os.path.join(self.temporary.name, "chairs.dxf"), encoding="utf-8") as file:
            self.put("chairs.dxf", change(file.read()))

    def assert_all_six(self, text=None, block="Stalls"):
        self.assertEqual([(r["block"], r["row"], r["number"]) for r in self.read(text or self.text(), [])],
                         [(block, row, seat) for row, seats, _ in HOUSE for seat in seats])

    def test_what_is_passed_over_may_be_anything(self):
        def put(space):
            other = space.add_blockref("PIANO", (1, 2))
            for k in range(250):
                other.add_attrib(f"TAG{k}", "\N{LATIN SMALL LETTER O WITH DIAERESIS}")
            space.query("INSERT")[1].add_attrib("NOTE", "\N{LATIN SMALL LETTER O WITH DIAERESIS}")

        self.drawn("R2000", change=put)
        self.assert_all_six()

    def test_only_the_section_of_entities_has_seats(self):
        def chair(space):
            """A block of that name, and a chair within it and on a sheet of paper."""
            drawing = space.doc
            for place in (drawing.blocks.new("ENTITIES"), drawing.layout("Layout1")):
                more = place.add_blockref("CHAIR", (0, 0))
                for tag in ("REIHE", "PLATZ", "BEREICH"):
                    more.add_attrib(tag, "9")

        self.drawn(change=chair)
        self.assert_all_six()

    def test_only_the_header_has_units(self):
        def inches_last(text):
            variable = "  9\n$INSUNITS\n 70\n4\n"
            self.assertIn(variable, text)
            head, rest = text.replace(variable, "", 1).split("  0\nENDSEC\n", 1)
            return head + variable.replace("4", "1") + "  0\nENDSEC\n" + rest

        self.rewritten(inches_last)
        self.assertIn("has lengths in in by its header", self.refused())

    def test_an_attribute_with_its_text_embedded_once_more(self):
        embedded = "101\nEmbedded Object\n  1\n{\\fArial;another}\n  2\nOTHER\n"
        self.rewritten(lambda text: text.replace("PLATZ\n", "PLATZ\n" + embedded))
        self.assert_all_six()

    def test_a_decimal_comma_is_of_attributes_alone(self):
        def put(space):
            for insert in space.query('INSERT[name=="CHAIR"]'):
                insert.dxf.insert = insert.dxf.insert + (0.125, 0.125)
                insert.add_attrib("HOEHE", "0,5")

        self.drawn(change=put)
        columns = COLUMNS.replace("}", ", floor: HOEHE}")
        text = self.text(columns).replace("row_depth", "decimal: comma\n    row_depth")
        self.assert_all_six(text)

    def test_parts_passed_over_take_no_time(self):
        many = "".join(f"  0\nINSERT\n  2\nP{k}\n" for k in range(60000))
        self.rewritten(lambda text: text.replace("  2\nENTITIES\n", "  2\nENTITIES\n" + many, 1))
        before = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
        self.assert_all_six()
        self.assertLess(resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - before, 4.0)

    def test_no_more_inserts_than_a_hall_has(self):
        many = "0\nINSERT\n" * 1000001
        self.rewritten(lambda text: text.replace("  2\nENTITIES\n", "  2\nENTITIES\n" + many, 1))
        self.assertIn("has more than 1000000 inserts", self.refused())

    def test_broken_files(self):
        self.drawn()
        with open(os.path.join(self.temporary.name, "chairs.dxf"), encoding="utf-8") as file:
            whole = file.read()
        for text, said in ((whole[:len(whole) // 2], "the drawing is not whole"), ("", "not whole"),
                           ("hello\nworld\n", "chairs.dxf:1:"), ("1e300\nX\n", "chairs.dxf:1:"), (whole.replace("REIHE", "OTHER"), "REIHE")):
            self.put("chairs.dxf", text)
            self.assertIn(said, self.refused())
        self.drawn(change=lambda space: space.query("INSERT")[1].attribs[1].dxf.__setattr__("text", ""))
        self.assertIn(f"chairs.dxf:{self.line_of('INSERT', 3)}:1: PLATZ: is empty", self.refused())

    def test_a_chair_flipped_along_its_own_depth_faces_the_other_way(self):
        def flip(space):
            for insert in space.query('INSERT[name=="CHAIR"]'):
                insert.dxf.yscale, insert.dxf.rotation = -1, 0

        wanted = self.plain_rows()
        self.drawn(change=flip)
        self.assert_same_places(self.read(self.text(), []), wanted)
        self.assertTrue(all(math.isclose(float(r["facing_deg"]), 0.0, abs_tol=0.05) for r in wanted))


# Only what is of drawings: the lists' own tests run elsewhere.
for name in [n for n in dir(ForeignList) if n.startswith("test_")]:
    setattr(Drawings, name, None)


def load_tests(loader, _tests, _pattern):
    return loader.loadTestsFromTestCase(Drawings)


if __name__ == "__main__":
    plain.main()
