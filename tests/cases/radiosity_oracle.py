"""Radiosity and form factors against NumPy and SciPy.

usage: radiosity_oracle.py PATH_OF_radiosity_solve

The engine factors a symmetric system in other unknowns; here (I - rho F) B = E stands as in the
books and goes to a general solver. Form factors are the double area integral of
cos cos / (pi r^2) itself, by SciPy's own Gauss points."""
import subprocess
import sys

try:
    import numpy as np
    from scipy.special import roots_legendre
except ImportError:
    print("SKIPPED: NumPy and SciPy (python3-scipy) are not installed")
    sys.exit(77)

AIR_1M = 0.01
SOLUTION, FACTOR = 1e-9, 3e-3


def check_solution(numbers):
    n = int(next(numbers))
    rows = np.array([[next(numbers) for _ in range(7)] for _ in range(n)])
    exchange = np.array([next(numbers) for _ in range(n * n)]).reshape(n, n)
    area, alpha, middle, first, leaving = rows[:, 0], rows[:, 1], rows[:, 2:5], rows[:, 5], rows[:, 6]
    assert np.abs(exchange.sum(1) / area - 1).max() < 2e-9, "rows do not sum to the areas"
    apart = np.linalg.norm(middle[:, None] - middle[None, :], axis=2)
    form = exchange / area[:, None] * np.exp(-AIR_1M * apart)
    rho = 1 - alpha
    wanted = np.linalg.solve(np.eye(n) - rho[:, None] * form, rho * first / area)
    worst = np.abs(leaving - wanted).max() / np.abs(wanted).max()
    print(f"{n} patches, largest difference {worst:.1e}")
    return worst < SOLUTION


def points(corner, along, up, n):
    """Gauss points of a rectangle and their weights in m2."""
    at, weight = roots_legendre(n)
    u, v = np.meshgrid((at + 1) / 2, (at + 1) / 2)
    area = np.linalg.norm(np.cross(along, up))
    place = corner + u.ravel()[:, None] * along + v.ravel()[:, None] * up
    return place, np.outer(weight, weight).ravel() / 4 * area


def exchange_m2(a, b, n=28):
    (pa, wa), (pb, wb) = points(*a[:3], n), points(*b[:3], n)
    way = pb[None, :] - pa[:, None]
    square = (way ** 2).sum(2)
    value = np.maximum(way @ a[3], 0) * np.maximum(-(way @ b[3]), 0) / (np.pi * square ** 2)
    return wa @ value @ wb


def check_pairs(numbers):
    worst, n_seen = 0.0, 0
    for _ in range(int(next(numbers))):
        a, b = (np.array([next(numbers) for _ in range(12)]).reshape(4, 3) for _ in range(2))
        got, wanted = next(numbers), exchange_m2(a, b)
        if wanted < 1e-9 and got < 1e-9:
            continue
        n_seen += 1
        worst = max(worst, abs(got / wanted - 1))
    print(f"{n_seen} pairs, largest difference {worst:.1e}")
    return n_seen > 10 and worst < FACTOR


def main():
    run = subprocess.run([sys.argv[1]], capture_output=True, text=True, check=True)
    numbers = iter(map(float, run.stdout.split()))
    good = check_solution(numbers)
    return 0 if check_pairs(numbers) and good else 1


if __name__ == "__main__":
    sys.exit(main())
