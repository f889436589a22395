#!/usr/bin/python3
"""The key reference and the JSON Schemas are those of the tables that read the files; the demo's
files keep to the schemas; faults are found; what the demo uses is in the reference.

usage: test_keys.py GRADIN_KEYS GRADIN SOURCE"""

import copy
import glob
import json
import os
import re
import subprocess
import sys
import tempfile
import unittest

import jsonschema
import yaml

KEYS, GRADIN, TOP = sys.argv[1:4]
KINDS = ("venue", "layout", "overflight", "traffic", "brief", "wishes", "programme", "show", "study")
# Words that YAML 1.1 readers take for a flag, or for nothing.
TAKEN = {"y", "n", "yes", "no", "on", "off", "true", "false", "null", "~"}


def read(*path):
    with open(os.path.join(TOP, *path), encoding="utf-8") as source:
        return source.read()


def schema(kind):
    return json.loads(read("reference", "schemas", kind + ".json"))


def demo_files():
    for pattern in ("demo/*.yaml", "demo/wishes/*.yaml", "tests/faults/hall/*.yaml"):
        yield from sorted(glob.glob(os.path.join(TOP, pattern)))


def load(path):
    with open(path, encoding="utf-8") as source:
        return yaml.safe_load(source)


def errors(kind, value):
    return list(jsonschema.Draft7Validator(schema(kind)).iter_errors(value))


def kind_of(value):
    return re.fullmatch(r"gradin-(\w+)-1", value["format"]).group(1)


def keys_in(value):
    if isinstance(value, dict):
        for key, below in value.items():
            yield key
            yield from keys_in(below)
    elif isinstance(value, list):
        for item in value:
            yield from keys_in(item)


def definitions():
    for kind in KINDS:
        for name, made in schema(kind)["definitions"].items():
            yield kind, name, made


class Kept(unittest.TestCase):
    """reference/ holds what the tables give."""

    def test_nothing_has_drifted(self):
        with tempfile.TemporaryDirectory() as folder:
            os.mkdir(os.path.join(folder, "schemas"))
            subprocess.run([KEYS, folder], check=True)
            for name in ["keys.md"] + [f"schemas/{kind}.json" for kind in KINDS]:
                with open(os.path.join(folder, name), encoding="utf-8") as made:
                    self.assertEqual(made.read(), read("reference", name),
                                     f"reference/{name} has drifted; run gradin_keys reference")

    def test_schemas_are_schemas(self):
        for kind in KINDS:
            jsonschema.Draft7Validator.check_schema(schema(kind))

    def test_each_property_says_what_it_is(self):
        for kind, name, made in definitions():
            if "anyOf" in made and "properties" not in made:
                continue
            self.assertIs(made["additionalProperties"], False, f"{kind}: {name}")
            for key, value in made["properties"].items():
                self.assertGreater(len(value["description"]), 3, f"{kind}: {name}.{key}")


class Demo(unittest.TestCase):
    def test_every_file_keeps_to_its_schema(self):
        for path in demo_files():
            value = load(path)
            found = errors(kind_of(value), value)
            self.assertEqual([f"{list(e.absolute_path)}: {e.message}" for e in found], [], path)

    def test_every_key_is_in_the_reference(self):
        known = set(re.findall(r"^\| `(\w+)`", read("reference", "keys.md"), re.M))
        for path in demo_files():
            self.assertEqual(set(keys_in(load(path))) - known, set(), path)

    def test_every_key_of_the_tables_is_in_the_reference(self):
        rows = set(re.findall(r"^\| `(\w+)`", read("reference", "keys.md"), re.M))
        tables = {key for _, _, made in definitions() for key in made.get("properties", {})}
        self.assertEqual(rows, tables)


class Words(unittest.TestCase):
    """No key or value that another YAML reader would take for a flag."""

    def test_keys(self):
        for kind, name, made in definitions():
            self.assertEqual(set(made.get("properties", {})) & TAKEN, set(), f"{kind}: {name}")

    def test_values(self):
        for kind, name, made in definitions():
            for key, value in made.get("properties", {}).items():
                words = set(value.get("enum", []))
                if words != {True, False, "yes", "no"}:
                    self.assertEqual({str(w).lower() for w in words} & TAKEN, set(),
                                     f"{kind}: {name}.{key}")


def change(value, path, new):
    value = copy.deepcopy(value)
    at = value
    for step in path[:-1]:
        at = at[step]
    if new is None:
        del at[path[-1]]
    else:
        at[path[-1]] = new
    return value


class Faults(unittest.TestCase):
    """What gradin refuses by its tables, the schemas refuse: each fault is given to both."""

    FAULTS = (
        ("hall.yaml", ("room", "celing"), 15),
        ("hall.yaml", ("room", "ceiling"), 101),
        ("hall.yaml", ("room", "ceiling"), "high"),
        ("hall.yaml", ("room", "ceiling"), None),
        ("hall.yaml", ("room", "footprint"), [[0, 0], [1, 1]]),
        ("hall.yaml", ("room", "absorption", "floor"), [0.1] * 7),
        ("hall.yaml", ("room", "solids", 0, "polygon"), [[0, 0], [1, 0], [0, 1]]),
        ("hall.yaml", ("room", "solids", 0, "kind"), "pillar"),
        ("hall.yaml", ("facade", "buildups", 0, "layers", 0), {"glas_mm": 6}),
        ("hall.yaml", ("facade", "buildups", 0, "sample_m2"), 1.8),
        ("hall.yaml", ("facade", "shades", 0, "absorption", 2), 1.2),
        ("hall.yaml", ("facade", "glazing", 0, "move_s"), 5),
        ("hall.yaml", ("facade", "doors", 0, "exit"), "sometimes"),
        ("hall.yaml", ("machines", "lifts", 0, "columns"), 2.5),
        ("hall.yaml", ("machines", "lifts", 0, "load_limit"), {}),
        ("hall.yaml", ("machines", "crew", "people"), 0),
        ("hall.yaml", ("machines", "towers", 0, "width"), "wide"),
        ("hall.yaml", ("machines", "towers", 0, "slide", "ranges"), [0, 1]),
        ("hall.yaml", ("machines", "kinds", "towers", 0, "name"), None),
        ("hall.yaml", ("machines", "kinds", "towers", 0, "kind"), "side tower"),
        ("hall.yaml", ("machines", "kinds", "towers", 0, "depth"), 31),
        ("thrust.yaml", ("form",), "thrusting"),
        ("thrust.yaml", ("units",), "yd"),
        ("thrust.yaml", ("blocks", 0, "seat_width"), 5),
        ("thrust.yaml", ("blocks", 0, "row_depth"), "0.9"),
        ("thrust.yaml", ("blocks", 0, "straight"),
         {"front": [1, 1], "facing_deg": 0, "rows": 1, "seats": 1}),
        ("thrust.yaml", ("blocks", 3, "pattern", 0), "chair"),
        ("thrust.yaml", ("machines", "lifts", 3, "terrace", "steps"), 1),
        ("brief.yaml", ("rating", "visible_min"), [0.9, 0.8]),
        ("brief.yaml", ("noise", "nc"), 14),
        ("approach.yaml", ("spectrum", "level_db"), [70] * 6),
        ("approach.yaml", ("track", "speed_ms"), 341),
        ("season.yaml", ("performance", "start"), "7 pm"),
        ("season.yaml", ("tracks", 0, "fixed"), {"at": [0, 0], "height": 1, "duration_s": 5}),
        ("wishes/thrust.yaml", ("seats",), "many"),
        ("wishes/thrust.yaml", ("towers",), "some"),
    )

    def gradin_refuses(self, folder, name, value):
        path = os.path.join(folder, os.path.basename(name))
        with open(path, "w", encoding="utf-8") as out:
            yaml.safe_dump(value, out, sort_keys=False)
        run = subprocess.run([GRADIN, "check", path], capture_output=True, text=True, check=False)
        return run.returncode == 2

    def test_each_is_found(self):
        with tempfile.TemporaryDirectory() as folder:
            for name in os.listdir(os.path.join(TOP, "demo")):
                if name.endswith((".csv", ".yaml")):
                    os.symlink(os.path.join(TOP, "demo", name), os.path.join(folder, name))
            for name, path, new in self.FAULTS:
                good = load(os.path.join(TOP, "demo", name))
                bad = change(good, path, new)
                self.assertTrue(errors(kind_of(good), bad), f"{name}: {path}")
                place = os.path.join(folder, "bad")
                os.makedirs(place, exist_ok=True)
                self.assertTrue(self.gradin_refuses(place, "bad-" + name.replace("/", "-"), bad),
                                f"{name}: {path}")

    def test_feet_have_limits_of_their_own(self):
        value = load(os.path.join(TOP, "demo", "thrust.yaml"))
        value["blocks"] = [{"name": "A", "stands_on": "floor", "seat_width": 9, "row_depth": 3,
                            "straight": {"front": [1, 1], "facing_deg": 0, "rows": 1, "seats": 1}}]
        self.assertTrue(errors("layout", value))
        self.assertEqual(errors("layout", dict(value, units="ft")), [])


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
