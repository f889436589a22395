/* Textbook formulas that the engine, which works more generally, is held against. The text cases
 * hold these against printed values in turn.
 *
 * Critical frequency of one thin plate fc = (c2/2 pi) sqrt(m/D), D = E h3/(12 (1 - nu2));
 * mass-air-mass resonance f0 = (1/2 pi) sqrt(rho c2 (1/m1 + 1/m2)/d); limp panel with
 * a = pi f m/(rho c): R0 = 10 lg(1 + a2), and with incidence up to theta_L
 * tau = ln[(1 + a2)/(1 + a2 cos2 theta_L)]/(a2 sin2 theta_L). F. Fahy, P. Gardonio, "Sound and
 * Structural Vibration", 2nd ed., Academic Press 2007, ch. 5 (from memory); the last is the exact
 * integral of 1/(1 + a2 cos2 theta). */
#ifndef SUPPORT_FORMULAS_H
#define SUPPORT_FORMULAS_H

#include "gradin/geometry.h"

static inline double formula_critical_hz(double thickness_m, double density_kgm3, double young_pa,
                                         double poisson, double speed_ms) {
    double stiffness_nm = young_pa * pow(thickness_m, 3.0) / (12.0 * (1.0 - poisson * poisson));
    return speed_ms * speed_ms / (2.0 * GRADIN_PI) *
           sqrt(density_kgm3 * thickness_m / stiffness_nm);
}

static inline double formula_mass_air_mass_hz(double m1_kgm2, double m2_kgm2, double gap_m,
                                              double rho_kgm3, double speed_ms) {
    return sqrt(rho_kgm3 * speed_ms * speed_ms * (1.0 / m1_kgm2 + 1.0 / m2_kgm2) / gap_m) /
           (2.0 * GRADIN_PI);
}

static inline double formula_mass_law_normal_db(double a) {
    return 10.0 / log(10.0) * log1p(a * a);
}

static inline double formula_mass_law_diffuse_db(double a, double limit_deg) {
    double limit_rad = gradin_rad(limit_deg), a2 = a * a;
    double sine2 = sin(limit_rad) * sin(limit_rad), cosine2 = cos(limit_rad) * cos(limit_rad);
    if (a == 0.0) return 0.0;
    /* (1 + a2)/(1 + a2 cos2) = 1 + a2 sin2/(1 + a2 cos2) */
    return -10.0 * log10(log1p(a2 * sine2 / (1.0 + a2 * cosine2)) / (a2 * sine2));
}

/* Free angle between two heads that stand even, half a seat to either side (derived). */
static inline double formula_window_deg(double seat_m, double head_m, double t_m) {
    return 2.0 * gradin_deg(atan2(fmax(seat_m - head_m, 0.0), 2.0 * t_m));
}

/* Chance that one person's crown does not reach the ray when eye and crown vary normally and
 * independently: Phi((C - crown)/sqrt(s1^2 + s2^2)) (derived). */
static inline double formula_clear_probability(double c_m, double crown_m, double sd_rear_m,
                                               double sd_front_m) {
    return 0.5 * erfc((crown_m - c_m) / (hypot(sd_rear_m, sd_front_m) * sqrt(2.0)));
}

static inline gradin_shape formula_sphere(gradin_vec3 centre_m, double radius_m) {
    return gradin_ellipsoid(centre_m, 0.0, radius_m, radius_m, radius_m);
}

#endif
