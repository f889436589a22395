#!/usr/bin/python3
"""A run that takes more than a second says on a terminal what it is at, and on SIGINT it ends by that signal: what it
was to write is as before, whole, or plainly marked. For every verb: while it waits for its first input, which
comes from standard input, and before the n-th call for a file (io_preload.c).

usage: test_stops.py GRADIN IO_PRELOAD [MOST]; MOST calls of each kind and verb, 6 by default"""

import os
import pty
import signal
import subprocess

import runs
import hall
from hall import plain

CALLS = ["open", "write", "fsync", "rename"]
KINDS = ["open", "read", "write", "fsync", "rename", "fstat"] # as io_preload.c counts them
ERASED = b"\r\x1b[K"


def first_input(arguments):
    return next(i for i, word in enumerate(arguments) if i > 0 and word.endswith((".yaml", ".csv")))


class OnTerminal:
    """A run whose standard error is a terminal and whose first input is standard input, which it waits for."""

    def __init__(self, folder, arguments):
        at = first_input(arguments)
        self.text = runs.text_of(os.path.join(folder, arguments[at]))
        self.screen, theirs = pty.openpty()
        self.process = subprocess.Popen([hall.GRADIN, *arguments[:at], "-", *arguments[at + 1:]], cwd=folder,
                                        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=theirs)
        os.close(theirs)
        self.shown = b""

    def see(self, word=None):
        """All that is shown until the word is, or to the end."""
        try:
            while (word is None or word not in self.shown) and (piece := os.read(self.screen, 4096)):
                self.shown += piece
        except OSError: # the other end is closed
            pass
        return self.shown

    def feed(self):
        out, _ = self.process.communicate(self.text.encode())
        self.end()
        return out

    def end(self):
        self.see()
        os.close(self.screen)

    def interrupt(self):
        self.process.send_signal(signal.SIGINT)
        self.process.communicate()
        self.end()


class Told(runs.OnSmallHall):
    """Runs one after the other write; all wait beside each other, for that takes a second each."""

    def start(self, *more):
        waiting = [(arguments, OnTerminal(self.hall, [*arguments, *more])) for arguments in runs.RUNS]
        for arguments, run in waiting:
            if "--quiet" not in more:
                self.assertRegex(run.see(b" s\x1b[K"), rb"^\r[ -~]+, [1-9][0-9]* s\x1b\[K", arguments)
        return waiting

    def test_a_line_by_itself_that_goes_again(self):
        for arguments, run in self.start():
            out = run.feed()
            self.assertIn(run.process.returncode, (0, 1), (arguments, run.shown))
            self.assertIn(ERASED, run.shown, arguments)
            self.assertNotIn(b"\x1b", run.shown.rsplit(ERASED, 1)[1], arguments) # notes at most
            self.assertNotIn(b"\x1b", out, arguments)

    def test_stopped_while_it_waits(self):
        for arguments, run in self.start():
            run.interrupt()
            self.assertEqual(run.process.returncode, -signal.SIGINT, (arguments, run.shown))
            self.assertTrue(run.shown.endswith(ERASED), (arguments, run.shown))
        for path, data in runs.contents(self.hall).items():
            marks = os.path.basename(path).startswith("UNFINISHED-")
            self.assertTrue(marks or self.inputs.get(path) == data, path)

    def test_quiet(self):
        for arguments, run in self.start("--quiet"):
            run.interrupt()
            self.assertEqual(run.shown, b"", arguments)


class Stopped(runs.OnSmallHall):
    def run_once(self, arguments, call, n):
        counted = os.path.join(self.top, "count")
        with open(counted, "w", encoding="utf-8"):
            pass # a run that is stopped does not say how many there were
        return self.run_faulty(arguments, counted, GRADIN_IO_CALL=call, GRADIN_IO_FAIL=str(n), GRADIN_IO_STOP="1",
                               GRADIN_IO_BELOW=self.hall + "/", GRADIN_IO_COUNT=counted)

    def walk(self, arguments):
        whole = self.run_once(arguments, "none", 0)
        self.assertIn(whole[0], (0, 1), f"{arguments}: {whole[3]}")
        found = {"same": 0, "refused": 0}
        for call in CALLS:
            for n in runs.spread(whole[4][KINDS.index(call)], runs.MOST):
                found[self.judge(f"{arguments}: {call} {n}", whole, self.run_once(arguments, call, n))] += 1
        return found

    def judge(self, what, whole, stopped):
        status, _, written, said, _ = stopped
        self.assertEqual((status, said), (-signal.SIGINT, ""), what)
        self.assertFalse([name for name in written if name.endswith(".tmp")], what)
        results = {name for name in written if not os.path.basename(name).startswith("UNFINISHED-")}
        if len(results) == len(written):
            self.assertTrue(not written or written == whole[2], f"{what}: {sorted(written)} is all that was written")
        return "refused"


runs.add_tests(Stopped, Stopped.walk, runs.RUNS)

if __name__ == "__main__":
    plain.main()
