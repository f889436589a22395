#!/usr/bin/python3
"""gradin rails: never a height below the venue's own minimum, and the cautions with every table."""

import csv
import json
import os
import re

import hall
from hall import plain


class Rails(hall.HallTest):
    def rails(self, layout):
        code, out, err = self.run_here("rails", f"{layout}.yaml", "--out", "rails")
        self.assertEqual((code, err), (0, ""))
        self.assertLessEqual(max(len(line) for line in out.splitlines()), 80)
        for words in ("A lower rail is no sightline fix without the authority's approval.",
                      "local codes and licensed practice decide"):
            self.assertIn(words, hall.flat(out))
        return out, self.table("rails.csv")

    def table(self, name):
        with open(self.path(os.path.join("rails", name)), encoding="utf-8", newline="") as source:
            return list(csv.DictReader(source, strict=True))

    def expect_minimum(self, rows, minimum):
        none = 0
        for row in rows:
            if row["whole_up_to_m"]:
                self.assertGreaterEqual(float(row["whole_up_to_m"]), minimum, row["seat"])
            self.assertEqual(row["note"] == "", row["whole_up_to_m"] != "")
            none += row["note"] == "none at or above the minimum"
        return none

    def test_nothing_below_the_minimum(self):
        _, rows = self.rails("thrust")
        low = self.expect_minimum(rows, 0.8)
        self.assertGreater(low, 0)
        self.change("hall.yaml", "rail_min: 0.80", "rail_min: 0.84")
        out, rows = self.rails("thrust")
        self.assertGreater(self.expect_minimum(rows, 0.84), low)
        self.assertIn("Lowest rail that the venue's own local rules allow: 0.840 m.", out)

    def assessed(self, layout):
        self.assertEqual(self.run_here("assess", f"{layout}.yaml", "--out", "out", "--quiet",
                                       "--no-maps")[0], 0)
        return hall.Table(self.path("out")).seat

    def test_figures_agree_with_the_assessment(self):
        """What its rails hide from a seat adds up to what the assessment says of rails; by seat the
        one that hides most comes first; taking one away gives back no more than it hides."""
        _, rows = self.rails("thrust")
        seats, hidden, last = self.assessed("thrust"), {}, {}
        for row in rows:
            hides = float(row["hides_pct"])
            hidden[row["seat"]] = hidden.get(row["seat"], 0.0) + hides
            self.assertLessEqual(hides, last.get(row["seat"], 100.0))
            self.assertLessEqual(float(row["gives_back_pct"]), hides)
            self.assertLess(float(row["whole_up_to_m"] or 0.0), float(row["height_m"]))
            last[row["seat"]] = hides
        self.assertGreater(len(hidden), 100)
        for name, seat in seats.items():
            self.assertAlmostEqual(float(seat["hidden_rails_pct"]), hidden.get(name, 0.0), delta=0.16)

    def test_a_rail_that_hides_nothing_is_not_blamed(self):
        """The guard behind the end stage stands at the far edge of what is looked at: it hides
        nothing from any seat, and no seat is sent to it."""
        self.rails("end_stage")
        _, out, _ = self.run_here("rails", "end_stage.yaml", "--out", "rails", "--json")
        self.assertNotIn("none at or above the minimum",
                         [seat["note"] for seat in json.loads(out)["seats"]])
        for seat in self.assessed("end_stage").values():
            self.assertEqual(seat["hidden_rails_pct"], "0.0")

    def test_obeyed_it_leaves_nothing_hidden(self):
        """A tower's rails lowered to the least of the heights given for them hide nothing."""
        self.change("hall.yaml", "rail_min: 0.80", "rail_min: 0.40")
        _, rows = self.rails("thrust")
        tops = [float(row["whole_up_to_m"]) for row in rows if "upper rail" in row["rail"]]
        self.assertGreater(len(tops), 50)
        with open(self.path("hall.yaml"), encoding="utf-8") as source:
            text = source.read()
        text, n = re.subn(r"(\{kind: \w+, height: )0\.85", rf"\g<1>{min(tops):.3f}", text)
        self.assertGreater(n, 0)
        with open(self.path("hall.yaml"), "w", encoding="utf-8") as target:
            target.write(text)
        _, rows = self.rails("thrust")
        self.assertEqual([row["rail"] for row in rows if "upper rail" in row["rail"]], [])

    def test_a_balcony_s_rail_needs_its_foot(self):
        """Without a foot it is refused, not put on the stalls floor; the level of its seats will do
        as well as the height."""
        before = self.assessed("hexagon_stage")
        self.change("hexagon_stage.yaml", "foot: 15.5, level: balcony,", "")
        code, _, err = self.run_here("check", "hexagon_stage.yaml")
        self.assertEqual(code, 2)
        self.assertRegex(err, r"hexagon_stage.yaml:\d+:\d+: rails\[1\]: rail balcony front could "
                              r"stand at 0.76 m or on balcony floor; give its foot, or the level of "
                              r"the seats that it guards\n")
        self.change("hexagon_stage.yaml", "foot: 15.5, ", "")
        self.assertEqual(before, self.assessed("hexagon_stage"))

    def test_overhangs(self):
        out, _ = self.rails("end_stage")
        rows = self.table("overhangs.csv")
        lost = [row for row in rows if row["lose_arch_top"] != "0"]
        self.assertIn(f"under an overhang: {len(lost)}\n", out)
        for row in rows:
            self.assertEqual(row["lose_set_top"], "")
            self.assertEqual(row["arch_under"] == "", row["lose_arch_top"] == "0")
            self.assertLessEqual(float(row["arch_seen_to_m"]), 7.5)

    def test_refusals(self):
        for arguments, line in ((["rails"], "gradin: rails: one layout is needed, not 0"),
                                (["rails", "thrust.yaml"], "gradin: rails: --out DIR is needed"),
                                (["rails", "thrust.yaml", "--ot", "x"],
                                 "gradin: rails: unknown option '--ot'; did you mean '--out'?")):
            self.assertEqual(self.run_here(*arguments), (2, "", line + "\n"))


if __name__ == "__main__":
    plain.main()
