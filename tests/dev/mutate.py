#!/usr/bin/python3
"""Breaks the engine on purpose and sees whether the tests notice.

usage: mutate.py N SEED [--only PATH]... [--tests NAME] [--jobs N] [--work FOLDER] [--list]
       mutate.py --again FILE:LINE... [--tests NAME] [--jobs N] [--work FOLDER] [--list]

Draws N mutations of the sources under engine/ (see mutants.py for what one is), the same ones for the
same tree and seed. Each is built in a copy of the tree and tested by the suite's quick part: every
entry of CTest without the label `slow` that runs a program of ours, the mutated folder's own unit
tests first, then every table of the demo, then the fastest first, until one fails. An entry whose
program comes out byte for byte as it was is passed over. A mutation that does not compile under the project's own warnings, or leaves
the object code as it was, is drawn again. A test that takes several times the processor
time that it takes without any mutation counts as failed. What survives is tried once more in a build
with the suite's sanitizers, which see a read beyond an array.

--only PATH  mutates only files under PATH
--tests NAME runs only the entries whose names the regular expression NAME fits: a quick look
--jobs N     N mutations at a time, each in a copy of its own
--work       where the copies are built; build/mutate if not given
--list       prints the mutations and runs no test
--again      tests every mutation that the lines have, rather than drawn ones
Prints a line per mutation, then the score and the survivors. Exit status 0 with 95 % caught or more,
1 with less, 2 on bad use, 3 when the tree itself does not build or pass."""

import argparse
import collections
import concurrent.futures
import os
import random
import re
import sys
import time

import copies
import mutants
from copies import Copy, fail, read, source_files

LEAST = 0.95
QUICK_S = 5  # of processor time: what a survivor is tried on under the address sanitizer


def drawn(n, seed, only, works):
    """n sites that `works`, in the order of the draws."""
    of_kind = collections.defaultdict(list)
    for path in source_files(copies.TOP, only):
        for site in mutants.sites(path, read(copies.TOP, path)):
            of_kind[site.kind].append(site)
    if not of_kind:
        fail(2, "nothing to mutate")
    source, seen = random.Random(seed), set()
    while len(seen) < sum(map(len, of_kind.values())) and n > 0:
        site = mutants.draw(of_kind, source)
        if site in seen:
            continue
        seen.add(site)
        if works(site):
            n -= 1
            yield site


def of_lines(places, works):
    for place in places:
        path, _, line = place.partition(":")
        if not line.isdigit() or not os.path.isfile(os.path.join(copies.TOP, path)):
            fail(2, f"{place}: is no FILE:LINE")
        for site in mutants.sites(path, read(copies.TOP, path)):
            if site.line == int(line) and works(site):
                yield site


def show(site):
    return "\n".join([f"{site.path}:{site.line}: {site.kind}",
                      *mutants.diff(read(copies.TOP, site.path), site)])


class Judge:
    """Hands sites to free copies and keeps the verdicts in the order of the draws."""

    def __init__(self, copies, times):
        self.free, self.times, self.done = list(copies), times, 0

    def judge(self, site):
        copy = self.free.pop()
        try:
            start = time.monotonic()
            copy.compiles(site)
            name = copy.caught_by(site, self.times)
            copy.restore(site)
            self.done += 1
            print(f"{self.done:3} {site.path}:{site.line}: {site.kind}: "
                  f"{'caught by ' + name if name else 'SURVIVED'} "
                  f"({time.monotonic() - start:.0f} s)", flush=True)
            return site, name
        finally:
            self.free.append(copy)


def again_sanitized(folder, verdicts, tests):
    """What survived, under the sanitizers of the suite: on its own unit tests and on quick ones."""
    missed = [site for site, name in verdicts if not name]
    if not missed:
        return verdicts
    print("survivors again, under the address sanitizer", flush=True)
    copy = Copy(folder, copies.SANITIZED)
    copy.prepare()
    copy.entries = [entry for entry in copy.entries if re.search(tests, entry.name)]
    times = copy.measure()
    found = {}
    for site in missed:
        copy.compiles(site)
        near = {e: s for e, s in times.items() if s < QUICK_S or e in copies.own_tests(site.path)}
        found[site] = copy.caught_by(site, near)
        copy.restore(site)
    return [(site, name or (found[site] and f"{found[site]}, sanitized")) for site, name in verdicts]


def report(verdicts):
    survivors = [site for site, name in verdicts if not name]
    by = collections.Counter(name for _, name in verdicts if name)
    for site in survivors:
        print(f"\n{show(site)}")
    print("\ncaught by: " + ", ".join(f"{name} {n}" for name, n in by.most_common()))
    share = 1 - len(survivors) / len(verdicts)
    print(f"{len(verdicts) - len(survivors)} of {len(verdicts)} caught, {100 * share:.1f} %")
    return 0 if share >= LEAST else 1


def arguments(words):
    parser = argparse.ArgumentParser(usage=__doc__.split("usage: ")[1].split("\n\n")[0])
    parser.add_argument("n", type=int, nargs="?")
    parser.add_argument("seed", type=int, nargs="?")
    parser.add_argument("--only", action="append", default=[])
    parser.add_argument("--tests", default="")
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--work", default=os.path.join(copies.TOP, "build", "mutate"))
    parser.add_argument("--list", action="store_true")
    parser.add_argument("--again", nargs="+", default=[])
    given = parser.parse_args(words)
    if (given.seed is None) == (not given.again) or given.jobs < 1 or (given.n or 1) < 1:
        parser.error("state N and SEED, or --again")
    return given


def main(words):
    given = arguments(words)
    work = os.path.abspath(given.work)
    copies.freeze(os.path.join(work, "source"))
    first = Copy(os.path.join(work, "0"))

    def works(site):
        good = first.compiles(site)
        first.restore(site)
        return good

    sites = list(of_lines(given.again, works) if given.again
                 else drawn(given.n, given.seed, given.only, works))
    if not sites:
        fail(2, "nothing to mutate")
    if given.list:
        print("\n\n".join(map(show, sites)))
        return 0
    all_copies = [first] + [Copy(os.path.join(work, str(i))) for i in range(1, given.jobs)]
    for copy in all_copies:
        copy.prepare()
        copy.entries = [entry for entry in copy.entries if re.search(given.tests, entry.name)]
    judge = Judge(all_copies, first.measure())
    with concurrent.futures.ThreadPoolExecutor(given.jobs) as pool:
        verdicts = list(pool.map(judge.judge, sites))
    return report(again_sanitized(os.path.join(work, "sanitized"), verdicts, given.tests))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
