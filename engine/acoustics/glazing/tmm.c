/* Plane-wave transmission by transfer matrices on (pressure, normal velocity), e^(+jwt).
 *
 * Method: J. F. Allard, N. Atalla, "Propagation of Sound in Porous Media", 2nd ed., Wiley 2009, ch.
 * 11 (from memory). All layers share the wavenumber kx = k sin theta of the air outside.
 *   panel  [1, Z; 0, 1], Z = (D (1 + j eta_edge) kx4 - w2 m)/(j w)
 *   gap    [cos kz d, j (w rho/kz) sin kz d; j (kz/(w rho)) sin kz d, cos kz d]
 *   tau = |2/(T11 + T12/Za + T21 Za + T22)|2, Za = rho c/cos theta
 * Loss at the edges of a mounted pane: eta_edge = m/(485 sqrt f), EN 12354-1 Annex C (from memory).
 * Gap: kz2 = (w/c)2 (1 - j loss) - kx2/(1 - j r/(w rho)) with a flow resistivity r along the panes
 * only. An endless gap carries waves along the panes that a pane-sized one loses at its edges, and
 * without r the oblique mass-air-mass resonances lower R far below anything measured; at normal
 * incidence r has no effect.
 * Limits: endless flat layers; the same air on both sides. */
#include "acoustics/glazing/tmm.h"

enum { COINCIDENCE_STEPS = 8 };

typedef struct matrix {
    double complex a, b, c, d; /* [a, b; c, d] */
} matrix;

static double complex panel_impedance(const glazing_panel *panel, double kx, double f_hz) {
    double w = 2.0 * GRADIN_PI * f_hz, kx2 = kx * kx;
    double edge_loss = panel->mass_kgm2 / (485.0 * sqrt(f_hz));
    double complex stiffness = gradin_glazing_stiffness(panel, kx) * (1.0 + I * edge_loss);
    return -I * (stiffness * (kx2 * kx2) - w * w * panel->mass_kgm2) / w;
}

static double complex reciprocal(double complex z) {
    return conj(z) / (creal(z) * creal(z) + cimag(z) * cimag(z)); /* faster than C's own division */
}

static matrix gap_matrix(const glazing_gap *gap, const glazing_method *method, double kx,
                         double f_hz) {
    double w = 2.0 * GRADIN_PI * f_hz, k = w / gap->speed_ms, inertia = w * gap->density_kgm3;
    double complex lighter = reciprocal(1.0 - I * method->lateral_pasm2 / inertia);
    double complex kz = csqrt(k * k * (1.0 - I * method->gap_loss) - kx * kx * lighter);
    if (kz == 0.0) kz = 1e-9 * k; /* wave exactly along a gap without loss */
    double complex turn = cexp(I * kz * gap->thickness_m), back = reciprocal(turn);
    double complex cosine = 0.5 * (turn + back), j_sine = 0.5 * (turn - back);
    return (matrix){cosine, inertia * reciprocal(kz) * j_sine, kz / inertia * j_sine, cosine};
}

static matrix times_panel(matrix m, double complex z) {
    return (matrix){m.a, m.a * z + m.b, m.c, m.c * z + m.d};
}

static matrix times(matrix m, matrix n) {
    return (matrix){m.a * n.a + m.b * n.c, m.a * n.b + m.b * n.d, m.c * n.a + m.d * n.c,
                    m.c * n.b + m.d * n.d};
}

double gradin_glazing_tau(const glazing_stack *stack, const glazing_method *method, double sine2,
                          double f_hz) {
    double kx = 2.0 * GRADIN_PI * f_hz / GRADIN_AIR_SPEED_MS * sqrt(sine2);
    double z_air = GRADIN_AIR_DENSITY_KGM3 * GRADIN_AIR_SPEED_MS / sqrt(1.0 - sine2);
    matrix m = {1.0, 0.0, 0.0, 1.0};
    for (int i = 0; i < stack->n_panel; i++) {
        if (i) m = times(m, gap_matrix(&stack->gap[i - 1], method, kx, f_hz));
        m = times_panel(m, panel_impedance(&stack->panel[i], kx, f_hz));
    }
    double complex sum = m.a + m.b / z_air + m.c * z_air + m.d;
    double real = creal(sum), imaginary = cimag(sum);
    return fmin(4.0 / (real * real + imaginary * imaginary), 1.0); /* above 1 by rounding only */
}

double gradin_glazing_coincidence(const glazing_panel *panel, double f_hz) {
    double w = 2.0 * GRADIN_PI * f_hz, k = w / GRADIN_AIR_SPEED_MS, kx = k;
    for (int step = 0; step < COINCIDENCE_STEPS; step++) { /* halves the error: D falls by kx^-2 */
        double stiffness = creal(gradin_glazing_stiffness(panel, kx));
        if (stiffness <= 0.0) return INFINITY;
        kx = sqrt(w * sqrt(panel->mass_kgm2 / stiffness));
    }
    return (kx / k) * (kx / k);
}
