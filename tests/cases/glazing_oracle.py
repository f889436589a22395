"""Glazing transmission against independent NumPy and SciPy evaluations.

usage: glazing_oracle.py PATH_OF_glazing_tau

The engine multiplies 2x2 transfer matrices, or solves a banded system in the waves of each layer.
Here the pressures and velocities at all faces are the unknowns of one dense system; a panel's
stiffness is the stationary value of its energy (deflection, common rotation, stretch of each ply),
found by a dense solve; an elastic layer is the matrix exponential of its equations of motion
d/dz (ux, uz, szz, sxz) = A (ux, uz, szz, sxz).
"""
import os
import subprocess
import sys

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # before NumPy: the systems are small

try:
    import numpy as np
    from scipy.linalg import expm
except ImportError:
    print("SKIPPED: NumPy and SciPy (python3-scipy) are not installed")
    sys.exit(77)

PLATE, INTERLAYER, GAP, POROUS, SHEET = range(5)
N_WAVE = 6
SOLID = (PLATE, INTERLAYER)
BULK = 2e9  # of an interlayer that is an elastic layer of its own


def plate(rng):
    return (PLATE, rng.uniform(0.002, 0.03), rng.uniform(900, 3000), 10 ** rng.uniform(9, 11),
            rng.uniform(0.1, 0.4), 10 ** rng.uniform(-3, -0.5), 0.0, 0.0, 0.0, 0.0)


def interlayer(rng):
    shear = 0.0 if rng.random() < 0.3 else 10 ** rng.uniform(5.5, 9)
    return (INTERLAYER, rng.uniform(0.0003, 0.003), rng.uniform(900, 1200), 0.0, 0.0,
            rng.uniform(0.05, 0.8), shear, 0.0, 0.0, 0.0)


def gap(rng):
    return (GAP, 10 ** rng.uniform(-2.3, -0.7), rng.uniform(0.8, 4.0), 0.0, 0.0, 0.0, 0.0,
            rng.uniform(200, 400), 0.0, 0.0)


def porous(rng):
    return (POROUS, rng.uniform(0.005, 0.1), 0.0, 0.0, 0.0, 0.0, 0.0, 0.0,
            10 ** rng.uniform(3, 5), 0.0)


def sheet(rng):
    return (SHEET, 0.001, 10 ** rng.uniform(1.5, 4), 0.0, 0.0, 0.0, 0.0, 0.0, 0.0,
            10 ** rng.uniform(1, 4) if rng.random() < 0.7 else np.inf)


def plates_and_gaps(rng):
    layers = [plate(rng)]
    for _ in range(rng.integers(0, 4)):
        layers += [gap(rng), plate(rng)]
    return layers


def laminates_and_gaps(rng):
    layers = [plate(rng), interlayer(rng), plate(rng)]
    for _ in range(rng.integers(1, 4)):
        layers += [interlayer(rng) if rng.random() < 0.5 else gap(rng), plate(rng)]
    return layers


def shaded(rng):
    """Panels, gaps, fibres and cloth; plates never touch."""
    layers = plates_and_gaps(rng) if rng.random() < 0.5 else laminates_and_gaps(rng)
    for _ in range(rng.integers(1, 4)):
        soft = (gap, porous, sheet)[rng.integers(3)](rng)
        at = rng.integers(3)
        if at == 0:
            layers = [soft] + layers
        elif at == 1:
            layers = layers + [soft]
        else:
            places = [i for i, layer in enumerate(layers) if layer[0] not in SOLID] or [len(layers)]
            layers.insert(places[rng.integers(len(places))], soft)
    return layers


def any_order(rng):
    makers = (plate, interlayer, gap, porous, sheet)
    return [makers[rng.integers(5)](rng) for _ in range(rng.integers(1, 9))]


def split(layers):
    """Parts: ('panel', layers), ('solid', layer, mass of its run) or ('soft', layer)."""
    parts, run = [], []
    for layer in layers + [None]:
        if layer is not None and layer[0] in SOLID:
            run.append(layer)
            continue
        kinds = [one[0] for one in run]
        if run and len(run) % 2 and kinds == [PLATE, INTERLAYER] * (len(run) // 2) + [PLATE]:
            parts.append(("panel", run, mass_of(run)))
        else:
            parts += [("solid", one, mass_of(run)) for one in run]
        run = []
        if layer is not None:
            parts.append(("soft", layer, 0.0))
    return parts


def mass_of(layers):
    return sum(layer[1] * layer[2] for layer in layers)


# PVB at 20 degC: reference/pvb, a chain attributed to F. Pelayo et al. 2017
SHARE = [0.2342151953, 0.2137793134, 0.1745500419, 0.1362133454, 0.1195345045, 0.0684065631,
         0.0414394418, 0.0072519528, 0.0028254596, 0.0005274937, 0.0004293523, 0.0002712854,
         0.0000980473]
TIME = [2.366e-07, 2.2643e-06, 2.16668e-05, 2.073273e-04, 1.9838958e-03, 1.89837195e-02,
        1.816534983e-01, 1.7382259321, 16.6329270788, 159.1589781894, 1522.9778990967,
        14573.2380763177, 139450]


def shear_of(layer, w):
    if layer[6] > 0:
        return layer[6] * (1 + 1j * layer[5])
    spring = 424.747e6 * (1 - sum(SHARE))
    return spring + sum(424.747e6 * g * 1j * w * t / (1 + 1j * w * t) for g, t in zip(SHARE, TIME))


def panel_force(panel, kx, w):
    """Pressure per deflection w exp(-j kx x) but for the mass: stationary energy over w, with the
    common rotation and the plies' own stretch (times -j) eliminated from a dense matrix."""
    plies = panel[0::2]
    energy = np.zeros((len(plies) + 2, len(plies) + 2), complex)
    for i, (_, h, rho, young, nu, loss, *_) in enumerate(plies):
        plane = young * (1 + 1j * loss) / (1 - nu**2)
        kappa = ((0.87 + 1.12 * nu) / (1 + nu)) ** 2
        shear = kappa * h * young * (1 + 1j * loss) / (2 * (1 + nu))
        slope = np.zeros(len(plies) + 2)  # kx w - rotation
        slope[0], slope[1] = kx, -1
        energy += shear * np.outer(slope, slope)
        energy[1, 1] += plane * h**3 / 12 * kx**2 - w**2 * rho * h**3 / 12
        energy[i + 2, i + 2] += plane * h * kx**2 - w**2 * rho * h
    for j, layer in enumerate(panel[1::2]):
        strain = np.zeros(len(plies) + 2)  # slip u_(j+1) - u_j + d rotation
        strain[1] = layer[1] + (plies[j][1] + plies[j + 1][1]) / 2
        strain[j + 2], strain[j + 3] = -1, 1
        energy += shear_of(layer, w) / layer[1] * np.outer(strain, strain)
    if kx == 0:
        return 0.0
    return energy[0, 0] - energy[0, 1:] @ np.linalg.solve(energy[1:, 1:], energy[1:, 0])


def elastic(layer, kx, w):
    """(ux, uz, szz, sxz) at the far face from those at the near one."""
    kind, h, rho, young, nu, loss, *_ = layer
    if kind == PLATE:
        young = young * (1 + 1j * loss)
        mu, lame = young / (2 * (1 + nu)), young * nu / ((1 + nu) * (1 - 2 * nu))
    else:
        mu = shear_of(layer, w)
        lame = BULK - 2 * mu / 3
    stiff = lame + 2 * mu
    jk = 1j * kx
    slope = np.array([[0, jk, 0, 1 / mu],
                      [jk * lame / stiff, 0, 1 / stiff, 0],
                      [0, -rho * w**2, 0, jk],
                      [kx**2 * (stiff - lame**2 / stiff) - rho * w**2, 0, jk * lame / stiff, 0]])
    unit = np.array([1, 1, rho * w * 343.2, rho * w * 343.2])  # stresses as large as motions
    return expm(slope * unit[None, :] / unit[:, None] * h) * unit[:, None] / unit[None, :]


def closed(layers, at, rho, c):
    """1 between panels, 0 towards the room, r/(r + 2 rho c) for cloth on a side."""
    share = 1.0
    for side in (layers[:at][::-1], layers[at + 1:]):
        met = next((one for one in side if one[0] not in (GAP, POROUS)), None)
        r = 0.0 if met is None else met[9] if met[0] == SHEET else np.inf
        share *= 1.0 if np.isinf(r) else r / (r + 2 * rho * c)
    return share


def fluid_of(layer, w, lateral, gap_loss, share, rho, c):
    """Inertia w rho, squared wavenumber, and the factor of kx2."""
    if layer[0] == GAP:
        inertia = w * layer[2]
        return (inertia, (w / layer[7]) ** 2 * (1 - 1j * share * gap_loss),
                1 / (1 - 1j * share * lateral / inertia))
    x = w / (2 * np.pi) / layer[8]  # Y. Miki, J. Acoust. Soc. Jpn. (E) 11 (1990) 19 (from memory)
    impedance = rho * c * (1 + 0.070 * x**-0.632 - 0.107j * x**-0.632)
    k = w / c * (1 + 0.109 * x**-0.618 - 0.160j * x**-0.618)
    return impedance * k, k**2, 1.0


def tau(layers, sine2, f, air):
    rho, c, lateral, gap_loss = air
    w = 2 * np.pi * f
    kx = w / c * np.sqrt(sine2)
    za = rho * c / np.sqrt(1 - sine2)
    rows, right = [], []
    size = 3  # unknowns: reflected; then the state at each face; pressure, za v of the first face
    here = ("fluid", 1)  # state (p, za v) or ("solid", column) (ux, uz, szz, sxz) scaled
    scale = np.array([1 / (1j * w * za), 1 / (1j * w * za), 1.0, 1.0])

    def row(entries, value=0.0):
        rows.append(entries)
        right.append(value)

    row({1: 1, 0: -1}, 1.0)
    row({2: 1, 0: 1}, 1.0)
    shares = [closed(layers, i, rho, c) for i, one in enumerate(layers) if one[0] in (GAP, POROUS)]
    for part, layer, mass in split(layers):
        if part == "solid":
            if here[0] == "fluid":  # the motion along the face is new
                column = size
                size += 4
                row({column + 1: 1, here[1] + 1: -1})
                row({column + 2: 1, here[1]: 1})
                row({column + 3: 1})
                here = ("solid", column)
            matrix = elastic(layer, kx, w) * scale[None, :] / scale[:, None]
            for i in range(4):
                row({size + i: 1, **{here[1] + j: -matrix[i, j] for j in range(4)}})
            here = ("solid", size)
            size += 4
            continue
        if here[0] == "solid":
            row({size: 1, here[1] + 2: 1})
            row({size + 1: 1, here[1] + 1: -1})
            row({here[1] + 3: 1})
            here = ("fluid", size)
            size += 2
        if part == "soft" and layer[0] != SHEET:
            inertia, k2, lighter = fluid_of(layer, w, lateral, gap_loss, shares.pop(0),
                                            rho, c)
            kz = np.sqrt(k2 - kx**2 * lighter)
            z, turn = inertia / kz / za, kz * layer[1]
            row({size: np.cos(turn), size + 1: 1j * z * np.sin(turn), here[1]: -1})
            row({size: 1j * np.sin(turn) / z, size + 1: np.cos(turn), here[1] + 1: -1})
        else:
            if part == "panel":
                step = (panel_force(layer, kx, w) - w**2 * mass) / (1j * w)
            else:
                m = 1j * w * layer[1] * layer[2]
                step = m if np.isinf(layer[9]) else 1 / (1 / m + 1 / layer[9])
            row({size: 1, here[1]: -1, here[1] + 1: step / za})
            row({size + 1: 1, here[1] + 1: -1})
        here = ("fluid", size)
        size += 2
    if here[0] == "solid":
        row({size: 1, here[1] + 2: 1})
        row({size + 1: 1, here[1] + 1: -1})
        row({here[1] + 3: 1})
        here = ("fluid", size)
        size += 2
    row({here[1]: 1, here[1] + 1: -1})  # p = za v inside
    matrix = np.zeros((size, size), complex)
    for i, entries in enumerate(rows):
        for column, value in entries.items():
            matrix[i, column] += value
    return abs(solve(matrix, np.array(right, complex))[here[1]]) ** 2


def solve(matrix, right):
    """LU with two steps of refinement on residuals in extended precision: tau falls to 1e-20."""
    answer = np.linalg.solve(matrix, right).astype(np.clongdouble)
    for _ in range(2):
        residual = right - (matrix.astype(np.clongdouble) * answer).sum(axis=1)
        answer += np.linalg.solve(matrix, residual.astype(complex))
    return answer


def ask(program, builds):
    lines = []
    for layers, waves in builds:
        cells = [len(layers)] + [v for layer in layers for v in layer]
        cells += [len(waves)] + [v for wave in waves for v in wave]
        lines.append(" ".join(repr(float(v)) if isinstance(v, float) else str(v) for v in cells))
    answer = subprocess.run([program], input="\n".join(lines) + "\n", capture_output=True,
                            text=True, check=True).stdout.splitlines()
    numbers = [[float(v) for v in line.split()] for line in answer]
    return numbers[0], numbers[1:]


def worst_errors(program, rng, make, count):
    """Of the engine's way against this one, and of its linear system against its own way."""
    builds = []
    for _ in range(count):
        waves = [(float(rng.uniform(0, 0.999)), float(10 ** rng.uniform(1.6, 3.8)))
                 for _ in range(N_WAVE)]
        layers = [tuple(float(v) if i else int(v) for i, v in enumerate(layer))
                  for layer in make(rng)]
        builds.append((layers, waves))
    air, answers = ask(program, builds)
    if len(answers) != count:
        sys.exit(f"{len(answers)} answers to {count} build-ups")
    outside = inside = 0.0
    for (layers, waves), answer in zip(builds, answers):
        for (sine2, f), got, other in zip(waves, answer[0::2], answer[1::2], strict=True):
            outside = max(outside, abs(got / tau(layers, sine2, f, air) - 1))
            inside = max(inside, abs(other / got - 1))
    return outside, inside


def main():
    rng = np.random.default_rng(20)
    bad = False
    for name, make, count in (("plates and gaps", plates_and_gaps, 100),
                              ("laminated panels and gaps", laminates_and_gaps, 100),
                              ("panels, gaps, fibres and cloth", shaded, 100),
                              ("any order, elastic layers", any_order, 100)):
        outside, inside = worst_errors(sys.argv[1], rng, make, count)
        print(f"{count} build-ups of {name}, {N_WAVE} waves each: worst relative error "
              f"{outside:.2e}, of the linear system against the matrices {inside:.2e}")
        bad |= not (outside < 1e-8 and inside < 1e-8)
    sys.exit(bad)


if __name__ == "__main__":
    main()
