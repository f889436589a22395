/* Ratings of whole curves, field relations, and what the comparison says of panes and gaps. */
#include "gradin/acoustics/glazing.h"
#include "support/formulas.h"
#include "unit/acoustics/glass.h"

#include <criterion/criterion.h>

/* ISO 717-1 Table B.1: spectrum 1 carries 0 dB in all over each range, so that a flat curve of 40
 * dB gives X = 40 up to the rounding of its levels to whole decibels. Spectrum 2 keeps the levels
 * of 100 to 3150 Hz in every range, and what lies beyond adds up to 0.23 dB. */
Test(ratings_curve, spectra_of_the_enlarged_ranges_carry_0_db) {
    double flat_db[GRADIN_N_BAND];
    for (int b = 0; b < GRADIN_N_BAND; b++) flat_db[b] = 40.0;
    for (int k = 0; k < GRADIN_N_RANGE; k++) {
        gradin_enlarged e = gradin_adapt_enlarged(flat_db, (gradin_range)k, 40);
        cr_assert(e.applies);
        cr_assert_float_eq(e.x_c_db, 40.0, 0.06, "range %d: %.3f", k, e.x_c_db);
        cr_assert_float_eq(e.x_ctr_db, 39.88, 0.13, "range %d: %.3f", k, e.x_ctr_db);
        cr_assert_eq(e.c_db, 0);
        cr_assert_eq(e.ctr_db, 0);
    }
}

/* One weak band far below the others sets the sum: X = R - L there. Levels of Table B.1 at 50, 3150
 * and 5000 Hz; the last is outside of 50 to 3150 Hz. */
Test(ratings_curve, a_weak_band_counts_with_its_level_of_the_spectrum) {
    static const struct {
        int band, range;
        double c_db, ctr_db;
    } row[] = {{0, GRADIN_RANGE_50_3150, -40, -25},  {0, GRADIN_RANGE_50_5000, -41, -25},
               {18, GRADIN_RANGE_50_3150, -9, -15},  {18, GRADIN_RANGE_50_5000, -10, -15},
               {20, GRADIN_RANGE_50_5000, -10, -18}, {20, GRADIN_RANGE_100_5000, -10, -18},
               {3, GRADIN_RANGE_100_5000, -30, -20}, {3, GRADIN_RANGE_50_3150, -29, -20},
               {13, GRADIN_RANGE_100_5000, -11, -8}};
    for (int i = 0; i < (int)(sizeof row / sizeof row[0]); i++) {
        double r_db[GRADIN_N_BAND];
        for (int b = 0; b < GRADIN_N_BAND; b++) r_db[b] = b == row[i].band ? 10.0 : 110.0;
        gradin_enlarged e = gradin_adapt_enlarged(r_db, (gradin_range)row[i].range, 0);
        cr_assert_float_eq(e.x_c_db, 10.0 - row[i].c_db, 1e-3, "row %d: %.4f", i, e.x_c_db);
        cr_assert_float_eq(e.x_ctr_db, 10.0 - row[i].ctr_db, 1e-3, "row %d: %.4f", i, e.x_ctr_db);
    }
    double r_db[GRADIN_N_BAND];
    for (int b = 0; b < GRADIN_N_BAND; b++) r_db[b] = b >= 19 ? 10.0 : 110.0;
    cr_assert_float_eq(gradin_adapt_enlarged(r_db, GRADIN_RANGE_50_3150, 0).x_c_db, 110.0, 0.05);
}

/* The curve of ISO 717-1 Annex C within all 21 bands: 30 (-2; -3), as printed. */
Test(ratings_curve, gives_what_its_bands_allow) {
    double r_db[GRADIN_N_BAND] = {NAN,  NAN,  NAN,  20.4, 16.3, 17.7, 22.6, 22.4, 22.7, 24.8, 26.6,
                                  28.0, 30.5, 31.8, 32.5, 33.4, 33.0, 31.0, 25.5, NAN,  NAN};
    gradin_ratings r;
    r = gradin_rate_curve(r_db, false);
    cr_assert(r.rw.rating_db == 30 && r.rw.c_db == -2 && r.rw.ctr_db == -3);
    cr_assert(!r.has_stc && !r.has_oitc && r.stc_limit_hz == 0);
    for (int k = 0; k < GRADIN_N_RANGE; k++) cr_assert(!r.enlarged[k].applies);
    r_db[19] = 33.0; /* now 125 to 4000 Hz */
    r = gradin_rate_curve(r_db, false);
    cr_assert(r.has_stc && !r.has_oitc);
    r_db[2] = 19.0;
    r_db[20] = 35.0;
    r = gradin_rate_curve(r_db, false);
    cr_assert(r.has_oitc && r.enlarged[GRADIN_RANGE_100_5000].applies);
    cr_assert(!r.enlarged[GRADIN_RANGE_50_5000].applies);
}

/* A dip of 12 dB below a curve parallel to the STC contour: ASTM E413 allows 8, so that STC falls
 * by 4 from that of the undipped curve and the dipped band is named. */
Test(ratings_curve, names_the_band_of_the_8_db_rule) {
    static const int contour[16] = {-16, -13, -10, -7, -4, -1, 0, 1, 2, 3, 4, 4, 4, 4, 4, 4};
    double r_db[GRADIN_N_BAND];
    gradin_ratings r;
    for (int b = 0; b < GRADIN_N_BAND; b++)
        r_db[b] = 40.0 + contour[b < 4 ? 0 : b > 19 ? 15 : b - 4];
    r_db[15] -= 12.0;
    r = gradin_rate_curve(r_db, false);
    cr_assert_eq(r.stc, 36);
    cr_assert_eq(r.stc_limit_hz, 1600);
}

Test(ratings_curve, has_no_rw_without_a_band_that_it_needs) {
    double r_db[GRADIN_N_BAND];
    for (int b = 0; b < GRADIN_N_BAND; b++) r_db[b] = b == 3 ? NAN : 30.0; /* no 100 Hz */
    gradin_ratings r = gradin_rate_curve(r_db, false);
    cr_assert(!r.has_rw && r.has_stc && !r.has_oitc); /* STC needs 125 to 4000 Hz only */
    r_db[7] = NAN;                                    /* 250 Hz */
    r = gradin_rate_curve(r_db, false);
    cr_assert(!r.has_rw && !r.has_stc);
    cr_assert(!gradin_rate_curve(r_db, true).has_rw);
    r_db[7] = 30.0;
    r_db[1] = r_db[19] = NAN; /* octaves that Rw does not need */
    cr_assert(gradin_rate_curve(r_db, true).has_rw);
}

static gradin_glazing_sheet compare(gradin_arena *arena, gradin_buildups *all) {
    gradin_glazing_sheet sheet;
    cr_assert_eq(gradin_glazing_compare(arena, all, NULL, &sheet, NULL), GRADIN_OK);
    return sheet;
}

Test(glazing_compare, finds_critical_frequencies_and_resonances) {
    gradin_layer layer[] = {glass_pane(6), glass_air(12), glass_pane(10)};
    gradin_buildup buildup = {.name = "unit", .layer = layer, .n_layer = 3, .sample_m2 = NAN};
    gradin_buildups all = {.buildup = &buildup, .n_buildup = 1};
    gradin_arena *arena = gradin_arena_create();
    gradin_glazed g = compare(arena, &all).glazed[0];
    cr_assert_eq(g.n_panel, 2);
    for (int i = 0; i < 2; i++) /* a per cent above the thin plate's: shear and inertia */
        cr_assert_float_eq(g.critical_hz[i] / formula_critical_hz(layer[2 * i].thickness_m, 2500.0,
                                                                  GRADIN_GLASS_YOUNG_PA,
                                                                  GRADIN_GLASS_POISSON, 343.2),
                           1.01, 0.005, "%g Hz", g.critical_hz[i]);
    cr_assert_float_eq(g.resonance_hz[0], 178.7, 0.05); /* reference/plates */
    cr_assert_float_eq(g.mass_kgm2, 40.0, 1e-9);
    cr_assert(g.predicted.is_given && !g.measured.is_given && isnan(g.mean_abs_db));
    gradin_arena_destroy(arena);
}

/* Three equal masses on two equal springs: s/m and 3 s/m. */
Test(glazing_compare, triple_units_have_two_resonances) {
    gradin_layer layer[] = {glass_pane(4), glass_air(12), glass_pane(4), glass_air(12),
                            glass_pane(4)};
    gradin_buildup buildup = {.name = "triple", .layer = layer, .n_layer = 5, .sample_m2 = NAN};
    gradin_buildups all = {.buildup = &buildup, .n_buildup = 1};
    gradin_arena *arena = gradin_arena_create();
    gradin_glazed g = compare(arena, &all).glazed[0];
    double first_hz = sqrt(1.2041 * 343.2 * 343.2 / 0.012 / 10.0) / (2.0 * GRADIN_PI);
    cr_assert_float_eq(g.resonance_hz[0], first_hz, 0.01);
    cr_assert_float_eq(g.resonance_hz[1], sqrt(3.0) * first_hz, 0.01);
    gradin_arena_destroy(arena);
}

/* A laminate's critical frequency lies between that of one solid plate and that of its plies
 * sliding freely, and a limp sheet has none. */
Test(glazing_compare, laminates_lie_between_solid_and_loose) {
    gradin_layer layer[] = {glass_pane(4), glass_constant(0.76), glass_pane(4)};
    gradin_layer sheet = glass_limp(10.0);
    gradin_buildup buildup[] = {{.name = "lam", .layer = layer, .n_layer = 3, .sample_m2 = NAN},
                                {.name = "limp", .layer = &sheet, .n_layer = 1, .sample_m2 = NAN}};
    gradin_buildups all = {.buildup = buildup, .n_buildup = 2};
    gradin_arena *arena = gradin_arena_create();
    const gradin_glazed *g = compare(arena, &all).glazed;
    cr_assert_gt(g[0].critical_hz[0], formula_critical_hz(0.00876, 2500.0, GRADIN_GLASS_YOUNG_PA,
                                                          GRADIN_GLASS_POISSON, 343.2));
    cr_assert_lt(g[0].critical_hz[0], formula_critical_hz(0.004, 2500.0, GRADIN_GLASS_YOUNG_PA,
                                                          GRADIN_GLASS_POISSON, 343.2));
    cr_assert(isinf(g[1].critical_hz[0]));
    gradin_arena_destroy(arena);
}

Test(glazing_compare, sets_measured_beside_predicted) {
    gradin_layer pane = glass_pane(6);
    gradin_buildup buildup = {.name = "both", .layer = &pane, .n_layer = 1, .sample_m2 = 1.8};
    double r_db[GRADIN_N_BAND];
    cr_assert_eq(gradin_glazing_r_db(&buildup, r_db, NULL), GRADIN_OK);
    buildup.is_measured = true;
    for (int b = 0; b < GRADIN_N_BAND; b++) buildup.measured_r_db[b] = r_db[b] + (b % 2 ? 1 : -3);
    gradin_buildups all = {.buildup = &buildup, .n_buildup = 1};
    gradin_arena *arena = gradin_arena_create();
    gradin_glazed g = compare(arena, &all).glazed[0];
    cr_assert_float_eq(g.difference_db[0], 3.0, 1e-9);
    cr_assert_float_eq(g.difference_db[1], -1.0, 1e-9);
    cr_assert_float_eq(g.mean_abs_db, (11 * 3.0 + 10 * 1.0) / 21.0, 1e-9);
    cr_assert_eq(gradin_glazing_r_db(&buildup, r_db, NULL), GRADIN_OK); /* the measurement wins */
    cr_assert_eq(r_db[0], buildup.measured_r_db[0]);
    /* octaves are held against the mean of tau over three thirds */
    buildup.is_octave = true;
    g = compare(arena, &all).glazed[0];
    double tau = 0.0;
    for (int b = 6; b < 9; b++) tau += pow(10.0, -0.1 * g.predicted.r_db[b]) / 3.0;
    cr_assert_float_eq(g.difference_db[7], -10.0 * log10(tau) - buildup.measured_r_db[7], 1e-9);
    cr_assert(isnan(g.difference_db[6]));
    gradin_arena_destroy(arena);
}

Test(glazing_compare, refuses_too_many) {
    gradin_buildup buildup[GRADIN_MAX_GLAZED + 1] = {{0}};
    gradin_buildups all = {.buildup = buildup, .n_buildup = GRADIN_MAX_GLAZED + 1};
    gradin_glazing_sheet sheet;
    gradin_error error = {0};
    gradin_arena *arena = gradin_arena_create();
    cr_assert_eq(gradin_glazing_compare(arena, &all, NULL, &sheet, &error), GRADIN_BAD_INPUT);
    cr_assert_str_eq(error.diagnostic[0].text,
                     "13 build-ups are too many to compare; name at most 12");
    cr_assert_eq(gradin_glazing_compare(arena, NULL, NULL, &sheet, NULL), GRADIN_BAD_USE);
    gradin_arena_destroy(arena);
}
