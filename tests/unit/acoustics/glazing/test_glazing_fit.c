/* Constants fitted to a measured curve: known ones come back, and foretell a neighbour. */
#include "gradin/acoustics/glazing.h"
#include "unit/acoustics/glass.h"

#include <criterion/criterion.h>

static void make_pane(gradin_layer *layer, double mm, double loss, double shear_pa) {
    layer[0] = layer[2] = glass_pane(mm);
    layer[1] = glass_constant(0.76);
    layer[0].loss = layer[2].loss = loss;
    layer[1].shear_pa = shear_pa;
}

static gradin_buildup laminate(gradin_layer *layer) {
    return (gradin_buildup){.name = "pane", .layer = layer, .n_layer = 3, .sample_m2 = NAN};
}

/* The curve of a pane of other constants, as if measured, with a scatter of `noise_db`. */
static gradin_buildup measured(gradin_layer *layer, double loss, double shear_pa, double noise_db) {
    make_pane(layer, 4.0, loss, shear_pa);
    gradin_buildup buildup = laminate(layer);
    cr_assert_eq(gradin_glazing_r_db(&buildup, buildup.measured_r_db, NULL), GRADIN_OK);
    for (int b = 0; b < GRADIN_N_BAND; b++)
        buildup.measured_r_db[b] += noise_db * (b % 3 == 0 ? 1.0 : b % 3 == 1 ? -1.0 : 0.0);
    buildup.is_measured = true;
    make_pane(layer, 4.0, GRADIN_GLASS_LOSS, GLASS_SHEAR_PA);
    return buildup;
}

Test(glazing_fit, known_constants_come_back) {
    static const double loss[] = {0.008, 0.05, 0.08}, shear_pa[] = {8e6, 30e6, 120e6};
    for (int i = 0; i < 3; i++) {
        gradin_layer layer[3];
        gradin_glazing_fit fit;
        gradin_buildup buildup = measured(layer, loss[i], shear_pa[i], 0.0);
        cr_assert_eq(gradin_glazing_fit_make(&buildup, &fit, NULL), GRADIN_OK);
        cr_assert_lt(fit.rms_db, 0.1, "%d: %.3f dB", i, fit.rms_db);
        cr_assert_gt(fit.rms_before_db, 5.0 * fit.rms_db, "%d", i);
        cr_assert_float_eq(fit.shear_pa / shear_pa[i], 1.0, 0.08, "%d: %g", i, fit.shear_pa);
        cr_assert_float_eq(fit.loss / loss[i], 1.0, 0.15, "%d: %g", i, fit.loss);
        cr_assert(!fit.is_at_bound);
    }
}

/* A viscoelastic interlayer is fitted as a constant one with the loss that it has at 1 kHz: a curve
 * that was made with this loss comes back, by its modulus, too. */
Test(glazing_fit, an_interlayer_keeps_its_loss_at_1_khz) {
    double complex at_1_khz_pa = gradin_relaxation_shear_pa(&gradin_pvb, 1000.0, 20.0);
    gradin_layer layer[3];
    gradin_glazing_fit fit;
    make_pane(layer, 4.0, 0.03, 40e6);
    layer[1].loss = cimag(at_1_khz_pa) / creal(at_1_khz_pa);
    cr_assert(layer[1].loss > 0.3 && layer[1].loss < 0.32, "%g", layer[1].loss);
    gradin_buildup buildup = laminate(layer);
    cr_assert_eq(gradin_glazing_r_db(&buildup, buildup.measured_r_db, NULL), GRADIN_OK);
    buildup.is_measured = true;
    make_pane(layer, 4.0, GRADIN_GLASS_LOSS, GLASS_SHEAR_PA);
    layer[1].relaxation = &gradin_pvb;
    layer[1].loss = 0.9; /* not asked for */
    buildup.temperature_c = 20.0;
    cr_assert_eq(gradin_glazing_fit_make(&buildup, &fit, NULL), GRADIN_OK);
    cr_assert_lt(fit.rms_db, 0.02, "%.4f dB", fit.rms_db);
    cr_assert_float_eq(fit.shear_pa / 40e6, 1.0, 0.03, "%g", fit.shear_pa);
}

Test(glazing_fit, scatter_stays_in_the_residuals) {
    gradin_layer layer[3];
    gradin_glazing_fit fit;
    gradin_buildup buildup = measured(layer, 0.04, 20e6, 1.0);
    cr_assert_eq(gradin_glazing_fit_make(&buildup, &fit, NULL), GRADIN_OK);
    cr_assert_float_eq(fit.rms_db, sqrt(14.0 / 21.0), 0.06);
    cr_assert_float_eq(fit.shear_pa / 20e6, 1.0, 0.25, "%g", fit.shear_pa);
}

/* A thicker pane of the same materials, predicted with the fitted values. */
Test(glazing_fit, one_measured_pane_foretells_its_neighbour) {
    gradin_layer layer[3], thick[3];
    gradin_glazing_fit fit;
    gradin_buildup both[2] = {measured(layer, 0.05, 15e6, 0.0), laminate(thick)};
    double true_db[GRADIN_N_BAND], r_db[GRADIN_N_BAND];
    make_pane(thick, 6.0, 0.05, 15e6);
    cr_assert_eq(gradin_glazing_r_db(&both[1], true_db, NULL), GRADIN_OK);
    make_pane(thick, 6.0, GRADIN_GLASS_LOSS, GLASS_SHEAR_PA);
    gradin_buildups all = {.buildup = both, .n_buildup = 2};
    gradin_arena *arena = gradin_arena_create();
    cr_assert_eq(gradin_glazing_fit_make(&both[0], &fit, NULL), GRADIN_OK);
    cr_assert_eq(gradin_glazing_fit_apply(arena, &fit, &all, NULL), GRADIN_OK);
    cr_assert_eq(gradin_glazing_r_db(&all.buildup[1], r_db, NULL), GRADIN_OK);
    for (int b = 0; b < GRADIN_N_BAND; b++)
        cr_assert_float_eq(r_db[b], true_db[b], 0.4, "band %d: %.2f %.2f", b, r_db[b], true_db[b]);
    cr_assert_eq(both[1].layer[1].shear_pa, GLASS_SHEAR_PA); /* the given stay */
    gradin_arena_destroy(arena);
}

Test(glazing_fit, a_single_pane_has_no_modulus_to_fit) {
    gradin_layer pane = glass_pane(6);
    gradin_buildup buildup = {.name = "float", .layer = &pane, .n_layer = 1};
    gradin_glazing_fit fit;
    pane.loss = 0.06;
    cr_assert_eq(gradin_glazing_r_db(&buildup, buildup.measured_r_db, NULL), GRADIN_OK);
    pane.loss = GRADIN_GLASS_LOSS;
    buildup.is_measured = true;
    cr_assert_eq(gradin_glazing_fit_make(&buildup, &fit, NULL), GRADIN_OK);
    cr_assert_float_eq(fit.loss, 0.06, 0.006);
    cr_assert(isnan(fit.shear_pa));
}

Test(glazing_fit, refuses_what_it_cannot_fit) {
    gradin_layer layer[3];
    gradin_glazing_fit fit;
    gradin_error error = {0};
    gradin_buildup buildup = measured(layer, 0.05, 15e6, 0.0);
    buildup.is_octave = true;
    cr_assert_eq(gradin_glazing_fit_make(&buildup, &fit, &error), GRADIN_BAD_INPUT);
    cr_assert_str_eq(error.diagnostic[0].text,
                     "build-up pane cannot be fitted: it needs layers and measured thirds");
    buildup.is_octave = buildup.is_measured = false;
    cr_assert_eq(gradin_glazing_fit_make(&buildup, &fit, NULL), GRADIN_BAD_INPUT);
    cr_assert_eq(gradin_glazing_fit_make(NULL, &fit, NULL), GRADIN_BAD_USE);
}
