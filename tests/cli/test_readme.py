"""The README's examples are tests: every gradin command in it runs on a copy of the demo, and every
block that it shows as printed is what a command of its section prints, line by line."""

import os
import re
import shlex
import shutil
import tempfile
import unittest

import hall

# What ends well: done, or done with a stated limit not met.
GOOD = (0, 1)


def blocks(text):
    """(section, lines) of each indented block; blank lines inside a block belong to it."""
    section, block, found = "", [], []
    for line in text.splitlines() + ["# end"]:
        if line.startswith("    "):
            block.append(line[4:])
        elif not line and block:
            block.append("")
        else:
            if block:
                found.append((section, "\n".join(block).rstrip("\n").split("\n")))
            block = []
        if line.startswith("#"):
            section = line.lstrip("# ")
    return found


def command_of(line):
    """Arguments of a line that calls gradin, as from inside the demo's folder; else None."""
    words = shlex.split(line, comments=True)
    if not words or os.path.basename(words[0]) != "gradin":
        return None
    return [re.sub(r"^(\.\./)?demo/", "", word) for word in words[1:]]


def is_input(block):
    """A piece of a YAML file: keys with what they hold."""
    return re.match(r"^[a-z_]+:( |$)", block[0]) is not None


class Readme(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.addCleanup(self.temporary.cleanup)
        self.folder = os.path.join(self.temporary.name, "demo")
        shutil.copytree(hall.DEMO, self.folder, ignore=shutil.ignore_patterns("results", "*.png"))
        os.mkdir(os.path.join(self.folder, "results"))
        with open(os.path.join(hall.TOP, "README.md"), encoding="utf-8") as source:
            self.blocks = blocks(source.read())

    def printed(self, words):
        words = [word.replace("../results", "results") for word in words]
        code, out, err = hall.run(*words, cwd=self.folder)
        self.assertIn(code, GOOD, f"gradin {shlex.join(words)}: {err}")
        return out

    def test_commands_run_and_print_what_is_shown(self):
        section, outputs, n_command, n_shown = None, [], 0, 0
        for title, block in self.blocks:
            if title != section:
                section, outputs = title, []
            commands = [c for c in map(command_of, block) if c is not None]
            if commands:
                outputs += [self.printed(words) for words in commands]
                n_command += len(commands)
            elif not is_input(block) and not block[0].startswith(("bash ", "cd ")):
                shown = "\n".join(line.rstrip() for line in block) + "\n"
                prints = ["\n".join(l.rstrip() for l in o.splitlines()) + "\n" for o in outputs]
                self.assertTrue(any(shown in out for out in prints),
                                f"no command of section {title!r} prints:\n{shown}")
                n_shown += 1
        self.assertGreaterEqual(n_command, 14)
        self.assertGreaterEqual(n_shown, 3)


if __name__ == "__main__":
    hall.plain.main()
