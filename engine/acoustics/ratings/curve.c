/* Every rating that the bands of one curve allow: Rw with its terms (ISO 717-1), STC (ASTM E413)
 * and OITC (ASTM E1332); the formulas are those of iso_717_1.c and astm.c. */
#include "gradin/acoustics/glazing.h"

enum { FIRST_RW = 3, N_RW = 16, FIRST_STC = 4, N_STC = 16, FIRST_OITC = 2, N_OITC = 18 };
enum { FIRST_OCTAVE = 4, N_RW_OCTAVE = 5 };

static bool are_given(const double *r_db, int first, int n, int step) {
    for (int i = 0; i < n; i++)
        if (!isfinite(r_db[first + i * step])) return false;
    return true;
}

static void rate_octaves(const double *r_db, gradin_ratings *ratings) {
    double octave_db[N_RW_OCTAVE];
    ratings->has_rw = are_given(r_db, FIRST_OCTAVE, N_RW_OCTAVE, 3);
    for (int i = 0; i < N_RW_OCTAVE; i++) octave_db[i] = r_db[FIRST_OCTAVE + 3 * i];
    if (ratings->has_rw) ratings->rw = gradin_rate_octaves(octave_db);
}

static void rate_thirds(const double *r_db, gradin_ratings *ratings) {
    int limited = -1;
    ratings->has_rw = are_given(r_db, FIRST_RW, N_RW, 1);
    if (ratings->has_rw) ratings->rw = gradin_rate_thirds(&r_db[FIRST_RW]);
    for (int k = 0; ratings->has_rw && k < GRADIN_N_RANGE; k++)
        ratings->enlarged[k] = gradin_adapt_enlarged(r_db, (gradin_range)k, ratings->rw.rating_db);
    ratings->has_stc = are_given(r_db, FIRST_STC, N_STC, 1);
    if (ratings->has_stc) ratings->stc = gradin_stc(&r_db[FIRST_STC], &limited);
    if (limited >= 0) ratings->stc_limit_hz = gradin_band_nominal_hz(FIRST_STC + limited);
    ratings->has_oitc = are_given(r_db, FIRST_OITC, N_OITC, 1);
    if (ratings->has_oitc) ratings->oitc = gradin_oitc(&r_db[FIRST_OITC]);
}

gradin_ratings gradin_rate_curve(const double *r_db, bool is_octave) {
    gradin_ratings ratings = {.stc_limit_hz = 0};
    if (!r_db) return ratings;
    if (is_octave)
        rate_octaves(r_db, &ratings);
    else
        rate_thirds(r_db, &ratings);
    return ratings;
}
