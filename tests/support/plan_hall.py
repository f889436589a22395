"""A venue's machines and where a layout sets them, read from YAML for plan_rules.py with no code of the engine."""

import math
import re

import yaml



class Loader(yaml.CSafeLoader if hasattr(yaml, "CSafeLoader") else yaml.SafeLoader):
    """YAML as the files mean it: all words stay words but numbers."""


Loader.yaml_implicit_resolvers = {k: [(tag, r) for tag, r in v if not tag.endswith(":bool")]
                                  for k, v in yaml.SafeLoader.yaml_implicit_resolvers.items()}


def load(path):
    with open(path, encoding="utf-8") as source:
        return yaml.load(source, Loader)


def cell(name):
    """('F', column, row) of 'F-B3'."""
    grid, rest = name.rsplit("-", 1)
    return grid, ord(rest[0]) - 65, int(rest[1:]) - 1


def cells(first, last):
    """All sections of the rectangle from one to the other, as names."""
    grid, c1, r1 = cell(first)
    _, c2, r2 = cell(last if "-" in last else f"{grid}-{last}")
    return [f"{grid}-{chr(65 + c)}{r + 1}" for r in range(r1, r2 + 1) for c in range(c1, c2 + 1)]


def named(text):
    """Section names of 'F-B2..G3, F-A8 (13)', or the machine's own name."""
    found = []
    for piece in re.sub(r" \(\d+\)$", "", text).split(", "):
        found += cells(*piece.split("..")) if ".." in piece else [piece]
    return found


def way_s(distance, speed, accel):
    """Trapezoidal or triangular speed profile (elementary kinematics)."""
    if distance == 0:
        return 0.0
    if not accel:
        return distance / speed
    return distance / speed + speed / accel if distance >= speed**2 / accel else 2 * math.sqrt(distance / accel)


class Setting:
    """Lowest and highest tread, their count and facing, from a task's words or a layout's."""

    def __init__(self, low, high=None, steps=1, facing=0.0):
        self.low, self.high, self.steps, self.facing = low, low if high is None else high, steps, facing

    @classmethod
    def of_task(cls, text):
        treads = re.fullmatch(r"(-?[\d.]+) to (-?[\d.]+) m in (\d+) treads facing (\d+)", text)
        if treads:
            low, high, steps, facing = treads.groups()
            return cls(float(low), float(high), int(steps), float(facing))
        share = re.fullmatch(r"(\d+) % (shut|down|open)", text)
        if share:
            return cls(int(share.group(1)) / 100)
        return cls({"away": 1.0, "in place": 0.0}[text] if text in ("away", "in place") else float(text.split()[0]))

    def is_like(self, other):
        return (abs(self.low - other.low) < 0.006 and abs(self.high - other.high) < 0.006 and
                self.steps == other.steps and (self.steps == 1 or self.facing == other.facing))

    def is_within(self, low, high):
        return self.low >= low - 0.006 and self.high <= high + 0.006


class Hall:
    """The venue's machines with their drives, and where a layout sets them."""

    def __init__(self, venue):
        machines = venue["machines"]
        self.crew = machines["crew"]
        self.floors = venue["room"].get("floors", [])
        self.kinds = {k["name"]: k for k in machines.get("kinds", {}).get("towers", [])}
        self.grids = {g["name"]: g for g in machines.get("lifts", [])}
        self.towers = {t["name"]: {**self.kinds.get(t.get("kind"), {}), **t} for t in machines.get("towers", [])}
        self.arch = machines.get("arch")
        self.panels = {p["name"]: p for p in machines.get("panels", [])}
        facade = venue.get("facade", {})
        self.shades = {s["name"]: s for s in facade.get("shades", [])}
        self.doors = {d["name"]: d for d in facade.get("doors", [])}
        self.interlocks = machines.get("interlocks", [])

    def sections(self):
        for name, grid in self.grids.items():
            for column in range(grid["columns"]):
                for row in range(grid["rows"]):
                    yield f"{name}-{chr(65 + column)}{row + 1}"

    def box(self, section):
        name, column, row = cell(section)
        grid = self.grids[name]
        x = grid["origin"][0] + column * grid["size"][0]
        y = grid["origin"][1] + row * grid["size"][1]
        return x, y, x + grid["size"][0], y + grid["size"][1]

    def drive(self, machine):
        """(drive, speed) of a machine by its name in a plan."""
        if machine in self.panels:
            return self.panels[machine].get("drive", {}), None
        for things in (self.shades, self.doors):
            if machine in things:
                return things[machine].get("drive", {}), None
        if self.arch and machine == self.arch["closing"]["name"]:
            return self.arch["closing"].get("drive", {}), None
        if self.arch and machine == f"{self.arch['name']} trim":
            return self.arch["drive"], self.arch["speed_ms"]
        if self.arch and machine == f"{self.arch['name']} opening":
            return self.arch["opening_drive"], self.arch["opening_speed_ms"]
        body, kind = machine.rsplit(" ", 1) if " " in machine else (machine, "")
        if body in self.towers:
            tower = self.towers[body]
            if kind == "hoist":
                return tower["drive"], tower["hoist_speed_ms"]
            slide = {**self.kinds.get(tower.get("kind"), {}).get("slide", {}), **tower["slide"]}
            return slide["drive"], slide["speed_ms"]
        grid = self.grids[machine.rsplit("-", 1)[0]]
        return grid["drive"], grid["speed_ms"]

    def whole_s(self, machine):
        """Stated seconds of a way that is no length."""
        for things in (self.panels, self.doors):
            if machine in things:
                return things[machine].get("move_s", 0)
        if machine in self.shades:
            return self.shades[machine]["close_s"]
        return self.arch["closing"]["move_s"]

    def settings(self, layout):
        """Machine name: Setting, of sections and towers."""
        found = {name: Setting(0.0) for name in self.sections()}
        stated = layout.get("machines", {})
        for tower in self.towers:
            found[f"{tower} hoist"] = found[f"{tower} slide"] = Setting(0.0)
        for lift in stated.get("lifts", []):
            t = lift.get("terrace")
            top = lift["height"] + (t["steps"] - 1) * t["riser"] if t else None
            for name in cells(lift["from"], lift.get("to", lift["from"])):
                found[name] = Setting(lift["height"], top, *((t["steps"], t["facing_deg"]) if t else ()))
        for tower in stated.get("towers", []):
            for kind in ("hoist", "slide"):
                found[f"{tower['name']} {kind}"] = Setting(tower.get(kind, 0.0))
        for shade in self.shades:
            found[shade] = Setting(0.0)
        for shade in stated.get("shades", []):
            found[shade["name"]] = Setting(shade["closed"])
        for door in self.doors:
            found[door] = Setting(0.0)
        for door in stated.get("doors", []):
            found[door["name"]] = Setting(door["open"])
        for panel in self.panels:
            found[panel] = Setting(0.0)
        for panel in stated.get("panels", []):
            found[panel["name"]] = Setting(1.0 if panel["open"] == "yes" else 0.0)
        return found
