/* What a measured and a generic sound reduction index are known by. */
#include "gradin/acoustics/glazing.h"
#include "unit/acoustics/glass.h"

#include <criterion/criterion.h>
#include <stdio.h>

/* ISO 12999-1:2020 Table 2, situation A: reference/iso-12999-1. */
Test(glazing_uncertainty, a_measured_index_has_the_uncertainty_of_iso_12999_1) {
    gradin_buildup buildup = {.is_measured = true};
    double u_db[GRADIN_N_BAND], cell[GLASS_MAX_CELL];
    char word[32];
    gradin_glazing_uncertainty_db(&buildup, u_db);
    FILE *file = glass_csv_open("iso-12999-1/airborne.csv");
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        cr_assert_gt(glass_csv_row(file, cell, word), 1);
        cr_expect(cell[0] == gradin_band_nominal_hz(b) && cell[1] == u_db[b], "%g Hz", cell[0]);
    }
    glass_csv_close(file);
    buildup.measured_r_db[0] = buildup.measured_r_db[1] = NAN; /* a flat guess below 80 Hz */
    gradin_glazing_uncertainty_db(&buildup, u_db);
    cr_expect_float_eq(u_db[0], hypot(6.8, 5.0 * 2.0 / 3.0), 1e-9);
    cr_expect_float_eq(u_db[1], hypot(4.6, 5.0 / 3.0), 1e-9);
    cr_expect_eq(u_db[2], 3.8);
    gradin_layer pane = glass_pane(6);
    buildup.layer = &pane; /* a prediction moved to the measurement */
    buildup.n_layer = 1;
    gradin_glazing_uncertainty_db(&buildup, u_db);
    cr_expect_float_eq(u_db[0], hypot(6.8, 2.5), 1e-9);
    cr_expect_eq(u_db[2], 3.8);
}

/* A handbook's figure for such a construction is no measurement of this one. */
Test(glazing_uncertainty, a_generic_index_adds_what_like_builds_differ_by) {
    gradin_buildup buildup = {.is_measured = true, .is_octave = true, .generic = "slab"};
    double u_db[GRADIN_N_BAND], cell[GLASS_MAX_CELL], sum_db = 0.0;
    char word[32];
    int n = 0;
    FILE *file = glass_csv_open("glazing/spread.csv");
    for (; glass_csv_row(file, cell, word) == 6; n++) sum_db += cell[4];
    glass_csv_close(file);
    gradin_glazing_uncertainty_db(&buildup, u_db);
    double one_db = 0.5 * sqrt(GRADIN_PI) * sum_db / n; /* of two that differ by the mean */
    cr_expect_float_eq(sqrt(u_db[10] * u_db[10] - 1.8 * 1.8), one_db, 0.3, "%.2f", one_db);
    cr_expect_eq(u_db[9], u_db[10]);
}
