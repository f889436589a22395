/* An octave beside the hall's NC: within only with all that is not in the levels. The curve's 44 dB
 * at 500 Hz for NC 40: ANSI/ASA S12.2-2019. */
#include <criterion/criterion.h>

#include "gradin/acoustics.h"
#include "gradin/studies.h"

enum { OCTAVE_500 = 3 };

static gradin_verdict judge(double octave_db, double adds_db) {
    gradin_arena *arena = gradin_arena_create();
    double band_db[GRADIN_N_BAND];
    for (int b = 0; b < GRADIN_N_BAND; b++) band_db[b] = octave_db - 10.0 * log10(3.0);
    gradin_criterion criterion = {.nc = 40.0, .lamax_dba = NAN, .confidence = 0.8};
    gradin_uncertainty none = {0};
    gradin_gaps gaps = {0};
    gradin_band_choice choice = {.octave = {[OCTAVE_500] = true}};
    gradin_band_level *level;
    int n;
    gaps.adds_octave_db[OCTAVE_500] = adds_db;
    gaps.adds_db = 50.0; /* of the A-weighted level: nothing of this octave's */
    cr_assert_eq(
        gradin_band_levels(arena, band_db, 1, &criterion, &none, &gaps, &choice, &level, &n, NULL),
        GRADIN_OK);
    cr_assert_eq(n, 1);
    cr_expect_float_eq(level->limit_db, 44.0, 1e-9);
    gradin_verdict verdict = level->verdict[0];
    gradin_arena_destroy(arena);
    return verdict;
}

Test(bands, within_only_with_what_is_not_stated) {
    cr_expect_eq(judge(40.0, 0.0), GRADIN_VERDICT_WITHIN);
    cr_expect_eq(judge(40.0, 3.9), GRADIN_VERDICT_WITHIN);
    cr_expect_eq(judge(40.0, 4.1), GRADIN_VERDICT_NEAR);
    cr_expect_eq(judge(44.1, 0.0), GRADIN_VERDICT_OVER);
}
