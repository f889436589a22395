#!/usr/bin/python3
"""A request for memory that fails ends a run with 3 and one line, or changes nothing, whoever makes it:
our own code, or the libraries that draw, look for fonts, pack pictures, read YAML and models and solve
systems. Each verb runs for the small hall, pictures drawn, with the n-th request failing (heap_preload.c).

usage: test_memory.py GRADIN HEAP_PRELOAD [MOST]; MOST requests of each verb fail, 6 by default"""

import os
import subprocess
import tempfile
import time

import runs  # the first: it knows where the others are
import hall
import small
from hall import plain

DRAWN = [[word for word in run if word != "--no-maps"] for run in runs.RUNS] + [
    ["assess", "solid.yaml", "--samples", "16", "--no-maps", "--out", "out"],
    ["assess", "patches.yaml", "--samples", "16", "--no-maps", "--cache", "rooms", "--out", "out"],
    ["assess", "layout.yaml", "--samples", "16", "--format", "pdf", "--out", "out"],
]
SOLID = """  - {name: model, kind: mesh, file: box.obj, unit: m, up: z_axis, at: [7, 8.5]}
"""
BOX = "".join(f"v {x} {y} {z}\n" for x in (0, .5) for y in (0, .4) for z in (0, .6)) + "f 1 2 4 3\nf 5 6 8 7\nf 1 2 6 5\n"


def take(file):
    """All that is in a file, which is empty then."""
    file.seek(0)
    data = file.read()
    file.seek(0)
    file.truncate()
    return data


class Memory(runs.OnSmallHall):
    def setUp(self):
        super().setUp()
        text = runs.text_of(os.path.join(self.hall, "layout.yaml"))
        small.write(self.hall, "solid.yaml", text.replace("rails:\n", SOLID + "rails:\n", 1))
        small.write(self.hall, "patches.yaml", text.replace("room_method: diffuse", "room_patch: 6"))
        small.write(self.hall, "box.obj", BOX)
        self.inputs = runs.contents(self.hall)
        self.counted = os.path.join(self.top, "count")

    def run_once(self, arguments, n, **env):
        with open(self.counted, "w", encoding="utf-8"):
            pass # a run that ends at once does not say how many there were
        return self.run_faulty(arguments, self.counted, GRADIN_HEAP_FAIL=str(n), GRADIN_HEAP_COUNT=self.counted,
                               OPENBLAS_NUM_THREADS="1", **env)

    def forked(self, arguments, whole, count):
        """(n, outcome) of each fork of one run. None forks while the run has a file half written. What a fork wrote is
        taken away, and what the run had written before is put back; in the end the run must be as one without forks."""
        ask, answer = os.pipe(), os.pipe()
        with tempfile.TemporaryFile() as words, tempfile.TemporaryFile() as said, tempfile.TemporaryFile() as own:
            fds = ask[1], answer[0], words.fileno(), said.fileno()
            env = {**os.environ, "LD_PRELOAD": runs.PRELOAD, "OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1",
                   "GRADIN_HEAP_FORK": ",".join(map(str, (*fds, 1, whole[4][0], count)))}
            with subprocess.Popen([hall.GRADIN, *arguments], cwd=self.hall, env=env, pass_fds=fds, stdout=own,
                                  stderr=subprocess.DEVNULL) as parent, os.fdopen(ask[0], encoding="ascii") as asked:
                os.close(ask[1])
                os.close(answer[0])
                try:
                    for line in asked:
                        n, *status = map(int, line.split())
                        if not status:
                            kept = self.keep()
                            is_half = any(name.endswith(".tmp") for name in kept)
                        else:
                            yield n, (os.waitstatus_to_exitcode(status[0]), take(words), self.take_written(True),
                                      take(said).decode(), [])
                            self.put_back(kept)
                        os.write(answer[1], b"s" if not status and is_half else b"g")
                    self.assertEqual((parent.wait(), take(own), self.take_written()), whole[:3], arguments)
                finally:
                    os.close(answer[1])
                    parent.kill()

    def keep(self):
        """{path: bytes} of what the run has written, each file kept by a link, so that it is still the same."""
        kept = {path: data for path, data in runs.contents(self.hall).items() if self.inputs.get(path) != data}
        for i, path in enumerate(kept):
            os.link(os.path.join(self.hall, path), os.path.join(self.top, f"kept{i}"))
        return kept

    def put_back(self, kept):
        for i, (path, data) in enumerate(kept.items()):
            link, place = os.path.join(self.top, f"kept{i}"), os.path.join(self.hall, path)
            os.makedirs(os.path.dirname(place), exist_ok=True)
            os.rename(link, place)
            if runs.contents_of(place) != data:
                with open(place, "wb") as file:
                    file.write(data)

    def outcomes(self, arguments, whole):
        """Each request by a fork of one run where that can be; a run of its own is some ten times as dear."""
        left = runs.spread(whole[4][0], runs.MOST)
        for n, failed in self.forked(arguments, whole, len(left)):
            yield n, failed
            if n in left:
                left.remove(n)
        for n in left:
            yield n, self.run_once(arguments, n)

    def walk(self, arguments):
        whole = self.run_once(arguments, 0)
        self.assertIn(whole[0], (0, 1), f"{arguments}: {whole[3]}")
        return self.tally(arguments, "request", whole[4][0], whole, self.outcomes(arguments, whole))

    def test_the_linear_algebra_finds_no_memory(self):
        run = DRAWN[-2]
        whole = self.run_once(run, 0, GRADIN_HEAP_CALL="mmap")
        self.assertGreater(whole[4][0], 0)
        for n in runs.spread(whole[4][0], 3):
            failed = self.run_once(run, n, GRADIN_HEAP_CALL="mmap", GRADIN_HEAP_ALL="1")
            self.assertEqual((failed[0], failed[3]), (3, "gradin: out of memory\n"), f"mmap {n} of {whole[4][0]}")


class Limited(runs.OnSmallHall):
    """Under a limit of address space, as a batch queue sets one."""

    def run_within(self, kilobytes, *arguments):
        start = time.monotonic()
        done = subprocess.run(["bash", "-c", f'ulimit -v {kilobytes}; exec "$@"', "run", hall.GRADIN, *arguments],
                              cwd=self.hall, capture_output=True, text=True, check=False, timeout=300)
        return done.returncode, done.stdout, done.stderr, time.monotonic() - start

    def test_version(self):
        for _ in range(5): # threads of the linear algebra, which find no memory, race with the start
            code, out, err, _ = self.run_within(200000, "version")
            self.assertEqual((code, err), (0, ""))
            self.assertTrue(out.startswith("gradin "))

    def test_too_little_for_threads_or_linear_algebra(self):
        for kilobytes in (200000, 300000, 500000):
            code, _, err, _ = self.run_within(kilobytes, "assess", "layout.yaml", "--samples", "16", "--threads", "8",
                                              "--out", "out", "--quiet", "--no-maps")
            self.assertIn(code, (0, 3), err)
            self.assertEqual(code == 0, err == "", err)


runs.add_tests(Memory, Memory.walk, DRAWN)

if __name__ == "__main__":
    plain.main()
