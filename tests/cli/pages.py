"""The README and the pages of the guide: their text, the commands and files in it, their sentences."""

import glob
import os
import re

import hall

README = os.path.join(hall.TOP, "README.md")
GUIDE = sorted(glob.glob(os.path.join(hall.TOP, "reference", "guide", "*.md")))


def read(path):
    with open(path, encoding="utf-8") as source:
        return source.read()


def all_text():
    return "\n".join(map(read, [README] + GUIDE))


def blocks(text):
    """(section, lines) of each indented block; blank lines inside a block belong to it."""
    section, block, found = "", [], []
    for line in without_fences(text).splitlines() + ["# end"]:
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


def without_fences(text):
    return re.sub(r"^```.*?^```$", "", text, flags=re.MULTILINE | re.DOTALL)


def files(text):
    """{name: content} of each fenced block that follows a line which names its file and a colon."""
    return dict(re.findall(r"`([\w.-]+\.yaml)`:\n\n```yaml\n(.*?)^```$", text, re.MULTILINE | re.DOTALL))


def sentences(text):
    """The sentences of the prose, of lists and of the cells of tables; each a list of words."""
    text = re.sub(r"^ {4}.*$", "", without_fences(text), flags=re.MULTILINE)
    text = re.sub(r"^(#.*|!\[.*|\|[-|]*)$", "", text, flags=re.MULTILINE)
    text = re.sub(r"^\|(.*)\|$", lambda m: "\n\n" + m[1].replace(" | ", "\n\n") + "\n\n", text,
                  flags=re.MULTILINE)
    text = re.sub(r"^\* ", "\n\n", text, flags=re.MULTILINE)
    found = []
    for paragraph in re.split(r"\n\s*\n", text):
        for sentence in re.split(r"(?<=[.?!])\s+(?=[A-Z`\[(*])", " ".join(paragraph.split())):
            if sentence:
                found.append(sentence.split())
    return found
