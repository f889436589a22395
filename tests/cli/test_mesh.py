"""Solids whose shape is a model file.

usage: test_mesh.py GRADIN"""

import math
import os
import resource
import struct
import subprocess
import unittest

import hall

# A box in front of the focus; corners in metres.
LOW, HIGH = (12.0, 20.5, 0.0), (17.5, 21.25, 2.25)
PRISM = ("{name: box, kind: set, polygon: [[12, 20.5], [17.5, 20.5], [17.5, 21.25], [12, 21.25]], "
         "bottom: 0, top: 2.25}")
FACES = ((0, 2, 3, 1), (4, 5, 7, 6), (0, 1, 5, 4), (2, 6, 7, 3), (0, 4, 6, 2), (1, 3, 7, 5))


def corners(change=lambda x, y, z: (x, y, z)):
    """Eight corners of the box, x fastest, changed."""
    return [change(*((LOW, HIGH)[i >> a & 1][a] for a in range(3))) for i in range(8)]


def obj(points, faces=FACES):
    return ("mtllib not_there.mtl\n" + "".join(f"v {x!r} {y!r} {z!r}\n" for x, y, z in points)
            + "".join("f " + " ".join(str(i + 1) for i in f) + "\n" for f in faces))


def triangles(faces=FACES):
    return [(f[0], f[i], f[i + 1]) for f in faces for i in range(1, len(f) - 1)]


def stl_text(points, three):
    facet = "facet normal 0 0 0\nouter loop\n{}endloop\nendfacet\n"
    return "solid t\n" + "".join(
        facet.format("".join("vertex %r %r %r\n" % points[i] for i in t)) for t in three
    ) + "endsolid t\n"


def stl_binary(points, three):
    return b"b" * 80 + struct.pack("<I", len(three)) + b"".join(
        struct.pack("<12fH", 0, 0, 0, *(v for i in t for v in points[i]), 0) for t in three)


class Mesh(hall.HallTest):
    def put(self, name, content):
        with open(self.path(name), "wb") as out:
            out.write(content if isinstance(content, bytes) else content.encode())

    def layout(self, solid, is_loud=False):
        """A flat floor with one solid, in the last line, and an overflight only when is_loud, so
        that all figures are of sight otherwise. Gives the last line's number."""
        text = ("format: gradin-layout-1\nunits: m\nvenue: hall.yaml\nname: Mesh\n"
                "form: flat_floor\naxis_deg: 180\nmachines:\n  towers: [{name: N1, hoist: 7.5, "
                "seated: no}, {name: N2, hoist: 7.5, seated: no}]\nfocus:\n  - {name: platform, "
                "polygon: [[9, 22], [21, 22], [21, 28], [9, 28]], z: 1}\nblocks:\n"
                "  - {name: Chairs, stands_on: floor, seat_width: 0.55, row_depth: 0.95, straight: "
                "{front: [15, 14], facing_deg: 0, rows: 5, seats: 12}}\n")
        text += "overflight: approach.yaml\n" if is_loud else ""
        text += "solids:\n  - " + solid + "\n" if solid else ""
        self.put("mesh.yaml", text)
        return text.count("\n")

    def table(self, solid, is_loud=False, **more):
        self.layout(solid, is_loud)
        code, _, err = self.run_here("assess", "mesh.yaml", "--out", "out", "--no-maps", "--quiet",
                                     "--samples", "64",
                                     **more)
        self.assertEqual((code, err), (0, ""))
        return hall.read_bytes(self.path("out"))

    def seats(self, solid):
        return self.table(solid)["seats.csv"]

    def test_a_box_hides_what_the_same_prism_hides(self):
        points = corners()
        prism = self.seats(PRISM)
        self.assertIn(b"box", prism)
        self.assertNotEqual(prism, self.seats(PRISM.replace("2.25}", "0.5}")))
        for name, content in (("a.obj", obj(points)), ("b.stl", stl_text(points, triangles())),
                              ("c.STL", stl_binary(points, triangles()))):
            self.put(name, content)
            found = self.seats(f"{{name: box, kind: mesh, file: {name}, unit: m}}")
            self.assertEqual(found.splitlines(), prism.splitlines(), name)

    def test_unit_axes_turn_and_place(self):
        prism = self.seats(PRISM)
        for words, change in (
                ("unit: mm", lambda x, y, z: (1000 * x, 1000 * y, 1000 * z)),
                ("unit: m, up: y_axis", lambda x, y, z: (x, z, -y)),
                # 90 degrees clockwise take (a, b) to (b, -a)
                ("unit: m, turn_deg: 90", lambda x, y, z: (-y, x, z)),
                ("unit: m, turn_deg: -90", lambda x, y, z: (y, -x, z)),
                ("unit: m, at: [12, 20.5], bottom: 0",
                 lambda x, y, z: (x - 12, y - 20.5, z - 64))):
            self.put("a.obj", obj(corners(change)))
            found = self.seats("{name: box, kind: mesh, file: a.obj, " + words + "}")
            self.assertEqual(found, prism, words)
        # turned once more it stands among the seats, by its outline
        self.layout("{name: box, kind: mesh, file: a.obj, unit: m, at: [12, 17], bottom: 0, "
                    "turn_deg: 90}")
        code, _, err = self.run_here("check", "mesh.yaml")
        self.assertEqual(code, 2)
        self.assertRegex(err, r"Chairs row \d seat \d+ stands inside box")

    def test_feet(self):
        whole = [(40, 68, 0), (56, 68, 0), (40, 70, 0), (56, 70, 0), (40, 68, 8), (56, 68, 8),
                 (40, 70, 8), (56, 70, 8)]
        foot = 0.3048
        x, y, z = ((a * foot, b * foot) for a, b in ((40, 56), (68, 70), (0, 8)))
        prism = self.seats(f"{{name: box, kind: set, polygon: [[{x[0]!r}, {y[0]!r}], [{x[1]!r}, "
                           f"{y[0]!r}], [{x[1]!r}, {y[1]!r}], [{x[0]!r}, {y[1]!r}]], bottom: 0, "
                           f"top: {z[1]!r}}}")
        self.put("a.obj", obj(whole))
        self.assertEqual(prism,
                         self.seats("{name: box, kind: mesh, file: a.obj, unit: ft, bottom: 0}"))

    def test_numbers_are_what_they_seem(self):
        """The import library alone reads 1,5 as 1 and 0x10 as 0, and is slow over large faces."""
        three = "three coordinates are needed, plain decimal numbers up to 1e7"
        for line, text in (("v 1,5 0 0", three), ("v 0x10 1 0", three), ("v 1.2m 1 1", three), ("v 1 2", three),
                           ("v nan 0 0", three), ("v 1e8 0 0", three),
                           ("f 1 2 x", "a face names its corners by whole numbers"),
                           ("f 1 2x 3", "a face names its corners by whole numbers"),
                           ("f" + " 1" * 4097, "a face has at most 4096 corners"),
                           ("o part\n" * 4097, "a model has at most 4096 parts")):
            self.put("a.obj", obj(corners()) + line + "\n")
            self.layout("{name: box, kind: mesh, file: a.obj, unit: m}")
            code, out, err = self.run_here("check", "mesh.yaml")
            at = obj(corners()).count("\n") + line.count("\n") + (0 if line.endswith("\n") else 1)
            self.assertEqual((code, out, err), (2, "", f"a.obj:{at}:1: {text}\n"), line[:20])
        self.put("b.stl", stl_text(corners(), triangles()).replace("vertex 12", "vertex 12,0", 1))
        self.layout("{name: box, kind: mesh, file: b.stl, unit: m}")
        code, out, err = self.run_here("check", "mesh.yaml")
        self.assertEqual((code, out), (2, ""))
        self.assertIn(three, err)

    def test_what_would_take_minutes_is_quick_or_refused(self):
        """Each took the import library a minute and more, or two gigabytes."""
        box = obj(corners())
        self.put("a.obj", box + "".join(f"usemtl m{k}\nf 1 2 4\n" for k in range(100000)))
        self.layout("{name: box, kind: mesh, file: a.obj, unit: m}")
        self.assertEqual(self.run_within_seconds(10), (0, "mesh.yaml: layout, ok\n", ""))
        round_ = "".join(f"v {math.cos(k)!r} {math.sin(k)!r} 0\n" for k in range(4096))
        face = "f " + " ".join(str(k + 1) for k in range(4096)) + "\n"
        self.put("a.obj", round_ + face * 100)
        self.assertEqual(self.run_within_seconds(10), (2, "", "a.obj:4101:1: has too many faces of very many corners; "
                                                       "cut them into triangles first\n"))

    def run_within_seconds(self, seconds):
        limit = lambda: resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
        return self.run_here("check", "mesh.yaml", preexec_fn=limit)

    def test_damaged_stl(self):
        loop = "three corners stand between 'outer loop' and 'endloop'"
        text = stl_text(corners(), triangles())
        end = text.count("\n") - 1
        for content, line, said in ((text.replace("endloop\n", "vertex 1 1 1\nendloop\n", 1), 7, loop),
                                    (text.replace("vertex", "solid x\nvertex", 1), 4, loop),
                                    (text.replace("outer loop\n", "", 1), 3, loop),
                                    (text[:text.rindex("endloop")], end - 2, "the file ends within a triangle")):
            self.put("b.stl", content)
            self.layout("{name: box, kind: mesh, file: b.stl, unit: m}")
            self.assertEqual(self.run_here("check", "mesh.yaml"), (2, "", f"b.stl:{line}:1: {said}\n"))

    def test_a_tetrahedron_hides_less_than_its_box(self):
        """A full box round it hides at least as much from every seat, and more from some."""
        apex = [(12.0, 20.5, 0.0), (17.5, 20.5, 0.0), (14.5, 21.25, 0.0), (14.5, 20.75, 2.25)]
        three = ((0, 1, 2), (0, 1, 3), (1, 2, 3), (2, 0, 3))
        seen = []
        self.put("t.stl", stl_text(apex, three))
        for solid in (PRISM, "{name: box, kind: mesh, file: t.stl, unit: m}",
                      PRISM.replace("2.25}", "0.01}")):
            self.table(solid)
            seen.append(hall.Table(self.path("out")).numbers("visible_pct"))
        for more, less in ((seen[1], seen[0]), (seen[2], seen[1])):
            self.assertTrue(all(more[s] >= less[s] for s in more))
            self.assertTrue(any(more[s] > less[s] for s in more))

    def test_same_bytes_on_any_threads_with_many_triangles(self):
        n = 24  # more than the 1024 from which triangles are kept in groups
        points = [(10 + 10 * i / n, 21 + 0.25 * math.sin(i), 2.5 * j / n)
                  for j in range(n + 1) for i in range(n + 1)]
        at = [(j * (n + 1) + i) for j in range(n) for i in range(n)]
        self.put("cloth.obj", obj(points, [(k, k + 1, k + n + 2, k + n + 1) for k in at]))
        solid = "{name: cloth, kind: mesh, file: cloth.obj, unit: m}"
        found = [self.table(solid, env={"OMP_NUM_THREADS": str(k)}) for k in (1, 2, 3)]
        self.assertIn(b"cloth", found[0]["seats.csv"])
        self.assertEqual(found[0], found[1])
        self.assertEqual(found[0], found[2])

    def test_the_room_leaves_it_out(self):
        self.put("a.obj", obj(corners()))
        found = []
        for solid in ("", "{name: box, kind: mesh, file: a.obj, unit: m}", PRISM):
            self.table(solid, is_loud=True)
            found.append(hall.Table(self.path("out")).numbers("l_500_hz_db"))
        self.assertEqual(found[0], found[1])
        self.assertNotEqual(found[0], found[2])

    def test_digest_holds_the_model(self):
        digests = []
        for extra in ("", "# a word\n"):
            self.put("a.obj", obj(corners()) + extra)
            self.table("{name: box, kind: mesh, file: a.obj, unit: m}")
            digests.append(hall.Table(self.path("out")).summary["input_digest"])
        self.assertNotEqual(*digests)

    def refused(self, solid, words):
        line = self.layout(solid)
        code, out, err = self.run_here("check", "mesh.yaml")
        self.assertEqual((code, out), (2, ""), solid)
        self.assertRegex(err, rf"^mesh\.yaml:{line}:\d+: solids\[1\]\.{words}\n$", solid)

    def test_refusals(self):
        points = corners()
        self.put("good.obj", obj(points))
        self.put("empty.obj", "")
        self.put("few.obj", "v 1 1 1\n")
        self.put("line.obj", "v 1 1 1\nv 2 2 2\nl 1 2\n")
        self.put("flat.obj", obj([(1.0, 1.0, 1.0)] * 8))
        self.put("huge.stl", stl_binary([(math.inf, 0.0, 0.0)] + points[1:], triangles()))
        self.put("far.obj", obj([(1000 * x, y, z) for x, y, z in points]))
        for ending in ("obj", "stl"):
            self.put("text." + ending, "Dear all,\nthe model will follow on Monday.\n" * 20)
        # a count without its triangles
        self.put("cut.stl", b"b" * 80 + struct.pack("<I", 4000000) + b"\0" * 50)
        os.mkdir(self.path("folder.obj"))
        none = r"cannot be read as a model of triangles \({}\)"
        for name, words in (("none.obj", "cannot be opened: No such file or directory"),
                            ("empty.obj", "is empty"), ("folder.obj", "is not a regular file"),
                            ("flat.obj", "holds no triangle that has an area"),
                            ("huge.stl", "has a coordinate that is no finite number"),
                            ("far.obj", r"reaches further than 1000 m \(3281 ft\) from the plan "
                             "origin; check 'unit' and 'at'"),
                            ("few.obj", "(holds no triangle|" + none.format("obj") + ")"),
                            ("line.obj", "holds no triangle"),
                            ("text.obj", "(holds no triangle|" + none.format("obj") + ")"),
                            ("text.stl", "(holds no triangle|" + none.format("stl") + ")"),
                            ("cut.stl", none.format("stl"))):
            self.refused(f"{{name: box, kind: mesh, file: {name}, unit: m}}",
                         f"file: {name} {words}")
        self.put("a.txt", obj(points))
        self.refused("{name: box, kind: mesh, file: a.txt, unit: m}",
                     "file: is 'a.txt'; an .obj or .stl file is needed")
        self.refused("{name: box, kind: mesh, file: good.obj}", "unit: is missing")
        self.refused("{name: box, kind: mesh, file: good.obj, unit: m, top: 3}",
                     "top: unknown key 'top'.*")
        self.refused("{name: box, kind: mesh, file: good.obj, unit: inch}",
                     "unit: unknown value 'inch'.*")

    def test_many_triangles_are_kept_once(self):
        """At most 250 bytes for each beyond the run itself: 72 of corners, 128 of an occluder, the file's 50 before."""
        facet = stl_binary(corners(), triangles()[:1])[84:]
        peak = []
        for n in (1, 400_000):
            self.put("box.stl", b"b" * 80 + struct.pack("<I", n) + facet * n)
            self.layout("{name: box, kind: mesh, file: box.stl, unit: m, up: z_axis, at: [0, 0]}")
            with open(self.path("mesh.yaml"), encoding="utf-8") as source:
                text = source.read().replace("row_depth: 0.95,", "row_depth: 0.95, base: 0.3,")
            self.put("mesh.yaml", text)  # platforms hide, too
            with subprocess.Popen([hall.GRADIN, "check", "mesh.yaml"], cwd=self.folder, stdout=subprocess.PIPE) as run:
                run.stdout.read()
                _, status, used = os.wait4(run.pid, 0)
                run.returncode = status
            self.assertEqual(status, 0)
            peak.append(1024 * used.ru_maxrss)
        self.assertLess(peak[1] - peak[0], 250 * 400_000)


if __name__ == "__main__":
    unittest.main()
