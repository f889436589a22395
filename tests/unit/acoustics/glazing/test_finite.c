/* Radiation efficiency of a forced rectangle: limits; tests/cases/finite_oracle.py holds it against
 * the double integral. */
#include "support/formulas.h"
#include "unit/acoustics/glass.h"

#include <criterion/criterion.h>

/* A small piston: k2 S/(2 pi), of the baffled source of any shape (from memory). */
Test(finite, a_small_pane_is_a_piston) {
    static const double side_m[][2] = {{1.25, 1.5}, {1.5, 8.0}};
    for (int i = 0; i < 2; i++) {
        double s = side_m[i][0] * side_m[i][1], k = 0.02;
        for (double sine = 0.0; sine <= 1.0; sine += 0.25)
            cr_assert_float_eq(gradin_glazing_sigma(side_m[i][0], side_m[i][1], k, sine) /
                                   (k * k * s / (2.0 * GRADIN_PI)),
                               1.0, 0.01, "%d, sine %g", i, sine);
    }
}

Test(finite, a_large_pane_is_endless) {
    for (double deg = 0.0; deg < 80.0; deg += 20.0)
        cr_assert_float_eq(gradin_glazing_sigma(3.0, 4.0, 200.0, sin(gradin_rad(deg))) *
                               cos(gradin_rad(deg)),
                           1.0, 0.03, "%g deg", deg);
    cr_assert_float_eq(gradin_glazing_sigma(3.0, 4.0, 20.0, 0.5),
                       gradin_glazing_sigma(4.0, 3.0, 20.0, 0.5), 1e-12);
}

Test(finite, the_table_gives_back_what_it_was_made_of) {
    glazing_spatial_window window;
    gradin_glazing_spatial_window_make(1.25, 1.5, &window);
    for (int b = 0; b < GRADIN_N_BAND; b += 4) {
        double k = 2.0 * GRADIN_PI * gradin_band_mid_hz(b) / GRADIN_AIR_SPEED_MS;
        for (double s2 = 0.05; s2 < 1.4; s2 += 0.0731) {
            double exact = gradin_glazing_sigma(1.25, 1.5, k, sqrt(s2));
            cr_assert_float_eq(gradin_glazing_spatial_window_at(&window, b, s2).sigma / exact, 1.0,
                               0.03, "band %d, sin2 %g", b, s2);
        }
    }
}

/* A limp mass in a window: less gets in at low frequency than without size, and a large pane comes
 * near the average to 90 degrees. */
Test(finite, the_average_runs_from_piston_to_endless) {
    gradin_layer sheet = glass_limp(10.0);
    glazing_stack stack = glass_stack(&sheet, 1);
    glazing_spatial_window small, large;
    gradin_glazing_spatial_window_make(0.5, 0.5, &small);
    gradin_glazing_spatial_window_make(60.0, 60.0, &large);
    glazing_method method = gradin_glazing_method;
    method.limit_deg = 90.0;
    double endless = gradin_glazing_tau_diffuse(&stack, &method, 100.0);
    method.window = &small;
    cr_assert_lt(gradin_glazing_tau_diffuse(&stack, &method, 100.0), 0.3 * endless);
    method.window = &large;
    method.tolerance = 1e-4;
    cr_assert_float_eq(
        10.0 * log10(gradin_glazing_tau_diffuse(&stack, &method, 1000.0) /
                     pow(10.0, -0.1 * formula_mass_law_diffuse_db(
                                          GRADIN_PI * 1000.0 * 10.0 / (1.2041 * 343.2), 90.0))),
        0.0, 1.2);
}

Test(finite, sizes_reach_the_index) {
    gradin_layer pane = glass_pane(6);
    gradin_buildup buildup = {.name = "glass", .layer = &pane, .n_layer = 1};
    double none_db[GRADIN_N_BAND], small_db[GRADIN_N_BAND], large_db[GRADIN_N_BAND];
    cr_assert_eq(gradin_glazing_r_db(&buildup, none_db, NULL), GRADIN_OK);
    cr_assert_eq(gradin_glazing_finite_r_db(&buildup, 1.0, 1.0, small_db, NULL), GRADIN_OK);
    cr_assert_eq(gradin_glazing_finite_r_db(&buildup, 3.0, 4.0, large_db, NULL), GRADIN_OK);
    for (int b = 0; b < 6; b++) cr_assert_gt(small_db[b], large_db[b] + 1.0, "band %d", b);
    for (int b = 3; b < 13; b++) /* the sample lies between */
        cr_assert(none_db[b] < small_db[b] + 0.5 && none_db[b] > large_db[b] - 0.5, "band %d", b);
    cr_assert_eq(gradin_glazing_finite_r_db(&buildup, 0.0, 1.0, small_db, NULL), GRADIN_BAD_USE);
}
