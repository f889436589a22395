/* American single numbers of airborne sound insulation.
 *
 * STC, ASTM E413: contour 125..4000 Hz relative to its value at 500 Hz, raised in steps of 1 dB
 * while the sum of deficiencies is <= 32 dB and none is over 8 dB; transmission losses are rounded
 * to whole decibels first (rounding and both limits from memory). OITC, ASTM E1332: A-weighted
 * level difference of a stated transport spectrum, 80..4000 Hz (spectrum from memory; its
 * A-weighted sum is the standard's own constant 100.13). */
#include "gradin/acoustics.h"

enum {
    N_STC = 16,
    N_OITC = 18,
    SUM_LIMIT_DB = 32,
    BAND_LIMIT_DB = 8,
    MIN_STC_DB = -200,
    MAX_STC_DB = 300
};

static const int stc_contour_db[N_STC] = {-16, -13, -10, -7, -4, -1, 0, 1, 2, 3, 4, 4, 4, 4, 4, 4};

static int whole_db(double value_db) {
    double whole = floor(value_db + 0.5);
    if (!(whole > MIN_STC_DB)) return MIN_STC_DB;
    return whole < MAX_STC_DB ? (int)whole : MAX_STC_DB;
}

typedef struct deficiency {
    int sum_db, largest_db, largest_band;
} deficiency;

static deficiency deficiency_at(const int *tl_db, int stc_db) {
    deficiency d = {0, 0, -1};
    for (int i = 0; i < N_STC; i++) {
        int lack_db = stc_contour_db[i] + stc_db - tl_db[i];
        if (lack_db <= 0) continue;
        d.sum_db += lack_db;
        if (lack_db > d.largest_db) {
            d.largest_db = lack_db;
            d.largest_band = i;
        }
    }
    return d;
}

int gradin_stc(const double tl_db[16], int *limited_band) {
    int whole[N_STC], stc_db = 2 * MIN_STC_DB;
    for (int i = 0; i < N_STC; i++) whole[i] = whole_db(tl_db[i]);
    deficiency next = deficiency_at(whole, stc_db + 1);
    while (stc_db < MAX_STC_DB && next.sum_db <= SUM_LIMIT_DB && next.largest_db <= BAND_LIMIT_DB)
        next = deficiency_at(whole, ++stc_db + 1);
    if (limited_band)
        *limited_band =
            next.sum_db <= SUM_LIMIT_DB && next.largest_db > BAND_LIMIT_DB ? next.largest_band : -1;
    return stc_db;
}

int gradin_oitc(const double tl_db[18]) {
    static const double source_db[N_OITC] = {103, 102, 101, 98, 97, 95, 94, 93, 93,
                                             91,  90,  89,  89, 88, 88, 87, 85, 84};
    static const double a_weight_db[N_OITC] = {-22.5, -19.1, -16.1, -13.4, -10.9, -8.6,
                                               -6.6,  -4.8,  -3.2,  -1.9,  -0.8,  0.0,
                                               0.6,   1.0,   1.2,   1.3,   1.2,   1.0};
    double inside_db[N_OITC];
    for (int i = 0; i < N_OITC; i++) inside_db[i] = source_db[i] + a_weight_db[i] - tl_db[i];
    double oitc_db = 100.13 - gradin_level_sum_db(inside_db, N_OITC);
    return whole_db(oitc_db);
}
