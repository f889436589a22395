/* Adjustments of aircraft levels.
 *
 * Lateral attenuation: ECAC Doc 29, 4th edition, volume 2, 4.5.4: (1) Lambda(beta, l) = Gamma(l)
 * Lambda(beta), over soft ground (numbers our own). It acts alike in all bands and moments of a
 * straight piece of track, and never on a source that stays in its place. Impedance adjustment: Doc
 * 29, volume 2, 4.2.1 and Appendix D, from memory: (2) rho c of the day's air against the 409.81 N
 * s/m3 of its tables. */
#include "gradin/acoustics/event.h"

static const double level_ground_deg = 50.0, far_m = 914.0;

double gradin_lateral_attenuation_db(double lateral_m, double elevation_deg) {
    double gamma = lateral_m > far_m ? 1.0 : 1.089 * (1.0 - exp(-0.00274 * lateral_m));
    double lambda = 0.0;
    if (elevation_deg < 0.0)
        lambda = 10.857;
    else if (elevation_deg <= level_ground_deg)
        lambda = 1.137 - 0.0229 * elevation_deg + 9.72 * exp(-0.142 * elevation_deg);
    return fmax(gamma * lambda, 0.0); /* (1) */
}

double gradin_impedance_db(double temperature_c, double pressure_kpa) {
    double delta = pressure_kpa / 101.325, theta = (temperature_c + 273.15) / 288.15;
    return 10.0 * log10(416.86 * delta / sqrt(theta) / 409.81); /* (2) */
}
