"""Glazing transmission against an independent NumPy evaluation.

usage: glazing_oracle.py PATH_OF_glazing_tau

The engine multiplies 2x2 transfer matrices; here all waves and panel velocities of a build-up are
the unknowns of one linear system (pressure balance of each panel, equal velocities on its faces),
and a laminate's stiffness is the stationary value of its strain energy, found by a dense solve.
"""
import subprocess
import sys

try:
    import numpy as np
except ImportError:
    print("SKIPPED: NumPy (python3-numpy) is not installed")
    sys.exit(77)

PLATE, INTERLAYER, GAP = 0, 1, 2
N_GAPS_ONLY, N_LAMINATED, N_WAVE = 100, 60, 12
TOLERANCE = 1e-10  # 1e-13 reached


def plate(rng):
    return (PLATE, rng.uniform(0.002, 0.02), rng.uniform(900, 3000), 10 ** rng.uniform(9, 11),
            rng.uniform(0.1, 0.4), 10 ** rng.uniform(-3, -0.5), 0.0, 0.0)


def interlayer(rng):
    return (INTERLAYER, rng.uniform(0.0003, 0.003), rng.uniform(900, 1200), 0.0, 0.0,
            rng.uniform(0.05, 0.8), 10 ** rng.uniform(5.5, 9), 0.0)


def gap(rng):
    return (GAP, 10 ** rng.uniform(-2.3, -0.7), rng.uniform(0.8, 4.0), 0.0, 0.0, 0.0, 0.0,
            rng.uniform(200, 400))


def random_layers(rng, laminated):
    layers = [plate(rng)]
    for _ in range(rng.integers(laminated, 4)):
        glue = laminated and rng.random() < 0.6
        layers += [interlayer(rng) if glue else gap(rng), plate(rng)]
    if laminated and all(kind != INTERLAYER for kind, *_ in layers):
        layers += [interlayer(rng), plate(rng)]
    return layers


def split(layers):
    """Panels as lists of layers, and the gaps between them."""
    panels, gaps = [[]], []
    for layer in layers:
        if layer[0] == GAP:
            gaps.append(layer)
            panels.append([])
        else:
            panels[-1].append(layer)
    return panels, gaps


def bending_force(panel, kx):
    """Pressure on the panel per deflection w exp(-j kx x): stationary strain energy over w, with the
    plies' own stretch u_i (as -j u_i) eliminated from the dense symmetric matrix [w, u_1 .. u_n]."""
    plies = panel[0::2]
    energy = np.zeros((len(plies) + 1, len(plies) + 1), complex)
    for i, (_, h, _, young, nu, loss, _, _) in enumerate(plies):
        plane = young * (1 + 1j * loss) / (1 - nu**2)
        energy[0, 0] += plane * h**3 / 12 * kx**4
        energy[i + 1, i + 1] += plane * h * kx**2
    for j, (_, h, _, _, _, loss, shear, _) in enumerate(panel[1::2]):
        strain = np.zeros(len(plies) + 1)  # slip u_(j+1) - u_j + d kx w
        strain[0] = kx * (h + (plies[j][1] + plies[j + 1][1]) / 2)
        strain[j + 1], strain[j + 2] = -1, 1
        energy += shear * (1 + 1j * loss) / h * np.outer(strain, strain)
    if len(plies) == 1 or kx == 0:
        return energy[0, 0]
    return energy[0, 0] - energy[0, 1:] @ np.linalg.solve(energy[1:, 1:], energy[1:, 0])


def solve(matrix, right):
    """LU with two steps of refinement on residuals in extended precision: tau falls to 1e-20."""
    answer = np.linalg.solve(matrix, right).astype(np.clongdouble)
    for _ in range(2):
        residual = right - (matrix.astype(np.clongdouble) * answer).sum(axis=1)
        answer += np.linalg.solve(matrix, residual.astype(complex))
    return answer


def tau(layers, sine2, f, air):
    rho, c, lateral, gap_loss = air
    w = 2 * np.pi * f
    kx = w / c * np.sqrt(sine2)
    za = rho * c / np.sqrt(1 - sine2)
    panels, gaps = split(layers)
    # fields: outside (incident 1, reflected r), every gap (right-, left-going), inside (t)
    n = 2 * len(gaps) + 2 + len(panels)  # r, gap waves, t, panel velocities
    matrix, right = np.zeros((n, n), complex), np.zeros(n, complex)
    inside, velocity = n - len(panels) - 1, n - len(panels)

    def add_field(row_p, row_v, side, face, sign_p):
        """Adds sign_p * pressure to row_p and za * particle velocity to row_v. side 0: outside."""
        if side == 0:
            matrix[row_p, 0] += sign_p
            right[row_p] -= sign_p
            matrix[row_v, 0] -= 1
            right[row_v] -= 1
        elif side == len(panels):
            matrix[row_p, inside] += sign_p
            matrix[row_v, inside] += 1
        else:
            _, d, gas, _, _, _, _, speed = gaps[side - 1]
            kz = np.sqrt((w / speed) ** 2 * (1 - 1j * gap_loss)
                         - kx**2 / (1 - 1j * lateral / (w * gas)))
            z = w * gas / kz
            there = 1.0 if face == "left" else np.exp(-1j * kz * d)
            back = np.exp(-1j * kz * d) if face == "left" else 1.0
            column = 2 * side - 1
            matrix[row_p, column] += sign_p * there
            matrix[row_p, column + 1] += sign_p * back
            matrix[row_v, column] += there / z * za
            matrix[row_v, column + 1] -= back / z * za

    for i, panel in enumerate(panels):
        mass = sum(layer[1] * layer[2] for layer in panel)
        edge = 1 + 1j * mass / (485 * np.sqrt(f))
        z = (bending_force(panel, kx) * edge - w**2 * mass) / (1j * w)
        balance, left, back = 3 * i, 3 * i + 1, 3 * i + 2
        add_field(balance, left, i, "right", 1.0)       # the field before the panel, at its end
        add_field(balance, back, i + 1, "left", -1.0)   # the field behind it, at its beginning
        matrix[balance, velocity + i] -= z / za
        matrix[left, velocity + i] -= 1
        matrix[back, velocity + i] -= 1
    return abs(solve(matrix, right)[inside]) ** 2


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


def worst_error(program, rng, laminated, count):
    builds = []
    for _ in range(count):
        waves = [(float(rng.uniform(0, 0.999)), float(10 ** rng.uniform(1.6, 3.8)))
                 for _ in range(N_WAVE)]
        layers = [tuple(float(v) if i else v for i, v in enumerate(layer))
                  for layer in random_layers(rng, laminated)]
        builds.append((layers, waves))
    air, answers = ask(program, builds)
    if len(answers) != count:
        sys.exit(f"{len(answers)} answers to {count} build-ups")
    worst = 0.0
    for (layers, waves), answer in zip(builds, answers):
        for (sine2, f), got in zip(waves, answer, strict=True):
            worst = max(worst, abs(got / tau(layers, sine2, f, air) - 1))
    return worst


def main():
    rng = np.random.default_rng(20)
    bad = False
    for laminated, count in ((0, N_GAPS_ONLY), (1, N_LAMINATED)):
        worst = worst_error(sys.argv[1], rng, laminated, count)
        name = "laminated panels and gaps" if laminated else "plates and gaps"
        print(f"{count} build-ups of {name}, {N_WAVE} waves each: worst relative error {worst:.2e}")
        bad |= not worst < TOLERANCE
    sys.exit(bad)


if __name__ == "__main__":
    main()
