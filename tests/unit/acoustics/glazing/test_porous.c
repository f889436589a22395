/* Fibres, cloth and shades made of layers. */
#include "support/formulas.h"
#include "unit/acoustics/glass.h"

#include <criterion/criterion.h>

static const double air_pasm = GRADIN_AIR_DENSITY_KGM3 * GRADIN_AIR_SPEED_MS;

static gradin_layer cloth(double kgm2, double resistance_pasm) {
    return (gradin_layer){.kind = GRADIN_LAYER_SHEET,
                          .thickness_m = 0.001,
                          .density_kgm3 = kgm2 / 0.001,
                          .resistance_pasm = resistance_pasm};
}

/* A screen at rest of flow resistance r: tau = 1/(1 + b cos)2, b = r/(2 rho c); its diffuse mean to
 * 90 degrees is 2/b2 (ln(1 + b) + 1/(1 + b) - 1), derived. */
Test(sheet, a_heavy_screen_is_its_flow_resistance) {
    static const double r[] = {50.0, 400.0, 5000.0};
    for (int i = 0; i < 3; i++) {
        gradin_layer screen = cloth(1e7, r[i]);
        glazing_stack stack = glass_stack(&screen, 1);
        glazing_method method = gradin_glazing_method;
        method.limit_deg = 90.0;
        method.tolerance = 1e-8;
        double b = r[i] / (2.0 * air_pasm);
        double exact = 2.0 / (b * b) * (log1p(b) + 1.0 / (1.0 + b) - 1.0);
        cr_assert_float_eq(gradin_glazing_tau_diffuse(&stack, &method, 500.0) / exact, 1.0, 1e-5,
                           "%g Pa s/m", r[i]);
        cr_assert_float_eq(gradin_glazing_tau(&stack, &method, 0.0, 500.0),
                           1.0 / ((1.0 + b) * (1.0 + b)), 1e-6);
    }
}

/* Airtight cloth is a limp mass; a light open one moves along and lets all pass. */
Test(sheet, mass_and_resistance_stand_side_by_side) {
    gradin_layer tight = cloth(0.5, INFINITY), limp = glass_limp(0.5), light = cloth(1e-6, 500.0);
    glazing_stack a = glass_stack(&tight, 1), b = glass_stack(&limp, 1), c = glass_stack(&light, 1);
    for (double f = 50.0; f < 6000.0; f *= 3.0) {
        cr_assert_float_eq(gradin_glazing_tau(&a, &gradin_glazing_method, 0.3, f) /
                               gradin_glazing_tau(&b, &gradin_glazing_method, 0.3, f),
                           1.0, 1e-12);
        cr_assert_gt(gradin_glazing_tau(&c, &gradin_glazing_method, 0.0, f), 0.999);
    }
    cr_assert_eq(
        gradin_glazing_mass_kgm2(&(gradin_buildup){.name = "cloth", .layer = &tight, .n_layer = 1}),
        0.5);
}

/* M. E. Delany, E. N. Bazley, Appl. Acoust. 3 (1970) 105-116 (from memory), X = 1000 f/r:
 * Zc/(rho c) = 1 + 9.08 X^-0.75 - j 11.9 X^-0.73, k c/w = 1 + 10.8 X^-0.70 - j 10.3 X^-0.59. */
static void delany_bazley(double resistivity, double f, double complex *z, double complex *k) {
    double x = 1000.0 * f / resistivity;
    *z = air_pasm * (1.0 + 9.08 * pow(x, -0.75) - I * 11.9 * pow(x, -0.73));
    *k = 2.0 * GRADIN_PI * f / GRADIN_AIR_SPEED_MS *
         (1.0 + 10.8 * pow(x, -0.70) - I * 10.3 * pow(x, -0.59));
}

Test(porous, miki_lies_near_delany_and_bazley_in_their_common_range) {
    for (double x = 0.012; x < 1.0; x *= 1.3) { /* m3/kg */
        glazing_fluid fluid = {.thickness_m = 0.05};
        double complex z, k;
        gradin_porous_fluid(1000.0 / x, 1000.0, &fluid);
        delany_bazley(1000.0 / x, 1000.0, &z, &k);
        double complex k_own = csqrt(fluid.k2_1m2);
        cr_assert_lt(cimag(k_own), 0.0);
        cr_assert_lt(cabs(k_own / k - 1.0), 0.12, "X %g: k %g", x, cabs(k_own / k - 1.0));
        cr_assert_lt(cabs(fluid.inertia_pasm2 / k_own / z - 1.0), 0.12, "X %g", x);
    }
    glazing_fluid air;
    gradin_porous_fluid(1e-4, 1000.0, &air);
    cr_assert_float_eq(creal(csqrt(air.k2_1m2)) * GRADIN_AIR_SPEED_MS / (2000.0 * GRADIN_PI), 1.0,
                       1e-3);
}

/* A thin layer of fibres holds sound up as a screen of resistivity times thickness. */
Test(porous, a_thin_layer_is_a_screen) {
    gradin_layer felt = {
        .kind = GRADIN_LAYER_POROUS, .thickness_m = 0.002, .resistivity_pasm2 = 2e4};
    gradin_layer screen = cloth(1e7, 2e4 * 0.002);
    glazing_stack a = glass_stack(&felt, 1), b = glass_stack(&screen, 1);
    double tau_a = gradin_glazing_tau(&a, &gradin_glazing_method, 0.0, 400.0);
    double tau_b = gradin_glazing_tau(&b, &gradin_glazing_method, 0.0, 400.0);
    cr_assert_float_eq(10.0 * log10(tau_a / tau_b), 0.0, 0.1);
}

static void insertion(const gradin_layer *shade, int n, double *loss_db) {
    gradin_layer pane = glass_pane(8);
    gradin_buildup glass = {.name = "glass", .layer = &pane, .n_layer = 1};
    cr_assert_eq(gradin_glazing_insertion_db(&glass, shade, n, 0.0, 0.0, loss_db, NULL), GRADIN_OK);
}

/* Airtight foil: worse than none at the resonance of glass, air and foil, (1/2 pi) sqrt(rho c2
 * (1/m1
 * + 1/m2)/d) at normal incidence, 12 dB an octave and more above it. Open cloth with a flow
 * resistance damps and never does harm. */
Test(shade, foil_resonates_and_cloth_damps) {
    gradin_layer foil[] = {glass_air(150), cloth(0.8, INFINITY)};
    gradin_layer open[] = {glass_air(150), cloth(0.8, 400.0)};
    double foil_db[GRADIN_N_BAND], open_db[GRADIN_N_BAND];
    insertion(foil, 2, foil_db);
    insertion(open, 2, open_db);
    double f0 = formula_mass_air_mass_hz(20.0, 0.8, 0.15, 1.2041, 343.2); /* 157 Hz */
    int at = (int)lround(10.0 * log10(f0 / 50.0));
    cr_assert_lt(foil_db[at + 1], -1.0, "%.0f Hz: %.1f dB", f0, foil_db[at + 1]);
    cr_assert_gt(foil_db[18], 12.0);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        cr_assert_gt(open_db[b], -0.7, "band %d: %.2f dB", b, open_db[b]);
        cr_assert_lt(open_db[b], 9.0, "band %d: %.2f dB", b, open_db[b]);
    }
    cr_assert_gt(open_db[18], 1.5); /* 2.3 as a screen of its own */
}

/* Far below any resonance a curtain is a screen that air and pane carry along. */
Test(shade, cloth_neither_helps_nor_harms_at_low_frequency) {
    static const double r_pasm[] = {100.0, 400.0, 1500.0, INFINITY};
    for (int i = 0; i < 4; i++) {
        gradin_layer curtain[] = {glass_air(150), cloth(0.45, r_pasm[i])};
        double loss_db[GRADIN_N_BAND];
        insertion(curtain, 2, loss_db);
        for (int b = 0; b < 3; b++) /* 50 to 80 Hz; resonance 218 Hz */
            cr_assert(loss_db[b] > -1.0 && loss_db[b] < 2.5, "%g Pa s/m, band %d: %.2f dB",
                      r_pasm[i], b, loss_db[b]);
    }
}

Test(shade, next_to_nothing_loses_nothing) {
    gradin_layer none[] = {glass_air(100), cloth(1e-6, 1.0)};
    double loss_db[GRADIN_N_BAND];
    insertion(none, 2, loss_db);
    for (int b = 0; b < GRADIN_N_BAND; b++)
        cr_assert_float_eq(loss_db[b], 0.0, 0.05, "band %d: %.2f", b, loss_db[b]);
}

Test(shade, uses_that_make_no_sense_are_refused) {
    gradin_layer pane = glass_pane(8), many[24];
    gradin_buildup glass = {.name = "glass", .layer = &pane, .n_layer = 1};
    gradin_buildup measured = {.name = "measured", .is_measured = true};
    double loss_db[GRADIN_N_BAND];
    for (int i = 0; i < 24; i++) many[i] = glass_air(10);
    cr_assert_eq(gradin_glazing_insertion_db(&glass, many, 23, 0, 0, loss_db, NULL), GRADIN_OK);
    cr_assert_eq(gradin_glazing_insertion_db(&glass, many, 24, 0, 0, loss_db, NULL),
                 GRADIN_BAD_INPUT);
    cr_assert_eq(gradin_glazing_insertion_db(&measured, many, 1, 0, 0, loss_db, NULL),
                 GRADIN_BAD_USE);
}
