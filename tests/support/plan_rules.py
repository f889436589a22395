"""Holds a changeover's moves.csv against the YAML of its venue and its two layouts, with no code of the
engine: what each rule of a plan asks, written down a second time.

What it can't tell from YAML and CSV alone it leaves: which seat of a filled block stands on which tread
(the middle of a gang's share of rows is held against the lifts), what rails guard, what towers sweep."""

import csv
import math
import re

from plan_hours import Hours
from plan_hall import Hall, Setting, cells, load, named, way_s  # noqa: F401
from plan_gangs import Gangs, people_of  # noqa: F401
from plan_scenery import Scenery

BESIDE = 0.3  # m: sections this near are beside each other
TOLERANCE_S = 1
WHOLE = 99999  # the last seat of a row of which no seats are named


def read_moves(path):
    """A cell that begins with a sign has a quote before it, so that no spreadsheet takes it for a formula."""
    with open(path, encoding="utf-8", newline="") as source:
        return [{k: re.sub(r"^'(?=[-+=@])", "", v) for k, v in row.items()} for row in csv.DictReader(source)]


def places(text):
    """"row 2 seats 3-5 + 9, rows 3-4": (row, first seat, last seat) of each piece; whole rows from 1 on."""
    found = []
    for piece in filter(None, text.strip().split(", ")):
        rows, _, seats = re.fullmatch(r"rows? (\S+?)( seats? (.+))?", piece).groups()
        first, _, last = rows.partition("-")
        for row in range(int(first), int(last or first) + 1):
            for part in (seats or f"1-{WHOLE}").split(" + "):
                low, _, high = part.partition("-")
                found.append((row, int(low), int(high or low)))
    return found


class Move:
    """One line of the CSV."""

    def __init__(self, row):
        self.row, self.number = row, int(row["move"])
        self.start, self.end = int(row["start_s"]), int(row["end_s"])
        self.kind, self.name, self.task = row["kind"], row["name"], row["task"]
        self.crew, self.power = int(row["crew"]), float(row["power_kw"])
        self.is_near = row["people_near"] == "yes"
        self.trips = [int(x) for x in row["store_trips_s"].split()]
        self.machines = named(self.name) if self.kind == "machine" else []
        self.ends = [Setting.of_task(x) for x in self.task.split(" -> ")] if self.machines else []
        seats = re.fullmatch(r"(?:strike|set) (\d+) x (.+?)(?:, (?:to|from) store)?", self.task)
        self.seats, self.stock = (int(seats.group(1)), seats.group(2)) if seats else (0, None)
        self.is_scenery = row["lane"] == "scenery"
        self.block, self.part, self.parts = row["block"], 1, 1
        self.places = places(self.name[len(self.block):]) if self.block else []

    def runs_with(self, other):
        return self.start < other.end and other.start < self.end


class Plan:
    """A plan with all it is held against; complaints() is empty for a good one."""

    def __init__(self, venue, layout_from, layout_to, rows, start=None):
        self.hall = Hall(venue)
        self.hours = Hours(self.hall.crew, start) if start else None
        self.layouts = {"strike": layout_from, "set": layout_to}
        self.before, self.after = self.hall.settings(layout_from), self.hall.settings(layout_to)
        self.moves = [Move(row) for row in rows]
        self.work = [m for m in self.moves if m.stock]
        self.found = []
        self.share_out()

    def share_out(self):
        """Which share of its block each seat move has, from the front."""
        for m in self.work:
            alike = sorted((o for o in self.work if (o.block, o.kind) == (m.block, m.kind)), key=lambda o: o.places)
            m.part, m.parts = alike.index(m) + 1, len(alike)

    def say(self, rule, move, text):
        self.found.append(f"{rule}: move {move.number} ({move.name}): {text}")

    def complaints(self):
        for rule in (self.hold_lines, self.hold_durations, self.hold_limits, self.hold_at_once, self.hold_trips,
                     self.hold_chains, self.hold_interlocks, self.hold_seats, self.hold_people, self.hold_rows,
                     self.hold_hours, self.hold_steps):
            rule()
        Scenery(self).hold()
        Gangs(self).hold()
        return self.found

    def hold_lines(self):
        for m in self.moves:
            if m.start < 0 or not self.is_as_long(m):
                self.say("line", m, "start, end and duration don't agree")
            if m.kind == "machine" and not m.row["caution"]:
                self.say("line", m, "a machine moves without its caution")

    def is_as_long(self, m):
        """Work that is broken by stops lasts as long in all; a machine may wait for the end of one."""
        duration = int(m.row["duration_s"])
        if not self.hours:
            return m.end - m.start == duration
        worked = self.hours.work_s(m.start, m.end)
        return worked == duration if not m.machines and not m.trips else worked >= duration

    def hold_hours(self):
        """Nothing begins or ends while nobody works, and no machine is left half way."""
        for m in self.moves if self.hours else []:
            if not self.hours.is_work(m.start) or not self.hours.is_work(m.end - 1):
                self.say("hours", m, "begins or ends while nobody works")
            for t in m.trips:
                if len(self.hours.stretches(t, t + self.trip_s())) != 1:
                    self.say("hours", m, f"the trip at {t} s is left half way")
            if m.kind == "step" and self.is_parted(m):
                self.say("hours", m, "a step is parted, and would fit between two stops")
            if not m.machines:
                continue
            batch = math.ceil(int(m.row["duration_s"]) / math.ceil(len(m.machines) / self.together(m)))
            room = sum((b - a) // batch * batch for a, b in self.hours.stretches(m.start, m.end))
            rest = sum(b - a for a, b in self.hours.stretches(m.start, m.end)[-1:]) % batch
            if room + rest < int(m.row["duration_s"]):
                self.say("hours", m, "a machine is left half way")

    def is_parted(self, m):
        if len(self.hours.stretches(m.start, m.end)) == 1:
            return False
        longest = max(b - a for a, b in self.hours.stretches(0, 60 * len(self.hours.works)))
        return int(m.row["duration_s"]) <= longest

    def hold_steps(self):
        """Each step that the venue states is there once, with its time and people, and in its place."""
        steps = [m for m in self.moves if m.kind == "step"]
        stated = self.hall.crew.get("steps", []) if len(self.moves) > len(steps) else []
        if sorted(m.name for m in steps) != sorted(s["name"] for s in stated):
            self.found.append("steps: not those that the venue states")
            return
        for m in steps:
            step = next(s for s in stated if s["name"] == m.name)
            if int(m.row["duration_s"]) != step["minutes"] * 60 or m.crew != step.get("crew", 1):
                self.say("steps", m, "its time or people are not those stated")
            self.hold_step(m, step["when"])

    def hold_step(self, m, when):
        for o in self.moves:
            if o.kind == "step":
                continue
            is_late = when == "first" or when == "before_machines" and o.machines or \
                when == "before_set" and o.kind == "set" and not self.is_awaited(o)
            is_early = when == "last" or when in ("after_machines", "before_set") and o.machines
            if is_late and o.start < m.end or is_early and o.end > m.start:
                self.say("steps", m, f"not {when} as to move {o.number}")

    def is_awaited(self, m):
        """Scenery that machines move after it has come in."""
        stated = {s["name"]: s for s in self.layouts["set"].get("scenery", [])}.get(m.name, {})
        return m.is_scenery and (stated.get("rides") == "yes" or "before" in stated or stated.get("by") in self.hall.doors)

    def stock(self, m):
        return next(s for s in self.hall.crew["seating"] if s["name"] == m.stock)

    def trip_s(self):
        store = self.hall.crew["store"]
        drive = store.get("drive", {})
        way = way_s(store["travel"], store["speed_ms"], drive.get("accel_ms2"))
        return math.ceil(2 * way + store["load_s"] + drive.get("prepare_s", 0) - 1e-6)

    def trips_of(self, m):
        stock = self.stock(m)
        return math.ceil(m.seats / self.hall.crew["store"]["seats_per_trip"]) if stock.get("stored") == "yes" else 0

    def machine_s(self, m):
        drive, speed = self.hall.drive(m.machines[0])
        a, b = m.ends
        if speed is None:
            one = abs(a.low - b.low) * self.hall.whole_s(m.machines[0])
        else:
            profile = lambda d: way_s(abs(d), speed, drive.get("accel_ms2"))  # noqa: E731
            turn = abs((a.facing - b.facing + 180) % 360 - 180) if a.steps > 1 and b.steps > 1 else 0
            if turn:
                one = (profile(a.high - a.low) + turn / 90 * drive.get("turn_s", 0) +
                       max(profile(b.low - a.low), profile(b.high - a.low)))
            else:
                one = max(profile(b.low - a.low), profile(b.high - a.high))
        together = self.together(m)
        return (one + drive.get("prepare_s", 0)) * math.ceil(len(m.machines) / together)

    def together(self, m):
        """How many sections move at a time: as many as the power that the plan states."""
        drive, _ = self.hall.drive(m.machines[0])
        n, each = len(m.machines), drive.get("power_kw", 0)
        least = min(n, drive.get("at_once", 1))
        return least if not each else max(1, min(least, round(m.power / each)))

    def hold_durations(self):
        for m in self.moves:
            slack = TOLERANCE_S
            if m.kind == "step" or m.is_scenery:
                continue
            lasts = int(m.row["duration_s"])
            if m.machines:
                least = self.machine_s(m)
                # a task's settings are rounded to centimetres
                slack += 0.012 / (self.hall.drive(m.machines[0])[1] or 1) * len(m.machines)
            elif m.stock:
                stock = self.stock(m)
                rate = stock.get(f"{m.kind}_seats_person_hour")
                if stock["kind"] != "loose":
                    continue
                least = max(m.seats / (rate * stock["crew"]) * 3600, self.trips_of(m) * self.trip_s()
                            if self.trips_of(m) else 0)
            else:
                length = re.search(r"(\d+) m$", m.task)
                rate = self.hall.crew["rail_m_person_hour"] * self.hall.crew["rail_crew"] / 3600
                least, slack = int(length.group(1)) / rate, slack + 0.5 / rate
            if abs(lasts - least) > slack:
                self.say("duration", m, f"{lasts} s, not {least:.0f} s")

    def crew_of(self, m):
        if m.machines:
            return self.hall.drive(m.machines[0])[0].get("crew", 1)
        if m.kind == "step" or m.is_scenery:
            return m.crew  # hold_steps() and the scenery ask
        return self.stock(m)["crew"] if m.stock else self.hall.crew["rail_crew"]

    def hold_limits(self):
        store = self.hall.crew.get("store", {}).get("drive", {})
        trips = [t for m in self.moves for t in m.trips]
        trip_s = self.trip_s() if trips else 0
        for m in self.moves:
            if m.crew != self.crew_of(m):
                self.say("crew", m, f"{m.crew} people, not {self.crew_of(m)}")
            if m.machines and abs(m.power - self.hall.drive(m.machines[0])[0].get("power_kw", 0) *
                                  (self.together(m) if "-" in m.machines[0] else 1)) > 0.01:
                self.say("power", m, f"{m.power} kW is not what its drive draws")
        for t in {m.start for m in self.moves} | set(trips):
            out = sum(s <= t < s + trip_s for s in trips)
            now = [m for m in self.moves if m.start <= t < m.end]
            people = sum(m.crew for m in now) + (out > 0) * store.get("crew", 1)
            power = sum(m.power for m in now) + (out > 0) * store.get("power_kw", 0)
            if people > self.hall.crew["people"]:
                self.say("crew", now[0], f"{people} people at {t} s")
            if power > self.hall.crew.get("power_kw", math.inf) + 1e-6:
                self.say("power", now[0], f"{power:.1f} kW at {t} s")

    def hold_at_once(self):
        lifts = [m for m in self.moves if m.machines and m.machines[0] in self.before and "-" in m.machines[0]]
        for m in lifts:
            grid = m.machines[0].rsplit("-", 1)[0]
            now = sum(self.together(o) for o in lifts
                      if o.machines[0].rsplit("-", 1)[0] == grid and o.start <= m.start < o.end)
            if now > self.hall.grids[grid]["drive"].get("at_once", 1):
                self.say("at_once", m, f"{now} sections of {grid} move at {m.start} s")

    def hold_trips(self):
        out = []
        for m in self.work:
            if len(m.trips) != self.trips_of(m):
                self.say("store", m, f"{len(m.trips)} trips for {m.seats} seats, not {self.trips_of(m)}")
        for m in self.moves:
            for t in m.trips:
                if t < m.start or t + self.trip_s() > m.end:  # both on the clock
                    self.say("store", m, f"a trip at {t} s outside its work")
                out.append((t, m))
        out.sort(key=lambda x: x[0])
        for (a, _), (b, m) in zip(out, out[1:]):
            if b < a + self.trip_s():
                self.say("store", m, f"a trip at {b} s while that of {a} s is under way")

    def hold_chains(self):
        """Every machine gets from the one layout's setting to the other's."""
        at = dict(self.before)
        for m in sorted(self.moves, key=lambda m: (m.start, m.number)):
            for name in m.machines:
                if name in at and not at[name].is_like(m.ends[0]):
                    self.say("chain", m, f"{name} does not stand where the move starts")
                at[name] = m.ends[1]
            if any(o is not m and o.runs_with(m) and set(o.machines) & set(m.machines) for o in self.moves):
                self.say("chain", m, "one machine moves twice at a time")
        for name, setting in self.after.items():
            if not at[name].is_like(setting):
                self.found.append(f"chain: {name} does not reach the layout's setting")

    def members(self, text):
        if ".." in text:
            return cells(*text.split(".."))
        return [s for s in self.hall.sections() if s.startswith(f"{text}-")] if text in self.hall.grids else [text]

    def span(self, name, start, end):
        """All settings of a machine in a span of time; its start where no move is listed."""
        moves = sorted((m for m in self.moves if name in m.machines), key=lambda m: m.start)
        if not moves:
            return [self.before[name]] if name in self.before else []
        found = [] if any(m.end <= start for m in moves) else [moves[0].ends[0]]
        for m in moves:
            if m.start < end and m.end > start:
                found += m.ends
            elif m.end <= start:
                found = [m.ends[1]]
        return found

    def hold_interlocks(self):
        for rule in self.hall.interlocks:
            at = rule.get("at")
            for mover in self.members(rule["machine"]):
                for m in self.moves:
                    if mover not in m.machines:
                        continue
                    low, high = min(x.low for x in m.ends), max(x.high for x in m.ends)
                    if at and (low > at[1] or high < at[0]):
                        continue
                    for holder in self.members(rule["while"]):
                        if any(not s.is_within(*rule["within"]) for s in self.span(holder, m.start, m.end)):
                            self.say("interlock", m, f"'{rule['name']}' is not kept by {holder}")

    def blocks(self, kind):
        return {b["name"]: b for b in self.layouts[kind].get("blocks", [])}

    def carried(self, m):
        """Sections that surely carry seats of this share (the middle of its rows), and the axis along
        which rows lie behind each other; None where the share is all of the block."""
        block = self.blocks(m.kind).get(m.block, {})
        if "fill" not in block:
            return [], None
        names = cells(block["fill"]["from"], block["fill"]["to"])
        settings = self.before if m.kind == "strike" else self.after
        facing = settings[names[0]].facing if settings[names[0]].steps > 1 else block["fill"].get("facing_deg")
        whole = [p[0] for p in m.places if p[2] == WHOLE]
        if not whole:
            return [], None
        n_row = max(p[0] for o in self.work if (o.block, o.kind) == (m.block, m.kind) for p in o.places)
        low, high = (min(whole) - 1) / n_row, max(whole) / n_row
        if facing not in (0, 90, 180, 270):
            return (names if m.parts == 1 else []), None
        axis, sign = (1 if facing in (0, 180) else 0), (1 if facing in (0, 90) else -1)
        boxes = {n: self.hall.box(n) for n in names}
        front = max(sign * boxes[n][axis + (2 if sign > 0 else 0)] for n in names)
        back = min(sign * boxes[n][axis + (0 if sign > 0 else 2)] for n in names)
        inner = (low + 0.25 * (high - low), high - 0.25 * (high - low))
        found = []
        for n in names:
            ends = sorted((front - sign * boxes[n][axis + k]) / (front - back) for k in (0, 2))
            if ends[0] < inner[1] and inner[0] < ends[1]:
                found.append(n)
        return found, (axis if m.parts > 1 else None)

    def hold_seats(self):
        """Seats are off before their lift moves, and on when it stands."""
        for m in self.work:
            below = set(self.carried(m)[0])
            for o in self.moves:
                if not below & set(o.machines):
                    continue
                if m.kind == "strike" and o.start < m.end or m.kind == "set" and o.end > m.start:
                    self.say("seats", m, f"its lifts move from {o.start} s to {o.end} s")

    def hold_people(self):
        """Nobody works on seats beside a lift that moves, up or down to a pit."""
        for m in self.work:
            below, depth = self.carried(m)
            fill = self.blocks(m.kind).get(m.block, {}).get("fill")
            inside = set(cells(fill["from"], fill["to"])) if fill else set()
            for o in self.moves:
                if o.is_near or not o.runs_with(m) or not o.machines or "-" not in o.machines[0]:
                    continue
                for n in set(o.machines) - inside:
                    if any(self.is_side_by_side(n, b, depth) for b in below):
                        self.say("people", m, f"{n} moves beside")
                        break

    def is_side_by_side(self, a, b, depth):
        """Sections with an edge in common; not those before or behind a share's rows, for its seats may
        stand a tread away."""
        p, q = self.hall.box(a), self.hall.box(b)
        gap = max(p[0] - q[2], q[0] - p[2]), max(p[1] - q[3], q[1] - p[3])
        return max(gap) < BESIDE and min(gap) < -0.5 and gap.index(max(gap)) != depth

    def hold_rows(self):
        """No seat is in two moves of a kind, and rows with numbers say as many seats as the task does."""
        for m in self.work:
            if m.seats != int(m.row["seats"]) or not m.places:
                self.say("rows", m, "its name has no rows, or its count is not that of its task")
            for o in self.work:
                if o.number <= m.number or (o.block, o.kind) != (m.block, m.kind):
                    continue
                if any(a[0] == b[0] and a[1] <= b[2] and b[1] <= a[2] for a in m.places for b in o.places):
                    self.say("rows", m, f"shares seats with move {o.number}")
