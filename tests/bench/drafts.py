#!/usr/bin/python3
"""Drafts of every form and several counts in the demo's hall and in small halls of other kinds: one line per
draft with what a designer asks first. Exit 1 when any fails check, fit, its routes or its wanted count's status.

usage: drafts.py GRADIN [--out DIR] [--hall NAME]... [--form FORM]... [--seats COUNT]...

With --out the wishes, layouts and plans (as `fit --out` draws them) stay in DIR."""

import argparse
import collections
import csv
import json
import os
import re
import resource
import sys
import tempfile

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
sys.path[:0] = [os.path.join(TOP, "tests", "cli"), os.path.join(TOP, "tests", "support")]
import draft_halls  # noqa: E402
from hall import run  # noqa: E402

COLUMNS = ("hall", "form", "wanted", "exit", "seats", "poor", "fair", "check", "fit", "rows out",
           "places out", "dead ends", "behind", "lopsided", "cpu s")
WIDTHS = (9, 10, 6, 4, 5, 4, 4, 5, 5, 8, 10, 9, 6, 8, 6)


def routes_of(found):
    """(rows with a way, rows), (places with a way, places): towers and decks are not looked at."""
    looked = [r for r in found["routes"] if r["way"] != "not looked at"]
    rows = [r for r in looked if not r["wheelchair"]]
    places = [r for r in looked if r["wheelchair"]]
    return [f"{sum(r['way'] == 'out' for r in some)}/{len(some)}" for some in (rows, places)]


def seats_of(cwd, layout):
    code, _, err = run("assess", layout, "--out", "seen", "--quiet", "--no-maps", "--samples",
                       "16", cwd=cwd)
    if code != 0:
        raise SystemExit(err)
    with open(os.path.join(cwd, "seen", "seats.csv"), encoding="utf-8") as file:
        rows = csv.DictReader(line for line in file if not line.startswith("#"))
        return [(float(r["x_m"]), float(r["y_m"]), r["kind"], r["block"]) for r in rows]


def along_axis(axis, x, y):
    """(across, towards the stage's back) of a point, for the bearing that the stage faces."""
    return {0: (x, -y), 90: (y, -x), 180: (x, y), 270: (y, x)}[axis]


def count_behind(text, seats, axis):
    """Seats beyond the back of what is looked at."""
    corners = json.loads(re.search(r"name: stage, polygon: (.*), z:", text)[1])
    back = max(along_axis(axis, *corner)[1] for corner in corners)
    return sum(along_axis(axis, x, y)[1] > back + 0.02 for x, y, _, _ in seats)


def count_lopsided(text, seats, axis):
    """How far the two sides of the stage's axis differ, in places."""
    corners = json.loads(re.search(r"name: stage, polygon: (.*), z:", text)[1])
    across = [along_axis(axis, *corner)[0] for corner in corners]
    middle = (min(across) + max(across)) / 2
    sides = collections.Counter()
    for x, y, _, _ in seats:
        off = along_axis(axis, x, y)[0] - middle
        sides[off > 0] += abs(off) > 0.3
    return abs(sides[True] - sides[False])


def draft(cwd, name, wishes, wanted):
    """(the columns after `wanted`, is all well, what was said)"""
    with open(os.path.join(cwd, name + ".wishes.yaml"), "w", encoding="utf-8") as out:
        out.write(wishes)
    layout = name + ".yaml"
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    code, said, err = run("draft", name + ".wishes.yaml", "--out", layout, "--replace", cwd=cwd)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    cpu = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    if code == 2:
        return [2, *[""] * 10, f"{cpu:.1f}"], False, err
    rating = {k: int(v) for k, v in re.findall(r"(clear|good|fair|poor) (\d+)", said)}
    n = int(re.search(r"(\d+) places, of which", said)[1])
    check = run("check", layout, cwd=cwd)[0]
    fit, text, err = run("fit", layout, "--json", cwd=cwd)
    found = json.loads(text)
    run("fit", layout, "--out", name + ".fit", cwd=cwd)
    out = routes_of(found)
    is_out = all(part.split("/")[0] == part.split("/")[1] for part in out)
    with open(os.path.join(cwd, layout), encoding="utf-8") as source:
        text = source.read()
    axis = int(re.search(r"axis_deg: (\d+)", wishes)[1])
    seats = seats_of(cwd, layout)
    is_one_sided = "form: round" not in wishes and "form: traverse" not in wishes
    behind = count_behind(text, seats, axis) if is_one_sided else 0
    is_right = code == (0 if wanted == "most" or n >= wanted else 1)
    columns = [code, n, rating["poor"], rating["fair"], check, fit, *out, len(found["dead_ends"]), behind,
               count_lopsided(text, seats, axis), f"{cpu:.1f}"]
    return columns, is_right and (check, fit) == (0, 0) and is_out and behind == 0, said + err


def main():
    parse = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parse.add_argument("--out")
    parse.add_argument("--hall", action="append", choices=draft_halls.HALLS)
    parse.add_argument("--form", action="append", choices=draft_halls.FORMS)
    parse.add_argument("--seats", action="append")
    asked = parse.parse_args()
    with tempfile.TemporaryDirectory() as temporary:
        folder = asked.out or temporary
        print("  ".join(f"{c:>{w}}" for c, w in zip(COLUMNS, WIDTHS)))
        n_bad = 0
        for hall in asked.hall or draft_halls.HALLS:
            os.makedirs(folder, exist_ok=True)
            draft_halls.write_venue(folder, hall)
            for form, wanted, wishes in draft_halls.wishes_of(hall):
                if asked.form and form not in asked.form or asked.seats and str(wanted) not in asked.seats:
                    continue
                name = f"{hall}_{form}_{wanted}"
                columns, is_good, said = draft(folder, name, wishes, wanted)
                print("  ".join(f"{str(c):>{w}}" for c, w in zip((hall, form, wanted, *columns), WIDTHS)),
                      "" if is_good else " <-", flush=True)
                if columns[0] == 2:
                    print("   ", said.strip())
                with open(os.path.join(folder, name + ".txt"), "w", encoding="utf-8") as out:
                    out.write(said)
                n_bad += not is_good
    print(f"{n_bad} not as they should be")
    return n_bad > 0


if __name__ == "__main__":
    sys.exit(main())
