"""Mutations of C source: where one can be made, and what it changes.

A site is one place and one replacement: a comparison turned or moved by its boundary, a sign or an
operator of arithmetic, a constant, a statement dropped, two neighbouring arguments swapped. Comments,
strings, static assertions, sizes of arrays and whatever stands outside of function bodies and
initialisers are never touched. The reader knows tokens and brackets, no grammar: what it gets wrong
does not compile, and the caller draws again."""

import bisect
import collections
import re

KINDS = ("comparison", "sign", "constant", "dropped statement", "swapped arguments")

Site = collections.namedtuple("Site", "path line column kind start end new")
Token = collections.namedtuple("Token", "kind text start")

TOKEN = re.compile(r"""
    (?P<comment>/\*.*?\*/|//[^\n]*)
  | (?P<string>"(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*')
  | (?P<directive>^[ \t]*\#(?:\\\n|/\*.*?\*/|[^\n])*)
  | (?P<number>(?:0[xX][0-9a-fA-F]+|(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)[uUlLfF]*)
  | (?P<word>[A-Za-z_]\w*)
  | (?P<op><<=|>>=|\.\.\.|->|\+\+|--|<<|>>|<=|>=|==|!=|&&|\|\||[-+*/%&|^]=|[^\s\w])
""", re.VERBOSE | re.DOTALL | re.MULTILINE)
DEFINE = re.compile(r"[ \t]*#[ \t]*define[ \t]+\w+[ \t]+")

COMPARISONS = {"<": ("<=", ">="), "<=": ("<", ">"), ">": (">=", "<="), ">=": (">", "<"),
               "==": ("!=",), "!=": ("==",), "&&": ("||",), "||": ("&&",)}
SIGNS = {"+": "-", "-": "+", "*": "/", "/": "*", "+=": "-=", "-=": "+=", "*=": "/=", "/=": "*=",
         "++": "--", "--": "++"}
CONTROL = {"if", "for", "while", "switch", "return", "sizeof", "else", "do", "goto", "case", "default",
           "_Alignof", "defined"}
JUMPS = {"break", "continue"}
LEAKS = {"free", "fclose"}  # missed by the run with sanitizers, not by a figure
COMMUTATIVE = {"fmax", "fmin", "fmaxf", "fminf", "hypot", "gradin_add", "lanes_add",
               "lanes_mul", "lanes_and", "lanes_or",
               "alloc", "gradin_arena_alloc", "calloc"}  # as many bytes either way
OPENING = {"(": ")", "[": "]", "{": "}"}


def tokens(text):
    """Everything of C in the text but blanks and comments."""
    return [Token(m.lastgroup, m.group(), m.start()) for m in TOKEN.finditer(text)
            if m.lastgroup != "comment"]


def pairs(found):
    """{index of an opening bracket: index of its closing one}, and the reverse, in one map."""
    stack, of = [], {}
    for i, token in enumerate(found):
        if token.kind != "op":
            continue
        if token.text in OPENING:
            stack.append(i)
        elif token.text in OPENING.values() and stack:
            opening = stack.pop()
            of[opening], of[i] = i, opening
    return of


def regions(found, of):
    """(first, past, is a body) of each function body and each initialiser outside of functions."""
    spans, i, start = [], 0, 0
    while i < len(found):
        text = found[i].text
        if found[i].kind == "directive" or text == ";":
            start = i + 1
        elif text in ("(", "["):
            i = of.get(i, i)
        elif text == "=":
            end = i
            while end < len(found) and found[end].text != ";":
                end = of.get(end, end) + 1 if found[end].text in OPENING else end + 1
            spans.append((i + 1, end, False))
            i = end - 1
        elif text == "{":
            end = of.get(i, len(found))
            head = [t.text for t in found[start:i]]
            if found[i - 1].text == ")":
                spans.append((i + 1, end, True))
            elif "enum" in head:
                spans.append((i + 1, end, False))
            i = end
            start = i + 1
        i += 1
    return spans


def other_numbers(text):
    """What a number's literal may become: clearly another number of the same type."""
    plain = re.match(r"(0[xX][0-9a-fA-F]+|[\d.]+(?:[eE][+-]?\d+)?)([uUlLfF]*)$", text)
    digits, suffix = (plain.group(1), plain.group(2)) if plain else (text, "")
    if digits[:2] in ("0x", "0X"):
        return [hex(int(digits, 16) + 1) + suffix]
    if re.fullmatch(r"\d+", digits):
        value = int(digits)
        return [str(v) + suffix for v in ([1] if value == 0 else [value + 1, value - 1])]
    value = float(digits)
    if value == 0:
        return ["1.0" + suffix]
    factors = (1e3, 0) if abs(value) < 1e-3 else (1.2, 0.8)
    return [repr(float(f"{value * factor:.8g}")) + suffix for factor in factors]


class Reader:
    """Collects the sites of one file."""

    def __init__(self, path, text):
        self.path, self.text, self.sites = path, text, []
        self.found = tokens(text)
        self.of = pairs(self.found)
        self.line_starts = [0] + [m.end() for m in re.finditer("\n", text)]

    def add(self, kind, start, end, new):
        """Line breaks are kept, so that no other line moves."""
        new += "\n" * (self.text.count("\n", start, end) - new.count("\n"))
        line = bisect.bisect_right(self.line_starts, start)
        column = start - self.line_starts[line - 1] + 1
        self.sites.append(Site(self.path, line, column, kind, start, end, new))

    def number(self, token, offset=0):
        for new in other_numbers(token.text):
            start = token.start + offset
            self.add("constant", start, start + len(token.text), new)

    def is_array_size(self, i):
        """A number somewhere in `type name[...]`."""
        while i > 0 and self.found[i].text not in ("[", ";", "{", "}", "(", ","):
            i -= 1
        if self.found[i].text != "[" or i < 2:
            return False
        before = self.found[i - 2]
        return self.found[i - 1].text == "]" or (
            self.found[i - 1].kind == "word" and
            (before.text == "*" or (before.kind == "word" and before.text not in CONTROL)))

    def is_binary(self, i):
        before = self.found[i - 1]
        return before.text in (")", "]") or before.kind == "number" or (
            before.kind == "word" and before.text not in CONTROL)

    def operator(self, i):
        token = self.found[i]
        end = token.start + len(token.text)
        if token.text == "*" and self.found[i - 2].text in ("const", "static", "struct", "sizeof"):
            return
        for new in COMPARISONS.get(token.text, ()):
            self.add("comparison", token.start, end, new)
        if token.text not in SIGNS:
            return
        if token.text in "+-*/" and not self.is_binary(i):
            if token.text == "-":
                self.add("sign", token.start, end, "")
            return
        self.add("sign", token.start, end, SIGNS[token.text])

    def arguments(self, i):
        """Swaps of neighbours in the call whose bracket opens at i."""
        name = self.found[i - 1]
        if name.kind != "word" or name.text in CONTROL | COMMUTATIVE:
            return
        last, first, found = self.of.get(i, i), i + 1, []
        j = first
        while j <= last:
            if self.found[j].text in OPENING:
                j = self.of[j]
            elif j == last or self.found[j].text == ",":
                if j > first:
                    end = self.found[j - 1]
                    found.append((self.found[first].start, end.start + len(end.text)))
                first = j + 1
            j += 1
        for (a, b), (c, d) in zip(found, found[1:]):
            one, two = self.text[a:b], self.text[c:d]
            if one != two:
                self.add("swapped arguments", a, d, two + self.text[b:c] + one)

    def statement(self, i, past):
        """The statement that starts at i, unless it is a declaration or one of control."""
        token = self.found[i]
        if token.kind not in ("word", "op") or token.text in CONTROL | LEAKS:
            return
        if token.text not in JUMPS and not (
                token.text in ("*", "(", "++", "--") or
                (i + 1 < past and self.found[i + 1].kind == "op" and
                 self.found[i + 1].text not in ("*", ":", ";"))):
            return
        j = i
        while j < past and self.found[j].text != ";":
            if self.found[j].text in ("{", "}", ")", "]"):
                return
            j = self.of.get(j, j) + 1 if self.found[j].text in OPENING else j + 1
        if j < past:
            self.add("dropped statement", token.start, self.found[j].start + 1, "{}")

    def starts_statement(self, i):
        before = self.found[i - 1]
        if before.text in ("{", "}", ";", "else", "do") or before.kind == "directive":
            return True
        if before.text == ":":
            while self.found[i - 1].text not in (";", "{", "}"):
                i -= 1
            return self.found[i].text in ("case", "default")
        if before.text != ")":
            return False
        opening = self.of.get(i - 1, i - 1)
        return self.found[opening - 1].text in ("if", "for", "while", "switch")

    def region(self, first, past, body):
        i, outside = first, first  # of round brackets, from where on
        while i < past:
            token = self.found[i]
            if token.text == "(":
                outside = max(outside, self.of.get(i, i))
            if token.text in ("_Static_assert", "static_assert"):
                while i < past and self.found[i].text != ";":
                    i += 1
                continue
            if body and i >= outside and self.starts_statement(i):
                self.statement(i, past)
            if token.kind == "number" and not self.is_array_size(i):
                self.number(token)
            elif token.text in ("true", "false"):
                self.add("constant", token.start, token.start + len(token.text),
                         "false" if token.text == "true" else "true")
            elif token.kind == "op":
                self.operator(i)
                if body and token.text == "(":
                    self.arguments(i)
            i += 1

    def define(self, token):
        """Numbers of a macro without parameters."""
        head = DEFINE.match(token.text)
        if head:
            rest = token.text[head.end():]
            for inner in tokens(rest):
                if inner.kind == "number":
                    self.number(inner, token.start + head.end())

    def read(self):
        for token in self.found:
            if token.kind == "directive":
                self.define(token)
        for first, past, body in regions(self.found, self.of):
            self.region(first, past, body)
        return self.sites


def sites(path, text):
    """Every site of a file, in the order of the text."""
    return sorted(Reader(path, text).read(), key=lambda s: (s.start, s.end, KINDS.index(s.kind), s.new))


def mutated(text, site):
    return text[:site.start] + site.new + text[site.end:]


def diff(text, site):
    """The change as lines of a diff."""
    first = text.rfind("\n", 0, site.start) + 1
    past = text.find("\n", site.end)
    past = len(text) if past < 0 else past
    new = text[first:site.start] + site.new + text[site.end:past]
    return ([f"-{line}" for line in text[first:past].split("\n")] +
            [f"+{line}" for line in new.split("\n") if line.strip()])


def draw(of_kind, random):
    """A site: first its kind, then the place, so that numbers do not crowd out the rest."""
    kind = random.choice([kind for kind in KINDS if of_kind.get(kind)])
    return random.choice(of_kind[kind])
