/* Bending stiffness of a panel of one or more plates glued by viscoelastic interlayers.
 *
 * One plate: Kirchhoff, D = E h^3 / (12 (1 - nu^2)). Several: the plates share their deflection w
 * and each stretches along its own mid-plane; the interlayers only shear. For w ~ e^(-j kx x) with
 * mid-plane displacements u_i = -j kx w a_i the energy per area is
 *   |kx w|^2/2 * { kx^2 sum D_i + sum K_i kx^2 a_i^2 + sum s_j (a_(j+1) - a_j + d_j)^2 },
 * K = E h/(1 - nu^2), s = G/h of the interlayer, d the distance of the mid-planes. Its minimum over
 * a gives D(kx) = sum D_i + (1/kx^2) sum s_j d_j (a_(j+1) - a_j + d_j). For two plates this is the
 * formula of Ross, Ungar and Kerwin (1959), D_1 + D_2 + d^2 K1 K2/(K1 + K2) * X/(1 + X) with
 * X = s/kx^2 (1/K1 + 1/K2). Moduli are complex, E (1 + j eta) and G (1 + j beta). Because kx is
 * the trace of the incident wave no free bending wave has to be searched for.
 *
 * Total loss of a plate: internal + m/(485 sqrt f), EN 12354-1 Annex C (from memory). Limits: thin
 * plates (no shear or rotatory inertia), interlayers thin and soft against the plates. */
#include "acoustics/glazing/stack.h"

enum { MAX_PLATE = (GRADIN_MAX_LAYER + 1) / 2 };

static double complex plate_modulus_pa(const gradin_layer *plate, double mass_kgm2, double f_hz) {
    double loss = plate->loss + mass_kgm2 / (485.0 * sqrt(f_hz));
    return plate->young_pa * (1.0 + I * loss) / (1.0 - plate->poisson * plate->poisson);
}

/* Stretch of the mid-planes a[n] at the energy's minimum: a tridiagonal system, solved by
 * elimination; diagonal[i] a_i - s_(i-1) a_(i-1) - s_i a_(i+1) = s_i d_i - s_(i-1) d_(i-1). */
static void solve_stretch(int n, double complex *diagonal, const double complex *shear,
                          double complex *a) {
    for (int i = 1; i < n; i++) {
        double complex factor = shear[i - 1] / diagonal[i - 1];
        diagonal[i] -= factor * shear[i - 1];
        a[i] += factor * a[i - 1];
    }
    for (int i = n - 1; i >= 0; i--) {
        if (i + 1 < n) a[i] += shear[i] * a[i + 1];
        a[i] /= diagonal[i];
    }
}

double complex gradin_panel_stiffness_nm(const gradin_part *panel, double kx_1m, double f_hz) {
    double complex stiffness = 0.0, diagonal[MAX_PLATE], shear[MAX_PLATE], a[MAX_PLATE];
    double distance_m[MAX_PLATE];
    int n = (panel->n_layer + 1) / 2;
    for (int i = 0; i < n; i++) {
        const gradin_layer *plate = &panel->layer[2 * i];
        double h = plate->thickness_m;
        double complex modulus_pa = plate_modulus_pa(plate, panel->mass_kgm2, f_hz);
        stiffness += modulus_pa * h * h * h / 12.0;
        diagonal[i] = modulus_pa * h * kx_1m * kx_1m;
        a[i] = 0.0;
    }
    if (n == 1 || kx_1m == 0.0) return stiffness;
    for (int j = 0; j + 1 < n; j++) {
        const gradin_layer *glue = &panel->layer[2 * j + 1];
        shear[j] = glue->shear_pa * (1.0 + I * glue->loss) / glue->thickness_m;
        distance_m[j] = glue->thickness_m + 0.5 * (glue[-1].thickness_m + glue[1].thickness_m);
        diagonal[j] += shear[j];
        diagonal[j + 1] += shear[j];
        a[j] += shear[j] * distance_m[j];
        a[j + 1] -= shear[j] * distance_m[j];
    }
    solve_stretch(n, diagonal, shear, a);
    double complex joined = 0.0;
    for (int j = 0; j + 1 < n; j++)
        joined += shear[j] * distance_m[j] * (a[j + 1] - a[j] + distance_m[j]);
    return stiffness + joined / (kx_1m * kx_1m);
}
