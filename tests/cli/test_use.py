#!/usr/bin/python3
"""The command's manners: exit status, exact lines on stderr, nothing left behind."""

import os
import re
import shlex
import shutil
import stat
import subprocess
import tempfile
import unittest

import hall
from hall import plain


VERBS = ["check", "assess", "compare", "draft", "rake", "rails", "changeover", "fit", "glazing", "spectrum",
         "overflight", "listen", "view", "section", "export", "help", "version"]


class Plain(unittest.TestCase):
    def test_version(self):
        header = os.path.join(hall.TOP, "engine", "include", "gradin", "version.h")
        with open(header, encoding="utf-8") as source:
            stated = ".".join(re.findall(r"#define GRADIN_VERSION_[A-Z]+ (\d+)\n", source.read()))
        for word in ("version", "--version", "-V"):
            self.assertEqual(hall.run(word), (0, f"gradin {stated}\n", ""))

    def test_help_names_every_verb(self):
        code, out, err = hall.run("help")
        self.assertEqual((code, err), (0, ""))
        for word in (*VERBS, "exit status"):
            self.assertIn(word, out)
        for word in ("--help", "-h"):
            self.assertEqual(hall.run(word), (0, out, ""))

    def test_help_of_every_verb(self):
        for verb in VERBS:
            code, out, err = hall.run("help", verb)
            self.assertEqual((code, err), (0, ""), verb)
            self.assertTrue(out.startswith(f"usage: gradin {verb}"), out)
            for arguments in ([verb, "--help"], [verb, "-h"], [verb, "no.yaml", "--out", "o",
                                                               "--help"]):
                self.assertEqual(hall.run(*arguments), (0, out, ""), arguments)

    def test_help_is_80_columns_wide(self):
        for arguments in ([], *([verb] for verb in VERBS)):
            for line in hall.run("help", *arguments)[1].splitlines():
                self.assertLessEqual(len(line), 80, line)

    def test_help_has_ranges_and_defaults(self):
        out = " ".join(hall.run("help", "assess")[1].split())
        self.assertIn("--samples N rays from each seat to points of the focus areas (16 to 65536; "
                      "default: 1024)", out)
        self.assertIn("(default: the layout's own brief)", out)
        out = " ".join(hall.run("help", "glazing")[1].split())
        self.assertIn("(-20 to 60 \u00b0C; default: what the venue states)", out)

    def test_json_and_quiet_for_every_verb_that_reads(self):
        for verb in VERBS[:-2]:
            for option in ("\n  --json  ", "\n  --quiet  "):
                self.assertIn(option, hall.run("help", verb)[1], verb)

    def test_only_verbs_that_judge_end_with_1(self):
        judges = {verb for verb in VERBS if "\n  1  " in hall.run("help", verb)[1]}
        self.assertEqual(judges, {"rake", "changeover", "fit", "draft"})

    def test_help_defers_to_local_codes(self):
        self.assertIn("Rails, guards, egress, loads and moving machinery: the local code",
                      " ".join(hall.run("help")[1].split()))

    def test_examples_of_the_help_are_right(self):
        """Every example parses: it is refused for its missing files only."""
        with tempfile.TemporaryDirectory() as folder:
            for verb in VERBS:
                text = hall.run("help", verb)[1]
                for line in text.split("\nexamples:\n")[1:]:
                    for command in (l for l in line.splitlines() if l.startswith("  gradin ")):
                        words = shlex.split(command)[1:]
                        code, _, err = hall.run(*words, cwd=folder)
                        self.assertTrue(code == 0 or "cannot be opened" in err, f"{command}: {err}")


class Refusals(hall.HallTest):
    def refuse(self, arguments, lines):
        """Exit status 2, exactly these lines on stderr, no stdout and no new file."""
        before = sorted(os.listdir(self.folder))
        code, out, err = self.run_here(*arguments)
        self.assertEqual((code, out, err.splitlines()), (2, "", lines))
        self.assertEqual(sorted(os.listdir(self.folder)), before)

    def refuse_layout(self, *lines, layout="end_stage"):
        self.refuse(["check", f"{layout}.yaml"], list(lines))
        self.refuse(["assess", f"{layout}.yaml", "--out", "out"], list(lines))

    def line_of(self, name, passage):
        with open(self.path(name), encoding="utf-8") as source:
            for number, text in enumerate(source, 1):
                if passage in text:
                    return number, text.index(passage) + 1
        raise AssertionError(f"{name} does not hold {passage!r}")

    # ---- use

    def test_no_verb(self):
        self.refuse([], ["gradin: a verb is needed; 'gradin help' lists them"])

    def test_unknown_verb(self):
        self.refuse(["aseess"], ["gradin: unknown verb 'aseess'; did you mean 'assess'?"])
        code, out, err = self.run_here("paint")
        self.assertEqual((code, out), (2, ""))
        self.assertTrue(err.startswith("gradin: unknown verb 'paint'; allowed: check, assess"), err)
        code, out, err = self.run_here("--json", "assess")
        self.assertEqual((code, out), (2, ""))
        self.assertTrue(err.startswith("gradin: unknown option '--json'; a verb comes first: "), err)

    def test_words_that_would_steer_the_terminal(self):
        for sign in ("\x1b", "\x85", "\x9b", "\u202e", "\u2066"):
            self.refuse(["check", f"--a{sign}b"],
                        ["gradin: check: unknown option '--a?b'; 'gradin help check' lists them"])
            err = self.run_here(f"no{sign}such")[2]
            self.assertTrue(err.startswith("gradin: unknown verb 'no?such'; allowed: "), err)

    def test_help_of_no_verb(self):
        self.refuse(["help", "aseess"],
                    ["gradin: help: there is no verb 'aseess'; did you mean 'assess'?"])
        self.refuse(["help", "nosuch"],
                    ["gradin: help: there is no verb 'nosuch'; 'gradin help' lists them"])
        self.refuse(["help", "fit", "rake"],
                    ["gradin: help: at most one verb can be named, not 2"])
        self.refuse(["version", "2"], ["gradin: version: no argument is allowed"])

    def test_unknown_option(self):
        self.refuse(["assess", "end_stage.yaml", "--oot", "x"],
                    ["gradin: assess: unknown option '--oot'; did you mean '--out'?"])
        self.refuse(["check", "--fast", "hall.yaml"],
                    ["gradin: check: unknown option '--fast'; 'gradin help check' lists them"])
        self.refuse(["assess", "-x"], ["gradin: assess: unknown option '-x'; 'gradin help assess' "
                                       "lists them"])

    def test_option_without_value(self):
        self.refuse(["assess", "end_stage.yaml", "--out"], ["gradin: assess: --out needs a value"])
        self.refuse(["assess", "end_stage.yaml", "--out="], ["gradin: assess: --out is empty"])
        self.refuse(["assess", "end_stage.yaml", "--out", "x", "--quiet=1"],
                    ["gradin: assess: --quiet takes no value"])

    def test_option_given_twice(self):
        self.refuse(["assess", "end_stage.yaml", "--out", "x", "--out", "y"],
                    ["gradin: assess: --out is given twice"])
        self.refuse(["assess", "end_stage.yaml", "--quiet", "--quiet", "--out=x"],
                    ["gradin: assess: --quiet is given twice"])

    def test_numbers_of_options(self):
        for value in ("0", "15", "65537", "1.5", "many", "", "nan", "1e99", "64x"):
            self.refuse(["assess", "end_stage.yaml", "--out", "x", "--samples", value],
                        [f"gradin: assess: --samples is '{value}'; a whole number from 16 to 65536 "
                         "is needed"])
        for value in ("0", "257", "-1"):
            self.refuse(["assess", "end_stage.yaml", "--out", "x", f"--threads={value}"],
                        [f"gradin: assess: --threads is '{value}'; a whole number from 1 to 256 is "
                         "needed"])

    def test_files_are_counted(self):
        self.refuse(["check"], ["gradin: check: a file is needed"])
        self.refuse(["assess", "--out", "x"], ["gradin: assess: one layout is needed, not 0"])
        self.refuse(["assess", "a.yaml", "b.yaml", "--out", "x"],
                    ["gradin: assess: one layout is needed, not 2"])
        self.refuse(["assess", "end_stage.yaml"], ["gradin: assess: --out DIR is needed"])

    # ---- files

    def test_missing_file(self):
        self.refuse_layout("none.yaml: cannot be opened: No such file or directory", layout="none")

    def test_folder_in_place_of_a_file(self):
        os.mkdir(self.path("d"))
        self.refuse(["check", "d"], ["d: is not a regular file"])

    def test_missing_venue(self):
        os.unlink(self.path("hall.yaml"))
        line, column = self.line_of("end_stage.yaml", "hall.yaml")
        self.refuse_layout(f"end_stage.yaml:{line}:{column}: venue: hall.yaml cannot be opened: No "
                           "such file or directory")

    def test_missing_brief_and_overflight(self):
        os.unlink(self.path("brief.yaml"))
        os.unlink(self.path("approach.yaml"))
        wanted = []
        for key, name in (("brief", "brief.yaml"), ("overflight", "approach.yaml")):
            line, column = self.line_of("end_stage.yaml", name)
            wanted.append(f"end_stage.yaml:{line}:{column}: {key}: {name} cannot be opened: No "
                          "such file or directory")
        self.refuse_layout(*wanted)

    def test_control_character_in_a_name(self):
        self.change("end_stage.yaml", "- name: Stalls\n", '- name: "Stalls\\e[31m"\n')
        line, column = self.line_of("end_stage.yaml", r'"Stalls\e[31m"')
        self.refuse_layout(f"end_stage.yaml:{line}:{column}: blocks[1].name: holds a control "
                           "character, a mark of direction or a character that does not show; one line of plain text is needed")

    def test_byte_order_mark(self):
        for name in ("end_stage.yaml", "hall.yaml", "pane.csv"):
            with open(self.path(name), "rb") as source:
                text = source.read()
            with open(self.path(name), "wb") as out:
                out.write(b"\xef\xbb\xbf" + text)
        self.assertEqual(self.run_here("check", "end_stage.yaml"),
                         (0, "end_stage.yaml: layout, ok\n", ""))

    def test_unknown_option_of_check(self):
        self.refuse(["check", "hall.yaml", "--frob"],
                    ["gradin: check: unknown option '--frob'; 'gradin help check' lists them"])

    def test_venue_is_no_layout(self):
        line, column = self.line_of("hall.yaml", "gradin-venue-1")
        self.refuse(["assess", "hall.yaml", "--out", "out"],
                    [f"hall.yaml:{line}:{column}: format: is 'gradin-venue-1'; 'gradin-layout-1' "
                     "is needed"])

    def test_wrong_key(self):
        self.change("end_stage.yaml", "axis_deg:", "axis_dg:")
        line, column = self.line_of("end_stage.yaml", "axis_dg: ")
        self.refuse_layout(f"end_stage.yaml:{line}:{column}: axis_dg: unknown key 'axis_dg'; did "
                           "you mean 'axis_deg'?")

    def test_not_a_number(self):
        for text in (".nan", "nan", ".inf", "-inf", "1e999", "0x10", "180deg", "1,5"):
            self.change("end_stage.yaml", "axis_deg: 180", f"axis_deg: {text}")
            line, column = self.line_of("end_stage.yaml", f"axis_deg: {text}")
            column += len("axis_deg: ")
            self.refuse_layout(f"end_stage.yaml:{line}:{column}: axis_deg: is '{text}'; a plain "
                               "finite number is needed")

    def test_machine_past_its_travel(self):
        self.change("end_stage.yaml", "{name: N1, hoist: 8,", "{name: N1, hoist: 8.6,")
        line, column = self.line_of("end_stage.yaml", "{name: N1,")
        self.refuse_layout(
            f"end_stage.yaml:{line}:{column}: machines.towers[1].hoist: N1 would be at 8.600 m; "
            "its travel is 0.000 to 8.000 m")

    def test_rail_below_the_venues_own_rule(self):
        self.change("end_stage.yaml", "height: 1.1, thickness: 0.04",
                    "height: 0.6, thickness: 0.04")
        code, _, err = self.run_here("check", "end_stage.yaml")
        self.assertEqual(code, 2)
        for text in err.splitlines():
            self.assertIn("local code and a licensed professional decide", text)

    def test_binary_file(self):
        with open(self.path("end_stage.yaml"), "wb") as out:
            out.write(bytes(range(256)) * 4)
        code, _, err = self.run_here("check", "end_stage.yaml")
        self.assertEqual((code, len(err.splitlines())), (2, 1))
        self.assertTrue(err.startswith("end_stage.yaml:"), err)

    def test_empty_file(self):
        with open(self.path("end_stage.yaml"), "w", encoding="utf-8"):
            pass
        code, _, err = self.run_here("check", "end_stage.yaml")
        self.assertEqual((code, len(err.splitlines())), (2, 1))

    def test_every_error_of_a_file_at_once(self):
        hall.copy_demo(self.folder, [("end_stage.yaml", "axis_deg:", "axis_dg:"),
                                     ("end_stage.yaml", "opening: 16", "opening: wide"),
                                     ("end_stage.yaml", "seat_width:", "seat_wdth:")])
        code, _, err = self.run_here("check", "end_stage.yaml")
        self.assertEqual(code, 2)
        for word in ("axis_dg", "'wide'", "blocks[1].seat_wdth", "blocks[2].seat_wdth"):
            self.assertIn(word, err)

    def test_bad_brief_option(self):
        self.refuse(["assess", "end_stage.yaml", "--out", "out", "--brief", "none.yaml"],
                    ["none.yaml: cannot be opened: No such file or directory"])

    # ---- a good file beside a bad one

    def test_check_goes_on_after_a_bad_file(self):
        code, out, err = self.run_here("check", "none.yaml", "hall.yaml")
        self.assertEqual(code, 2)
        self.assertEqual(out, "hall.yaml: venue, ok\n")
        self.assertEqual(err, "none.yaml: cannot be opened: No such file or directory\n")


class Checks(hall.HallTest):
    def test_the_demo_passes(self):
        kinds = {f"{name}.yaml": "layout" for name in hall.LAYOUTS}
        kinds.update({"hall.yaml": "venue", "approach.yaml": "overflight", "brief.yaml": "brief",
                      "season.yaml": "traffic", "march.yaml": "programme",
                      "quiet_play.yaml": "show", "glass.yaml": "study", "settings.yaml": "study", "hexagon.yaml": "venue",
                      "hexagon_stage.yaml": "layout", "hexagon_opera.yaml": "layout"})
        self.assertEqual({name for name in os.listdir(hall.DEMO) if name.endswith(".yaml")},
                         set(kinds))
        names = sorted(kinds)
        self.assertEqual(self.run_here("check", *names),
                         (0, "".join(f"{name}: {kinds[name]}, ok\n" for name in names), ""))

    def test_a_dash_is_standard_input(self):
        """Once per run; what it names is seen from the working folder, and its faults have its name."""
        self.assertEqual(self.run_here("check", "-", stdin=open(self.path("round.yaml"), encoding="utf-8")),
                         (0, "-: layout, ok\n", ""))
        with open(self.path("round.yaml"), encoding="utf-8") as source:
            text = source.read()
        for n_more in (0, 200_000): # longer than a pipe holds
            found = self.pipe_in(text + "# more\n" * n_more, "rails", "-", "--out", "piped")
            named = self.run_here("rails", "round.yaml", "--out", "named")
            self.assertEqual(found.replace("piped", "named"), named[1], n_more)
        with open(self.path("piped/rails.csv"), "rb") as piped, open(self.path("named/rails.csv"), "rb") as named:
            self.assertEqual(piped.read(), named.read())
        self.assertIn("-:1:1", self.pipe_in("forms: round\n", "check", "-", code=2))
        self.assertIn("-: has more than", self.pipe_in("#" * 20_000_000, "check", "-", code=2))

    def pipe_in(self, text, *arguments, code=0):
        done = subprocess.run([hall.GRADIN, *arguments], cwd=self.folder, input=text, capture_output=True, text=True,
                              check=False)
        self.assertEqual(done.returncode, code, done.stderr)
        return done.stdout if code == 0 else done.stderr

    def test_names_after_two_dashes(self):
        shutil.copy(self.path("hall.yaml"), self.path("--hall.yaml"))
        self.assertEqual(self.run_here("check", "--", "--hall.yaml"),
                         (0, "--hall.yaml: venue, ok\n", ""))


class Machine(hall.HallTest):
    """The machine fails: exit status 3."""

    def test_full_standard_output(self):
        said = "gradin: standard output: No space left on device\n"
        for arguments in (["version"], ["help"], ["check", "hall.yaml"],
                          ["assess", "round.yaml", "--out", "out"],
                          ["assess", "round.yaml", "--out", "out", "--json"]):
            with open("/dev/full", "w", encoding="utf-8") as full:
                code, _, err = self.run_here(*arguments, stdout=full)
            self.assertEqual((code, err), (3, said), arguments)

    def test_closed_pipe(self):
        """A reader that has seen enough is no failure, and changes no verdict."""
        for arguments, status in ((["help"], 0), (["check", "hall.yaml"], 0),
                                  (["check", "hall.yaml", "none.yaml"], 2),
                                  (["changeover", "flat_floor.yaml", "thrust.yaml", "--gap", "1"],
                                   1)):
            reading, writing = os.pipe()
            os.close(reading)
            code, _, err = self.run_here(*arguments, stdout=writing)
            os.close(writing)
            self.assertEqual(code, status, arguments)
            self.assertEqual(err, "none.yaml: cannot be opened: No such file or directory\n"
                             if status == 2 else "", arguments)

    def test_name_taken_by_a_file(self):
        with open(self.path("out"), "w", encoding="utf-8") as out:
            out.write("mine")
        self.assertEqual(self.run_here("assess", "round.yaml", "--out", "out"),
                         (2, "", "gradin: out: exists and is no folder\n"))
        with open(self.path("out"), encoding="utf-8") as source:
            self.assertEqual(source.read(), "mine")


class Unwritable(unittest.TestCase):
    """Root may write everywhere, so root runs these as nobody, with a copy of the command."""

    def setUp(self):
        self.temporary = tempfile.TemporaryDirectory()
        self.folder = self.temporary.name
        hall.copy_demo(self.folder)
        self.command = shutil.copy(hall.GRADIN, self.folder)
        self.shut = os.path.join(self.folder, "shut")
        os.mkdir(self.shut)
        for path, _, names in os.walk(self.folder):
            os.chmod(path, 0o555)
            for name in names:
                os.chmod(os.path.join(path, name), 0o555)

    def tearDown(self):
        os.chmod(self.folder, stat.S_IRWXU)
        self.temporary.cleanup()

    def run_as_nobody(self, out):
        somebody = {"user": 65534, "group": 65534, "extra_groups": []} if os.getuid() == 0 else {}
        done = subprocess.run([self.command, "assess", "round.yaml", "--out", out],
                              cwd=self.folder, capture_output=True, text=True, check=False,
                              env={**os.environ, "XDG_CACHE_HOME": self.shut}, **somebody)
        return done.returncode, done.stdout, done.stderr

    def test_folder_cannot_be_made(self):
        self.assertEqual(self.run_as_nobody("shut/out"),
                         (3, "", "gradin: shut/out: Permission denied\n"))

    def test_folder_cannot_be_written(self):
        self.assertEqual(self.run_as_nobody("shut"),
                         (3, "", "gradin: shut: Permission denied\n"))
        self.assertEqual(os.listdir(self.shut), [])


if __name__ == "__main__":
    plain.main()
