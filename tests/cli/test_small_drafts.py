#!/usr/bin/python3
"""Drafts that a designer would start from: each form in a small hall, and chairs in rooms without lifts."""

import json
import re

from hall import plain
import draft_halls
from drafting import FORMS, ROOM, WISHES, DraftTest, trial


class Small(DraftTest):
    """Each form in a small hall, few, more and most seats: what a designer would look at first."""

    def hall_of(self, form):
        venue, wishes, _ = trial(0)
        venue.update(side=2.7, columns=6, rows=6, width=6 * 2.7 + 8, depth=6 * 2.7 + 8, x=4, y=4,
                     ceiling=9, one=11, two=22, steps=3, high=4, riser=0.6, door=4, door_x=1,
                     exit_mm=5, guard_drop=0.6, rail_min=0.8)
        wishes.update(form=form, axis=180, stage_width=5.4, stage_depth=5.4, stage_height=0.9,
                      inset=0.4, c=0.06, seat=0.52, row=0.9, aisle=1.04, towers="no")
        return venue, wishes

    def check_places(self, form, venue):
        places = self.places()
        if form not in ("round", "traverse"): # nobody behind the back edge of what is looked at
            focus = re.search(r"name: stage, polygon: (.*), z:", self.read("layout.yaml"))[1]
            back = max(y for _, y in json.loads(focus))
            self.assertLessEqual(max(y for _, y, _, _ in places), back + 0.001)
        companions = [(x, y) for x, y, kind, _ in places if kind == "companion"]
        for x, y, kind, _ in places:
            if kind == "wheelchair":
                self.assertLess(min(abs(complex(x - a, y - b)) for a, b in companions), 0.95)
        axis = venue["width"] / 2
        seats = {(round(x, 2), round(y, 2)) for x, y, kind, _ in places if kind == "seat"}
        self.assertGreater(len(seats), 20)
        lost = [(x, y) for x, y in seats if not any(
            abs(2 * axis - x - a) < 0.03 and abs(y - b) < 0.03 for a, b in seats)]
        self.assertEqual(lost, [])

    def check_rating(self, out):
        """What a draft prints is what its layout gets when it is assessed, with as many rays."""
        printed = re.search(r"Seats by rating: clear (\d+), good (\d+), fair (\d+), poor (\d+)\n", out).groups()
        self.assertEqual(self.run_here("assess", "layout.yaml", "--out", "seen", "--quiet", "--no-maps")[0], 0)
        rating = json.loads(self.read("seen/summary.json"))["rating"]
        self.assertEqual([str(rating[word]["seats"]) for word in ("clear", "good", "fair", "poor")], list(printed))

    def test_each_form(self):
        for form in FORMS:
            venue, wishes = self.hall_of(form)
            found = []
            for wanted in (60, 110, "most"):
                self.write_trial(venue, dict(wishes, seats=wanted))
                code, out, err = self.run_here("draft", "wishes.yaml", "--out", "layout.yaml",
                                               "--replace")
                with self.subTest(form=form, wanted=wanted):
                    self.assertIn(code, (0, 1), err)
                    found.append(self.check_layout(out))
                    self.assertEqual(code, 0 if wanted == "most" or found[-1] >= wanted else 1)
                    self.check_places(form, venue)
            self.assertEqual(found, sorted(found), form)

    def test_towers_only_where_they_serve(self):
        """Chairs reach the count without: with towers wished the draft is no worse."""
        venue, wishes = self.hall_of("flat_floor")
        venue.update(width=20, depth=20, columns=4, rows=4)
        for form in ("flat_floor", "end_stage"):
            poor = []
            for has_tower in (False, True):
                self.write_trial(venue, dict(wishes, form=form, seats=40), has_tower)
                out, _ = self.draft()
                poor.append(int(re.search(r"poor (\d+)", out)[1]))
                self.check_rating(out)
            self.assertLessEqual(poor[1], poor[0], form)

    def test_the_wish_for_symmetry_is_read(self):
        venue, wishes = self.hall_of("thrust")
        self.write_trial(venue, dict(wishes, seats="most\nsymmetric: no"))
        self.check_layout(self.draft()[0])
        self.write_trial(venue, dict(wishes, seats="most\nsymmetric: perhaps"))
        self.assertRegex(self.draft(code=2)[1], r"^wishes.yaml:13:12: symmetric: ")


class Studio(DraftTest):
    """A room of 8 x 12 m without lifts: what it takes with its ways out and places kept."""

    LEAST = {"end_stage": 40, "round": 22, "traverse": 28}

    def draft_most(self, form, width=None):
        text = next(text for f, n, text in draft_halls.wishes_of("studio") if (f, n) == (form, "most"))
        self.write("wishes.yaml", text if width is None else re.sub(r"width: [\d.]+", f"width: {width}", text, count=1))
        return self.run_here("draft", "wishes.yaml", "--out", "layout.yaml", "--replace")

    def test_what_a_studio_takes(self):
        draft_halls.write_venue(self.folder, "studio")
        for form, least in self.LEAST.items():
            code, out, err = self.draft_most(form)
            with self.subTest(form=form):
                self.assertEqual(code, 0, err)
                self.assertGreaterEqual(self.check_layout(out), least)

    def test_a_refusal_says_what_is_lacking(self):
        """A thrust with a door where its people would sit; and one that lacks a length, which then helps."""
        draft_halls.write_venue(self.folder, "studio")
        self.assertRegex(self.draft_most("thrust")[2], "where West would have its first row is door 2 or the floor")
        room = self.read("studio.yaml")
        self.write("studio.yaml", room.replace("start: [0, 9.2]", "start: [0, 5.2]"))
        self.assertEqual(self.draft_most("thrust")[0], 0)
        told = re.search(r"(West|East) lacks ([0-9.]+) m of depth", self.draft_most("thrust", 5)[2])
        for more, lacks in ((-0.02, True), (0.01, False)):
            width = 8 + 2 * (float(told[2]) + more)
            self.write("studio.yaml", re.sub(r"\[8, ", f"[{width:.2f}, ", room))
            self.assertEqual("m of depth" in self.draft_most("thrust", 5)[2], lacks, width)


class WithoutLifts(DraftTest):
    def test_chairs_on_a_floor(self):
        """Two rooms and both ways to turn; a tower and a curve make no difference in kind."""
        for depth, axis, curve in ((14, 180, ""), (11, 90, ""), (18, 0, "\ncurve: 6")):
            venue, wishes, _ = trial(0)
            venue.update(width=13, depth=depth, door=3, door_x=1, exit_mm=5, one=7, two=14)
            wishes.update(form="flat_floor", axis=axis, stage_width=5, stage_depth=3, stage_height=0,
                          seats="most" + curve, seat=0.55, row=0.95, aisle=1.1)
            self.write("venue.yaml", ROOM.format(**venue))
            self.write("wishes.yaml", WISHES.format(**wishes))
            with self.subTest(depth=depth, axis=axis):
                most = self.check_layout(self.draft()[0])
                self.assertGreater(most, 24)
                self.write("wishes.yaml", WISHES.format(**dict(wishes, seats="20" + curve)))
                self.assertGreaterEqual(self.check_layout(self.draft()[0]), 20)


    def test_a_raked_floor_is_left_out(self):
        """The end of the room raked: the stage stands before it; all of it raked: a line that says so."""
        draft_halls.write_venue(self.folder, "studio")
        room = self.read("studio.yaml")
        wished = {f: text for f, n, text in draft_halls.wishes_of("studio") if n == "most"}
        for end, is_good in ((10.5, True), (0, False)):
            floors = (f"  floors:\n    - {{name: rake, polygon: [[0, {end}], [8, {end}], [8, 12], [0, 12]], "
                      "z: [0, 0, 0.6, 0.6]}\nfacade:\n")
            self.write("studio.yaml", room.replace("facade:\n", floors))
            self.write("wishes.yaml", wished["flat_floor"])
            code, out, err = self.run_here("draft", "wishes.yaml", "--out", "layout.yaml", "--replace")
            self.assertEqual(code, 0 if is_good else 2, err)
            if is_good:
                focus = json.loads(re.search(r"name: stage, polygon: (.*), z:", self.read("layout.yaml"))[1])
                self.assertLessEqual(max(y for _, y in focus), end)
                self.assertIn("floor rake is not at height 0", out)
            else:
                self.assertIn("its largest rectangle of free floor at height 0 is 0.00 m", err)

    def test_a_stage_that_is_too_large_is_told_without_lifts(self):
        draft_halls.write_venue(self.folder, "studio")
        for form, wanted, text in draft_halls.wishes_of("studio"):
            for key, said in (("width", "is too wide|is wider"), ("depth", "is too deep")):
                self.write("wishes.yaml", re.sub(rf"{key}: [\d.]+", f"{key}: 40", text, count=1))
                err = self.draft(code=2)[1] if wanted == "most" else said
                self.assertRegex(err, said, form)
                self.assertNotRegex(err, "lift|section", form)

    def test_rooms_of_other_shapes(self):
        """On chairs and on platforms, in rooms with slanted walls, a corner cut out, and small ones."""
        for room, form, wanted, least in (("studio", "flat_floor", 60, 60), ("hexagon", "end_stage", 60, 60),
                                          ("fan", "flat_floor", "most", 100), ("ell", "traverse", 40, 30)):
            draft_halls.write_venue(self.folder, room)
            text = next(text for f, n, text in draft_halls.wishes_of(room) if (f, n) == (form, wanted))
            self.write("wishes.yaml", text)
            code, out, err = self.run_here("draft", "wishes.yaml", "--out", "layout.yaml", "--replace")
            with self.subTest(room=room, form=form):
                self.assertIn(code, (0, 1), err)
                self.assertGreaterEqual(self.check_layout(out), least)
                self.check_mirrored()
                on_platforms = "rows on platforms" in out
                self.assertEqual(on_platforms, form != "flat_floor")
                if on_platforms:
                    risers = json.loads(re.search(r"riser: (.*)", self.read("layout.yaml"))[1])
                    for rise in risers: # of whole steps, and none that nobody climbs
                        self.assertAlmostEqual(rise / 0.2, round(rise / 0.2), places=6)
                        self.assertLessEqual(rise, 0.5)

    def check_mirrored(self):
        """Both sides of the stage's axis have the same seats."""
        focus = json.loads(re.search(r"name: stage, polygon: (.*), z:", self.read("layout.yaml"))[1])
        axis = (max(x for x, _ in focus) + min(x for x, _ in focus)) / 2
        seats = {(x, y) for x, y, kind, _ in self.places() if kind == "seat"}
        self.assertGreater(len(seats), 8)
        for x, y in seats:
            self.assertTrue(any(abs(2 * axis - x - a) < 0.03 and abs(y - b) < 0.03 for a, b in seats), (x, y))


if __name__ == "__main__":
    plain.main()
