/* NC and NR of a spectrum of steady noise: the lowest curve that no octave exceeds.
 *
 * NC: ANSI/ASA S12.2-2019, Table 1 (octaves 16 Hz to 8 kHz, NC-15 to NC-70; a second-hand copy):
 * the curves of 1957 with 12 of their cells moved by 1 dB, and two octaves more below. Rated by
 * tangency; where two tabled curves meet (16 Hz, 90 dB), the lower one counts. Linear between
 * tabled curves: a convention of ours.
 * NR: level (1) a + b NR, so (2) NR = max (L - a)/b (ISO/R 1996:1971, octaves 31.5 Hz to 8 kHz).
 * Limits: NC 15 to 70, NR 0 to 130. */
#include "gradin/acoustics/noise_rating.h"

enum { N_CURVE = 12, LOW = 15, STEP = 5, HIGH = 70, NR_HIGH = 130 };

static const double NC_DB[N_CURVE][GRADIN_N_NC_OCTAVE] = {
    {78, 61, 47, 36, 28, 22, 18, 14, 12, 11}, {79, 63, 50, 40, 33, 26, 22, 20, 17, 16},
    {80, 65, 54, 44, 37, 31, 27, 24, 22, 22}, {81, 68, 57, 48, 41, 35, 32, 29, 28, 27},
    {82, 71, 60, 52, 45, 40, 36, 34, 33, 32}, {84, 74, 64, 56, 50, 44, 41, 39, 38, 37},
    {85, 76, 67, 60, 54, 49, 46, 44, 43, 42}, {87, 79, 71, 64, 58, 54, 51, 49, 48, 47},
    {89, 82, 74, 67, 62, 58, 56, 54, 53, 52}, {90, 85, 77, 71, 66, 63, 60, 59, 58, 57},
    {90, 88, 80, 75, 71, 68, 65, 64, 63, 62}, {90, 90, 84, 79, 75, 72, 71, 70, 68, 68}};

double gradin_room_nc_level_db(double nc, int octave) {
    if (octave < 0 || octave >= GRADIN_N_NC_OCTAVE || isnan(nc)) return NAN;
    double place = (fmax(fmin(nc, HIGH), LOW) - LOW) / STEP;
    int i = place < N_CURVE - 1 ? (int)place : N_CURVE - 2;
    return NC_DB[i][octave] + (place - i) * (NC_DB[i + 1][octave] - NC_DB[i][octave]);
}

/* The lowest curve that one octave's level does not exceed. */
static double nc_of(double level_db, int octave) {
    if (level_db < NC_DB[0][octave]) return -INFINITY;
    for (int i = 0; i < N_CURVE - 1; i++) {
        double low_db = NC_DB[i][octave], step_db = NC_DB[i + 1][octave] - low_db;
        if (level_db <= low_db) return LOW + STEP * i;
        if (level_db < NC_DB[i + 1][octave])
            return LOW + STEP * (i + (level_db - low_db) / step_db);
    }
    return level_db <= NC_DB[N_CURVE - 1][octave] ? HIGH : INFINITY;
}

static double nr_of(double level_db, int octave) {
    double a_db = gradin_nr_level_db(0.0, octave);
    double nr = (level_db - a_db) / (gradin_nr_level_db(1.0, octave) - a_db); /* (2) */
    return nr < 0.0 ? -INFINITY : nr > NR_HIGH ? INFINITY : nr;
}

static double highest(double curve_of(double level_db, int octave), const double *octave_db, int n,
                      int *octave) {
    double most = NAN;
    int at = -1;
    for (int k = 0; k < n; k++) {
        if (isnan(octave_db[k])) continue;
        double curve = curve_of(octave_db[k], k);
        if (at >= 0 && !(curve > most)) continue;
        most = curve;
        at = k;
    }
    if (octave) *octave = isinf(most) && most < 0.0 ? -1 : at;
    return most;
}

double gradin_room_nc(const double *octave_db, int *octave) {
    return highest(nc_of, octave_db, GRADIN_N_NC_OCTAVE, octave);
}

double gradin_nr(const double *octave_db, int *octave) {
    return highest(nr_of, octave_db, GRADIN_N_NR_OCTAVE, octave);
}
