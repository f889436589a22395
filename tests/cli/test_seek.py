#!/usr/bin/python3
"""gradin sweep --seek: against every combination tried; rails, rules, interlocks and edges kept; the same points each time,
also after a kill.

usage: test_seek.py GRADIN"""

import json
import os
import random
import re
import shutil
import subprocess
import time
import unittest

import hall
import small
import studies
from studies import key

HOIST = key("machines.towers[T].hoist", "[0, 0.2, 0.4, 0.6, 0.8, 1.0]", "layout", "hoist")
RISER = key("machines.lifts[L-A1].terrace.riser", "[0.1, 0.15, 0.2, 0.25, 0.3]", "layout", "riser")
CREW = key("machines.crew.people", "[4, 6, 8]", name="crew")
STAGE = key("focus[stage].z", "[0, 0.2, 0.4, 0.6, 0.8, 1.0]", "layout", "stage")
DEPTH = key("blocks[Stalls].row_depth", "[0.8, 0.9, 1.0]", "layout", "depth")
WORD = key("facade.glazing[west].buildup", "[pane, door leaf]", name="glass")


class SeekTest(studies.StudyTest):
    def seek(self, out, *options, status=0):
        return self.sweep(out, "--seek", *options, status=status)

    def json(self, out):
        with open(self.path(out, "sweep.json"), encoding="utf-8") as source:
            return json.load(source)

    def refused(self, vary, says, more="search: {points: 20}\naims: [{figure: seats, best: most}]\n"):
        self.write(vary, more, "[seats]")
        _, err = self.seek("out", status=2)
        self.assertIn(says, err)
        self.assertFalse(os.path.exists(self.path("out", "points.csv")))


class Picture(SeekTest):
    def test_a_search_draws_a_picture_of_its_own(self):
        picture = "picture: {across: hoist, up: riser, figure: seats}\n"
        self.write(HOIST + RISER, "aims: [{figure: seats, best: most}]\nsearch: {points: 2}\n" + picture, "[seats]")
        _, err = self.seek("out", "--quiet", status=None)
        self.assertIn("note: a search draws its own picture", err)
        self.assertFalse(os.path.exists(self.path("out", "response.png")))
        with open(self.path("out", "search.png"), "rb") as picture:
            self.assertEqual(picture.read(8), b"\x89PNG\r\n\x1a\n")


class Exhaustive(SeekTest):
    def both(self, vary, judgement, points, figures="[clear, visible_median, c_median_mm, distance_p90_m, crew_hours]"):
        """Best point of a search with fewer points than a table of all; the table's own."""
        self.write(vary, judgement, figures)
        self.sweep("plain", "--quiet", status=None)
        self.write(vary, judgement + "search: {points: 1000}\n", figures)
        self.seek("all", "--quiet", status=None)
        whole = self.json("all")
        self.assertTrue(whole["search"]["all_tried"])
        plain = {tuple(p["values"].values()): p for p in self.json("plain")["points"]}
        for p in whole["points"]:  # a search refuses more, and works out nothing else
            if not p["refused"]:
                self.assertEqual(p["figures"], plain[tuple(p["values"].values())]["figures"])
        self.write(vary, judgement + f"search: {{points: {points}}}\n", figures)
        self.seek("out", "--quiet", status=None)
        found = self.json("out")
        self.assertLess(found["search"]["evaluations"], len(whole["points"]))
        self.assertEqual(found["search"]["combinations"], len(whole["points"]))
        for made in (whole, found):
            made["best_values"] = made["points"][made["best"]] if made["best"] is not None else None
        if whole["best"] is None:
            self.assertIsNone(found["best"])
            return found
        # A tie is as good: the figures that are aimed at are what counts.
        for figure in re.findall(r"figure: (\w+), best", judgement):
            self.assertEqual(found["best_values"]["figures"][figure], whole["best_values"]["figures"][figure],
                             (judgement, found["best_values"], whole["best_values"]))
        return found

    def test_finds_what_all_combinations_have_as_best(self):
        aims = "aims: [{figure: %s, best: %s}, {figure: %s, best: %s}]\n"
        need = "needs: [{figure: %s, %s: %s}]\n"
        for vary, judgement, points in (
                (RISER + STAGE + DEPTH, need % ("distance_p90_m", "most", 7) + aims % ("visible_median", "most", "clear", "most"), 40),
                (STAGE + HOIST + CREW, need % ("c_median_mm", "least", -120)
                 + aims % ("crew_hours", "least", "visible_median", "most"), 60),
                (HOIST + STAGE + RISER, need % ("visible_median", "least", 0.7) + aims % ("clear", "most", "c_median_mm", "most"), 60)):
            found = self.both(vary, judgement, points)
            self.assertEqual(found["search"]["evaluations"], points)
            for name in ("plain", "all", "out"):
                shutil.rmtree(self.path(name))

    def test_all_are_tried_where_there_are_few(self):
        self.write(CREW + WORD, "aims: [{figure: crew_hours, best: least}, {figure: glass_t, best: least}]\n"
                   "search: {points: 60}\n", "[crew_hours, glass_t]")
        text, _ = self.seek("out")
        found = self.json("out")["search"]
        self.assertEqual((found["evaluations"], found["all_tried"], found["steps_tried"]), (6, True, True))
        self.assertIn("All 6 combinations were tried", text)
        self.assertIn("It is the best of 6 evaluated, which are all.", text)

    def test_what_cannot_be_kept_is_exit_1(self):
        self.write(HOIST + RISER + CREW, "needs: [{figure: crew_hours, most: 0.1}]\n"
                   "aims: [{figure: crew_hours, best: least}]\nsearch: {points: 30}\n", "[crew_hours]")
        text, _ = self.seek("out", status=1)
        self.assertIn("No point that was tried surely keeps what is needed.", text)
        self.assertNotIn("optimum", text)

    def test_a_range_is_searched_finer_than_a_grid(self):
        """The best of 50 points of two ranges is no worse than the best of a grid of 99."""
        aim = "needs: [{figure: visible_median, least: 0.8}]\naims: [{figure: c_median_mm, best: most}]\n"
        figures = "[c_median_mm, visible_median]"
        keys = "  - {layout: \"focus[stage].z\", from: 0, to: 1%s, name: stage}\n" \
               "  - {layout: \"machines.towers[T].hoist\", from: 0, to: 1%s, name: hoist}\n"
        self.write(keys % (", step: 0.1", ", step: 0.125"), aim, figures)
        self.sweep("all", "--quiet")
        self.write(keys % ("", ""), aim + "search: {points: 50}\n", figures)
        text, _ = self.seek("out")
        whole, made = self.json("all"), self.json("out")
        best = [m["points"][m["best"]]["figures"] for m in (whole, made)]
        self.assertGreaterEqual(best[1]["c_median_mm"]["value"], best[0]["c_median_mm"]["value"])
        self.assertGreaterEqual(best[1]["visible_median"]["low"], 0.8)
        self.assertIn("It is the best of 50 evaluated", text)
        self.assertRegex(text, r"50 points were tried, of 1002001 combinations")
        self.assertIn("The files as they are written:", text)
        written = made["search"]["as_written"]["c_median_mm"]["value"]
        self.assertLess(written, best[1]["c_median_mm"]["value"])


class Rules(SeekTest):
    RAIL = "machines.towers[T].levels[low].rail.height"

    def test_never_a_rail_below_the_hall_s_own_minimum(self):
        small.change(self.folder, "layout.yaml", "{name: T, hoist: 0, slide: 0}", "{name: T, hoist: 0.4, slide: 0}")
        self.write(f"  - {{venue: \"{self.RAIL}\", from: 0.3, to: 1.3, name: rail}}\n",
                   "aims: [{figure: visible_p10, best: most}, {figure: c_p10_mm, best: most}]\nsearch: {points: 60}\n",
                   "[visible_p10, c_p10_mm, clear]")
        self.seek("out", "--quiet")
        made = self.json("out")
        stands = [float(p["values"]["rail"]) for p in made["points"] if not p["refused"]]
        low = [p for p in made["points"] if float(p["values"]["rail"]) < 0.8]
        self.assertGreaterEqual(min(stands), 0.8)
        self.assertTrue(low)
        for p in low:
            self.assertIn("below", p["refused"])
        small.change(self.folder, "venue.yaml", "rail: {kind: bar, height: 0.9}",
                     f"rail: {{kind: bar, height: {made['points'][made['best']]['values']['rail']}}}")
        self.assertEqual(hall.run("check", "layout.yaml", cwd=self.folder)[0], 0)

    def test_what_a_search_leaves_alone(self):
        rail = "takes the rail away where it is 0"
        self.refused(key(self.RAIL, "[0, 0.9]"), rail)
        self.refused(f"  - {{venue: \"{self.RAIL}\", from: 0, to: 1}}\n", rail)
        self.refused(key("rails[back].height", "[0, 1.1]", "layout"), rail)
        self.refused(key("machines.towers[T].levels[low].rail.kind", "[bar, panel]"), "the height alone")
        self.refused(key("rails[back].path", '["[[1, 1], [2, 1]]"]', "layout"), "")
        self.refused(key("room.local_rules.rail_min", "[0.3, 0.8]"), "the hall's own rules")
        self.refused(key("machines.interlocks[slide low].within[1]", "[0.5, 3]"), "does not move interlocks")

    def test_interlocks(self):
        small.change(self.folder, "venue.yaml", "machine: T slide, while", "machine: T slide, at: [0.05, 3], while")
        self.write("  - {layout: \"machines.towers[T].hoist\", from: 0, to: 2, name: hoist}\n"
                   "  - {layout: \"machines.towers[T].slide\", from: 0, to: 3, name: slide}\n",
                   "aims: [{figure: distance_most_m, best: least}]\nsearch: {points: 60}\n", "[distance_most_m]")
        self.seek("out", "--quiet")
        made = self.json("out")
        self.assertTrue([p for p in made["points"] if p["refused"]])
        for p in made["points"]:
            if not p["refused"] and float(p["values"]["slide"]) >= 0.05:
                self.assertLessEqual(float(p["values"]["hoist"]), 0.5)

    def test_no_edge_is_opened(self):
        """A lift that rises above the floor behind it needs a rail that nobody has set there."""
        small.change(self.folder, "layout.yaml", "height: 0.5, terrace: {steps: 2, riser: 0.2,",
                     "height: -0.2, terrace: {steps: 2, riser: 0.2,")
        self.write("  - {layout: \"machines.lifts[L-A1].height\", from: -0.2, to: 1.5, name: height}\n",
                   "aims: [{figure: c_p10_mm, best: most}]\nsearch: {points: 40}\n", "[c_p10_mm]")
        self.seek("out", "--quiet", status=None)
        reasons = [p["refused"] for p in self.json("out")["points"] if p["refused"]]
        self.assertTrue([r for r in reasons if r.startswith("opens ")], reasons)

    def test_a_range_is_searched_alone(self):
        self.write("  - {venue: machines.crew.people, from: 1, to: 9}\n",
                   "aims: [{figure: crew_hours, best: least}]\nsearch: {points: 5}\n", "[crew_hours]")
        self.assertIn("--seek", self.sweep("out", status=2)[1])
        self.seek("out", "--shard", "1/2", status=2)
        self.write(CREW, "aims: [{figure: crew_hours, best: least}]\n", "[crew_hours]")
        self.assertIn("states no search", self.seek("out", status=2)[1])
        self.write(CREW, "search: {points: 5}\n", "[crew_hours]")
        self.assertIn("needs aims", self.seek("out", status=2)[1])


class Again(SeekTest):
    def setUp(self):
        super().setUp()
        self.study(1)

    def study(self, seed):
        self.write(HOIST + RISER + CREW, "aims: [{figure: visible_median, best: most}, {figure: crew_hours, best: least}]\n"
                   f"search: {{points: 24, seed: {seed}}}\n", "[crew_hours, visible_median]")

    def journal(self, out):
        with open(self.path(out, "journal.txt"), encoding="utf-8") as source:
            return source.read().splitlines()

    def test_the_same_points_each_time(self):
        self.seek("one", "--quiet")
        self.seek("two", "--quiet", "--threads", "2")
        self.assertEqual(self.tables("one"), self.tables("two"))
        self.seek("three", "--quiet", "--from-scratch")
        self.assertEqual(self.tables("one"), self.tables("three"))
        self.study(2)
        self.assertIn("take another folder", self.seek("one", "--quiet", status=2)[1])
        self.seek("four", "--quiet")
        self.assertNotEqual([p["values"] for p in self.json("one")["points"]],
                            [p["values"] for p in self.json("four")["points"]])

    def test_a_run_that_was_stopped_goes_on(self):
        started = time.monotonic()
        self.seek("whole", "--quiet")
        took_s = time.monotonic() - started
        chance = random.Random(3)
        for _ in range(4):
            shutil.rmtree(self.path("out"), ignore_errors=True)
            run = subprocess.Popen([hall.GRADIN, "sweep", "study.yaml", "--seek", "--out", "out", "--samples", "64",
                                    "--quiet"], cwd=self.folder)
            time.sleep(chance.uniform(0, took_s))
            run.kill()
            run.wait()
            before = self.journal("out") if os.path.exists(self.path("out", "journal.txt")) else []
            self.seek("out", "--quiet")
            self.assertEqual(self.tables("out"), self.tables("whole"))
            after = self.journal("out")
            self.assertEqual(after[:max(0, len(before) - 1)], before[:-1])
            self.assertEqual([line.split()[1] for line in after[1:]], [str(i) for i in range(24)])

    def test_the_journal_of_a_table_of_all_is_another_one(self):
        self.sweep("all", "--quiet", status=None)
        self.assertIn("take another folder", self.seek("all", status=2)[1])


if __name__ == "__main__":
    unittest.main(verbosity=1)
