"""Who does which move of a plan, by name, for plan_rules.py with no code of the engine."""


def people_of(text):
    """A1-A4, B2: each by name."""
    found = []
    for piece in filter(None, text.split(", ")):
        first, _, last = piece.partition("-")
        found += [f"{first[0]}{n}" for n in range(int(first[1:]), int((last or first)[1:]) + 1)]
    return found


class Gangs:
    def __init__(self, plan):
        self.plan = plan

    def hold_lift_people(self):
        """Who works the store lift besides, at each trip, is nowhere else."""
        needed = self.plan.hall.crew.get("store", {}).get("drive", {}).get("crew", 1)
        for m in self.plan.moves:
            groups = [people_of(x) for x in filter(None, m.row["store_people"].split("; "))]
            if [len(set(g)) for g in groups] != [needed] * len(m.trips) * (needed > 0):
                self.plan.say("gangs", m, f"'{m.row['store_people']}' for {len(m.trips)} trips")
                continue
            for start, group in zip(m.trips, groups):
                for o in self.plan.moves:
                    if o.start < start + self.plan.trip_s() and start < o.end and set(group) & set(people_of(o.row["people"])):
                        self.plan.say("gangs", m, f"who works the store lift at {start} s is in move {o.number}")

    def hold(self):
        """Each move has as many people by name as it takes, all of its gangs, and nobody is in two places."""
        self.hold_lift_people()
        for m in self.plan.moves:
            people = people_of(m.row["people"])
            if len(set(people)) != m.crew or {p[0] for p in people} != set(filter(None, m.row["gang"].split(", "))):
                self.plan.say("gangs", m, f"{m.row['people']} of {m.row['gang']} for {m.crew} people")
            for o in self.plan.moves:
                if o.number > m.number and o.runs_with(m) and set(people) & set(people_of(o.row["people"])):
                    self.plan.say("gangs", m, f"shares people with move {o.number}")
