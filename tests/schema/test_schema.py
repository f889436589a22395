#!/usr/bin/python3
"""summary.json of real assessments obeys reference/summary-schema.json, and the check itself can
fail.

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
with open(os.path.join(SOURCE, "reference", "summary-schema.json"), encoding="utf-8") as text:
    SCHEMA = json.load(text)


def breaches(value):
    return list(validate.breaches(value, SCHEMA, SCHEMA))


def assess(folder, layout):
    """The summary on standard output; the one written must hold the same."""
    out = os.path.join(folder, "out")
    run = subprocess.run([GRADIN, "assess", os.path.join(folder, "demo", layout), "--out", out,
                          "--samples", "64", "--no-maps", "--json"],
                         capture_output=True, text=True, check=True)
    with open(os.path.join(out, "summary.json"), encoding="utf-8") as written:
        assert written.read() == run.stdout
    return json.loads(run.stdout)


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

    def test_an_unknown_keyword_is_a_breach(self):
        self.assertEqual(list(validate.breaches(1, {"multipleOf": 2}, {})),
                         ["$: the schema's keyword 'multipleOf' is not known here"])


if __name__ == "__main__":
    plain.main()
