#!/usr/bin/python3
"""What is made from the definitions of the verbs: manual pages, completion, and that README and guide
names nothing else.

usage: test_pages.py GRADIN PAGES"""

import os
import re
import shutil
import subprocess
import sys
import tempfile
import unittest

import hall
import pages

PAGES = os.path.abspath(sys.argv.pop(1))
MANUAL = os.path.join(PAGES, "man1")
BASH = os.path.join(PAGES, "bash", "gradin")
ZSH = os.path.join(PAGES, "zsh", "_gradin")


def verbs():
    """Verbs as the help lists them."""
    text = hall.run("help")[1].split("\nverbs:\n")[1].split("\n\n")[0]
    return [line.split()[0] for line in text.splitlines()]


def options(verb):
    """{name: value or None} as the verb's help lists them."""
    text = hall.run("help", verb)[1].split("\noptions:\n")[1].split("\n\n")[0]
    return dict(re.findall(r"^  (--\S+)(?: (\S+))?(?:  .*)?$", text, re.MULTILINE))


def run(*command, **more):
    return subprocess.run(command, capture_output=True, text=True, check=False, **more)


class Manual(unittest.TestCase):
    def test_a_page_for_the_command_and_for_each_verb(self):
        self.assertEqual(sorted(os.listdir(MANUAL)),
                         sorted(["gradin.1", *(f"gradin-{verb}.1" for verb in verbs())]))

    @unittest.skipUnless(shutil.which("mandoc"), "mandoc is not here")
    def test_lint(self):
        for name in sorted(os.listdir(MANUAL)):
            done = run("mandoc", "-T", "lint", "-W", "warning", name, cwd=MANUAL)
            self.assertEqual((done.returncode, done.stdout), (0, ""), name)

    @unittest.skipUnless(shutil.which("mandoc"), "mandoc is not here")
    def test_page_has_what_the_help_has(self):
        for verb in verbs():
            done = run("mandoc", "-T", "utf8", "-O", "width=76", f"gradin-{verb}.1", cwd=MANUAL)
            page = " ".join(re.sub(".\b", "", done.stdout).split())
            for name in options(verb):
                self.assertIn(name, page, verb)
            for part in re.split(r"\n\n", hall.run("help", verb)[1])[1:]:
                if not part.startswith(("options:", "exit status:", "examples:")):
                    self.assertIn(" ".join(part.split()), page, verb)


class Bash(unittest.TestCase):
    """The function is called as readline does, without a terminal."""

    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.addCleanup(self.temporary.cleanup)
        for name in ("my hall.yaml", "door.csv"):
            with open(os.path.join(self.temporary.name, name), "w", encoding="utf-8"):
                pass
        os.mkdir(os.path.join(self.temporary.name, "halls"))

    def complete(self, *words):
        script = (f'. "{BASH}"; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); '
                  'complete -p gradin >/dev/null || exit 9; _gradin; '
                  'for one in "${COMPREPLY[@]}"; do echo "$one"; done')
        done = run("bash", "--norc", "-c", script, "bash", "gradin", *words,
                   cwd=self.temporary.name)
        self.assertEqual((done.returncode, done.stderr), (0, ""))
        return done.stdout.splitlines()

    def test_syntax(self):
        done = run("bash", "-n", BASH)
        self.assertEqual((done.returncode, done.stderr), (0, ""))

    def test_verbs(self):
        self.assertEqual(self.complete("ass"), ["assess"])
        self.assertEqual(self.complete(""), [*verbs(), "--help", "--version"])
        self.assertEqual(self.complete("help", "ch"), ["check", "changeover", "choose"])

    def test_options(self):
        for verb in verbs():
            self.assertEqual(self.complete(verb, "-"), list(options(verb)), verb)
        self.assertEqual(self.complete("assess", "a.yaml", "--dr"), ["--draws"])

    def test_values(self):
        self.assertEqual(self.complete("rake", "--form", ""), ["constant-c", "constant-riser"])
        self.assertEqual(self.complete("rake", "--form", "=", "constant-r"), ["constant-riser"])
        self.assertEqual(self.complete("rake", "--form", "="), ["constant-c", "constant-riser"])
        self.assertEqual(self.complete("assess", "--samples", ""), [])
        self.assertEqual(self.complete("assess", "--bands", "o"), ["octaves"])

    def test_files(self):
        self.assertEqual(self.complete("assess", ""), ["my hall.yaml", "halls"])
        self.assertEqual(self.complete("assess", "--out", ""), ["halls"])
        self.assertEqual(self.complete("glazing", "d"), ["door.csv"])
        self.assertEqual(self.complete("assess", "--brief", "my"), ["my hall.yaml"])


@unittest.skipUnless(shutil.which("zsh"), "zsh is not here")
class Zsh(unittest.TestCase):
    """Its own functions are stood in for by ones that print what they are given."""

    def complete(self, *words):
        script = ('_arguments() { print -rl -- "$@" }; _describe() { print -rl -- "${(@P)4}" }; '
                  f'words=("$@"); CURRENT=$#; . "{ZSH}"')
        done = run("zsh", "-f", "-c", script, "zsh", "gradin", *words)
        self.assertEqual((done.returncode, done.stderr), (0, ""))
        return done.stdout.splitlines()

    def test_syntax(self):
        done = run("zsh", "-n", ZSH)
        self.assertEqual((done.returncode, done.stderr), (0, ""))

    def test_verbs(self):
        self.assertEqual([line.split(":")[0] for line in self.complete("")], verbs())

    def test_options(self):
        for verb in verbs():
            specs = self.complete(verb, "")
            found = [re.match(r"(?:\(- \*\)|\*)?(--[a-z-]+)(=?)\[", spec) for spec in specs]
            found = {match[1]: match[2] for match in found if match}
            want = {name: "=" if value else "" for name, value in options(verb).items()}
            self.assertEqual(found, want, verb)

    def test_verbs_after_help(self):
        self.assertIn(f":VERB:({' '.join(verbs())})", self.complete("help", ""))


class Guide(unittest.TestCase):
    def setUp(self):
        self.text = pages.all_text()

    def test_it_names_every_verb_and_no_other(self):
        named = set(re.findall(r"(?:^ +|`)(?:build/demo/)?gradin ([a-z]+)\b", self.text,
                               re.MULTILINE))
        self.assertEqual(named, set(verbs()) - {"version"})

    def test_it_names_options_that_are(self):
        every = {name for verb in verbs() for name in options(verb)}
        for verb, rest in re.findall(r"gradin ([a-z]+) (.*)", self.text):
            for name in re.findall(r"(?<!\S)--[a-z-]+", rest.split("#")[0].split("`")[0]):
                self.assertIn(name, options(verb), f"gradin {verb} {rest}")
        for name in re.findall(r"(?<![\w-])--[a-z][a-z-]*", self.text):
            self.assertIn(name, every)


if __name__ == "__main__":
    hall.plain.main()
