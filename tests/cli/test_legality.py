#!/usr/bin/python3
"""Every illegal setting of every machine of the demo hall is refused: exit status 2, file, line, key,
the machine's and the rule's name. What is tried is read from the hall's own file: each drive below and
above its travel, each interlock that binds a standing machine broken, each tower driven into what stands
under and beside it."""

import math
import re
import unittest

import hall
import yaml

UNIT = {"m": "m", "": ""}


def load(name):
    with open(f"{hall.DEMO}/{name}", encoding="utf-8") as source:
        return yaml.safe_load(source)


def join(own, kind):
    """An entry with what it leaves out as its kind states it, maps key by key."""
    both = dict(kind)
    for key, value in own.items():
        both[key] = join(value, kind[key]) if isinstance(value, dict) and key in kind else value
    return both


HALL = load("hall.yaml")
for entry in HALL["machines"]["towers"]:
    entry.update(join(entry, HALL["machines"]["kinds"]["towers"][0]))
MACHINES, FACADE = HALL["machines"], HALL["facade"]
ARCH, CEILING = MACHINES["arch"], HALL["room"]["ceiling"]
BARE = {"format": "gradin-layout-1", "units": "m", "venue": "hall.yaml", "name": "Try", "form": "custom"}
SEAT = ("blocks:\n  - {name: One, stands_on: floor, seat_width: 0.5, row_depth: 0.9, "
        "straight: {front: [1.2, 30], facing_deg: 180, rows: 1, seats: 1}}\n")
FOCUS = "focus:\n  - {name: middle, polygon: [[14, 14], [16, 14], [16, 16], [14, 16]], z: 0}\n"


def section(grid, column, row):
    return f"{grid['name']}-{chr(ord('A') + column)}{row + 1}"


def sections():
    """(grid, name) of every lift section."""
    return [(g, section(g, c, r)) for g in MACHINES["lifts"] for r in range(g["rows"])
            for c in range(g["columns"])]


def drives():
    """(name as messages have it, kind, item, travel) of every drive but the lift sections."""
    for tower in MACHINES["towers"]:
        yield f"{tower['name']} hoist", "hoist", tower, tower["hoist"]
        yield f"{tower['name']} slide", "slide", tower, tower["slide"]["range"]
    yield f"{ARCH['name']} trim", "trim", ARCH, ARCH["trim"]
    yield f"{ARCH['name']} opening", "opening", ARCH, ARCH["opening"]
    yield ARCH["closing"]["name"], "closed", ARCH, [0, 1]
    for panel in MACHINES["panels"]:
        yield panel["name"], "panel", panel, [0, 1]
    for shade in FACADE["shades"]:
        yield shade["name"], "shade", shade, [0, 1]
    for door in FACADE["doors"]:
        yield door["name"], "door", door, [0, 1]


DRIVES = {name: (kind, item, travel) for name, kind, item, travel in drives()}
DEFAULT = {"trim": sum(ARCH["trim"]) / 2, "opening": ARCH["opening"][1]}


def write(settings):
    """A layout's `machines` with these drives set, one line each; sections by their own name."""
    lists = {"lifts": [], "towers": {}, "shades": [], "doors": [], "panels": []}
    arch = {}
    for name, value in settings.items():
        if name not in DRIVES:
            lists["lifts"].append(f"{{from: {name}, height: {value}}}")
            continue
        kind, item, _ = DRIVES[name]
        if kind in ("hoist", "slide"):
            lists["towers"].setdefault(item["name"], {})[kind] = value
        elif kind in ("trim", "opening", "closed"):
            arch[kind] = value
        elif kind == "panel":
            lists["panels"].append(f"{{name: {name}, open: {value}}}")
        else:
            lists[f"{kind}s"].append(f"{{name: {name}, {'closed' if kind == 'shade' else 'open'}: {value}}}")
    lists["towers"] = [f"{{name: {n}, {', '.join(f'{k}: {v}' for k, v in s.items())}, seated: no}}"
                       for n, s in lists["towers"].items()]
    lines = ["machines:"]
    for key, items in lists.items():
        lines += [f"  {key}:"] * bool(items) + [f"    - {item}" for item in items]
    if arch:
        arch = {**DEFAULT, **arch}
        lines.append(f"  arch: {{in: yes, {', '.join(f'{k}: {v}' for k, v in arch.items())}}}")
    return "\n".join(lines) + "\n"


def members(text):
    """Names that an interlock's `machine` or `while` stands for."""
    names = [name for _, name in sections()]
    grids = {g["name"]: g for g in MACHINES["lifts"]}
    if text in grids:
        return [name for g, name in sections() if g["name"] == text]
    span = re.fullmatch(r"(\w+)-([A-Z])(\d+)\.\.\w+-([A-Z])(\d+)", text)
    if not span:
        return [text]
    grid, a, low, b, high = span.groups()
    return [n for n in names if n.startswith(grid + "-") and a <= n[len(grid) + 1] <= b
            and int(low) <= int(n[len(grid) + 2:]) <= int(high)]


def travel_of(name):
    if name in DRIVES:
        low, high = DRIVES[name][2]
        return [low, CEILING if DRIVES[name][0] == "trim" else high]
    return next(g["travel"] for g, n in sections() if n == name)


class Legality(hall.HallTest):
    def check(self, machines):
        text = "".join(f"{k}: {v}\n" for k, v in BARE.items()) + machines + SEAT + FOCUS
        with open(self.path("try.yaml"), "w", encoding="utf-8") as out:
            out.write(text)
        return (text, *self.run_here("check", "try.yaml"))

    def refuse(self, machines, needle, pattern):
        """Exactly exit status 2 and one line at the line of the file that holds the needle."""
        text, code, out, err = self.check(machines)
        line = 1 + text[:text.index(needle)].count("\n")
        self.assertEqual((code, out), (2, ""), f"accepted: {machines}")
        found = [l for l in err.splitlines() if re.match(rf"try\.yaml:{line}:\d+: .*{pattern}", l)]
        self.assertTrue(found, f"{machines}wanted {line}: {pattern}\nfound {err}")

    def test_the_hall_as_parked_is_legal(self):
        self.assertEqual(self.check("")[1:3], (0, "try.yaml: layout, ok\n"))

    def test_sections_beyond_their_travel(self):
        for grid in MACHINES["lifts"]:
            low, high = grid["travel"]
            mine = [name for g, name in sections() if g is grid]
            for name in (mine[0], mine[-1]):
                for value in (low - 0.01, high + 0.01):
                    self.refuse(write({name: round(value, 3)}), f"from: {name}",
                                rf"height: {name} would be at {value:.3f} m; its travel is "
                                rf"{low:.3f} to {high:.3f} m")

    def test_every_section_is_held_to_its_travel(self):
        for grid in MACHINES["lifts"]:
            mine = [name for g, name in sections() if g is grid]
            for first in range(0, len(mine), 16):  # a run names at most 20 errors
                few = mine[first:first + 16]
                text, code, _, err = self.check(write({n: grid["travel"][1] + 1 for n in few}))
                self.assertEqual(code, 2)
                for name in few:
                    line = 1 + text[:text.index(f"from: {name},")].count("\n")
                    self.assertRegex(err, rf"try\.yaml:{line}:\d+: .*height: {name} would be at")

    def test_treads_beyond_what_a_section_makes(self):
        for grid in MACHINES["lifts"]:
            name = section(grid, 0, 0)
            most, riser = grid.get("steps_max", 1), grid.get("riser", [0, 0])
            cases = [(f"steps: {most + 1 if most > 1 else 2}, riser: 0.1, facing_deg: 0",
                      rf"terrace\.steps: {name} makes at most {most} treads")]
            if most > 1:
                cases += [(f"steps: 2, riser: {riser[1] + 0.01}, facing_deg: 0",
                           rf"terrace\.riser: the treads of {name} would stand .* apart; it makes"),
                          ("steps: 2, riser: 0.1, facing_deg: 30",
                           rf"terrace\.facing_deg: {name} cannot terrace towards this bearing")]
                if riser[1] > 0:
                    top = grid["travel"][1]
                    cases.append((f"steps: 2, riser: {riser[1]}, facing_deg: 0",
                                  rf"terrace: {name} would be at {top - 0.1 + riser[1]:.3f} m"))
            for terrace, pattern in cases:
                height = grid["travel"][1] - 0.1 if pattern.startswith("terrace:") else 0
                self.refuse(f"machines:\n  lifts:\n    - {{from: {name}, height: {height}, "
                            f"terrace: {{{terrace}}}}}\n", name, pattern)

    def test_every_other_drive_below_and_above_its_travel(self):
        tried = 0
        for name, (kind, item, (low, high)) in DRIVES.items():
            for value in (round(low - 0.05, 3), round(high + 0.05, 3)):
                if kind == "panel":  # in place or away, nothing between or beyond
                    value, pattern = 2, r"open: .*yes.*no"
                elif kind in ("closed", "shade", "door"):
                    pattern = rf"{'open' if kind == 'door' else 'closed'}: is {value}; allowed: 0 to 1"
                else:
                    pattern = (rf"{kind}: {item['name']} would be at {value:.3f} m; its travel is "
                               rf"{low:.3f} to {high:.3f} m")
                needle = "in: yes" if kind in ("trim", "opening", "closed") else f"name: {item['name']}"
                self.refuse(write({name: value}), needle, pattern)
                tried += 1
        self.assertGreaterEqual(tried, 2 * (2 * len(MACHINES["towers"]) + 6))

    def test_every_interlock_that_binds_standing(self):
        tried = 0
        for rule in MACHINES["interlocks"]:
            if "at" not in rule:
                continue
            mover, holder = members(rule["machine"])[0], members(rule["while"])[0]
            at, within = rule["at"], rule["within"]
            low, high = travel_of(holder)
            outside = [v for v in (within[1] + 0.5 * (high - within[1]), high, low)
                       if not within[0] <= v <= within[1]]
            stands = min(max((at[0] + at[1]) / 2, travel_of(mover)[0]), travel_of(mover)[1])
            if DRIVES.get(mover, [""])[0] in ("trim", "opening"):
                stands = min(stands, DRIVES[mover][2][1])
            self.assertTrue(outside, f"{rule['name']} cannot be broken")
            broken = write({mover: round(stands, 3), holder: round(outside[0], 3)})
            if DRIVES.get(holder, [""])[0] == "trim":  # out of the opening means flown out
                broken = self.flown_out(mover, stands)
            if broken is None:
                continue
            needle = self.needle_of(mover)
            self.refuse(broken, needle, rf"interlock '{re.escape(rule['name'])}': {mover} stands at "
                        rf"[\d.]+ only while {holder} is within")
            tried += 1
        self.assertGreaterEqual(tried, 8)

    def flown_out(self, mover, stands):
        """A thing in the opening while the arch is out is refused before its interlock."""
        if DRIVES[mover][0] == "closed":
            self.refuse(f"machines:\n  arch: {{in: no, closed: {stands}}}\n", "in: no",
                        f"closed: {mover} comes down only while {ARCH['name']} is in")
        return None  # the opening has no setting of its own while the arch is out

    @staticmethod
    def needle_of(mover):
        kind, item, _ = DRIVES[mover]
        return "in: yes" if kind in ("trim", "opening", "closed") else f"name: {item['name']}"

    def test_interlocks_that_bind_motion_bind_the_changeover(self):
        """A rule without `at` binds moves alone: the mover's move waits for the holder's, or the
        plan is refused by the rule's name."""
        for rule in MACHINES["interlocks"]:
            if "at" in rule:
                continue
            mover, holder = members(rule["machine"])[0], members(rule["while"])[0]
            _, high = travel_of(mover)
            there = (rule["within"][0] + rule["within"][1]) / 2
            far = next(v for v in travel_of(holder) if not rule["within"][0] <= v <= rule["within"][1])
            others = {members(r["while"])[0]: sum(r["within"]) / 2 for r in MACHINES["interlocks"]
                      if "at" not in r and r["machine"] == rule["machine"]}
            for name, value in (("a", {**others, mover: 0, holder: far}),
                                ("b", {**others, mover: high / 2, holder: there})):
                text, code, _, err = self.check(write(value))
                self.assertEqual(code, 0, err)
                with open(self.path(f"{name}.yaml"), "w", encoding="utf-8") as out:
                    out.write(text.replace("name: Try", f"name: {name}"))
            code, out, err = self.run_here("changeover", "a.yaml", "b.yaml")
            self.assertEqual((code, err), (0, ""))
            self.assertIn(rule["name"], out)
            # And the other way about: the mover's move comes before the holder leaves.
            code, out, err = self.run_here("changeover", "b.yaml", "a.yaml")
            self.assertEqual((code, err), (0, ""))
            self.assertIn(rule["name"], out)

    def test_towers_driven_into_lifts_and_each_other(self):
        """Every tower over the lifts, landed on a raised section below its decks: a clash by name."""
        tried = 0
        for tower in MACHINES["towers"]:
            bottom = tower["levels"][0]["deck"] - tower["levels"][0]["thickness"]
            slide = tower["slide"]["range"][1]
            rise = math.radians(tower["slide"]["bearing_deg"])
            face = math.radians(tower["facing_deg"])
            x = tower["front"][0] + slide * math.sin(rise) - 0.5 * math.sin(face)
            y = tower["front"][1] + slide * math.cos(rise) - 0.5 * math.cos(face)
            for grid, name in sections():
                column, row = ord(name[len(grid["name"]) + 1]) - 65, int(name[len(grid["name"]) + 2:]) - 1
                x0 = grid["origin"][0] + column * grid["size"][0]
                y0 = grid["origin"][1] + row * grid["size"][1]
                if not (x0 < x < x0 + grid["size"][0] and y0 < y < y0 + grid["size"][1]):
                    continue
                height = round(bottom + 0.1, 3)
                _, code, _, err = self.check(write({f"{tower['name']} slide": slide, name: height}))
                self.assertEqual(code, 2, tower["name"])
                self.assertRegex(err, rf"machines clash: {tower['name']} lower meets {name} between "
                                 rf"{bottom:.2f} m and {height:.2f} m")
                tried += 1
        self.assertGreaterEqual(tried, 2)

    def test_every_tower_landed_on_something(self):
        """A thing of its own lower deck's height below every tower."""
        for tower in MACHINES["towers"]:
            bottom = tower["levels"][0]["deck"] - tower["levels"][0]["thickness"]
            face = math.radians(tower["facing_deg"])
            x, y = (round(tower["front"][i] - 1.0 * f, 3) for i, f in
                    enumerate((math.sin(face), math.cos(face))))
            solid = (f"solids:\n  - {{name: crate, kind: set, centre: [{x}, {y}], diameter: 0.5, bottom: 0, "
                     f"top: {bottom + 0.1:.3f}}}\n")
            self.refuse(write({f"{tower['name']} hoist": 0}) + solid, f"name: {tower['name']}",
                        rf"machines clash: {tower['name']} lower meets crate between {bottom:.2f} m and "
                        rf"{bottom + 0.1:.2f} m")

    def test_towers_against_the_arch(self):
        """Each tower that reaches the arch's line, landed where its panels stand."""
        line_y = ARCH["line"][0][1]
        tried = 0
        for tower in MACHINES["towers"]:
            if abs(tower["front"][1] - line_y) > 0.5 or tower["facing_deg"] != 180:
                continue
            text = write({f"{tower['name']} hoist": 0, "arch opening": ARCH["opening"][0],
                          "arch trim": ARCH["trim"][0]})
            _, code, _, err = self.check(text)
            self.assertEqual(code, 2)
            self.assertIn(tower["name"], err)
            self.assertRegex(err, "interlock|machines clash")
            tried += 1
        self.assertGreater(tried, 0)

    def test_out_of_the_room(self):
        """A tower whose stated travel goes through the ceiling, and through the wall."""
        tower = MACHINES["towers"][0]
        low, high = tower["hoist"]
        self.change("hall.yaml", f"hoist: [{low}, {high}]", f"hoist: [{low}, {CEILING}]")
        self.refuse(write({f"{tower['name']} hoist": CEILING - 1}), f"name: {tower['name']}",
                    rf"machines clash: {tower['name']} \w+ reaches above the ceiling")
        self.change("hall.yaml", f"range: {tower['slide']['range']}", "range: [-9, 9]")
        self.refuse(write({f"{tower['name']} slide": -5}), f"name: {tower['name']}",
                    rf"machines clash: {tower['name']} \w+ stands outside the room's footprint")


if __name__ == "__main__":
    hall.plain.main()
