#!/usr/bin/python3
"""Checks the tree's standing rules and prints every breach.

usage: arrows.py {includes|calls|circles|lengths|format} [ROOT [BUILD]]

includes  a room includes only the public headers of the rooms it may see, its own private headers,
          base's private headers, and the outside libraries that are its own
calls     a room calls only what the rooms below it define; writers call nothing that computes
circles   neither files nor folders under engine/ use each other in a circle
lengths   no source file under engine, tools or tests is longer than 400 lines, tables of data
          excepted by name; no folder under engine/ but the public headers' holds more than 27 files
format    every C file is as clang-format would write it, and no comment is a ruler
BUILD is the build folder (with compile_commands.json and the objects); includes, calls and circles
read it. Exit status 0 when nothing is wrong, 1 otherwise; 77 when clang-format is not the version
whose style is pinned here."""

import os
import re
import subprocess
import sys

import file_graph

MAX_LINES = 400
MAX_FILES = 27
DATA_TABLES = {"engine/render/draw/colour_table.c"}

# The rooms whose functions each room may call, itself included.
BELOW = {"base": [], "geometry": ["base"], "venue": ["geometry"], "model": ["venue"],
         "files": ["model"], "sightline": ["model"], "acoustics": ["model"],
         "studies": ["sightline", "acoustics"], "table": ["base"], "render": ["base"]}
# Writers see result structs through headers and call nothing that computes, only the English names
# of enumerations and the checks whether a struct is complete, which stand in files of these names.
WRITERS = {"table": "studies", "render": "studies"}
SHARED_FILES = ("/names.c", "/complete.c")
SHARED_HEADER = "/complete.h"  # private to the engine, not to its room
# Outside libraries, each the business of few rooms.
OUTSIDE = {
    "yaml.h": {"files"},
    "assimp": {"files"},
    "jansson.h": {"table"},
    "png.h": {"render"},
    "cairo": {"render"},
    "fontconfig": {"render"},
    "xxhash.h": {"base"},
    "kiss_fft": {"studies"},
    "nlopt.h": {"studies"},
    "lapacke.h": {"acoustics"},
    "cblas.h": {"acoustics"},
    "omp.h": {"sightline", "acoustics", "studies"},
}
RULER = re.compile(r"/\*\s*-{3,}|-{4,}\s*\*/|^\s*\*?\s*-{8,}\s*(\*/)?$")
CLANG_FORMAT_VERSION = "14"


def reach(room, below):
    """The room and all rooms below it."""
    out = {room}
    for other in below.get(room, []):
        out |= reach(other, below)
    return out


def room_of(path):
    return path.split("/")[1]


class Rooms:
    """Which room a public header belongs to, from where its functions are defined."""

    def __init__(self, graph):
        self.graph = graph
        self.order = list(BELOW)
        self.known = {}

    def rank(self, room):
        return self.order.index(room) if room in self.order else -1

    def of_functions(self, header):
        """Rooms that define what a public header declares, lowest first."""
        paths = self.graph.declared_by(header).values()
        return sorted({room_of(p) for p in paths if not p.endswith(SHARED_FILES)},
                      key=self.rank)

    def of(self, header):
        """A header without functions belongs to the highest room among what it includes."""
        if header not in self.known:
            rooms = self.of_functions(header)
            if not rooms:
                rooms = sorted({self.of(h) for h in self.graph.headers_of(header)},
                               key=self.rank)[-1:]
            self.known[header] = rooms[0] if rooms else "base"
        return self.known[header]


def visible(room):
    """Rooms whose public headers a room may include."""
    return reach(WRITERS[room], BELOW) | {room} if room in WRITERS else reach(room, BELOW)


def outside_breach(room, name):
    for start, rooms in OUTSIDE.items():
        if name.startswith(start) and room not in rooms:
            return f"{room} may not use <{name}>; only {', '.join(sorted(rooms))}"
    return None


def inside_breach(rooms, room, name, is_public):
    first, _, rest = name.partition("/")
    if first == "gradin":
        header = rooms.graph.header(name)
        if header and name != "gradin/gradin.h" and rooms.of(header) in visible(room):
            return None
        return f"{room} may not include {name}"
    if is_public:
        return f"a public header may not include {name}"
    if rest and (first in (room, "base") or name.endswith(SHARED_HEADER) and first in visible(room)):
        return None
    return f"{room} may not include {name}; private headers are named ROOM/NAME.h"


def include_breaches(root, build):
    graph = file_graph.Graph(root, build)
    rooms = Rooms(graph)
    for path in graph.paths:
        is_public = path.startswith("engine/include/")
        if path.endswith("gradin/gradin.h"):  # all public headers
            continue
        room = rooms.of(path) if is_public else room_of(path)
        if room not in BELOW:
            yield f"{path}: unknown room '{room}'"
            continue
        if is_public and len(rooms.of_functions(path)) > 1:
            yield f"{path}: declares functions of {' and '.join(rooms.of_functions(path))}"
        for number, kind, name in graph.includes[path]:
            breach = (outside_breach(room, name) if kind == "<"
                      else inside_breach(rooms, room, name, is_public))
            if breach:
                yield f"{path}:{number}: {breach}"


def call_breaches(root, build):
    for (a, b), names in sorted(file_graph.Graph(root, build).uses().items()):
        room, other = room_of(a), room_of(b)
        if other in reach(room, BELOW) or room in WRITERS and b.endswith(SHARED_FILES):
            continue
        yield f"{a}: {room} may not call {names[0]} of {b}"


def circle_breaches(root, build):
    arrows = file_graph.Graph(root, build).arrows()
    files = {pair: names[0] for pair, names in arrows.items()}
    for way in file_graph.circles(files):
        steps = [f"{files[a, b]} of {b}" for a, b in zip(way, way[1:] + way[:1])]
        yield f"circle of files: {way[0]} uses {', which uses '.join(steps)}"
    for depth in (2, 3, 4):
        pairs = file_graph.grouped(arrows, lambda p: "/".join(p.split("/")[:-1][:depth]))
        for way in file_graph.circles(pairs):
            steps = [f"{b} ({name} from {x.rpartition('/')[2]} to {y.rpartition('/')[2]})"
                     for b, (x, y, name) in ((b, pairs[a, b])
                                             for a, b in zip(way, way[1:] + way[:1]))]
            yield f"circle of folders: {way[0]} uses {', which uses '.join(steps)}"


def length_breaches(root, _):
    endings = (".c", ".h", ".py", ".sh", "CMakeLists.txt")
    for path in file_graph.files_under(root, ["engine", "tools", "tests"], endings):
        n = len(file_graph.text_of(root, path).splitlines())
        if n > MAX_LINES and path not in DATA_TABLES:
            yield f"{path}: has {n} lines; at most {MAX_LINES}"
    for path, _, names in os.walk(os.path.join(root, "engine")):
        if len(names) > MAX_FILES:
            yield f"{os.path.relpath(path, root)}: holds {len(names)} files; at most {MAX_FILES}"


def ruler_breaches(root):
    for path in file_graph.files_under(root, ["engine", "tools", "tests"], (".c", ".h")):
        for number, line in enumerate(file_graph.text_of(root, path).splitlines(), 1):
            if RULER.search(line):
                yield f"{path}:{number}: a ruler; clang-format breaks them"


def format_breaches(root, _):
    yield from ruler_breaches(root)
    sources = [os.path.join(root, p)
               for p in file_graph.files_under(root, ["engine", "tools", "tests"], (".c", ".h"))]
    run = subprocess.run(["clang-format", "--dry-run", "--style=file"] + sources,
                         capture_output=True, text=True, check=False)
    if run.returncode != 0:
        yield run.stderr.strip()
        return
    seen = set()
    for text in run.stderr.splitlines():
        match = re.match(r"(.*?):(\d+):\d+: ", text)
        if match and match[1] not in seen:
            seen.add(match[1])
            yield f"{os.path.relpath(match[1], root)}:{match[2]}: clang-format would change it"


def has_pinned_format():
    try:
        run = subprocess.run(["clang-format", "--version"], capture_output=True, text=True,
                             check=False)
    except OSError:
        return False
    return re.search(r"version (\d+)", run.stdout + " version 0")[1] == CLANG_FORMAT_VERSION


def main():
    rules = {"includes": include_breaches, "calls": call_breaches, "circles": circle_breaches,
             "lengths": length_breaches, "format": format_breaches}
    if len(sys.argv) not in (2, 3, 4) or sys.argv[1] not in rules:
        print(__doc__)
        return 2
    here = os.path.dirname(os.path.abspath(__file__))
    root = sys.argv[2] if len(sys.argv) > 2 else os.path.dirname(os.path.dirname(here))
    build = sys.argv[3] if len(sys.argv) > 3 else os.path.join(root, "build")
    if sys.argv[1] == "format" and not has_pinned_format():
        print(f"clang-format {CLANG_FORMAT_VERSION} is not here")
        return 77
    found = rules[sys.argv[1]](os.path.abspath(root), os.path.abspath(build))
    breaches = list(dict.fromkeys(found))
    for breach in breaches:
        print(breach)
    return 1 if breaches else 0


if __name__ == "__main__":
    sys.exit(main())
