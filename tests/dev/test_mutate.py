#!/usr/bin/python3
"""mutants.py finds the places that it should and no others; mutate.py, on a small project, tells the
mutations that its tests catch from those that they miss."""

import contextlib
import io
import os
import random
import sys
import tempfile
import unittest

HERE = os.path.dirname(os.path.abspath(__file__))
TOP = os.path.dirname(os.path.dirname(HERE))
sys.path[:0] = [HERE, os.path.join(TOP, "tests", "support")]
import copies  # noqa: E402
import mutants  # noqa: E402
import mutate  # noqa: E402
import plain  # noqa: E402


def changes(text, kind=None):
    """The text after each mutation."""
    return [mutants.mutated(text, s) for s in mutants.sites("a.c", text) if kind in (None, s.kind)]


def body(line):
    return f"int f(int a, int b) {{\n    {line}\n}}\n"


class Places(unittest.TestCase):
    def expect(self, kind, line, *lines):
        self.assertEqual(changes(body(line), kind), [body(changed) for changed in lines])

    def test_comparisons(self):
        self.expect("comparison", "return a < b;", "return a <= b;", "return a >= b;")
        self.expect("comparison", "return a == b;", "return a != b;")
        self.expect("comparison", "return a && b;", "return a || b;")
        self.expect("comparison", "return p->a;")
        self.expect("comparison", "return a << b;")

    def test_signs(self):
        self.expect("sign", "return a + b;", "return a - b;")
        self.expect("sign", "return -a;", "return a;")
        self.expect("sign", "return a * b;", "return a / b;")
        self.expect("sign", "return *a;")
        self.expect("sign", "const int *c = &a;")
        self.expect("sign", "a += b;", "a -= b;")

    def test_constants(self):
        self.expect("constant", "return 0;", "return 1;")
        self.expect("constant", "return 7u;", "return 6u;", "return 8u;")
        self.expect("constant", "return 0x1F;", "return 0x20;")
        self.expect("constant", "return 0.5f;", "return 0.4f;", "return 0.6f;")
        self.expect("constant", "return 1e-9;", "return 0.0;", "return 1e-06;")
        self.expect("constant", "return true;", "return false;")

    def test_dropped_statements(self):
        self.expect("dropped statement", "a = b;", "{}")
        self.expect("dropped statement", "if (a) g(b);", "if (a) {}")
        self.expect("dropped statement", "for (; a < b; a++) continue;", "for (; a < b; a++) {}")
        self.expect("dropped statement", "case 1: g(a);", "case 1: {}")
        self.expect("dropped statement", "int c = a;")
        self.expect("dropped statement", "const double *c = g(a);")
        self.expect("dropped statement", "return a ? g(a) : g(b);")
        self.expect("dropped statement", "point c = (point){a, b};")
        self.expect("dropped statement", "free(p);")

    def test_swapped_arguments(self):
        self.expect("swapped arguments", "g(a, b);", "g(b, a);")
        self.expect("swapped arguments", "g(a, h(b, 1), a);", "g(h(b, 1), a, a);", "g(a, a, h(b, 1));",
                    "g(a, h(1, b), a);")
        self.expect("swapped arguments", "if (a) return sizeof(a);")
        self.expect("swapped arguments", "g(a, a);")
        self.expect("swapped arguments", "a = fmax(a, b);")
        self.expect("swapped arguments", "alloc(a, b);")

    def test_what_is_left_alone(self):
        for text in ("/* a < 1 */\n// a + 1\n", '#include "a-1.h"\n#if A >= 2\n#endif\n',
                     "_Static_assert(1 < 2, \"no\");\n", "int f(int a, int b[3]);\n",
                     "struct s {\n    int a[4];\n};\n", "static double table[12];\n"):
            self.assertEqual(changes(text), [], text)
        self.assertEqual(changes(body('double c[3]; static_assert(1 < 2); g("%d < 1");')),
                         [body('double c[3]; static_assert(1 < 2); {}')])

    def test_tables_and_macros(self):
        self.assertEqual(changes("static const int a[2] = {3};\n"),
                         ["static const int a[2] = {2};\n", "static const int a[2] = {4};\n"])
        self.assertEqual(changes("#define LIMIT_M 0.5 /* 1 */\n"),
                         ["#define LIMIT_M 0.4 /* 1 */\n", "#define LIMIT_M 0.6 /* 1 */\n"])
        self.assertEqual(changes("enum { A = 0 };\n"), ["enum { A = 1 };\n"])

    def test_no_line_moves(self):
        text = body("g(a,\n      b +\n      1);")
        for changed in changes(text):
            self.assertEqual(changed.count("\n"), text.count("\n"), changed)

    def test_place_and_diff(self):
        text = body("return a <\n           b;")
        site = mutants.sites("a.c", text)[0]
        self.assertEqual((site.line, site.column), (2, 14))
        self.assertEqual(mutants.diff(text, site), ["-    return a <", "+    return a <="])

    def test_draws_repeat(self):
        of_kind = {}
        for site in mutants.sites("a.c", body("return g(a + 1, b < 2);")):
            of_kind.setdefault(site.kind, []).append(site)
        one, other = ([mutants.draw(of_kind, source) for _ in range(20)]
                      for source in (random.Random(3), random.Random(3)))
        self.assertEqual(one, other)
        self.assertEqual(len({site.kind for site in one}), 4)

    def test_the_engine_has_places_of_every_kind(self):
        found = {}
        for path in copies.source_files(TOP, ["engine/base"]):
            for site in mutants.sites(path, copies.read(TOP, path)):
                found[site.kind] = found.get(site.kind, 0) + 1
        self.assertEqual(set(found), set(mutants.KINDS))


PROJECT = {
    "CMakeLists.txt": "cmake_minimum_required(VERSION 3.25)\nproject(small LANGUAGES C)\n"
                      "set(CMAKE_EXPORT_COMPILE_COMMANDS ON)\nenable_testing()\n"
                      "if(GRADIN_WERROR)\n  add_compile_options(-Werror)\nendif()\n"
                      "add_library(base STATIC engine/base/a.c)\n"
                      "target_include_directories(base PUBLIC engine)\n"
                      "add_executable(unit_base tests/t.c)\ntarget_link_libraries(unit_base base)\n"
                      "add_executable(other tests/other.c)\n"
                      "add_test(NAME unit_base COMMAND unit_base)\n"
                      "add_test(NAME other COMMAND other)\nadd_test(NAME script COMMAND false)\n"
                      "add_test(NAME long COMMAND unit_base --fail)\n"
                      "set_tests_properties(long PROPERTIES LABELS slow)\n",
    "engine/base/limit.h": "#define LIMIT 3\n",
    "engine/base/a.c": '#include "base/limit.h"\n'
                       "int limit(int a);\nint untested(int a);\nint loop(int n);\n"
                       "int limit(int a) {\n    return a >= LIMIT;\n}\n"
                       "int untested(int a) {\n    return a + 100;\n}\n"
                       "int loop(int n) {\n    int sum = 0;\n"
                       "    for (volatile int i = 0; i != n; i++) sum += i + 1;\n    return sum;\n}\n"
                       "static int first(const int *of, long n) {\n    return n > 2 ? *of : 0;\n}\n"
                       "int two(const int *of);\nint two(const int *of) {\n    return first(of, 2);\n}\n",
    "tests/t.c": "int limit(int a);\nint loop(int n);\nint untested(int a);\n"
                 "int main(int n, char **word) {\n    (void)word;\n    if (n > 5) untested(n);\n"
                 "    if (n > 2 && word[1][2] == 'f') return 1;\n"
                 "    return !limit(3) || limit(2) || !limit(9) || loop(4) != 10;\n}\n",
    "tests/other.c": "int main(void) {\n    return 0;\n}\n",
}


@unittest.skipUnless(os.environ.get("GRADIN_COSTLY"), "builds a project many times: weekly")
class Run(unittest.TestCase):
    def setUp(self):
        self.folder = tempfile.TemporaryDirectory()
        self.before = copies.TOP, copies.LIMIT_S
        copies.TOP, copies.LIMIT_S = self.folder.name, 1
        for path, text in PROJECT.items():
            os.makedirs(os.path.join(copies.TOP, os.path.dirname(path)), exist_ok=True)
            with open(os.path.join(copies.TOP, path), "w", encoding="utf-8") as file:
                file.write(text)

    def tearDown(self):
        copies.TOP, copies.LIMIT_S = self.before
        self.folder.cleanup()

    def mutate(self, *words):
        out, copies.TOP = io.StringIO(), self.folder.name
        with contextlib.redirect_stdout(out):
            status = mutate.main([*words, "--work", os.path.join(self.folder.name, "build")])
        return status, out.getvalue()

    def test_caught_and_missed(self):
        status, out = self.mutate("--again", "engine/base/a.c:6", "engine/base/a.c:9",
                                  "engine/base/limit.h:1")
        self.assertEqual(status, 1)
        self.assertIn("\nengine/base/a.c:9: sign\n-    return a + 100;\n+    return a - 100;\n", out)
        self.assertIn("\ncaught by: unit_base 4\n", out)
        self.assertTrue(out.endswith("4 of 7 caught, 57.1 %\n"), out)

    def test_some_entries_alone(self):
        status, out = self.mutate("--again", "engine/base/a.c:6", "--tests", "^oth")
        self.assertEqual((status, out.splitlines()[-1]), (1, "0 of 2 caught, 0.0 %"))

    def test_a_loop_without_end_is_caught(self):
        status, out = self.mutate("--again", "engine/base/a.c:13")
        self.assertEqual(status, 0, out)
        self.assertIn("engine/base/a.c:13: sign: caught by unit_base", out)

    def test_what_the_compiler_warns_of_is_no_mutation(self):
        _, out = self.mutate("--again", "engine/base/a.c:21", "--list")
        self.assertIn("return first(of, 3);", out)
        self.assertNotIn("first(2, of)", out)

    def test_lists_the_same_twice(self):
        first, second = self.mutate("6", "5", "--list"), self.mutate("6", "5", "--list")
        self.assertEqual(first, second)
        self.assertEqual(first[1].count("\n-"), 6)
        self.assertNotEqual(first, self.mutate("6", "6", "--list"))

    def test_bad_use(self):
        for words in ((), ("5",), ("--again", "engine/base/a.c"), ("--again", "engine/base/b.c:1"),
                      ("5", "1", "--only", "engine/attic")):
            with self.assertRaises(SystemExit) as raised, contextlib.redirect_stderr(io.StringIO()):
                self.mutate(*words)
            self.assertEqual(raised.exception.code, 2, words)


if __name__ == "__main__":
    plain.main()
