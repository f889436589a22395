#!/usr/bin/python3
"""tools/dev/arrows.py finds what it looks for: each rule is tried on a small tree that is wrong."""

import json
import os
import subprocess
import sys
import tempfile
import unittest

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
sys.path.insert(0, os.path.join(TOP, "tests", "support"))
import plain  # noqa: E402

COMPILE = "cc -w -Iengine -Iengine/include -Ioutside -o {0}.o -c {0}"


class Tree(unittest.TestCase):
    """A temporary folder with a few files."""

    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.root = self.folder.name

    def tearDown(self):
        self.folder.cleanup()

    def put(self, path, text):
        full = os.path.join(self.root, path)
        os.makedirs(os.path.dirname(full), exist_ok=True)
        with open(full, "w", encoding="utf-8") as out:
            out.write(text)

    def compile(self):
        """Compiles every C file of the engine, as a build would have done."""
        commands = []
        for path, _, names in os.walk(os.path.join(self.root, "engine")):
            for source in (os.path.join(path, n) for n in names if n.endswith(".c")):
                command = COMPILE.format(source)
                subprocess.run(command.split(), cwd=self.root, check=True)
                commands.append({"directory": self.root, "file": source, "command": command})
        self.put("build/compile_commands.json", json.dumps(commands))

    def arrows(self, rule):
        tool = os.path.join(TOP, "tools", "dev", "arrows.py")
        run = subprocess.run([sys.executable, tool, rule, self.root], capture_output=True,
                             text=True, check=False)
        self.assertEqual(run.stderr, "")
        return run.returncode, run.stdout

    def expect(self, rule, *breaches):
        if rule in ("includes", "calls", "circles"):
            self.compile()
        out = "".join(f"{breach}\n" for breach in breaches)
        self.assertEqual(self.arrows(rule), (1 if breaches else 0, out))

    def function(self, path, name, body="return 1;", includes=()):
        """A file that defines one function."""
        lines = "".join(f'#include "{i}"\n' for i in includes)
        self.put(path, f"{lines}int {name}(void) {{ {body} }}\n")

    def public(self, header, room):
        """A public header whose one function the room defines."""
        self.put(f"engine/include/gradin/{header}.h", f"int gradin_{header}(void);\n")
        self.function(f"engine/{room}/{header}.c", f"gradin_{header}")


class Includes(Tree):
    def check(self, path, include, *breaches):
        self.put(path, f"#include {include}\nstatic int x;\n")
        self.expect("includes", *(f"{path}:1: {breach}" for breach in breaches))

    def test_upward_arrow(self):
        self.public("layout", "model")
        self.check("engine/geometry/a.c", '"gradin/layout.h"',
                   "geometry may not include gradin/layout.h")

    def test_room_of_a_header_is_where_its_functions_are(self):
        self.public("layout", "geometry")
        self.check("engine/geometry/a.c", '"gradin/layout.h"')

    def test_header_without_functions_is_as_high_as_what_it_includes(self):
        self.public("heat", "studies")
        self.put("engine/include/gradin/plain.h", '#include "gradin/heat.h"\nenum { N = 1 };\n')
        self.check("engine/acoustics/room/a.c", '"gradin/plain.h"',
                   "acoustics may not include gradin/plain.h")

    def test_writer_sees_results(self):
        self.public("assess", "studies")
        self.check("engine/table/a.c", '"gradin/assess.h"')

    def test_writer_that_computes_through_another_writer(self):
        self.public("render", "render")
        self.check("engine/table/a.c", '"gradin/render.h"',
                   "table may not include gradin/render.h")

    def test_whole_library_inside_a_room(self):
        self.put("engine/include/gradin/gradin.h", "")
        self.check("engine/studies/a.c", '"gradin/gradin.h"',
                   "studies may not include gradin/gradin.h")

    def test_private_header_of_another_room(self):
        self.put("engine/acoustics/room/room.h", "")
        self.check("engine/sightline/a.c", '"acoustics/room/room.h"',
                   "sightline may not include acoustics/room/room.h; private headers are named "
                   "ROOM/NAME.h")

    def test_header_without_its_room(self):
        self.put("engine/sightline/focus.h", "")
        self.check("engine/sightline/a.c", '"focus.h"',
                   "sightline may not include focus.h; private headers are named ROOM/NAME.h")

    def test_public_header_with_a_private_one(self):
        self.put("engine/model/build.h", "")
        self.check("engine/include/gradin/layout.h", '"model/build.h"',
                   "a public header may not include model/build.h")

    def test_public_header_upward(self):
        self.public("heat", "studies")
        self.public("cold", "base")
        self.put("engine/include/gradin/cold.h",
                 '#include "gradin/heat.h"\nint gradin_cold(void);\n')
        self.expect("includes",
                    "engine/include/gradin/cold.h:1: base may not include gradin/heat.h")

    def test_public_header_of_two_rooms(self):
        self.public("heat", "studies")
        self.function("engine/table/b.c", "gradin_text")
        self.put("engine/include/gradin/heat.h", "int gradin_heat(void);\nint gradin_text(void);\n")
        self.expect("includes",
                    "engine/include/gradin/heat.h: declares functions of studies and table")

    def test_outside_library_in_a_wrong_room(self):
        self.put("outside/yaml.h", "")
        self.check("engine/sightline/a.c", "<yaml.h>", "sightline may not use <yaml.h>; only files")

    def test_unknown_room(self):
        self.put("engine/attic/a.c", "static int x;\n")
        self.expect("includes", "engine/attic/a.c: unknown room 'attic'")

    def test_allowed_ones(self):
        for header in ("files/parse/node.h", "base/digest.h", "acoustics/room/room.h"):
            self.put("engine/" + header, "")
        self.put("outside/yaml.h", "")
        self.public("geometry", "geometry")
        self.check("engine/files/a.c", '"gradin/geometry.h"')
        self.check("engine/files/b.c", '"files/parse/node.h"')
        self.check("engine/files/c.c", '"base/digest.h"')
        self.check("engine/files/d.c", "<yaml.h>")
        self.check("engine/acoustics/room/e.c", '"acoustics/room/room.h"')


class Calls(Tree):
    """The functions, whatever the headers say."""

    def check(self, path, called, *breaches):
        self.function(path, "caller", "int called(void); return called();")
        self.function(called, "called")
        self.expect("calls", *breaches)

    def test_downward(self):
        self.check("engine/studies/fit/a.c", "engine/geometry/plan/b.c")

    def test_upward(self):
        self.check("engine/geometry/plan/a.c", "engine/model/b.c",
                   "engine/geometry/plan/a.c: geometry may not call called of engine/model/b.c")

    def test_studies_read_no_files(self):
        self.check("engine/studies/draft/a.c", "engine/files/b.c",
                   "engine/studies/draft/a.c: studies may not call called of engine/files/b.c")

    def test_writer_that_computes(self):
        self.check("engine/table/a.c", "engine/model/b.c",
                   "engine/table/a.c: table may not call called of engine/model/b.c")

    def test_writer_that_asks_for_a_name(self):
        self.check("engine/table/a.c", "engine/venue/names.c")


class Circles(Tree):
    def call(self, a, b):
        """File a calls file b; the functions bear the files' names."""
        name_a, name_b = (os.path.basename(p)[:-2] for p in (a, b))
        self.function(a, name_a, f"int {name_b}(void); return {name_b}();")

    def test_no_circle(self):
        self.call("engine/base/a.c", "engine/base/b.c")
        self.function("engine/base/b.c", "b")
        self.expect("circles")

    def test_files(self):
        self.call("engine/base/a.c", "engine/base/b.c")
        self.call("engine/base/b.c", "engine/base/c.c")
        self.call("engine/base/c.c", "engine/base/a.c")
        self.expect("circles", "circle of files: engine/base/a.c uses b of engine/base/b.c, which "
                    "uses c of engine/base/c.c, which uses a of engine/base/a.c")

    def test_folders_inside_a_room(self):
        self.call("engine/acoustics/room/a.c", "engine/acoustics/event/b.c")
        self.function("engine/acoustics/event/b.c", "b")
        self.call("engine/acoustics/event/c.c", "engine/acoustics/room/d.c")
        self.function("engine/acoustics/room/d.c", "d")
        self.expect("circles", "circle of folders: engine/acoustics/event uses "
                    "engine/acoustics/room (d from c.c to d.c), which uses engine/acoustics/event "
                    "(b from a.c to b.c)")

    def test_rooms(self):
        self.call("engine/base/a.c", "engine/geometry/plan/b.c")
        self.function("engine/geometry/plan/b.c", "b")
        self.call("engine/geometry/mask/c.c", "engine/base/d.c")
        self.function("engine/base/d.c", "d")
        self.expect("circles", "circle of folders: engine/base uses engine/geometry (b from a.c to "
                    "b.c), which uses engine/base (d from c.c to d.c)")

    def test_private_header_closes_a_circle_of_folders(self):
        self.put("engine/acoustics/event/event.h", "enum { EVENT = 1 };\n")
        self.function("engine/acoustics/room/a.c", "a",
                      includes=["acoustics/event/event.h"])
        self.call("engine/acoustics/event/c.c", "engine/acoustics/room/a.c")
        self.expect("circles", "circle of folders: engine/acoustics/event uses "
                    "engine/acoustics/room (a from c.c to a.c), which uses engine/acoustics/event "
                    "(#include from a.c to event.h)")

    def test_headers(self):
        self.put("engine/base/a.h", '#include "base/b.h"\n')
        self.put("engine/base/b.h", '#include "base/a.h"\n')
        self.expect("circles", "circle of files: engine/base/a.h uses #include of engine/base/b.h, "
                    "which uses #include of engine/base/a.h")


class Build(Tree):
    def test_nothing_is_concluded_from_half_a_build(self):
        self.function("engine/base/a.c", "a")
        self.compile()
        os.remove(os.path.join(self.root, "engine/base/a.c.o"))
        tool = os.path.join(TOP, "tools", "dev", "arrows.py")
        run = subprocess.run([sys.executable, tool, "circles", self.root], capture_output=True,
                             text=True, check=False)
        self.assertEqual((run.returncode, run.stderr),
                         (1, "engine/base/a.c is not compiled; build first\n"))


class Lengths(Tree):
    def test_long_file(self):
        self.put("tools/a.c", "\n" * 400)
        self.expect("lengths")
        self.put("tests/unit/base/b.c", "\n" * 401)
        self.expect("lengths", "tests/unit/base/b.c: has 401 lines; at most 400")

    def test_table_of_data_is_excepted(self):
        self.put("engine/render/draw/colour_table.c", "\n" * 900)
        self.expect("lengths")

    def test_full_folder(self):
        for i in range(27):
            self.put(f"engine/files/f{i}.h", "\n")
        self.expect("lengths")
        self.put("engine/files/one_more.h", "\n")
        self.expect("lengths", "engine/files: holds 28 files; at most 27")


class Format(Tree):
    def setUp(self):
        super().setUp()
        with open(os.path.join(TOP, ".clang-format"), encoding="utf-8") as style:
            self.put(".clang-format", style.read())
        self.put("engine/base/a.c", "int one(void) {\n    return 1;\n}\n")
        code, out = self.arrows("format")
        if code == 77:
            self.skipTest(out)
        self.assertEqual((code, out), (0, ""))

    def test_format(self):
        self.put("engine/base/b.c", "int one(void) {\n  return  1;\n}\n")
        self.assertEqual(self.arrows("format"),
                         (1, "engine/base/b.c:1: clang-format would change it\n"))

    def test_rulers(self):
        self.put("engine/base/b.c", "/* -" + "-- lines ---- */\n\nint two; /* a -- b */\n")
        self.put("tests/c.c", "/* lines --" + "--- */\n\n/* lines\n * " + "-" * 20 + " */\n")
        self.assertEqual(self.arrows("format"), (1, "".join(
            f"{place}: a ruler; clang-format breaks them\n"
            for place in ("engine/base/b.c:1", "tests/c.c:1", "tests/c.c:4"))))


if __name__ == "__main__":
    plain.main()
