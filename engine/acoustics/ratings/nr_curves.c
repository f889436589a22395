/* NR curves: octave level (1) a + b NR (ISO/R 1996:1971, octaves 31.5 Hz to 8 kHz). */
#include "gradin/acoustics.h"

enum { N_NR = 9 };

static const double NR_A_DB[N_NR] = {55.4, 35.5, 22.0, 12.0, 4.8, 0.0, -3.5, -6.1, -8.0};
static const double NR_B[N_NR] = {0.681, 0.790, 0.870, 0.930, 0.974, 1.000, 1.015, 1.025, 1.030};

double gradin_nr_level_db(double nr, int octave_31_to_8k) {
    if (octave_31_to_8k < 0 || octave_31_to_8k >= N_NR) return NAN;
    return NR_A_DB[octave_31_to_8k] + NR_B[octave_31_to_8k] * nr; /* (1) */
}
