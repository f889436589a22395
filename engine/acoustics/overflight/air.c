/* Attenuation of sound by the atmosphere, ISO 9613-1:1993, clause 6.2, eqs (3) to (5), and Annex B
 * for the saturation pressure; pure tones at the exact mid-bands. Valid for -20..50 degC and
 * pressures below 200 kPa; accuracy 10 % for 0.05 % to 5 % of water vapour. */
#include "gradin/acoustics.h"

static const double reference_k = 293.15; /* T0 */
static const double triple_k = 273.16;    /* T01 */
static const double reference_kpa = 101.325;
static const double reference_ms = 343.2; /* speed of sound at T0, ISO 9613-1 Annex A */

typedef struct relaxation {
    double oxygen_hz, nitrogen_hz;
} relaxation;

static relaxation relaxation_of(double temperature_k, double humidity_pct, double pressure_kpa) {
    double pressure = pressure_kpa / reference_kpa, ratio = temperature_k / reference_k;
    /* eqs (B.2), (B.3) and (B.1): molar concentration of water vapour, per cent */
    double saturation = pow(10.0, -6.8346 * pow(triple_k / temperature_k, 1.261) + 4.6151);
    double h = humidity_pct * saturation / pressure;
    return (relaxation){
        .oxygen_hz = pressure * (24.0 + 4.04e4 * h * (0.02 + h) / (0.391 + h)), /* eq. (3) */
        .nitrogen_hz = pressure / sqrt(ratio) *                                 /* eq. (4) */
                       (9.0 + 280.0 * h * exp(-4.170 * (pow(ratio, -1.0 / 3.0) - 1.0)))};
}

double gradin_air_absorption_dbm(double f_hz, double temperature_c, double humidity_pct,
                                 double pressure_kpa) {
    double t = temperature_c + 273.15, ratio = t / reference_k, f = f_hz * f_hz;
    relaxation r = relaxation_of(t, humidity_pct, pressure_kpa);
    double classical = 1.84e-11 * reference_kpa / pressure_kpa * sqrt(ratio);
    double oxygen = 0.01275 * exp(-2239.1 / t) / (r.oxygen_hz + f / r.oxygen_hz);
    double nitrogen = 0.1068 * exp(-3352.0 / t) / (r.nitrogen_hz + f / r.nitrogen_hz);
    return 8.686 * f * (classical + pow(ratio, -2.5) * (oxygen + nitrogen)); /* eq. (5) */
}

double gradin_air_speed_ms(double temperature_c) {
    return reference_ms * sqrt((temperature_c + 273.15) / reference_k);
}
