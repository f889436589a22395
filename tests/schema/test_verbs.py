#!/usr/bin/python3
"""What each verb prints with --json: it obeys its schema in reference/, --quiet changes nothing of
it, and it holds the figures of the tables that the verb writes.

usage: test_verbs.py GRADIN SOURCE_DIR"""

import csv
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
OF_VERBS = ["rake", "rails", "outlook", "changeover-matrix", "compare", "draft", "check", "spectrum",
            "listen", "programme", "choose", "sweep", "view", "section", "export", "fit", "glazing", "report"]


def schema(name):
    with open(os.path.join(SOURCE, "reference", f"{name}-schema.json"), encoding="utf-8") as text:
        return json.load(text)


def properties(rules, path="$"):
    """(path, rules) of every property, those of items and definitions too."""
    if not isinstance(rules, dict):
        return
    for key, part in {**rules.get("properties", {}), **rules.get("$defs", {})}.items():
        yield f"{path}.{key}", part
        yield from properties(part, f"{path}.{key}")
    yield from properties(rules.get("items"), f"{path}[]")


def rounded(text, decimals=3):
    return round(float(text), decimals) if text else None


class Verbs(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.demo = os.path.join(cls.folder.name, "demo")
        shutil.copytree(os.path.join(SOURCE, "demo"), cls.demo,
                        ignore=shutil.ignore_patterns("results", "*.png"))
        for name in os.listdir(cls.demo):  # coarse patches: nothing here asks for the room
            path = os.path.join(cls.demo, name)
            if name.endswith(".yaml"):
                with open(path, encoding="utf-8") as source:
                    text = source.read()
                if "format: gradin-layout-1" in text and "room_patch" not in text:
                    with open(path, "a", encoding="utf-8") as out:
                        out.write("room_patch: 6\n")

    @classmethod
    def tearDownClass(cls):
        cls.folder.cleanup()

    def run_verb(self, *arguments, status=0):
        run = subprocess.run([GRADIN, *arguments], text=True, check=False, capture_output=True,
                             cwd=self.demo)
        self.assertEqual(run.returncode, status, run.stderr)
        return run.stdout

    def made(self, name, *arguments, status=0):
        text = self.run_verb(*arguments, "--json", status=status)
        self.assertEqual(self.run_verb(*arguments, "--json", "--quiet", status=status), text)
        value, rules = json.loads(text), schema(name)
        self.assertEqual(list(validate.breaches(value, rules, rules)), [])
        return value

    def table(self, *path):
        with open(os.path.join(self.demo, *path), encoding="utf-8", newline="") as source:
            return list(csv.DictReader(source))

    def test_export(self):
        made = self.made("export", "export", "flat_floor.yaml", "--out", "plan.geojson", "--samples", "16")
        with open(os.path.join(self.demo, "plan.geojson"), encoding="utf-8") as source:
            kinds = [f["properties"]["kind"] for f in json.load(source)["features"]]
        for kind, n in made["parts"].items():
            if kind != "rows":
                self.assertEqual(kinds.count("seat" if kind == "seats" else kind), n, kind)

    def test_rake(self):
        made = self.made("rake", "rake", "thrust.yaml", "--block", "South", "--c", "0.06", "--out",
                         "out")
        self.assertIs(made["reached"], True)
        self.assertIs(made["reached_in_section"], True)
        least = min((r for r in made["rows"] if r["least_seat"]), key=lambda r: r["c_least_seat_mm"])
        self.assertEqual((made["least_seat"], made["least_seat_c_mm"]),
                         (least["least_seat"], least["c_least_seat_mm"]))
        table = self.table("out", "rake.csv")
        self.assertEqual(len(table), len(made["rows"]))
        for line, row in zip(table, made["rows"]):
            for key in ("row", "d_m", "t_m", "r_m", "riser_mm", "ideal_riser_mm", "c_before_mm",
                        "c_mm", "c_least_seat_mm", "floor_before_m", "floor_m"):
                self.assertEqual(row[key], rounded(line[key]), key)
            self.assertEqual(row["least_seat"] or "", line["least_seat"])
            rank = made["ranks"][row["rank"] - 1]
            self.assertEqual(rank["sections"][0], line["first_section"])
            self.assertEqual(rank["sections"][-1], line["last_section"])
            height = rank["height_m"] + (row["tread"] - 1) * (rank["riser_mm"] or 0) / 1000
            self.assertAlmostEqual(height, row["floor_m"], places=3)

    def test_rake_out_of_reach(self):
        made = self.made("rake", "rake", "thrust.yaml", "--block", "South", "--c", "0.9", "--out",
                         "out", status=1)
        self.assertIs(made["reached"], False)
        self.assertLess(made["least_c_mm"], 900)
        self.assertIn(made["hindrance"], self.run_verb("rake", "thrust.yaml", "--block", "South",
                                                       "--c", "0.9", "--out", "out", status=1))

    def test_rails(self):
        made = self.made("rails", "rails", "end_stage.yaml", "--out", "out")
        thrust = self.made("rails", "rails", "thrust.yaml", "--out", "thrust")
        first = {}
        for line, hidden in zip(self.table("thrust", "rails.csv"), thrust["hidden_by"], strict=True):
            for key in ("seat", "rail"):
                self.assertEqual(hidden[key], line[key])
            for key in ("hides_pct", "gives_back_pct", "whole_up_to_m"):
                self.assertEqual(hidden[key], rounded(line[key]))
            self.assertEqual(hidden["note"] or "", line["note"])
            first.setdefault(hidden["seat"], hidden)
        self.assertGreater(len(first), 100)
        for seat in thrust["seats"]:
            if seat["seat"] in first:
                self.assertEqual(seat["rail"], first[seat["seat"]]["rail"])
                self.assertEqual(seat["whole_up_to_m"], first[seat["seat"]]["whole_up_to_m"])
        for line, row in zip(self.table("out", "overhangs.csv"), made["overhangs"], strict=True):
            self.assertEqual([row["block"], str(row["row"]), str(row["seats"])],
                             [line["block"], line["row"], line["seats"]])
            top = row["arch_top"]
            self.assertEqual(str(top["seats_that_lose_it"]) if top else "", line["lose_arch_top"])
            self.assertEqual(top["seen_to_m"] if top else None, rounded(line["arch_seen_to_m"]))
        self.assertEqual(sum(rail["seats_hidden_from"] for rail in thrust["rails"]),
                         len(thrust["hidden_by"]))
        for rail in thrust["rails"]:
            self.assertTrue(rail["whole_up_to_m"] is None or
                            rail["whole_up_to_m"] >= thrust["least_height_m"])

    def test_outlook(self):
        with open(os.path.join(self.demo, "street.csv"), encoding="utf-8") as source:
            text = source.read().splitlines(keepends=True)
        with open(os.path.join(self.demo, "two.csv"), "w", encoding="utf-8") as out:
            out.writelines(text[:3])
        made = self.made("outlook", "outlook", "flat_floor.yaml", "--from", "two.csv", "--out",
                         "out", "--no-maps")
        lines = iter(self.table("out", "outlook-points.csv"))
        for point in made["points"]:
            counts = [sum(seen["point"] == point["name"] and seen["seen"] == kind
                          for seat in made["seats"] for seen in seat["seen_from"])
                      for kind in ("seen", "partly")]
            self.assertEqual([point["seats_seen"], point["seats_partly"]], counts)
            self.assertEqual(sum(counts) + point["seats_hidden"], len(made["seats"]))
            for area in point["focus"]:
                line = next(lines)
                self.assertEqual((line["point"], line["focus"]), (point["name"], area["name"]))
                for key in ("x_m", "y_m", "z_m", "from_wall_m", "seats_seen", "seats_partly",
                            "seats_hidden"):
                    self.assertEqual(point[key], rounded(line[key]), key)
                for key in ("seen_pct", "standing_pct"):
                    self.assertEqual(area[key], rounded(line[key]), key)
        self.assertIsNone(next(lines, None))
        seen = iter(self.table("out", "outlook-seen.csv"))
        for line, seat in zip(self.table("out", "outlook-seats.csv"), made["seats"], strict=True):
            self.assertEqual((line["seat"], int(line["points_that_see_it"])),
                             (seat["seat"], len(seat["seen_from"])))
            for key in ("open_glass_pct", "glass_ahead_pct"):
                self.assertEqual(seat[key], rounded(line[key]), key)
            for by in seat["seen_from"]:
                line = next(seen)
                self.assertEqual([line["seat"], line["point"], line["seen"]],
                                 [seat["seat"], by["point"], by["seen"]])
                for key in ("head_pct", "head_and_shoulders_pct", "turned_away_deg", "distance_m"):
                    self.assertEqual(by[key], rounded(line[key]), key)
        self.assertIsNone(next(seen, None))

    def test_matrix(self):
        files = ["flat_floor.yaml", "thrust.yaml", "round.yaml"]
        made = self.made("changeover-matrix", "changeover", "--matrix", *files)
        self.assertEqual([(pair["from"], pair["to"]) for pair in made["pairs"]][:2],
                         [("Flat floor", "Thrust"), ("Flat floor", "In the round")])
        self.assertEqual(len(made["pairs"]), 6)
        plan = json.loads(self.run_verb("changeover", *files[:2], "--nodes", "1000", "--json"))
        for key in ("total_s", "lower_bound_s", "proven_least"):
            self.assertEqual(made["pairs"][0][key], plan[key])
        self.assertEqual(self.run_verb("changeover", "--matrix", *files[:2], "--quiet"), "")

    def test_programme(self):
        made = self.made("programme", "programme", "march.yaml")
        self.run_verb("programme", "march.yaml", "--quiet", "--out", "march")
        table = self.table("march", "programme.csv")
        self.assertEqual([(s["name"], s["starts"], s["layout"]) for s in made["shows"]],
                         [(r["show"], r["starts"], r["layout"]) for r in table])
        for show, row in zip(made["shows"], table):
            c = show["changeover"] or {"from": "", "person_hours": 0, "cost": 0}
            self.assertEqual((c["from"], c["person_hours"], c["cost"]),
                             (row["changeover_from"], float(row["person_hours"]), float(row["cost"])))
        self.assertIsNone(made["one_person_more"])

    def test_choose(self):
        files = ["thrust.yaml", "traverse.yaml"]
        made = self.made("choose", "choose", "quiet_play.yaml", *files, "--samples", "32",
                         "--no-crews", "--cache", "rooms", status=1)
        self.assertEqual([one["layout"] for one in made["layouts"]], ["Thrust", "Traverse"])
        self.assertEqual(sorted(one["rank"] for one in made["layouts"]), [1, 2])
        for one in made["layouts"]:
            sales = [sale for sale in one["sales"] if sale["price"]]
            self.assertEqual(sum(sale["takings"] for sale in sales),
                             one["figures"]["takings"]["value"])

    def test_sweep(self):
        with open(os.path.join(self.demo, "study.yaml"), "w", encoding="utf-8") as out:
            out.write("format: gradin-study-1\nunits: m\nname: Glass\nlayout: thrust.yaml\nvary:\n"
                      "  - venue: facade.buildups[laminated double].layers[1].glass_mm\n    values: [6, 8]\n"
                      "  - layout: machines.towers[W2].hoist\n    values: [1.9, 99]\n"
                      "figures: [seats, glass_t]\naims: [{figure: glass_t, best: least}]\n")
        made = self.made("sweep", "sweep", "study.yaml", "--out", "swept", "--samples", "32")
        table = self.table("swept", "points.csv")
        self.assertEqual([(p["point"], p["values"]["glass_mm"]) for p in made["points"]],
                         [(int(r["point"]), r["glass_mm"]) for r in table])
        for point, row in zip(made["points"], table):
            self.assertEqual(point["refused"] or "", row["refused"])
            if not point["refused"]:
                self.assertEqual(point["figures"]["glass_t"]["value"], float(row["glass_t"]))
        self.assertEqual(made["refused"], 2)

    def test_compare(self):
        files = ["flat_floor.yaml", "thrust.yaml", "round.yaml"]
        made = self.made("compare", "compare", *files, "--samples", "32", "--no-changeovers",
                         "--cache", "rooms")
        self.assertEqual([layout["letter"] for layout in made["layouts"]], ["A", "B", "C"])
        self.assertEqual([(pair["first"], pair["second"]) for pair in made["pairs"]],
                         [("Flat floor", "Thrust"), ("Flat floor", "In the round")])
        self.assertEqual(len(made["changeovers"]), 6)
        for layout in made["layouts"]:
            for key in ("seats", "wheelchair_places"):
                self.assertEqual(sum(block["sums"][key] for block in layout["blocks"]),
                                 layout["all"][key])
        for pair in made["pairs"]:
            for key in ("better", "same", "worse", "only_in_first", "only_in_second"):
                self.assertEqual(sum(block["changes"][key] for block in pair["blocks"]),
                                 pair["all"][key])
            self.assertEqual(len(pair["seats_only_in_second"]), pair["all"]["only_in_second"])

    def test_draft(self):
        made = self.made("draft", "draft", "wishes/flat_floor.yaml", "--out", "mine.yaml",
                         "--replace")
        self.assertEqual(sum(made["seats_by_rating"].values()), made["places"])
        self.assertEqual(sum(bank["seats"] for bank in made["banks"]), made["places"])
        self.assertEqual(self.run_verb("check", "mine.yaml"), "mine.yaml: layout, ok\n")

    def test_check(self):
        with open(os.path.join(self.demo, "brief.yaml"), encoding="utf-8") as source:
            text = source.read()
        with open(os.path.join(self.demo, "bad.yaml"), "w", encoding="utf-8") as out:
            out.write(text.replace("nc:", "nx:"))
        made = self.made("check", "check", "hall.yaml", "bad.yaml", "none.yaml", status=2)
        self.assertEqual([(f["file"], f["kind"], f["ok"]) for f in made["files"]],
                         [("hall.yaml", "venue", True), ("bad.yaml", None, False),
                          ("none.yaml", None, False)])
        bad = made["files"][1]["errors"][0]
        run = subprocess.run([GRADIN, "check", "bad.yaml"], text=True, check=False,
                             capture_output=True, cwd=self.demo)
        self.assertEqual(f"{bad['file']}:{bad['line']}:{bad['column']}: {bad['key']}: "
                         f"{bad['text']}", run.stderr.splitlines()[0])
        self.assertIsNone(made["files"][2]["errors"][0]["line"])
        self.assertEqual(self.run_verb("check", "hall.yaml", "--quiet"), "")

    def test_spectrum(self):
        made = self.made("spectrum", "spectrum", "fan.csv")
        self.assertEqual([s["name"] for s in made["spectra"]], ["supply air", "all projectors"])
        for line in self.table("fan.csv"):
            at = made["band_hz"].index(float(line["band_hz"]))
            for spectrum in made["spectra"]:
                self.assertEqual(spectrum["level_db"][at], float(line[spectrum["name"]]))
        self.assertIsNone(self.made("spectrum", "spectrum", "1000=20")["spectra"][0]["nc"])

    def test_fit(self):
        for name in ("thrust", "end_stage", "round", "traverse", "flat_floor"):
            made = self.made("fit", "fit", f"{name}.yaml", "--out", name)
            for line, route in zip(self.table(name, "routes.csv"), made["routes"], strict=True):
                self.assertEqual((line["first_seat"], line["from_seat"]), (route["first_seat"], route.get("from_seat", "")))
                self.assertEqual(route.get("length_m"), rounded(line["length_m"]))
            edges = {False: iter(made["open_edges"]), True: iter(made["stage_edges"])}
            for line in self.table(name, "edges.csv"):
                edge = next(edges[line["stage"] == "yes"])
                for key in ("from_x_m", "from_y_m", "to_x_m", "to_y_m", "length_m", "low_m", "high_m", "drop_m"):
                    self.assertEqual(edge[key], rounded(line[key]), key)
            self.assertEqual([next(rest, None) for rest in edges.values()], [None, None])

    def test_report(self):
        files = ["thrust.yaml", "traverse.yaml"]
        options = ["--samples", "32", "--cache", "rooms", "--no-changeovers"]
        made = self.made("report", "report", *files, "--show", "quiet_play.yaml", "--out", "report", "--views", "0",
                         *options, status=1)
        chosen = json.loads(self.run_verb("choose", "quiet_play.yaml", *files, *options[:-1], "--no-crews", "--json",
                                          status=1))
        ranked = sorted(chosen["layouts"], key=lambda one: one["rank"])
        for key in ("rank", "layout", "verdict", "score", "has_all_share", "first_share", "must"):
            self.assertEqual([one[key] for one in made["choice"]["layouts"]], [one[key] for one in ranked], key)
        for one in made["layouts"]:
            self.assertEqual(sum(one["seats_by_rating"].values()), one["seats"])

    def test_glazing(self):
        made = self.made("glazing", "glazing", "hall.yaml", "--out", "glazing")
        lines = self.table("glazing", "glazing.csv")
        self.assertEqual([float(line["band_hz"]) for line in lines], made["band_hz"])
        for one in made["buildups"]:
            for kind in ("predicted", "measured"):
                column = [rounded(line.get(f"{one['name']} {kind}_r_db")) for line in lines]
                values = one[kind]["r_db"] if one[kind] else [None] * len(lines)
                both = [pair for pair in zip(column, values, strict=True) if pair[0] is not None] # octaves: the middle
                self.assertEqual([c for c, _ in both], [v for _, v in both], one["name"])
                self.assertEqual(bool(both), one[kind] is not None, one["name"])
        for more in (["hall.yaml", "--shade", "blackout"], ["hall.yaml", "--pane", "2x3", "--in-place"], ["door.csv"],
                     ["hall.yaml", "sample pane", "--fit", "sample pane"]):
            self.made("glazing", "glazing", *more)

    def test_quiet_json_of_the_others(self):
        for arguments, status in ((["changeover", "flat_floor.yaml", "flat_floor.yaml"], 0),
                                  (["assess", "round.yaml", "--out", "out", "--no-maps",
                                    "--samples", "16"], 0)):
            text = self.run_verb(*arguments, "--json", status=status)
            self.assertEqual(self.run_verb(*arguments, "--json", "--quiet", status=status), text)
            self.assertRegex(json.loads(text)["format"], r"^gradin-[a-z-]+-\d+$")
            self.assertEqual(self.run_verb(*arguments, "--quiet", status=status), "")


class Schemas(unittest.TestCase):
    def test_every_property_is_described(self):
        for name in OF_VERBS:
            rules = schema(name)
            found = list(properties(rules))
            self.assertGreater(len(found), 8, name)
            for path, part in found:
                self.assertRegex(part.get("description", ""), r"\w", f"{name} {path}")
        for name in ("summary", "season", "changeover"): # in these a definition may speak for its name
            rules = schema(name)
            bare = [path for path, part in properties(rules) if not part.get("description") and "$ref" not in part
                    and path[2:] not in rules["$defs"]]
            self.assertEqual(bare, [], name)

    def test_nothing_more_is_allowed(self):
        for name in OF_VERBS:
            rules = schema(name)
            self.assertTrue(any("has unknown keys" in line for line in
                                validate.breaches({"more": 1}, rules, rules)))


if __name__ == "__main__":
    plain.main()
