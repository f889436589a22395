"""Rough checks of a small hall given as two texts, each with changes: what `gradin fit` finds."""

import json

import hall


class RoughTest(hall.HallTest):
    venue_text = layout_text = None

    def fit(self, more="", venue=(), layout=(), status=0):
        text, layout_text = self.venue_text, self.layout_text + more
        for old, new in venue:
            self.assertIn(old, text)
            text = text.replace(old, new)
        for old, new in layout:
            self.assertIn(old, layout_text)
            layout_text = layout_text.replace(old, new)
        for name, content in (("hall.yaml", text), ("plain.yaml", layout_text)):
            with open(self.path(name), "w", encoding="utf-8") as out:
                out.write(content)
        code, out, err = self.run_here("fit", "plain.yaml", "--json")
        self.assertEqual((code, err), (status, ""), out)
        return json.loads(out)
