#!/usr/bin/python3
"""Rough checks of a hall without lifts: edges of decks, platforms and set pieces, rows against the venue's
own spacing, places for wheelchairs by its own table. Every figure is told by hand from the drawing."""

import json
import math
import unittest

import hall
import rough
from hall import plain

VENUE = """format: gradin-venue-1
units: m
name: Plain room (invented)
room:
  footprint: [[0, 0], [20, 0], [20, 30], [0, 30]]
  ceiling: 10
  absorption: {floor: ALPHA, ceiling: ALPHA, walls: ALPHA, seating: ALPHA}
  local_rules: {rail_min: 0.8, guard_drop: 0.6}
  solids:
    - {name: gallery, kind: slab, polygon: [[0, 0], [20, 0], [20, 8], [0, 8]], bottom: 3.7, top: 4}
""".replace("ALPHA", "[0.2, 0.2, 0.2, 0.2, 0.2, 0.2]")
LAYOUT = """format: gradin-layout-1
units: m
venue: hall.yaml
name: plain
form: custom
focus: [{name: stage, polygon: [[5, 25], [15, 25], [15, 29], [5, 29]], z: 0}]
blocks:
  - {name: Stalls, stands_on: floor, seat_width: 0.5, row_depth: 0.9, seat_depth: 0.5,
     straight: {front: [10, 20], facing_deg: 0, rows: 2, seats: 4}}
"""
# Four rows, 0.4 m up from row to row: 0, 0.4, 0.8, 1.2 m; y 16.45 back to 12.85; x 7.5 to 12.5.
RAKED = """  - {name: Raked, stands_on: floor, seat_width: 0.5, row_depth: 0.9, riser: 0.4,
     straight: {front: [10, 16], facing_deg: 0, rows: 4, seats: 10}}
"""
# Around (10, 24) from bearing 160 to 200, one row of 1 m on a platform of 0.8 m, radius 7.5 to 8.5.
BENT = """  - {name: Bent, stands_on: floor, seat_width: 0.5, row_depth: 1, base: 0.8,
     curved: {centre: [10, 24], radius: 8, from_deg: 160, to_deg: 200, rows: 1}}
"""


class Rough(rough.RoughTest):
    venue_text, layout_text = VENUE, LAYOUT


class Edges(Rough):
    def edges(self, *arguments, **more):
        """[(of, where, from, to, drop, length)] of the open edges."""
        return [(e["of"], e["at"], (e["from_x_m"], e["from_y_m"]), (e["to_x_m"], e["to_y_m"]), e["drop_m"],
                 e["length_m"]) for e in self.fit(*arguments, **more)["open_edges"]]

    def test_a_gallery_is_open_along_its_front(self):
        self.assertEqual(self.edges(), [("slab", "gallery", (20, 8), (0, 8), 4, 20)])

    def test_a_rail_or_a_parapet_closes_it(self):
        rail = "rails: [{name: front, kind: bar, path: [[0, 7.9], [20, 7.9]], height: 1.1, foot: 4}]\n"
        self.assertEqual(self.edges(rail), [])
        (part,) = self.edges(rail.replace("20, 7.9", "12, 7.9"))
        self.assertEqual(part[:3], ("slab", "gallery", (20, 8)))
        self.assertAlmostEqual(part[5], 8, delta=0.45)  # a piece, and the rail's reach
        # built up in front of it, from the floor and as high as the venue's lowest rail
        wall = "solids: [{name: parapet, kind: wall, polygon: [[0, 8], [20, 8], [20, 8.2], [0, 8.2]], bottom: 0, top: TOP}]\n"
        self.assertEqual(self.edges(wall.replace("TOP", "4.8")), [])
        self.assertEqual(len(self.edges(wall.replace("TOP", "4.79"))), 1)

    def test_a_drop_up_to_the_rule_is_none(self):
        self.assertEqual(self.edges(venue=[("guard_drop: 0.6", "guard_drop: 4")]), [])

    # An opening up to 4 in, 102 mm, is none in a guard (IBC 2021 clause 1015.4, from memory): from the gallery's front
    # 90 mm to a second deck as high, or to a wall; 150 mm are an edge on both sides.
    def test_a_gap_is_no_edge(self):
        for gap_m, n in ((0.09, 1), (0.15, 3)):
            deck = f"solids: [{{name: deck, kind: slab, polygon: [[0, {8 + gap_m}], [20, {8 + gap_m}], [20, 9], [0, 9]], bottom: 3.7, top: 4}}]\n"
            self.assertEqual([e[5] for e in self.edges(deck)], n * [20])
        beam = "solids: [{name: beam, kind: slab, polygon: [[0, 8.06], [20, 8.06], [20, 8.16], [0, 8.16]], bottom: 3.7, top: 4}]\n"
        self.assertEqual([e[:2] for e in self.edges(beam)], [("slab", "gallery")])  # who steps over it falls
        for gap_m, n in ((0.09, 0), (0.15, 1)):
            short = [("[[0, 0], [20, 0], [20, 8], [0, 8]]", f"[[0, {gap_m}], [20, {gap_m}], [20, 29.95], [0, 29.95]]")]
            self.assertEqual(len(self.edges(venue=short)), n)

    # Loudspeakers that hang over the seats; the same thing on legs of its own, and as a slab.
    def test_nobody_stands_on_what_hangs(self):
        hung = "solids: [{name: cluster, kind: set, polygon: [[9, 22], [11, 22], [11, 23], [9, 23]], bottom: 5, top: 6}]\n"
        self.assertEqual([e for e in self.edges(hung) if e[1] == "cluster"], [])
        for stands in (hung.replace("bottom: 5", "bottom: 0"), hung.replace("set", "slab")):
            self.assertEqual(len([e for e in self.edges(stands) if e[1] == "cluster"]), 4)
        thin = hung.replace("top: 6", "top: 5.1")  # no carrier of its own
        self.assertEqual([e for e in self.edges(thin) if e[1] == "cluster"], [])

    # Legs are not always drawn: with no headroom under it a deck is no cluster, thick or thin, and
    # neither is an L whose middle lies beside it. A bridge stands on its two towers. The same bridge without them hangs.
    def test_a_deck_without_drawn_legs_and_a_bridge_stand(self):
        solid = "{{name: {}, kind: set, polygon: {}, bottom: {}, top: {}}}"
        square = "[[8, 21], [12, 21], [12, 24], [8, 24]]"
        ell = "[[8, 21], [14, 21], [14, 22], [9, 22], [9, 24], [8, 24]]"
        for polygon, n in ((square, 4), (ell, 6)):
            for bottom, top in ((0.8, 1), (0.5, 1)):
                deck = f"solids: [{solid.format('deck', polygon, bottom, top)}]\n"
                self.assertEqual(len([e for e in self.edges(deck) if e[1] == "deck"]), n)
        bridge = solid.format("bridge", "[[4, 21], [16, 21], [16, 22], [4, 22]]", 2.4, 2.6)
        towers = [solid.format(name, f"[[{x}, 21], [{x + 1}, 21], [{x + 1}, 22], [{x}, 22]]", 0, 2.4)
                  for name, x in (("left", 4), ("right", 15))]
        for parts, n in (([bridge], 0), ([bridge] + towers, 4)):
            found = self.edges(f"solids: [{', '.join(parts)}]\n")
            self.assertEqual(len([e for e in found if e[1] == "bridge"]), n)

    def test_a_canopy_and_a_flat_carry_nobody(self):
        self.assertEqual(self.edges(venue=[("bottom: 3.7, top: 4", "bottom: 8, top: 8.2")]), [])
        self.assertEqual(len(self.edges(venue=[("bottom: 3.7, top: 4", "bottom: 7.9, top: 8.1")])), 1)
        flat = "solids: [{name: flat, kind: set, polygon: [[2, 20], [6, 20], [6, 20.1], [2, 20.1]], bottom: 0, top: 3}]\n"
        self.assertEqual(len(self.edges(flat)), 1)

    def test_a_set_piece_is_the_stages_where_people_look_at_it(self):
        crate = "solids: [{name: crate, kind: set, polygon: [[8, 26], [12, 26], [12, 28], [8, 28]], bottom: 0, top: 1}]\n"
        found = self.fit(crate)
        self.assertEqual([e["at"] for e in found["open_edges"]], ["gallery", "crate", "crate", "crate"])
        self.assertEqual([(e["of"], e["from_y_m"], e["drop_m"]) for e in found["stage_edges"]],
                         [("set piece", 26, 1)])
        beside = self.fit(crate.replace("[8, 26], [12, 26], [12, 28], [8, 28]",
                                        "[1, 20], [3, 20], [3, 22], [1, 22]"))
        self.assertEqual((len(beside["open_edges"]), beside["stage_edges"]), (5, []))

    # Rows at 0.8 and 1.2 m open at both sides, the last one at its back, too. The row at 0.4 m does not.
    def test_a_platform_is_open_at_its_sides_and_back(self):
        found = [e for e in self.edges(RAKED) if e[0] == "platform"]
        self.assertEqual(sorted((e[1], e[4], e[5]) for e in found),
                         [("Raked row 3", 0.8, 0.9), ("Raked row 3", 0.8, 0.9), ("Raked row 4", 1.2, 0.9),
                          ("Raked row 4", 1.2, 0.9), ("Raked row 4", 1.2, 5)])
        self.assertEqual({p for e in found for p in (e[2], e[3]) if e[1] == "Raked row 4"},
                         {(7.5, 13.75), (7.5, 12.85), (12.5, 12.85), (12.5, 13.75)})

    def test_rows_with_seats_of_their_own_have_the_same_platforms(self):
        self.assertEqual(self.edges(RAKED.replace("seats: 10", "seats: [10, 10, 10, 10]")), self.edges(RAKED))

    # Half a seat of 0.5 m to the left: row 4 sits from 7.25 to 12.25 m, its platform up to 12.5 m.
    def test_a_row_that_is_shifted_stands_on_its_platform(self):
        found = self.edges(RAKED.replace("seats: 10", "seats: 10, stagger: -0.5"))
        across = [p[0] for e in found if e[1] == "Raked row 4" for p in (e[2], e[3])]
        self.assertEqual((min(across), max(across)), (7.25, 12.5))

    # An aisle leaves seats out, but the platform goes on under it.
    def test_an_aisle_over_a_platform_opens_nothing(self):
        aisle = "aisles: [{name: middle, polygon: [[9.5, 12], [10.5, 12], [10.5, 17], [9.5, 17]]}]\n"
        self.assertEqual(self.edges(RAKED + aisle), self.edges(RAKED))

    # A row's arc is one edge: 8.5 m and 7.5 m times 40 degrees, told to the chords of 5 degrees.
    def test_an_arc_is_one_edge(self):
        found = [e for e in self.edges(BENT) if e[0] == "platform"]
        self.assertEqual(len(found), 4)
        chord = 8 * 2 * math.sin(math.radians(2.5))
        self.assertEqual(sorted(round(e[5], 2) for e in found),
                         sorted([1.0, 1.0, round(7.5 * chord, 2), round(8.5 * chord, 2)]))

    def test_a_row_on_the_gallery_has_no_platform(self):
        upper = RAKED.replace("riser: 0.4", "base: 4, riser: 0.4").replace("16]", "6]").replace("rows: 4",
                                                                                             "rows: 1")
        self.assertEqual(len(self.edges(upper)), 1)

    # A lift that is down 1 m in the fixed floor: the floor's edge round it, at height 0.
    def test_a_pit_has_an_edge_all_round(self):
        lift = """machines:
  lifts: [{name: P, origin: [8, 21], columns: 2, rows: 1, size: [2, 1], travel: [-2, 1], speed_ms: 0.05}]
"""
        down = "machines: {lifts: [{from: P-A1, to: P-B1, height: -1}]}\n"
        with open(self.path("pit.yaml"), "w", encoding="utf-8") as out:
            out.write(LAYOUT.replace("hall.yaml", "pit-hall.yaml") + down)
        with open(self.path("pit-hall.yaml"), "w", encoding="utf-8") as out:
            out.write(VENUE + lift)
        code, out, err = self.run_here("fit", "pit.yaml", "--json")
        self.assertEqual((code, err), (0, ""))
        found = [e for e in json.loads(out)["open_edges"] if e["of"] == "lift"]
        self.assertEqual([(e["length_m"], e["high_m"], e["drop_m"]) for e in found],
                         [(4, 0, 1), (4, 0, 1), (1, 0, 1), (1, 0, 1)])


class Vomitory(Rough):
    """An open stair through the raked bank: 9 to 11 m east, from the bank's back, y 12.85, into its second
    row, y 15.1, where the stair comes up. Treads beside it: 0.4 m from y 15.1 to 14.65, 0.8 m to 13.75, 1.2 m
    to 12.85. Behind the bank lies the floor."""

    PANEL = [("bottom: 3.7, top: 4}\n", "bottom: 3.7, top: 4}\n"
             "machines:\n  panels: [{name: vom, polygon: [[9, 12.85], [11, 12.85], [11, 15.1], [9, 15.1]], "
             "stair_top_deg: 0}]\n")]
    OPEN = "machines: {panels: [{name: vom, open: yes}]}\n"

    def around(self, more=""):
        found = self.fit(RAKED + self.OPEN + more, venue=self.PANEL)["open_edges"]
        return [edge for edge in found if edge["at"] != "gallery"]

    @staticmethod
    def ends(edge):
        return tuple(sorted([(edge["from_x_m"], edge["from_y_m"]), (edge["to_x_m"], edge["to_y_m"])]))

    def test_its_sides_are_edges_at_the_treads_beside_them(self):
        stair = {self.ends(e): e for e in self.around() if e["at"] == "vom"}
        west, east, back = ((9, 12.85), (9, 15.1)), ((11, 12.85), (11, 15.1)), ((9, 12.85), (11, 12.85))
        self.assertEqual(set(stair), {west, east, back})
        for side, low, high, length in ((west, 0.4, 1.2, 2.25), (east, 0.4, 1.2, 2.25), (back, 0, 0, 2)):
            edge = stair[side]
            self.assertEqual((edge["of"], edge["low_m"], edge["high_m"], edge["drop_m"]), ("stair", low, high, None))
            self.assertAlmostEqual(edge["length_m"], length, delta=0.001)

    def test_rows_have_no_edge_across_it(self):
        """The last row ends at the back of the bank, 1.2 m up, but for the stair's two metres."""
        last = [e for e in self.around() if e["at"] == "Raked row 4" and e["from_y_m"] == e["to_y_m"] == 12.85]
        self.assertEqual(sorted(self.ends(e) for e in last), [((7.5, 12.85), (9, 12.85)), ((11, 12.85), (12.5, 12.85))])
        for edge in self.around():
            middle = (edge["from_x_m"] + edge["to_x_m"]) / 2, (edge["from_y_m"] + edge["to_y_m"]) / 2
            self.assertFalse(9.01 < middle[0] < 10.99 and 12.86 < middle[1] < 15.09, edge)

    def test_a_rail_up_the_treads_guards_a_side(self):
        """It stands on the treads, and one on the floor below guards nobody up there."""
        rail = "rails: [{name: west, kind: bar, path: [[8.9, 12.9], [8.9, 15.1]], height: 0.9%s}]\n"
        sides = [self.ends(e)[0] for e in self.around(rail % "") if e["at"] == "vom"]
        self.assertEqual(sorted(sides), [(9, 12.85), (11, 12.85)])  # the back and the east side
        self.assertEqual(len([e for e in self.around(rail % ", foot: 0") if e["at"] == "vom"]), 3)
        # half the side: the other half stays open
        half = self.around((rail % "").replace("[8.9, 12.9]", "[8.9, 14.1]"))
        (west,) = [e for e in half if e["at"] == "vom" and e["from_x_m"] == e["to_x_m"] == 9]
        self.assertAlmostEqual(west["length_m"], 1.25, delta=0.45)  # a piece, and the rail's reach

    def test_seats_over_it_are_left_out(self):
        """Rows of ten at 0.5 m: four seats stand between 9 and 11 m, in three of the four rows."""
        self.around()
        self.assertEqual(self.run_here("check", "plain.yaml")[0], 0)
        self.assertEqual(self.run_here("assess", "plain.yaml", "--out", "out", "--no-maps", "--quiet")[0], 0)
        self.assertEqual(len(hall.Table(self.path("out")).rows), 8 + 40 - 12)


class Spacing(Rough):
    def rules(self, more, layout=(), status=0, blocks=""):
        return self.fit(blocks, venue=[("guard_drop: 0.6", "guard_drop: 0.6, " + more)], layout=layout,
                        status=status)

    def test_nothing_is_held_against_no_rule(self):
        found = self.fit()
        self.assertEqual((found["tight_rows"], found["wheelchairs_needed"], found["companions_needed"]),
                         ([], None, None))
        text = hall.flat(self.run_here("fit", "plain.yaml")[1])
        for says in ("states no row_depth_min and no clearway_min", "states no table of wheelchairs",
                     "states no companions_per_wheelchair"):
            self.assertIn(says, text)

    def test_rows_too_close(self):
        self.assertEqual(self.rules("row_depth_min: 0.9")["tight_rows"], [])
        self.assertEqual(self.rules("row_depth_min: 0.91", status=1)["tight_rows"],
                         [{"block": "Stalls", "row": 2, "row_depth_m": 0.9, "clearway_m": 0.4}])
        text = hall.flat(self.run_here("fit", "plain.yaml")[1])
        self.assertIn("1 block is too close, the closest row of each: Stalls row 2: 0.90 m from row to row, at "
                      "least 0.91 m", text)
        self.assertEqual(self.rules("row_depth_min: 2", [("rows: 2", "rows: 1")])["tight_rows"], [])

    def test_the_closest_of_rows_of_their_own_depth(self):
        found = self.rules("row_depth_min: 0.85", [("row_depth: 0.9", "row_depth: [0.7, 0.9, 0.8, 0.84]"),
                                                   ("rows: 2", "rows: 4")], status=1)["tight_rows"]
        self.assertEqual([(row["row"], row["row_depth_m"]) for row in found], [(3, 0.8)])

    def test_clearways(self):
        self.assertEqual(self.rules("clearway_min: 0.4")["tight_rows"], [])
        self.assertEqual([row["clearway_m"] for row in self.rules("clearway_min: 0.41", status=1)["tight_rows"]],
                         [0.4])
        found = self.rules("clearway_min: 2", [(", seat_depth: 0.5", "")])
        self.assertEqual((found["tight_rows"], found["blocks_without_seat_depth"]), ([], 1))

    # 374 places with one for a wheelchair: 22 rows of 17 seats, one of them taken by it.
    def test_a_big_hall_with_one_place(self):
        big = [("rows: 2, seats: 4", "rows: 22, seats: 17"), ("front: [10, 20]", "front: [10, 23.5]")]
        one = "  - {name: W, stands_on: floor, seat_width: 0.9, row_depth: 1.3, pattern: [wheelchair]," \
            " straight: {front: [18, 23], facing_deg: 0, rows: 1, seats: 1}}\n"
        lines = [f"{{from_seats: {row['from_seats']}, places: {row['places']}"
                 + (f", one_more_per: {row['one_more_per']}" if row["one_more_per"] else "") + "}"
                 for row in hall.reference("egress-seating/wheelchairs.csv") if row["rule"] == "ada"]
        found = self.rules(f"wheelchairs: [{', '.join(lines)}], companions_per_wheelchair: 1", big, 1, one)
        self.assertEqual((found["wheelchairs"], found["wheelchairs_needed"]), (1, 6))
        self.assertEqual((found["companions"], found["companions_needed"]), (0, 6))
        self.assertFalse(found["rules_met"])
        text = hall.flat(self.run_here("fit", "plain.yaml")[1])
        self.assertIn("Places for wheelchairs: 1 of 375 places; the venue's table needs 6 Companion seats: 0; the "
                      "venue's rule needs 6", text)

    def test_a_table_that_falls_is_refused(self):
        with self.assertRaises(AssertionError):
            self.rules("wheelchairs: [{from_seats: 50, places: 2}, {from_seats: 4, places: 1}]")
        code, out, err = self.run_here("check", "hall.yaml")
        self.assertEqual((code, out), (2, ""))
        self.assertEqual(err, "hall.yaml: room.local_rules.wheelchairs: must run from the fewest seats up; 4 follows "
                         "50\n")


if __name__ == "__main__":
    plain.main()
