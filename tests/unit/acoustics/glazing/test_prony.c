/* Shear modulus of interlayers by frequency and temperature: limits, the shift, and three published
 * descriptions of PVB against each other (reference/pvb, all from memory). */
#include "gradin/acoustics/glazing.h"
#include "support/formulas.h"
#include "unit/acoustics/glass.h"

#include <criterion/criterion.h>

static double relative(double got, double expected) {
    return fabs(got / expected - 1.0);
}

static gradin_relaxation read_chain(const char *name) {
    gradin_relaxation r = {.reference_c = 20.0};
    double cell[GLASS_MAX_CELL];
    char word[32];
    FILE *file = glass_csv_open(name);
    for (; glass_csv_row(file, cell, word) == 2; r.n_term++) {
        cr_assert_lt(r.n_term, GRADIN_MAX_RELAXATION);
        r.share[r.n_term] = cell[0];
        r.time_s[r.n_term] = cell[1];
    }
    glass_csv_close(file);
    return r;
}

/* Havriliak and Negami's form with the values of Koutsawa and Daya, 2007. */
static double complex koutsawa_daya_pa(double f_hz) {
    double complex inner = 1.0 + cpow(I * 2.0 * GRADIN_PI * f_hz * 0.3979, 1.0 - 0.46);
    return 0.235e9 + (0.479e6 - 0.235e9) * cpow(inner, -0.1946);
}

Test(prony, the_engine_holds_the_listed_chain) {
    gradin_relaxation listed = read_chain("pvb/pelayo-2017.csv");
    cr_assert_eq(listed.n_term, gradin_pvb.n_term);
    for (int i = 0; i < listed.n_term; i++) {
        cr_assert_float_eq(listed.share[i], gradin_pvb.share[i], 1e-12, "term %d", i);
        cr_assert_lt(relative(listed.time_s[i], gradin_pvb.time_s[i]), 1e-12, "term %d", i);
    }
}

/* One term, wt = 1: G = G0 (1 - g + g (1 + j)/2); the ends of the frequencies. */
Test(prony, one_term_is_a_standard_solid) {
    gradin_relaxation r = {.n_term = 1,
                           .instant_pa = 2e8,
                           .share = {0.9},
                           .time_s = {1.0 / (2.0 * GRADIN_PI * 500.0)},
                           .wlf_c1 = 10.0,
                           .wlf_c2_k = 90.0,
                           .reference_c = 20.0};
    double complex middle = gradin_relaxation_shear_pa(&r, 500.0, 20.0);
    cr_assert_lt(cabs(middle / (2e8 * (0.55 + 0.45 * I)) - 1.0), 1e-12);
    cr_assert_lt(cabs(gradin_relaxation_shear_pa(&r, 1e9, 20.0) / 2e8 - 1.0), 1e-5);
    cr_assert_lt(cabs(gradin_relaxation_shear_pa(&r, 1e-6, 20.0) / 2e7 - 1.0), 1e-5);
    /* 30 degC: log10 a = -10 10/100 = -1, so 5 kHz there is 500 Hz at 20 degC */
    cr_assert_lt(cabs(gradin_relaxation_shear_pa(&r, 5000.0, 30.0) / middle - 1.0), 1e-12);
}

Test(prony, published_descriptions_of_pvb_agree_within_a_factor_of_two) {
    static const double f_hz[] = {100, 250, 500, 1000, 2000, 4000}, c[] = {0, 10, 20, 30, 40};
    gradin_relaxation other = read_chain("pvb/van-duser-1999.csv");
    other.instant_pa = 0.471e9;
    other.wlf_c1 = 20.7;
    other.wlf_c2_k = 91.1;
    puts("temperature_c,f_hz,pelayo_mpa,van_duser_mpa,koutsawa_daya_mpa");
    for (int t = 0; t < 5; t++)
        for (int i = 0; i < 6; i++) {
            double first = cabs(gradin_relaxation_shear_pa(&gradin_pvb, f_hz[i], c[t]));
            double second = cabs(gradin_relaxation_shear_pa(&other, f_hz[i], c[t]));
            double third = c[t] == 20 ? cabs(koutsawa_daya_pa(f_hz[i])) : first;
            printf("%g,%g,%.1f,%.1f,%.1f\n", c[t], f_hz[i], first / 1e6, second / 1e6, third / 1e6);
            cr_assert(second / first > 0.5 && second / first < 2.0, "%g Hz %g C", f_hz[i], c[t]);
            cr_assert(third / first > 0.5 && third / first < 2.0, "%g Hz %g C", f_hz[i], c[t]);
        }
}

Test(prony, pvb_is_stiffer_when_cold_and_when_shaken_fast) {
    for (double c = -20.0; c < 60.0; c += 5.0)
        for (double f = 50.0; f < 6000.0; f *= 2.0) {
            double complex here = gradin_relaxation_shear_pa(&gradin_pvb, f, c);
            cr_assert_geq(creal(here), creal(gradin_relaxation_shear_pa(&gradin_pvb, f, c + 5.0)));
            cr_assert_leq(creal(here), creal(gradin_relaxation_shear_pa(&gradin_pvb, 2 * f, c)));
            cr_assert_geq(cimag(here), 0.0);
        }
}

static gradin_glazed at_temperature(gradin_arena *arena, const gradin_layer *layer, double c) {
    gradin_glazing_sheet sheet;
    gradin_buildup *buildup = gradin_arena_alloc(arena, 1, sizeof *buildup);
    gradin_buildups *all = gradin_arena_alloc(arena, 1, sizeof *all);
    *buildup = (gradin_buildup){
        .name = "pane", .layer = layer, .n_layer = 3, .temperature_c = c, .sample_m2 = NAN};
    *all = (gradin_buildups){.buildup = buildup, .n_buildup = 1};
    cr_assert_eq(gradin_glazing_compare(arena, all, NULL, &sheet, NULL), GRADIN_OK);
    return sheet.glazed[0];
}

/* Cold panes act as one plate with a dip near 12 kHz mm over their thickness, warm ones as two thin
 * plates: the critical frequency rises with temperature, and Rw with it (common practice, no
 * source). */
Test(prony, the_dip_of_a_laminate_moves_up_as_it_warms) {
    gradin_layer layer[] = {glass_pane(6), glass_pvb(0.76), glass_pane(6)};
    gradin_arena *arena = gradin_arena_create();
    double before_hz = 0.0;
    for (double c = -10.0; c <= 50.0; c += 10.0) {
        double hz = at_temperature(arena, layer, c).critical_hz[0];
        cr_assert_gt(hz, before_hz, "%g C: %g Hz", c, hz);
        before_hz = hz;
    }
    gradin_glazed cold = at_temperature(arena, layer, -10.0),
                  warm = at_temperature(arena, layer, 40.0);
    /* as one plate of all its thickness but for the interlayer's tenth of a per cent of stiffness
     */
    double whole_hz =
        formula_critical_hz(0.01276, 2414.0, GRADIN_GLASS_YOUNG_PA, GRADIN_GLASS_POISSON, 343.2);
    cr_assert(cold.critical_hz[0] > whole_hz && cold.critical_hz[0] < 1.08 * whole_hz, "%g %g",
              cold.critical_hz[0], whole_hz);
    cr_assert_lt(warm.critical_hz[0], formula_critical_hz(0.006, 2500.0, GRADIN_GLASS_YOUNG_PA,
                                                          GRADIN_GLASS_POISSON, 343.2));
    cr_assert_gt(warm.predicted.ratings.rw.rating_db, cold.predicted.ratings.rw.rating_db + 3);
    cr_assert_gt(warm.predicted.r_db[13], cold.predicted.r_db[13] + 5.0); /* 1 kHz */
    gradin_arena_destroy(arena);
}

Test(prony, chains_that_cannot_be_are_refused) {
    for (int what = 0; what < 6; what++) {
        gradin_relaxation r = gradin_pvb;
        gradin_layer layer[] = {glass_pane(6), glass_pvb(0.76), glass_pane(6)};
        gradin_buildup buildup = {.name = "bad", .layer = layer, .n_layer = 3};
        double r_db[GRADIN_N_BAND];
        layer[1].relaxation = &r;
        if (what == 1) r.n_term = 0;
        if (what == 2) r.share[0] = 0.9;
        if (what == 3) r.time_s[4] = 0.0;
        if (what == 4) r.instant_pa = NAN;
        if (what == 5) r.wlf_c2_k = 20.0; /* at 0 degC, 20 below the reference */
        cr_assert_eq(gradin_glazing_r_db(&buildup, r_db, NULL), what ? GRADIN_BAD_INPUT : GRADIN_OK,
                     "%d", what);
    }
}

/* Natural frequency and loss, per cent, of a beam 7.9 + 0.38 + 3.75 mm at 30 degC for a wavenumber,
 * by the formula of Ross, Ungar and Kerwin with the engine's PVB. */
static double beam_mode_hz(double kx, double *loss_pct) {
    const double e = 70e9, h1 = 7.9e-3, h2 = 0.38e-3, h3 = 3.75e-3, d = h2 + (h1 + h3) / 2.0;
    const double mass = 2500.0 * (h1 + h3) + 1070.0 * h2, k = e * h1 * h3 / (h1 + h3);
    double hz = 50.0;
    for (int i = 0; i < 60; i++) {
        double complex g = gradin_relaxation_shear_pa(&gradin_pvb, hz, 30.0) / h2;
        double complex bend =
            e * (h1 * h1 * h1 + h3 * h3 * h3) / 12.0 + d * d * k * g / (g + kx * kx * k);
        hz = kx * kx * sqrt(creal(bend) / mass) / (2.0 * GRADIN_PI);
        *loss_pct = 100.0 * cimag(bend) / creal(bend);
    }
    return hz;
}

/* Measured modes of a free laminated beam (reference/laminated-beam): wavenumbers of a free beam of
 * 1 m; E of its glass from its first mode's source, 70 GPa. The simply supported ones follow the
 * published finite elements, whose frequency the measured support exceeds by 7 % in its first mode.
 */
Test(prony, modes_of_a_laminated_beam_are_foretold) {
    static const double free_1m[] = {4.7300, 7.8532, 10.9956};
    double cell[GLASS_MAX_CELL];
    char word[32];
    FILE *file = glass_csv_open("laminated-beam/modes.csv");
    while (glass_csv_row(file, cell, word) == 6) {
        bool is_free = word[0] == 'f';
        int mode = (int)cell[1];
        double loss_pct,
            hz = beam_mode_hz(is_free ? free_1m[mode - 1] : mode * GRADIN_PI, &loss_pct);
        printf("%s %d: %.1f Hz, %.2f %%\n", word, mode, hz, loss_pct);
        cr_assert_lt(relative(hz, is_free ? cell[2] : cell[4]), 0.03, "%s %d: %g Hz", word, mode,
                     hz);
        cr_assert_float_eq(loss_pct, cell[3], is_free ? 0.7 : 0.8, "%s %d: %g %%", word, mode,
                           loss_pct);
    }
    glass_csv_close(file);
}
