#!/usr/bin/python3
"""Checks the tree's standing rules and prints every breach.

usage: arrows.py {includes|lengths|format} [ROOT]

includes  a room includes only the public headers of the rooms it may call, its own private headers,
          base's private headers, and the outside libraries that are its own
lengths   no source file under engine, tools or tests is longer than 400 lines; tables of data are
          excepted by name
format    every C file is as clang-format would write it
Exit status 0 when nothing is wrong, 1 otherwise; 77 when clang-format is not the version whose
style is pinned here."""

import os
import re
import subprocess
import sys

MAX_LINES = 400
DATA_TABLES = {"engine/render/draw/colour_table.c"}

# Public headers that each room may include; writers see result structs and compute nothing.
MAY_INCLUDE = {
    "base": {"base"},
    "geometry": {"base", "geometry"},
    "venue": {"base", "geometry", "layout"},
    "model": {"base", "geometry", "layout"},
    "files": {"base", "geometry", "layout"},
    "layout": {"base", "geometry", "layout"},
    "sightline": {"base", "geometry", "layout", "sightline"},
    "acoustics": {"base", "geometry", "layout", "acoustics"},
    "studies": {"base", "geometry", "layout", "sightline", "acoustics", "studies"},
    "table": {"base", "geometry", "layout", "sightline", "acoustics", "studies", "table"},
    "render": {"base", "geometry", "layout", "sightline", "acoustics", "studies", "render"},
}
# Public headers that split a room's own.
ROOM_OF_HEADER = {"buildup": "layout", "machines": "layout", "loads": "layout", "room": "layout",
                  "changeover": "studies", "draft": "studies", "fit": "studies", "glazing": "acoustics",
                  "facade": "acoustics",
                  "source": "layout", "traffic": "layout", "wishes": "layout", "flights": "acoustics", "speech": "acoustics", "season": "studies",
                  "season_write": "table", "season_plot": "render"}
# Outside libraries, each the business of few rooms.
OUTSIDE = {
    "yaml.h": {"files"},
    "assimp": {"files"},
    "jansson.h": {"table"},
    "png.h": {"render"},
    "cairo": {"render"},
    "fontconfig": {"render"},
    "xxhash.h": {"base"},
    "lapacke.h": {"acoustics"},
    "cblas.h": {"acoustics"},
    "omp.h": {"sightline", "acoustics", "studies"},
}
INCLUDE = re.compile(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]')
CLANG_FORMAT_VERSION = "14"


def files(root, folders, endings):
    for folder in folders:
        for path, _, names in os.walk(os.path.join(root, folder)):
            for name in sorted(names):
                full = os.path.join(path, name)
                if name.endswith(endings) and "__pycache__" not in path:
                    yield os.path.relpath(full, root).replace(os.sep, "/")


def lines(root, path):
    with open(os.path.join(root, path), encoding="utf-8") as source:
        return source.read().splitlines()


def header_room(name):
    stem = os.path.splitext(name)[0]
    return ROOM_OF_HEADER.get(stem, stem)


def room_of(path):
    """The room that a file of the engine belongs to; a public header belongs to its namesake."""
    parts = path.split("/")
    if parts[1] == "include":
        return header_room(parts[-1])
    return parts[1]


def outside_breach(room, name):
    for start, rooms in OUTSIDE.items():
        if name.startswith(start) and room not in rooms:
            return f"{room} may not use <{name}>; only {', '.join(sorted(rooms))}"
    return None


def inside_breach(room, name, is_public):
    first, _, rest = name.partition("/")
    if first == "gradin":
        if header_room(rest) in MAY_INCLUDE[room]:
            return None
        return f"{room} may not include {name}"
    if is_public:
        return f"a public header may not include {name}"
    layout = ("venue", "model", "files")
    if rest and (first in (room, "base") or room in layout and first in layout):
        return None
    return f"{room} may not include {name}; private headers are named ROOM/NAME.h"


def include_breaches(root):
    for path in files(root, ["engine"], (".c", ".h")):
        room = room_of(path)
        if room == "gradin":  # gradin.h is all public headers
            continue
        if room not in MAY_INCLUDE:
            yield f"{path}: unknown room '{room}'"
            continue
        for number, text in enumerate(lines(root, path), 1):
            match = INCLUDE.match(text)
            if not match:
                continue
            breach = (outside_breach(room, match[2]) if match[1] == "<"
                      else inside_breach(room, match[2], path.startswith("engine/include/")))
            if breach:
                yield f"{path}:{number}: {breach}"


def length_breaches(root):
    endings = (".c", ".h", ".py", ".sh", "CMakeLists.txt")
    for path in files(root, ["engine", "tools", "tests"], endings):
        n = len(lines(root, path))
        if n > MAX_LINES and path not in DATA_TABLES:
            yield f"{path}: has {n} lines; at most {MAX_LINES}"


def format_breaches(root):
    sources = [os.path.join(root, p) for p in files(root, ["engine", "tools", "tests"], (".c", ".h"))]
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
    rules = {"includes": include_breaches, "lengths": length_breaches, "format": format_breaches}
    if len(sys.argv) not in (2, 3) or sys.argv[1] not in rules:
        print(__doc__)
        return 2
    here = os.path.dirname(os.path.abspath(__file__))
    root = sys.argv[2] if len(sys.argv) == 3 else os.path.dirname(os.path.dirname(here))
    if sys.argv[1] == "format" and not has_pinned_format():
        print(f"clang-format {CLANG_FORMAT_VERSION} is not here")
        return 77
    breaches = list(rules[sys.argv[1]](os.path.abspath(root)))
    for breach in breaches:
        print(breach)
    return 1 if breaches else 0


if __name__ == "__main__":
    sys.exit(main())
