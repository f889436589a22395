"""An invented venue with as many lifts and towers as one likes, and two layouts: chairs on a flat floor, and rows on
lifts that rise before a stage, with towers beside them. One changeover of it, timed and held against its rules."""

import json
import os
import resource

import hall
import plan_rules

VENUE = """format: gradin-venue-1
units: m
name: Hall of {n_lift} lifts and {n_tower} towers (invented)
room:
  footprint: [[0, 0], [{width}, 0], [{width}, {depth}], [0, {depth}]]
  ceiling: 9
  absorption:
    floor: [0.1, 0.1, 0.1, 0.1, 0.1, 0.1]
    ceiling: [0.3, 0.3, 0.3, 0.3, 0.3, 0.3]
    walls: [0.2, 0.2, 0.2, 0.2, 0.2, 0.2]
    seating: [0.6, 0.7, 0.8, 0.9, 0.9, 0.8]
  local_rules: {{rail_min: 0.8}}
machines:
  lifts:
    - {{name: A, origin: [4, 4], columns: {columns}, rows: {rows}, size: [2, 2], travel: [-2, 4], speed_ms: 0.05,
       drive: {{accel_ms2: 0.05, prepare_s: 120, power_kw: 4, crew: 2, at_once: 6}}}}
{towers}  crew:
    people: 14
    power_kw: 40
    seating:
      - {{name: chair, kind: loose, set_seats_person_hour: 30, strike_seats_person_hour: 45, crew: 4, seat_kg: 6,
         stored: yes}}
    store: {{name: store lift, travel: 4, speed_ms: 0.15, seats_per_trip: 40, load_s: 180,
            drive: {{crew: 0, power_kw: 10}}}}
{interlocks}"""
TOWER = """    - name: {name}
      front: [{x}, {y}]
      facing_deg: {facing}
      width: 1.8
      depth: 1.2
      hoist: [0, 4]
      hoist_speed_ms: 0.005
      slide: {{bearing_deg: {facing}, range: [0, 0.5], speed_ms: 0.02, drive: {{accel_ms2: 0.01, prepare_s: 300, crew: 2, power_kw: 2}}}}
      drive: {{accel_ms2: 0.002, prepare_s: 600, crew: 2, power_kw: 3}}
      levels:
        - {{name: low, deck: 1, thickness: 0.2, rows: 1, row_depth: 0.9, riser: 0, seat_width: 0.55,
           rail: {{kind: bar, height: 1.2}}}}
"""
INTERLOCK = "    - {{name: {0} slides only low, machine: {0} slide, at: [0.05, 0.5], while: {0} hoist, within: [0, 0.6]}}\n"
LAYOUT = """format: gradin-layout-1
units: m
name: {name}
venue: venue.yaml
form: end_stage
axis_deg: 180
machines:
  lifts:
{lifts}{towers}focus:
  - {{name: stage, polygon: [[4, {near}], [{east}, {near}], [{east}, {far}], [4, {far}]], z: {z}}}
blocks:
{blocks}"""
ON_FLOOR = """  - name: Chairs
    stands_on: floor
    seat_width: 0.5
    row_depth: 1.0
    straight: {{front: [{middle}, {front}], facing_deg: 0, rows: {rows}, seats: {seats}}}
"""
ON_LIFTS = """  - name: Rank {number}
    stands_on: lifts
    seat_width: 0.5
    row_depth: 1.0
    fill: {{from: A-A{number}, to: A-{last}{number}, facing_deg: 0}}
"""


def tower_names(n):
    return [f"T{k + 1}" for k in range(n)]


def tower_at(k, width):
    """Half of them along each side."""
    x, facing = ((2, 90), (width - 2, 270))[k % 2]
    return {"x": x, "y": 4 + 2 * (k // 2) + 1, "facing": facing}


def height_of(column, rank, columns, rows):
    """Ranks rise to the back, and to both sides, so that few lifts go the same way."""
    return 0.3 * (rows - 2 - rank) + 0.05 * int(abs(column - (columns - 1) / 2))


def write(folder, columns, rows, n_tower):
    """venue.yaml, flat.yaml, raised.yaml: the two northern ranks of the lifts are the stage."""
    width, depth, names = 2 * columns + 8, 2 * rows + 8, tower_names(n_tower)
    last, east, near, far = chr(64 + columns), 4 + 2 * columns, 2 * rows, 2 * rows + 4
    towers = "".join(TOWER.format(name=n, **tower_at(k, width)) for k, n in enumerate(names))
    interlocks = "".join(map(INTERLOCK.format, names))
    venue = VENUE.format(n_lift=columns * rows, n_tower=n_tower, width=width, depth=depth, columns=columns, rows=rows,
                         towers="  towers:\n" + towers if towers else "",
                         interlocks="  interlocks:\n" + interlocks if interlocks else "")
    ranks = [f"    - {{from: A-{chr(65 + c)}{r}, height: {height_of(c, r, columns, rows):.2f}}}\n"
             for r in range(1, rows - 1) for c in range(columns)]
    ranks.append(f"    - {{from: A-A{rows - 1}, to: A-{last}{rows}, height: 0.9}}\n")
    seated = "".join(f"    - {{name: {n}, hoist: {(2, 0.5)[k % 2]}, slide: {(0, 0.3)[k % 2]}}}\n"
                     for k, n in enumerate(names))
    common = {"east": east, "near": near, "far": far}
    flat = LAYOUT.format(name="Flat", lifts="    - {from: A-A1, height: 0}\n", towers="", z=0, **common,
                         blocks=ON_FLOOR.format(middle=width / 2, front=near - 2, rows=rows, seats=3 * columns))
    raised = LAYOUT.format(name="Raised", lifts="".join(ranks), z=0.9, **common,
                           towers="  towers:\n" + seated if seated else "",
                           blocks="".join(ON_LIFTS.format(number=r, last=last) for r in range(1, rows - 1)))
    for name, text in (("venue", venue), ("flat", flat), ("raised", raised)):
        with open(os.path.join(folder, f"{name}.yaml"), "w", encoding="utf-8") as out:
            out.write(text)


def change(folder, one, two, *more):
    """One changeover: exit status, its words, its figures, its broken rules, processor time."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    code, said, err = hall.run("changeover", f"{one}.yaml", f"{two}.yaml", "--out", "plan", *more, cwd=folder)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    cpu_s = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    if code:
        return {"code": code, "said": said + err, "cpu_s": cpu_s}
    rows = plan_rules.read_moves(os.path.join(folder, "plan", "moves.csv"))
    with open(os.path.join(folder, "plan", "changeover.json"), encoding="utf-8") as source:
        plan = json.load(source)
    files = [plan_rules.load(os.path.join(folder, f"{name}.yaml")) for name in ("venue", one, two)]
    return {"code": code, "said": said, "cpu_s": cpu_s, "plan": plan, "rows": rows,
            "complaints": plan_rules.Plan(*files, rows).complaints()}


def gap_percent(plan):
    return 100 * (plan["work_s"] - plan["lower_bound_s"]) / plan["lower_bound_s"]
