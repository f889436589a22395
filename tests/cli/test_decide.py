#!/usr/bin/python3
"""What would embarrass somebody who decides by these figures: arguments the other way round, a renamed block, a relaxation
that does not let a layout in, dates and venues that cannot be.

usage: test_decide.py GRADIN"""

import json
import re
import unittest

import hall
import small
import studies

MUST = {"seats": "seats: %s", "wheelchairs": "wheelchairs: %s", "good_share": "good_share: %s", "clear_share": "clear_share: %s",
        "distance": "distance: %s"}


class Decide(studies.StudyTest):
    def run_json(self, *arguments, status=(0, 1)):
        code, out, err = hall.run(*arguments, "--samples", "64", "--json", cwd=self.folder)
        self.assertIn(code, status, err)
        return json.loads(out) if code in (0, 1) else err

    def copy(self, name, *changes):
        with open(self.path("layout.yaml"), encoding="utf-8") as source:
            text = source.read()
        for old, new in changes:
            self.assertIn(old, text)
            text = text.replace(old, new)
        small.write(self.folder, name, text)

    def test_the_other_way_round_is_the_mirrored_verdict(self):
        there = self.run_json("compare", "layout.yaml", "other.yaml")["pairs"][0]["all"]
        back = self.run_json("compare", "other.yaml", "layout.yaml")["pairs"][0]["all"]
        turned = lambda a: dict(a, better=a["worse"], worse=a["better"])
        self.assertEqual((there["better"], there["same"], there["worse"]), (back["worse"], back["same"], back["better"]))
        self.assertEqual((there["better_by"], there["worse_by"]), (back["worse_by"], back["better_by"]))
        for name, figure in there["figures"].items():
            self.assertEqual(figure, turned(back["figures"][name]), name)
        self.assertGreater(there["better"] + there["worse"], 0)

    def test_a_renamed_block_is_the_same_seats(self):
        self.copy("renamed.yaml", ("name: Stalls", "name: Pit"), ("name: Small layout", "name: Renamed"))
        made = self.run_json("compare", "layout.yaml", "renamed.yaml")["pairs"][0]["all"]
        self.assertEqual((made["matched_by_name"], made["matched_by_place"]), (14, 32))
        self.assertEqual((made["better"], made["worse"], made["only_in_first"], made["only_in_second"]), (0, 0, 0, 0))
        for name, figure in made["figures"].items():
            self.assertEqual((figure["better"], figure["worse"]), (0, 0), name)

    def show(self, needs, hours):
        small.write(self.folder, "show.yaml", "format: gradin-show-1\nunits: m\nname: Small play\nbrief: brief.yaml\nmust: {"
                    + ", ".join(MUST[k] % v for k, v in needs.items()) + "}\npartners:\n  - {name: Other, layout: other.yaml, "
                    f"hours: {hours}, margin_minutes: 10}}\nwishes:\n"
                    "  - {for: good_share, weight: 1, nothing_at: 0, full_at: 1}\n")

    def chosen(self):
        return self.run_json("choose", "show.yaml", "layout.yaml", "other.yaml", "--no-crews")["layouts"]

    def test_the_relaxation_that_is_named_lets_it_in(self):
        for needs, hours in (({"seats": 30, "wheelchairs": 1, "good_share": 0.6, "distance": 6}, 1),
                             ({"seats": 45, "clear_share": 0.2, "distance": 8.3}, 2.4),
                             ({"seats": 20, "good_share": 0.333, "distance": 7.77}, 3)):
            self.show(needs, hours)
            first = {one["layout"]: one for one in self.chosen()}
            self.assertTrue([m for one in first.values() for m in one["must"] if m["verdict"] != "has it"])
            for layout, one in first.items():
                relaxed, gap = dict(needs), hours
                for m in one["must"]:
                    if m["lets_in"] is None:
                        self.assertEqual(m["verdict"], "has it")
                    elif m["for"] == "changeover":
                        gap = m["lets_in"] / 3600 + 10 / 60
                    else:
                        relaxed[m["for"]] = m["lets_in"] / (100 if m["unit"] == "%" else 1)
                self.show({k: v for k, v in relaxed.items() if v > 0}, gap)
                again = [a for a in self.chosen() if a["layout"] == layout][0]
                self.assertEqual({m["for"]: m["verdict"] for m in again["must"] if m["verdict"] != "has it"}, {},
                                 (layout, relaxed, gap))

    def test_what_cannot_be(self):
        self.show({"seats": 10}, 1)
        for change, says in ((("weight: 1", "weight: 0"), "no weight above 0"),
                             (("wishes:", "quiet: {traffic: season.yaml, limit_dba: 40, events: 1}\nperformances: {starts: "
                               "[\"19:30\"], from: 2031-01-01, to: 2031-01-02}\nwishes:"), "days that the traffic does not have")):
            self.show({"seats": 10}, 1)
            small.change(self.folder, "show.yaml", *change)
            code, _, err = hall.run("choose", "show.yaml", "layout.yaml", cwd=self.folder)
            self.assertEqual(code, 2)
            self.assertIn(says, err)
        small.change(self.folder, "plain.yaml", "name: Small room", "name: Another room")
        self.copy("elsewhere.yaml", ("venue: venue.yaml", "venue: plain.yaml"), ("name: Small layout", "name: Elsewhere"))
        self.show({"seats": 10}, 1)
        code, _, err = hall.run("choose", "show.yaml", "layout.yaml", "elsewhere.yaml", cwd=self.folder)
        self.assertEqual((code, bool(re.search("two venues", err))), (2, True), err)


if __name__ == "__main__":
    unittest.main(verbosity=1)
