#!/usr/bin/python3
"""Small malformed .case files, each refused with its exact line; failing cases are reported.

usage: test_refusals.py RUN_CASES"""

import os
import subprocess
import sys
import tempfile
import unittest

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "support"))
import plain  # noqa: E402

RUN_CASES = sys.argv.pop(1) if len(sys.argv) > 1 else "run_cases"
HEAD = "source trade arithmetic\nstatus derived\n"
GOOD = "riser c=60mm d=6000mm r=1100mm t=900mm = 234mm ~ 0.001mm\n"

REFUSALS = [
    (GOOD, "1: a case stands before any source"),
    ("status derived\n", "1: a status stands before any source"),
    ("source\nstatus derived\n" + GOOD, "1: the source is not named"),
    ("source x\n" + GOOD, "2: the source of line 1 has no status"),
    ("source x\nstatus certain\n" + GOOD, "2: unknown status 'certain'"),
    ("source x\nstatus derived\nsource y\n" + GOOD, "3: the source of line 1 has no case"),
    ("source x\nstatus derived\n", "2: the source of line 1 has no case"),
    (HEAD + GOOD + "source y\nstatus derived\n", "5: the source of line 4 has no case"),
    (HEAD + GOOD + "source y\n" + GOOD, "5: the source of line 4 has no status"),
    (HEAD + GOOD.replace("riser", "rizer"), "3: unknown operation 'rizer'"),
    (HEAD + GOOD.replace("d=6000mm ", ""), "3: 'r=1100mm' stands where d=... is needed"),
    (HEAD + GOOD.replace("c=60mm d=6000mm", "d=6000mm c=60mm"),
     "3: 'd=6000mm' stands where c=... is needed"),
    (HEAD + GOOD.replace("c=60mm", "c60mm"), "3: 'c60mm' stands where c=... is needed"),
    (HEAD + GOOD.replace("t=900mm", "t=900mm n=1mm"), "3: 'n=1mm' stands where = is needed"),
    (HEAD + GOOD.replace("c=60mm", "c=60,61mm"), "3: c needs 1 values"),
    (HEAD + GOOD.replace("c=60mm", "c=sixty"), "3: 'sixty' is no number"),
    (HEAD + GOOD.replace("c=60mm", "c=nan"), "3: 'nan' is no number"),
    (HEAD + GOOD.replace("c=60mm", "c=0x10mm"), "3: unknown unit 'x10mm'"),
    (HEAD + GOOD.replace("c=60mm", "c=1e999mm"), "3: '1e999mm' is no number"),
    (HEAD + GOOD.replace("c=60mm", "c="), "3: '' is no number"),
    (HEAD + GOOD.replace("c=60mm", "c=60mmm"), "3: unknown unit 'mmm'"),
    (HEAD + GOOD.replace("= 234mm", "234mm"), "3: '234mm' stands where = is needed"),
    (HEAD + GOOD.replace(" ~ 0.001mm", ""), "3: '' stands where ~ is needed"),
    (HEAD + GOOD.replace("0.001mm", "0.001dB"),
     "3: the tolerance is in 'dB', the expected value in 'mm'"),
    (HEAD + GOOD.replace("~ 0.001", "~ -0.001"), "3: the tolerance is negative"),
    (HEAD + GOOD.replace("\n", " # hm\n"), "3: '#' stands after the tolerance"),
    (HEAD + GOOD.replace(" d=", "\td="), "3: holds a tab or a carriage return"),
    (HEAD + GOOD.replace("\n", "\r\n"), "3: holds a tab or a carriage return"),
    (HEAD + GOOD.rstrip("\n"), "3: the line is too long or has no end"),
    (HEAD + "#" * 3000 + "\n" + GOOD, "3: the line is too long or has no end"),
    ("source " + "x" * 600 + "\n" + GOOD, "1: the source is too long"),
]


class Cases(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.path = os.path.join(self.folder.name, "x.case")

    def tearDown(self):
        self.folder.cleanup()

    def run_text(self, text):
        with open(self.path, "w", encoding="utf-8", newline="") as out:
            out.write(text)
        run = subprocess.run([RUN_CASES, self.path], capture_output=True, text=True, check=False)
        return run.returncode, run.stdout.splitlines(), run.stderr

    def test_refusals(self):
        for text, message in REFUSALS:
            with self.subTest(message):
                code, out, err = self.run_text(text)
                self.assertEqual((code, err), (2, f"{self.path}:{message}\n"))
                self.assertRegex(out[-1], r"^\d+ passed, \d+ failed$")

    def test_good_file(self):
        code, out, err = self.run_text("# a remark\n\n" + HEAD + GOOD)
        self.assertEqual((code, err), (0, ""))
        self.assertEqual(out, [f"{self.path}:3: 1 of 1 pass [derived] trade arithmetic",
                               "1 passed, 0 failed"])

    def test_failing_line_is_told(self):
        bad = GOOD.replace("234mm", "235mm")
        code, out, err = self.run_text(HEAD + GOOD + bad)
        self.assertEqual((code, err), (1, ""))
        self.assertEqual(out, [
            f"{self.path}:4: FAILED {bad.strip()}",
            "    got 234mm, expected 235mm, tolerance 0.001mm",
            "    [derived] trade arithmetic",
            f"{self.path}:1: 1 of 2 pass [derived] trade arithmetic",
            "1 passed, 1 failed"])

    def test_result_that_is_no_number_fails(self):
        code, out, _ = self.run_text(HEAD + GOOD.replace("d=6000mm", "d=0mm"))
        self.assertEqual((code, out[-1]), (1, "0 passed, 1 failed"))

    def test_units_are_applied(self):
        same = "riser c=0.06m d=6m r=1.1m t=90cm = 23.4cm ~ 0.0001cm\n"
        self.assertEqual(self.run_text(HEAD + same)[0], 0)
        feet = "riser c=0ft d=10ft r=0ft t=1ft = 0in ~ 0in\n"
        self.assertEqual(self.run_text(HEAD + feet)[0], 0)

    def test_no_case_at_all(self):
        self.assertEqual(self.run_text("# nothing\n"),
                         (1, ["no case at all", "0 passed, 0 failed"], ""))
        run = subprocess.run([RUN_CASES], capture_output=True, text=True, check=False)
        self.assertEqual(run.returncode, 1)

    def test_missing_file(self):
        run = subprocess.run([RUN_CASES, self.path], capture_output=True, text=True, check=False)
        self.assertEqual((run.returncode, run.stderr), (2, f"{self.path}: cannot be read\n"))


if __name__ == "__main__":
    plain.main()
