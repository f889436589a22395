/* Fibres or open foam with a frame at rest, as a fluid.
 *
 * Y. Miki, "Acoustical properties of porous materials: modifications of Delany-Bazley models", J.
 * Acoust. Soc. Jpn. (E) 11 (1990) 19-24 (from memory), e^(+jwt), X = f/resistivity:
 *   (1) Zc = rho c (1 + 0.070 X^-0.632 - j 0.107 X^-0.632)
 *   (2) k = (w/c) (1 + 0.109 X^-0.618 - j 0.160 X^-0.618)
 * Limits: fitted for 0.01 < X < 1 m3/kg; below it stays a passive medium and loses accuracy. The
 * frame does not move: a cloth that sound carries along is a sheet. */
#include "acoustics/glazing/stack.h"

void gradin_porous_fluid(double resistivity_pasm2, double f_hz, glazing_fluid *fluid) {
    double x = f_hz / resistivity_pasm2, w = 2.0 * GRADIN_PI * f_hz;
    double impede = pow(x, -0.632), slow = pow(x, -0.618);
    double complex z_pasm = GRADIN_AIR_DENSITY_KGM3 * GRADIN_AIR_SPEED_MS *
                            (1.0 + 0.070 * impede - I * (0.107 * impede)); /* (1) */
    double complex k_1m =
        w / GRADIN_AIR_SPEED_MS * (1.0 + 0.109 * slow - I * (0.160 * slow)); /* (2) */
    fluid->inertia_pasm2 = z_pasm * k_1m;
    fluid->k2_1m2 = k_1m * k_1m;
}
