#!/usr/bin/python3
"""The document that is handed over: one HTML file that asks nothing of a network, whose figures are
those of seats.csv, that says no more than the exit status, and that works by mouse and by keys.
Sources: HTML Living Standard (elements that nest, unique ids), WCAG 2.2 (names, labels, headings in
order), both from memory. The browser is Chromium by Selenium, where both are installed."""

import base64
import csv
import html
import json
import os
import re
import shutil
import struct
import subprocess
import tempfile
import unittest

import hall
from html_page import Page

try:
    from selenium import webdriver
    from selenium.webdriver.common.by import By
    from selenium.webdriver.common.keys import Keys
    from selenium.webdriver.chrome.service import Service
    from selenium.webdriver.support.ui import Select
except ImportError:
    webdriver = None

CLASSES = ["clear", "good", "fair", "poor"]
VERDICTS = ["within", "too near to tell", "over"]
SHOW = """format: gradin-show-1
units: m
name: reading (invented)
must:
  seats: 50
wishes:
  - {for: clear_share, weight: 1, nothing_at: 0.1, full_at: 0.9}
"""
QUICK = ["--samples", "64", "--no-changeovers"]


def data_of(text):
    return json.loads(re.search(r'id="data">(.*?)</script>', text, re.DOTALL)[1])


def csv_of(path):
    with open(path, encoding="utf-8", newline="") as source:
        return list(csv.DictReader(source))


class Report(hall.HallTest):
    def report(self, *layouts, options=(), status=0, views=0):
        code, out, err = self.run_here("report", *layouts, "--out", "out", *QUICK, "--views", str(views), *options)
        self.assertEqual((code, out), (status, "written to out: report.html, report.pdf\n"), err)
        with open(self.path("out/report.html"), encoding="utf-8") as source:
            return source.read()

    def test_nests_and_asks_nothing_of_a_network(self):
        text = self.report("hexagon_stage.yaml", "hexagon_opera.yaml")
        page = Page(text)
        self.assertEqual((page.wrong, page.open), ([], []))
        self.assertEqual(len(page.ids), len(set(page.ids)))
        for tag, found in page.elements:
            self.assertTrue(found.get("src", "data:image/png;base64,").startswith("data:image/png;base64,"))
            self.assertFalse(any(name.startswith("on") for name in found), found)
            for name in ("href", "action"):
                self.assertRegex(found.get(name, "#"), "^(#|data:,$)")
            if found.get("href", "#main").startswith("#"):
                self.assertIn(found.get("href", "#main")[1:], page.ids)
        style = re.search(r"<style>(.*?)</style>", text, re.DOTALL)[1]
        self.assertNotIn("url(", style)
        self.assertNotIn("@import", style)
        self.assertIn('<html lang="en">', text)
        self.assertNotRegex(text, "https?:(?!//www.w3.org/2000/svg)")

    def test_headings_in_order_and_names(self):
        page = Page(self.report("hexagon_stage.yaml", "hexagon_opera.yaml"))
        levels = [int(tag[1]) for tag, _ in page.elements if re.fullmatch("h[1-6]", tag)]
        self.assertEqual(levels.count(1), 1)
        self.assertTrue(all(b <= a + 1 for a, b in zip(levels, levels[1:])), levels)
        seats = [found for _, found in page.elements if found.get("role") == "button"]
        self.assertTrue(seats and all(found["aria-label"] for found in seats))

    def test_figures_are_those_of_the_table(self):
        layouts = ["thrust.yaml", "hexagon_stage.yaml"]
        for name in layouts:
            data = data_of(self.report(name))
            self.run_here("assess", name, "--out", "table", "--samples", "64", "--no-maps")
            with open(self.path("table/seats.csv"), encoding="utf-8", newline="") as source:
                rows = list(csv.DictReader(source))
            self.compare(data, data["layouts"][0], rows)

    def compare(self, data, layout, rows):
        per = {figure["key"]: figure for figure in data["figures"] + data["details"]}
        foot = 1 / 0.3048 if per["distance"]["unit"] == "ft" else 1.0
        inch = 1 / 25.4 if per["c"]["unit"] == "in" else 1.0
        self.assertEqual(layout["seat"], [row["seat"] for row in rows])
        for i, row in enumerate(rows):
            self.assertEqual(CLASSES[int(layout["rating"][i])], row["rating"])
            self.assertEqual(layout["worst"][i] or "", row["worst_occluder"])
            for key, column, scale in (("seen", "visible_pct", 1), ("rails", "hidden_rails_pct", 1),
                                       ("heads", "hidden_heads_pct", 1), ("dba", "lamax_dba", 1),
                                       ("distance", "distance_m", foot), ("c", "c_mm", inch),
                                       ("turn", "head_turn_deg", 1)):
                cell = row.get(column, "")
                if cell == "":
                    self.assertIsNone((layout.get(key) or [None] * len(rows))[i], (key, i))
                else:
                    self.assertAlmostEqual(layout[key][i], scale * float(cell),
                                           delta=0.52 * scale if key == "c" else 0.051, msg=key)
            if row.get("noise_verdict"):
                self.assertEqual(VERDICTS[int(layout["verdict"][i])], row["noise_verdict"])

    def test_names_that_look_like_tags(self):
        nasty = """</script><b onclick="x">&amp;'"""
        self.change("hexagon_stage.yaml", "name: Stalls", "name: " + json.dumps(nasty))
        text = self.report("hexagon_stage.yaml")
        page = Page(text)
        self.assertEqual((page.wrong, page.open), ([], []))
        self.assertFalse([1 for tag, found in page.elements if tag == "b" or "onclick" in found])
        self.assertTrue(any(name.startswith(nasty) for name in data_of(text)["layouts"][0]["seat"]))
        self.assertTrue(any(found.get("aria-label", "").startswith(nasty)
                            for _, found in page.elements))

    def test_says_no_more_than_the_exit_status(self):
        self.change("hexagon.yaml", "row_seats_one_aisle: 11", "row_seats_one_aisle: 2")
        text = self.report("hexagon_stage.yaml", status=1)
        self.assertIn("<td>not met</td>", text)
        self.assertNotIn("what is stated is met", text)
        text = self.report("hexagon_stage.yaml", options=["--no-checks"])
        self.assertIn("<td>not made</td>", text)

    def test_what_is_in_no_level_stands_beside_the_levels(self):
        short = re.compile(r'id="short".*?</section>', re.DOTALL)
        self.assertNotIn("Not in these levels", short.search(self.report("thrust.yaml"))[0])
        self.change("hall.yaml", "  ground: hard # a paved forecourt all round\n", "")
        self.assertIn("Not in these levels: the ground before the facade",
                      short.search(self.report("thrust.yaml"))[0])

    def test_choices_are_those_of_choose(self):
        """Every figure of the section stands in what gradin choose writes for the same layouts."""
        layouts = ["thrust.yaml", "round.yaml"]
        text = self.report(*layouts, options=["--show", "quiet_play.yaml"], status=1)
        self.assertEqual((Page(text).wrong, Page(text).open), ([], []))
        section = re.search(r'<section id="choice".*?</section>', text, re.DOTALL)[0]
        self.assertIn('<a href="#choice">Choices</a>', text)
        code, out, err = self.run_here("choose", "quiet_play.yaml", *layouts, *QUICK[:2], "--no-crews", "--out", "chosen")
        self.assertEqual(code, 1, err)
        words = hall.flat(html.unescape(re.sub(r"<[^>]+>", " ", section)))
        self.assertIn(hall.flat(out.split("\n\n")[1]), words)
        rows = [hall.flat(html.unescape(re.sub(r"<[^>]+>", " ", row)))
                for row in re.findall(r"<tr>(.*?)</tr>", section, re.DOTALL)]
        for line in csv_of(self.path("chosen/choice.csv")):
            self.assertIn(f"{line['rank']} {line['layout']} {line['verdict']} {100 * float(line['score']):.0f} "
                          f"{float(line['has_all_pct']):.0f} % {float(line['first_pct']):.0f} % "
                          f"{float(line['seats']):.0f} {line['held_back']}", rows)
        verdicts = [line["verdict"] for line in csv_of(self.path("chosen/musts.csv"))]
        told = re.findall(r"<td>(has it|too near to tell|lacks it)</td>", section)
        self.assertEqual(told, verdicts)
        self.assertEqual(len(re.findall(r'<th scope="col"', section)), 8 + 2 * 5)
        self.assertNotIn('id="choice"', self.report("thrust.yaml"))

    def test_same_bytes(self):
        one = self.report("round.yaml", "thrust.yaml", options=["--threads", "1"])
        self.assertEqual(one, self.report("round.yaml", "thrust.yaml", options=["--threads", "2"]))

    def test_refusals(self):
        for arguments, line in ((["report", "thrust.yaml"], "gradin: report: --out DIR is needed"),
                                (["report", "--out", "out"],
                                 "gradin: report: one to six layouts are needed, not 0")):
            code, out, err = self.run_here(*arguments)
            self.assertEqual((code, out, err.splitlines()[0]), (2, "", line))
        code, _, err = self.run_here("report", "thrust.yaml", "no.yaml", "--out", "out", *QUICK)
        self.assertEqual(code, 2, err)
        self.assertFalse(os.path.exists(self.path("out")))

    def test_curves_of_the_overflight_peak_at_the_table_s_maxima(self):
        text = self.report("thrust.yaml", options=("--no-checks",))
        data, page = data_of(text)["layouts"][0], Page(text)
        told = dict(re.findall(r"</svg>(?:loudest|median|quietest), ([^:<]+): ([-0-9.]+) dB", text))
        levels = sorted(data["dba"])
        wanted = [levels[-1], levels[len(levels) - 1 - len(levels) // 2], levels[0]]
        self.assertEqual([float(level) for level in told.values()], wanted)
        for seat, level in told.items():
            self.assertEqual(data["dba"][data["seat"].index(seat)], float(level))
        curves = [[tuple(map(float, point.split(","))) for point in found["points"].split()]
                  for tag, found in page.elements if tag == "polyline"]
        tops = [min(y for _, y in curve) for curve in curves]
        self.assertEqual(len(tops), 3)
        self.assertEqual(tops, sorted(tops, reverse=True), "the loudest is drawn last")
        ten_db = (300 - 34 - 10) / 4
        self.assertAlmostEqual((tops[0] - tops[2]) / ten_db * 10, wanted[0] - wanted[2], delta=0.12)

    def test_views_stand_inside_and_are_the_table_s(self):
        text = self.report("hexagon_stage.yaml", views=5)
        page, data = Page(text), data_of(text)["layouts"][0]
        self.assertEqual(page.wrong, [])
        images = [found for tag, found in page.elements if tag == "img"]
        self.assertEqual(len(images), 5)
        for found in images:
            kind, png = found["src"].split(",")
            self.assertEqual(kind, "data:image/png;base64")
            self.assertEqual(struct.unpack(">II", base64.b64decode(png, validate=True)[16:24]), (400, 250))
            seat = int(found["id"].split("-")[2])
            self.assertIn(f"{data['seat'][seat]} sees {data['seen'][seat]:.1f} % of the focus", found["alt"])

    def test_compared_in_tables(self):
        """The section holds no text set by a typewriter; its tables have the figures of compare.json."""
        text = self.report("thrust.yaml", "flat_floor.yaml")
        section = re.search(r'<section id="compared".*?</section>', text, re.DOTALL)[0]
        self.assertNotIn("<pre", section)
        tables = [[[html.unescape(re.sub("<.*?>", "", cell)) for cell in re.findall(r"<t[hd].*?</t[hd]>", row, re.DOTALL)]
                   for row in re.findall("<tr>.*?</tr>", table, re.DOTALL)]
                  for table in re.findall("<table>.*?</table>", section, re.DOTALL)]
        for table in tables[:-1]:
            self.assertEqual({len(row) for row in table}, {len(table[0])}, table[0])
        totals, blocks, figures, largest, ways = tables
        code, out, _ = self.run_here("compare", "thrust.yaml", "flat_floor.yaml", "--samples", "64", "--no-changeovers",
                                     "--no-maps", "--json", "--out", "compared")
        self.assertEqual(code, 0)
        with open(self.path("compared/compare.json"), encoding="utf-8") as source:
            data = json.load(source)
        pair = data["pairs"][0]
        self.assertEqual(totals[0], ["figure", "A, Thrust", "B, Flat floor", "B less A"])
        self.assertEqual(totals[1], ["seats", *(str(one["all"]["seats"]) for one in data["layouts"]), "-88"])
        self.assertEqual(len(largest), 21)
        self.assertEqual([row[:2] for row in largest[1:]], [[one["seat"], one["other_seat"]] for one in pair["largest"]])
        seen = [(row[5:7], [f"{one['visible_pct']:.1f}", f"{one['other_visible_pct']:.1f}"])
                for row, one in zip(largest[1:], pair["largest"]) if row[4] == "focus seen, %"]
        self.assertGreater(len(seen), 10)
        self.assertEqual([row for row, _ in seen], [figures_of for _, figures_of in seen])
        self.assertEqual(blocks[-1][0], "all")
        self.assertIn("focus seen", [row[0] for row in figures])
        self.assertEqual([row[:2] for row in ways[1:]], [["Thrust", "Flat floor"], ["Flat floor", "Thrust"]])
        verdict = hall.flat(html.unescape(re.search("<p>(.*?)</p>", section, re.DOTALL)[1]))
        code, out, _ = self.run_here("compare", "thrust.yaml", "flat_floor.yaml", "--samples", "64", "--no-changeovers",
                                     "--no-maps", "--out", "compared")
        self.assertIn(verdict, hall.flat(out))

    def test_the_same_as_pdf(self):
        with open(self.path("show.yaml"), "w", encoding="utf-8") as out:
            out.write(SHOW)
        self.report("hexagon_stage.yaml", "hexagon_opera.yaml", views=3, options=["--show", "show.yaml"])
        pages = subprocess.run(["pdftotext", "-layout", self.path("out/report.pdf"), "-"], capture_output=True,
                               text=True, check=True).stdout.split("\f")
        words = hall.flat(" ".join(pages))
        for what in ("Views from 3 seats", "What it comes to", "Compared", "Choices: reading (invented)", "Summary: Opera with surtitles",
                     "Rough checks: Opera with surtitles", "Rails, guards, egress, loads and moving machinery"):
            self.assertIn(what, words)
        code, out, _ = self.run_here("assess", "hexagon_opera.yaml", "--samples", "64", "--no-maps", "--out", "table")
        self.assertEqual(code, 0)
        for line in out.splitlines()[:12]: # the summary stands there line by line
            self.assertIn(hall.flat(line), words)

    def test_two_venues(self):
        text = self.report("thrust.yaml", "hexagon_stage.yaml")
        self.assertIn("<p>Quillon Hall (invented), Corm Playhouse (invented)</p>", text)


@unittest.skipUnless(webdriver and shutil.which("chromium") and shutil.which("chromedriver"),
                     "needs chromium, chromium-driver and python3-selenium")
class Browser(unittest.TestCase):
    """Clicks and keys, in a browser without a network. One document for all: each test loads it anew."""

    @classmethod
    def setUpClass(cls):
        cls.temporary = tempfile.TemporaryDirectory()
        cls.addClassCleanup(cls.temporary.cleanup)
        folder = cls.temporary.name
        hall.copy_demo(folder)
        with open(os.path.join(folder, "show.yaml"), "w", encoding="utf-8") as out:
            out.write(SHOW)
        code, _, err = hall.run("report", "hexagon_stage.yaml", "hexagon_opera.yaml", "--out", "out", *QUICK,
                                "--views", "2", "--show", "show.yaml", cwd=folder)
        if (code, err) != (0, ""):
            raise AssertionError(f"exit status {code}: {err}")
        options = webdriver.ChromeOptions()
        for word in ("--headless=new", "--no-sandbox", "--window-size=1280,900",
                     "--host-resolver-rules=MAP * ~NOTFOUND"):
            options.add_argument(word)
        options.binary_location = shutil.which("chromium")
        cls.driver = webdriver.Chrome(options=options, service=Service(shutil.which("chromedriver")))
        cls.addClassCleanup(cls.driver.quit)
        cls.page = "file://" + os.path.join(folder, "out", "report.html")

    def setUp(self):
        self.driver.get("about:blank") # a link within the page would stay
        self.driver.get(self.page)

    def tearDown(self):
        self.assertEqual(self.driver.get_log("browser"), [])

    def all(self, selector):
        return self.driver.find_elements(By.CSS_SELECTOR, selector)

    def click(self, node):
        self.driver.execute_script("arguments[0].scrollIntoView({block: 'center'})", node)
        node.click()

    def test_mouse_and_keys(self):
        name = data_of(self.driver.page_source)["layouts"][0]["seat"]
        self.click(self.all("#plan-0 .seat")[60])
        self.assertEqual(self.all("#detail h3")[0].text, "Seat " + name[60])
        self.assertEqual(len(self.all(".seat.picked")), 2)   # beside it, too
        self.driver.switch_to.active_element.send_keys(Keys.ARROW_RIGHT)
        focused = self.driver.switch_to.active_element.get_attribute("aria-label")
        self.assertNotEqual(focused.split(",")[0], name[60])
        self.assertEqual(self.all("#detail h3")[0].text, "Seat " + focused.split(",")[0])
        self.assertEqual(len(self.all("#plan-0 .seat[tabindex='0']")), 1)

    def test_a_view_leads_to_its_seat_and_back(self):
        self.click(self.all("button.pick")[1])
        words = self.all(".view img")[1].get_attribute("alt")
        seat = self.all("#detail h3")[0].text.removeprefix("Seat ")
        self.assertIn(f": {seat} sees ", words)
        self.assertIn(words, self.all("#detail img")[0].get_attribute("alt"))
        self.assertGreater(self.all("#detail img")[0].size["width"], 200)

    def test_choices_are_reached_and_shown(self):
        self.click(self.all("nav a[href='#choice']")[0])
        tables = self.all("#choice table")
        self.assertEqual(len(tables), 3)
        for table in tables:
            self.assertTrue(table.is_displayed())
            self.assertTrue(table.find_element("tag name", "caption").text)
        self.assertEqual({row.text for row in self.all("#choice tbody th[scope='row']")},
                         {one["name"] for one in data_of(self.driver.page_source)["layouts"]} | {"seats to sell"})

    def test_list(self):
        data = data_of(self.driver.page_source)["layouts"][0]
        Select(self.all("#only")[0]).select_by_visible_text("poor")
        poor = [i for i, rating in enumerate(data["rating"]) if rating == 3]
        self.assertEqual(len(self.all("#rows tr")), min(50, len(poor)))
        button = [b for b in self.all("#seats thead button") if b.text.startswith("focus seen")][0]
        self.click(button)
        first = self.all("#rows tr th")[0].text
        self.assertEqual(data["seen"][data["seat"].index(first)], min(data["seen"][i] for i in poor))
        self.assertEqual(len(self.all("th[aria-sort='ascending']")), 1)

    def test_figures_and_levels(self):
        for option in self.all("#level option"):
            Select(self.all("#level")[0]).select_by_visible_text(option.text)
            reached = self.all("#plan-0 .seat[tabindex='0']")
            self.assertEqual([node.is_displayed() for node in reached], [True], option.text)
        for option in self.all("#figure option"):
            Select(self.all("#figure")[0]).select_by_visible_text(option.text)
            self.assertEqual(self.all("#plan-0 .shown")[0].text, option.text)
            counts = [int(item.text.split(": ")[-1]) for item in self.all("#plan-0 .legend li")]
            self.assertEqual(sum(counts), len(self.all("#plan-0 .seat:not(.gone)")))

    def test_letters_stand_off_what_is_behind(self):
        """WCAG 2.2, 1.4.3: 4.5 to 1, with its own formula of relative luminance, over every text that shows."""
        low = self.driver.execute_script("""
          function lum(c) { return c.map(function (v) { v /= 255; return v <= 0.04045 ? v / 12.92 :
            Math.pow((v + 0.055) / 1.055, 2.4); }).reduce(function (s, v, i) { return s + v * [0.2126, 0.7152, 0.0722][i]; }, 0); }
          function parse(text) { return text.match(/[0-9.]+/g).map(Number); }
          function behind(node) { for (; node; node = node.parentElement) { var c = parse(getComputedStyle(node).backgroundColor);
            if (c.length < 4 || c[3] > 0) return c.slice(0, 3); } return [255, 255, 255]; }
          var found = [], walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), n = 0;
          while (walk.nextNode()) { var node = walk.currentNode.parentElement;
            if (!walk.currentNode.data.trim() || node.closest("svg, script, style, noscript") || !node.offsetParent) continue;
            var a = lum(parse(getComputedStyle(node).color).slice(0, 3)), b = lum(behind(node)); n++;
            if ((Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05) < 4.5) found.push(node.outerHTML.slice(0, 80)); }
          return [n, found];""")
        self.assertGreater(low[0], 100)
        self.assertEqual(low[1], [])

    def test_what_can_be_pressed_is_large_and_reached_in_order(self):
        """WCAG 2.2, 2.5.8: 24 by 24 px but for links in text; 2.4.3: Tab goes down the page."""
        small = self.driver.execute_script("""return Array.from(document.querySelectorAll("button, select, input, summary"))
          .filter(function (n) { return n.offsetParent && (n.offsetHeight < 24 || n.offsetWidth < 24); })
          .map(function (n) { return n.outerHTML.slice(0, 80); })""")
        self.assertEqual(small, [])
        order, body = [], self.all("body")[0]
        for _ in range(24):
            self.driver.switch_to.active_element.send_keys(Keys.TAB)
            order.append(self.driver.switch_to.active_element)
        self.assertNotIn(body, order[:20])
        follows = self.driver.execute_script("""var a = arguments[0]; return a.slice(1).every(function (n, i) {
          return a[i].compareDocumentPosition(n) & Node.DOCUMENT_POSITION_FOLLOWING; })""", order[:20])
        self.assertTrue(follows)

    def test_narrow_page_does_not_run_over(self):
        self.addCleanup(self.driver.execute_cdp_cmd, "Emulation.clearDeviceMetricsOverride", {})
        for width in (390, 1280, 2560):
            self.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride",
                                        {"width": width, "height": 800, "deviceScaleFactor": 1,
                                         "mobile": False})
            over = self.driver.execute_script("return document.documentElement.scrollWidth - "
                                              "document.documentElement.clientWidth")
            self.assertEqual(over, 0, width)


if __name__ == "__main__":
    unittest.main()
