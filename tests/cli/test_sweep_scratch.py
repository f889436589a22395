#!/usr/bin/python3
"""gradin sweep: what is taken from one point to the next is what a run from scratch works out, key by key.

usage: test_sweep_scratch.py GRADIN"""

import shutil
import unittest

import small
import studies
from studies import key

# A key for each row of the table of dependencies (engine/studies/sweep/depends.c) that the small hall has, and
# some that it does not name.
KEYS = [("venue", "facade.buildups[pane].layers[1].glass_mm", "[6, 12]"),
        ("venue", "facade.temperature_c", "[5, 25]"),
        ("venue", "facade.ground", "[hard, soft]"),
        ("venue", "facade.glazing[west].buildup", "[pane, door leaf]"),
        ("venue", "facade.glazing[*].joint_r_db", "[30, 50]"),
        ("venue", "facade.doors[door].buildup", "[door leaf, pane]"),
        ("venue", "facade.doors[1].joint_r_db", "[30, 50]"),
        ("venue", "facade.vents[vent].dn_e_db", '["[30, 32, 34, 36, 38, 40]", "[40, 42, 44, 46, 48, 50]"]'),
        ("venue", "facade.vents[vent].dn_e_db[2]", "[32, 40]"),
        ("venue", "facade.shades[dark].insertion_loss_db[3]", "[2, 8]"),
        ("venue", "facade.shades[dark].absorption[3]", "[0.3, 0.9]"),
        ("venue", "facade.shades[dark].close_s", "[90, 3000]"),
        ("venue", "room.absorption.walls[3]", "[0.2, 0.6]"),
        ("venue", "room.ceiling", "[8, 9]"),
        ("venue", "machines.crew.people", "[2, 6]"),
        ("venue", "machines.lifts[L].speed_ms", "[0.001, 0.05]"),
        ("venue", "machines.towers[T].hoist_speed_ms", "[0.0005, 0.005]"),
        ("venue", "machines.towers[T].drive.prepare_s", "[60, 4000]"),
        ("venue", "machines.arch.speed_ms", "[0.0005, 0.02]"),
        ("venue", "machines.towers[T].levels[low].rail.height", "[0.9, 1.3]"),
        ("layout", "machines.shades[dark].closed", "[0, 1]"),
        ("layout", "machines.lifts[L-A1].terrace.riser", "[0.2, 0.4]"),
        ("layout", "machines.towers[T].hoist", "[0, 0.4]"),
        ("layout", "room_method", "[diffuse, radiosity]"),
        ("layout", "room_diffuse_anyway", "[no, yes]"),
        ("layout", "blocks[Stalls].row_depth", "[1.0, 0.9]"),
        ("layout", "focus[stage].z", "[0, 0.8]"),
        ("layout", "audience.eye_distance", "[0.063, 0]"),
        ("brief", "rating.visible_min[1]", "[0.95, 0.6]"),
        ("brief", "noise.confidence", "[0.84, 0.95]"),
        ("overflight", "track.altitude", "[320, 200]"),
        ("traffic", "tracks[over].straight.altitude", "[300, 150]")]

# Of what events send onto the facade, one key of each kind.
SKY = [("traffic", "classes[jet].level_db[5]", "[86, 70]"),
       ("traffic", "classes[jet].reference_distance", "[300, 150]"),
       ("traffic", "tracks[over].straight.speed_ms", "[80, 120]"),
       ("traffic", "tracks[roof].fixed.height", "[12, 40]"),
       ("traffic", "air.temperature_c", "[0, 30]"),
       ("traffic", "air.humidity_pct", "[20, 90]"),
       ("traffic", "method.lateral_attenuation", "[no, yes]"),
       ("traffic", "method.impedance", "[no, yes]"),
       ("traffic", "method.time_weighting", "[none, slow]"),
       ("overflight", "track.speed_ms", "[80, 140]"),
       ("venue", "facade.ground", "[hard, soft]"),
       ("venue", "facade.glazing[west].width", "[2, 1.8]"),
       ("venue", "facade.glazing[west].sill", "[1, 1.2]"),
       ("venue", "room.ceiling", "[8, 9]")]


class Scratch(studies.StudyTest):
    def both(self, vary, figures):
        self.write(vary, figures=figures)
        for out in ("out", "whole"):
            shutil.rmtree(self.path(out), ignore_errors=True)
        self.sweep("out", "--quiet")
        self.sweep("whole", "--quiet", "--from-scratch", "--threads", "1")
        self.assertEqual(self.tables("out"), self.tables("whole"))
        self.assertTrue([row for row in self.points("out") if not row["refused"]])

    def test_every_figure_key_by_key(self):
        small.change(self.folder, "layout.yaml", "form: end_stage\n", "form: end_stage\nroom_method: diffuse\n")
        for file, path, values in KEYS:
            with self.subTest(path=path):
                self.both(key(path, values, file), studies.ALL.replace("words_lost_s, ", ""))

    def test_what_meets_the_facade_beside_other_glass(self):
        """It is kept from point to point by its content, and by any of these it is another."""
        small.change(self.folder, "layout.yaml", "form: end_stage\n", "form: end_stage\nroom_method: diffuse\n")
        glass = key("facade.buildups[pane].layers[1].glass_mm", "[6, 12]")
        for file, path, values in SKY:
            with self.subTest(path=path):
                self.both(glass + key(path, values, file), "[lamax_p90_dba, nc_p90, events, events_mean]")

    def test_a_room_by_radiosity_and_lost_words(self):
        self.both(key("facade.buildups[pane].layers[1].glass_mm", "[6, 12]")
                  + key("machines.crew.people", "[2, 6]"), studies.ALL)


if __name__ == "__main__":
    unittest.main(verbosity=1)
