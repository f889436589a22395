#!/usr/bin/python3
"""Any failure to open, read, write, sync or rename one of the run's own files ends a run with 3 and one
line, or changes nothing: no failure is worth a different answer. Each verb runs for the small hall with
the n-th call failing (io_preload.c), for every kind of call.

usage: test_io.py GRADIN IO_PRELOAD [MOST]; MOST calls of each kind and verb fail, 6 by default"""

import os

import runs
from hall import plain

CALLS = ["open", "read", "write", "fsync", "rename", "fstat"] # as io_preload.c counts them


class Faults(runs.OnSmallHall):
    def run_once(self, arguments, call, n):
        counted = os.path.join(self.top, "count")
        return self.run_faulty(arguments, counted, GRADIN_IO_CALL=call, GRADIN_IO_FAIL=str(n),
                               GRADIN_IO_BELOW=self.hall + "/", GRADIN_IO_COUNT=counted)

    def walk(self, arguments):
        sums = {"same": 0, "refused": 0}
        whole = self.run_once(arguments, "none", 0)
        self.assertIn(whole[0], (0, 1), f"{arguments}: {whole[3]}")
        for call, n_call in zip(CALLS, whole[4]):
            outcomes = ((n, self.run_once(arguments, call, n)) for n in runs.spread(n_call, runs.MOST))
            found = self.tally(arguments, call, n_call, whole, outcomes)
            sums = {word: sums[word] + found[word] for word in sums}
        return sums


runs.add_tests(Faults, Faults.walk, runs.RUNS)

if __name__ == "__main__":
    plain.main()
