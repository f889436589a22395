/* Transfer matrices, diffuse average and laminates against exact results. */
#include "support/formulas.h"
#include "unit/acoustics/glass.h"

#include <criterion/criterion.h>
#include <string.h>

static glazing_method fine_method(double limit_deg) {
    glazing_method method = gradin_glazing_method;
    method.limit_deg = limit_deg;
    method.tolerance = 1e-9;
    return method;
}

static double relative(double got, double expected) {
    return fabs(got / expected - 1.0);
}

static double limp_a(double mass_kgm2, double f_hz) {
    return GRADIN_PI * f_hz * mass_kgm2 / (GRADIN_AIR_DENSITY_KGM3 * GRADIN_AIR_SPEED_MS);
}

static double tau_of_db(double r_db) {
    return pow(10.0, -r_db / 10.0);
}

Test(glazing, a_limp_sheet_follows_the_exact_field_incidence_integral) {
    static const double limit_deg[] = {90.0, 78.0, 60.0}, mass[] = {0.05, 2.0, 10.0, 40.0};
    static const double f_hz[] = {50.0, 500.0, 5000.0};
    for (int i = 0; i < 36; i++) {
        double limit = limit_deg[i % 3], m = mass[i / 3 % 4], f = f_hz[i / 12];
        double a2 = pow(limp_a(m, f), 2), s2 = pow(sin(gradin_rad(limit)), 2);
        double exact = log((1.0 + a2) / (1.0 + a2 * (1.0 - s2))) / (a2 * s2);
        gradin_layer sheet = glass_limp(m);
        glazing_stack stack = glass_stack(&sheet, 1);
        glazing_method method = fine_method(limit);
        cr_assert_lt(relative(gradin_glazing_tau_diffuse(&stack, &method, f), exact), 1e-8,
                     "%g kg/m2 %g Hz to %g deg", m, f, limit);
        cr_assert_lt(relative(tau_of_db(formula_mass_law_diffuse_db(limp_a(m, f), limit)), exact),
                     1e-8, "closed form, %g kg/m2 %g Hz to %g deg", m, f, limit);
    }
}

/* Kronrod's rule is exact to ten digits on a function this smooth, which shows its nodes right;
 * Gauss's agrees well enough that nothing is refined, which shows its weights right. */
Test(glazing, one_kronrod_piece_integrates_a_smooth_function_to_ten_digits) {
    gradin_layer sheet = glass_limp(0.05);
    glazing_stack stack = glass_stack(&sheet, 1);
    glazing_method method = fine_method(60.0);
    method.tolerance = 1e9; /* never refined */
    double exact = tau_of_db(formula_mass_law_diffuse_db(limp_a(0.05, 2000.0), 60.0));
    double tau = gradin_glazing_tau_diffuse(&stack, &method, 2000.0);
    cr_assert_lt(relative(tau, exact), 1e-10);
    method.tolerance = 1e-8;
    cr_assert_eq(gradin_glazing_tau_diffuse(&stack, &method, 2000.0), tau);
}

Test(glazing, a_band_is_the_mean_of_tau_over_its_third_octave) {
    gradin_layer sheet = glass_limp(10.0);
    glazing_stack stack = glass_stack(&sheet, 1);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double tau = 0.0, mid_hz = gradin_band_mid_hz(b);
        for (int i = 0; i < 2000; i++) {
            double f = 1000.0 * pow(10.0, (b - 13 + (i + 0.5) / 2000.0 - 0.5) / 10.0);
            tau += tau_of_db(formula_mass_law_diffuse_db(limp_a(10.0, f), 78.0)) / 2000.0;
        }
        cr_assert_float_eq(
            10.0 * log10(gradin_glazing_tau_band(&stack, &gradin_glazing_method, mid_hz) / tau),
            0.0, 0.01, "band %d", b);
    }
}

static double surface_mass(double thickness_mm) {
    return 2.5 * thickness_mm;
}

static double closed_form(const char *quantity, const double *cell) {
    if (strcmp(quantity, "critical") == 0)
        return formula_critical_hz(cell[1] / 1000.0, 2500.0, 70e9, 0.22, 343.2);
    if (strcmp(quantity, "mass_law_500_hz") == 0) /* a = pi f m/(rho c) */
        return formula_mass_law_normal_db(GRADIN_PI * 500.0 * surface_mass(cell[1]) /
                                          (1.2041 * 343.2));
    return formula_mass_air_mass_hz(surface_mass(cell[1]), surface_mass(cell[3]), cell[2] / 1000.0,
                                    1.2041, 343.2);
}

Test(glazing, closed_forms_give_the_tabled_values) {
    double cell[GLASS_MAX_CELL];
    char quantity[32];
    int n_row = 0;
    FILE *file = glass_csv_open("plates/values.csv");
    for (; glass_csv_row(file, cell, quantity); n_row++) {
        double place = strcmp(quantity, "mass_law_500_hz") == 0 ? 0.005 : 0.05;
        if (strcmp(quantity, "critical") == 0) place = 0.5;
        cr_assert_float_eq(closed_form(quantity, cell), cell[4], 1.01 * place, "%s %g/%g/%g",
                           quantity, cell[1], cell[2], cell[3]);
    }
    glass_csv_close(file);
    cr_assert_eq(n_row, 20);
}

/* C. Hopkins, Sound Insulation, 2007, Table A2: reference/hopkins. */
Test(glazing, float_glass_has_the_handbooks_constants) {
    double cell[GLASS_MAX_CELL];
    char word[32];
    FILE *file = glass_csv_open("hopkins/plate-constants.csv");
    cr_assert_eq(glass_csv_row(file, cell, word), 7);
    glass_csv_close(file);
    gradin_layer pane = glass_pane(10.0);
    double plate_ms = sqrt(pane.young_pa / (1.0 - pane.poisson * pane.poisson) / pane.density_kgm3);
    cr_assert_eq(pane.density_kgm3, cell[1]);
    cr_assert_eq(pane.poisson, cell[2]);
    cr_assert_float_eq(plate_ms, cell[3], 1.0);
    cr_assert_float_eq(
        0.01 * formula_critical_hz(0.01, pane.density_kgm3, pane.young_pa, pane.poisson, cell[6]),
        cell[4], 0.05);
    cr_assert(pane.loss >= 0.003 && pane.loss <= 0.006);
}

Test(glazing, a_pane_at_normal_incidence_obeys_the_mass_law) {
    static const double f_hz[] = {50.0, 500.0, 5000.0};
    for (int i = 0; i < 3; i++) {
        gradin_layer pane = glass_pane(6.0);
        glazing_stack stack = glass_stack(&pane, 1);
        double exact = 1.0 / (1.0 + pow(limp_a(15.0, f_hz[i]), 2));
        double tau = gradin_glazing_tau(&stack, &gradin_glazing_method, 0.0, f_hz[i]);
        cr_assert_lt(relative(tau, exact), 1e-12, "%g Hz", f_hz[i]);
    }
}

Test(glazing, coincidence_lies_where_theory_puts_it) {
    static const double thickness_mm[] = {4.0, 6.0, 10.0, 19.0};
    for (int i = 0; i < 4; i++) {
        gradin_layer pane = glass_pane(thickness_mm[i]);
        glazing_stack stack = glass_stack(&pane, 1);
        double fc = formula_critical_hz(pane.thickness_m, 2500.0, GRADIN_GLASS_YOUNG_PA,
                                        GRADIN_GLASS_POISSON, 343.2);
        /* thin plate: sin2 theta = fc/f; shear and inertia put it a per cent higher */
        double sine2 = gradin_glazing_coincidence(&stack.part[0].panel, 2.0 * fc);
        cr_assert(sine2 > 0.5 && sine2 < 0.51, "%g mm: %g", thickness_mm[i], sine2);
        double best = 0.0, at = 0.0;
        for (double s2 = 0.3; s2 < 0.9; s2 += 0.0005) {
            double tau = gradin_glazing_tau(&stack, &gradin_glazing_method, s2, 2.0 * fc);
            if (tau > best) best = tau, at = s2;
        }
        cr_assert_float_eq(at, sine2, 0.002, "%g mm", thickness_mm[i]);
    }
}

Test(glazing, coincidence_of_a_laminate_balances_stiffness_and_mass) {
    gradin_layer layer[] = {glass_pane(4), glass_constant(0.76), glass_pane(6)};
    layer[1].shear_pa = 2e6; /* soft: its stiffness changes much with the wavenumber */
    for (double f = 500.0; f < 8000.0; f *= 1.5) {
        double w = 2.0 * GRADIN_PI * f;
        glazing_stack tuned = glass_tuned(layer, 3, f);
        glazing_panel panel = tuned.part[0].panel;
        double kx = w / GRADIN_AIR_SPEED_MS * sqrt(gradin_glazing_coincidence(&panel, f));
        double stiffness = creal(gradin_glazing_stiffness(&panel, kx, w));
        cr_assert_lt(relative(stiffness, w * w * panel.mass_kgm2), 0.01, "%g Hz", f);
    }
    gradin_layer sheet = glass_limp(10.0);
    glazing_stack limp = glass_stack(&sheet, 1);
    cr_assert(isinf(gradin_glazing_coincidence(&limp.part[0].panel, 500.0)));
}

Test(glazing, a_double_pane_resonates_at_its_mass_air_mass_frequency) {
    static const double mm[][3] = {{4, 16, 4}, {6, 12, 6}, {10, 12, 6}, {6, 100, 10}};
    for (int i = 0; i < 4; i++) {
        gradin_layer layer[] = {glass_pane(mm[i][0]), glass_air(mm[i][1]), glass_pane(mm[i][2])};
        glazing_stack stack = glass_stack(layer, 3);
        double f0 = formula_mass_air_mass_hz(surface_mass(mm[i][0]), surface_mass(mm[i][2]),
                                             mm[i][1] / 1000.0, 1.2041, 343.2);
        double best = 0.0, at = 0.0;
        for (double f = 0.5 * f0; f < 2.0 * f0; f *= 1.0005) {
            double tau = gradin_glazing_tau(&stack, &gradin_glazing_method, 0.0, f);
            if (tau > best) best = tau, at = f;
        }
        /* the closed form takes the gap as a spring without mass: 1 % at most here */
        cr_assert_float_eq(at, f0, 0.01 * f0, "%g/%g/%g", mm[i][0], mm[i][1], mm[i][2]);
    }
}

Test(glazing, the_gap_loss_along_the_panes_leaves_normal_incidence_alone) {
    gradin_layer layer[] = {glass_pane(6), glass_air(16), glass_pane(4)};
    glazing_stack stack = glass_stack(layer, 3);
    glazing_method other = gradin_glazing_method;
    other.lateral_pasm2 = 5000.0;
    double free = gradin_glazing_tau(&stack, &gradin_glazing_method, 0.0, 400.0);
    cr_assert_lt(relative(gradin_glazing_tau(&stack, &other, 0.0, 400.0), free), 1e-12);
    free = gradin_glazing_tau(&stack, &gradin_glazing_method, 0.7, 400.0);
    cr_assert_gt(relative(gradin_glazing_tau(&stack, &other, 0.7, 400.0), free), 0.1);
}

/* D of two plies by the formula of Ross, Ungar and Kerwin (from memory), in its own symbols. */
static double complex rku(double h1, double h2, double h3, double complex g2, double complex e,
                          double nu, double kx) {
    double complex k1 = e * h1 / (1 - nu * nu), k3 = e * h3 / (1 - nu * nu);
    double complex x = g2 / h2 / (kx * kx) * (1.0 / k1 + 1.0 / k3);
    double d = h2 + (h1 + h3) / 2.0;
    return (k1 * h1 * h1 + k3 * h3 * h3) / 12.0 + d * d * k1 * k3 / (k1 + k3) * x / (1.0 + x);
}

Test(glazing, two_plies_bend_by_the_formula_of_ross_ungar_and_kerwin) {
    static const double kx[] = {0.5, 5.0, 20.0, 90.0};
    gradin_layer layer[] = {glass_pane(4), glass_constant(0.76), glass_pane(6)};
    for (int i = 0; i < 4; i++) {
        double complex expected =
            rku(0.004, 0.00076, 0.006, GLASS_SHEAR_PA * (1.0 + GLASS_SHEAR_LOSS * I),
                GRADIN_GLASS_YOUNG_PA * (1.0 + GRADIN_GLASS_LOSS * I), GRADIN_GLASS_POISSON, kx[i]);
        double complex got = glass_bend(layer, 3, kx[i]);
        cr_assert_lt(cabs(got / expected - 1.0), 1e-9, "kx %g", kx[i]);
    }
}

Test(glazing, a_laminate_lies_between_its_loose_plies_and_one_solid_plate) {
    gradin_layer layer[] = {glass_pane(3), glass_constant(0.001), glass_pane(3),
                            glass_constant(0.001), glass_pane(3)};
    double ply = creal(glass_stack(layer, 1).part[0].panel.bend_nm);
    for (int i = 1; i < 5; i += 2) layer[i].shear_pa = 1e13;
    cr_assert_lt(relative(creal(glass_bend(layer, 5, 10.0)), 27.0 * ply), 0.002);
    for (int i = 1; i < 5; i += 2) layer[i].shear_pa = 1e-3;
    cr_assert_lt(relative(creal(glass_bend(layer, 5, 10.0)), 3.0 * ply), 1e-4);
}

static void reverse(const gradin_layer *layer, int n, gradin_layer *back) {
    for (int i = 0; i < n; i++) back[i] = layer[n - 1 - i];
}

Test(glazing, sound_passes_alike_both_ways) {
    gradin_layer layer[] = {glass_pane(4),        glass_constant(0.76), glass_pane(6),
                            glass_constant(1.52), glass_pane(3),        glass_air(12),
                            glass_pane(5),        glass_air(40),        glass_pane(8),
                            glass_constant(0.38), glass_pane(2)};
    gradin_layer back[11];
    reverse(layer, 11, back);
    glazing_stack there = glass_stack(layer, 11), home = glass_stack(back, 11);
    for (double s2 = 0.0; s2 < 1.0; s2 += 0.06)
        for (double f = 40.0; f < 6000.0; f *= 1.3) {
            double tau = gradin_glazing_tau(&there, &gradin_glazing_method, s2, f);
            cr_assert(tau >= 0.0 && tau <= 1.0, "%g Hz, sin2 %g: %g", f, s2, tau);
            cr_assert_lt(relative(gradin_glazing_tau(&home, &gradin_glazing_method, s2, f), tau),
                         1e-9, "%g Hz, sin2 %g", f, s2);
        }
    gradin_buildup one = {.layer = layer, .n_layer = 11}, two = {.layer = back, .n_layer = 11};
    double r1_db[GRADIN_N_BAND], r2_db[GRADIN_N_BAND];
    cr_assert_eq(gradin_glazing_r_db(&one, r1_db, NULL), GRADIN_OK);
    cr_assert_eq(gradin_glazing_r_db(&two, r2_db, NULL), GRADIN_OK);
    for (int b = 0; b < GRADIN_N_BAND; b++) cr_assert_float_eq(r1_db[b], r2_db[b], 1e-6);
}

Test(glazing, nothing_in_the_way_passes_everything) {
    glazing_stack none = {.n_panel = 0};
    for (double s2 = 0.0; s2 < 1.0; s2 += 0.1)
        cr_assert_eq(gradin_glazing_tau(&none, &gradin_glazing_method, s2, 500.0), 1.0);
    cr_assert_float_eq(gradin_glazing_tau_band(&none, &gradin_glazing_method, 500.0), 1.0, 1e-12);
}

Test(glazing, thicker_glass_is_better_at_low_frequency) {
    double before[GRADIN_N_BAND] = {0}, r_db[GRADIN_N_BAND];
    for (double mm = 3.0; mm <= 19.0; mm += 2.0) {
        gradin_layer pane = glass_pane(mm);
        gradin_buildup buildup = {.layer = &pane, .n_layer = 1};
        cr_assert_eq(gradin_glazing_r_db(&buildup, r_db, NULL), GRADIN_OK);
        for (int b = 0; b <= 6; b++) /* to 200 Hz, a third of the lowest fc */
            cr_assert_gt(r_db[b], before[b] + 0.5, "%g mm, band %d", mm, b);
        memcpy(before, r_db, sizeof before);
    }
}

Test(glazing, the_edge_passes_its_share_of_both_panes) {
    glazing_method method = fine_method(78.0), sealed = method;
    method.coupling = 0.0;
    method.n_frequency = sealed.n_frequency = 1;
    sealed.coupling = 0.1;
    sealed.coupling_most = 0.15;
    double k = 2.0 * GRADIN_PI * 2000.0 / GRADIN_AIR_SPEED_MS;
    for (int wide = 0; wide < 2; wide++) {
        gradin_layer layer[] = {glass_pane(6), glass_air(wide ? 60 : 16), glass_pane(10)};
        glazing_stack both = glass_stack(layer, 3), first = glass_stack(layer, 1);
        glazing_stack last = glass_stack(layer + 2, 1);
        double direct = gradin_glazing_tau_band(&both, &method, 2000.0);
        double edge = gradin_glazing_tau_band(&both, &sealed, 2000.0) - direct;
        double alone = sqrt(gradin_glazing_tau_band(&first, &sealed, 2000.0) *
                            gradin_glazing_tau_band(&last, &sealed, 2000.0));
        cr_assert_lt(relative(edge, (wide ? 0.1 / (k * 0.06) : 0.15) * alone), 1e-6, "wide %d",
                     wide);
    }
}

/* Foil outside stands before this path as well: the first pane passes on what it lets through. */
Test(glazing, what_lies_outside_stands_before_the_edge) {
    glazing_method method = fine_method(78.0), sealed = method;
    method.coupling = 0.0;
    method.n_frequency = sealed.n_frequency = 1;
    sealed.coupling = 0.1;
    sealed.coupling_most = 0.15; /* which is reached at 16 mm and 2 kHz */
    gradin_layer layer[] = {glass_limp(4), glass_air(80), glass_pane(6), glass_air(16),
                            glass_pane(10)};
    layer[0].kind = GRADIN_LAYER_SHEET;
    layer[0].resistance_pasm = INFINITY;
    glazing_stack all = glass_stack(layer, 5), first = glass_stack(layer, 3);
    glazing_stack last = glass_stack(layer + 4, 1);
    double edge = gradin_glazing_tau_band(&all, &sealed, 2000.0) -
                  gradin_glazing_tau_band(&all, &method, 2000.0);
    double alone = sqrt(gradin_glazing_tau_band(&first, &method, 2000.0) *
                        gradin_glazing_tau_band(&last, &method, 2000.0));
    cr_assert_lt(relative(edge, sealed.coupling_most * alone), 1e-6);
}

Test(glazing, bands_are_within_a_fifth_of_a_decibel_of_a_fine_average) {
    gradin_layer bare = glass_pane(6),
                 laminated[] = {glass_pane(5), glass_constant(0.76), glass_pane(5)};
    gradin_layer sealed[] = {glass_pane(6), glass_air(12), glass_pane(6)};
    gradin_layer wide[] = {glass_pane(10), glass_air(200), glass_pane(6)};
    bare.loss = 0.001;
    const gradin_layer *layer[] = {&bare, laminated, sealed, wide};
    static const int n_layer[] = {1, 3, 3, 3};
    glazing_method fine = gradin_glazing_method;
    fine.tolerance = 1e-4;
    fine.n_frequency = 64;
    for (int i = 0; i < 4; i++) {
        glazing_stack stack = glass_stack(layer[i], n_layer[i]);
        for (int b = 0; b < GRADIN_N_BAND; b++) {
            double f = gradin_band_mid_hz(b);
            double coarse = gradin_glazing_tau_band(&stack, &gradin_glazing_method, f);
            cr_assert_float_eq(10.0 * log10(coarse / gradin_glazing_tau_band(&stack, &fine, f)),
                               0.0, 0.2, "build %d, band %d", i, b);
        }
    }
}
