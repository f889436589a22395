/* Every rating that the bands of one curve allow: Rw with its terms (ISO 717-1), STC (ASTM E413)
 * and OITC (ASTM E1332); the formulas are those of iso_717_1.c and astm.c. */
#include "base/use.h"
#include "gradin/glazing.h"

enum { FIRST_RW = 3, N_RW = 16, FIRST_STC = 4, N_STC = 16, FIRST_OITC = 2, N_OITC = 18 };
enum { FIRST_OCTAVE = 4, N_RW_OCTAVE = 5 };

static int missing_from(const double *r_db, int first, int n, int step) {
    for (int i = 0; i < n; i++)
        if (!isfinite(r_db[first + i * step])) return first + i * step;
    return -1;
}

static gradin_status refuse(gradin_error *error, int band, const char *range) {
    return gradin_error_add(error, GRADIN_BAD_INPUT, NULL, "band %d Hz is missing; Rw needs %s",
                            gradin_band_nominal_hz(band), range);
}

static gradin_status rate_octaves(const double *r_db, gradin_ratings *ratings,
                                  gradin_error *error) {
    double octave_db[N_RW_OCTAVE];
    int missing = missing_from(r_db, FIRST_OCTAVE, N_RW_OCTAVE, 3);
    if (missing >= 0) return refuse(error, missing, "the octaves 125 to 2000 Hz");
    for (int i = 0; i < N_RW_OCTAVE; i++) octave_db[i] = r_db[FIRST_OCTAVE + 3 * i];
    ratings->rw = gradin_rate_octaves(octave_db);
    return GRADIN_OK;
}

gradin_status gradin_rate_curve(const double *r_db, bool is_octave, gradin_ratings *ratings,
                                gradin_error *error) {
    if (NEEDS(error, r_db, ratings) != GRADIN_OK) return GRADIN_BAD_USE;
    *ratings = (gradin_ratings){.stc_limit_hz = 0};
    if (is_octave) return rate_octaves(r_db, ratings, error);
    int missing = missing_from(r_db, FIRST_RW, N_RW, 1), limited = -1;
    if (missing >= 0) return refuse(error, missing, "the thirds 100 to 3150 Hz");
    ratings->rw = gradin_rate_thirds(&r_db[FIRST_RW]);
    for (int k = 0; k < GRADIN_N_RANGE; k++)
        ratings->enlarged[k] = gradin_adapt_enlarged(r_db, (gradin_range)k, ratings->rw.rating_db);
    ratings->has_stc = missing_from(r_db, FIRST_STC, N_STC, 1) < 0;
    if (ratings->has_stc) ratings->stc = gradin_stc(&r_db[FIRST_STC], &limited);
    if (limited >= 0) ratings->stc_limit_hz = gradin_band_nominal_hz(FIRST_STC + limited);
    ratings->has_oitc = missing_from(r_db, FIRST_OITC, N_OITC, 1) < 0;
    if (ratings->has_oitc) ratings->oitc = gradin_oitc(&r_db[FIRST_OITC]);
    return GRADIN_OK;
}
