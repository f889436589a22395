#!/usr/bin/python3
"""gradin listen: the sound file against the levels beside it through a Fourier transform, its tone, its
header, and what is refused. A small hall."""

import csv
import json
import os
import shutil
import sys
import tempfile
import unittest

import numpy as np

import hall
from hall import plain

sys.path.insert(0, os.path.join(hall.TOP, "tests", "schema"))
import validate  # noqa: E402

RATE, TONE_S, START, FULL_DB = 48000, 5, 6, 100
SEAT = "Stalls-1-1"
# Middles of the thirds 50 Hz to 8 kHz (IEC 61260-1, base 10).
MIDDLE = [1000 * 10 ** ((band - 13) / 10) for band in range(23)]


def chunks(raw):
    """{name: bytes} of a RIFF file, and of its list of INFO."""
    found, at = {}, 12
    while at < len(raw):
        name, size = raw[at:at + 4].decode(), int.from_bytes(raw[at + 4:at + 8], "little")
        found[name] = raw[at + 8:at + 8 + size]
        at += 8 + size + size % 2
    return found


def samples(data):
    """Shares of full scale from 24 bits, the least byte first."""
    byte = np.frombuffer(data, np.uint8).reshape(-1, 3).astype(np.int32)
    value = byte[:, 0] | byte[:, 1] << 8 | byte[:, 2] << 16
    return np.where(value >= 1 << 23, value - (1 << 24), value) / 8388607


class Listen(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.temporary = tempfile.TemporaryDirectory()
        cls.folder = os.path.join(cls.temporary.name, "hall")
        shutil.copytree(os.path.join(hall.TOP, "tests", "faults", "hall"), cls.folder)
        with open(os.path.join(cls.folder, "layout.yaml"), "a", encoding="utf-8") as layout:
            layout.write("room_patch: 6\n")
        cls.rooms = os.path.join(cls.temporary.name, "rooms")
        cls.plain = cls.made("plain.wav", "--length", "8")
        cls.voice = cls.made("voice.wav", "--length", "6", "--voice", "loud", "--shades", "shut",
                             "--full-scale", "110")

    @classmethod
    def tearDownClass(cls):
        cls.temporary.cleanup()

    @classmethod
    def listen(cls, *arguments, name="a.wav", seat=SEAT, **more):
        return hall.run("listen", "layout.yaml", "--seat", seat, "--out", name, "--cache", cls.rooms,
                        *arguments, cwd=cls.folder, **more)

    @classmethod
    def made(cls, name, *arguments):
        """(JSON, samples, rows of the table, chunks) of one file."""
        code, out, err = cls.listen("--json", *arguments, name=name)
        if (code, err) != (0, ""):
            raise AssertionError(f"exit status {code}: {err}")
        with open(os.path.join(cls.folder, name), "rb") as source:
            raw = source.read()
        with open(os.path.join(cls.folder, name[:-3] + "csv"), encoding="utf-8", newline="") as table:
            rows = list(csv.DictReader(table))
        found = chunks(raw)
        return json.loads(out), samples(found["data"]), rows, {**found, "head": raw[:12], "all": len(raw)}

    def levels(self, signal, n_window):
        """[window][band] dB of equal windows: each band cut out of the whole signal's spectrum."""
        spectrum, hz = np.fft.rfft(signal), np.fft.rfftfreq(len(signal), 1 / RATE)
        out = []
        for middle in MIDDLE:
            inside = (hz >= middle * 10 ** -0.05) & (hz < middle * 10 ** 0.05)
            band = np.fft.irfft(np.where(inside, spectrum, 0), len(signal))
            # A sine of full amplitude, mean square 1/2, has the full-scale level.
            out.append(2 * np.mean(band.reshape(n_window, -1) ** 2, axis=1))
        return 10 * np.log10(np.transpose(out) + 1e-30) + FULL_DB

    def wanted(self, rows, voice, n_window):
        """The same from the table, energy means, and the voice's levels."""
        event = np.array([[float(v) for k, v in row.items() if k.startswith("l_")] for row in rows])
        square = np.hstack([10 ** (event / 10), np.zeros((len(rows), 2))])
        square += [0 if level is None else 10 ** (level / 10) for level in voice]
        return 10 * np.log10(square.reshape(n_window, -1, len(MIDDLE)).mean(axis=1) + 1e-30)

    def check_levels(self, signal, rows, voice):
        """Within 0.5 dB over two seconds, where the file's steps of 24 bits (-44 dB for all bands)
        do not show."""
        n = len(rows) // 2
        got, wanted = self.levels(signal, n), self.wanted(rows, voice, n)
        loud = wanted > -25
        self.assertGreater(loud.sum(), 0.7 * loud.size)
        self.assertLess(np.abs(got - wanted)[loud].max(), 0.5)
        self.assertLess(np.abs((got - wanted)[loud].mean()), 0.05)

    def test_levels_of_the_file_are_those_of_the_table(self):
        made, signal, rows, found = self.plain
        self.assertEqual((len(rows), len(signal), made["samples"]), (8, 14 * RATE, 14 * RATE))
        rules = os.path.join(hall.TOP, "reference", "listen-schema.json")
        with open(rules, encoding="utf-8") as source:
            rules = json.load(source)
        self.assertEqual(list(validate.breaches(made, rules, rules)), [])
        self.assertIsNone(made["voice"])
        event = signal[START * RATE:]
        self.check_levels(event, rows, [None] * 23)
        whole = np.abs(np.fft.rfft(event)) ** 2
        hz = np.fft.rfftfreq(len(event), 1 / RATE)
        outside = (hz < 40) | (hz > 6000)
        self.assertLess(whole[outside].sum(), 1e-5 * whole.sum())
        self.assertEqual([[float(row["from_s"]), float(row["laeq_dba"])] for row in rows],
                         [[second["from_s"], second["laeq_dba"]] for second in made["seconds"]])
        self.check_header(found)
        self.check_tone(signal)

    def check_header(self, found):
        head, form = found["head"], found["fmt "]
        self.assertEqual((head[:4], int.from_bytes(head[4:8], "little"), head[8:]),
                         (b"RIFF", found["all"] - 8, b"WAVE"))
        self.assertEqual([int.from_bytes(form[a:b], "little") for a, b in
                          ((0, 2), (2, 4), (4, 8), (8, 12), (12, 14), (14, 16))],
                         [1, 1, RATE, 3 * RATE, 3, 24])
        info = chunks(bytes(8) + found["LIST"])
        self.assertEqual(info["INAM"], SEAT.encode() + b"\0")
        comment = info["ICMT"].rstrip(b"\0").decode()
        self.assertIn("tone of 1000 Hz, 0 to 5 s: 70.0 dB; full scale: a sine of full amplitude is "
                      "100.0 dB; ", comment)
        with open(os.path.join(self.folder, "plain.txt"), encoding="utf-8") as source:
            text = hall.flat(source.read())
        for part in comment.split("; "):
            self.assertIn(part, text)
        self.assertIn("Loud sound can hurt hearing for good.", text)

    def check_tone(self, signal):
        tone = signal[:TONE_S * RATE]
        self.assertAlmostEqual(10 * np.log10(2 * np.mean(tone ** 2)) + FULL_DB, 70, delta=0.01)
        line = np.abs(np.fft.rfft(tone)) ** 2
        self.assertEqual(np.argmax(line), 1000 * TONE_S)
        self.assertLess(line.sum() - line.max(), 1e-9 * line.max())
        self.assertFalse(signal[TONE_S * RATE:START * RATE].any())

    def test_a_voice(self):
        made, signal, rows, _ = self.voice
        self.assertEqual((made["full_scale_db"], self.plain[0]["full_scale_db"]), (110, FULL_DB))
        self.assertAlmostEqual(20 * np.log10(np.abs(signal[START * RATE:]).max()),
                               made["peak_dbfs"], delta=0.06)
        signal = signal * 10 ** ((110 - FULL_DB) / 20)
        self.check_tone(signal)
        voice = made["voice"]["band_db"]
        self.assertEqual(voice[:5], [None] * 5)
        event = signal[START * RATE:]
        self.check_levels(event, rows, voice)
        # Where the voice is alone, its mean square swings at 4 Hz and nearly stops each time.
        quarter = self.levels(event, 6 * 32)[:, 16].reshape(-1, 8)
        mean = 10 * np.log10(np.mean(10 ** (quarter / 10), axis=0))
        self.assertGreater(mean.max() - mean.min(), 10)
        self.assertEqual((made["shades"], made["voice"]["effort"]), ("shut", "loud"))

    def test_levels_are_those_of_assess(self):
        code, _, err = hall.run("assess", "layout.yaml", "--out", "out", "--no-maps", "--samples", "16",
                                "--quiet", "--cache", self.rooms, cwd=self.folder)
        self.assertEqual(code, 0, err)
        with open(os.path.join(self.folder, "out", "seats.csv"), encoding="utf-8", newline="") as table:
            seat = next(row for row in csv.DictReader(table) if row["seat"] == SEAT)
        columns = np.array([float(v) for k, v in seat.items() if k.startswith("l_")])
        self.assertEqual(len(columns), 21)
        made, shut = self.plain[0], self.voice[0]
        self.assertAlmostEqual(made["most_dba"], float(seat["lamax_dba"]), delta=0.15)
        self.assertAlmostEqual(shut["most_dba"], float(seat["lamax_shut_dba"]), delta=0.15)
        self.assertLess(float(seat["lamax_shut_dba"]), float(seat["lamax_dba"]) - 0.1)
        # The seat's maximum lies in one of the seconds. Above 500 Hz the glass lets a band swing with
        # the angle by several decibels a second.
        seconds = np.array([second["band_db"] for second in made["seconds"]])
        self.assertLess(np.abs(seconds - columns)[:, :11].max(axis=1).min(), 0.4)
        self.assertTrue((seconds.min(axis=0) - 0.5 < columns).all())
        self.assertTrue((seconds.max(axis=0) + 0.5 > columns).all())
        self.assertEqual([gap["part"] for gap in made["not_stated"]], ["roof", "walls"])
        self.assertIn("Not in these levels: ", self.read("plain.txt"))

    def read(self, name):
        with open(os.path.join(self.folder, name), encoding="utf-8") as source:
            return source.read()

    def test_same_bytes(self):
        code, _, err = self.listen("--length", "8", name="again.wav", env={"OMP_NUM_THREADS": "3"})
        self.assertEqual((code, err), (0, ""))
        for ending in ("wav", "csv"):
            with open(os.path.join(self.folder, "plain." + ending), "rb") as one, \
                    open(os.path.join(self.folder, "again." + ending), "rb") as other:
                self.assertEqual(one.read(), other.read())

    def test_refusals(self):
        def refused(line, *arguments, **more):
            before = sorted(os.listdir(self.folder))
            self.assertEqual(self.listen(*arguments, name=more.pop("name", "bad.wav"), **more),
                             (2, "", line + "\n"))
            self.assertEqual(sorted(os.listdir(self.folder)), before)
        refused("--seat: there is no seat 'Stals-1-1'; did you mean 'Stalls-1-1'?", seat="Stals-1-1")
        refused("gradin: listen: --out is 'a.mp3'; the name of a sound file that ends in .wav is needed",
                name="a.mp3")
        code, _, err = self.listen("--full-scale", "80", "--voice", "shout", "--length", "2",
                                   name="bad.wav")
        self.assertEqual(code, 2)
        self.assertRegex(err, r"^--full-scale: the loudest sample lies \d+\.\d dB above full scale, 80 dB; "
                         r"at least \d+ dB is needed\n$")
        self.assertFalse(os.path.exists(os.path.join(self.folder, "bad.wav")))
        with open(os.path.join(self.folder, "layout.yaml"), encoding="utf-8") as source:
            text = source.read()
        with open(os.path.join(self.folder, "quiet.yaml"), "w", encoding="utf-8") as out:
            out.write(text.replace("overflight: pass.yaml\n", ""))
        self.assertEqual(hall.run("listen", "quiet.yaml", "--seat", SEAT, "--out", "bad.wav",
                                  cwd=self.folder),
                         (2, "", "quiet.yaml: names no overflight; there is nothing to hear\n"))


if __name__ == "__main__":
    plain.main()
