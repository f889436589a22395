"""The README's and the guide's examples are tests: every gradin command runs on a copy of the demo, with
the files that the page gives, and every block shown as printed is what a command of its section prints,
line by line. The README stays short, and its prose easy to read."""

import csv
import os
import re
import shlex
import shutil
import statistics
import tempfile
import unittest

import hall
import pages

# What ends well: done, or done with a stated limit not met.
GOOD = (0, 1)


def command_of(line):
    """Arguments of a line that calls gradin, as from inside the demo's folder; else None."""
    words = shlex.split(line, comments=True)
    if not words or os.path.basename(words[0]) != "gradin":
        return None
    return [re.sub(r"^(\.\./)?demo/", "", word) for word in words[1:]]


def is_input(block):
    """A piece of a YAML file: keys with what they hold."""
    return re.match(r"^[a-z_]+:( |$)", block[0]) is not None


class Examples(unittest.TestCase):
    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.addCleanup(self.temporary.cleanup)
        self.n_command = self.n_shown = 0

    def fill_folder(self, page):
        self.folder = os.path.join(self.temporary.name, os.path.basename(page))
        shutil.copytree(hall.DEMO, self.folder, ignore=shutil.ignore_patterns("results", "*.png"))
        os.mkdir(os.path.join(self.folder, "results"))
        for name, text in pages.files(pages.read(page)).items():
            with open(os.path.join(self.folder, name), "w", encoding="utf-8") as file:
                file.write(text)

    def printed(self, words):
        words = [word.replace("../results", "results") for word in words]
        code, out, err = hall.run(*words, cwd=self.folder)
        self.assertIn(code, GOOD, f"gradin {shlex.join(words)}: {err}")
        return "\n".join(line.rstrip() for line in out.splitlines()) + "\n"

    def follow(self, page):
        section, outputs = None, []
        for title, block in pages.blocks(pages.read(page)):
            if title != section:
                section, outputs = title, []
            commands = [c for c in map(command_of, block) if c is not None]
            if commands:
                outputs += [self.printed(words) for words in commands]
                self.n_command += len(commands)
            elif not is_input(block) and not block[0].startswith(("bash ", "cd ")):
                shown = "\n".join(line.rstrip() for line in block) + "\n"
                self.assertTrue(any(shown in out for out in outputs),
                                f"{page}: no command of section {title!r} prints:\n{shown}")
                self.n_shown += 1

    def test_commands_run_and_print_what_is_shown(self):
        for page in [pages.README] + pages.GUIDE:
            self.fill_folder(page)
            self.follow(page)
        self.assertGreaterEqual(self.n_command, 30)
        self.assertGreaterEqual(self.n_shown, 9)

    def test_the_least_that_makes_noise(self):
        """The hall of the README with the window and the pass of the guide."""
        page = pages.read(next(name for name in pages.GUIDE if name.endswith("files.md")))
        self.fill_folder(pages.README)
        window = re.search(r"^```yaml\n(facade:.*?)^```$", page, re.MULTILINE | re.DOTALL)[1]
        for name, text in (("barn.yaml", window), ("play.yaml", "overflight: jet.yaml\n"),
                           ("jet.yaml", pages.files(page)["jet.yaml"])):
            with open(os.path.join(self.folder, name), "a", encoding="utf-8") as file:
                file.write(text)
        self.assertIn("\nNoise of jet: outside LAmax ", self.printed(["assess", "play.yaml", "--out", "loud", "--no-maps"]))


class Prose(unittest.TestCase):
    def test_sentences_are_short(self):
        for page in [pages.README] + pages.GUIDE:
            found = sorted(pages.sentences(pages.read(page)), key=len)
            self.assertLessEqual(statistics.median(map(len, found)), 12, page)
            self.assertLessEqual(len(found[int(0.9 * len(found))]), 24, page)
            self.assertLessEqual(len(found[-1]), 45, f"{page}: {' '.join(found[-1])}")

    def test_a_long_one_is_found(self):
        text = "# Head\n\nOne two. Three\nfour five. A `b` c?\n\n    not this\n\n| x y | z |\n|---|---|\n"
        self.assertEqual([len(s) for s in pages.sentences(text)], [2, 3, 3, 2, 1])

    def test_the_readme_is_a_page_or_two(self):
        self.assertLessEqual(len(pages.read(pages.README).splitlines()), 120)

    def rows(self, name):
        with open(os.path.join(hall.TOP, f"reference/glazing/{name}.csv"), encoding="utf-8", newline="") as source:
            return list(csv.DictReader(source))

    def test_errors_of_glazing_are_those_measured(self):
        """The README's table rounds left-out.csv and reach.csv of reference/glazing, which unit_acoustics makes."""
        kept, reach = ({(row["source"], row["group"]): row for row in self.rows(name)}
                       for name in ("left-out", "reach"))
        for start, keys in (
                ("R of one pane", [("EN 12758", "one pane"), ("Bies 2017", "one pane"),
                                   ("Rossing 2014", "one pane")]),
                ("R of a sealed unit", [("EN 12758", "sealed unit"), ("Bies 2017", "sealed unit")]),
                ("R of a double window", [("Bies 2017", "double window as worded")]),
                ("STC of sealed windows", [("sealed windows", "all")])):
            line = next(line for line in pages.read(pages.README).splitlines() if f"| {start}" in line)
            _, _, against, error, differ, cases, _ = (cell.strip() for cell in line.split("|"))
            self.assertEqual(error.split(",")[0],
                             "; ".join(f"{float(kept[key]['mean_abs_db']) + 1e-6:.1f}" for key in keys))
            self.assertEqual(cases, "; ".join(kept[key]["builds"] for key in keys))
            near = [(source, group.replace("all", "one pane").replace(" as worded", "")) for source, group in keys]
            self.assertEqual(differ, "; ".join(f"{float(reach[key]['sources_differ_db']) + 1e-6:.1f}"
                                               for key in near if key in reach))
            for source, _ in keys:
                self.assertIn(source if source != "sealed windows" else "handbook", against)

    def test_links_lead_somewhere(self):
        for page in [pages.README] + pages.GUIDE:
            for link in re.findall(r"\]\(([^)#]+)\)", pages.read(page)):
                self.assertTrue(os.path.exists(os.path.join(os.path.dirname(page), link)),
                                f"{page}: {link}")

    def test_every_page_of_the_guide_is_reached_from_the_readme(self):
        for page in pages.GUIDE:
            self.assertIn(f"](reference/guide/{os.path.basename(page)})", pages.read(pages.README))


if __name__ == "__main__":
    hall.plain.main()
