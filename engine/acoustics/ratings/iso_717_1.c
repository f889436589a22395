/* Weighted single numbers of airborne sound insulation and their spectrum adaptation terms.
 *
 * ISO 717-1 (2013; the figures used here are those of all editions since 1996): 4.4 shifts the
 * reference curve of Table 3 in steps of 1 dB until the sum of unfavourable deviations is as large
 * as possible but not more than 32.0 dB (16 thirds) or 10.0 dB (5 octaves); 4.5 gives C and Ctr
 * with spectra No. 1 and No. 2 of Table 4 over 100..3150 Hz or 125..2000 Hz. Values enter with one
 * decimal, so the sums are done in whole tenths and the limits are met exactly. */
#include "gradin/acoustics.h"

enum { N_THIRD = 16, N_OCTAVE = 5, MIN_SHIFT_DB = -200, MAX_SHIFT_DB = 300 };

typedef struct reference_set {
    int n, at_500; /* bands; index of 500 Hz */
    int limit_tenth;
    const int *curve_db, *spectrum_c_db, *spectrum_ctr_db; /* each [n] */
} reference_set;

static const int third_curve_db[N_THIRD] = {33, 36, 39, 42, 45, 48, 51, 52,
                                            53, 54, 55, 56, 56, 56, 56, 56};
static const int third_c_db[N_THIRD] = {-29, -26, -23, -21, -19, -17, -15, -13,
                                        -12, -11, -10, -9,  -9,  -9,  -9,  -9};
static const int third_ctr_db[N_THIRD] = {-20, -20, -18, -16, -15, -14, -13, -12,
                                          -11, -9,  -8,  -9,  -10, -11, -13, -15};
static const int octave_curve_db[N_OCTAVE] = {36, 45, 52, 55, 56};
static const int octave_c_db[N_OCTAVE] = {-21, -14, -8, -5, -4};
static const int octave_ctr_db[N_OCTAVE] = {-14, -10, -7, -4, -6};

static const reference_set thirds = {N_THIRD, 7, 320, third_curve_db, third_c_db, third_ctr_db};
static const reference_set octaves = {N_OCTAVE,        2,           100,
                                      octave_curve_db, octave_c_db, octave_ctr_db};

/* Tenths of a decibel, half up (ISO 717-1, 4.4), kept within what the shifts can reach. */
static int to_tenths(double value_db) {
    double tenths = floor(10.0 * value_db + 0.5);
    if (!(tenths > 10.0 * MIN_SHIFT_DB)) return 10 * MIN_SHIFT_DB;
    return tenths < 10.0 * MAX_SHIFT_DB ? (int)tenths : 10 * MAX_SHIFT_DB;
}

static int deviation_tenth(const reference_set *set, const int *tenth, int shift_db, int i) {
    int deviation = 10 * (set->curve_db[i] + shift_db) - tenth[i];
    return deviation > 0 ? deviation : 0;
}

static int deviation_sum_tenth(const reference_set *set, const int *tenth, int shift_db) {
    int sum = 0;
    for (int i = 0; i < set->n; i++) sum += deviation_tenth(set, tenth, shift_db, i);
    return sum;
}

/* ISO 717-1, eq. (1): X_Aj = -10 lg sum 10^((L_ij - X_i)/10). */
static double spectrum_sum_db(const int *spectrum_db, const int *tenth, int n) {
    double sum = 0.0;
    for (int i = 0; i < n; i++) sum += pow(10.0, (spectrum_db[i] - 0.1 * tenth[i]) / 10.0);
    return -10.0 * log10(sum);
}

static gradin_weighted rate(const reference_set *set, const double *r_db) {
    int tenth[N_THIRD], shift_db = 2 * MIN_SHIFT_DB;
    for (int i = 0; i < set->n; i++) tenth[i] = to_tenths(r_db[i]);
    while (shift_db < MAX_SHIFT_DB &&
           deviation_sum_tenth(set, tenth, shift_db + 1) <= set->limit_tenth)
        shift_db++;
    gradin_weighted w = {.rating_db = set->curve_db[set->at_500] + shift_db,
                         .shift_db = shift_db,
                         .unfavourable_sum_db = 0.1 * deviation_sum_tenth(set, tenth, shift_db),
                         .x_c_db = spectrum_sum_db(set->spectrum_c_db, tenth, set->n),
                         .x_ctr_db = spectrum_sum_db(set->spectrum_ctr_db, tenth, set->n)};
    for (int i = 0; i < set->n; i++)
        w.deviation_db[i] = 0.1 * deviation_tenth(set, tenth, shift_db, i);
    w.c_db = (int)floor(w.x_c_db + 0.5) - w.rating_db;
    w.ctr_db = (int)floor(w.x_ctr_db + 0.5) - w.rating_db;
    return w;
}

gradin_weighted gradin_rate_thirds(const double r_db[16]) {
    return rate(&thirds, r_db);
}

gradin_weighted gradin_rate_octaves(const double r_db[5]) {
    return rate(&octaves, r_db);
}
