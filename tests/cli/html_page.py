"""Reads an HTML document as flat lists."""

import html.parser

VOID = {"meta", "link", "input", "br", "img"}


class Page(html.parser.HTMLParser):
    """The tree as flat lists; refuses what does not nest."""

    def __init__(self, text):
        super().__init__()
        self.open, self.ids, self.elements, self.wrong = [], [], [], []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        found = dict(attrs)
        self.elements.append((tag, found))
        if "id" in found:
            self.ids.append(found["id"])
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.elements.append((tag, dict(attrs)))

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.wrong.append((tag, self.getpos()))
