"""When a venue's crew works, minute by minute, from its YAML alone: shifts, meals and rests walked through one
minute after another, with no code of the engine. Times are seconds from the start of a plan."""

import datetime

DAY = 24 * 60


def minute_of_day(text):
    return int(text[:2]) * 60 + int(text[3:])


class Hours:
    def __init__(self, crew, start, minutes=14 * DAY):
        self.begin = datetime.datetime.fromisoformat(start)
        self.shifts = [(minute_of_day(s["from"]), minute_of_day(s["to"])) for s in crew.get("shifts", [])]
        self.rests = crew.get("breaks", [])
        self.works = self.walk(minutes)
        self.worked = [0]
        for is_work in self.works:
            self.worked.append(self.worked[-1] + is_work)

    def shifts_at(self, minute):
        found = set()
        for k, (first, last) in enumerate(self.shifts):
            if (minute - first) % DAY < ((last - first) % DAY or DAY):
                found.add(k)
        return found

    def walk(self, minutes):
        first = self.begin.hour * 60 + self.begin.minute
        works, since, left, stopped, before = [], [0] * len(self.rests), 0, 0, None
        for k in range(minutes):
            shifts = self.shifts_at((first + k) % DAY) if self.shifts else {0}
            if before is not None and not before & shifts:
                since = [0] * len(self.rests)
            before = shifts
            if not shifts:
                left = 0
            elif left == 0:
                left, due = 0, -1
                for i, rest in enumerate(self.rests):
                    is_due = since[i] >= rest["after_hours"] * 60 if "after_hours" in rest else \
                        (first + k) % DAY == minute_of_day(rest["at"])
                    if is_due and rest["minutes"] > left:
                        left, due = rest["minutes"], i
                if due >= 0:
                    stopped = left
            is_work = bool(shifts) and left == 0
            works.append(is_work)
            if is_work:
                since = [s + 1 for s in since]
            elif shifts:
                left -= 1
                if left == 0:
                    since = [0 if r["minutes"] <= stopped else s for r, s in zip(self.rests, since)]
        return works

    def is_work(self, second):
        return self.works[second // 60]

    def work_s(self, start, end):
        """Seconds worked in between."""
        def until(second):
            return self.worked[second // 60] * 60 + (second % 60) * self.works[second // 60]
        return until(end) - until(start)

    def clock_end(self, work_s):
        """When so much work is done."""
        low, high = 0, len(self.works) * 60 - 1
        while low < high:
            middle = (low + high) // 2
            low, high = (low, middle) if self.work_s(0, middle) >= work_s else (middle + 1, high)
        return low

    def stretches(self, start, end):
        """Stretches of work between, as (from, until)."""
        found = []
        for minute in range(start // 60, (end - 1) // 60 + 1):
            if not self.works[minute]:
                continue
            low, high = max(start, minute * 60), min(end, minute * 60 + 60)
            if found and found[-1][1] == low:
                found[-1] = (found[-1][0], high)
            else:
                found.append((low, high))
        return found
