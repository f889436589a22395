#!/usr/bin/python3
"""A sweep as a job array under Slurm: one node is started here, parts run as an array, their join is another job, and
its tables are those of a single run, byte for byte. Two parts are killed on the way and run again.

usage: job_array.py GRADIN          as root; needs slurmctld, slurmd, slurm-client and munge
Not part of the automatic checks. Without what it needs it says so and ends with 77."""

import filecmp
import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
sys.path.insert(0, os.path.join(TOP, "tests", "cli"))
sys.argv, GRADIN = sys.argv[:1], os.path.abspath(sys.argv[1]) if len(sys.argv) > 1 else "gradin"
import small  # noqa: E402

PARTS = 8
CONFIG = """ClusterName=one
SlurmctldHost={host}(127.0.0.1)
SlurmUser=root
SlurmdUser=root
AuthType=auth/munge
CredType=cred/munge
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
MpiDefault=none
SwitchType=switch/none
SelectType=select/cons_tres
SelectTypeParameters=CR_Core
SchedulerType=sched/backfill
SchedulerParameters=batch_sched_delay=0,sched_interval=1,sched_min_interval=1000,bf_interval=1
ReturnToService=2
AccountingStorageType=accounting_storage/none
JobAcctGatherType=jobacct_gather/none
JobCompType=jobcomp/none
StateSaveLocation={d}/state
SlurmdSpoolDir={d}/spool
SlurmctldPidFile={d}/slurmctld.pid
SlurmdPidFile={d}/slurmd.pid
SlurmctldLogFile={d}/slurmctld.log
SlurmdLogFile={d}/slurmd.log
NodeName={host} NodeAddr=127.0.0.1 CPUs=2 State=UNKNOWN
PartitionName=main Nodes=ALL Default=YES MaxTime=INFINITE State=UP
"""
STUDY = """format: gradin-study-1
units: m
name: Invented study
layout: layout.yaml
partner: other.yaml
vary:
  - {venue: machines.crew.people, values: [3, 4, 5, 6, 7, 8], name: crew}
  - {layout: "machines.towers[T].hoist", values: [0, 0.2, 0.4, 0.6, 0.8, 9], name: hoist}
figures: [seats, clear, changeover_minutes, crew_hours]
aims: [{figure: crew_hours, best: least}]
"""
# Parts 2 and 5 are killed in their first run: the scheduler takes them up again, and their journal goes on.
PART = """#!/bin/bash
k=$SLURM_ARRAY_TASK_ID
if [ $((k % 3)) = 2 ] && [ ! -e killed$k ]; then
  touch killed$k
  timeout -s KILL 0.2 {gradin} sweep study.yaml --shard "$k/{n}" --out "part$k" --samples 64 --quiet
fi
exec {gradin} sweep study.yaml --shard "$k/{n}" --out "part$k" --samples 64 --quiet
"""
JOIN = """#!/bin/bash
exec {gradin} sweep study.yaml --join {parts} --out joined --samples 64 --quiet
"""


def skip(reason):
    print(f"skipped: {reason}")
    sys.exit(77)


def wait_for(what, is_there, seconds=120):
    end = time.monotonic() + seconds
    while not is_there():
        if time.monotonic() > end:
            sys.exit(f"{what}: nothing within {seconds} s")
        time.sleep(0.3)


class Node:
    """One node with its controller; what it started it ends, by the ids it wrote down."""

    def __init__(self, folder):
        self.folder, self.host = folder, socket.gethostname().split(".")[0]
        with open(os.path.join(folder, "slurm.conf"), "w", encoding="utf-8") as out:
            out.write(CONFIG.format(host=self.host, d=folder))
        os.makedirs(os.path.join(folder, "state"))
        self.environment = dict(os.environ, SLURM_CONF=os.path.join(folder, "slurm.conf"), OMP_NUM_THREADS="1")
        self.munge = self.begin_munge()

    def run(self, *command):
        made = subprocess.run(command, env=self.environment, cwd=self.folder, capture_output=True, text=True)
        if made.returncode:
            sys.exit(f"{' '.join(command)}: {made.stderr}")
        return made.stdout.strip()

    def begin_munge(self):
        if subprocess.run(["munge", "-n"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL).returncode == 0:
            return None
        self.run("install", "-d", "-o", "munge", "-g", "munge", "-m", "755", "/run/munge")
        process = subprocess.Popen(["runuser", "-u", "munge", "--", "munged", "-F"], stderr=subprocess.DEVNULL)
        wait_for("munged", lambda: subprocess.run(["munge", "-n"], stdout=subprocess.DEVNULL,
                                                  stderr=subprocess.DEVNULL).returncode == 0)
        return process

    def __enter__(self):
        self.run("slurmctld", "-c")
        self.run("slurmd")
        wait_for("the node", lambda: "idle" in self.run("sinfo", "-h", "-o", "%t"))
        return self

    def __exit__(self, *_):
        for name in ("slurmd", "slurmctld"):
            with open(os.path.join(self.folder, f"{name}.pid"), encoding="utf-8") as source:
                os.kill(int(source.read()), 15)
        if self.munge:
            self.munge.terminate()
        time.sleep(1)


def script(folder, name, text):
    path = os.path.join(folder, name)
    with open(path, "w", encoding="utf-8") as out:
        out.write(text)
    os.chmod(path, 0o755)
    return name


def main():
    missing = [name for name in ("slurmctld", "slurmd", "sbatch", "munged") if not shutil.which(name)]
    if missing or os.geteuid() != 0:
        skip("not root" if not missing else f"no {', '.join(missing)}")
    with tempfile.TemporaryDirectory() as folder:
        small.make_hall(folder)
        small.write(folder, "study.yaml", STUDY)
        subprocess.run([GRADIN, "sweep", "study.yaml", "--out", "whole", "--samples", "64", "--quiet"], cwd=folder, check=True)
        parts = " ".join(f"part{k}" for k in range(1, PARTS + 1))
        part = script(folder, "part.sh", PART.format(gradin=GRADIN, n=PARTS))
        join = script(folder, "join.sh", JOIN.format(gradin=GRADIN, parts=parts))
        with Node(folder) as node:
            job = node.run("sbatch", "--parsable", f"--array=1-{PARTS}", part)
            node.run("sbatch", "--parsable", "-d", f"afterany:{job}", join)
            wait_for("the jobs", lambda: not node.run("squeue", "-h"), 300)
        names = ["points.csv", "effects.csv", "sweep.json"]
        same, other, lost = filecmp.cmpfiles(f"{folder}/whole", f"{folder}/joined", names, shallow=False)
        killed = len([name for name in os.listdir(folder) if name.startswith("killed")])
        print(f"{PARTS} parts, {killed} of them killed and run again: {len(same)} tables are the same, "
              f"{len(other + lost)} are not")
        sys.exit(0 if len(same) == len(names) and killed else 1)


if __name__ == "__main__":
    main()
