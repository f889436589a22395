#!/usr/bin/python3
"""Every picture of a small hall, byte for byte as it was when somebody last looked at it. A picture that
changes on purpose is looked at, then its digest is written again:

    python3 tests/cli/test_pictures.py build/rel/gradin --write

Skipped where the libraries that draw, or the font, are others than those of the list: they may set a
line a hair's breadth off. What the pictures have to show is tested by unit_render."""

import ctypes
import ctypes.util
import hashlib
import os
import subprocess
import sys
import tempfile
import unittest

import hall
import small
from hall import plain

LIST = os.path.join(os.path.dirname(os.path.abspath(__file__)), "expected", "pictures.list")
REWRITE = "\nif that is meant, look at them; then python3 tests/cli/test_pictures.py BUILD/gradin --write"
RUNS = [
    ["assess", "layout.yaml", "--out", "assess", "--samples", "64", "--draws", "10", "--bands", "octaves"],
    ["overflight", "layout.yaml", "--traffic", "season.yaml", "--out", "season", "--seat", "Stalls-1-1",
     "--bands", "125"],
    ["changeover", "layout.yaml", "other.yaml", "--out", "changeover"],
    ["changeover", "layout.yaml", "layout.yaml", "--out", "nothing-moves"],
    ["compare", "layout.yaml", "other.yaml", "--out", "compare", "--samples", "64"],
    ["outlook", "layout.yaml", "--from", "street.csv", "--out", "outlook"],
    ["rake", "layout.yaml", "--block", "Stalls", "--c", "0.06", "--out", "rake"],
    ["glazing", "venue.yaml", "--out", "glazing"],
    ["fit", "layout.yaml", "--out", "fit"],
    ["view", "layout.yaml", "--seat", "Stalls-2-2", "--size", "320x200", "--out", "view.png"],
    ["section", "layout.yaml", "--seat", "Stalls-2-2", "--out", "section.png"],
]


def version(library, function):
    found = ctypes.util.find_library(library)
    return str(getattr(ctypes.CDLL(found), function)()) if found else "none"


def drawn_with():
    """What the bytes of a picture depend on beside gradin."""
    font = subprocess.run(["fc-match", "-f", "%{file}", "DejaVu Sans"], capture_output=True, text=True,
                          check=False).stdout
    with open(font, "rb") as file:
        font_digest = hashlib.sha256(file.read()).hexdigest()[:16]
    zlib = ctypes.CDLL(ctypes.util.find_library("z")).zlibVersion
    zlib.restype = ctypes.c_char_p
    return (f"cairo {version('cairo', 'cairo_version')}, pixman {version('pixman-1', 'pixman_version')}, "
            f"png {version('png16', 'png_access_version_number')}, zlib {zlib().decode()}, "
            f"font {font_digest}")


def digests():
    """["PICTURE DIGEST"] of every picture."""
    with tempfile.TemporaryDirectory() as folder:
        small.make_hall(folder)
        lines = []
        for arguments in RUNS:
            code, _, err = hall.run(*arguments, "--quiet", cwd=folder)
            if code not in (0, 1) or err:
                raise AssertionError(f"{arguments}: exit status {code}: {err}")
            out = arguments[arguments.index("--out") + 1]
            if out.endswith(".png"):
                with open(os.path.join(folder, out), "rb") as picture:
                    lines.append(f"{out} {hashlib.sha256(picture.read()).hexdigest()[:32]}")
                continue
            for name, data in hall.read_bytes(os.path.join(folder, out)).items():
                if name.endswith(".png"):
                    lines.append(f"{out}/{name} {hashlib.sha256(data).hexdigest()[:32]}")
        return lines


class Pictures(unittest.TestCase):
    maxDiff = None

    def test_pictures_are_as_they_were(self):
        with open(LIST, encoding="utf-8") as file:
            head, *wanted = file.read().splitlines()
        if head != drawn_with():
            self.skipTest(f"drawn with {drawn_with()}; listed with {head}")
        self.assertEqual(digests(), wanted, REWRITE)


if __name__ == "__main__":
    if "--write" in sys.argv:
        with open(LIST, "w", encoding="utf-8") as target:
            target.write("\n".join([drawn_with(), *digests()]) + "\n")
    else:
        plain.main()
