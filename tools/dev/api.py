#!/usr/bin/python3
"""The public functions: what the headers declare and what the libraries export.

usage: api.py list [ROOT]
       api.py mark [ROOT]
       api.py check SHARED STATIC [ROOT]

list   prints every public symbol, one per line, sorted; tests/install/symbols.txt is its output
mark   puts GRADIN_API before every declaration that lacks it and runs clang-format on those headers
check  reads both libraries with nm: every external symbol starts with gradin_, is declared with
       GRADIN_API in a public header and stands in tests/install/symbols.txt, and the other way round;
       the comment at the top of each header has a line "Ownership and threads: ..."
Exit status 0 when nothing is wrong, 1 otherwise, 2 for wrong use."""

import os
import re
import subprocess
import sys
from collections import namedtuple

HEADERS = "engine/include/gradin"
SYMBOLS = "tests/install/symbols.txt"
MACRO = "GRADIN_API"
# What the compilers add: locks of OpenMP, each by our own name, and marks of the address sanitizer.
OF_COMPILER = re.compile(r"^(\.gomp_critical_user_gradin_|__odr_asan[._]|__asan_)")

Declaration = namedtuple("Declaration", "header line start name text is_marked")


def blank(match):
    return re.sub(r"[^\n]", " ", match[0])


def code_of(source):
    """The source with comments and preprocessor lines blanked out, every offset kept."""
    source = re.sub(r"/\*.*?\*/|//[^\n]*", blank, source, flags=re.S)
    source = re.sub(r'extern "C"\s*\{', blank, source)
    return re.sub(r"^[ \t]*#(?:[^\n]*\\\n)*[^\n]*", blank, source, flags=re.M)


def statements(code):
    """(offset, text) of each statement outside braces; bodies in braces belong to theirs."""
    depth = start = 0
    for at, sign in enumerate(code):
        if sign == "{":
            depth += 1
        elif sign == "}":
            depth -= 1
        ends = sign == ";" or sign == "}" and "static inline" in code[start:at]
        if depth < 0:  # the end of extern "C"
            depth, start = 0, at + 1
        elif depth == 0 and ends:
            text = code[start:at + 1]
            yield start + len(text) - len(text.lstrip()), text.strip()
            start = at + 1


def symbol_of(text):
    """The external symbol that a statement declares, or None."""
    if re.match(r"(typedef|struct|union|enum|static|_Static_assert)\b", text) and "(" not in text.split("{")[0]:
        return None
    if re.match(r"(typedef|static|_Static_assert)\b", text) or "{" in text:
        return None
    match = re.search(r"(\w+)\s*\(", text) or re.search(r"\bextern\b.*?(\w+)\s*(\[[^]]*\]\s*)*;", text)
    return match[1] if match else None


def headers(root):
    """Public headers, as paths below HEADERS."""
    folder = os.path.join(root, HEADERS)
    return sorted(os.path.relpath(os.path.join(path, name), folder)
                  for path, _, names in os.walk(folder) for name in names if name.endswith(".h"))


def declarations(root):
    folder = os.path.join(root, HEADERS)
    for header in headers(root):
        with open(os.path.join(folder, header), encoding="utf-8") as source:
            code = code_of(source.read())
        for start, text in statements(code):
            name = symbol_of(text.replace(MACRO, "", 1).strip())
            if name:
                yield Declaration(header, code.count("\n", 0, start) + 1, start, name, text,
                                  text.startswith(MACRO))


def mark(root):
    missing = {}
    for one in declarations(root):
        if not one.is_marked:
            missing.setdefault(one.header, []).append(one.start)
    for header, starts in missing.items():
        path = os.path.join(root, HEADERS, header)
        with open(path, encoding="utf-8") as source:
            text = source.read()
        for start in reversed(starts):
            text = text[:start] + MACRO + " " + text[start:]
        with open(path, "w", encoding="utf-8") as out:
            out.write(text)
        subprocess.run(["clang-format", "-i", path], check=True)
        print(f"{header}: {len(starts)} marked")
    return 0


def exported(library, *options):
    """External symbols that a library defines."""
    run = subprocess.run(["nm", "--defined-only", *options, library], capture_output=True, text=True,
                         check=True)
    names = set()
    for line in run.stdout.splitlines():
        match = re.match(r"^[0-9a-fA-F]+ ([A-Za-z]) (\S+)$", line)
        if match and not OF_COMPILER.match(match[2]):
            names.add(match[2].split("@")[0])
    return names


def untold(root):
    """Headers that do not say who owns what and which threads may call."""
    folder = os.path.join(root, HEADERS)
    for header in headers(root):
        with open(os.path.join(folder, header), encoding="utf-8") as source:
            head = re.match(r"/\*.*?\*/", source.read(), re.S)
        if not head or "Ownership and threads: " not in head[0]:
            yield f"{HEADERS}/{header}: its first comment says nothing about ownership and threads"


def breaches(root, libraries):
    found = list(declarations(root))
    declared = {one.name for one in found}
    yield from untold(root)
    for one in found:
        where = f"{HEADERS}/{one.header}:{one.line}: {one.name}"
        if not one.is_marked:
            yield f"{where} lacks {MACRO}; run tools/dev/api.py mark"
        if not one.name.startswith("gradin_"):
            yield f"{where} does not start with gradin_"
    for name in sorted({n for n in declared if sum(o.name == n for o in found) > 1}):
        yield f"{name} is declared more than once"
    for library, options in libraries:
        symbols = exported(library, *options)
        base = os.path.basename(library)
        for name in sorted(symbols - declared):
            yield f"{base}: exports {name}, which no public header declares"
        for name in sorted(declared - symbols):
            yield f"{base}: does not export {name}, which a public header declares"
    with open(os.path.join(root, SYMBOLS), encoding="utf-8") as source:
        listed = source.read().split()
    if listed != sorted(declared):
        yield (f"{SYMBOLS} is not the list of public symbols "
               f"({', '.join(sorted(set(listed) ^ declared)) or 'order'}); "
               f"if the change is meant: tools/dev/api.py list >{SYMBOLS}")


def main():
    arguments = sys.argv[1:]
    here = os.path.dirname(os.path.abspath(__file__))
    n_library = {"list": 0, "mark": 0, "check": 2}.get(arguments[0] if arguments else "")
    if n_library is None or not n_library + 1 <= len(arguments) <= n_library + 2:
        print(__doc__)
        return 2
    root = (arguments[n_library + 1] if len(arguments) > n_library + 1
            else os.path.dirname(os.path.dirname(here)))
    if arguments[0] == "mark":
        return mark(root)
    if arguments[0] == "list":
        print("\n".join(sorted({one.name for one in declarations(root)})))
        return 0
    found = list(breaches(root, [(arguments[1], ["-D"]), (arguments[2], ["-g"])]))
    print("\n".join(found) or "every external symbol is public and every public one is exported")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
