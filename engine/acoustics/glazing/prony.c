/* Shear modulus of a viscoelastic interlayer by frequency and temperature.
 *
 * Generalised Maxwell chain (Prony series): (1) G = G0 [1 - sum g_i + sum g_i jwt_i/(1 + jwt_i)]
 * with t_i(T) = a(T) t_i and (2) log10 a = -C1 (T - Tr)/(C2 + T - Tr): J. D. Ferry, "Viscoelastic
 * Properties of Polymers", 3rd ed., Wiley 1980, ch. 3 and 11 (from memory); M. L. Williams, R. F.
 * Landel, J. D. Ferry, J. Am. Chem. Soc. 77 (1955) 3701-3707. Limits: small strain; one shift for
 * all times; far below the glass transition the shift is an extrapolation (GRADIN_GLAZING_LEAST_C).
 */
#include "acoustics/glazing/stack.h"

double complex gradin_relaxation_shear_pa(const gradin_relaxation *r, double f_hz,
                                          double temperature_c) {
    double above = temperature_c - r->reference_c;
    double w =
        2.0 * GRADIN_PI * f_hz * pow(10.0, -r->wlf_c1 * above / (r->wlf_c2_k + above)); /* (2) */
    double complex left = 1.0;
    for (int i = 0; i < r->n_term; i++) /* g jx/(1 + jx) - g = -g/(1 + jx) */
        left -= r->share[i] / (1.0 + I * w * r->time_s[i]);
    return r->instant_pa * left; /* (1) */
}
