/* Build-ups: measured ones, mass, and what is refused. */
#include "unit/acoustics/glass.h"

#include <criterion/criterion.h>
#include <string.h>

static gradin_buildup measured_run(int first, int last) {
    gradin_buildup buildup = {.name = "measured", .is_measured = true};
    for (int b = 0; b < GRADIN_N_BAND; b++)
        buildup.measured_r_db[b] = b < first || b > last ? NAN : 20.0 + 0.7 * b;
    return buildup;
}

Test(glazing_buildups, measured_values_come_back_as_given) {
    gradin_buildup buildup = measured_run(0, 20);
    double r_db[GRADIN_N_BAND];
    cr_assert_eq(gradin_glazing_r_db(&buildup, r_db, NULL), GRADIN_OK);
    for (int b = 0; b < GRADIN_N_BAND; b++) cr_assert_eq(r_db[b], 20.0 + 0.7 * b);
    cr_assert_eq(gradin_glazing_mass_kgm2(&buildup), 0.0);
    buildup.measured_r_db[4] = NAN;
    cr_assert_eq(gradin_glazing_r_db(&buildup, r_db, NULL), GRADIN_BAD_INPUT);
    buildup.measured_r_db[4] = INFINITY;
    cr_assert_eq(gradin_glazing_r_db(&buildup, r_db, NULL), GRADIN_BAD_INPUT);
    buildup = measured_run(30, 0);
    cr_assert_eq(gradin_glazing_r_db(&buildup, r_db, NULL), GRADIN_BAD_INPUT);
}

/* Most reports begin at 100 or 125 Hz. Without layers the nearest value stays; with layers the
 * prediction moves to the three nearest bands, so that a report of the prediction itself plus 2 dB
 * comes back whole. */
Test(glazing_buildups, bands_beyond_a_report_are_filled) {
    gradin_layer pane = glass_pane(6);
    gradin_buildup buildup = measured_run(3, 18), whole = {.layer = &pane, .n_layer = 1};
    double r_db[GRADIN_N_BAND], whole_db[GRADIN_N_BAND];
    cr_assert_eq(gradin_glazing_r_db(&buildup, r_db, NULL), GRADIN_OK);
    for (int b = 0; b < 3; b++) cr_assert_eq(r_db[b], 20.0 + 0.7 * 3);
    for (int b = 19; b < 21; b++) cr_assert_eq(r_db[b], 20.0 + 0.7 * 18);
    cr_assert_eq(gradin_glazing_r_db(&whole, whole_db, NULL), GRADIN_OK);
    buildup.layer = &pane;
    buildup.n_layer = 1;
    for (int b = 3; b <= 18; b++) buildup.measured_r_db[b] = whole_db[b] + 2.0;
    cr_assert_eq(gradin_glazing_r_db(&buildup, r_db, NULL), GRADIN_OK);
    for (int b = 0; b < GRADIN_N_BAND; b++)
        cr_assert_float_eq(r_db[b], whole_db[b] + 2.0, 1e-9, "band %d", b);
    cr_assert_eq(gradin_glazing_finite_r_db(&buildup, 1.0, 1.0, r_db, NULL), GRADIN_OK);
    cr_assert_float_eq(r_db[0], whole_db[0] + 2.0, 1e-9); /* of the sample, whatever the pane */
}

Test(glazing_buildups, mass_counts_plates_and_interlayers) {
    gradin_layer layer[] = {glass_pane(6), glass_air(12), glass_pane(5), glass_constant(0.76),
                            glass_pane(5)};
    gradin_buildup buildup = {.layer = layer, .n_layer = 5};
    cr_assert_float_eq(gradin_glazing_mass_kgm2(&buildup), 40.0 + 1.070 * 0.76, 1e-12);
    glazing_stack stack = glass_stack(layer, 5);
    cr_assert_float_eq(gradin_glazing_panel_at(&stack, 1)->mass_kgm2, 25.0 + 1.070 * 0.76, 1e-12);
}

typedef enum change {
    NO_CHANGE,
    NO_THICKNESS,
    NAN_DENSITY,
    NEGATIVE_YOUNG,
    HALF_POISSON,
    NEGATIVE_LOSS,
    NO_SPEED,
    NO_SHEAR,
    INFINITE_LOSS,
    LIMP_LAMINATE,
    NO_KIND,
    N_CHANGE
} change;

static int spoil(gradin_layer *layer, change what) {
    switch (what) {
    case NO_THICKNESS:
        layer[0].thickness_m = 0.0;
        return 5;
    case NAN_DENSITY:
        layer[1].density_kgm3 = NAN;
        return 5;
    case NEGATIVE_YOUNG:
        layer[2].young_pa = -1.0;
        return 5;
    case HALF_POISSON:
        layer[2].poisson = 0.5;
        return 5;
    case NEGATIVE_LOSS:
        layer[2].loss = -0.1;
        return 5;
    case NO_SPEED:
        layer[1].speed_ms = 0.0;
        return 5;
    case NO_SHEAR:
        layer[3].shear_pa = 0.0;
        return 5;
    case INFINITE_LOSS:
        layer[3].loss = INFINITY;
        return 5;
    case LIMP_LAMINATE:
        layer[4].young_pa = 0.0;
        return 5;
    case NO_KIND:
        layer[1].kind = (gradin_layer_kind)7;
        return 5;
    default:
        return 5;
    }
}

Test(glazing_buildups, build_ups_that_no_theory_covers_are_refused) {
    for (int what = NO_CHANGE; what < N_CHANGE; what++) {
        gradin_layer layer[] = {glass_pane(6), glass_air(12), glass_pane(5), glass_constant(0.76),
                                glass_pane(5)};
        gradin_buildup buildup = {.name = "spoilt", .layer = layer};
        gradin_error error = {0};
        double r_db[GRADIN_N_BAND];
        buildup.n_layer = spoil(layer, (change)what);
        gradin_status expected = what == NO_CHANGE ? GRADIN_OK : GRADIN_BAD_INPUT;
        cr_assert_eq(gradin_glazing_r_db(&buildup, r_db, &error), expected, "change %d", what);
        cr_assert_eq(error.n_diagnostic, what == NO_CHANGE ? 0 : 1, "change %d", what);
        if (what != NO_CHANGE)
            cr_assert_not_null(strstr(error.diagnostic[0].text, "spoilt"), "change %d", what);
    }
}

Test(glazing_buildups, twenty_five_layers_are_refused) {
    gradin_layer layer[25];
    for (int i = 0; i < 25; i++) layer[i] = i % 2 ? glass_air(12) : glass_pane(4);
    gradin_buildup buildup = {.layer = layer, .n_layer = 25};
    double r_db[GRADIN_N_BAND];
    cr_assert_eq(gradin_glazing_r_db(&buildup, r_db, NULL), GRADIN_BAD_INPUT);
    buildup.n_layer = 23;
    cr_assert_eq(gradin_glazing_r_db(&buildup, r_db, NULL), GRADIN_OK);
}

Test(glazing_buildups, calls_without_what_they_need_are_refused) {
    gradin_layer pane = glass_pane(6);
    gradin_buildup buildup = {.layer = &pane, .n_layer = 1}, empty = {.layer = &pane};
    gradin_buildup missing = {.n_layer = 1};
    double r_db[GRADIN_N_BAND];
    cr_assert_eq(gradin_glazing_r_db(NULL, r_db, NULL), GRADIN_BAD_USE);
    cr_assert_eq(gradin_glazing_r_db(&buildup, NULL, NULL), GRADIN_BAD_USE);
    cr_assert_eq(gradin_glazing_r_db(&empty, r_db, NULL), GRADIN_BAD_USE);
    cr_assert_eq(gradin_glazing_r_db(&missing, r_db, NULL), GRADIN_BAD_USE);
    cr_assert_eq(gradin_glazing_mass_kgm2(NULL), 0.0);
}
