#!/usr/bin/python3
"""What a user reads: every verb's text and tables for a small hall, held against the pages under
expected/. A page that changes on purpose is written again, and its difference read before it is kept:

    python3 tests/cli/test_texts.py build/rel/gradin --write

The figures on the pages are no published values: the unit tests and the cases judge those. These pages
see to it that each figure stands in its own place, under its own name, in its unit and rounding."""

import os
import re
import shutil
import sys
import tempfile
import unittest

import hall
import small
from hall import plain

HERE = os.path.dirname(os.path.abspath(__file__))
EXPECTED = os.path.join(HERE, "expected")

REWRITE = "\nif that is meant: python3 tests/cli/test_texts.py BUILD/gradin --write, and read the difference"

# name of the page: arguments of each run, each followed by the files it writes
PAGES = {
    "check": [["check", "venue.yaml", "layout.yaml", "brief.yaml", "pass.yaml", "season.yaml",
               "wishes.yaml"]],
    "assess": [["assess", "layout.yaml", "--out", "out", "--no-maps", "--samples", "256", "--draws", "20"]],
    "overflight": [["overflight", "layout.yaml", "--traffic", "season.yaml", "--out", "out", "--no-maps"]],
    "changeover": [["changeover", "layout.yaml", "other.yaml", "--out", "out"],
                   ["changeover", "layout.yaml", "other.yaml", "--gap", "0.5"],
                   ["changeover", "layout.yaml", "layout.yaml"],
                   ["changeover", "--matrix", "layout.yaml", "other.yaml"]],
    "compare": [["compare", "layout.yaml", "other.yaml", "--samples", "256", "--draws", "20", "--out", "out",
                 "--no-maps"],
                ["compare", "feet.yaml", "layout.yaml", "other.yaml", "--samples", "64"]],
    "fit": [["fit", "layout.yaml"], ["fit", "layout.yaml", "--quiet", "--out", "out"]],
    "rails": [["rails", "layout.yaml", "--out", "out"]],
    "outlook": [["outlook", "layout.yaml", "--from", "street.csv", "--out", "out"],
                ["outlook", "other.yaml", "--from", "street.csv", "--out", "out"],
                ["outlook", "other.yaml", "--from", "street.csv", "--out", "out", "--shades", "up",
                 "--units", "ft", "--no-maps"]],
    "rake": [["rake", "layout.yaml", "--block", "Stalls", "--c", "0.06", "--out", "out"],
             ["rake", "layout.yaml", "--block", "Stalls", "--c", "0.4", "--form", "constant-riser",
              "--out", "out"]],
    "glazing": [["glazing", "venue.yaml", "--out", "out"],
                ["glazing", "venue.yaml", "pane", "--shade", "dark", "--pane", "1.2x1.5", "--in-place"],
                ["glazing", "door.csv"]],
    "spectrum": [["spectrum", "31.5=60", "63=55", "125=48", "250=40", "500=36", "1000=33", "2000=30",
                  "4000=27"],
                 ["spectrum", "1000=20", "--json"]],
    "feet": [["assess", "feet.yaml", "--out", "out", "--no-maps", "--samples", "64"],
             ["changeover", "layout.yaml", "feet.yaml", "--out", "out"],
             ["fit", "feet.yaml", "--out", "out", "--units", "ft"],
             ["rails", "feet.yaml", "--out", "out"],
             ["rake", "feet.yaml", "--block", "Stalls", "--c", "0.2", "--out", "out"],
             ["overflight", "feet.yaml", "--traffic", "season.yaml", "--out", "out", "--no-maps"]],
    "draft": [["draft", "wishes.yaml", "--out", "out/drafted.yaml"]],
    "decide": [["sweep", "study.yaml", "--out", "out", "--samples", "64"],
               ["sweep", "study.yaml", "--seek", "--out", "out", "--samples", "64"],
               ["choose", "show.yaml", "layout.yaml", "other.yaml", "--samples", "64", "--out", "out"]],
}
STUDY = """format: gradin-study-1
units: m
name: Invented study
layout: layout.yaml
partner: other.yaml
traffic: season.yaml
limit_dba: 50
vary:
  - {name: glass, venue: "facade.buildups[pane].layers[1].glass_mm", values: [4, 12]}
  - {name: stage, layout: "focus[stage].z", from: 0, to: 0.6, step: 0.3}
  - {name: tower, layout: "machines.towers[T].hoist", values: [0, 0.4, 9]}
needs: [{figure: events, most: 1.9}, {figure: visible_median, least: 0.7}]
aims: [{figure: c_median_mm, best: most}, {figure: glass_t, best: least}]
search: {points: 12}
"""
SHOW = """format: gradin-show-1
units: m
name: Small play
brief: brief.yaml
must: {seats: 30, good_share: 0.3, distance: 9.1}
partners:
  - {name: Other, layout: other.yaml, hours: 3, margin_minutes: 10}
prices:
  - {name: near, price: 30, distance: 7}
  - {name: far, price: 20}
wishes:
  - {for: good_share, weight: 2, nothing_at: 0, full_at: 1}
  - {for: changeover, weight: 1, nothing_at: 4, full_at: 0}
"""


def make_hall(folder):
    small.make_hall(folder)
    small.write(folder, "study.yaml", STUDY)
    small.write(folder, "show.yaml", SHOW)


def page(folder, runs):
    """The text of all runs and of the files they leave in out/, pictures left out."""
    text = []
    for arguments in runs:
        shutil.rmtree(os.path.join(folder, "out"), ignore_errors=True)
        os.makedirs(os.path.join(folder, "out"))
        code, out, err = hall.run(*arguments, cwd=folder)
        text.append(f"$ gradin {' '.join(arguments)}\n{out}{err}exit status {code}\n")
        for name in sorted(os.listdir(os.path.join(folder, "out"))):
            if not name.endswith((".png", ".pdf")) and not name.startswith(("run-", "journal")):
                with open(os.path.join(folder, "out", name), encoding="utf-8", newline="") as source:
                    text.append(f"\n== {name}\n{source.read()}")
        text.append("\n")
    made = re.sub(r"(input digest )[0-9a-f]{32}", r"\1...", "".join(text).replace("\r\n", "\n"))
    return re.sub(r'("\w*digest": |"version": )"[^"]*"', r'\1"..."', made)


class Pages(unittest.TestCase):
    maxDiff = 4000

    def test_pages(self):
        pages = sorted(name for name in os.listdir(EXPECTED) if name.endswith(".txt"))
        self.assertEqual(pages, sorted(f"{name}.txt" for name in PAGES))
        with tempfile.TemporaryDirectory() as folder:
            make_hall(folder)
            for name, runs in PAGES.items():
                with self.subTest(name), open(os.path.join(EXPECTED, f"{name}.txt"), encoding="utf-8",
                                              newline="") as wanted:
                    self.assertMultiLineEqual(page(folder, runs), wanted.read(), REWRITE)

    def test_no_line_is_wider_than_80_columns(self):
        with tempfile.TemporaryDirectory() as folder:
            make_hall(folder)
            for runs in PAGES.values():
                for arguments in runs:
                    os.makedirs(os.path.join(folder, "out"), exist_ok=True)
                    _, out, _ = hall.run(*arguments, cwd=folder)
                    for line in [] if "--json" in arguments else out.splitlines():
                        if line.startswith("    - {from: "):
                            continue  # to be pasted into a layout as it is
                        self.assertLessEqual(len(line), 80, f"{arguments}: {line}")


def write_pages():
    os.makedirs(EXPECTED, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        make_hall(folder)
        for name, runs in PAGES.items():
            with open(os.path.join(EXPECTED, f"{name}.txt"), "w", encoding="utf-8", newline="") as out:
                out.write(page(folder, runs))


if __name__ == "__main__":
    if "--write" in sys.argv:
        write_pages()
    else:
        plain.main()
