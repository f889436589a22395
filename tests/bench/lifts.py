#!/usr/bin/python3
"""Changeovers of halls with many lifts at the usual budget: processor time beside the goal of 10 s, gap, rules kept.

usage: lifts.py GRADIN [NODES]"""

import os
import sys
import tempfile

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
sys.path[:0] = [os.path.join(TOP, "tests", "cli"), os.path.join(TOP, "tests", "support")]
import many_lifts  # noqa: E402  (takes GRADIN from the arguments)

GOAL_S = 10


def main():
    nodes = ["--nodes", sys.argv[1]] if len(sys.argv) > 1 else []
    n_bad = 0
    for columns, rows, n_tower in ((8, 5, 0), (12, 10, 0), (12, 10, 20)):
        with tempfile.TemporaryDirectory() as folder:
            many_lifts.write(folder, columns, rows, n_tower)
            for one, two in (("flat", "raised"), ("raised", "flat")):
                found = many_lifts.change(folder, one, two, "--quiet", *nodes)
                what = f"{columns * rows} lifts, {n_tower} towers, {one} to {two}:"
                if found["code"]:
                    print(what, found["said"])
                    n_bad += 1
                    continue
                print(what, f"{len(found['rows'])} moves, {found['plan']['total_s']} s, gap {many_lifts.gap_percent(found['plan']):.1f} %, "
                      f"{found['cpu_s']:.1f} s of processor (goal {GOAL_S})", *found["complaints"], flush=True)
                n_bad += found["cpu_s"] > GOAL_S or len(found["complaints"]) > 0
    return n_bad > 0


if __name__ == "__main__":
    sys.exit(main())
