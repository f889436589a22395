/* Closed forms for plates and pairs of plates.
 *
 * Critical frequency fc = c^2/(2 pi) sqrt(m/D); mass-air-mass resonance at normal incidence
 * f0 = 1/(2 pi) sqrt(rho c^2/d (1/m1 + 1/m2)); limp panel with a = pi f m/(rho c):
 * R0 = 10 lg(1 + a^2) at normal incidence, and from the integral of 1/(1 + a^2 cos^2 theta)
 * with weight sin 2 theta up to the limit,
 * tau = ln[(1 + a^2)/(1 + a^2 cos^2 limit)]/(a^2 sin^2 limit). Cremer (1942); Fahy and Gardonio,
 * "Sound and Structural Vibration", 2nd ed. 2007, ch. 5. */
#include "gradin/acoustics.h"

double gradin_critical_hz(double thickness_m, double density_kgm3, double young_pa, double poisson,
                          double speed_ms) {
    double stiffness_nm =
        young_pa * thickness_m * thickness_m * thickness_m / (12.0 * (1.0 - poisson * poisson));
    return speed_ms * speed_ms / (2.0 * GRADIN_PI) *
           sqrt(density_kgm3 * thickness_m / stiffness_nm);
}

double gradin_mass_air_mass_hz(double m1_kgm2, double m2_kgm2, double gap_m, double rho_kgm3,
                               double speed_ms) {
    double stiffness = rho_kgm3 * speed_ms * speed_ms / gap_m;
    return sqrt(stiffness * (1.0 / m1_kgm2 + 1.0 / m2_kgm2)) / (2.0 * GRADIN_PI);
}

double gradin_mass_law_normal_db(double a) {
    return 10.0 * log10(1.0 + a * a);
}

double gradin_mass_law_diffuse_db(double a, double limit_deg) {
    double s = sin(gradin_rad(limit_deg)), x = a * a * s * s, low = 1.0 + a * a * (1.0 - s * s);
    if (!(x > 0.0)) return gradin_mass_law_normal_db(a);
    return -10.0 * log10(log1p(x / low) / x);
}
