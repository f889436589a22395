/* Plane-wave transmission by transfer matrices on (pressure, normal velocity), e^(+jwt).
 *
 * Method: J. F. Allard, N. Atalla, "Propagation of Sound in Porous Media", 2nd ed., Wiley 2009, ch.
 * 11 (from memory). All layers share the wavenumber kx = k sin theta of the air outside.
 *   (1) panel, sheet  [1, Z; 0, 1], of a panel Z = (stiffness - w2 m)/(j w)
 *   (2) fluid  [cos kz d, j (w rho/kz) sin kz d; j (kz/(w rho)) sin kz d, cos kz d]
 *   (3) tau = |2/(T11 + T12/Za + T21 Za + T22)|2, Za = rho c/cos theta; T (1, 1/Za) is worked out
 *   from the last part to the first
 *
 * Limits: endless flat layers; the same air on both sides. */
#include "acoustics/glazing/tmm.h"

typedef struct state {
    double complex p, v;
} state;

static double complex panel_impedance(const glazing_part *part, double kx, double w) {
    const glazing_panel *panel = &part->panel;
    return -I * (gradin_glazing_stiffness(panel, kx, w) - w * w * panel->mass_kgm2) / w +
           gradin_glazing_rim(&part->edges, kx);
}

/* The state before a fluid from that behind it. */
static state before_fluid(const glazing_fluid *fluid, double kx2, state behind) {
    double complex kz = gradin_either_root(fluid->k2_1m2 - kx2 * fluid->lighter);
    if (kz == 0.0) kz = 1e-9 * csqrt(fluid->k2_1m2); /* wave exactly along a layer without loss */
    double complex turn = cexp(I * kz * fluid->thickness_m), back = gradin_reciprocal(turn);
    double complex cosine = 0.5 * (turn + back), j_sine = 0.5 * (turn - back);
    double complex z = fluid->inertia_pasm2 * gradin_reciprocal(kz);
    return (state){cosine * behind.p + z * j_sine * behind.v,
                   gradin_reciprocal(z) * j_sine * behind.p + cosine * behind.v};
}

/* The product of all matrices on the transmitted wave, from the last to the first. */
static double tau_of_chain(const glazing_stack *tuned, glazing_span span, glazing_wave wave) {
    double w = 2.0 * GRADIN_PI * tuned->f_hz, kx = wave.kx_radm, z_air = wave.z_air_pasm;
    state s = {1.0, 1.0 / z_air};
    for (int i = span.end - 1; i >= span.first; i--) {
        const glazing_part *part = &tuned->part[i];
        if (part->kind == GLAZING_FLUID)
            s = before_fluid(&part->fluid, gradin_glazing_along(&part->fluid, kx, w, z_air), s);
        else
            s.p += s.v *
                   (part->kind == GLAZING_PANEL ? panel_impedance(part, kx, w) : part->series_pasm);
    }
    double complex sum = s.p + z_air * s.v; /* twice the incident pressure */
    double real = creal(sum), imaginary = cimag(sum);
    return fmin(4.0 / (real * real + imaginary * imaginary),
                1.0); /* (3); above 1 by rounding only */
}

double gradin_glazing_tau_tuned(const glazing_stack *tuned, glazing_span span, glazing_wave wave) {
    return tuned->is_chain || tuned->n_part == 0 ? tau_of_chain(tuned, span, wave)
                                                 : gradin_glazing_tau_layered(tuned, wave);
}

double gradin_glazing_tau(const glazing_stack *stack, const glazing_method *method, double sine2,
                          double f_hz) {
    glazing_stack tuned;
    gradin_glazing_tune(stack, method, f_hz, &tuned);
    return gradin_glazing_tau_tuned(&tuned, gradin_glazing_all(&tuned),
                                    gradin_glazing_endless(f_hz, sine2));
}
