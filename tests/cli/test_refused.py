#!/usr/bin/python3
"""Bad input, one change at a time to a small hall: exit status 2, nothing on stdout, and a line that
names the file and what is wrong. The same change just inside the limit is accepted. A test of the
rules that the files' readers and the checks of a layout state; unit tests pin the exact lines."""

import os
import shutil
import tempfile
import unittest

import hall
import small
from hall import plain

STALLS = "    fill: {from: L-A1, to: L-B2}\n"
ARC = "    curved: {centre: [8, 6], radius: 6, from_deg: 255, to_deg: 267, rows: 1}\n"
CRATE = "polygon: [[7, 8.5], [7.5, 8.5], [7.5, 8.9], [7, 8.9]], bottom: 0, top: 0.6"
OVER_PLACES = "polygon: [[6.3, 1], [6.7, 1], [6.7, 1.4], [6.3, 1.4]], "
PLACES = "    straight: {front: [6, 1.2], facing_deg: 0, rows: 1, seats: 2}\n"
GALLERY = ("  - {name: gallery, kind: slab, polygon: [[9, 9], [EAST, 9], [EAST, 10.5], [9, 10.5]], bottom: 3,"
           " top: 3.2}\n")
SEASON = small.SEASON.replace("  - name: plant\n    reference_distance: 1\n", "  - {name: plant, "
                              "reference_distance: 1,\n").replace("58, 55, 51]", "58, 55, 51]}")
LIFTS = ("    - {from: L-A1, to: L-B2, height: 0.5, terrace: {steps: 2, riser: 0.2, facing_deg: 0}}\n"
         "  towers:\n    - {name: T, hoist: 0, slide: 0}\n")


def lifts(front, hoist, slide):
    """Settings of the section beside the tower, which is flat, and of the tower."""
    return (f"    - {{from: L-A1, to: L-A2, height: 0.5, terrace: {{steps: 2, riser: 0.2, facing_deg: 0}}}}\n"
            f"    - {{from: L-B2, height: 0.5, terrace: {{steps: 2, riser: 0.2, facing_deg: 0}}}}\n"
            f"    - {{from: L-B1, height: {front}, terrace: {{steps: 2, riser: 0, facing_deg: 0}}}}\n"
            f"  towers:\n    - {{name: T, hoist: {hoist}, slide: {slide}}}\n")


CLASSES = SEASON[SEASON.index("classes:"):SEASON.index("tracks:")]
EVENTS = small.EVENTS[small.EVENTS.index("\n") + 1:]
DEAF = "{name: plant, reference_distance: 1,"
CHECKED = {"season": "season.yaml", "season2": "season.yaml", "events": "season.yaml", "wishes": "wishes.yaml"}
LEVEL = "        - {name: low, deck: 1, thickness: 0.2, rows: 2,"

# what it is, file, passage, its replacement, what the line says (None: accepted)
CHANGES = [
    # blocks
    ("a span backwards", "layout", "to_deg: 267", "to_deg: 250",
     "must be more than from_deg by at most 360"),
    ("a span of nothing", "layout", "to_deg: 267", "to_deg: 255",
     "must be more than from_deg by at most 360"),
    ("more than a turn", "layout", "from_deg: 255, to_deg: 267", "from_deg: 0, to_deg: 361",
     "must be more than from_deg by at most 360"),
    ("two ways to place rows", "layout", ARC, ARC + STALLS,
     "needs exactly one of straight, curved, fill, file"),
    ("no way to place rows", "layout", ARC, "", "needs exactly one of straight, curved, fill, file"),
    ("a list of lists", "layout", "file: seats.csv", "file: [seats.csv]",
     "must be the name of a seat list"),
    ("a depth per row without rows", "layout", "row_depth: 1.0", "row_depth: [1.0]",
     "must be one number here"),
    ("a depth per row", "layout", "row_depth: 1.2", "row_depth: [1.2]", None),
    ("a depth of 0.4 m", "layout", "row_depth: 1.2", "row_depth: 0.4", None),
    ("less than 0.4 m deep", "layout", "row_depth: 1.2", "row_depth: 0.39", "allowed: 0.4 to 5"),
    ("a riser in a list of seats", "layout", "    file: seats.csv", "    riser: 0.2\n    file: seats.csv",
     "goes with straight or curved rows"),
    ("a riser on lifts", "layout", STALLS, "    riser: 0.2\n" + STALLS,
     "goes with straight or curved rows"),
    ("a base on lifts", "layout", STALLS, "    base: 0.2\n" + STALLS,
     "stands on lifts: their treads give the heights; leave out base, riser and slope"),
    ("lift sections under a block on the floor", "layout", ARC, STALLS, "fills lift sections; write"),
    ("a place of no kind", "layout", "[wheelchair, companion]", "[wheelchair, friend]",
     "is no place; allowed: seat, wheelchair, companion"),
    ("no pattern", "layout", "[wheelchair, companion]", "[]", "has 0 places; 1 to 16 are allowed"),
    ("sections from right to left", "layout", STALLS, "    fill: {from: L-B1, to: L-A2}\n",
     "must be in the same grid as 'from', not left of it or below it"),
    ("sections from back to front", "layout", STALLS, "    fill: {from: L-A2, to: L-B1}\n",
     "must be in the same grid as 'from', not left of it or below it"),
    ("a block that faces another way", "layout", STALLS,
     "    fill: {from: L-A1, to: L-B2, facing_deg: 90}\n", "which faces 0 deg while the block faces 90 deg"),
    ("no seat at all", "layout", None, None, "the layout has no seat"),
    # settings
    ("a section set twice", "layout", "  towers:\n", "    - {from: L-A1, height: 0}\n  towers:\n",
     "sets L-A1 again; first in line 12"),
    ("a pane that opens", "layout", "  shades:\n", "  doors: [{name: west, open: 1}]\n  shades:\n",
     "'west' is no door"),
    ("a door that opens", "layout", "  shades:\n", "  doors: [{name: door, open: 1}]\n  shades:\n", None),
    ("a slide beyond its way", "layout", "slide: 0}", "slide: 3.01}",
     "T would be at 3.010 m; its travel is 0.000 to 3.000 m"),
    ("an opening too wide", "layout", "opening: 8", "opening: 10.1",
     "arch would be at 10.100 m; its travel is 4.000 to 10.000 m"),
    ("an opening too low", "layout", "trim: 5", "trim: 2.9",
     "arch would be at 2.900 m; its travel is 3.000 to 6.000 m"),
    ("an arch out of the way", "layout", "in: yes, opening: 8, trim: 5", "in: no", None),
    # solids, room
    ("a solid upside down", "layout", "bottom: 0, top: 0.6", "bottom: 0.7, top: 0.6",
     "must be above bottom"),
    ("a solid of no height", "layout", "bottom: 0, top: 0.6", "bottom: 0.6, top: 0.6",
     "must be above bottom"),
    ("a solid both round and not", "layout", CRATE, CRATE + ", centre: [7, 8.5], diameter: 0.5",
     "needs either polygon, or centre and diameter"),
    ("a solid of no shape", "venue", "centre: [2, 7], diameter: 0.4, ", "",
     "needs either polygon, or centre and diameter"),
    ("a centre without a diameter", "venue", "centre: [2, 7], diameter: 0.4, ", "centre: [2, 7], ",
     "needs either polygon, or centre and diameter"),
    ("seven octaves", "venue", "walls: [0.2, 0.2, 0.2, 0.2, 0.2, 0.2]",
     "walls: [0.2, 0.2, 0.2, 0.2, 0.2, 0.2, 0.2]",
     "has 7 values; 6 octaves 125-4000 Hz or 21 thirds 50-5000 Hz are needed"),
    ("no absorption of walls", "venue", "    walls: [0.2, 0.2, 0.2, 0.2, 0.2, 0.2]\n", "",
     "room.absorption.walls: is missing"),
    # a place below the floor stands on a stated slab or nowhere; what ends at a wall may be drawn 0.02 m
    # into it, and a column may stand in it
    ("a block below the floor", "layout", PLACES, "    base: -3\n" + PLACES,
     "Places row 1 seat 1 stands 3.00 m below the floor, and no slab is stated under it"),
    ("an eye at the knees", "layout", PLACES, "    base: -0.85\n" + PLACES, "stands 0.85 m below the floor"),
    ("a block at the floor", "layout", PLACES, "    base: -0.004\n" + PLACES, None),
    ("a slab through the wall", "layout", "solids:\n", "solids:\n" + GALLERY.replace("EAST", "12.5"),
     "solids[1].polygon: gallery reaches outside the room's footprint; end it at the wall"),
    ("a set piece through the wall", "layout", "solids:\n",
     "solids:\n" + GALLERY.replace("EAST", "12.5").replace("slab", "set"),
     "solids[1].polygon: gallery reaches outside the room's footprint"),
    ("a slab at the wall", "layout", "solids:\n", "solids:\n" + GALLERY.replace("EAST", "12.01"), None),
    ("a wall in the wall", "layout", "solids:\n",
     "solids:\n" + GALLERY.replace("EAST", "12.5").replace("slab", "wall"), None),
    ("a venue's slab through the wall", "venue", "  solids:\n",
     "  solids:\n  " + GALLERY.replace("EAST", "12.5"), "room.solids[1].polygon: gallery reaches outside"),
    ("a column outside", "venue", "centre: [2, 7]", "centre: [12.3, 7]",
     "column stands outside the room's footprint"),
    ("a column in the wall", "venue", "centre: [2, 7]", "centre: [12, 7]", None),
    # machines
    ("rows deeper than the tower", "venue", "depth: 1.8", "depth: 1.79",
     "do not fit: front + rows x row_depth is more than the tower's depth"),
    ("a deck no higher than the one below", "venue", LEVEL,
     LEVEL.replace("low", "lower") + " row_depth: 0.9, riser: 0.3, seat_width: 0.55}\n" + LEVEL,
     "must be above the level before it"),
    ("an opening wider than its line", "venue", "opening: [4, 10]", "opening: [4, 12.1]",
     "is wider than the line that carries the arch"),
    ("an arch on three points", "venue", "line: [[0, 8], [12, 8]]", "line: [[0, 8], [6, 8], [12, 8]]",
     "has 3 points; 2 are needed"),
    ("an acceleration beside a time", "venue", "close_s: 90",
     "close_s: 90, drive: {accel_ms2: 0.1}", "does not go with a time from end to end, which holds it"),
    ("a grid outside the room", "venue", "origin: [4, 2]", "origin: [8.1, 2]",
     "lifts L reach outside the room's footprint"),
    ("two grids at one place", "venue", "  towers:\n",
     "    - {name: M, origin: [7.9, 5.9], columns: 1, rows: 1, size: [1, 1], travel: [0, 1],\n"
     "       speed_ms: 0.05}\n  towers:\n", "lifts M overlap lifts L"),
    ("two machines of one name", "venue", "name: door, start", "name: T hoist, start",
     "two machines are named 'T hoist'"),
    ("more rail crew than people", "venue", "machines:\n",
     "machines:\n  crew: {people: 4, rail_crew: 5}\n", "takes 5 people; the venue's crew has 4"),
    ("as many rail crew as people", "venue", "machines:\n",
     "machines:\n  crew: {people: 4, rail_crew: 4}\n", None),
    # facade
    ("a build-up of nothing", "venue", "      layers: [{glass_mm: 6}, {gap_mm: 16}, {glass_mm: 8}]\n",
     "      report: invented\n", "needs layers, the name of a file under measured, both, or a generic construction"),
    ("a pane above the ceiling", "venue", "height: 3, sill: 1", "height: 7.01, sill: 1",
     "west reaches above the ceiling"),
    ("measured values without a head", "door", "band_hz,r_db\n", "band_hz;r_db\n",
     "the first line must be band_hz,r_db"),
    ("a band that is no third", "door", "\n250,30\n", "\n255,30\n",
     "band is no nominal one-third octave from 50 to 5000 Hz"),
    ("a band twice", "door", "\n250,30\n", "\n250,30\n250,30\n", "band stands twice"),
    ("a value beyond reason", "door", "\n250,30\n", "\n250,120.1\n", "r_db must lie between -5 and 120 dB"),
    ("a negative value beyond reason", "door", "\n250,30\n", "\n250,-5.1\n",
     "r_db must lie between -5 and 120 dB"),
    ("values at their ends", "door", "\n250,30\n315,31\n", "\n250,-5\n315,120\n", None),
    ("words for values", "door", "\n250,30\n", "\n250,loud\n", "needs two numbers: band_hz,r_db"),
    ("a line without a comma", "door", "\n250,30\n", "\n250\n", "needs two numbers: band_hz,r_db"),
    ("a band left out", "door", "\n250,30\n", "\n", "lacks the band 250 Hz"),
    ("a pane off its wall", "venue", "start: [0, 2]", "start: [0.051, 2]",
     "does not lie on an edge of the room's footprint"),
    ("a pane on its wall", "venue", "start: [0, 2]", "start: [0.049, 2]", None),
    # places: who sits needs 1.3 m, what is up to 0.05 m high is no obstacle, neighbours may touch by
    # 0.04 m, and a place may reach 0.03 m over a step
    ("a set piece at the head", "layout", CRATE, OVER_PLACES + "bottom: 1.29, top: 2",
     "stands inside crate"),
    ("a set piece overhead", "layout", CRATE, OVER_PLACES + "bottom: 1.31, top: 2", None),
    ("a plinth under a place", "layout", CRATE, OVER_PLACES + "bottom: 0, top: 0.051",
     "stands inside crate"),
    ("a cloth under a place", "layout", CRATE, OVER_PLACES + "bottom: 0, top: 0.049", None),
    ("seats into each other", "seats", "1,2,10.5,", "1,2,9.955,", "overlaps Loose row 1 seat"),
    ("seats that touch", "seats", "1,2,10.5,", "1,2,9.965,", None),
    ("a place over a step", "layout", "front: [6, 1.2]", "front: [6, 1.435]",
     "stands over an edge between two heights"),
    ("a place up to a step", "layout", "front: [6, 1.2]", "front: [6, 1.425]", None),
    ("a place into the wall", "layout", "front: [6, 1.2]", "front: [6, 0.29]",
     "lies outside the room's footprint"),
    ("a place at the wall", "layout", "front: [6, 1.2]", "front: [6, 0.31]", None),
    # a tower beside lifts: they may touch by 0.02 m; its lower deck is 0.8 to 1 m over its hoist
    ("a tower into a lift", "layout", LIFTS, lifts("0.9", "0", "2.021"),
     "machines clash: T low meets L-B1 between 0.80 m and 0.90 m"),
    ("a tower at a lift", "layout", LIFTS, lifts("0.9", "0", "2.019"), None),
    ("a deck into a lift", "layout", LIFTS, lifts("0.821", "0", "2.5"), "machines clash: T low meets L-B1"),
    ("a tower through the wall", "venue", "front: [10, 4]", "front: [10.21, 4]",
     "machines clash: T low stands outside the room's footprint"),
    ("a tower at the wall", "venue", "front: [10, 4]", "front: [10.19, 4]", None),
    # brief
    ("limits that get stricter", "brief", "visible_min: [0.95, 0.85, 0.66]",
     "visible_min: [0.95, 0.85, 0.86]", "must run from the strictest to the mildest limit"),
    ("limits that start mild", "brief", "distance_max: [15, 20, 25]", "distance_max: [21, 20, 25]",
     "must run from the strictest to the mildest limit"),
    ("a file cut off behind its head", "brief", hall.read_bytes(small.SMALL)["brief.yaml"].decode().split("drama\n")[1], "",
     "states neither rating nor noise"),
    ("limits that stay", "brief", "distance_max: [15, 20, 25]", "distance_max: [20, 20, 20]", None),
    # traffic
    ("no class", "season", CLASSES, "classes: []\n", "has 0 classes; 1 to"),
    ("a level too few", "season", "[78, 79, 80, ", "[79, 80, ", "needs 21 thirds 50-5000 Hz or 7 octaves 63-4000 Hz"),
    ("a level beyond reason", "season", "[78, 79, 80, ", "[180.1, 79, 80, ", "allowed: -50 to 180"),
    ("half past six in words", "season", '"22:30"', '"half six"', "must be a time of day, \"hh:mm\""),
    ("a time without its colon", "season", '"22:30"', '"22.30"', "must be a time of day"),
    ("hour 24", "season", '"22:30"', '"24:00"', "must be a time of day"),
    ("minute 60", "season", '"22:30"', '"22:60"', "must be a time of day"),
    ("the last minute of a day", "season", '"22:30"', '"23:59"', None),
    ("a track of two kinds", "season", "    fixed: {at", "    file: t.csv\n    fixed: {at",
     "needs one of file, straight and fixed"),
    ("a track of no kind", "season", "    fixed: {at: [-20, 5], height: 12, duration_s: 300}\n", "",
     "needs one of file, straight and fixed"),
    ("a track lower than the roofs", "season", "altitude: 300", "altitude: 19.9", "allowed: 20 to 20000"),
    ("a class of no place", "season", DEAF, DEAF + " directivity: {groups: [{angle_deg: [0, 180], gain_db: "
     "[0, -3]}]},", "keeps its place, and class plant has a directivity; write fixed with bearing_deg"),
    ("a class that has a bearing", "season2", DEAF, DEAF + " directivity: {groups: [{angle_deg: [0, 180], "
     "gain_db: [0, -3]}]},", None),
    ("angles that stop short", "season2", DEAF, DEAF + " directivity: {groups: [{angle_deg: [0, 170], "
     "gain_db: [0, -3]}]},", "angles must run from 0 to 180"),
    ("angles that go back", "season2", DEAF, DEAF + " directivity: {groups: [{angle_deg: [0, 90, 80, 180], "
     "gain_db: [0, 0, 0, -3]}]},", "angles must rise"),
    ("bands left out", "season2", DEAF, DEAF + " directivity: {groups: [{to_hz: 2000, angle_deg: [0, 180], "
     "gain_db: [0, -3]}]},", "the band 2500 Hz is in 0 groups; each band needs one"),
    ("bands twice", "season2", DEAF, DEAF + " directivity: {groups: [{angle_deg: [0, 180], gain_db: [0, -3]}, "
     "{from_hz: 4000, angle_deg: [0, 180], gain_db: [0, -3]}]},",
     "the band 4000 Hz is in 2 groups; each band needs one"),
    ("no directivity in it", "season2", DEAF, DEAF + " directivity: {level_is_mean: yes},",
     "needs one of groups and file"),
    ("no event", "events", EVENTS, "", "holds no event"),
    ("an event of no class", "events", "plant,roof,6", "plane,roof,6", "unknown class"),
    ("an event on no track", "events", "plant,roof,6", "plant,floor,6", "unknown track"),
    ("an offset beyond reason", "events", "plant,roof,6", "plant,roof,30.1",
     "offset_db must be empty or a number from -30 to 30"),
    ("a low offset beyond reason", "events", "plant,roof,6", "plant,roof,-30.1",
     "offset_db must be empty or a number from -30 to 30"),
    ("offsets at their ends", "events", "plant,roof,6\n2026-05-02T09:00:00,jet,over,-12",
     "plant,roof,30\n2026-05-02T09:00:00,jet,over,-30", None),
    ("a cell too few", "events", "plant,roof,6", "plant,roof", "needs time,class,track,offset_db"),
    ("a cell too many", "events", "plant,roof,6", "plant,roof,6,7", "needs time,class,track,offset_db"),
    ("a day that is none", "events", "2026-05-03T23:00:00", "2026-02-29T23:00:00",
     "the time must be YYYY-MM-DDThh:mm:ss, local"),
    ("a leap day", "events", "2026-05-03T23:00:00", "2028-02-29T23:00:00", "a year from the other events"),
    ("a century without one", "events", "2026-05-03T23:00:00", "2100-02-29T23:00:00",
     "the time must be YYYY-MM-DDThh:mm:ss, local"),
    ("the century with one", "events", "2026-05-03T23:00:00", "2000-02-29T23:00:00", "a year from the other events"),
    ("month 13", "events", "2026-05-03T23:00:00", "2026-13-03T23:00:00", "the time must be"),
    ("day 0", "events", "2026-05-03T23:00:00", "2026-05-00T23:00:00", "the time must be"),
    ("hour 24 of an event", "events", "2026-05-03T23:00:00", "2026-05-03T24:00:00", "the time must be"),
    ("a blank for the T", "events", "2026-05-03T23:00:00", "2026-05-03 23:00:00", "the time must be"),
    ("a time without seconds", "events", "2026-05-03T23:00:00", "2026-05-03T23:00", "the time must be"),
    ("columns in another order", "events", "time,class,track", "class,time,track",
     "the first line must be time,class,track,offset_db"),
    # wishes
    ("an axis askew", "wishes", "axis_deg: 180", "axis_deg: 45", "must be 0, 90, 180 or 270"),
    ("an axis all round", "wishes", "axis_deg: 180", "axis_deg: 360", "must be 0, 90, 180 or 270"),
    ("a tower of a list", "wishes", "towers: [T]", "towers: [[T]]", "must be the name of a tower"),
    ("a tower that is none", "wishes", "towers: [T]", "towers: [U]", "unknown tower 'U'; allowed: T"),
    ("perhaps towers", "wishes", "towers: [T]", "towers: perhaps", "must be yes, no or a list of towers"),
    ("all towers", "wishes", "towers: [T]", "towers: yes", None),
    ("half a seat", "wishes", "seats: 10", "seats: 10.5", "must be a whole number up to "),
    ("most seats", "wishes", "seats: 10", "seats: most", None),
    ("fewer than no places", "wishes", "wheelchairs: 1", "wheelchairs: -1",
     "must be a whole number up to 1000, or 'by table'"),
    ("places by table", "wishes", "wheelchairs: 1", "wheelchairs: by table", None),
    ("a seat too narrow", "wishes", "seat_width: 0.5", "seat_width: 0.39", "allowed: 0.4 to 1.5"),
    ("a key that is a list", "layout", "axis_deg: 180", "[axis_deg]: 180", "has a key that is not plain text"),
    ("a name of 201 characters", "layout", "name: Small layout", "name: " + "n" * 201,
     "is empty or longer than 200 characters"),
    ("a name of 200 characters", "layout", "name: Small layout", "name: " + "n" * 200, None),
    ("a name that is turned around", "layout", "name: Small layout", 'name: "a\\u202Eb"', "holds a control character, a mark of direction"),
    ("a name that does not show", "layout", "name: Small layout", 'name: "a\\u200Bb"', "or a character that does not show"),
    ("an empty name", "layout", "name: Small layout", 'name: ""', "is empty or longer than 200 characters"),
]

CHANGEOVER = ["changeover", "layout.yaml", "other.yaml", "--quiet"]
DRAFT = ["draft", "wishes.yaml", "--out", "drafted.yaml", "--quiet"]
RAKE = ["rake", "layout.yaml", "--c", "0.06", "--out", "out", "--quiet", "--block"]
STOCK = small.CREW[small.CREW.index("    seating:"):small.CREW.index("    store")]
DOORS = ("  doors:\n    - {name: door, start: [4, 0], bearing_deg: 90, width: 1, height: 2, sill: 0, buildup: "
         "door leaf, joint_r_db: 40}\n")


def stage(was, now, form="end_stage"):
    """Changes of the wishes' stage and form."""
    return [("wishes", was, now), ("wishes", "form: end_stage", f"form: {form}")]


# A deck below the floor, 0.5 m down, under the two places at the south.
WELL = ("solids:\n  - {name: well, kind: slab, polygon: [[4.5, 0.4], [7.5, 0.4], [7.5, 1.9], [4.5, 1.9]], bottom: "
        "-0.7, top: -0.5}\n")


def sunk(base):
    return [("layout", "solids:\n", WELL), ("layout", PLACES, f"    base: {base}\n" + PLACES)]


# what it is, command, changes of files, what the line says (None: done)
STUDIES = [
    ("places on a sunken deck", ["check", "layout.yaml"], sunk("-0.5"), None),
    ("places below a sunken deck", ["check", "layout.yaml"], sunk("-0.51"),
     "Places row 1 seat 1 stands 0.51 m below the floor"),
    ("a drive stronger than the house", CHANGEOVER, [("venue", "power_kw: 8", "power_kw: 2.9")],
     "T hoist draws 3.00 kW; the venue's power_kw is 2.90"),
    ("a drive as strong as the house", CHANGEOVER, [("venue", "power_kw: 8", "power_kw: 3")], None),
    ("layouts of two venues", CHANGEOVER, [("other", "venue: venue.yaml", "venue: plain.yaml"),
                                           ("plain", "name: Small room", "name: Other room")],
     "Small layout and Another layout are layouts of two venues, Small room and Other room"),
    ("chairs of no stock", CHANGEOVER, [("venue", STOCK, "")],
     "Stalls has loose seats, but the venue lists no seating under machines.crew"),
    ("a stage wider than the lifts", DRAFT, stage("width: 3", "width: 4.1"), "is wider than the lifts"),
    ("a stage that leaves no section", DRAFT, stage("depth: 2", "depth: 2.1"),
     "is too deep: no section is left before it"),
    ("a focus of nothing", DRAFT, stage("focus_inset: 0.3", "focus_inset: 1.6"),
     "leaves nothing to look at within focus_inset"),
    ("a thrust without sides", DRAFT, stage("width: 3", "width: 2", "thrust"),
     "is too wide: no section is left beside it"),
    ("a traverse without ends", DRAFT, stage("width: 3", "width: 2", "traverse"),
     "is too deep: no section is left before and behind it"),
    ("a round without a ring", DRAFT, stage("width: 3", "width: 2", "round"),
     "is too wide: the lifts leave nothing beside it"),
    ("a hall without a door", DRAFT, [("plain", DOORS, "")], "has no door: nobody could leave"),
    ("a door too narrow for a row", DRAFT, [("plain", "bearing_deg: 90, width: 1,", "bearing_deg: 90, width: 0.3,"),
                                            ("plain", "rail_min: 0.8", "rail_min: 0.8, exit_mm_person: 100")],
     "the doors of Small room let too few people out for the smallest choice"),
    ("a block that faces away", RAKE + ["Arc"], [], "'Arc' does not face the focus"),
    ("a block of one row", RAKE + ["Places"], [], "'Places' has one row; a rake needs two"),
    ("a block over the focus", RAKE + ["Stalls"],
     [("layout", "[[3, 9], [9, 9], [9, 11], [3, 11]]", "[[3, 3], [9, 3], [9, 11], [3, 11]], z: 0")], "'Stalls' stands over the focus"),
    ("a block that is none", RAKE + ["Stall"], [], "the layout has no block 'Stall'"),
]


class Studies(unittest.TestCase):
    def test_changes(self):
        for what, command, changes, says in STUDIES:
            with self.subTest(what), tempfile.TemporaryDirectory() as folder:
                small.make_hall(folder)
                for name, old, new in changes:
                    small.change(folder, f"{name}.yaml", old, new)
                before = sorted(os.listdir(folder))
                code, out, err = hall.run(*command, cwd=folder)
                if says is None:
                    self.assertEqual((code, err), (0, ""))
                    continue
                self.assertEqual((code, out), (2, ""), err)
                self.assertIn(says, err)
                self.assertRegex(err, r"^([a-z]+\.yaml|--block)(:\d+:\d+)?: ", "no file is named")
                self.assertEqual(sorted(os.listdir(folder)), before, "something was written")


class Refused(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.folder = os.path.join(self.temporary.name, "hall")
        shutil.copytree(small.SMALL, self.folder)

    def tearDown(self):
        self.temporary.cleanup()

    def edit(self, name, old, new):
        """Writes one file of the hall with a passage replaced; all others as they were."""
        for other in os.listdir(small.SMALL):
            shutil.copy(os.path.join(small.SMALL, other), self.folder)
        season = SEASON
        if name == "season2":  # the place of its sources has a bearing
            season = season.replace("duration_s: 300", "duration_s: 300, bearing_deg: 90")
        small.write(self.folder, "season.yaml", season)
        small.write(self.folder, "events.csv", small.EVENTS)
        name = "season" if name == "season2" else name
        path = os.path.join(self.folder, name + (".csv" if name in ("door", "seats", "events") else ".yaml"))
        with open(path, encoding="utf-8") as source:
            text = source.read()
        if old is None:  # everything from the blocks on
            text = text[:text.index("blocks:\n")] + "blocks: []\n"
            text = text.replace("slide: 0}", "slide: 0, seated: no}")
        else:
            self.assertEqual(text.count(old), 1, f"{name}: {old!r}")
            text = text.replace(old, new)
        with open(path, "w", encoding="utf-8") as out:
            out.write(text)

    def check(self, *arguments):
        return hall.run(*arguments, cwd=self.folder)

    def test_changes(self):
        for what, name, old, new, says in CHANGES:
            with self.subTest(what):
                self.edit(name, old, new)
                code, out, err = self.check("check", CHECKED.get(name, "layout.yaml"))
                if says is None:
                    self.assertEqual((code, err), (0, ""))
                    continue
                self.assertEqual((code, out), (2, ""), err)
                self.assertIn(says, err)
                self.assertRegex(err.splitlines()[0], r"^[a-z]+\.(yaml|csv):( |\d+:)")


if __name__ == "__main__":
    plain.main()
