/* Thick plates and layers in any order: Mindlin's limits, full elasticity as the judge of both
 * plate theories, and what the linear system of layered.c must keep. */
#include "unit/acoustics/glass.h"

#include <criterion/criterion.h>
#include <stdio.h>

static double relative(double got, double expected) {
    return fabs(got / expected - 1.0);
}

static double complex stiffness(const gradin_layer *pane, double kx, double w) {
    glazing_stack stack = glass_stack(pane, 1);
    return gradin_glazing_stiffness(&stack.part[0].panel, kx, w);
}

/* Thin limit: D kx4 of Kirchhoff's plate, from which the difference falls as h2. */
Test(thick, a_thin_plate_is_kirchhoffs) {
    double before = 1.0;
    for (double mm = 10.0; mm > 0.1; mm /= 2.0) {
        gradin_layer pane = glass_pane(mm);
        double h = pane.thickness_m, kx = 30.0;
        double complex thin = GRADIN_GLASS_YOUNG_PA * (1.0 + GRADIN_GLASS_LOSS * I) * pow(h, 3) /
                              12.0 / (1.0 - GRADIN_GLASS_POISSON * GRADIN_GLASS_POISSON) *
                              pow(kx, 4);
        double w = sqrt(creal(thin) / (2500.0 * h)); /* of the thin plate's free wave */
        double apart = cabs(stiffness(&pane, kx, w) / thin - 1.0);
        cr_assert_lt(apart, mm < 5.0 ? 0.27 * before : before, "%g mm: %g", mm, apart);
        before = apart;
    }
    cr_assert_lt(before, 1e-5);
}

/* Rayleigh's equation, J. W. S. Rayleigh, Proc. London Math. Soc. 17 (1885) 4-11: for x = (cR/cT)2,
 * (2 - x)^4 = 16 (1 - x)(1 - x q), q = (1 - 2 nu)/(2 - 2 nu); by bisection. */
static double rayleigh_over_shear(double nu) {
    double low = 0.3, high = 0.999, q = (1.0 - 2.0 * nu) / (2.0 - 2.0 * nu);
    for (int i = 0; i < 100; i++) {
        double x = 0.5 * (low + high);
        if (pow(2.0 - x, 4) < 16.0 * (1.0 - x) * (1.0 - x * q))
            low = x;
        else
            high = x;
    }
    return sqrt(low);
}

/* Short free waves on the plate run as fast as Rayleigh's. */
Test(thick, short_waves_reach_rayleighs_speed) {
    static const double poisson[] = {0.1, 0.22, 0.3, 0.4};
    for (int i = 0; i < 4; i++) {
        gradin_layer pane = glass_pane(10.0);
        pane.poisson = poisson[i];
        pane.loss = 0.0;
        double shear_ms = sqrt(GRADIN_GLASS_YOUNG_PA / (2.0 * (1.0 + poisson[i])) / 2500.0),
               kx = 1e5;
        double low = 0.5 * shear_ms, high = shear_ms; /* stiffness less mass falls with speed */
        for (int step = 0; step < 60; step++) {
            double c = 0.5 * (low + high), w = c * kx;
            if (creal(stiffness(&pane, kx, w)) > w * w * 25.0)
                low = c;
            else
                high = c;
        }
        cr_assert_lt(relative(low / shear_ms, rayleigh_over_shear(poisson[i])), 0.006, "nu %g: %g",
                     poisson[i], low / shear_ms);
    }
}

/* The same layers, each an elastic one. */
static glazing_stack elastic(const gradin_layer *layer, int n) {
    glazing_stack stack = {.n_layer = n, .n_part = n, .temperature_c = 20.0};
    double mass_kgm2 = 0.0;
    for (int i = 0; i < n; i++) mass_kgm2 += layer[i].density_kgm3 * layer[i].thickness_m;
    for (int i = 0; i < n; i++) {
        stack.layer[i] = layer[i];
        stack.part[i] = (glazing_part){.kind = GLAZING_SOLID, .layer = i, .run_kgm2 = mass_kgm2};
    }
    return stack;
}

static double apart_db(const gradin_layer *layer, int n) {
    glazing_stack panel = glass_stack(layer, n), solid = elastic(layer, n);
    double worst_db = 0.0;
    glazing_method fine = gradin_glazing_method;
    fine.tolerance = 0.005;
    for (int b = 0; b < GRADIN_N_BAND; b += 2) {
        double f = gradin_band_mid_hz(b);
        double by_panel = gradin_glazing_tau_band(&panel, &fine, f);
        double by_solid = gradin_glazing_tau_band(&solid, &fine, f);
        worst_db = fmax(worst_db, fabs(10.0 * log10(by_panel / by_solid)));
    }
    return worst_db;
}

Test(thick, bands_of_thick_glass_are_those_of_the_elastic_layer) {
    static const double mm[] = {3.0, 10.0, 25.0, 60.0};
    for (int i = 0; i < 4; i++) {
        gradin_layer pane = glass_pane(mm[i]);
        pane.loss = 0.02; /* as held: what eight frequencies of a band resolve */
        cr_assert_lt(apart_db(&pane, 1), mm[i] < 30.0 ? 0.25 : 0.7, "%g mm: %g dB", mm[i],
                     apart_db(&pane, 1));
        printf("%g mm: %.3f dB\n", mm[i], apart_db(&pane, 1));
    }
}

/* Ross, Ungar and Kerwin's panel with the shear and inertia of its plies against elastic layers. */
Test(thick, bands_of_laminates_are_those_of_elastic_layers) {
    gradin_layer thin[] = {glass_pane(4), glass_pvb(0.76), glass_pane(4)};
    gradin_layer thick[] = {glass_pane(12), glass_pvb(1.52), glass_pane(8)};
    gradin_layer soft[] = {glass_pane(6), glass_constant(0.76), glass_pane(6)};
    soft[1].shear_pa = 3e6;
    printf("laminates: %.3f %.3f %.3f dB\n", apart_db(thin, 3), apart_db(thick, 3),
           apart_db(soft, 3));
    cr_assert_lt(apart_db(thin, 3), 0.2, "thin: %g dB", apart_db(thin, 3));
    cr_assert_lt(apart_db(thick, 3), 0.3, "thick: %g dB", apart_db(thick, 3));
    cr_assert_lt(apart_db(soft, 3), 0.3, "soft: %g dB", apart_db(soft, 3));
}

Test(thick, a_plate_cut_in_two_and_glued_is_the_same_plate) {
    gradin_layer halves[] = {glass_pane(7), glass_pane(5)}, whole = glass_pane(12);
    glazing_stack two = glass_stack(halves, 2), one = elastic(&whole, 1);
    cr_assert(!two.is_chain && two.n_part == 2);
    for (double s2 = 0.0; s2 < 1.0; s2 += 0.09)
        for (double f = 60.0; f < 6000.0; f *= 2.1) {
            double tau = gradin_glazing_tau(&two, &gradin_glazing_method, s2, f);
            double same = gradin_glazing_tau(&one, &gradin_glazing_method, s2, f);
            cr_assert_lt(relative(tau, same), 1e-6, "%g Hz, sin2 %g: %g", f, s2, tau / same - 1.0);
        }
}

static gradin_layer fibres(double mm) {
    return (gradin_layer){
        .kind = GRADIN_LAYER_POROUS, .thickness_m = mm / 1000.0, .resistivity_pasm2 = 12000.0};
}

static gradin_layer cloth(double kgm2, double resistance_pasm) {
    return (gradin_layer){.kind = GRADIN_LAYER_SHEET,
                          .thickness_m = 0.001,
                          .density_kgm3 = kgm2 / 0.001,
                          .resistance_pasm = resistance_pasm};
}

Test(layered, any_order_passes_alike_both_ways_and_never_more_than_all) {
    gradin_layer layer[] = {glass_constant(0.76), glass_pane(5),        glass_pane(4),
                            glass_air(12),        cloth(0.4, 900.0),    fibres(30),
                            glass_pane(3),        glass_constant(0.38), glass_constant(1.52),
                            glass_pane(6),        cloth(2.0, INFINITY), glass_air(30)};
    gradin_layer back[12];
    for (int i = 0; i < 12; i++) back[i] = layer[11 - i];
    glazing_stack there = glass_stack(layer, 12), home = glass_stack(back, 12);
    for (double s2 = 0.0; s2 < 1.0; s2 += 0.07)
        for (double f = 40.0; f < 6000.0; f *= 1.6) {
            double tau = gradin_glazing_tau(&there, &gradin_glazing_method, s2, f);
            cr_assert(tau >= 0.0 && tau <= 1.0, "%g Hz, sin2 %g: %g", f, s2, tau);
            cr_assert_lt(relative(gradin_glazing_tau(&home, &gradin_glazing_method, s2, f), tau),
                         1e-6, "%g Hz, sin2 %g", f, s2);
        }
}

/* Air before, between or behind changes nothing without loss, by either way; nor does nothing. */
Test(layered, air_is_nothing) {
    glazing_method free = gradin_glazing_method;
    free.gap_loss = free.lateral_pasm2 = 0.0;
    gradin_layer air[] = {glass_air(70), glass_air(30)},
                 packed[] = {glass_air(50), glass_pane(6), glass_air(20)};
    glazing_stack gaps = glass_stack(air, 2), outer = glass_stack(packed, 3);
    glazing_stack pane = glass_stack(packed + 1, 1), none = {.n_part = 0}, tuned;
    for (double s2 = 0.0; s2 < 1.0; s2 += 0.1)
        for (double f = 60.0; f < 6000.0; f *= 2.0) {
            gradin_glazing_tune(&gaps, &free, f, &tuned);
            cr_assert_float_eq(gradin_glazing_tau_tuned(&tuned, gradin_glazing_all(&tuned),
                                                        gradin_glazing_endless(f, s2)),
                               1.0, 1e-12);
            cr_assert_float_eq(gradin_glazing_tau_layered(&tuned, gradin_glazing_endless(f, s2)),
                               1.0, 1e-12);
            cr_assert_lt(relative(gradin_glazing_tau(&outer, &free, s2, f),
                                  gradin_glazing_tau(&pane, &free, s2, f)),
                         1e-10);
            gradin_glazing_tune(&none, &free, f, &tuned);
            cr_assert_float_eq(gradin_glazing_tau_layered(&tuned, gradin_glazing_endless(f, s2)),
                               1.0, 1e-12);
        }
}

/* Edges take the glued layers as one plate, which this soft core is not: up to 0.65 dB.
 * A laminate with a core of three interlayers goes through the linear system; as one interlayer of
 * the same give (sum h/G) it is a panel. */
Test(layered, a_core_of_three_interlayers_gives_as_one) {
    gradin_layer core[] = {glass_pane(6), glass_constant(0.33), glass_constant(0.1),
                           glass_constant(0.33), glass_pane(6)};
    gradin_layer one[] = {glass_pane(6), glass_constant(0.76), glass_pane(6)};
    core[2].shear_pa = 1e6;
    core[2].loss = core[1].loss = core[3].loss = one[1].loss = 0.8;
    one[1].shear_pa = 0.76 / (0.66 / GLASS_SHEAR_PA + 0.1 / 1e6);
    gradin_buildup by_core = {.name = "core", .layer = core, .n_layer = 5};
    gradin_buildup by_one = {.name = "one", .layer = one, .n_layer = 3};
    double core_db[GRADIN_N_BAND], one_db[GRADIN_N_BAND];
    cr_assert_eq(gradin_glazing_r_db(&by_core, core_db, NULL), GRADIN_OK);
    cr_assert_eq(gradin_glazing_r_db(&by_one, one_db, NULL), GRADIN_OK);
    for (int b = 0; b < GRADIN_N_BAND; b++)
        cr_assert_float_eq(core_db[b], one_db[b], 0.7, "band %d: %.2f %.2f", b, core_db[b],
                           one_db[b]);
}
