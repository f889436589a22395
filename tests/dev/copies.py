"""Copies of the tree in which sources are changed, built and tested; see mutate.py."""

import collections
import filecmp
import glob
import hashlib
import json
import math
import os
import re
import resource
import shlex
import shutil
import signal
import subprocess
import sys

import mutants

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
PARTS = ("CMakeLists.txt", "README.md", "DEVELOPERS.md", "LICENSE", ".clang-format", "engine", "tools",
         "tests", "reference", "demo")
LEFT_OUT = {"__pycache__", "results"}
FAST = ("-DGRADIN_WERROR=ON", "-DCMAKE_BUILD_TYPE=Mutate", "-DCMAKE_C_FLAGS_MUTATE=-O2 -fsanitize=undefined "
        "-fsanitize-undefined-trap-on-error")
SANITIZED = ("-DCMAKE_BUILD_TYPE=Debug", "-DGRADIN_SANITIZE=ON")
LIMIT_S, LIMIT_TIMES = 10, 4  # of processor time, which other work does not lengthen
WAIT_TIMES = 20  # of the same by the clock, for a test that waits for ever
MEMORY_BYTES = 8 << 30
FILE_BYTES = 1 << 30
WIDEST = "cli_demo_lists"  # every table of the demo

Entry = collections.namedtuple("Entry", "name command environment program skip")


def fail(status, text):
    print(f"mutate.py: {text}", file=sys.stderr)
    sys.exit(status)


def digest(path):
    with open(path, "rb") as file:
        return hashlib.sha256(file.read()).hexdigest()


def files_under(root, parts):
    for part in parts:
        full = os.path.join(root, part)
        if os.path.isfile(full):
            yield part
        for folder, folders, names in os.walk(full):
            folders[:] = sorted(set(folders) - LEFT_OUT)
            for name in sorted(names):
                yield os.path.relpath(os.path.join(folder, name), root)


def copy_tree(source, target):
    """Makes target's parts like source's; a file that is the same keeps its time."""
    wanted = set(files_under(source, PARTS))
    for path in set(files_under(target, PARTS)) - wanted:
        os.remove(os.path.join(target, path))
    for path in wanted:
        old, new = os.path.join(target, path), os.path.join(source, path)
        if not os.path.exists(old) or not filecmp.cmp(new, old, shallow=False):
            os.makedirs(os.path.dirname(old), exist_ok=True)
            shutil.copyfile(new, old)
            shutil.copymode(new, old)


def freeze(folder):
    """From here on the tree is a copy of what it is now: it may be worked on meanwhile."""
    global TOP
    os.makedirs(folder, exist_ok=True)
    copy_tree(TOP, folder)
    TOP = folder


def source_files(root, only):
    """C files and private headers of the engine, below one of `only` if any is given."""
    for path in files_under(root, ("engine",)):
        if not path.endswith((".c", ".h")) or path.startswith("engine/include/"):
            continue
        if not only or any(path == o or path.startswith(o.rstrip("/") + "/") for o in only):
            yield path


def read(root, path):
    with open(os.path.join(root, path), encoding="utf-8") as file:
        return file.read()


def limits(processor_s, memory_bytes):
    resource.setrlimit(resource.RLIMIT_CPU, (processor_s, processor_s))
    resource.setrlimit(resource.RLIMIT_AS, (memory_bytes, memory_bytes))
    resource.setrlimit(resource.RLIMIT_FSIZE, (FILE_BYTES, FILE_BYTES))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def run(command, folder, environment=None, limit_s=None, memory_bytes=resource.RLIM_INFINITY):
    """(exit status, output). A process that takes more than limit_s of processor time is ended, and so
    is a run that takes many times as long by the clock, with all it started."""
    env = {**os.environ, **(environment or {})}
    before = (lambda: limits(math.ceil(limit_s), memory_bytes)) if limit_s else None
    with subprocess.Popen(command, cwd=folder, env=env, stdout=subprocess.PIPE, stdin=subprocess.DEVNULL,
                          stderr=subprocess.STDOUT, start_new_session=True, preexec_fn=before) as child:
        try:
            out, _ = child.communicate(timeout=limit_s and limit_s * WAIT_TIMES)
            return child.returncode, out.decode(errors="replace")
        except subprocess.TimeoutExpired:
            os.killpg(child.pid, signal.SIGKILL)
            child.communicate()
            return -1, "too long"


def processor_s():
    """What all that was started and has ended took so far."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def output_of(compilation):
    words = shlex.split(compilation["command"])
    return words[words.index("-o") + 1]


class Copy:
    """A copy of the tree with its build folder."""

    def __init__(self, folder, options=FAST):
        self.is_sanitized = options is SANITIZED
        self.tree, self.build = os.path.join(folder, "tree"), os.path.join(folder, "build")
        self.scratch = os.path.join(folder, "scratch")
        os.makedirs(self.tree, exist_ok=True)
        copy_tree(TOP, self.tree)
        launcher = shutil.which("ccache")
        self.must(["cmake", "-S", self.tree, "-B", self.build, "-G", "Ninja",
                   *options, *([f"-DCMAKE_C_COMPILER_LAUNCHER={launcher}"] if launcher else [])])
        with open(os.path.join(self.build, "compile_commands.json"), encoding="utf-8") as file:
            self.objects = {os.path.relpath(c["file"], self.tree): output_of(c) for c in json.load(file)}
        self.digests = {}
        self.includes = {path: set(re.findall(r'#\s*include\s*"([^"]+)"', read(self.tree, path)))
                         for path in files_under(self.tree, ("engine",)) if path.endswith((".c", ".h"))}

    def must(self, command):
        status, out = run(command, self.tree)
        if status:
            fail(3, f"{' '.join(command[:3])} failed:\n{out[-3000:]}")
        return out

    def ninja(self, targets):
        return run(["ninja", "-C", self.build, "--quiet", "-j1", *targets], self.tree)[0] == 0

    def write(self, path, text):
        with open(os.path.join(self.tree, path), "w", encoding="utf-8") as file:
            file.write(text)

    def objects_of(self, path):
        """What is compiled from a source, or from every source that includes a header."""
        if path in self.objects:
            return [self.objects[path]]
        reach, more = set(), {path}
        while more:
            names = {re.sub(r"^engine/", "", p) for p in more}
            reach |= more
            more = {p for p, included in self.includes.items() if included & names} - reach
        return [self.objects[p] for p in sorted(reach) if p in self.objects]

    def prepare(self):
        """Builds everything and lists what tests there are."""
        self.must(["cmake", "--build", self.build, "--", "--quiet"])
        listed = json.loads(self.must(["ctest", "--test-dir", self.build, "--show-only=json-v1"]))
        self.entries = [e for e in map(self.entry, listed["tests"]) if e]
        self.digests.update({e.program: digest(e.program) for e in self.entries})

    def entry(self, test):
        """An entry of the quick part, or None."""
        properties = {p["name"]: p["value"] for p in test["properties"]}
        programs = [word for word in test["command"] if word.startswith(self.build + "/")
                    and os.path.isfile(word) and os.access(word, os.X_OK)]
        left_out = {"slow", "plain" if self.is_sanitized else "sanitized"}
        if left_out & set(properties.get("LABELS", [])) or not programs:
            return None
        environment = dict(pair.split("=", 1) for pair in properties.get("ENVIRONMENT", []))
        fast = ["--fail-fast"] if test["name"].startswith("unit_") else []
        return Entry(test["name"], test["command"] + fast, environment, programs[0],
                     properties.get("SKIP_RETURN_CODE"))

    def test(self, entry, limit_s=None):
        """(passed, seconds of processor time)"""
        shutil.rmtree(self.scratch, ignore_errors=True)
        os.makedirs(self.scratch)
        reports = os.path.join(self.scratch, "report")
        environment = {"TMPDIR": self.scratch, "ASAN_OPTIONS": f"log_path={reports}",
                       "UBSAN_OPTIONS": f"log_path={reports}:halt_on_error=1"}
        memory_bytes = resource.RLIM_INFINITY if self.is_sanitized else MEMORY_BYTES
        start = processor_s()
        status, _ = run(entry.command, self.build, {**entry.environment, **environment}, limit_s,
                        memory_bytes)
        return status in (0, entry.skip) and not glob.glob(f"{reports}*"), processor_s() - start

    def measure(self):
        """{entry: its processor time}, of the entries that pass."""
        times = {}
        for entry in self.entries:
            passed, seconds = self.test(entry, 3600)
            if not passed:
                print(f"{entry.name} fails without any mutation and is left out")
                continue
            times[entry.name] = seconds
        if not times:
            fail(3, "no test passes without a mutation")
        return times

    def original(self, objects):
        for name in objects:
            if name not in self.digests:
                if not self.ninja([name]):
                    fail(3, f"{name} does not build")
                self.digests[name] = digest(os.path.join(self.build, name))

    def compiles(self, site):
        """Whether the mutation, which is left in place, compiles into other code."""
        objects = self.objects_of(site.path)
        self.original(objects)
        self.write(site.path, mutants.mutated(read(TOP, site.path), site))
        return bool(objects) and self.ninja(objects) and any(
            digest(os.path.join(self.build, name)) != self.digests[name] for name in objects)

    def restore(self, site):
        self.write(site.path, read(TOP, site.path))

    def caught_by(self, site, times):
        """The name of the entry that fails under the mutation in place; None when all pass."""
        for entry in in_order(self.entries, times, site.path):
            if not self.ninja([os.path.relpath(entry.program, self.build)]):
                return f"{entry.name}, which does not link"
            if digest(entry.program) == self.digests[entry.program]:
                continue
            if not self.test(entry, LIMIT_S + LIMIT_TIMES * times[entry.name])[0]:
                return entry.name
        return None


def own_tests(path):
    """Names of the unit tests of the folders that a file stands in."""
    return {f"unit_{folder}" for folder in path.split("/")[1:-1]}


def in_order(entries, times, path):
    """The file's own unit tests, then the one that sees the most, then the fastest first."""
    own = own_tests(path)
    return sorted((e for e in entries if e.name in times),
                  key=lambda e: (e.name not in own, e.name != WIDEST, times[e.name]))
