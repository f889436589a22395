"""The budget of a changeover's search: the same budget gives the same bytes, another one another plan that holds the
same rules, and the search says on a terminal how far it has got.

Studies that want many plans take a budget of their own.

usage: test_nodes.py GRADIN"""

import datetime
import json
import tempfile
import unittest

import hall
import many_lifts
from test_plans import complaints, plan_rows

PAIR = ("end_stage.yaml", "thrust.yaml")


class Nodes(hall.HallTest):
    def plan(self, *more):
        code, text, err = hall.run("changeover", *PAIR, "--json", *more, cwd=self.folder)
        self.assertEqual((code, err), (0, ""))
        return text

    def test_the_same_budget_gives_the_same_bytes(self):
        once, again = (self.plan("--nodes", "2000", "--start", "2027-03-04T22:30") for _ in "ab")
        self.assertEqual(once, again)

    def test_the_usual_budget_by_its_number(self):
        self.assertEqual(self.plan(), self.plan("--nodes", "30000"))

    def test_a_small_budget_gives_a_valid_plan(self):
        """Rules by plan_rules.py, which has no code of the engine. A plan of a smaller budget ends between the bound
        of the larger one and, its gap being printed, not under its own."""
        rows = plan_rows(self.folder, "end_stage", "thrust", "--nodes", "1000")
        self.assertEqual(complaints(self.folder, "end_stage", "thrust", rows), [])
        small, usual = (json.loads(self.plan("--nodes", n)) for n in ("1000", "30000"))
        self.assertEqual(max(int(row["end_s"]) for row in rows), small["total_s"])
        for one in (small, usual):
            self.assertLessEqual(max(small["lower_bound_s"], usual["lower_bound_s"]), one["work_s"])
        code, text, _ = hall.run("changeover", *PAIR, "--nodes", "1000", cwd=self.folder)
        gap = 100 * (small["work_s"] - small["lower_bound_s"]) / small["lower_bound_s"]
        self.assertGreater(gap, 0)
        self.assertEqual(code, 0)
        self.assertIn(f"(gap at most {gap:.1f} %)", text)

    def test_a_budget_is_used(self):
        """Another budget breeds more schedules: some pair of the demo gets another plan, and none a longer one than
        a hundredth."""
        few, many = (self.matrix("--nodes", n) for n in ("1000", "20000"))
        self.assertNotEqual(few, many)
        self.assertTrue(all(b <= a * 1.01 for a, b in zip(few, many)), (few, many))

    def matrix(self, *more):
        code, text, err = hall.run("changeover", "--matrix", *PAIR, "round.yaml", "--json", *more, cwd=self.folder)
        self.assertEqual((code, err), (0, ""))
        return [cell["total_s"] for cell in json.loads(text)["pairs"]]

    def total(self, n, *more):
        code, text, err = hall.run("changeover", "flat_floor.yaml", "thrust.yaml", "--nodes", n, "--json", *more,
                                   cwd=self.folder)
        self.assertEqual((code, err), (0, ""))
        return json.loads(text)["total_s"]

    def test_studies_of_many_changeovers(self):
        """They take 1,000 steps for each, or as many as are asked for: then their plans are those of `changeover`."""
        verbs = (("changeover", "--matrix", "flat_floor.yaml", "thrust.yaml"),
                 ("compare", "flat_floor.yaml", "thrust.yaml", "--samples", "16"))
        found = {n: self.total(n) for n in ("1000", "12000")}
        self.assertNotEqual(found["1000"], found["12000"])
        for more, n in (((), "1000"), (("--nodes", "12000"), "12000")):
            for verb in verbs:
                code, text, err = hall.run(*verb, "--json", *more, cwd=self.folder)
                self.assertEqual((code, err), (0, ""))
                made = json.loads(text)
                self.assertEqual((made.get("changeovers") or made["pairs"])[0]["total_s"], found[n], (verb, n))
            self.check_programme(more, n)

    def check_programme(self, more, n):
        """The first changeover of the demo's run."""
        code, text, err = hall.run("programme", "march.yaml", "--json", *more, cwd=self.folder)
        self.assertEqual((code, err), (0, ""))
        made = json.loads(text)["shows"][0]["changeover"]
        begin, end = (datetime.datetime.fromisoformat(made[key]) for key in ("from", "to"))
        self.assertEqual((end - begin).total_seconds(), self.total(n, "--start", made["from"]) // 60 * 60)

    def test_refused(self):
        for value in ("0", "999", "1.5", "100000001", "many"):
            code, out, err = hall.run("changeover", *PAIR, "--nodes", value, cwd=self.folder)
            self.assertEqual((code, out), (2, ""), value)
            self.assertEqual(err, f"gradin: changeover: --nodes is '{value}'; a whole number from 1000 to "
                                  "100000000 is needed\n")


class ManyLifts(unittest.TestCase):
    """Halls of 40 and 120 lifts; tests/bench/lifts.py has the larger at the usual budget."""

    def check(self, columns, rows, n_tower, ways, *more):
        with tempfile.TemporaryDirectory() as folder:
            many_lifts.write(folder, columns, rows, n_tower)
            for one, two in ways:
                with self.subTest(lifts=columns * rows, one=one):
                    self.check_plan(many_lifts.change(folder, one, two, *more), n_tower)

    def check_plan(self, found, n_tower):
        self.assertEqual(found["code"], 0, found["said"])
        self.assertEqual(found["complaints"], [])
        lanes = {row["lane"] for row in found["rows"]}
        self.assertEqual(sum(lane.startswith("tower ") for lane in lanes), n_tower, lanes)
        gap = many_lifts.gap_percent(found["plan"])
        self.assertGreaterEqual(gap, 0)
        self.assertIn(f"(gap at most {gap:.1f} %)" if gap else "proven", hall.flat(found["said"]))

    def test_forty(self):
        self.check(8, 5, 0, (("flat", "raised"), ("raised", "flat")))

    def test_a_hundred_and_twenty_and_towers(self):
        self.check(12, 10, 20, (("flat", "raised"),), "--nodes", "1000")


class Progress(hall.HallTest):
    def test_on_a_terminal_alone(self):
        shown = self.on_terminal(*PAIR, "--nodes", "100000")
        self.assertRegex(shown, r"\rplan 1 of 1: [ 0-9][0-9] %")
        self.assertTrue(shown.endswith("\r\x1b[K"), shown)
        parts = [int(piece.split(":")[1].split("%")[0]) for piece in shown.split("\r") if "%" in piece]
        self.assertEqual(parts, sorted(set(parts)))
        self.assertLessEqual(parts[-1], 100)
        self.assertGreater(parts[-1], 50, "the tree is not in it")
        self.assertEqual(self.on_terminal(*PAIR, "--quiet", "--nodes", "60000"), "")

    def test_a_matrix_says_which_plan(self):
        self.assertRegex(self.on_terminal("--matrix", *PAIR, "--nodes", "60000"), r"\rplan [23] of 4: ")

    def on_terminal(self, *more):
        """What standard error shows when it is a terminal. Standard output is none and has the plan alone."""
        shown, out = hall.on_terminal("changeover", *more, cwd=self.folder)
        self.assertNotIn("\r", out)
        return shown


if __name__ == "__main__":
    unittest.main()
