/* Transmission of a plane wave through a chain of panels and gaps by 2x2 transfer matrices.
 *
 * State (pressure, normal velocity), time e^(+j w t); Allard and Atalla, "Propagation of Sound in
 * Porous Media", 2nd ed. 2009, ch. 11:
 *   fluid [cos kz d, j (w rho/kz) sin kz d; j (kz/(w rho)) sin kz d, cos kz d],
 *   panel [1, Z; 0, 1], Z = (D kx^4 - w^2 m)/(j w),
 *   tau = |2/(T11 + T12/Za + T21 Za + T22)|^2, Za = rho c/cos theta.
 *
 * A gap is not an endless layer: waves along it lose energy at its edges, which an endless layer
 * lacks, and without that loss the oblique mass-air-mass resonances lower R far below anything
 * measured. The gas therefore gets a flow resistivity along the panes only, sigma, which makes its
 * density in that direction rho (1 - j sigma/(w rho)): kz^2 = k^2 - kx^2/(1 - j sigma/(w rho)).
 * sigma is one figure for all builds, chosen against EN 12758; at normal incidence it has no
 * effect. Not covered: the stiff path through the edge spacer and frame, so R of a double glazing
 * above about 1 kHz is an upper bound. */
#include "acoustics/glazing/stack.h"

static const double gap_resistivity = 200.0; /* Pa s/m2 */

typedef struct chain {
    double complex t11, t12, t21, t22;
} chain;

static void append_gap(chain *t, const gradin_layer *gap, double kx_1m, double omega) {
    double k = omega / gap->speed_ms, inertia = omega * gap->density_kgm3;
    double complex lateral = 1.0 - I * gap_resistivity / inertia;
    double complex kz = csqrt(k * k - kx_1m * kx_1m / lateral);
    double complex phase = kz * gap->thickness_m, c = ccos(phase), s = I * csin(phase);
    double complex m12 = inertia / kz * s, m21 = kz / inertia * s;
    *t = (chain){t->t11 * c + t->t12 * m21, t->t11 * m12 + t->t12 * c, t->t21 * c + t->t22 * m21,
                 t->t21 * m12 + t->t22 * c};
}

static void append_panel(chain *t, const gradin_part *panel, double kx_1m, double omega) {
    double f_hz = omega / (2.0 * GRADIN_PI), kx2 = kx_1m * kx_1m;
    double complex stiffness = gradin_panel_stiffness_nm(panel, kx_1m, f_hz);
    double complex z = (stiffness * (kx2 * kx2) - omega * omega * panel->mass_kgm2) / (I * omega);
    t->t12 += t->t11 * z;
    t->t22 += t->t21 * z;
}

double gradin_stack_tau(const gradin_stack *stack, double theta_rad, double f_hz) {
    double omega = 2.0 * GRADIN_PI * f_hz;
    double kx_1m = omega / GRADIN_AIR_SPEED_MS * sin(theta_rad);
    double za = GRADIN_AIR_DENSITY_KGM3 * GRADIN_AIR_SPEED_MS / cos(theta_rad);
    chain t = {1.0, 0.0, 0.0, 1.0};
    for (int i = 0; i < stack->n_part; i++) {
        if (stack->part[i].is_gap)
            append_gap(&t, stack->part[i].layer, kx_1m, omega);
        else
            append_panel(&t, &stack->part[i], kx_1m, omega);
    }
    double amplitude = 2.0 / cabs(t.t11 + t.t12 / za + t.t21 * za + t.t22);
    return fmin(amplitude * amplitude, 1.0);
}
