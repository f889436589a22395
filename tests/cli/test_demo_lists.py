#!/usr/bin/python3
"""Every table and text of the demo's halls as somebody last read them, held as digests: what a change
touches in a whole hall is seen here at once. A file that changes on purpose is read, then the list is
written again:

    python3 tests/cli/test_demo_lists.py build/rel/gradin --write

The figures are no published values: the unit tests and the cases judge those."""

import hashlib
import os
import re
import sys
import tempfile
import unittest

import hall
from hall import plain

LIST = os.path.join(os.path.dirname(os.path.abspath(__file__)), "expected", "demo.list")
REWRITE = "\nif that is meant, read them; then python3 tests/cli/test_demo_lists.py BUILD/gradin --write"
LAYOUTS = ["end_stage", "thrust", "round", "traverse", "flat_floor"]
RUNS = (
    [["assess", f"{name}.yaml", "--no-maps", "--samples", "64"] for name in LAYOUTS]
    + [["changeover", f"{a}.yaml", f"{b}.yaml"] for a, b in zip(LAYOUTS, LAYOUTS[2:] + LAYOUTS[:2])]
    + [["changeover", "thrust.yaml", "flat_floor.yaml", "--start", "2027-03-04T22:30"]]
    + [["rails", f"{name}.yaml"] for name in ("thrust", "traverse")]
    + [["fit", f"{name}.yaml", "--json"] for name in LAYOUTS]
    + [["rake", "end_stage.yaml", "--block", "Stalls", "--c", "0.09"]]
    + [["draft", "wishes/end_stage.yaml"], ["draft", "wishes/round.yaml"]]
    + [["glazing", "hall.yaml"], ["overflight", "round.yaml", "--traffic", "season.yaml", "--no-maps"]]
)
WRITES = {"assess", "changeover", "rails", "rake", "glazing", "overflight"}


def bytes_of(arguments, folder):
    """{NAME: BYTES} of what a run prints and writes, digests of inputs and the version left out."""
    out = os.path.join(folder, "out")
    os.makedirs(out, exist_ok=True)
    for name in os.listdir(out):
        os.remove(os.path.join(out, name))
    more = ["--out", out] if arguments[0] in WRITES else []
    more = ["--out", os.path.join(out, "drafted.yaml")] if arguments[0] == "draft" else more
    code, printed, err = hall.run(*arguments, *more, cwd=hall.DEMO)
    if code not in (0, 1) or err:
        raise AssertionError(f"{arguments}: exit status {code}: {err}")
    found = {"printed": printed.replace(folder, "FOLDER").encode()}
    found.update((name, data) for name, data in hall.read_bytes(out).items() if not name.endswith((".png", ".pdf")))
    hide = re.compile(rb'("\w*digest": |"version": )"[^"]*"|(?:\.\./)+[\w./-]*(?=demo/)')
    return {name: hide.sub(rb"\1", data) for name, data in found.items()}


def lines():
    found = []
    with tempfile.TemporaryDirectory() as folder:
        for arguments in RUNS:
            for name, data in bytes_of(arguments, folder).items():
                found.append(f"{' '.join(arguments)}: {name}: {hashlib.sha256(data).hexdigest()[:32]}")
    return found


class Lists(unittest.TestCase):
    maxDiff = None

    def test_tables_and_texts_are_as_they_were(self):
        with open(LIST, encoding="utf-8") as file:
            self.assertEqual(lines(), file.read().splitlines(), REWRITE)


if __name__ == "__main__":
    if "--write" in sys.argv:
        with open(LIST, "w", encoding="utf-8") as out:
            out.write("\n".join(lines()) + "\n")
    else:
        plain.main()
