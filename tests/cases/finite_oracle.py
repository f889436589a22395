"""Radiation efficiency of a forced rectangle against its double integral.

usage: finite_oracle.py PATH_OF_finite_sigma

The engine takes one integral over the distance, with Bessel's function for the mean over the
directions of the wave. Here for each direction the double integral over the differences of position
(M. Villot et al., J. Sound Vib. 245 (2001) 433-455; S. Rhazi, N. Atalla, J. Acoust. Soc. Am. 127
(2010) EL30, both from memory) by Gauss's rule in both, and then the mean over the directions; and
once more in the plane of wavenumbers, where what radiates lies within the circle of k.
"""
import os
import subprocess
import sys

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
try:
    import numpy as np
except ImportError:
    print("SKIPPED: NumPy (python3-numpy) is not installed")
    sys.exit(77)


def gauss(n, start, end):
    x, w = np.polynomial.legendre.leggauss(n)
    return start + (end - start) * (x + 1) / 2, w * (end - start) / 2


def directions(k, a, b):
    return gauss(int(k * max(a, b) / 2) + 12, 0, np.pi / 2)


def by_position(a, b, k, sine):
    """2 k/(pi S) int int (a - x)(b - y) cos(kx x) cos(ky y) sin(k r)/r dx dy."""
    n = int(1.2 * k * max(a, b)) + 24
    x, wx = gauss(n, 0, a)
    y, wy = gauss(n, 0, b)
    r = np.hypot(x[:, None], y[None, :])
    core = (a - x)[:, None] * (b - y)[None, :] * np.sin(k * r) / r * wx[:, None] * wy[None, :]
    mean = 0.0
    for angle, weight in zip(*directions(k, a, b)):
        mean += weight * np.cos(k * sine * np.cos(angle) * x) @ core @ np.cos(
            k * sine * np.sin(angle) * y)
    return mean * 2 / np.pi * 2 * k / (np.pi * a * b)


def by_wavenumber(a, b, k, sine):
    """k/(4 pi2 S) int |window|2/kz over the circle, kr = k sin t, so that dkr kr/kz = k sin t dt."""
    t, wt = gauss(int(2 * k * max(a, b)) + 40, 0, np.pi / 2)
    turn = np.linspace(0, 2 * np.pi, 8 * int(k * max(a, b) / 2) + 64, endpoint=False)
    kx, ky = (k * np.sin(t)[:, None] * f(turn)[None, :] for f in (np.cos, np.sin))
    mean = 0.0
    for angle, weight in zip(*directions(k, a, b)):
        px, py = k * sine * np.cos(angle), k * sine * np.sin(angle)
        window = (a * b * np.sinc((kx - px) * a / 2 / np.pi) *
                  np.sinc((ky - py) * b / 2 / np.pi)) ** 2
        mean += weight * (wt * k * np.sin(t)) @ window.mean(axis=1) * 2 * np.pi
    return mean * 2 / np.pi * k / (4 * np.pi**2 * a * b)


def main():
    cases = [(a, b, k, sine) for a, b in ((1.0, 1.0), (1.25, 1.5), (0.6, 4.0))
             for k in (0.5, 3.0, 12.0) for sine in (0.0, 0.5, 0.9, 0.98, 1.0)]
    cases += [(1.25, 1.5, 40.0, sine) for sine in (0.3, 0.97)]
    lines = "\n".join(" ".join(repr(v) for v in case) for case in cases) + "\n"
    answer = subprocess.run([sys.argv[1]], input=lines, capture_output=True, text=True, check=True)
    got = [float(line) for line in answer.stdout.split()]
    if len(got) != len(cases):
        sys.exit(f"{len(got)} answers to {len(cases)} questions")
    first = max(abs(value / by_position(*case) - 1) for case, value in zip(cases, got))
    second = max(abs(value / by_wavenumber(*case) - 1) for case, value in zip(cases, got))
    print(f"{len(cases)} panes and waves: worst relative error {first:.1e} by position, "
          f"{second:.1e} by wavenumber")
    sys.exit(not (first < 3e-5 and second < 3e-5))


if __name__ == "__main__":
    main()
