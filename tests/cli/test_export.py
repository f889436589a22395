#!/usr/bin/python3
"""gradin export: the plan as DXF, read by ezdxf, and as GeoJSON, held against the rules of RFC 7946; both
beside the tables of assess and the layout's own file.

usage: test_export.py GRADIN"""

import csv
import json
import math
import os
import tempfile
import unittest

import ezdxf
from ezdxf.lldxf.encoding import decode_dxf_unicode

import hall
import rough
import small
import test_floors
from hall import plain

LAYERS = {"ROOM", "FLOORS", "LIFTS", "TOWERS", "PLATFORMS", "STRUCTURE", "SET", "ARCH", "RAILS", "AISLES", "VOMITORIES",
          "GLAZING", "DOORS", "FOCUS", "ROWS", "SEATS", "NAMES"}
LEAST_POINTS = {"Point": 1, "LineString": 2, "Polygon": 4}


FOLDER = tempfile.TemporaryDirectory()
FILES = {}


def path(name):
    return os.path.join(FOLDER.name, name)


def gradin(*arguments):
    code, out, err = hall.run(*arguments, cwd=FOLDER.name)
    if (code, err) != (0, ""):
        raise AssertionError((arguments, code, out, err))
    return out


def setUpModule():
    """One hall, its tables and its files for all; without noise for what asks for nothing of it."""
    small.make_hall(FOLDER.name)
    unittest.addModuleCleanup(FOLDER.cleanup)
    gradin("assess", "layout.yaml", "--out", "out", "--no-maps", "--quiet")
    for name in ("seats", "seats_short"):
        with open(path(f"out/{name}.csv"), encoding="utf-8", newline="") as file:
            FILES[name] = {row["seat"]: row for row in csv.DictReader(file)}
    gradin("export", "layout.yaml", "--out", "plan.dxf", "--quiet")
    FILES["json"] = json.loads(gradin("export", "layout.yaml", "--out", "plan.geojson", "--json"))
    for name in ("layout.yaml", "other.yaml"):
        small.change(FOLDER.name, name, "overflight: pass.yaml\n", "")


class ExportTest(unittest.TestCase):
    def setUp(self):
        self.long, self.short = FILES["seats"], FILES["seats_short"]


class Drawing(ExportTest):
    def setUp(self):
        super().setUp()
        self.drawing = ezdxf.readfile(path("plan.dxf"))
        self.space = self.drawing.modelspace()

    def lines(self, layer):
        return [[tuple(p) for p in line.points()] for line in self.space.query(f'POLYLINE[layer=="{layer}"]')]

    def test_it_is_sound(self):
        self.assertEqual((self.drawing.dxfversion, self.drawing.header["$INSUNITS"]), ("AC1009", 6))
        self.assertEqual(self.drawing.audit().errors, [])
        layers = {layer.dxf.name for layer in self.drawing.layers} - {"0", "Defpoints", "DEFPOINTS"}
        self.assertEqual(layers, LAYERS)
        self.assertLessEqual({e.dxf.layer for e in self.space}, layers)

    def test_seats_are_those_of_the_tables(self):
        inserts = self.space.query("INSERT")
        self.assertEqual(len(inserts), len(self.long))
        block = {"seat": "SEAT", "wheelchair": "WHEELCHAIR", "companion": "COMPANION"}
        for insert in inserts:
            said = {a.dxf.tag.lower(): a.dxf.text for a in insert.attribs}
            row = self.long[said["seat"]]
            self.assertEqual(said, self.short[said["seat"]])
            self.assertEqual((insert.dxf.layer, insert.dxf.name), ("SEATS", block[row["kind"]]))
            for value, name in zip(insert.dxf.insert, ("x_m", "y_m", "floor_z_m")):
                self.assertAlmostEqual(value, float(row[name]), delta=0.0006)
            # A bearing goes with the clock from north; a turn of the block against it from where it faces up.
            ahead = ezdxf.math.Matrix44.z_rotate(math.radians(insert.dxf.rotation)).transform((0, 1, 0))
            bearing = math.degrees(math.atan2(ahead.x, ahead.y)) % 360
            self.assertLess(abs((bearing - float(row["facing_deg"]) + 180) % 360 - 180), 0.06)
            self.assertEqual([a.dxf.tag for a in insert.attribs if not a.is_invisible], ["NUMBER"])

    def test_outlines_stand_where_the_files_say(self):
        self.assertEqual(self.lines("ROOM"), [[(0, 0, 0), (12, 0, 0), (12, 12, 0), (0, 12, 0)]])
        self.assertEqual(len(self.lines("LIFTS")), 4)
        stage = self.lines("FOCUS")[0]
        self.assertEqual([p[:2] for p in stage], [(3, 9), (9, 9), (9, 11), (3, 11)])
        for line in self.space.query("POLYLINE"):
            self.assertEqual(bool(line.is_closed), line.dxf.layer not in ("RAILS", "ROWS", "GLAZING", "DOORS"))
        words = {(t.dxf.layer, t.dxf.text) for t in self.space.query("TEXT")}
        self.assertLessEqual({("NAMES", "Stalls"), ("FOCUS", "stage"), ("LIFTS", "L-A1"), ("ROWS", "1")}, words)

    def test_names_of_any_letters(self):
        small.change(FOLDER.name, "other.yaml", "name: Stalls", 'name: "\N{LATIN CAPITAL LETTER O WITH DIAERESIS}st, 100%"')
        gradin("export", "other.yaml", "--out", "other.dxf", "--samples", "16", "--quiet")
        with open(path("other.dxf"), "rb") as file:
            self.assertTrue(file.read().isascii())
        drawing = ezdxf.readfile(path("other.dxf"))
        names = {decode_dxf_unicode(t.dxf.text) for t in drawing.modelspace().query('TEXT[layer=="NAMES"]')}
        self.assertIn("\N{LATIN CAPITAL LETTER O WITH DIAERESIS}st, 100%", names)


class Data(ExportTest):
    def setUp(self):
        super().setUp()
        with open(path("plan.geojson"), encoding="utf-8") as file:
            self.plan = json.load(file)
        self.features = self.plan["features"]

    def of(self, kind):
        return [f for f in self.features if f["properties"]["kind"] == kind]

    def expect_line(self, line, least):
        self.assertGreaterEqual(len(line), least)
        for position in line:
            self.assertIn(len(position), (2, 3))
            self.assertTrue(all(isinstance(v, (int, float)) for v in position))

    def test_rules_of_the_rfc(self):
        """RFC 7946: sections 3.1.1 to 3.1.6 (positions, rings), 3.2, 3.3, 7.1 (no foreign name that is the RFC's)."""
        self.assertEqual(self.plan["type"], "FeatureCollection")
        self.assertFalse({"coordinates", "geometry", "properties", "geometries", "crs"} & set(self.plan))
        for f in self.features:
            self.assertEqual((set(f), f["type"]), ({"type", "geometry", "properties"}, "Feature"))
            kind, at = f["geometry"]["type"], f["geometry"]["coordinates"]
            if kind == "Polygon":
                self.expect_line(at[0], 4)
                self.assertEqual(at[0][0], at[0][-1])
                twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(at[0], at[0][1:]))
                self.assertGreater(twice, 0, f["properties"])
            else:
                for line in at if kind == "MultiLineString" else [[at] if kind == "Point" else at]:
                    self.expect_line(line, 1 if kind == "Point" else 2)

    def test_it_says_that_its_metres_are_local(self):
        self.assertEqual(self.plan["local_coordinates"]["unit"], "m")
        self.assertIn("not longitude and latitude", self.plan["local_coordinates"]["note"])

    def test_seats_have_the_figures_of_the_short_table(self):
        seats = self.of("seat")
        self.assertEqual([s["properties"]["name"] for s in seats], list(self.short))
        for s in seats:
            row, figures = self.long[s["properties"]["name"]], s["properties"]["figures"]
            self.assertEqual(s["geometry"]["coordinates"], [float(row[n]) for n in ("x_m", "y_m", "floor_z_m")])
            for name, cell in self.short[row["seat"]].items():
                value = figures[name]
                if cell == "none":
                    self.assertIsNone(value)
                elif isinstance(value, str):
                    self.assertEqual(value, cell)
                else:
                    self.assertEqual(value, float(cell))

    def test_what_else_there_is(self):
        self.assertEqual(self.plan["levels"], ["main floor", "low"])
        blocks = {b["properties"]["name"]: b["properties"] for b in self.of("block")}
        self.assertEqual(sum(b["seats"] for b in blocks.values()), len(self.short))
        self.assertEqual(blocks["Stalls"]["rows"], 4)
        self.assertEqual(len(self.of("room")), 1)
        self.assertEqual(len(self.of("lifts")), 4)
        parts = FILES["json"]["parts"]
        self.assertEqual((parts["seats"], FILES["json"]["kind"]), (len(self.short), "geojson"))
        for kind, n in parts.items():
            if kind not in ("rows", "seats"):
                self.assertEqual(len(self.of(kind)), n, kind)


class Ground(rough.RoughTest):
    """Parts of the floor that are not at 0, by hand: a slope has the heights of its corners, and the drawing's extents
    hold the lowest of them."""
    venue_text, layout_text = test_floors.VENUE, test_floors.LAYOUT

    def test_floors_and_extents(self):
        rake = "    - {name: rake,"
        self.write(venue=[(rake, "    - {name: pit, polygon: [[15, 2], [19, 2], [19, 6], [15, 6]], z: -1}\n" + rake)])
        for end in ("dxf", "geojson"):
            code, _, err = self.run_here("export", "plain.yaml", "--out", f"p.{end}", "--samples", "16", "--quiet")
            self.assertEqual((code, err), (0, ""))
        heights = {"pit": [(15, 2, -1), (19, 2, -1), (19, 6, -1), (15, 6, -1)],
                   "rake": [(0, 0, 1.2), (14, 0, 1.2), (14, 12, 0), (0, 12, 0)]}
        drawing = ezdxf.readfile(self.path("p.dxf"))
        self.assertEqual(drawing.audit().errors, [])
        lines = drawing.modelspace().query('POLYLINE[layer=="FLOORS"]')
        self.assertEqual([[tuple(round(v, 6) for v in p) for p in line.points()] for line in lines],
                         list(heights.values()))
        self.assertEqual((tuple(drawing.header["$EXTMIN"]), tuple(drawing.header["$EXTMAX"])),
                         ((0, 0, -1), (20, 24, 9)))
        with open(self.path("p.geojson"), encoding="utf-8") as file:
            floors = [f for f in json.load(file)["features"] if f["properties"]["kind"] == "floors"]
        self.assertEqual({f["properties"]["name"]: [tuple(p) for p in f["geometry"]["coordinates"][0][:-1]] for f in floors},
                         heights)
        self.assertEqual([(f["properties"]["bottom_m"], f["properties"]["top_m"]) for f in floors], [(-1, -1), (0, 1.2)])


class Refused(ExportTest):
    def test_endings(self):
        for name in ("plan", "plan.dwg", ".dxf", "plan.DXF"):
            code, out, err = hall.run("export", "layout.yaml", "--out", name, cwd=FOLDER.name)
            self.assertEqual((code, out), (2, ""), name)
            self.assertIn("ends in .glb, .dxf or .geojson", err)
            self.assertFalse(os.path.exists(path(name)))

    def test_same_bytes(self):
        made = []
        for n in ("1", "2"):
            for end in ("dxf", "geojson"):
                gradin("export", "layout.yaml", "--out", f"{n}.{end}", "--threads", n, "--samples", "16", "--quiet")
            for end in ("dxf", "geojson"):
                with open(path(f"{n}.{end}"), "rb") as file:
                    made.append(file.read())
        self.assertEqual(made[:2], made[2:])


if __name__ == "__main__":
    plain.main()
