#!/usr/bin/python3
"""gradin rails: never a height below the venue's own minimum, and the cautions with every table."""

import csv
import os

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
            for name in ("whole_up_to_m", "all_hidden_from_m"):
                if row[name]:
                    self.assertGreaterEqual(float(row[name]), minimum, row["seat"])
            if row["rail"]:
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

    def test_figures_agree_with_the_assessment(self):
        """A seat with room to spare over its rail has nothing hidden by rails, and the height above
        the rail of its nearest ray is at least what it has to spare."""
        _, rows = self.rails("thrust")
        self.assertEqual(self.run_here("assess", "thrust.yaml", "--out", "out", "--quiet",
                                       "--no-maps")[0], 0)
        seats = hall.Table(self.path("out")).seat
        tried = 0
        for row in rows:
            if not row["whole_up_to_m"] or float(row["whole_up_to_m"]) < float(row["height_m"]):
                continue
            tried += 1
            self.assertEqual(float(seats[row["seat"]]["hidden_rails_pct"]), 0.0, row["seat"])
        self.assertGreater(tried, 20)

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
