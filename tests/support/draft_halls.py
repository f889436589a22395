"""Halls and wishes that drafts are tried on: the demo's, and small invented ones of other kinds."""

import os
import re
import shutil

import drafting
from drafting import FORMS

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
# Rooms without lifts: footprint, doors (start, bearing along, width), solids, bearing that the stage faces.
ROOMS = {
    "studio": ([[0, 0], [8, 0], [8, 12], [0, 12]], [([0.4, 0], 90, 1.8), ([0, 9.2], 0, 1.0)], "", 180),
    "hexagon": ([[5, 0], [15, 0], [20, 8.66], [15, 17.32], [5, 17.32], [0, 8.66]],
                [([6, 0], 90, 2.0), ([12, 0], 90, 2.0)], "", 180),
    "ell": ([[0, 0], [18, 0], [18, 8], [11, 8], [11, 16], [0, 16]],
            [([1, 0], 90, 1.8), ([14, 0], 90, 1.8)], "", 180),
    "fan": ([[6, 0], [14, 0], [20, 18], [0, 18]], [([1, 18], 90, 2.0), ([17, 18], 90, 2.0)], "", 0),
    "columns": ([[0, 0], [14, 0], [14, 18], [0, 18]], [([1, 0], 90, 2.0), ([11, 0], 90, 2.0)],
                "\n    - {name: A, kind: column, centre: [2.6, 9], diameter: 0.4, bottom: 0, top: 6}"
                "\n    - {name: B, kind: column, centre: [11.4, 9], diameter: 0.4, bottom: 0, top: 6}", 180)}
HALLS = ["demo", "small", *ROOMS]
ROOM = """format: gradin-venue-1
units: m
name: {name} (invented)
room:
  footprint: {footprint}
  ceiling: 6
  absorption:
    floor: [0.1, 0.1, 0.1, 0.1, 0.1, 0.1]
    ceiling: [0.3, 0.3, 0.3, 0.3, 0.3, 0.3]
    walls: [0.2, 0.2, 0.2, 0.2, 0.2, 0.2]
    seating: [0.6, 0.7, 0.8, 0.9, 0.9, 0.8]
  local_rules: {{rail_min: 0.9, guard_drop: 0.6, row_seats_one_aisle: 7, row_seats_two_aisles: 14,
                exit_mm_person: 5}}
  solids: [{solids}]
facade:
  buildups: [{{name: leaf, layers: [{{glass_mm: 10}}]}}]
  doors:
"""
DOOR = """    - {{name: door {number}, start: {start}, bearing_deg: {bearing}, width: {width}, height: 2.2, sill: 0,
       buildup: leaf, joint_r_db: 38}}
"""
STAGES = {"end_stage": (5, 3, 0.4), "thrust": (3, 3.6, 0.4), "round": (3.6, 3.6, 0), "traverse": (5, 2.4, 0),
          "flat_floor": (5, 3, 0)}


def demo(folder):
    for name in os.listdir(os.path.join(TOP, "demo")):
        if name.endswith((".yaml", ".csv")):
            shutil.copy(os.path.join(TOP, "demo", name), folder)


def demo_wishes():
    for form in FORMS:
        with open(os.path.join(TOP, "demo", "wishes", form + ".yaml"), encoding="utf-8") as source:
            text = source.read().replace("../", "")
        for wanted in (200, 400, "most"):
            yield form, wanted, "axis_deg: 180\n" + re.sub(r"seats: \d+", f"seats: {wanted}", text)


def small():
    """A hall of 36 lifts, each of three treads."""
    venue, _, _ = drafting.trial(0)
    venue.update(side=2.7, columns=6, rows=6, width=6 * 2.7 + 8, depth=6 * 2.7 + 8, x=4, y=4, ceiling=9,
                 one=11, two=22, steps=3, high=4, riser=0.6, door=4, door_x=1, exit_mm=5, guard_drop=0.6,
                 rail_min=0.8)
    return venue


def small_wishes():
    _, wishes, _ = drafting.trial(0)
    for form in FORMS:
        wishes.update(form=form, axis=180, stage_width=5.4, stage_depth=5.4, stage_height=0.9, inset=0.4,
                      c=0.06, seat=0.52, row=0.9, aisle=1.04, towers="no")
        for wanted in (60, 110, "most"):
            text = drafting.WISHES.format(**dict(wishes, seats=wanted))
            yield form, wanted, text.replace("venue.yaml", "small.yaml")


def room(hall):
    footprint, doors, solids, _ = ROOMS[hall]
    text = ROOM.format(name=hall.capitalize(), footprint=footprint, solids="")
    text = text.replace("  solids: []\n", "  solids:" + solids + "\n" if solids else "")
    for number, (start, bearing, width) in enumerate(doors):
        text += DOOR.format(number=number + 1, start=start, bearing=bearing, width=width)
    return text


def room_wishes(hall):
    _, wishes, _ = drafting.trial(0)
    for form in FORMS:
        width, depth, height = STAGES[form]
        wishes.update(form=form, axis=ROOMS[hall][3], stage_width=width, stage_depth=depth, stage_height=height,
                      inset=0.4, c=0.06, seat=0.52, row=0.9, aisle=1.04, towers="no")
        platforms = "" if form == "flat_floor" else "platforms: {step: 0.2, highest: 3}\n"
        for wanted in (40, 60, "most"):
            text = drafting.WISHES.format(**dict(wishes, seats=wanted)) + platforms
            yield form, wanted, text.replace("venue.yaml", hall + ".yaml")


def write_venue(folder, hall):
    if hall == "demo":
        demo(folder)
        return
    with open(os.path.join(folder, hall + ".yaml"), "w", encoding="utf-8") as out:
        out.write(room(hall) if hall in ROOMS else
                  drafting.ROOM.format(**small()) + drafting.LIFTS.format(**small()))


def wishes_of(hall):
    return room_wishes(hall) if hall in ROOMS else {"demo": demo_wishes, "small": small_wishes}[hall]()
