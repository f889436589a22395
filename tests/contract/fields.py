#!/usr/bin/python3
"""Writes a table of the pointers in the structs of a model and of results, from the headers.

usage: fields.py OUT.h [ROOT]

A pointer is needed when its count is above 0 (the count that its comment names in brackets, or
n_NAME), and without a count always, unless its comment says NULL."""

import os
import re
import sys

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
sys.path.insert(0, os.path.join(TOP, "tools", "dev"))
import api  # noqa: E402

STRUCTS = {"gradin_model": "model", "gradin_seats": "model.seats"}
RESULTS = {"gradin_sight": "result.sight", "gradin_noise": "result.noise",
           "gradin_crowd": "result.crowd"}


def body_of(root, name):
    folder = os.path.join(root, api.HEADERS)
    for header in api.headers(root):
        with open(os.path.join(folder, header), encoding="utf-8") as source:
            found = re.search(r"typedef struct %s \{(.*?)\n\} %s;" % (name, name), source.read(), re.S)
        if found:
            return found[1]
    raise SystemExit(f"no struct {name}")


def members(body):
    """(declaration, comments behind it) of each member."""
    for match in re.finditer(r"([^;/]+);((?:\s*/\*.*?\*/)*)", body, re.S):
        yield " ".join(match[1].split()), match[2]


def pointers(body):
    for declaration, said in members(body):
        if "*" in declaration:
            kind, names = re.match(r"(.*?)\s*(\*.*)$", declaration).groups()
            for name in re.findall(r"(\w+)\s*(?:,|$)", names):
                if name != "const":
                    yield name, said


def count_of(body, owner, name, said):
    bracket = re.search(r"\[(n_\w+)\]", said)
    for count in ([bracket[1]] if bracket else []) + [f"n_{name}", f"n_{name.replace('_name', '')}"]:
        if re.search(r"\b%s\b" % count, re.sub(r"/\*.*?\*/", "", body, flags=re.S)):
            return f"{owner}.{count}"
    return "0" if "NULL" in said else "1"


def main():
    root = sys.argv[2] if len(sys.argv) > 2 else TOP
    with open(sys.argv[1], "w", encoding="utf-8") as out:
        out.write("/* Written by tests/contract/fields.py: FIELD(pointer, count). */\n")
        for struct, owner in STRUCTS.items():
            body = body_of(root, struct)
            for name, said in pointers(body):
                out.write(f"FIELD({owner}.{name}, {count_of(body, owner, name, said)})\n")
        for struct, owner in RESULTS.items():
            for name, said in pointers(body_of(root, struct)):
                if "GRADIN_N_" not in name:
                    out.write(f"RESULT({owner}.{name})\n")


if __name__ == "__main__":
    main()
