/* Single-number rating of airborne sound insulation with its spectrum adaptation terms.
 *
 * Method: ISO 717-1:2013. The reference curve (Table 3) is shifted in steps of 1 dB towards the
 * measured one until the sum of unfavourable deviations is as large as possible but not more than
 * 32.0 dB in thirds, 10.0 dB in octaves (4.4); the rating is the shifted curve at 500 Hz. Measured
 * values are first rounded to one decimal (4.4, footnote). X_Aj = -10 lg sum 10^((L_ij - X_i)/10)
 * (equation 1) with the spectra of Table 4, C_j = X_Aj - X_w with X_Aj in whole decibels
 * (4.5, from memory).
 *
 * Enlarged ranges (Annex B): the same sum over more bands with the spectra of Table B.1, in which
 * spectrum 1 is lower by a decibel where the range reaches 5 kHz, so that all its bands sum to 0
 * dB.
 *
 * Sums run in whole tenths of a decibel, so that "not more than 32.0" is exact. Limits: the rating
 * itself from 100 Hz to 3150 Hz, or 125 Hz to 2 kHz. Levels beyond 900 dB are held there. */
#include "gradin/acoustics/glazing.h"

enum { N_MAX = GRADIN_N_BAND, HELD_TENTHS = 9000, FIRST_THIRD = 3 };

typedef struct rating_scale {
    int n, limit_tenths, at_500;
    double reference_db[N_MAX], c_db[N_MAX], ctr_db[N_MAX];
} rating_scale;

static const rating_scale THIRDS = {
    .n = 16,
    .limit_tenths = 320,
    .at_500 = 7,
    .reference_db = {33, 36, 39, 42, 45, 48, 51, 52, 53, 54, 55, 56, 56, 56, 56, 56},
    .c_db = {-29, -26, -23, -21, -19, -17, -15, -13, -12, -11, -10, -9, -9, -9, -9, -9},
    .ctr_db = {-20, -20, -18, -16, -15, -14, -13, -12, -11, -9, -8, -9, -10, -11, -13, -15}};

static const rating_scale OCTAVES = {.n = 5,
                                     .limit_tenths = 100,
                                     .at_500 = 2,
                                     .reference_db = {36, 45, 52, 55, 56},
                                     .c_db = {-21, -14, -8, -5, -4},
                                     .ctr_db = {-14, -10, -7, -4, -6}};

/* Half up; the last term lets 20.45, which no double holds, count as a half. */
static int to_tenths(double r_db) {
    double tenths = floor(10.0 * r_db + 0.5 + 1e-9);
    return (int)fmax(fmin(tenths, HELD_TENTHS), -HELD_TENTHS);
}

static int deviation_tenths(const rating_scale *scale, const int *r_tenths, int i, int shift) {
    int gap = 10 * ((int)scale->reference_db[i] + shift) - r_tenths[i];
    return gap > 0 ? gap : 0;
}

static int sum_tenths(const rating_scale *scale, const int *r_tenths, int shift) {
    int sum = 0;
    for (int i = 0; i < scale->n; i++) sum += deviation_tenths(scale, r_tenths, i, shift);
    return sum;
}

static double adapted_db(const int *r_tenths, const double *spectrum_db, int n) {
    double rest_db[N_MAX] = {0};
    for (int i = 0; i < n; i++) rest_db[i] = spectrum_db[i] - r_tenths[i] / 10.0;
    return -gradin_level_sum_db(rest_db, n); /* (1) */
}

static int whole(double x_db) {
    return (int)floor(x_db + 0.5);
}

static gradin_weighted rate(const rating_scale *scale, const double *r_db) {
    gradin_weighted w = {0};
    int r_tenths[N_MAX], shift = -(HELD_TENTHS / 10 + 100); /* no deviation down there */
    for (int i = 0; i < scale->n; i++) r_tenths[i] = to_tenths(r_db[i]);
    while (sum_tenths(scale, r_tenths, shift + 1) <= scale->limit_tenths) shift++; /* 4.4 */
    w.shift_db = shift;
    w.rating_db = (int)scale->reference_db[scale->at_500] + shift;
    w.unfavourable_sum_db = sum_tenths(scale, r_tenths, shift) / 10.0;
    for (int i = 0; i < scale->n; i++)
        w.deviation_db[i] = deviation_tenths(scale, r_tenths, i, shift) / 10.0;
    w.x_c_db = adapted_db(r_tenths, scale->c_db, scale->n);
    w.x_ctr_db = adapted_db(r_tenths, scale->ctr_db, scale->n);
    w.c_db = whole(w.x_c_db) - w.rating_db; /* 4.5 */
    w.ctr_db = whole(w.x_ctr_db) - w.rating_db;
    return w;
}

/* Table B.1, 50 Hz .. 5 kHz: spectrum 1 to 3150 Hz, the same to 5 kHz, spectrum 2. */
static const double ENLARGED_DB[3][GRADIN_N_BAND] = {
    {-40, -36, -33, -29, -26, -23, -21, -19, -17, -15, -13, -12, -11, -10, -9, -9, -9, -9, -9},
    {-41, -37, -34, -30, -27, -24, -22, -20, -18, -16, -14,
     -13, -12, -11, -10, -10, -10, -10, -10, -10, -10},
    {-25, -23, -21, -20, -20, -18, -16, -15, -14, -13, -12,
     -11, -9,  -8,  -9,  -10, -11, -13, -15, -16, -18}};

/* First band and count of a range. */
static const int RANGE[GRADIN_N_RANGE][2] = {
    [GRADIN_RANGE_50_3150] = {0, 19},
    [GRADIN_RANGE_50_5000] = {0, 21},
    [GRADIN_RANGE_100_5000] = {FIRST_THIRD, 18},
};

static bool are_given(const double *r_db, int n) {
    for (int i = 0; i < n; i++)
        if (!isfinite(r_db[i])) return false;
    return true;
}

gradin_enlarged gradin_adapt_enlarged(const double *r_db, gradin_range range, int rating_db) {
    if (!r_db || (int)range < 0 || range >= GRADIN_N_RANGE)
        return (gradin_enlarged){.applies = false};
    int first = RANGE[range][0], n = RANGE[range][1], r_tenths[N_MAX];
    if (!are_given(&r_db[first], n)) return (gradin_enlarged){.applies = false};
    for (int i = 0; i < n; i++) r_tenths[i] = to_tenths(r_db[first + i]);
    const double *c_db = ENLARGED_DB[range == GRADIN_RANGE_50_3150 ? 0 : 1];
    gradin_enlarged e = {.applies = true};
    e.x_c_db = adapted_db(r_tenths, &c_db[first], n);
    e.x_ctr_db = adapted_db(r_tenths, &ENLARGED_DB[2][first], n);
    e.c_db = whole(e.x_c_db) - rating_db;
    e.ctr_db = whole(e.x_ctr_db) - rating_db;
    return e;
}

gradin_weighted gradin_rate_thirds(const double r_db[16]) {
    return rate(&THIRDS, r_db);
}

gradin_weighted gradin_rate_octaves(const double r_db[5]) {
    return rate(&OCTAVES, r_db);
}
