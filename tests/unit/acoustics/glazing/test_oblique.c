/* R by angle of panes with a size: limp panes against the exact plane wave, the diffuse mean,
 * grazing incidence, and measured curves. */
#include "gradin/acoustics/glazing.h"
#include "unit/acoustics/glass.h"

#include <criterion/criterion.h>

static gradin_oblique oblique_of(const gradin_buildup *buildup, double width_m, double height_m) {
    gradin_oblique q;
    cr_assert_eq(gradin_oblique_make(buildup, width_m, height_m, &q, NULL), GRADIN_OK);
    return q;
}

static int band_at(double hz) {
    return (int)lround(10.0 * log10(hz / 50.0));
}

/* int 2 passed sin(theta) dtheta, which the hemisphere of ISO 12354-3's diffuse field brings. */
static double diffuse_db(const gradin_oblique *q, int band) {
    double sum = 0.0;
    const int n = 4000;
    for (int i = 0; i < n; i++) {
        double angle = 0.5 * GRADIN_PI * (i + 0.5) / n;
        sum += 2.0 * gradin_oblique_passed(q, band, angle, NAN) * sin(angle) * 0.5 * GRADIN_PI / n;
    }
    return -10.0 * log10(sum);
}

Test(oblique, the_mean_over_the_hemisphere_is_the_diffuse_index) {
    gradin_layer layer[] = {glass_pane(6), glass_air(12), glass_pane(4)};
    gradin_buildup unit = {.name = "unit", .layer = layer, .n_layer = 3};
    gradin_buildup panel = {.name = "panel", .is_measured = true};
    double r_db[GRADIN_N_BAND];
    for (int b = 0; b < GRADIN_N_BAND; b++) panel.measured_r_db[b] = 15.0 + b;
    const gradin_buildup *buildup[] = {&unit, &panel};
    for (int i = 0; i < 2; i++) {
        gradin_oblique q = oblique_of(buildup[i], 1.5, 3.0);
        cr_assert_eq(gradin_glazing_finite_r_db(buildup[i], 1.5, 3.0, r_db, NULL), GRADIN_OK);
        for (int b = 0; b < GRADIN_N_BAND; b++)
            cr_assert_float_eq(diffuse_db(&q, b), r_db[b], 0.03, "%s, band %d", buildup[i]->name,
                               b);
    }
}

/* Limp sheets, R = 10 lg(1 + (a cos theta)2): reference/limp-wall. A large one follows it as long
 * as its size spans some wavelengths of the trace, cos2(theta) k L > 8; beyond it passes less. */
Test(oblique, a_large_limp_sheet_follows_the_plane_wave) {
    static const double deg[] = {0, 45, 60, 75, 80}, side_m = 12.0;
    double cell[GLASS_MAX_CELL], before_kgm2 = 0.0;
    char word[32];
    int n = 0;
    gradin_oblique q;
    FILE *file = glass_csv_open("limp-wall/angle.csv");
    while (glass_csv_row(file, cell, word) > 8) {
        gradin_layer sheet = glass_limp(cell[0]);
        gradin_buildup buildup = {.name = "limp", .layer = &sheet, .n_layer = 1};
        if (cell[0] != before_kgm2) q = oblique_of(&buildup, side_m, side_m);
        before_kgm2 = cell[0];
        int b = band_at(cell[1]);
        for (int i = 0; i < 5; i++) {
            double angle = gradin_rad(deg[i]), r_db = gradin_oblique_r_db(&q, b, angle, NAN);
            double kl = 2.0 * GRADIN_PI * cell[1] / GRADIN_AIR_SPEED_MS * side_m;
            cr_assert_gt(r_db, cell[2 + i] - 0.8, "%g kg/m2 %g Hz %g deg", cell[0], cell[1],
                         deg[i]);
            if (kl * pow(cos(angle), 2) < 8.0) continue;
            cr_assert_lt(r_db, cell[2 + i] + 0.8, "%g kg/m2 %g Hz %g deg", cell[0], cell[1],
                         deg[i]);
            n++;
        }
    }
    glass_csv_close(file);
    cr_assert_gt(n, 50);
}

/* A limp pane of 1.5 m by 8.2 m at 500 Hz against S cos theta times its diffuse index: sigma by the
 * double integral over the pane (Villot et al.), worked out with NumPy, of waves along the height,
 * along the width, and the mean over the directions. The strip that stands for a direction is
 * endless across, which costs 1 dB at 80 degrees. */
Test(oblique, one_index_for_all_angles_errs_by_seven_decibels) {
    static const double deg[] = {0, 60, 80}, along[] = {0.5 * GRADIN_PI, 0.0, NAN};
    static const double apart_db[3][3] = {
        {-5.24, 0.72, 7.21}, {-5.24, 0.15, 4.07}, {-5.24, 0.59, 5.32}};
    gradin_layer sheet = glass_limp(15.0);
    gradin_buildup buildup = {.name = "limp", .layer = &sheet, .n_layer = 1};
    gradin_oblique q = oblique_of(&buildup, 1.5, 8.2);
    double r_db[GRADIN_N_BAND];
    int b = band_at(500.0);
    cr_assert_eq(gradin_glazing_finite_r_db(&buildup, 1.5, 8.2, r_db, NULL), GRADIN_OK);
    for (int i = 0; i < 9; i++) {
        double angle = gradin_rad(deg[i % 3]);
        double by_diffuse = cos(angle) * pow(10.0, -0.1 * r_db[b]);
        double found_db =
            10.0 * log10(gradin_oblique_passed(&q, b, angle, along[i / 3]) / by_diffuse);
        cr_assert_float_eq(found_db, apart_db[i / 3][i % 3], 1.1, "%g deg: %.2f dB not %.2f",
                           deg[i % 3], found_db, apart_db[i / 3][i % 3]);
    }
}

/* At grazing a pane with a size still passes something, and never less than a tenth of what it
 * passes from 80 degrees. */
Test(oblique, grazing_sound_is_let_in) {
    gradin_layer pane = glass_pane(8);
    gradin_buildup buildup = {.name = "pane", .layer = &pane, .n_layer = 1};
    gradin_oblique q = oblique_of(&buildup, 1.5, 8.2);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double grazing = gradin_oblique_passed(&q, b, 0.5 * GRADIN_PI, NAN);
        cr_assert_gt(grazing, 0.1 * gradin_oblique_passed(&q, b, gradin_rad(80.0), NAN), "band %d",
                     b);
        cr_assert(isfinite(grazing));
    }
}

/* ISO 15186-3:2002 Table A.1: a limp sheet of 10 kg/m2 in an opening of 10 m2
 * (reference/iso-15186-3). */
Test(finite, a_limp_sheet_in_an_opening_is_that_of_iso_15186_3) {
    gradin_layer sheet = glass_limp(10.0);
    gradin_buildup buildup = {.name = "limp", .layer = &sheet, .n_layer = 1};
    double r_db[GRADIN_N_BAND], cell[GLASS_MAX_CELL];
    char word[32];
    FILE *file = glass_csv_open("iso-15186-3/limp.csv");
    cr_assert_eq(gradin_glazing_finite_r_db(&buildup, 2.5, 4.0, r_db, NULL), GRADIN_OK);
    while (glass_csv_row(file, cell, word) == 2)
        cr_assert_float_eq(r_db[band_at(cell[0])], cell[1], 0.3, "%g Hz: %g", cell[0],
                           r_db[band_at(cell[0])]);
    glass_csv_close(file);
}
