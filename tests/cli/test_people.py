#!/usr/bin/python3
"""Real audiences: drawn from a population, seen with two eyes."""

import json

import hall
from hall import plain

MIX = "audience: {population: {women: 0.5, men: 0.4, children: 0.1}, eye_distance: 0.063}\n"


class People(hall.HallTest):
    def setUp(self):
        super().setUp()
        self.change("thrust.yaml", "form: thrust\n", "form: thrust\n" + MIX)

    def assess(self, out, *options):
        code, text, err = self.run_here("assess", "thrust.yaml", "--out", out, "--no-maps",
                                        "--samples", "64", *options)
        self.assertEqual((code, err), (0, ""))
        return text

    def test_threads_do_not_matter(self):
        self.assess("one", "--draws", "5", "--threads", "1")
        self.assess("three", "--draws", "5", "--threads", "3")
        self.assertEqual(hall.read_bytes(self.path("one")), hall.read_bytes(self.path("three")))

    def test_columns(self):
        text = self.assess("drawn", "--draws", "20")
        self.assertIn("  20 audiences drawn; a view is clear from ", text)
        table = hall.Table(self.path("drawn"))
        with open(self.path("drawn/summary.json"), encoding="utf-8") as source:
            draws = json.load(source)["draws"]
        self.assertEqual((draws["count"], draws["children_pct"]), (20, 10))
        clear = table.numbers("clear_view_pct")
        self.assertEqual(len(clear), len(table.rows))
        self.assertEqual(min(clear.values()), draws["clear_view_pct"]["least"])
        for row in table.rows:
            self.assertLessEqual(float(row["drawn_p10_pct"]), float(row["drawn_median_pct"]))
            self.assertGreater(float(row["clear_view_se_pct"]), 0.0)
            eyes = sum(float(row[f"{n}_pct"]) for n in ("both_eyes", "one_eye", "no_eye"))
            self.assertAlmostEqual(eyes, 100.0, delta=0.16)  # three roundings
            self.assertGreaterEqual(float(row["both_eyes_pct"]) + float(row["one_eye_pct"]),
                                    float(row["visible_pct"]) - 8.0)
        without = hall.Table(self.path("drawn"))
        self.assess("plain")
        without = hall.Table(self.path("plain"))
        self.assertNotIn("draws", without.summary)
        self.assertEqual({row["clear_view_pct"] for row in without.rows}, {""})

    def refuse(self, mix, line):
        self.setUp()
        self.change("thrust.yaml", "form: thrust\n", "form: thrust\n" + mix)
        self.assertEqual(self.run_here("check", "thrust.yaml"), (2, "", line + "\n"))

    def test_refusals(self):
        self.refuse("audience: {population: {women: 0.5, men: 0.4}}\n",
                    "thrust.yaml:13:24: audience.population: has shares of women, men and children "
                    "that do not add up to 1")
        self.refuse("audience: {population: {women: 0.5}}\n",
                    "thrust.yaml:13:24: audience.population.men: is missing")
        code, out, err = self.run_here("assess", "thrust.yaml", "--out", "out", "--draws", "10001")
        self.assertEqual((code, out, err), (2, "", "gradin: assess: --draws is '10001'; a whole "
                                            "number from 1 to 10000 is needed\n"))


if __name__ == "__main__":
    plain.main()
