/* Energy sums of levels: all of them, A-weighted, three thirds to an octave. Levels dB re any one
 * reference; -INFINITY is silence. */
#include "gradin/acoustics.h"

double gradin_level_sum_db(const double *level_db, int n) {
    double sum = 0.0;
    for (int i = 0; i < n; i++) sum += pow(10.0, level_db[i] / 10.0);
    return 10.0 * log10(sum);
}

double gradin_level_a_db(const double *band_db) {
    double weighted_db[GRADIN_N_BAND];
    for (int k = 0; k < GRADIN_N_BAND; k++)
        weighted_db[k] = band_db[k] + gradin_a_weight_db(gradin_band_mid_hz(k));
    return gradin_level_sum_db(weighted_db, GRADIN_N_BAND);
}

void gradin_octaves_db(const double *band_db, double *octave_db) {
    for (int k = 0; k < GRADIN_N_OCTAVE; k++)
        octave_db[k] = gradin_level_sum_db(band_db + 3 * k, 3);
}
