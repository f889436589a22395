#!/usr/bin/python3
"""What assess writes: the same bytes however it is run, and tables that hang together."""

import csv
import io
import math
import os
import statistics
import struct
import subprocess
import tempfile
import unittest
import zlib

import hall
from hall import plain

BANDS = [50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000,
         2500, 3150, 4000, 5000]
COLUMNS = (
    "seat block level row number kind x_m y_m floor_z_m eye_z_m facing_deg rating reason "
    "visible_pct hidden_heads_pct hidden_rails_pct hidden_structure_pct hidden_arch_pct "
    "worst_occluder worst_hidden_pct both_eyes_pct one_eye_pct no_eye_pct clear_view_pct "
    "clear_view_se_pct drawn_median_pct drawn_p10_pct c_class c_case c_line c_mm c_d_m c_n_mm "
    "c_r_m c_t_m c_row_mm c_two_ahead_mm front_seat window_deg rail rail_c_mm rail_d_m "
    "rail_n_mm rail_r_m rail_t_m standing_c_mm standing_d_m standing_n_mm standing_r_m "
    "standing_t_m distance_m nearest_m off_axis_deg down_deg head_turn_deg focus_width_deg "
    "lamax_dba lamax_open_dba lamax_shut_dba level_systematic_db level_uncertainty_db laeq_dba "
    "nc noise_excess_db noise_verdict loudest_element").split() + [
        f"l_{band}_hz_db" for band in BANDS] + ["lamax_predicted_dba"]
# Where a layout has several focus areas, each has a column.
AREAS = {"flat_floor": ["platform floor", "faces"]}
TEXTS = {"seat", "block", "level", "kind", "rating", "reason", "worst_occluder", "c_class", "c_case", "c_line",
         "front_seat", "rail", "noise_verdict", "loudest_element"}


def columns_of(layout):
    at = COLUMNS.index("visible_pct") + 1
    return COLUMNS[:at] + [f"visible_{name}_pct" for name in AREAS.get(layout, [])] + COLUMNS[at:]


class SameBytes(hall.HallTest):
    """Same input, same bytes: any thread count, locale, folder, and run after run."""

    def outputs(self, name, *options, layout="thrust.yaml", cwd=None, env=None):
        out = self.path(name)
        code, _, err = hall.run("assess", layout, "--out", out, "--quiet", *options,
                                cwd=cwd or self.folder, env=env)
        self.assertEqual((code, err), (0, ""))
        return hall.read_bytes(out)

    def expect_same(self, first, second, how):
        self.assertEqual(list(first), list(second), how)
        for name, content in first.items():
            self.assertTrue(content == second[name], f"{name} differs {how}")

    def comma_locale(self):
        """An environment with a decimal comma; the system need not have that locale."""
        locales = self.path("locales")
        os.mkdir(locales)
        subprocess.run(["localedef", "-i", "de_DE", "-f", "UTF-8",
                        os.path.join(locales, "de_DE.UTF-8")], check=False,
                       stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        env = {"LOCPATH": locales, "LC_ALL": "de_DE.UTF-8", "LANG": "de_DE.UTF-8"}
        point = subprocess.run(["locale", "decimal_point"], capture_output=True, text=True,
                               check=True, env={**os.environ, **env}).stdout.strip()
        self.assertEqual(point, ",", "localedef failed (Debian package locales)")
        return env

    def test_threads(self):
        one = self.outputs("one", env={"OMP_NUM_THREADS": "1"})
        self.expect_same(one, self.outputs("two", env={"OMP_NUM_THREADS": "2"}), "with 2 threads")
        tables = self.outputs("tables", "--no-maps", env={"OMP_NUM_THREADS": "3"})
        self.assertEqual(list(tables), ["seats.csv", "seats_short.csv", "summary.json"])
        self.expect_same(tables, {name: one[name] for name in tables}, "with 3 threads")
        self.expect_same(tables, self.outputs("four", "--no-maps", "--threads", "4"),
                         "with --threads 4")
        self.expect_same(tables, self.outputs("blas", "--no-maps",
                                              env={"OPENBLAS_NUM_THREADS": "1"}),
                         "with one BLAS thread")

    def test_locale_and_folder(self):
        plain_run = self.outputs("plain")
        self.expect_same(plain_run, self.outputs("comma", env=self.comma_locale()),
                         "under a decimal comma")
        self.expect_same(plain_run, self.outputs("again", layout=self.path("thrust.yaml"),
                                                 cwd="/"), "from another folder")

    def test_every_input_is_in_the_digest(self):
        def digest(name, *changes):
            hall.copy_demo(self.folder, changes)
            self.outputs("out " + name, "--samples", "16", "--no-maps")
            return hall.Table(self.path("out " + name)).summary["input_digest"]

        digests = [digest("none")]
        for name in ("thrust.yaml", "hall.yaml", "brief.yaml", "approach.yaml"):
            digests.append(digest(name, (name, "units: m\n", "units: m # metres\n")))
        digests.append(digest("door", ("door.csv", "5000,41", "5000,41.0")))
        self.assertEqual(len(set(digests)), len(digests))
        self.assertEqual(digest("none again"), digests[0])


class Written(unittest.TestCase):
    """One run of each layout, looked at from all sides."""

    @classmethod
    def setUpClass(cls):
        cls.temporary = tempfile.TemporaryDirectory()
        cls.printed, cls.table = {}, {}
        for layout in hall.LAYOUTS:
            out = os.path.join(cls.temporary.name, layout)
            code, printed, err = hall.run("assess", f"{layout}.yaml", "--out", out, cwd=hall.DEMO)
            assert (code, err) == (0, ""), (layout, code, err)
            cls.printed[layout] = printed
            cls.table[layout] = hall.Table(out)

    @classmethod
    def tearDownClass(cls):
        cls.temporary.cleanup()

    def files(self, layout):
        return hall.read_bytes(os.path.join(self.temporary.name, layout))

    def each(self):
        for layout in hall.LAYOUTS:
            with self.subTest(layout):
                yield layout, self.table[layout]

    def test_columns_are_pinned(self):
        for layout, _ in self.each():
            text = self.files(layout)["seats.csv"].decode("utf-8")
            self.assertEqual(text.split("\r\n", 1)[0], ",".join(columns_of(layout)))

    def test_lines_have_the_same_cells(self):
        for layout, table in self.each():
            text = self.files(layout)["seats.csv"].decode("utf-8")
            lines = list(csv.reader(io.StringIO(text, newline=""), strict=True))
            self.assertEqual({len(line) for line in lines}, {len(columns_of(layout))})
            self.assertEqual(len(lines) - 1, table.summary["seats"]["all"])
            self.assertEqual(text.count("\n"), text.count("\r\n"))
            self.assertTrue(text.endswith("\r\n"))

    def test_cells_are_numbers_with_a_point(self):
        for _, table in self.each():
            for row in table.rows:
                for name in set(COLUMNS) - TEXTS:
                    self.assertRegex(row[name], r"^(-?\d+(\.\d+)?)?$", name)
                    self.assertNotRegex(row[name], r"^-0(\.0+)?$", name)

    def test_seats_are_named_once_and_front_seats_exist(self):
        for _, table in self.each():
            self.assertEqual(len(table.seat), len(table.rows))
            for row in table.rows:
                front = row["front_seat"]
                self.assertEqual(front == "", row["c_case"] == "none")
                self.assertEqual(row["c_mm"] == "", row["c_case"] == "none")
                if front:
                    self.assertIn(front, table.seat)
                    self.assertNotEqual(front, row["seat"])

    def test_seen_and_hidden_make_the_whole(self):
        for _, table in self.each():
            for row in table.rows:
                parts = [float(row[name]) for name in row
                         if name == "visible_pct" or name.startswith("hidden_")]
                self.assertEqual(len(parts), 5)
                self.assertAlmostEqual(sum(parts), 100.0, delta=0.26)  # five roundings

    def test_c_value_follows_from_its_own_columns(self):
        """C = D(N+R)/(D+T) - R, P. Shepherd, University of Bath, worksheet on stadium sightlines."""
        n = 0
        for _, table in self.each():
            for row in table.rows:
                if row["c_case"] == "none":
                    continue
                d, r, t = (float(row[k]) for k in ("c_d_m", "c_r_m", "c_t_m"))
                riser = float(row["c_n_mm"]) / 1000.0
                c = d * (riser + r) / (d + t) - r
                # the columns are rounded to 1 mm; near the focus that is worth more
                delta = 1.0 + 2.0 * (1.0 + (abs(riser + r) / (d + t)))
                self.assertAlmostEqual(float(row["c_mm"]), 1000.0 * c, delta=delta,
                                       msg=row["seat"])
                n += 1
        self.assertGreater(n, 1000)

    def test_summary_agrees_with_the_table(self):
        for _, table in self.each():
            for rating, found in table.summary["rating"].items():
                self.assertEqual(found["seats"], sum(r["rating"] == rating for r in table.rows))
            for kind in ("wheelchair", "companion"):
                self.assertEqual(table.summary["seats"][kind],
                                 sum(r["kind"] == kind for r in table.rows))
            visible = table.numbers("visible_pct").values()
            spread = table.summary["sight"]["visible_pct"]
            self.assertEqual((spread["least"], spread["most"]), (min(visible), max(visible)))
            self.assertAlmostEqual(spread["median"], statistics.median(visible), delta=0.11)
            worst = table.summary["worst_seats"][0]
            self.assertEqual(float(table.seat[worst["seat"]]["visible_pct"]), worst["visible_pct"])

    def test_levels_add_up(self):
        """LAmax is the A-weighted energy sum of its bands (IEC 61672-1, nominal weights)."""
        weight = [-30.2, -26.2, -22.5, -19.1, -16.1, -13.4, -10.9, -8.6, -6.6, -4.8, -3.2, -1.9,
                  -0.8, 0.0, 0.6, 1.0, 1.2, 1.3, 1.2, 1.0, 0.5]
        for _, table in self.each():
            for row in table.rows:
                power = sum(10 ** ((float(row[f"l_{band}_hz_db"]) + w) / 10)
                            for band, w in zip(BANDS, weight))
                self.assertAlmostEqual(10 * math.log10(power), float(row["lamax_dba"]), delta=0.2)

    def test_pictures(self):
        for layout, _ in self.each():
            pictures = {n: b for n, b in self.files(layout).items() if n.endswith(".png")}
            self.assertIn(f"{len(pictures)} maps (PNG)", self.printed[layout])
            self.assertGreaterEqual(len(pictures), 8)
            for name, content in pictures.items():
                self.check_png(name, content)

    def check_png(self, name, content):
        """Signature, every chunk's CRC, IEND at the end (ISO/IEC 15948)."""
        self.assertEqual(content[:8], b"\x89PNG\r\n\x1a\n", name)
        at, kinds = 8, []
        while at < len(content):
            size, kind = struct.unpack(">I4s", content[at:at + 8])
            crc, = struct.unpack(">I", content[at + 8 + size:at + 12 + size])
            self.assertEqual(zlib.crc32(content[at + 4:at + 8 + size]), crc, name)
            kinds.append(kind.decode())
            at += 12 + size
        self.assertEqual((kinds[0], kinds[-1]), ("IHDR", "IEND"), name)
        self.assertIn("pHYs", kinds, name)
        self.assertIn("tEXt", kinds, name)

    def test_nothing_else_is_left(self):
        for layout, _ in self.each():
            names = [n for n in self.files(layout) if not n.endswith(".png")]
            self.assertEqual(names, ["seats.csv", "seats_short.csv", "summary.json"])

    def test_screen(self):
        for layout, _ in self.each():
            lines = self.printed[layout].splitlines()
            self.assertLessEqual(max(map(len, lines)), 80)
            self.assertLessEqual(len(lines), 54)
            said = hall.flat(self.printed[layout])
            self.assertIn("local codes and licensed practice decide", said)
            self.assertIn("uncertainty", said)


class Options(hall.HallTest):
    def test_tables_without_maps_are_the_same(self):
        """So the tests of figures, which ask for no maps, speak of the same tables."""
        for name, option in (("all", "--quiet"), ("tables", "--no-maps")):
            code, _, err = self.run_here("assess", "round.yaml", "--out", name, option)
            self.assertEqual((code, err), (0, ""))
        whole, tables = (hall.read_bytes(self.path(name)) for name in ("all", "tables"))
        self.assertEqual(list(tables), ["seats.csv", "seats_short.csv", "summary.json"])
        for name, content in tables.items():
            self.assertEqual(content, whole[name])

    def test_json_is_the_summary(self):
        code, out, err = self.run_here("assess", "round.yaml", "--out", "out", "--json")
        self.assertEqual((code, err), (0, ""))
        self.assertEqual(out.encode(), hall.read_bytes(self.path("out"))["summary.json"])

    def test_quiet_says_nothing(self):
        self.assertEqual(self.run_here("assess", "round.yaml", "--out=out", "--quiet"),
                         (0, "", ""))

    def test_no_progress_in_a_pipe(self):
        code, _, err = self.run_here("assess", "round.yaml", "--out", "out", "--samples", "16384")
        self.assertEqual((code, err), (0, ""))

    def test_a_second_run_replaces_the_first(self):
        self.run_here("assess", "round.yaml", "--out", "out", "--quiet")
        first = hall.read_bytes(self.path("out"))
        with open(self.path("out/seats.csv"), "w", encoding="utf-8") as out:
            out.write("old")
        self.run_here("assess", "round.yaml", "--out", "out", "--quiet")
        self.assertEqual(hall.read_bytes(self.path("out")), first)


if __name__ == "__main__":
    plain.main()
