#!/usr/bin/python3
"""gradin spectrum: what it prints of files and numbers, and what it refuses."""

import json
import math
import unittest

import hall
from hall import plain

# ANSI/ASA S12.2-2019, NC-35 (reference/nc-curves).
NC_35 = {16: 82, 31.5: 71, 63: 60, 125: 52, 250: 45, 500: 40, 1000: 36, 2000: 34, 4000: 33, 8000: 32}


class Spectrum(hall.HallTest):
    def put(self, text, name="noise.csv"):
        with open(self.path(name), "w", encoding="utf-8") as out:
            out.write(text)

    def rated(self, *arguments):
        code, out, err = self.run_here("spectrum", *arguments, "--json")
        self.assertEqual((code, err), (0, ""))
        self.assertEqual(self.run_here("spectrum", *arguments, "--json", "--quiet"), (0, out, ""))
        return json.loads(out)

    def refuse(self, arguments, *lines):
        self.assertEqual(self.run_here("spectrum", *arguments), (2, "", "\n".join(lines) + "\n"))

    def test_a_curve_of_the_standard(self):
        made = self.rated(*(f"{hz}={db}" for hz, db in NC_35.items()))
        self.assertEqual((made["source"], made["input_digest"], made["speech"]),
                         (None, None, "normal"))
        noise = made["spectra"][0]
        self.assertEqual(noise["nc"], {"value": 35.0, "below_curves": False, "above_curves": False,
                                       "set_by_hz": 16.0, "first_octave_hz": 16.0,
                                       "last_octave_hz": 8000.0})
        self.assertEqual((noise["bands"], noise["name"], noise["sil_db"]), ("octaves", None, 35.8))
        self.assertEqual(noise["nr"]["value"], round((32 + 8) / 1.03, 1))

    def test_columns_of_a_file(self):
        rows = "".join(f"{hz},{db},{db - 30 if hz > 16 else ''}\r\n" for hz, db in NC_35.items())
        self.put('band_hz,"fan, low",quiet\r\n' + rows)
        made = self.rated("noise.csv", "--effort", "loud")
        fan, quiet = made["spectra"]
        self.assertEqual((fan["name"], quiet["name"], made["speech"]), ("fan, low", "quiet", "loud"))
        self.assertEqual((fan["nc"]["value"], quiet["nc"]["value"]), (35.0, None))
        self.assertTrue(quiet["nc"]["below_curves"])
        self.assertEqual(quiet["nc"]["first_octave_hz"], 31.5)
        self.assertAlmostEqual(fan["a_dba"] - quiet["a_dba"], 30, delta=0.11)
        code, out, err = self.run_here("spectrum", "noise.csv")
        self.assertEqual((code, err), (0, ""))
        self.assertIn("  A  fan, low, octaves 16 to 8000 Hz\n", out)
        self.assertIn("     NC 35.0, set by 16 Hz; octaves 16 to 8000 Hz\n", out)
        self.assertIn("     NC below 15; octaves 31.5 to 8000 Hz\n", out)
        self.assertIn("Octaves: ", out)
        self.assertLessEqual(max(map(len, out.splitlines())), 80)

    def test_speech_of_ones_own(self):
        """ANSI S3.5-1997 Annex C.2 (reference/ansi-s3-5/sii.csv) from band levels."""
        thirds = [160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150, 4000,
                  5000, 6300, 8000]
        def file(name, levels):
            width = 10 ** 0.05 - 10 ** -0.05
            self.put(f"band_hz,{name}\n" + "".join(
                f"{hz},{db + 10 * math.log10(width * 1000 * 10 ** ((i - 8) / 10)):.4f}\n"
                for i, (hz, db) in enumerate(zip(thirds, levels))), name + ".csv")
        file("speech", [54] * 18)
        file("noise", [40, 30, 20] + [0] * 15)
        made = self.rated("noise.csv", "--speech", "speech.csv")
        self.assertEqual((made["speech"], made["spectra"][0]["sii"]), ("given", 0.851))
        code, out, _ = self.run_here("spectrum", "noise.csv", "--speech", "speech.csv")
        self.assertIn("     SII 0.851, of the speech given\n", out)
        self.assertIn("     no NC: it needs the octaves 125 to 4000 Hz\n", out)
        self.assertEqual(code, 0)
        self.put("band_hz,a,b\n1000,40,40\n", "two.csv")
        self.refuse(["noise.csv", "--speech", "two.csv"],
                    "--speech: two.csv has 2 spectra; one is needed")
        self.put("band_hz,a\n1000,40\n", "short.csv")
        self.refuse(["noise.csv", "--speech", "short.csv"], "the speech needs the thirds 160 to 5000 "
                    "Hz, or the octaves 125 to 4000 Hz")

    def test_refuses_by_line_and_column(self):
        self.put("band_hz,a,b\n63,1,2\n64,3,4\n125,x,500\n250,3\n63,1,1\n")
        self.refuse(["noise.csv"],
                    "noise.csv:3:1: band_hz: '64' is no nominal band from 12.5 to 20000 Hz, such as "
                    "31.5",
                    "noise.csv:4:5: a: 'x' is no number",
                    "noise.csv:4:7: b: is 500; a level lies between -50 and 200 dB",
                    "noise.csv:5:1: has 2 cells; the first line has 3",
                    "noise.csv:6:1: band_hz: band 63 Hz stands twice")
        run = "; any run of thirds or octaves without a hole is taken"
        self.put("band_hz,a,b\n63,1,\n125,2,\n500,3,\n")
        self.refuse(["noise.csv"], "noise.csv:1:9: a: lacks the band 250 Hz" + run,
                    "noise.csv:1:11: b: has no level")
        self.put("band_hz,a\n63,1\n80,1\n125,3\n")
        self.refuse(["noise.csv"], "noise.csv:1:9: a: lacks the band 100 Hz" + run)
        self.put("hz,a\n63,1\n")
        self.refuse(["noise.csv"], "noise.csv:1:1: hz: the first column must be band_hz")
        self.put("band_hz,a,a\n63,1,1\n")
        self.refuse(["noise.csv"], "noise.csv:1:11: a: each column of levels needs a name of its own")
        self.put("band_hz\n63\n")
        self.refuse(["noise.csv"], "noise.csv:1:1: has 0 columns of levels; 1 to 12 are taken")
        self.put("band_hz" + "".join(f",c{i}" for i in range(13)) + "\n")
        self.refuse(["noise.csv"], "noise.csv:1:1: has 13 columns of levels; 1 to 12 are taken")
        self.refuse(["none.csv"], "none.csv: cannot be opened: No such file or directory")

    def test_refuses_numbers(self):
        alone = "' is no BAND=LEVEL, such as 63=47; a CSV file stands alone"
        self.refuse(["63=4", "foo", "63=5", "=3", "1000="], "'foo" + alone,
                    "'63=5': band 63 Hz stands twice",
                    "'=3': '' is no nominal band from 12.5 to 20000 Hz, such as 31.5",
                    "'1000=': a level is a number from -50 to 200 (dB)")
        self.refuse(["63=nan", "125=201", "12=1"],
                    "'63=nan': a level is a number from -50 to 200 (dB)",
                    "'125=201': a level is a number from -50 to 200 (dB)",
                    "'12=1': '12' is no nominal band from 12.5 to 20000 Hz, such as 31.5")
        self.refuse(["63=4", "250=4"], "lacks the band 125 Hz; any run of thirds or octaves without a "
                    "hole is taken")


if __name__ == "__main__":
    plain.main()
