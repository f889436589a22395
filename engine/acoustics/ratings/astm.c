/* Ratings of ASTM.
 *
 * STC, ASTM E413: the contour is raised in whole decibels until the sum of deficiencies is at most
 * 32 dB and none is above 8 dB; STC is the contour at 500 Hz. Transmission losses are first rounded
 * to whole decibels (contour confirmed; the 8 dB rule and the rounding from memory).
 * OITC, ASTM E1332: A-weighted level of a fixed transport spectrum outside less the one inside,
 * (1) 100.13 - 10 lg sum 10^((L + A - TL)/10), in whole decibels, with A to one decimal as tabled
 * in IEC 61672-1 (source levels from memory; with that weighting they sum to the 100.13). Limits:
 * laboratory curves in thirds, no room in them. */
#include "gradin/acoustics.h"

enum { N_STC = 16, N_OITC = 18, MAX_SUM_DB = 32, MAX_ONE_DB = 8, HELD_DB = 900 };

static const int CONTOUR_DB[N_STC] = {-16, -13, -10, -7, -4, -1, 0, 1, 2, 3, 4, 4, 4, 4, 4, 4};

static const double OUTSIDE_DB[N_OITC] = {103, 102, 101, 98, 97, 95, 94, 93, 93,
                                          91,  90,  89,  89, 88, 88, 87, 85, 84};
static const double TABLED_A_DB[N_OITC] = {-22.5, -19.1, -16.1, -13.4, -10.9, -8.6,
                                           -6.6,  -4.8,  -3.2,  -1.9,  -0.8,  0.0,
                                           0.6,   1.0,   1.2,   1.3,   1.2,   1.0};
static const double OUTSIDE_A_DB = 100.13;

static int whole(double level_db) {
    return (int)floor(fmax(fmin(level_db, HELD_DB), -HELD_DB) + 0.5);
}

typedef struct deficiency {
    int sum_db, worst_db, worst_band;
} deficiency;

static deficiency deficiency_at(const int *tl_db, int stc) {
    deficiency d = {0, 0, -1};
    for (int i = 0; i < N_STC; i++) {
        int gap_db = stc + CONTOUR_DB[i] - tl_db[i];
        if (gap_db <= 0) continue;
        d.sum_db += gap_db;
        if (gap_db <= d.worst_db) continue;
        d.worst_db = gap_db;
        d.worst_band = i;
    }
    return d;
}

int gradin_stc(const double tl_db[16], int *limited_band) {
    int whole_db[N_STC], stc = -HELD_DB - 100;
    for (int i = 0; i < N_STC; i++) whole_db[i] = whole(tl_db[i]);
    deficiency next = deficiency_at(whole_db, stc + 1);
    while (next.sum_db <= MAX_SUM_DB && next.worst_db <= MAX_ONE_DB)
        next = deficiency_at(whole_db, ++stc + 1);
    if (limited_band) *limited_band = next.sum_db <= MAX_SUM_DB ? next.worst_band : -1;
    return stc;
}

int gradin_oitc(const double tl_db[18]) {
    double inside_db[N_OITC];
    for (int i = 0; i < N_OITC; i++) inside_db[i] = OUTSIDE_DB[i] + TABLED_A_DB[i] - tl_db[i];
    return whole(OUTSIDE_A_DB - gradin_level_sum_db(inside_db, N_OITC)); /* (1) */
}
