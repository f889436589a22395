"""Which file of the engine uses what another one defines.

The uses come from the symbol tables of the objects that the build has made (`nm`), so macros and
inline functions count as the compiler saw them. The includes come from the sources."""

import json
import os
import re
import subprocess

INCLUDE = re.compile(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]', re.M)
COMMENT = re.compile(r"/\*.*?\*/|//[^\n]*", re.S)
CALLABLE = re.compile(r"([A-Za-z_]\w*)\(")
DEFINED_KINDS = set("TDBRVWC")


def files_under(root, folders, endings):
    for folder in folders:
        for path, _, names in os.walk(os.path.join(root, folder)):
            for name in sorted(names):
                full = os.path.join(path, name)
                if name.endswith(endings) and "__pycache__" not in path:
                    yield os.path.relpath(full, root).replace(os.sep, "/")


def text_of(root, path):
    with open(os.path.join(root, path), encoding="utf-8") as source:
        return source.read()


def objects(root, build):
    """(source, object) of every file of the engine that the build compiles."""
    with open(os.path.join(build, "compile_commands.json"), encoding="utf-8") as listing:
        for entry in json.load(listing):
            path = os.path.relpath(entry["file"], root).replace(os.sep, "/")
            if path.startswith("engine/"):
                made = re.search(r"\s-o (\S+)", entry["command"])[1]
                yield path, os.path.join(entry["directory"], made)


def symbols(objects_of_engine):
    """({name: file that defines it}, {file: names that it needs})."""
    definer, needs = {}, {}
    path_of = {made: path for path, made in objects_of_engine}
    missing = [path for made, path in path_of.items() if not os.path.exists(made)]
    if missing:
        raise SystemExit(f"{missing[0]} is not compiled; build first")
    if not path_of:
        return definer, needs
    run = subprocess.run(["nm", "-A", "-P"] + list(path_of), capture_output=True, text=True,
                         check=True)
    for line in run.stdout.splitlines():
        made, _, rest = line.rpartition(": ")
        name, kind = rest.split()[:2]
        path = path_of[made]
        if kind == "U":
            needs.setdefault(path, set()).add(name)
        elif kind in DEFINED_KINDS:
            definer[name] = path
    return definer, needs


class Graph:
    """The engine's files: what each includes, and who uses what of whom."""

    def __init__(self, root, build):
        self.root = root
        self.paths = list(files_under(root, ["engine"], (".c", ".h")))
        known = set(self.paths)
        self.includes = {}  # {file: [(line, "<" or '"', name)]}
        for path in self.paths:
            text = text_of(root, path)
            self.includes[path] = [(text.count("\n", 0, m.start(2)) + 1, m[1], m[2])
                                   for m in INCLUDE.finditer(text)]
        made = [(p, o) for p, o in objects(root, build) if p in known]
        self.definer, self.needs = symbols(made)

    def header(self, name):
        """The file of the engine that `#include "name"` means, or None."""
        for folder in ("engine/include/", "engine/"):
            if folder + name in self.includes:
                return folder + name
        return None

    def headers_of(self, path):
        return [h for h in (self.header(n) for _, kind, n in self.includes[path] if kind == '"')
                if h]

    def declared_by(self, header):
        """{name: defining file} of the functions that a header declares."""
        words = set(CALLABLE.findall(COMMENT.sub("", text_of(self.root, header))))
        return {w: self.definer[w] for w in words if w in self.definer}

    def uses(self):
        """{(file, other file): names of the other that the first needs}, the names sorted."""
        out = {}
        for path, names in self.needs.items():
            for name in sorted(names):
                other = self.definer.get(name)
                if other and other != path:
                    out.setdefault((path, other), []).append(name)
        return out

    def arrows(self):
        """uses(), and the private headers that each file includes: `#include "room/x.h"`."""
        out = dict(self.uses())
        for path in self.paths:
            for header in self.headers_of(path):
                if not header.startswith("engine/include/") and header != path:
                    out.setdefault((path, header), []).append("#include")
        return out


def grouped(arrows, group):
    """The arrows between groups of files; each keeps one arrow of files as an example."""
    out = {}
    for (a, b), names in sorted(arrows.items()):
        pair = (group(a), group(b))
        if pair[0] != pair[1]:
            out.setdefault(pair, (a, b, names[0]))
    return out


def way_back(after, start):
    """The shortest way from a node to itself as a list of nodes, or None."""
    before, queue = {}, [start]
    for node in queue:
        for other in after.get(node, ()):
            if other == start:
                way = [node]
                while way[-1] != start:
                    way.append(before[way[-1]])
                return way[::-1]
            if other not in before:
                before[other] = node
                queue.append(other)
    return None


def circles(pairs):
    """Shortest circles [nodes in order, each uses the next], found one after the other, each without
    the nodes of those before; none left out when there is none."""
    after = {}
    for a, b in sorted(pairs):
        after.setdefault(a, []).append(b)
    found = []
    while True:
        ways = [w for w in (way_back(after, node) for node in sorted(after)) if w]
        if not ways:
            return found
        way = min(ways, key=lambda w: (len(w), w))
        found.append(way)
        after = {a: [b for b in bs if b not in way] for a, bs in after.items() if a not in way}
