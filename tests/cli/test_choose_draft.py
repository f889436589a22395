#!/usr/bin/python3
"""gradin choose --draft: layouts drafted from what a show asks, ranked, and there to be opened."""

import json
import os
import re

from hall import plain
from drafting import DraftTest, trial

SHOW = """format: gradin-show-1
units: m
name: Small play
must: {seats: 60, wheelchairs: 5, stage_area: 20, not_forms: [thrust, traverse, round]}
shades: shut
wishes:
  - {for: form, weight: 1, forms: [end_stage]}
  - {for: good_share, weight: 1, nothing_at: 0, full_at: 1}
"""


class Drafted(DraftTest):
    def setUp(self):
        super().setUp()
        venue, wishes, _ = trial(0)
        venue.update(side=2.7, columns=6, rows=6, width=6 * 2.7 + 8, depth=6 * 2.7 + 8, x=4, y=4, ceiling=9, one=11,
                     two=22, steps=3, high=4, riser=0.6, door=4, door_x=1, exit_mm=5, guard_drop=0.6, rail_min=0.8)
        self.write_trial(venue, wishes)
        self.write("show.yaml", SHOW)

    def write(self, name, text):
        with open(self.path(name), "w", encoding="utf-8") as out:
            out.write(text)

    def choose(self, *arguments):
        return self.run_here("choose", "show.yaml", *arguments, "--samples", "64")

    def test_job(self):
        code, text, err = self.choose("--draft", "venue.yaml", "--out", "out")
        self.assertIn(code, (0, 1), err)
        names = sorted(n for n in os.listdir(self.path("out")) if n.endswith(".yaml"))
        self.assertEqual(names, ["end_stage.yaml", "flat_floor.yaml", "wishes_end_stage.yaml", "wishes_flat_floor.yaml"])
        self.assertIn("The drafts are in out", text)
        with open(self.path("out/choice.json"), encoding="utf-8") as source:
            made = json.load(source)
        self.assertEqual({one["layout"] for one in made["layouts"]}, {"Draft, end stage", "Draft, flat floor"})
        for one in made["layouts"]:
            must = {m["for"]: m for m in one["must"]}
            self.assertGreaterEqual(must["stage_area"]["value"], 20)
            self.assertEqual(must["stage_area"]["verdict"], "has it")
            self.assertGreaterEqual(must["wheelchairs"]["value"], 5)
        # What was written is what was ranked: it passes check and fit, and chooses the same again.
        drafts = ["out/end_stage.yaml", "out/flat_floor.yaml"]
        self.assertEqual(self.run_here("check", *drafts, "--quiet")[0], 0)
        for draft in drafts:
            self.assertEqual(self.run_here("fit", draft, "--quiet")[0], 0, draft)
        code_again, text_again, _ = self.choose(*drafts)
        self.assertEqual(code_again, code)
        self.assertEqual(text_again, text[:text.index("\nThe drafts are in out")])
        # The wishes make the very draft.
        self.assertEqual(self.run_here("draft", "out/wishes_end_stage.yaml", "--out", "out/again.yaml", "--quiet")[0], 0)
        with open(self.path("out/again.yaml"), encoding="utf-8") as a, open(self.path(drafts[0]), encoding="utf-8") as b:
            self.assertEqual(a.read(), b.read())

    def recorded(self, kind):
        """{name: digest} of the record's lines of a kind."""
        with open(self.path("out/run-choose.txt"), encoding="utf-8") as file:
            lines = [line.rstrip("\n").split("\t", 1) for line in file]
        return {value.split(" ", 1)[1]: value.split(" ", 1)[0] for key, value in map(tuple, lines[1:]) if key == kind}

    def test_edited_drafts_are_their_users(self):
        self.assertIn(self.choose("--draft", "venue.yaml", "--out", "out")[0], (0, 1))
        drafted = self.recorded("file")
        # Ranked once more into the same folder: what is read stays, whether somebody edited it or not.
        with open(self.path("out/end_stage.yaml"), "a", encoding="utf-8") as file:
            file.write("# mine\n")
        code, _, err = self.choose("out/end_stage.yaml", "out/flat_floor.yaml", "--out", "out")
        self.assertIn(code, (0, 1), err)
        with open(self.path("out/end_stage.yaml"), encoding="utf-8") as file:
            edited = file.read()
        self.assertTrue(edited.endswith("# mine\n"))
        self.assertEqual(self.recorded("input")["flat_floor.yaml"], drafted["flat_floor.yaml"])
        self.assertNotEqual(self.recorded("input")["end_stage.yaml"], drafted["end_stage.yaml"])
        # Drafted once more: nothing is written over.
        before = sorted(os.listdir(self.path("out")))
        code, _, err = self.choose("--draft", "venue.yaml", "--out", "out")
        self.assertEqual(code, 2)
        self.assertEqual(err, "out/end_stage.yaml: is there, and not as the last run left it; move it away, or "
                              "name another folder\n")
        with open(self.path("out/end_stage.yaml"), encoding="utf-8") as file:
            self.assertEqual(file.read(), edited)
        self.assertEqual(sorted(os.listdir(self.path("out"))), before)

    def test_drafts_nobody_touched_are_drafted_again(self):
        """Ranked in between, too: all of them, one of them; and after a run that failed half-way."""
        drafts = ["out/end_stage.yaml", "out/flat_floor.yaml"]
        for between in (drafts, drafts[:1], None):
            code, _, err = self.choose("--draft", "venue.yaml", "--out", "out")
            self.assertIn(code, (0, 1), err)
            if between:
                self.assertIn(self.choose(*between, "--out", "out")[0], (0, 1))
            for name in drafts + ["out/wishes_end_stage.yaml", "out/wishes_flat_floor.yaml"]:
                self.assertTrue(os.path.exists(self.path(name)), name)

    def test_a_run_that_fails_after_the_drafts_can_be_run_again(self):
        self.write("show.yaml", SHOW + "brief: brief.yaml\n")
        self.write("brief.yaml", "format: gradin-brief-1\nunits: m\nnonsense: 1\n")
        self.assertEqual(self.choose("--draft", "venue.yaml", "--out", "out")[0], 2)
        self.write("show.yaml", SHOW)
        code, _, err = self.choose("--draft", "venue.yaml", "--out", "out")
        self.assertIn(code, (0, 1), err)

    def test_wishes_stay_when_nothing_is_made_of_new_ones(self):
        self.assertIn(self.choose("--draft", "venue.yaml", "--out", "out")[0], (0, 1))
        with open(self.path("out/wishes_end_stage.yaml"), encoding="utf-8") as file:
            wishes = file.read()
        self.write("show.yaml", SHOW.replace("stage_area: 20", "stage_area: 3000"))
        self.assertEqual(self.choose("--draft", "venue.yaml", "--out", "out")[0], 2)
        with open(self.path("out/wishes_end_stage.yaml"), encoding="utf-8") as file:
            self.assertEqual(file.read(), wishes)

    def test_refused(self):
        code, _, err = self.choose("--draft", "venue.yaml")
        self.assertEqual((code, "--draft needs --out" in err), (2, True))
        self.write("show.yaml", SHOW.replace("stage_area: 20, ", ""))
        code, _, err = self.choose("--draft", "venue.yaml", "--out", "none")
        self.assertEqual((code, "states no must.stage_area" in err), (2, True))
        self.write("show.yaml", SHOW.replace("stage_area: 20", "stage_area: 3000"))
        code, _, err = self.choose("--draft", "venue.yaml", "--out", "none")
        self.assertEqual(code, 2)
        self.assertIn("no layout can be drafted", err)
        self.assertEqual(len(re.findall("is not drafted", err)), 2)
        self.assertEqual(os.listdir(self.path("none")), [])


if __name__ == "__main__":
    plain.main()
