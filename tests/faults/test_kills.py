#!/usr/bin/python3
"""Runs are killed at any moment, and pairs of runs write into one folder at once: what lies there is the
old result, the new one, or is plainly marked as unfinished; a file that is written alone is old or new.

usage: test_kills.py GRADIN [KILLS [PAIRS]]; KILLS of each verb and PAIRS of runs, 3 and 2 by default"""

import os
import random
import signal
import shutil
import subprocess
import sys
import tempfile
import time
import unittest

sys.path.insert(0, os.path.join(os.path.dirname(os.path.dirname(os.path.abspath(__file__))), "cli"))
COUNT = [int(sys.argv.pop(2)) for _ in sys.argv[2:4]]
N_KILL, N_PAIR = (COUNT + [3, 2][len(COUNT):])[:2]
import hall  # noqa: E402
import small  # noqa: E402
from hall import plain  # noqa: E402

# Two runs of each verb that write the same names with other contents.
RUNS = {
    "assess": [["layout.yaml", "--samples", "16"], ["other.yaml", "--samples", "16"]],
    "draft": [["wishes.yaml", "--replace"], ["fewer.yaml", "--replace"]],
    "report": [["layout.yaml", "--samples", "16"], ["other.yaml", "--samples", "16"]],
    "fit": [["layout.yaml"], ["other.yaml"]],
    "changeover": [["layout.yaml", "other.yaml"], ["other.yaml", "layout.yaml"]],
}


class Killed(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.addCleanup(self.temporary.cleanup)
        self.hall = os.path.join(self.temporary.name, "hall")
        small.make_hall(self.hall)
        for name in ("layout.yaml", "other.yaml"):
            with open(os.path.join(self.hall, name), "a", encoding="utf-8") as file:
                file.write("room_method: diffuse\n")
        shutil.copy(os.path.join(self.hall, "wishes.yaml"), os.path.join(self.hall, "fewer.yaml"))
        small.change(self.hall, "fewer.yaml", "name: ", "name: Fewer ")

    def command(self, verb, which, out):
        name = out + "/layout.yaml" if verb == "draft" else out
        return [hall.GRADIN, verb, *RUNS[verb][which], "--out", name, "--quiet"]

    def start(self, command):
        return subprocess.Popen(command, cwd=self.hall, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)

    def end(self, run):
        return run.communicate()[1], run.returncode

    def files(self, out):
        return hall.read_bytes(os.path.join(self.hall, out), records=True)

    def whole(self, verb):
        """(what each run writes, the longer time)"""
        found, took_s = [], 0.0
        for which in (0, 1):
            os.mkdir(os.path.join(self.hall, "whole"))
            begin = time.monotonic()
            said, code = self.end(self.start(self.command(verb, which, "whole")))
            took_s = max(took_s, time.monotonic() - begin)
            self.assertIn(code, (0, 1), said)
            found.append(self.files("whole"))
            shutil.rmtree(os.path.join(self.hall, "whole"))
        self.assertNotEqual(*found)
        return found, took_s

    def judge(self, verb, allowed, what):
        """Which of the two it is, or that it says that it is none."""
        now = self.files("out")
        if any(name.startswith("UNFINISHED-") for name in now):
            return "marked"
        rest = {name: data for name, data in now.items() if not (verb == "draft" and name.endswith(".tmp"))}
        self.assertIn(rest, allowed, f"{what}: {sorted(now)}")
        return str(allowed.index(rest))

    def kill(self, verb):
        allowed, took_s = self.whole(verb)
        os.mkdir(os.path.join(self.hall, "out"))
        self.end(self.start(self.command(verb, 0, "out")))
        chance, found = random.Random(verb), {}
        for i in range(N_KILL):
            number = (signal.SIGKILL, signal.SIGTERM, signal.SIGINT)[i % 3]
            before = [name for name in self.files("out") if name.endswith(".tmp")]
            run = self.start(self.command(verb, (i + 1) % 2, "out"))
            time.sleep(chance.uniform(0.1, 1.1) * took_s)
            run.send_signal(number)
            code = self.end(run)[1]
            self.assertIn(code, (0, 1, -number))
            word = self.judge(verb, allowed, f"{verb}, kill {i}")
            left = [name for name in self.files("out") if name.endswith(".tmp")]
            if number != signal.SIGKILL: # which nobody can clean up after
                self.assertFalse(set(left) - set(before), f"{verb}, stop {i}")
            found[word] = found.get(word, 0) + 1
        self.end(self.start(self.command(verb, 0, "out")))
        self.assertEqual(self.judge(verb, allowed, f"{verb}, at the end"), "0")
        print(f"{verb}: {N_KILL} kills: {found.get('marked', 0)} marked, the rest old or new", flush=True)

    def pair(self, verb):
        allowed, _ = self.whole(verb)
        os.mkdir(os.path.join(self.hall, "out"))
        for i in range(N_PAIR):
            runs = [self.start(self.command(verb, which, "out")) for which in (0, 1)]
            ends = [self.end(run) for run in runs]
            self.assertTrue(all(code in (0, 1) for _, code in ends), ends)
            self.assertIn(self.judge(verb, allowed, f"{verb}, pair {i}"), "01")
        print(f"{verb}: {N_PAIR} pairs of runs at once", flush=True)


for each in RUNS:
    setattr(Killed, f"test_kill_{each}", lambda self, verb=each: self.kill(verb))
    setattr(Killed, f"test_pair_{each}", lambda self, verb=each: self.pair(verb))

if __name__ == "__main__":
    plain.main()
