"""Scenery of a plan, held against the YAML for plan_rules.py with no code of the engine: what comes in and goes
out, how long it takes, what its floor and its door do meanwhile, what has to be off its way."""

import math


STEP = 0.2  # m: how finely an area is looked at
LEVEL = 0.01


def inside(polygon, x, y):
    """Crossings of a ray (elementary)."""
    found = False
    for (ax, ay), (bx, by) in zip(polygon, polygon[1:] + polygon[:1]):
        if (ay > y) != (by > y) and x < ax + (y - ay) / (by - ay) * (bx - ax):
            found = not found
    return found


def spots(polygon):
    xs, ys = [p[0] for p in polygon], [p[1] for p in polygon]
    nx, ny = (max(2, math.ceil((max(v) - min(v)) / STEP)) for v in (xs, ys))
    for i in range(nx):
        for k in range(ny):
            x = min(xs) + (i + 0.5) * (max(xs) - min(xs)) / nx
            y = min(ys) + (k + 0.5) * (max(ys) - min(ys)) / ny
            if inside(polygon, x, y):
                yield x, y


def straight_seats(block):
    """(x, y) of a straight block that faces a side of the plan, whole rows."""
    if "straight" not in block:
        return []
    s = block["straight"]
    if s["facing_deg"] % 90:
        return []
    turn = math.radians(s["facing_deg"])
    ahead, right = (math.sin(turn), math.cos(turn)), (math.cos(turn), -math.sin(turn))
    found = []
    for row in range(s["rows"]):
        for k in range(s["seats"]):
            side = (k - (s["seats"] - 1) / 2) * block["seat_width"]
            found.append((s["front"][0] + side * right[0] - row * block["row_depth"] * ahead[0],
                          s["front"][1] + side * right[1] - row * block["row_depth"] * ahead[1]))
    return found


class Scenery:
    """The scenery of one plan; plan is a plan_rules.Plan."""

    def __init__(self, plan):
        self.plan = plan
        self.stated = {kind: {s["name"]: s for s in plan.layouts[kind].get("scenery", [])} for kind in ("strike", "set")}
        self.moves = [m for m in plan.moves if m.row["lane"] == "scenery"]
        self.kept = {name for name in self.stated["strike"] if self.may_stay(name)}
        while aside := {name for name in self.kept if self.is_in_a_way(name)}:
            self.kept -= aside

    def sections(self, polygon):
        hall, found = self.plan.hall, set()
        boxes = {n: hall.box(n) for n in hall.sections()}
        for x, y in spots(polygon) if polygon else ():
            found |= {n for n, b in boxes.items() if b[0] + 0.05 < x < b[2] - 0.05 and b[1] + 0.05 < y < b[3] - 0.05}
        return found

    def level(self, kind, s):
        if "level" in s:
            return s["level"]
        settings = self.plan.before if kind == "strike" else self.plan.after
        floor = next((f["z"][0] for f in self.plan.hall.floors  # level ones
                      if any(inside(f["polygon"], *spot) for spot in spots(s["area"]))), 0.0)
        return next((settings[n].low for n in sorted(self.sections(s["area"]))), floor)

    def may_stay(self, name):
        one, other = self.stated["strike"].get(name), self.stated["set"].get(name)
        if not one or not other or any(one.get(key, 1) != other.get(key, 1) for key in ("area", "pieces", "height")):
            return False
        before, after = self.plan.before, self.plan.after
        return one.get("rides") == other.get("rides") == "yes" \
            or all(before[n].is_like(after[n]) for n in self.sections(one["area"]))

    def is_in_a_way(self, name):
        """Of anything that comes in or goes out."""
        area = self.stated["strike"][name]["area"]
        return any(inside(s.get("way", []), *spot) for all_of in self.stated.values() for other, s in all_of.items()
                   if other not in self.kept for spot in spots(area))

    def stays(self, name):
        return name in self.kept

    def trips(self, s):
        is_lift = s["by"] == self.plan.hall.crew.get("store", {}).get("name")
        return math.ceil(s.get("pieces", 1) / s.get("per_trip", 1)) if is_lift else 0

    def seconds(self, kind, s):
        """Of the whole move."""
        pace, kg = ("in_minutes", "in_kg_person_hour") if kind == "set" else ("out_minutes", "out_kg_person_hour")
        if kind == "strike" and pace not in s and kg not in s:
            pace, kg = "in_minutes", "in_kg_person_hour"
        piece = s[pace] * 60 if pace in s else s["piece_kg"] / (s[kg] * s["crew"]) * 3600
        trips = self.trips(s)
        return math.ceil(max(piece * s.get("pieces", 1), trips * self.plan.trip_s() if trips else 0) - 1e-6)

    def hold(self):
        for kind in ("strike", "set"):
            due = sorted(n for n in self.stated[kind] if not self.stays(n))
            if sorted(m.name for m in self.moves if m.kind == kind) != due:
                self.plan.found.append(f"scenery: {kind} is not of {due}")
        for m in self.moves:
            s = self.stated[m.kind].get(m.name)
            if s:
                self.hold_one(m, s)

    def hold_one(self, m, s):
        if int(m.row["duration_s"]) != self.seconds(m.kind, s) or m.crew != s["crew"]:
            self.plan.say("scenery", m, "its time or people are not those stated")
        if len(m.trips) != self.trips(s):
            self.plan.say("scenery", m, f"{len(m.trips)} trips, not {self.trips(s)}")
        self.hold_floor(m, s)
        self.hold_way(m, s)
        self.hold_machines(m, s)

    def hold_floor(self, m, s):
        level = self.level(m.kind, s)
        for name in self.sections(s["area"]) | self.sections(s.get("way")):
            for at in self.plan.span(name, m.start, m.end):
                if at.steps != 1 or abs(at.low - level) > LEVEL:
                    self.plan.say("scenery", m, f"{name} is not at {level} m meanwhile")
                    break
        if s["by"] in self.plan.hall.doors:
            if any(at.low < 1 for at in self.plan.span(s["by"], m.start, m.end)):
                self.plan.say("scenery", m, f"{s['by']} is not open meanwhile")
        if s.get("rides") == "yes":
            return
        for o in self.plan.moves:
            under = self.sections(s["area"]) & set(o.machines)
            if under and (o.end > m.start if m.kind == "set" else o.start < m.end):
                self.plan.say("scenery", m, f"{min(under)} moves with it in move {o.number}")

    def hold_way(self, m, s):
        """Seats of straight blocks; scenery that stands where this one comes."""
        areas = [s["area"]] + ([s["way"]] if "way" in s else [])
        for o in self.plan.work:
            block = self.plan.blocks(o.kind).get(o.block, {})
            if not any(inside(a, *seat) for a in areas for seat in straight_seats(block)) or o.parts > 1:
                continue
            if o.kind == "strike" and o.end > m.start or o.kind == "set" and o.start < m.end:
                self.plan.say("scenery", m, f"seats of move {o.number} stand in its way")
        for o in self.moves if m.kind == "set" else []:
            old = self.stated["strike"].get(o.name)
            if o.kind == "strike" and old and o.end > m.start and \
                    any(inside(old["area"], *spot) for spot in spots(s["area"])):
                self.plan.say("scenery", m, f"{o.name} still stands there")
        for o in self.moves:
            other = self.stated[o.kind].get(o.name)
            if o is m or not other or not any(inside(s.get("way", []), *spot) for spot in spots(other["area"])):
                continue
            if o.kind == "strike" and o.end > m.start or o.kind == "set" and o.start < m.end:
                self.plan.say("scenery", m, f"{o.name} stands in its way")

    def hold_machines(self, m, s):
        for key, is_first in (("after", True), ("before", False)):
            names = {n for text in s.get(key, []) for n in self.plan.members(text)}
            for o in self.plan.moves:
                if not names & set(o.machines):
                    continue
                machine_first = is_first == (m.kind == "set")
                if machine_first and o.end > m.start or not machine_first and o.start < m.end:
                    self.plan.say("scenery", m, f"not {key} move {o.number}")


