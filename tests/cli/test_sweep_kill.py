#!/usr/bin/python3
"""gradin sweep: stopped at any moment by kill -9, its journal damaged, its points parted among machines: the
tables are those of an undisturbed run, byte for byte.

usage: test_sweep_kill.py GRADIN [KILLS]"""

import os
import random
import shutil
import subprocess
import sys
import time
import unittest

import hall
import small
import studies
from studies import key

KILLS = int(sys.argv.pop(1)) if len(sys.argv) > 1 and sys.argv[1].isdigit() else 15
VARY = (key("machines.crew.people", "[2, 3, 4, 5, 6, 7, 8, 9]", name="crew")
        + key("machines.towers[T].hoist", "[0, 0.2, 0.4, 9]", "layout", "hoist"))
FIGURES = "[seats, changeover_minutes, crew_hours, glass_t]"


class Durable(studies.StudyTest):
    def setUp(self):
        super().setUp()
        self.write(VARY, "aims: [{figure: crew_hours, best: least}]\n", FIGURES)
        started = time.monotonic()
        self.sweep("whole", "--quiet")
        self.took_s = time.monotonic() - started
        self.whole = self.tables("whole")

    def journal(self, out):
        with open(self.path(out, "journal.txt"), encoding="utf-8") as source:
            return source.read().splitlines()

    def test_kill_at_random_moments(self):
        chance = random.Random(1)
        n_stopped = 0
        for _ in range(KILLS):
            shutil.rmtree(self.path("out"), ignore_errors=True)
            run = subprocess.Popen([hall.GRADIN, "sweep", "study.yaml", "--out", "out", "--samples", "64", "--quiet"],
                                   cwd=self.folder)
            time.sleep(chance.uniform(0, self.took_s))
            run.kill()
            n_stopped += run.wait() != 0
            before = self.journal("out") if os.path.exists(self.path("out", "journal.txt")) else []
            self.sweep("out", "--quiet")
            after = self.journal("out")
            self.assertEqual(self.tables("out"), self.whole)
            # Nothing is lost and nothing done twice: what stood there stands, and each point stands once.
            kept = before if not before or len(before[-1]) > 40 and before[-1] in after else before[:-1]
            self.assertEqual(after[:len(kept)], kept)
            points = [line.split()[1] for line in after[1:]]
            self.assertEqual(sorted(map(int, points)), list(range(32)))
        self.assertGreaterEqual(n_stopped, 0)

    def test_a_damaged_journal_is_repaired(self):
        good = self.journal("whole")
        for damage in (lambda t: t[:-30], lambda t: t[:len(t) // 2] + "x" + t[len(t) // 2 + 1:],
                       lambda t: t + "rubbish\n", lambda t: t + "\0\0\0", lambda t: ""):
            shutil.rmtree(self.path("out"), ignore_errors=True)
            os.mkdir(self.path("out"))
            with open(self.path("out", "journal.txt"), "w", encoding="utf-8") as out:
                out.write(damage("\n".join(good) + "\n"))
            self.sweep("out", "--quiet")
            self.assertEqual(self.tables("out"), self.whole)
            self.assertEqual(sorted(self.journal("out")), sorted(good))

    def test_a_full_disk(self):
        """A disk of three blocks: the run says so, and goes on once there is room."""
        disk = self.path("disk")
        os.mkdir(disk)
        if os.geteuid() != 0 or subprocess.run(["mount", "-t", "tmpfs", "-o", "size=12k", "tmpfs", disk],
                                               capture_output=True).returncode != 0:
            self.skipTest("no small disk can be mounted here")
        self.addCleanup(subprocess.run, ["umount", disk])
        _, err = self.sweep("disk", "--quiet", status=3)
        self.assertIn("No space left on device", err)
        begun = len(self.journal("disk"))
        self.assertGreater(begun, 5)
        subprocess.run(["mount", "-o", "remount,size=1m", disk], check=True)
        self.sweep("disk", "--quiet")
        self.assertEqual(self.tables("disk"), self.whole)

    def test_a_second_run_in_the_same_folder_is_refused(self):
        self.write("  - {venue: machines.crew.people, from: 3, to: 200, step: 1}\n", figures=FIGURES)
        first = subprocess.Popen([hall.GRADIN, "sweep", "study.yaml", "--out", "out", "--samples", "64", "--quiet"],
                                 cwd=self.folder)
        try:
            while not os.path.exists(self.path("out", "journal.txt")):
                time.sleep(0.01)
            _, err = self.sweep("out", "--quiet", status=2)
            self.assertIn("out: another run of gradin is writing there", err)
            self.assertIsNone(first.poll())
            self.assertIn("UNFINISHED-sweep.txt", os.listdir(self.path("out")))
        finally:
            first.kill()
            first.wait()

    def test_another_study_does_not_go_on(self):
        small.change(self.folder, "study.yaml", "[2, 3, 4, 5, 6, 7, 8, 9]", "[2, 3]")
        _, err = self.sweep("whole", status=2)
        self.assertIn("take another folder", err)
        self.write(VARY, "aims: [{figure: crew_hours, best: least}]\n", FIGURES)
        small.change(self.folder, "venue.yaml", "speed_ms: 0.05", "speed_ms: 0.06")
        self.assertIn("take another folder", self.sweep("whole", status=2)[1])

    def test_parts_joined_are_the_whole(self):
        parts = [f"part{i}" for i in (1, 2, 3)]
        for i, part in enumerate(parts, 1):
            self.sweep(part, "--quiet", "--shard", f"{i}/3", "--threads", str(1 + i % 2))
            self.assertNotIn("points.csv", hall.read_bytes(self.path(part)))
        code, _, err = hall.run("sweep", "study.yaml", "--join", "part1", "part3", "--out", "all", "--samples", "64",
                                cwd=self.folder)
        self.assertEqual((code, "are missing" in err, os.path.exists(self.path("all"))), (2, True, False))
        code, _, err = hall.run("sweep", "study.yaml", "--join", *parts, "--out", "all", "--samples", "64", "--quiet",
                                cwd=self.folder)
        self.assertEqual((code, err), (0, ""))
        self.assertEqual(self.tables("all"), self.whole)
        for bad in ("0/3", "4/3", "1", "1/0", "a/b", "1/3x"):
            self.sweep("none", "--shard", bad, status=2)


if __name__ == "__main__":
    unittest.main(verbosity=1)
