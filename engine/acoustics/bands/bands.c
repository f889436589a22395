/* Frequency bands, A-weighting and level sums.
 *
 * Mid-bands: IEC 61260-1:2014, 5.2 and 5.4, base ten: f_m = 1000 * 10^(3x/(10 b)) with b = 3 for
 * thirds and 1 for octaves. A-weighting: IEC 61672-1:2013 Annex E, eq. (E.6) (equation numbers from
 * memory), with the pole frequencies of E.4. */
#include "gradin/acoustics.h"

enum { BAND_OF_1_KHZ = 13, OCTAVE_OF_1_KHZ = 4, DECADE_STEPS = 10 };

double gradin_band_mid_hz(int band) {
    return 1000.0 * pow(10.0, (double)(band - BAND_OF_1_KHZ) / DECADE_STEPS);
}

int gradin_band_nominal_hz(int band) {
    static const int nominal_hz[GRADIN_N_BAND] = {50,   63,   80,   100,  125,  160,  200,
                                                  250,  315,  400,  500,  630,  800,  1000,
                                                  1250, 1600, 2000, 2500, 3150, 4000, 5000};
    return band >= 0 && band < GRADIN_N_BAND ? nominal_hz[band] : 0;
}

double gradin_octave_mid_hz(int octave) {
    return 1000.0 * pow(10.0, 3.0 * (octave - OCTAVE_OF_1_KHZ) / DECADE_STEPS);
}

int gradin_octave_nominal_hz(int octave) {
    static const int nominal_hz[GRADIN_N_OCTAVE] = {63, 125, 250, 500, 1000, 2000, 4000};
    return octave >= 0 && octave < GRADIN_N_OCTAVE ? nominal_hz[octave] : 0;
}

static double a_response(double f_hz) {
    const double f1 = 20.598997, f2 = 107.65265, f3 = 737.86223, f4 = 12194.217;
    double f = f_hz * f_hz;
    return f4 * f4 * f * f / ((f + f1 * f1) * sqrt((f + f2 * f2) * (f + f3 * f3)) * (f + f4 * f4));
}

double gradin_a_weight_db(double f_hz) {
    return 20.0 * log10(a_response(f_hz) / a_response(1000.0));
}

double gradin_level_sum_db(const double *level_db, int n) {
    double sum = 0.0;
    for (int i = 0; i < n; i++) sum += pow(10.0, level_db[i] / 10.0);
    return 10.0 * log10(sum);
}

double gradin_level_a_db(const double *band_db) {
    double weighted_db[GRADIN_N_BAND];
    for (int b = 0; b < GRADIN_N_BAND; b++)
        weighted_db[b] = band_db[b] + gradin_a_weight_db(gradin_band_mid_hz(b));
    return gradin_level_sum_db(weighted_db, GRADIN_N_BAND);
}

void gradin_octaves_db(const double *band_db, double *octave_db) {
    for (int o = 0; o < GRADIN_N_OCTAVE; o++)
        octave_db[o] = gradin_level_sum_db(&band_db[3 * o], 3);
}
