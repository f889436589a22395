/* Absorption of sound by air, and its speed.
 *
 * Method: ISO 9613-1:1993, equations (3) to (5) and Annex B. Levels hold for pure tones at the
 * exact mid-bands; a band with a steep spectrum loses somewhat less (its clause 8). Limits by the
 * standard: 10 % accuracy for 0.05 % to 5 % molar water, 253 K to 323 K, below 200 kPa. */
#include "gradin/acoustics.h"

static const double T0_K = 293.15, TRIPLE_K = 273.16, P0_KPA = 101.325, ZERO_C_K = 273.15;

/* Molar concentration of water vapour, % (equations B.1 to B.3). */
static double molar_water_pct(double t_k, double humidity_pct, double pressure_kpa) {
    double saturation = pow(10.0, -6.8346 * pow(TRIPLE_K / t_k, 1.261) + 4.6151); /* (B.2), (B.3) */
    return humidity_pct * saturation * P0_KPA / pressure_kpa;                     /* (B.1) */
}

/* Relaxation frequency of oxygen (equation 3). */
static double oxygen_hz(double h_pct, double pressure_kpa) {
    return pressure_kpa / P0_KPA *
           (24.0 + 4.04e4 * h_pct * (0.02 + h_pct) / (0.391 + h_pct)); /* (3) */
}

/* Relaxation frequency of nitrogen (equation 4). */
static double nitrogen_hz(double h_pct, double t_k, double pressure_kpa) {
    double ratio = t_k / T0_K;
    return pressure_kpa / P0_KPA / sqrt(ratio) *
           (9.0 + 280.0 * h_pct * exp(-4.170 * (1.0 / cbrt(ratio) - 1.0))); /* (4) */
}

double gradin_air_absorption_dbm(double f_hz, double temperature_c, double humidity_pct,
                                 double pressure_kpa) {
    double t_k = temperature_c + ZERO_C_K, ratio = t_k / T0_K, f2 = f_hz * f_hz;
    double h_pct = molar_water_pct(t_k, humidity_pct, pressure_kpa);
    double o_hz = oxygen_hz(h_pct, pressure_kpa), n_hz = nitrogen_hz(h_pct, t_k, pressure_kpa);
    double classical = 1.84e-11 * P0_KPA / pressure_kpa * sqrt(ratio);
    double oxygen = 0.01275 * exp(-2239.1 / t_k) / (o_hz + f2 / o_hz);
    double nitrogen = 0.1068 * exp(-3352.0 / t_k) / (n_hz + f2 / n_hz);
    return 8.686 * f2 * (classical + pow(ratio, -2.5) * (oxygen + nitrogen)); /* (5) */
}

/* Ideal gas, 343.2 m/s at 20 degC (ISO 9613-1, Annex A). */
double gradin_air_speed_ms(double temperature_c) {
    return 343.2 * sqrt((temperature_c + ZERO_C_K) / T0_K);
}
