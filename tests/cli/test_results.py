#!/usr/bin/python3
"""A folder of results is the old one, the new one, or says that it is not finished: after a kill at
any moment, with two runs at once, and when the disk is full."""

import hashlib
import os
import random
import shutil
import signal
import subprocess
import tempfile
import time
import unittest

import hall
import small
from hall import plain

MARK = "UNFINISHED-assess.txt"
RECORD = "run-assess.txt"


class Small(unittest.TestCase):
    """In a copy of the small hall."""

    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.addCleanup(self.temporary.cleanup)
        self.folder = self.temporary.name
        for name in os.listdir(small.SMALL):
            if name.endswith((".yaml", ".csv")):
                shutil.copy(os.path.join(small.SMALL, name), self.folder)


class Results(Small):
    def setUp(self):
        super().setUp()
        with open(self.path("layout.yaml"), encoding="utf-8") as file:
            text = "".join(line for line in file if not line.startswith("overflight:")) # no noise: fast
        with open(self.path("layout.yaml"), "w", encoding="utf-8") as file:
            file.write(text)
        with open(self.path("other.yaml"), "w", encoding="utf-8") as file:
            file.write(text.replace("name: ", "name: Other ", 1))

    def path(self, *names):
        return os.path.join(self.folder, *names)

    def run_here(self, *arguments):
        return hall.run(*arguments, cwd=self.folder)

    def assess(self, layout, out="out", *more):
        return ["assess", layout, "--samples", "16", "--out", out, "--quiet", *more]

    def files(self, out="out"):
        """{name: digest}"""
        return {name: hashlib.sha256(data).hexdigest() for name, data in hall.read_bytes(self.path(out), records=True).items()}

    def test_the_record_names_inputs_and_files(self):
        self.assertEqual(self.run_here(*self.assess("layout.yaml", "out", "--cache", hall.ROOMS, "--no-maps"))[0], 0)
        with open(self.path("out", RECORD), encoding="utf-8") as file:
            lines = [line.rstrip("\n").split("\t") for line in file]
        self.assertEqual(lines[0], ["gradin-run-1"])
        said = [line[1] for line in lines if line[0] == "argument"]
        self.assertEqual(said[:4], ["layout.yaml", "--samples", "16", "--quiet"])
        self.assertNotIn("out", said)
        wrote = [line[1].split(" ", 1) for line in lines if line[0] == "file"]
        self.assertEqual([name for _, name in wrote], ["seats.csv", "seats_short.csv", "summary.json"])
        self.assertEqual(len({digest for digest, _ in wrote}), 3)
        read = [line[1].split(" ", 1) for line in lines if line[0] == "input"]
        self.assertEqual([path for _, path in read][:2], ["../layout.yaml", "../venue.yaml"])
        self.assertTrue(all(len(digest) == 32 and os.path.isfile(self.path("out", path)) for digest, path in read))
        self.assertNotIn(MARK, self.files())

    def test_what_an_earlier_run_left_is_removed_and_nothing_else(self):
        self.run_here(*self.assess("layout.yaml"))
        with open(self.path("out", "mine.png"), "w", encoding="utf-8") as file:
            file.write("my own")
        self.assertEqual(len(self.files()), 11)
        self.run_here("rails", "layout.yaml", "--out", "out", "--quiet")
        code, _, err = self.run_here(*self.assess("layout.yaml", "out", "--no-maps"))
        self.assertEqual((code, err), (0, "gradin: note: out holds what no run there wrote, left alone: mine.png\n"))
        with open(self.path("out", RECORD), encoding="utf-8") as file:
            self.assertEqual([line for line in file if line.startswith("not ours")], ["not ours\tmine.png\n"])
        self.assertEqual(set(self.files()), {"mine.png", "overhangs.csv", "rails.csv", RECORD, "run-rails.txt",
                                             "seats.csv", "seats_short.csv", "summary.json"})

    def test_what_came_during_the_run_is_not_the_run_s(self):
        """The run waits for a reader of its table, which is a pipe, and meanwhile somebody puts a file beside it."""
        os.mkdir(self.path("out"))
        os.mkfifo(self.path("out", "seats.csv"))
        run = subprocess.Popen([hall.GRADIN, *self.assess("layout.yaml", "out", "--no-maps")], cwd=self.folder,
                               stderr=subprocess.PIPE, text=True)
        while not os.path.exists(self.path("out", MARK)) and run.poll() is None:
            time.sleep(0.01)
        with open(self.path("out", "notes.png"), "w", encoding="utf-8") as file:
            file.write("not gradin's")
        with open(self.path("out", "seats.csv"), "rb") as pipe:
            self.assertTrue(pipe.read().startswith(b"seat,"))
        self.assertEqual(run.communicate()[1], "gradin: note: out holds what no run there wrote, left alone: notes.png\n")
        with open(self.path("out", RECORD), encoding="utf-8") as file:
            named = [line.rstrip("\n").split(" ")[-1] for line in file if line.startswith(("file", "not ours"))]
        self.assertEqual(named, ["ours\tnotes.png", "seats_short.csv", "summary.json"])

    def test_what_was_edited_since_is_left_alone(self):
        self.run_here(*self.assess("layout.yaml"))
        picture = min(name for name in self.files() if name.endswith(".png"))
        with open(self.path("out", picture), "ab") as file:
            file.write(b"retouched")
        for _ in range(2): # the second run knows it, too
            code, _, err = self.run_here(*self.assess("layout.yaml", "out", "--no-maps"))
            self.assertEqual(code, 0)
            self.assertEqual(set(self.files()), {picture, RECORD, "seats.csv", "seats_short.csv", "summary.json"})
            with open(self.path("out", RECORD), encoding="utf-8") as file:
                self.assertEqual(len([line for line in file if line.startswith("kept\t")]), 1)
        self.assertEqual(err, "")

    def test_every_verb_that_writes_a_folder_leaves_its_record(self):
        with open(self.path("street.csv"), "w", encoding="utf-8") as file:
            file.write("name,x,y,z\npavement,-3,6,1.6\n")
        for verb, *more in (["rails", "layout.yaml"], ["rake", "layout.yaml", "--block", "Stalls", "--c", "0.06"],
                            ["fit", "layout.yaml"], ["changeover", *[os.path.join(hall.DEMO, "flat_floor.yaml")] * 2],
                            ["glazing", "venue.yaml"], ["outlook", "layout.yaml", "--from", "street.csv"],
                            ["compare", "layout.yaml", "other.yaml", "--samples", "16"]):
            code, _, err = self.run_here(verb, *more, "--out", "all", "--quiet")
            self.assertIn(code, (0, 1), f"{verb}: {err}")
            self.assertIn(f"run-{verb}.txt", self.files("all"))

    def test_a_record_that_somebody_changed_reaches_no_other_folder(self):
        self.run_here(*self.assess("layout.yaml", "out", "--no-maps"))
        with open(self.path("out", RECORD), "a", encoding="utf-8") as file:
            file.write("file\t0 ../layout.yaml\nfile\t0 ..\nfile\t0 \nfile\t0\nfile\t\nfile\nkept\t")
        self.assertEqual(self.run_here(*self.assess("other.yaml", "out", "--no-maps"))[0], 0)
        self.assertTrue(os.path.exists(self.path("layout.yaml")))

    def test_a_run_that_fails_leaves_the_folder_as_it_was(self):
        self.run_here(*self.assess("layout.yaml", "out", "--no-maps"))
        before = self.files()
        self.assertEqual(self.run_here(*self.assess("layout.yaml", "out", "--units", "yd"))[0], 2)
        self.assertEqual(self.files(), before)

    def test_a_mark_stays_until_its_verb_has_written_all(self):
        self.run_here(*self.assess("layout.yaml", "out", "--no-maps"))
        for name in (MARK, "summary.json.7-0.tmp"):
            with open(self.path("out", name), "w", encoding="utf-8") as file:
                file.write("left by a run that was killed")
        self.assertEqual(self.run_here("rails", "layout.yaml", "--out", "out", "--quiet")[0], 0)
        self.assertIn(MARK, self.files())
        os.remove(self.path("out", "seats.csv"))
        os.mkdir(self.path("out", "seats.csv"))
        self.assertEqual(self.run_here(*self.assess("layout.yaml", "out", "--no-maps"))[0], 2)
        os.rmdir(self.path("out", "seats.csv"))
        self.assertIn(MARK, self.files())
        self.assertEqual(self.run_here(*self.assess("layout.yaml", "out", "--no-maps"))[0], 0)
        self.assertEqual(set(self.files()), {"overhangs.csv", "rails.csv", RECORD, "run-rails.txt", "seats.csv",
                                             "seats_short.csv", "summary.json"})

    def test_a_run_that_fails_before_it_writes_leaves_no_mark(self):
        os.makedirs(self.path("out", "seats.csv"))
        self.assertEqual(self.run_here(*self.assess("layout.yaml", "out", "--no-maps"))[0], 2)
        self.assertEqual(os.listdir(self.path("out")), ["seats.csv"])

    def test_folder_of_the_folder_is_missing(self):
        for status, lead, verb, out, folder in ((2, "gradin: ", ["assess"], "none/out", "none"),
                                                (2, "gradin: ", ["assess"], "none/a/out/", "none/a"),
                                                (3, "", ["section", "--line", "0,4,9,4"], "none/cut.svg", "none")):
            self.assertEqual(self.run_here(*verb, "layout.yaml", "--out", out),
                             (status, "", f"{lead}{out}: there is no folder '{folder}'; make it first\n"))

    def test_standard_output_is_no_folder(self):
        code, _, err = self.run_here(*self.assess("layout.yaml", "-"))
        self.assertEqual((code, err), (2, "gradin: -: standard output is no folder\n"))

    def expect_one_of(self, allowed):
        now = self.files()
        mixed = [{name for name in {**now, **one} if now.get(name) != one.get(name)} for one in allowed]
        self.assertIn(set(), mixed)

    def run_alone(self, layout, out="out"):
        subprocess.run([hall.GRADIN, *self.assess(layout, out)], cwd=self.folder, check=True)

    def whole(self, *layouts):
        """What the folder may hold: the results of one of the layouts."""
        found = []
        for layout in layouts:
            self.run_alone(layout, "whole")
            found.append(self.files("whole"))
            shutil.rmtree(self.path("whole"))
        return found

    def test_a_kill_at_any_moment_is_seen(self):
        allowed = self.whole("layout.yaml", "other.yaml")
        self.assertNotEqual(allowed[0], allowed[1])
        start = time.monotonic()
        self.run_alone("layout.yaml")
        took_s, chance, marked = time.monotonic() - start, random.Random(1), 0
        for i in range(8):
            command = [hall.GRADIN, *self.assess(("other.yaml", "layout.yaml")[i % 2])]
            with subprocess.Popen(command, cwd=self.folder) as run:
                time.sleep(chance.uniform(0.3, 1.0) * took_s)
                run.send_signal((signal.SIGKILL, signal.SIGTERM)[i // 2 % 2])
                stopped = run.wait()
            now = self.files()
            if stopped == -signal.SIGTERM:
                self.assertFalse([name for name in now if name.endswith(".tmp") and MARK not in now])
            if MARK in now:
                marked += 1
            else:
                self.expect_one_of(allowed)
        self.run_alone("layout.yaml")
        self.assertEqual(self.files(), allowed[0], f"{marked} of 8 were marked before")

    def test_two_runs_at_once_do_not_mix(self):
        allowed = self.whole("layout.yaml", "other.yaml")
        for _ in range(2):
            runs = [subprocess.Popen([hall.GRADIN, *self.assess(name)], cwd=self.folder)
                    for name in ("layout.yaml", "other.yaml")]
            self.assertEqual([run.wait() for run in runs], [0, 0])
            self.expect_one_of(allowed)


class Drafts(Small):
    def draft(self, out, *more):
        return hall.run("draft", "wishes.yaml", "--out", out, *more, cwd=self.folder)

    def test_no_input_is_overwritten(self):
        before = hall.read_bytes(self.folder)
        os.symlink("venue.yaml", os.path.join(self.folder, "link.yaml"))
        for name in ("wishes.yaml", "venue.yaml", "link.yaml"):
            code, out, err = self.draft(name, "--replace")
            self.assertEqual((code, out), (2, ""))
            self.assertIn(f"{name} is one of the files that the draft is made from", err)
        os.remove(os.path.join(self.folder, "link.yaml"))
        self.assertEqual(hall.read_bytes(self.folder), before)

    def test_dash_prints_the_layout(self):
        code, out, err = self.draft("-")
        self.assertEqual((code, err), (0, ""))
        self.assertIn("\nformat: gradin-layout-1\n", out)
        self.assertEqual(self.draft("written.yaml")[0], 0)
        with open(os.path.join(self.folder, "written.yaml"), encoding="utf-8") as file:
            self.assertEqual(file.read(), out)


if __name__ == "__main__":
    plain.main()
