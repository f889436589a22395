#!/usr/bin/python3
"""summary.json of real assessments, season.json of a season and changeover.json of real plans obey
their schemas in reference/, and the check itself can fail.

usage: test_schema.py GRADIN SOURCE_DIR"""

import copy
import json
import os
import shutil
import subprocess
import sys
import tempfile
import unittest

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, HERE)
sys.path.insert(0, os.path.join(HERE, "..", "support"))
import plain  # noqa: E402
import validate  # noqa: E402

GRADIN, SOURCE = (os.path.abspath(p) for p in (sys.argv.pop(1), sys.argv.pop(1)))


def schema(name):
    with open(os.path.join(SOURCE, "reference", name), encoding="utf-8") as text:
        return json.load(text)


SUMMARY, SEASON = schema("summary-schema.json"), schema("season-schema.json")
PLAN_SCHEMA = schema("changeover-schema.json")


def breaches(value, rules=None):
    rules = rules or SUMMARY
    return list(validate.breaches(value, rules, rules))


def assess(folder, layout):
    """The summary on standard output; the one written must hold the same."""
    out = os.path.join(folder, "out")
    run = subprocess.run([GRADIN, "assess", os.path.join(folder, "demo", layout), "--out", out,
                          "--samples", "64", "--no-maps", "--json"],
                         capture_output=True, text=True, check=True)
    with open(os.path.join(out, "summary.json"), encoding="utf-8") as written:
        assert written.read() == run.stdout
    return json.loads(run.stdout)


def season(folder, layout, *changes):
    """The season of one class on one track; changes are (file, old passage, new passage)."""
    demo = os.path.join(folder, "demo")
    for name, old, new in changes:
        with open(os.path.join(demo, name), encoding="utf-8") as source:
            text = source.read()
        assert old in text, (name, old)
        with open(os.path.join(demo, name), "w", encoding="utf-8") as out:
            out.write(text.replace(old, new))
    with open(os.path.join(demo, "season.csv"), encoding="utf-8") as source:
        lines = source.read().splitlines()
    with open(os.path.join(demo, "season.csv"), "w", encoding="utf-8") as out:
        out.write("\n".join(lines[:1] + [x for x in lines if ",medium jet,approach" in x]) + "\n")
    run = subprocess.run([GRADIN, "overflight", os.path.join(demo, layout), "--traffic",
                          os.path.join(demo, "season.yaml"), "--json"],
                         capture_output=True, text=True, check=True)
    return json.loads(run.stdout)


class Season(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.folder = self.temporary.name
        shutil.copytree(os.path.join(SOURCE, "demo"), os.path.join(self.folder, "demo"))

    def tearDown(self):
        self.temporary.cleanup()

    def expect(self, broken, wanted):
        found = breaches(broken, SEASON)
        self.assertTrue(any(wanted in line for line in found), (wanted, found))

    def test_season(self):
        whole = season(self.folder, "round.yaml")
        self.assertEqual(breaches(whole, SEASON), [])
        self.assertEqual(len(whole["starts"]), 96)
        changes = [
            (lambda s: s["uncertainty"].pop("source"), "$.uncertainty: lacks ['source']"),
            (lambda s: s.update(more=1), "$: has unknown keys ['more']"),
            (lambda s: s["speech"].update(voice="whisper"), "$.speech.voice: is not one of"),
            (lambda s: s["performance"].update(start="7 pm"), "$.performance.start: does not"),
            (lambda s: s["bays"][0].update(without_db=1), "$.bays[0].without_db: is above 0"),
            (lambda s: s["worst_seats"].extend(s["worst_seats"]), "has more than 10 items"),
            (lambda s: s["lamax_open_dba"].pop("p90"), "$.lamax_open_dba: lacks ['p90']"),
        ]
        for change, wanted in changes:
            broken = copy.deepcopy(whole)
            change(broken)
            self.expect(broken, wanted)

    def test_without_a_limit_or_words_to_lose(self):
        bare = season(self.folder, "round.yaml", ("brief.yaml", "lamax", "#lamax"),
                      ("season.yaml", "voice: raised", "voice: normal, sii_least: 0.9"))
        self.assertEqual(breaches(bare, SEASON), [])
        self.assertEqual((bare["limit_dba"], bare["starts"]), (None, []))
        self.assertIsNone(bare["performance"]["events_over_high"])
        self.assertIsNone(bare["worst_seats"][0]["words_lost_s"])


class Schema(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        shutil.copytree(os.path.join(SOURCE, "demo"), os.path.join(cls.folder.name, "demo"))
        cls.summary = assess(cls.folder.name, "thrust.yaml")

    @classmethod
    def tearDownClass(cls):
        cls.folder.cleanup()

    def edit(self, name, keep):
        """A copy of a demo file with only those lines that keep() wants."""
        path = os.path.join(self.folder.name, "demo", name)
        with open(path, encoding="utf-8") as source:
            lines = [line for line in source if keep(line)]
        with open(os.path.join(os.path.dirname(path), "edited.yaml"), "w",
                  encoding="utf-8") as edited:
            edited.writelines(lines)
        return "edited.yaml"

    def test_with_noise(self):
        self.assertEqual(breaches(self.summary), [])
        self.assertIsNotNone(self.summary["noise"])

    def test_without_noise(self):
        layout = self.edit("round.yaml", lambda line: not line.startswith("overflight:"))
        summary = assess(self.folder.name, layout)
        self.assertEqual(breaches(summary), [])
        self.assertIsNone(summary["noise"])

    def test_counts_agree(self):
        rating = self.summary["rating"]
        self.assertEqual(sum(one["seats"] for one in rating.values()), self.summary["seats"]["all"])
        share = sum(one["share_pct"] for one in self.summary["noise"]["elements"])
        self.assertLess(abs(share - 100.0), 0.05 * len(self.summary["noise"]["elements"]))

    def test_breaches_are_found(self):
        changes = [
            (lambda s: s.pop("noise"), "$: lacks ['noise']"),
            (lambda s: s.update(extra=1), "$: has unknown keys ['extra']"),
            (lambda s: s["seats"].update(all=1.5), "$.seats.all: is no integer"),
            (lambda s: s["seats"].update(all=-1), "$.seats.all: is below 0"),
            (lambda s: s.update(form="opera"), "$.form: is not one of"),
            (lambda s: s.update(input_digest="x"), "$.input_digest: does not match"),
            (lambda s: s["worst_seats"].extend([s["worst_seats"][0]] * 9),
             "$.worst_seats: has more than 10 items"),
            (lambda s: s["worst_seats"][0].update(visible_pct=101), "is above 100"),
            (lambda s: s["noise"]["band_hz"].pop(), "has fewer than 21 items"),
            (lambda s: s["noise"]["nc"].pop("p90"), "$.noise.nc: lacks ['p90']"),
            (lambda s: s.update(format="gradin-summary-2"), "$.format: is not 'gradin-summary-1'"),
        ]
        for change, wanted in changes:
            broken = copy.deepcopy(self.summary)
            change(broken)
            found = breaches(broken)
            self.assertTrue(any(wanted in line for line in found), (wanted, found))

    def test_one_kind_of_several(self):
        kinds = {"anyOf": [{"type": "null"}, {"type": "object", "required": ["a"]}]}
        self.assertEqual([list(validate.breaches(v, kinds, {})) for v in (None, {"a": 1})], [[], []])
        self.assertEqual(list(validate.breaches({}, kinds, {})), ["$: is none of 2 kinds"])

    def test_an_unknown_keyword_is_a_breach(self):
        self.assertEqual(list(validate.breaches(1, {"multipleOf": 2}, {})),
                         ["$: the schema's keyword 'multipleOf' is not known here"])


class Changeover(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.plan = cls.run_plan("thrust.yaml", "end_stage.yaml")

    @staticmethod
    def run_plan(*arguments):
        run = subprocess.run([GRADIN, "changeover", *arguments, "--json"], text=True, check=False,
                             capture_output=True, cwd=os.path.join(SOURCE, "demo"))
        assert run.returncode in (0, 1), run.stderr
        return json.loads(run.stdout)

    def test_plans_obey(self):
        self.assertEqual(breaches(self.plan, PLAN_SCHEMA), [])
        self.assertGreater(len(self.plan["moves"]), 20)
        gap = self.run_plan("flat_floor.yaml", "flat_floor.yaml", "--gap", "1")
        self.assertEqual(breaches(gap, PLAN_SCHEMA), [])
        self.assertEqual((gap["moves"], gap["fits_gap"]), ([], True))

    def test_what_the_schema_cannot_say(self):
        moves = self.plan["moves"]
        self.assertEqual(sorted(m["start_s"] for m in moves), [m["start_s"] for m in moves])
        self.assertEqual(max(m["start_s"] + m["duration_s"] for m in moves), self.plan["total_s"])
        self.assertTrue(any("moving machinery" in line for line in self.plan["cautions"]))
        for move in moves:
            if move["waits_for"] is not None:
                # For its end, or for the store lift that it brings back from a trip.
                other = moves[move["waits_for"] - 1]
                back = {trip_s + self.plan["store_trip_s"] for trip_s in other["store_trips_s"] or ()}
                is_for_lift = back & set(move["store_trips_s"] or ()) and move["starts"] == "crew or power"
                self.assertTrue(other["start_s"] + other["duration_s"] == move["start_s"] or is_for_lift, move["name"])

    def test_breaches_are_found(self):
        for change, wanted in (
                (lambda p: p.pop("cautions"), "$: lacks ['cautions']"),
                (lambda p: p["cautions"].pop(), "$.cautions: has fewer than 4 items"),
                (lambda p: p["moves"][0].update(kind="fly"), "$.moves[0].kind: is not one of"),
                (lambda p: p["moves"][0].update(start_s=-1), "$.moves[0].start_s: is below 0"),
                (lambda p: p["from"].update(x=1), "$.from: has unknown keys ['x']"),
                (lambda p: p["moves"][3].pop("rule"), "$.moves[3]: lacks ['rule']"),
                (lambda p: p.update(total_s=1.5), "$.total_s: is no integer")):
            broken = copy.deepcopy(self.plan)
            change(broken)
            found = breaches(broken, PLAN_SCHEMA)
            self.assertTrue(any(wanted in line for line in found), (wanted, found))


if __name__ == "__main__":
    plain.main()
