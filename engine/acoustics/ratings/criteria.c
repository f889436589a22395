/* Curves for noise in rooms.
 *
 * NR: octave level (1) a + b NR (ISO/R 1996:1971, octaves 31.5 Hz to 8 kHz).
 * NC: L. L. Beranek, "Revised criteria for noise in buildings", Noise Control 3 (1957), as tabled
 * for NC-15 to NC-70 in handbooks and octaves 63 Hz to 8 kHz; linear between tabled curves. The NC
 * of a spectrum is the highest curve that it touches (tangency). Limits: an octave outside the
 * curves' range gives NAN; NC outside 15 to 70 is held there. */
#include "gradin/acoustics.h"

enum { N_NR = 9, N_NC_OCTAVE = 8, N_NC = 12, NC_LOW = 15, NC_STEP = 5, NC_HIGH = 70 };

static const double NR_A_DB[N_NR] = {55.4, 35.5, 22.0, 12.0, 4.8, 0.0, -3.5, -6.1, -8.0};
static const double NR_B[N_NR] = {0.681, 0.790, 0.870, 0.930, 0.974, 1.000, 1.015, 1.025, 1.030};

static const double NC_DB[N_NC][N_NC_OCTAVE] = {
    {47, 36, 29, 22, 17, 14, 12, 11}, {51, 40, 33, 26, 22, 19, 17, 16},
    {54, 44, 37, 31, 27, 24, 22, 21}, {57, 48, 41, 35, 31, 29, 28, 27},
    {60, 52, 45, 40, 36, 34, 33, 32}, {64, 56, 50, 45, 41, 39, 38, 37},
    {67, 60, 54, 49, 46, 44, 43, 42}, {71, 64, 58, 54, 51, 49, 48, 47},
    {74, 67, 62, 58, 56, 54, 53, 52}, {77, 71, 67, 63, 61, 59, 58, 57},
    {80, 75, 71, 68, 66, 64, 63, 62}, {83, 79, 75, 72, 71, 70, 69, 68}};

double gradin_nr_level_db(double nr, int octave_31_to_8k) {
    if (octave_31_to_8k < 0 || octave_31_to_8k >= N_NR) return NAN;
    return NR_A_DB[octave_31_to_8k] + NR_B[octave_31_to_8k] * nr; /* (1) */
}

double gradin_nc_level_db(double nc, int octave) {
    if (octave < 0 || octave >= N_NC_OCTAVE || isnan(nc)) return NAN;
    double place = (fmax(fmin(nc, NC_HIGH), NC_LOW) - NC_LOW) / NC_STEP;
    int i = place < N_NC - 1 ? (int)place : N_NC - 2;
    return NC_DB[i][octave] + (place - i) * (NC_DB[i + 1][octave] - NC_DB[i][octave]);
}

/* The curve through one octave's level; the end curves' slopes go on outside the table. */
static double curve_through(double level_db, int octave) {
    int i = 0;
    while (i < N_NC - 2 && level_db >= NC_DB[i + 1][octave]) i++;
    double step_db = NC_DB[i + 1][octave] - NC_DB[i][octave];
    return NC_LOW + NC_STEP * (i + (level_db - NC_DB[i][octave]) / step_db);
}

double gradin_nc(const double *octave_db, int *octave) {
    double highest = curve_through(octave_db[0], 0);
    int at = 0;
    for (int k = 1; k < GRADIN_N_OCTAVE; k++) {
        double nc = curve_through(octave_db[k], k);
        if (!(nc > highest)) continue;
        highest = nc;
        at = k;
    }
    if (octave) *octave = at;
    return fmax(fmin(highest, NC_HIGH), NC_LOW);
}
