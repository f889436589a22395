"""A small invented hall with one of everything: that of tests/faults with a crew, a stock of chairs, an
interlock, rules of its own, a second layout, one in feet, and a season of traffic."""

import os
import shutil

import hall

SMALL = os.path.join(hall.TOP, "tests", "faults", "hall")

CREW = """machines:
  crew:
    people: 6
    power_kw: 8
    rail_m_person_hour: 15
    rail_crew: 2
    seating:
      - {name: chair, kind: loose, set_seats_person_hour: 12, strike_seats_person_hour: 20, crew: 2,
         seat_kg: 8, stored: yes}
    store: {name: store lift, travel: 4, speed_ms: 0.2, seats_per_trip: 10, load_s: 120}
  interlocks:
    - {name: slide low, machine: T slide, while: T hoist, within: [0, 0.5]}
"""
SEASON = """format: gradin-traffic-1
units: m
name: three days (invented)
events: events.csv
performance: {start: "22:30", minutes: 120, voice: normal, background_nc: 15}
classes:
  - name: jet
    reference_distance: 300
    level_db: [82, 84, 85, 86, 86, 85, 84, 83, 83, 82, 81, 80, 80, 79, 78, 77, 75, 74, 72, 69, 65]
  - name: plant
    reference_distance: 1
    level_db: [78, 79, 80, 80, 79, 78, 77, 76, 75, 74, 73, 72, 71, 70, 68, 66, 64, 61, 58, 55, 51]
tracks:
  - name: over
    straight: {point: [-200, 0], altitude: 300, bearing_deg: 20, speed_ms: 80}
  - name: roof
    fixed: {at: [-20, 5], height: 12, duration_s: 300}
"""
EVENTS = """time,class,track,offset_db
2026-05-01T00:10:00,jet,over,-8
2026-05-01T22:45:00,jet,over,
2026-05-02T00:20:00,plant,roof,6
2026-05-02T09:00:00,jet,over,-12
2026-05-03T23:00:00,jet,over,-7.5
2026-05-03T23:20:00,jet,over,4
2026-05-03T23:40:00,plant,roof,24
"""
STREET = """name,x,y,z
pavement,-2,4,1.6
window,-9,3,5
roof,6,20,30
"""

FEET = """format: gradin-layout-1
units: ft
name: Layout in feet
venue: venue.yaml
brief: brief.yaml
overflight: pass.yaml
form: end_stage
axis_deg: 180
machines:
  lifts:
    - {from: L-A1, to: L-B2, height: 1.5, terrace: {steps: 2, riser: 0.5, facing_deg: 0}}
  towers: [{name: T, hoist: 1, slide: 0.5}]
  arch: {in: yes, opening: 20, trim: 14}
focus:
  - {name: stage, polygon: [[10, 30], [30, 30], [30, 36], [10, 36]]}
blocks:
  - {name: Stalls, on: lifts, seat_width: 1.7, row_depth: 3.2, fill: {from: L-A1, to: L-B2}}
rails:
  - {name: back, kind: bar, path: [[13.5, 6.8], [25.9, 6.8]], height: 3.6}
"""


def change(folder, name, old, new):
    path = os.path.join(folder, name)
    with open(path, encoding="utf-8") as source:
        text = source.read()
    if old not in text:
        raise AssertionError(f"{name} does not hold {old!r}")
    with open(path, "w", encoding="utf-8") as out:
        out.write(text.replace(old, new))


def write(folder, name, text):
    with open(os.path.join(folder, name), "w", encoding="utf-8") as out:
        out.write(text)


def make_hall(folder):
    shutil.copytree(SMALL, folder, dirs_exist_ok=True)
    shutil.copy(os.path.join(folder, "venue.yaml"), os.path.join(folder, "plain.yaml"))
    change(folder, "wishes.yaml", "venue: venue.yaml", "venue: plain.yaml")
    change(folder, "venue.yaml", "machines:\n", CREW)
    change(folder, "venue.yaml", "{rail_min: 0.8}", "{rail_min: 0.8, guard_drop: 0.3, "
           "row_seats_one_aisle: 5, row_seats_two_aisles: 7, exit_mm_person: 25}")
    change(folder, "venue.yaml", "speed_ms: 0.05}\n", "speed_ms: 0.05, load_limit: {spread_kn_m2: 4}}\n")
    change(folder, "venue.yaml", "hoist_speed_ms: 0.005\n", "hoist_speed_ms: 0.005\n"
           "      drive: {accel_ms2: 0.01, prepare_s: 60, power_kw: 3, crew: 2}\n")
    change(folder, "layout.yaml", "axis_deg: 180\n", "axis_deg: 180\naudience: {eye_distance: 0.063, "
           "population: {women: 0.5, men: 0.4, children: 0.1}}\n")
    shutil.copy(os.path.join(folder, "layout.yaml"), os.path.join(folder, "other.yaml"))
    change(folder, "other.yaml", "name: Small layout", "name: Another layout")
    change(folder, "other.yaml", "height: 0.5, terrace: {steps: 2, riser: 0.2,",
           "height: 0.3, terrace: {steps: 2, riser: 0.4,")
    change(folder, "other.yaml", "{name: T, hoist: 0, slide: 0}", "{name: T, hoist: 0.4, slide: 0.3}")
    change(folder, "other.yaml", "closed: 0.5", "closed: 1")
    write(folder, "feet.yaml", FEET)
    write(folder, "season.yaml", SEASON)
    write(folder, "events.csv", EVENTS)
    write(folder, "street.csv", STREET)
