"""gradin compare: a layout beside itself, beside its mirror image, beside another one; what it writes
holds together and holds against the tables of assess."""

import csv
import json
import os
import re
import tempfile
import unittest

import hall
import small
import test_symmetry as symmetry


def compare(folder, *arguments, status=0):
    """What --json prints."""
    code, out, err = hall.run("compare", *arguments, "--json", cwd=folder)
    if code != status:
        raise AssertionError(f"exit status {code}: {err}")
    return json.loads(out)


def nothing_changed(test, sums, seats):
    test.assertEqual((sums["better"], sums["same"], sums["worse"]), (0, seats, 0))
    test.assertEqual((sums["only_in_first"], sums["only_in_second"]), (0, 0))
    for figure, counts in sums["figures"].items():
        test.assertEqual((counts["better"], counts["worse"]), (0, 0), figure)


class Mirror(unittest.TestCase):
    """The small hall of the symmetry tests, and the same hall built the other way round."""

    @classmethod
    def setUpClass(cls):
        cls.temporary = tempfile.TemporaryDirectory()
        cls.folder = cls.temporary.name
        for name, plan in (("hall", symmetry.Plan()), ("mirrored", symmetry.Plan(mirror=True))):
            os.mkdir(os.path.join(cls.folder, name))
            symmetry.write(os.path.join(cls.folder, name), plan)

    @classmethod
    def tearDownClass(cls):
        cls.temporary.cleanup()

    def test_no_difference_from_itself(self):
        made = compare(self.folder, "hall/layout.yaml", "hall/layout.yaml", "--no-changeovers", "--samples",
                       "256")
        seats = made["layouts"][0]["all"]["seats"]
        self.assertGreater(seats, 20)
        nothing_changed(self, made["pairs"][0]["all"], seats)
        self.assertTrue(made["verdict"][0].startswith("No difference anywhere: "))
        self.assertEqual(made["pairs"][0]["all"]["figures"]["visible"]["no_difference"], seats)
        self.assertEqual(made["pairs"][0]["all"]["figures"]["lamax"]["no_difference"], seats)

    def test_no_difference_from_the_mirror_image(self):
        made = compare(self.folder, "hall/layout.yaml", "mirrored/layout.yaml", "--no-changeovers",
                       "--out", "out", "--no-maps", "--samples", "256")
        pair, seats = made["pairs"][0], made["layouts"][0]["all"]["seats"]
        self.assertTrue(pair["mirror_found"])
        self.assertEqual(pair["all"]["matched_by_mirror"], seats)
        nothing_changed(self, pair["all"], seats)
        self.assertEqual(pair["largest"], [])
        with open(os.path.join(self.folder, "out", "compare.csv"), encoding="utf-8", newline="") as source:
            for row in csv.DictReader(source):
                self.assertEqual(row["matched_by"], "mirrored place")
                self.assertAlmostEqual(float(row["x_m"]), -float(row["other_x_m"]), delta=0.0015)
                self.assertAlmostEqual(float(row["y_m"]), float(row["other_y_m"]), delta=0.0015)

    def maps(self, first, other, folder):
        code, out, err = hall.run("compare", first, other, other, "--no-changeovers", "--samples", "16",
                                  "--out", folder, cwd=self.folder)
        self.assertEqual(code, 0, err)
        made = {name.split(".")[0].split("-sheet")[0]
                for name in os.listdir(os.path.join(self.folder, folder)) if name.endswith(".png")}
        return made, out

    def test_maps_of_three_layouts_are_named_by_their_letters(self):
        small.make_hall(self.folder)
        made, _ = self.maps("layout.yaml", "other.yaml", "three")
        self.assertEqual(made, {f"{figure}_change_{letter}" for letter in "bc"
                                for figure in ("rating", "visible", "c_value")})

    def test_a_map_without_a_difference_is_a_line(self):
        made, out = self.maps("hall/layout.yaml", "hall/layout.yaml", "same")
        self.assertEqual(made, set())
        said = out.split("no map is drawn of what is the same at all seats:\n")[1]
        self.assertEqual(said.count(": no seat differs by what can be told\n"), 2 * 4)

    def test_the_mirror_image_stands_elsewhere(self):
        """Else finding the mirror would show nothing."""
        made = compare(self.folder, "hall/layout.yaml", "mirrored/layout.yaml", "--no-changeovers",
                       "--match", "place", "--samples", "16")
        self.assertEqual(made["pairs"][0]["all"]["same"], 0)
        self.assertEqual(made["pairs"][0]["all"]["only_in_first"], made["layouts"][0]["all"]["seats"])


class AskedToSee(hall.HallTest):
    """Two layouts that differ in nothing but in what they are asked to see."""

    FOCUS = r"  - \{name: stage, .*\n(  - \{name: surtitles, .*\n)(  - \{name: conductor, .*\n)"

    def beside(self, change):
        """What compare says of the opera beside one whose lines of the focus are changed."""
        with open(self.path("hexagon_opera.yaml"), encoding="utf-8") as source:
            text = source.read()
        lines = re.search(self.FOCUS, text)[0].splitlines(keepends=True)
        with open(self.path("other.yaml"), "w", encoding="utf-8") as out:
            out.write(re.sub(self.FOCUS, lambda _: "".join(change(lines)), text))
        return compare(self.folder, "hexagon_opera.yaml", "other.yaml", "--no-changeovers", "--samples", "256")

    def test_another_order_is_no_difference(self):
        made = self.beside(lambda lines: lines[::-1])
        self.assertFalse(made["pairs"][0]["other_focus"])
        self.assertTrue(made["verdict"][0].startswith("No difference anywhere: "))
        self.assertNotIn("asked to see", made["verdict"][0])

    def test_other_weights(self):
        """Classes differ by weights alone: that is no gain of any seat, and yet not no difference."""
        made = self.beside(lambda lines: [lines[0], lines[1].replace("weight: 0.2", "weight: 2"), lines[2]])
        pair, said = made["pairs"][0], made["verdict"][0]
        self.assertEqual((pair["other_focus"], pair["common_focus_areas"]), (True, 3))
        self.assertNotEqual(*(layout["all"]["rating"] for layout in made["layouts"]))
        self.assertEqual((pair["all"]["better"], pair["all"]["worse"]), (0, 0))
        self.assertNotIn("No difference anywhere", said)
        self.assertIn("They are not asked to see the same: A is rated by stage (76.9 %), surtitles (15.4 %) and "
                      "conductor (7.7 %), B by stage (32.3 %), surtitles (64.5 %) and conductor (3.2 %). ", said)
        self.assertIn("Seat by seat both are compared by the weights of A.", said)

    def test_only_the_stage(self):
        made = self.beside(lambda lines: lines[:1])
        pair, said = made["pairs"][0], made["verdict"][0]
        self.assertEqual((pair["other_focus"], pair["common_focus_areas"]), (True, 1))
        self.assertEqual((pair["all"]["better"], pair["all"]["worse"]), (0, 0))
        self.assertIn("B by stage. So their counts of classes say little of each other. Seat by seat only what both "
                      "name is compared.", said)

    def test_another_name(self):
        made = self.beside(lambda lines: [line.replace("name: ", "name: other ") for line in lines])
        self.assertEqual(made["pairs"][0]["common_focus_areas"], 0)
        self.assertIn("No area has the same name, so shares of all are compared.", made["verdict"][0])


class Demo(hall.HallTest):
    """Thrust and round of the demo hall, by few samples."""

    def rows(self, name):
        with open(self.path(name), encoding="utf-8", newline="") as source:
            return list(csv.DictReader(source))

    def test_every_figure_is_that_of_assess(self):
        few = ("--samples", "64")
        made = compare(self.folder, "thrust.yaml", "round.yaml", *few, "--out", "out", "--no-maps",
                       "--cache", hall.ROOMS, "--no-changeovers")
        rows = self.rows("out/compare.csv")
        assessed = {}
        for layout in ("thrust", "round"):
            code, _, err = self.run_here("assess", f"{layout}.yaml", *few, "--out", layout, "--no-maps",
                                         "--quiet")
            self.assertEqual((code, err), (0, ""))
            assessed[layout] = hall.Table(self.path(layout))
        both = [row for row in rows if row["matched_by"]]
        self.assertEqual(len(both) + sum(1 for row in rows if row["other_seat"] == ""), 558)
        by = made["pairs"][0]["all"]
        self.assertEqual(len(both), by["matched_by_name"] + by["matched_by_place"])
        for row in rows:
            seats = [assessed[layout].seat.get(row[side + "seat"])
                     for side, layout in (("", "thrust"), ("other_", "round"))]
            over_two = {seat["c_case"] == "two rows ahead" for seat in seats if seat}
            for side, seat in zip(("", "other_"), seats):
                if not seat:
                    continue
                # C over two rows beside C over one: both are compared over the row in front
                c_mm = seat["c_row_mm"] if len(over_two) == 2 else seat["c_mm"]
                self.assertEqual(row[side + "c_mm"], c_mm, row["seat"])
                for column in ("block", "kind", "x_m", "y_m", "floor_z_m", "rating", "noise_verdict",
                               "visible_pct", "distance_m", "off_axis_deg", "down_deg",
                               "head_turn_deg", "lamax_dba"):
                    self.assertEqual(row[side + column], seat[column], (row["seat"], column))
        for row in both:
            change = float(row["visible_change_pct"])
            told = float(row["visible_told_from_pct"])
            self.assertAlmostEqual(change, float(row["other_visible_pct"]) - float(row["visible_pct"]),
                                   delta=0.11)
            if abs(abs(change) - told) > 0.06:
                self.assertEqual(row["visible_effect"], "no difference" if abs(change) < told
                                 else "better" if change > 0 else "worse")
            steps = int(row["classes_better"])
            order = ["clear", "good", "fair", "poor"]
            if steps:
                self.assertEqual(steps, order.index(row["rating"]) - order.index(row["other_rating"]))
                self.assertTrue(row["cause"])
        self.assertEqual(sum(int(row["classes_better"]) > 0 for row in both),
                         made["pairs"][0]["all"]["better"])
        self.assertEqual(sum(int(row["classes_better"]) < 0 for row in both),
                         made["pairs"][0]["all"]["worse"])

    def test_a_folder_is_made_only_when_all_is_computed(self):
        code, out, err = self.run_here("compare", "thrust.yaml", "none.yaml", "--out", "out")
        self.assertEqual((code, out), (2, ""))
        self.assertIn("none.yaml", err)
        self.assertFalse(os.path.exists(self.path("out")))

    def test_one_layout_is_not_enough(self):
        code, out, err = self.run_here("compare", "thrust.yaml")
        self.assertEqual((code, out), (2, ""))
        self.assertIn("two to six layouts are needed", err)


if __name__ == "__main__":
    hall.plain.main()
