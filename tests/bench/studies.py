"""Processor time, memory and ratios of sweep, choose, programme and report on copies of the demo, in one run.

usage: studies.py GRADIN DEMO [LAYOUTS]

Processor time is of all threads; on two idle cores the wall clock shows some half of it. Other programs on the machine
make it longer, so each goal stands beside a yardstick of the same run: one assessment of the thrust from scratch."""

import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time

GRADIN, DEMO = map(os.path.abspath, sys.argv[1:3])
LAYOUTS = int(sys.argv[3]) if len(sys.argv) > 3 else 1000
FIVE = ["thrust", "round", "traverse", "flat_floor", "end_stage"]


class Run:
    """One run of the command, timed."""

    def __init__(self, folder, *arguments):
        before, started = resource.getrusage(resource.RUSAGE_CHILDREN), time.monotonic()
        process = subprocess.Popen([GRADIN, *arguments], cwd=folder, stdout=subprocess.DEVNULL)
        _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode not in (0, 1):
            sys.exit(f"gradin {' '.join(arguments)}: exit status {process.returncode}")
        self.cpu_s, self.wall_s = used.ru_utime + used.ru_stime, time.monotonic() - started
        self.peak_mb = used.ru_maxrss / 1024

    def tell(self, what, goal):
        print(f"{what:58} {self.cpu_s:8.2f} s of processor {self.wall_s:8.2f} s {self.peak_mb:6.0f} MB   {goal}", flush=True)


def write(folder, name, text):
    with open(os.path.join(folder, name), "w", encoding="utf-8") as out:
        out.write(text)


def study(name, vary, figures):
    return ("format: gradin-study-1\nunits: m\nname: bench\nlayout: thrust.yaml\ntraffic: season.yaml\nlimit_dba: 42\n"
            f"vary:\n{vary}figures: {figures}\n")


def thousand_layouts(folder, yardstick_s):
    """Another height of what is looked at: sight and levels anew, the same room."""
    last = 0.5 + (LAYOUTS - 1) * 0.001
    write(folder, "layouts.yaml", study("layouts", f"  - {{layout: \"focus[stage].z\", from: 0.5, to: {last:.3f}, "
                                        "step: 0.001, name: height}\n", "[clear, poor, c_p10_mm, lamax_p90_dba]"))
    write(folder, "one.yaml", study("one", "  - {layout: \"focus[stage].z\", values: [0.9], name: height}\n",
                                    "[clear, poor, c_p10_mm, lamax_p90_dba]"))
    Run(folder, "sweep", "one.yaml", "--out", "warm", "--samples", "1024", "--cache", "rooms", "--quiet")
    one = Run(folder, "sweep", "one.yaml", "--out", "one", "--samples", "1024", "--cache", "rooms", "--quiet")
    run = Run(folder, "sweep", "layouts.yaml", "--out", "layouts", "--samples", "1024", "--cache", "rooms", "--quiet")
    each = (run.cpu_s - one.cpu_s) / max(LAYOUTS - 1, 1)
    run.tell(f"{LAYOUTS} layouts, 1,024 samples with blame, noise, room kept", "")
    print(f"  {each:.3f} s of processor per layout, {yardstick_s / each:.0f} times faster than the yardstick; 1,000 on two cores: "
          f"{1000 * each / 2:.0f} s (goal 60)")


def glass(folder):
    """Per point, beside one from scratch."""
    vary = "  - {name: gap, venue: \"facade.buildups[laminated double].layers[4].gap_mm\", from: 20, to: %d, step: 10}\n"
    write(folder, "few.yaml", study("few", vary % 20, "[events, glass_t]"))
    write(folder, "many.yaml", study("many", vary % 210, "[events, glass_t]"))
    few = Run(folder, "sweep", "few.yaml", "--out", "few", "--quiet")
    many = Run(folder, "sweep", "many.yaml", "--out", "many", "--quiet")
    each = (many.cpu_s - few.cpu_s) / 19
    many.tell("20 points of other glass, events of a season", "")
    print(f"  {each:.3f} s of processor per point, {few.cpu_s:.2f} from scratch: {few.cpu_s / each:.0f} times faster (goal 20)")


def programme(folder):
    names = []
    for i, (name, hoist) in enumerate([(n, None) for n in FIVE] + [("thrust", h) for h in (1.7, 1.5, 1.3)]):
        shutil.copy(os.path.join(folder, f"{name}.yaml"), os.path.join(folder, f"l{i}.yaml"))
        if hoist:
            with open(os.path.join(folder, f"l{i}.yaml"), encoding="utf-8") as source:
                text = source.read()
            write(folder, f"l{i}.yaml", text.replace("hoist: 1.9", f"hoist: {hoist}"))
        names.append(f"  - {{name: l{i}, file: l{i}.yaml}}\n")
    shows = "".join(f"  - {{name: show {k}, start: \"2027-{1 + 2 * k // 28:02}-{1 + 2 * k % 28:02}T19:30\", "
                    f"end: \"2027-{1 + 2 * k // 28:02}-{1 + 2 * k % 28:02}T22:00\"}}\n" for k in range(40))
    write(folder, "season40.yaml", "format: gradin-programme-1\nunits: m\nname: forty\nlayouts:\n" + "".join(names) +
          "before: {layout: l3, from: \"2026-12-30T08:00\"}\nnight: {from: \"22:00\", to: \"06:00\", factor: 1.5}\n"
          "hour_cost: 30\nstep_cost: 500\nshows:\n" + shows)
    return Run(folder, "programme", "season40.yaml", "--out", "programme", "--quiet")


def report(folder, *options):
    return Run(folder, "report", *[f"{n}.yaml" for n in FIVE], "--out", "report", "--quiet", *options)


def main():
    with tempfile.TemporaryDirectory() as folder:
        shutil.copytree(DEMO, folder, dirs_exist_ok=True, ignore=shutil.ignore_patterns("results"))
        one = Run(folder, "assess", "thrust.yaml", "--out", "assess", "--samples", "1024", "--no-maps", "--quiet")
        one.tell("yardstick: thrust assessed from scratch, 1,024 samples", "")
        thousand_layouts(folder, one.cpu_s)
        glass(folder)
        chosen = Run(folder, "choose", "quiet_play.yaml", *[f"{n}.yaml" for n in FIVE], "--no-crews", "--quiet")
        chosen.tell("choose over five layouts, a season, nothing kept", f"{chosen.cpu_s / one.cpu_s:.1f} yardsticks")
        programme(folder).tell("programme of 40 shows and 8 layouts", "goal 2 s")
        report(folder, "--cache", "rooms").tell("report of five layouts from scratch", "goal 5 s by the clock on two cores")
        report(folder, "--cache", "rooms").tell("report of five layouts, rooms kept", "")
        report(folder, "--cache", "rooms", "--views", "0").tell("  without views", "")


if __name__ == "__main__":
    main()
