"""Halls and wishes that drafts are tried on: the demo's, and small invented ones of other kinds."""

import os
import re
import shutil

import drafting
from drafting import FORMS

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
HALLS = ["demo", "small"]


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


def write_venue(folder, hall):
    if hall == "demo":
        demo(folder)
        return
    with open(os.path.join(folder, hall + ".yaml"), "w", encoding="utf-8") as out:
        out.write(drafting.ROOM.format(**small()) + drafting.LIFTS.format(**small()))


def wishes_of(hall):
    return {"demo": demo_wishes, "small": small_wishes}[hall]()
