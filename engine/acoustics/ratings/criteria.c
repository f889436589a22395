/* Room noise criteria.
 *
 * NR: ISO R 1996:1971 (withdrawn), L = a + b N in octaves 31.5..8000 Hz. NC: Beranek's curves,
 * octaves 63..8000 Hz, as tabled in ANSI/ASA S12.2; between tabled curves linear in each band; the
 * rating is the highest curve touched (tangency). */
#include "gradin/acoustics.h"

enum { N_NR_OCTAVE = 9, N_NC_OCTAVE = 8, N_NC_CURVE = 12, NC_FIRST = 15, NC_STEP = 5 };

double gradin_nr_level_db(double nr, int octave_31_to_8k) {
    static const double a[N_NR_OCTAVE] = {55.4, 35.5, 22.0, 12.0, 4.8, 0.0, -3.5, -6.1, -8.0};
    static const double b[N_NR_OCTAVE] = {0.681, 0.790, 0.870, 0.930, 0.974,
                                          1.000, 1.015, 1.025, 1.030};
    if (octave_31_to_8k < 0 || octave_31_to_8k >= N_NR_OCTAVE) return NAN;
    return a[octave_31_to_8k] + b[octave_31_to_8k] * nr;
}

static const double nc_curve_db[N_NC_CURVE][N_NC_OCTAVE] = {
    {47, 36, 29, 22, 17, 14, 12, 11}, {51, 40, 33, 26, 22, 19, 17, 16},
    {54, 44, 37, 31, 27, 24, 22, 21}, {57, 48, 41, 35, 31, 29, 28, 27},
    {60, 52, 45, 40, 36, 34, 33, 32}, {64, 56, 50, 45, 41, 39, 38, 37},
    {67, 60, 54, 49, 46, 44, 43, 42}, {71, 64, 58, 54, 51, 49, 48, 47},
    {74, 67, 62, 58, 56, 54, 53, 52}, {77, 71, 67, 63, 61, 59, 58, 57},
    {80, 75, 71, 68, 66, 64, 63, 62}, {83, 79, 75, 72, 71, 70, 69, 68}};

double gradin_nc_level_db(double nc, int octave) {
    if (octave < 0 || octave >= N_NC_OCTAVE || isnan(nc)) return NAN;
    double curve = fmin(fmax((nc - NC_FIRST) / NC_STEP, 0.0), N_NC_CURVE - 1);
    int below = curve < N_NC_CURVE - 1 ? (int)curve : N_NC_CURVE - 2;
    double low_db = nc_curve_db[below][octave], high_db = nc_curve_db[below + 1][octave];
    return low_db + (curve - below) * (high_db - low_db);
}

static double nc_of_octave(double level_db, int octave) {
    if (!(level_db > nc_curve_db[0][octave])) return NC_FIRST;
    for (int i = 1; i < N_NC_CURVE; i++) {
        double low_db = nc_curve_db[i - 1][octave], high_db = nc_curve_db[i][octave];
        if (level_db <= high_db)
            return NC_FIRST + NC_STEP * (i - 1 + (level_db - low_db) / (high_db - low_db));
    }
    return NC_FIRST + NC_STEP * (N_NC_CURVE - 1);
}

double gradin_nc(const double *octave_db, int *octave) {
    double nc = -INFINITY;
    for (int o = 0; o < GRADIN_N_OCTAVE; o++) {
        double here = nc_of_octave(octave_db[o], o);
        if (here <= nc) continue;
        nc = here;
        if (octave) *octave = o;
    }
    return nc;
}
