#!/usr/bin/python3
"""gradin export as GLB: the container and the rules of glTF 2.0 (ISO/IEC 12113:2022) that bind what is in it,
read here byte by byte; places, bounds and colours beside the tables and the layout's own file.

usage: test_export_glb.py GRADIN"""

import csv
import json
import math
import os
import struct
import tempfile
import unittest

import hall
import rough
import small
import test_floors
import test_passages
from hall import plain

FOLDER = tempfile.TemporaryDirectory()
FILES = {}
# Where the classes lie along the scale of the maps: `gradin assess` draws them so.
ALONG = {"clear": 1.0, "good": 0.7, "fair": 0.38, "poor": 0.05}


def path(name):
    return os.path.join(FOLDER.name, name)


def gradin(*arguments):
    code, _, err = hall.run(*arguments, "--samples", "64", "--quiet", cwd=FOLDER.name)
    if (code, err) != (0, ""):
        raise AssertionError((arguments, code, err))


def setUpModule():
    unittest.addModuleCleanup(FOLDER.cleanup)
    small.make_hall(FOLDER.name)
    small.change(FOLDER.name, "layout.yaml", "overflight: pass.yaml\n", "")
    gradin("assess", "layout.yaml", "--out", "out", "--no-maps")
    gradin("export", "layout.yaml", "--out", "hall.glb")
    with open(path("hall.glb"), "rb") as file:
        FILES["bytes"] = file.read()
    with open(path("out/seats.csv"), encoding="utf-8", newline="") as file:
        FILES["seats"] = {row["seat"]: row for row in csv.DictReader(file)}


def linear(channel):
    """IEC 61966-2-1."""
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4


class Reader(unittest.TestCase):
    def read(self, data):
        self.assertEqual(struct.unpack_from("<4sII", data), (b"glTF", 2, len(data)))
        size, kind = struct.unpack_from("<I4s", data, 12)
        self.assertEqual((kind, size % 4), (b"JSON", 0))
        self.scene = json.loads(data[20:20 + size])
        self.chunk = data[28 + size:]
        self.assertEqual(struct.unpack_from("<I4s", data, 20 + size), (len(self.chunk), b"BIN\0"))
        self.node = {node["name"]: node for node in self.scene["nodes"]}

    def corners(self, node):
        form = self.scene["meshes"][node["mesh"]]["primitives"][0]["attributes"]["POSITION"]
        accessor = self.scene["accessors"][form]
        numbers = struct.unpack_from(f"<{3 * accessor['count']}f", self.chunk, accessor["byteOffset"])
        return list(zip(*[iter(numbers)] * 3))

    def colour(self, node):
        material = self.scene["meshes"][node["mesh"]]["primitives"][0]["material"]
        return self.scene["materials"][material]["pbrMetallicRoughness"]["baseColorFactor"]

    def area(self, name):
        corner, sum_m2 = self.corners(self.node[name]), 0.0
        for a, b, c in zip(*[iter(corner)] * 3):
            u, v = ([q - p for p, q in zip(a, other)] for other in (b, c))
            self.assertLess(u[0] * v[2] - u[2] * v[0], 0)  # its front looks up
            sum_m2 += math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]) / 2
        return sum_m2


class Scene(Reader):
    def setUp(self):
        self.read(FILES["bytes"])

    def test_rules_of_the_format(self):
        s = self.scene
        self.assertEqual(s["asset"]["version"], "2.0")
        self.assertEqual(s["buffers"], [{"byteLength": len(self.chunk)}])  # 3.6.1.1: no uri, the chunk
        view = s["bufferViews"][0]
        self.assertEqual((view["byteLength"], view["byteStride"]), (len(self.chunk), 12))
        for a in s["accessors"]:  # 3.6.2.4, 3.6.2.5: alignment, bounds
            self.assertEqual((a["componentType"], a["type"], a["byteOffset"] % 4, a["count"] % 3), (5126, "VEC3", 0, 0))
            self.assertLessEqual(a["byteOffset"] + 12 * a["count"], len(self.chunk))
            numbers = struct.unpack_from(f"<{3 * a['count']}f", self.chunk, a["byteOffset"])
            for k in range(3):
                near = [struct.unpack("<f", struct.pack("<f", a[end][k]))[0] for end in ("min", "max")]
                self.assertEqual(near, [min(numbers[k::3]), max(numbers[k::3])])
        parents = [child for node in s["nodes"] for child in node.get("children", [])] + s["scenes"][0]["nodes"]
        self.assertEqual(sorted(parents), list(range(len(s["nodes"]))))  # 3.5.2: strict trees
        self.assertEqual(len({json.dumps(m) for m in s["materials"]}), len(s["materials"]))
        for node in s["nodes"]:
            if "rotation" in node:
                self.assertAlmostEqual(math.hypot(*node["rotation"]), 1.0, delta=1e-6)

    def test_seats_stand_and_look_as_in_the_table(self):
        group = next(n for n in self.scene["nodes"] if n["name"] == "seats" and "children" in n)
        seats = [self.scene["nodes"][i] for i in group["children"]]
        self.assertEqual([n["name"] for n in seats], list(FILES["seats"]))
        for node in seats:
            row = FILES["seats"][node["name"]]
            x, up, south = node["translation"]
            for value, name in ((x, "x_m"), (-south, "y_m"), (up, "floor_z_m")):
                self.assertAlmostEqual(value, float(row[name]), delta=0.0006)
            _, y, _, w = node["rotation"]
            # North is -z; a turn about y goes against the clock as seen from above.
            self.assertLess(abs((-math.degrees(2 * math.atan2(y, w)) - float(row["facing_deg"]) + 180) % 360 - 180), 0.06)
            self.assertEqual(node["extras"]["rating"], row["rating"])

    def test_colours_are_the_maps_own(self):
        """Of the published scale (reference/cividis), 256 entries from dark to bright, every other one."""
        with open(os.path.join(hall.TOP, "reference", "cividis", "cividis.csv"), encoding="utf-8") as file:
            scale = [[float(v) for v in row.values()] for row in csv.DictReader(file)]
        ratings = set()
        for name, row in FILES["seats"].items():
            shade = int(ALONG[row["rating"]] * 127 + 0.5)
            entry = scale[(shade * 255 + 64) // 127][-3:]
            for got, wanted in zip(self.colour(self.node[name]), entry):
                self.assertAlmostEqual(got, linear(round(255 * wanted) / 255 if max(entry) <= 1 else wanted / 255),
                                       delta=2e-6, msg=name)
            ratings.add(row["rating"])
        self.assertGreater(len(ratings), 2)

    def test_parts_have_their_sizes(self):
        self.assertAlmostEqual(self.area("floor"), 144.0, delta=1e-3)
        self.assertAlmostEqual(self.area("stage"), 12.0, delta=1e-3)
        for name, low, high in (("walls", (0, 0, -12), (12, 8, 0)), ("crate", (7, 0, -8.9), (7.5, 0.6, -8.5))):
            corner = self.corners(self.node[name])
            for k in range(3):
                self.assertAlmostEqual(min(c[k] for c in corner), low[k], delta=1e-4)
                self.assertAlmostEqual(max(c[k] for c in corner), high[k], delta=1e-4)
        rail = self.corners(self.node["back"])
        feet = float(FILES["seats"]["Stalls-1-1"]["floor_z_m"])
        self.assertTrue(feet <= max(c[1] for c in rail) - 1.1 + 1e-3 and math.isclose(min(c[2] for c in rail), -2.05, abs_tol=0.06))

    def test_a_figure_that_a_layout_lacks_is_refused(self):
        code, out, err = hall.run("export", "layout.yaml", "--out", "no.glb", "--figure", "lamax", cwd=FOLDER.name)
        self.assertEqual((code, out, os.path.exists(path("no.glb"))), (2, "", False))
        self.assertIn("no figures of lamax", err)

    def test_a_figure_colours_the_seats(self):
        gradin("export", "layout.yaml", "--out", "far.glb", "--figure", "distance")
        with open(path("far.glb"), "rb") as file:
            self.read(file.read())
        by_distance = sorted(FILES["seats"].values(), key=lambda row: float(row["distance_m"]))
        bright = [sum(self.colour(self.node[row["seat"]])[:3]) for row in by_distance]
        self.assertEqual(bright, sorted(bright, reverse=True))
        self.assertGreater(len(set(bright)), 10)


class Ground(Reader, rough.RoughTest):
    """A hall by hand: the floor is open over parts that lie lower, and they have sides; it is whole under a way that is
    level with it."""

    def export(self, **changes):
        self.write(**changes)
        code, _, err = self.run_here("export", "plain.yaml", "--out", "hall.glb", "--samples", "16", "--quiet")
        self.assertEqual((code, err), (0, ""))
        with open(self.path("hall.glb"), "rb") as file:
            self.read(file.read())

    def upright_m2(self, name):
        sum_m2 = 0.0
        for a, b, c in zip(*[iter(self.corners(self.node[name]))] * 3):
            u, v = ([q - p for p, q in zip(a, other)] for other in (b, c))
            level = u[2] * v[0] - u[0] * v[2]
            if abs(level) < 1e-6:
                sum_m2 += math.hypot(u[1] * v[2] - u[2] * v[1], u[0] * v[1] - u[1] * v[0]) / 2
        return sum_m2

    def test_floors_that_are_not_at_0(self):
        self.venue_text, self.layout_text = test_floors.VENUE, test_floors.LAYOUT
        rake = "    - {name: rake,"
        pits = "".join(f"    - {{name: pit {k}, polygon: [[{x}, 2], [{x + 2}, 2], [{x + 2}, 6], [{x}, 6]], z: -1}}\n"
                       for k, x in ((1, 15), (2, 17)))
        self.export(venue=[(rake, pits + rake)])
        self.assertAlmostEqual(self.area("floor"), 20 * 24 - 14 * 12 - 2 * 4 * 2, delta=1e-3)
        for name, x in (("pit 1", 15), ("pit 2", 17)):
            corner = {tuple(round(v, 3) + 0.0 for v in c) for c in self.corners(self.node[name])}
            self.assertLessEqual({(east, -1, -y) for east in (x, x + 2) for y in (2, 6)}, corner)
            self.assertAlmostEqual(self.upright_m2(name), 2 + 4 + 2, delta=1e-3)  # open to the other one
        self.assertAlmostEqual(max(c[1] for c in self.corners(self.node["rake"])), 1.2, delta=1e-4)
        room = next(n for n in self.scene["nodes"] if n["name"] == "room" and "children" in n)
        self.assertLessEqual({"floor", "walls", "rake", "pit 1", "pit 2"},
                             {self.scene["nodes"][i]["name"] for i in room["children"]})

    # A block's platforms and a solid may be called as a part of the floor is; each stays with its kind.
    def test_parts_of_one_name_stay_apart(self):
        self.venue_text, self.layout_text = test_floors.VENUE, test_floors.LAYOUT
        box = "solids: [{name: rake, kind: set, polygon: [[1, 1], [2, 1], [2, 2], [1, 2]], bottom: 2, top: 3}]\n"
        self.export(more=box, layout=[("name: Seat, stands_on: floor,", "name: rake, stands_on: floor, base: 1.5,")])
        high_m = {"room": [], "structure": []}  # of the parts called so
        for kind, found in high_m.items():
            children = next(n for n in self.scene["nodes"] if n["name"] == kind and "children" in n)["children"]
            for node in (self.scene["nodes"][i] for i in children):
                if node["name"] == "rake":
                    found.append(round(max(c[1] for c in self.corners(node)), 3))
        self.assertEqual({kind: sorted(found) for kind, found in high_m.items()}, {"room": [1.2], "structure": [1.5, 3.0]})

    # A row 4 m up, on a slab with its top 3 m up, over a passage with 2.2 m of headroom: it reaches down to the slab.
    def test_a_row_on_a_slab_over_a_passage_is_whole(self):
        self.venue_text, self.layout_text = test_passages.VENUE, test_passages.LAYOUT
        self.export(layout=[("passages", """  - {name: Up, level: balcony, stands_on: floor, base: 4, seat_width: 0.5, row_depth: 0.9,
     straight: {front: [10, 3], facing_deg: 0, rows: 1, seats: 8}}
solids: [{name: deck, kind: slab, polygon: [[7, 2], [13, 2], [13, 4], [7, 4]], bottom: 2.8, top: 3}]
passages""")])
        part = [node for node in self.scene["nodes"] if node["name"] == "Up"]
        self.assertEqual(len(part), 8)
        for node in part:
            for pick, wanted_m in ((min, 3), (max, 4)):
                self.assertAlmostEqual(pick(c[1] for c in self.corners(node)), wanted_m, delta=1e-4)

    def test_a_level_passage_has_a_floor(self):
        self.venue_text, self.layout_text = test_passages.VENUE, test_passages.LAYOUT
        self.export()
        self.assertAlmostEqual(self.area("floor"), 400, delta=1e-3)


if __name__ == "__main__":
    plain.main()
