#!/usr/bin/python3
"""Writes a C program that calls every public function the wrong way, from the headers.

usage: calls.py OUT.c [ROOT]

Each function is called with every struct all zero, with each pointer NULL in turn, with all of them
NULL, and, when it takes none, with numbers out of range. contract.h has the calls' frame and says what must come back.
A pointer may be NULL without a complaint only where the comment on the function says NULL."""

import os
import re
import sys

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
sys.path.insert(0, os.path.join(TOP, "tools", "dev"))
import api  # noqa: E402

# Structs that hold a choice: all zero is a choice, too.
CHOICES = {"gradin_sight_options", "gradin_band_choice", "gradin_glazing_view", "gradin_place",
           "gradin_error", "gradin_diagnostic", "gradin_season_options", "gradin_crowd_options",
           "gradin_rake_options", "gradin_bytes", "gradin_write_options",
           "gradin_criterion", "gradin_uncertainty", "gradin_gaps", "gradin_outlook_options",
           "gradin_compare_options", "gradin_programme_terms"}
# Asked for each ray: these take their pointers on trust.
ON_TRUST = {"gradin_shape_hit", "gradin_visibility", "gradin_visibility_reference",
            "gradin_mask_first", "gradin_mask_clear", "gradin_beam_first",
            "gradin_beam_is_clear"}
PLACE = re.compile(r"^(.*?)\s*(\w+)\s*((?:\[[^]]*\])*)$", re.S)


def parameters(text):
    """[(type, name, is_pointer)] of a declaration."""
    inside = re.search(r"gradin_\w+\s*\((.*?)\)\s*(?:__attribute__.*)?;", text, re.S)[1]
    out = []
    for part in re.split(r",(?![^()]*\))", " ".join(inside.split())):
        part = part.strip()
        if part in ("void", "..."):
            continue
        kind, name, array = PLACE.match(part).groups()
        out.append((kind.strip(), name, bool(array) or kind.strip().endswith("*")))
    return out


def comments(root):
    """{function: the comment that stands before it or behind it}; neighbours share one."""
    out = {}
    folder = os.path.join(root, api.HEADERS)
    for header in api.headers(root):
        with open(os.path.join(folder, header), encoding="utf-8") as source:
            text = source.read()
        for paragraph in re.split(r"\n\s*\n", text):
            said = ""
            for match in re.finditer(r"/\*.*?\*/|\b(gradin_\w+)\s*\(", paragraph, re.S):
                if match[1]:
                    out.setdefault(match[1], said)
                else:
                    said = match[0]
    return out


def structs(root):
    """Names of the structs whose members the headers show."""
    found = set()
    folder = os.path.join(root, api.HEADERS)
    for header in api.headers(root):
        with open(os.path.join(folder, header), encoding="utf-8") as source:
            found |= set(re.findall(r"typedef struct (gradin_\w+) \{", source.read()))
    return found


def bare(kind):
    return kind.replace("const", "").replace("*", "").strip()


class Call:
    """One function and how to call it."""

    def __init__(self, one, said, known):
        self.name = one.name
        text = one.text.replace(api.MACRO, "", 1).strip()
        self.returns = text[:text.index(one.name)].strip()
        self.parameters = parameters(text)
        self.is_variadic = "..." in text
        self.known = known
        # Where a lack in the struct is a finding about the user's input.
        self.is_judge = "else GRADIN_BAD_INPUT" in said
        self.may_be_null = {n for _, n, p in self.parameters if p and n == "error" or
                            p and re.search(r"\b%s\b[^.]*\bNULL\b|NULL[^.]*\b%s\b" % (n, n), said)}

    def value(self, index, nulls, number):
        kind, name, is_pointer = self.parameters[index]
        if is_pointer:
            if index in nulls:
                return "NULL"
            if bare(kind) == "gradin_arena":
                return "frame_arena()"
            if bare(kind) == "char" and kind.count("*") == 1 and "const" in kind:
                return '"%d"' if name == "format" else '""'
            if bare(kind).startswith("gradin_") and bare(kind) not in self.known \
                    and kind.count("*") == 1 and bare(kind) not in self.enums:
                return "NULL"  # opaque: there is no such thing made of zeros
            if bare(kind) == "gradin_error":
                return "&frame_error"
            return f"frame_zero({index})"
        if kind in self.known:
            return f"({kind}){{0}}"
        if kind in ("double", "float"):
            return f"{number}.0"
        return f"({kind}){number}"

    def needs(self, index):
        """Must the function complain when this pointer is NULL? Not of an array of no items."""
        _, name, is_pointer = self.parameters[index]
        return is_pointer and name not in self.may_be_null and not self.is_counted(name)

    def is_counted(self, name):
        return any(n == f"n_{name}" for _, n, _ in self.parameters)

    def is_tried(self, index):
        """Plain numbers behind a pointer are the caller's business where no status comes back."""
        kind, name, is_pointer = self.parameters[index]
        return is_pointer and name != "format" and (self.returns == "gradin_status" or bare(kind).startswith("gradin_")
                               or bare(kind) in ("char", "void"))

    def takes_struct(self):
        if self.is_judge:
            return False
        return any(p and "const" in k and bare(k) in self.known - CHOICES and k.count("*") == 1
                   for k, n, p in self.parameters
                   if n not in self.may_be_null and not self.is_counted(n))

    def write(self, nulls, number, expect, label):
        values = [self.value(i, nulls, number) for i in range(len(self.parameters))]
        if self.is_variadic:
            values.append("1")
        call = f"{self.name}({', '.join(values)})"
        if any(self.parameters[i][1] == "error" for i in nulls) and expect == "FRAME_BAD_USE":
            expect = "FRAME_BAD_USE_UNTOLD"
        if self.returns == "gradin_status":
            act = f"frame_status({call}, {expect})"
        else:
            act = f"(void){call}" if self.returns != "void" else call
        return f'    FRAME("{self.name}", "{label}", {act});\n'

    def lines(self):
        pointers = [i for i in range(len(self.parameters)) if self.is_tried(i)]
        told = any(n == "error" for _, n, _ in self.parameters)
        bad = "FRAME_BAD_USE" if told else "FRAME_BAD_USE_UNTOLD"
        yield self.write(set(), 0, bad if self.takes_struct() else "FRAME_ANY", "zero structs")
        for i in pointers:
            name = self.parameters[i][1]
            yield self.write({i}, 0, bad if self.needs(i) else "FRAME_ANY", f"{name} NULL")
        if pointers:
            must = any(self.needs(i) for i in pointers)
            yield self.write(set(pointers), 0, bad if must else "FRAME_ANY", "all NULL")
        else:
            for number in (-1, 1000):
                yield self.write(set(), number, "FRAME_ANY", f"numbers {number}")


def main():
    root = sys.argv[2] if len(sys.argv) > 2 else TOP
    said, known = comments(root), structs(root)
    Call.enums = set()
    folder = os.path.join(root, api.HEADERS)
    for header in api.headers(root):
        with open(os.path.join(folder, header), encoding="utf-8") as source:
            Call.enums |= set(re.findall(r"\} (gradin_\w+);", source.read())) - known
    calls = [Call(o, said.get(o.name, ""), known) for o in api.declarations(root)
             if "(" in o.text and o.name not in ON_TRUST]
    with open(sys.argv[1], "w", encoding="utf-8") as out:
        out.write('/* Written by tests/contract/calls.py. */\n#include "contract.h"\n\n')
        for number, call in enumerate(calls):
            out.write(f"static void call_{number}(void) {{\n{''.join(call.lines())}}}\n")
        out.write("\nint main(void) {\n")
        out.write("".join(f"    call_{number}();\n" for number in range(len(calls))))
        out.write("    return frame_end();\n}\n")


if __name__ == "__main__":
    main()
