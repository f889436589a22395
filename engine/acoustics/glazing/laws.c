/* Closed forms for plates and limp panels.
 *
 * (1) Critical frequency fc = (c2/2 pi) sqrt(m/D), D = E h3/(12 (1 - nu2)); (2) mass-air-mass
 * resonance f0 = (1/2 pi) sqrt(rho c2 (1/m1 + 1/m2)/d); limp panel with a = pi f m/(rho c):
 * (3) R0 = 10 lg(1 + a2), and with incidence up to theta_L
 * (4) tau = ln[(1 + a2)/(1 + a2 cos2 theta_L)]/(a2 sin2 theta_L). F. Fahy, P. Gardonio, "Sound and
 * Structural Vibration", 2nd ed., Academic Press 2007, ch. 5 (from memory); the last is the exact
 * integral of 1/(1 + a2 cos2 theta). Arguments outside the physical range give NAN. */
#include "gradin/acoustics.h"

double gradin_critical_hz(double thickness_m, double density_kgm3, double young_pa, double poisson,
                          double speed_ms) {
    double stiffness_nm =
        young_pa * thickness_m * thickness_m * thickness_m / (12.0 * (1.0 - poisson * poisson));
    return speed_ms * speed_ms / (2.0 * GRADIN_PI) *
           sqrt(density_kgm3 * thickness_m / stiffness_nm); /* (1) */
}

double gradin_mass_air_mass_hz(double m1_kgm2, double m2_kgm2, double gap_m, double rho_kgm3,
                               double speed_ms) {
    return sqrt(rho_kgm3 * speed_ms * speed_ms * (1.0 / m1_kgm2 + 1.0 / m2_kgm2) / gap_m) /
           (2.0 * GRADIN_PI); /* (2) */
}

double gradin_mass_law_normal_db(double a) {
    return 10.0 / log(10.0) * log1p(a * a); /* (3) */
}

double gradin_mass_law_diffuse_db(double a, double limit_deg) {
    double limit_rad = gradin_rad(limit_deg), a2 = a * a;
    double sine2 = sin(limit_rad) * sin(limit_rad), cosine2 = cos(limit_rad) * cos(limit_rad);
    if (!(limit_deg > 0.0 && limit_deg <= 90.0)) return NAN;
    if (a == 0.0) return 0.0;
    /* (4), (1 + a2)/(1 + a2 cos2) = 1 + a2 sin2/(1 + a2 cos2) */
    return -10.0 * log10(log1p(a2 * sine2 / (1.0 + a2 * cosine2)) / (a2 * sine2));
}
