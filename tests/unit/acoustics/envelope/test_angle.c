/* What elements let in by the angle of the wave. */
#include "acoustics/envelope/element.h"
#include "support/reference.h"

#include <criterion/criterion.h>
#include <math.h>

/* A limp sheet of 15 kg/m2 as a pane of 1.5 x 8.2 m. */
static const gradin_layer limp = {
    .kind = GRADIN_LAYER_PLATE, .thickness_m = 0.006, .density_kgm3 = 2500.0, .poisson = 0.0};

static gradin_by_angle shape_of(const gradin_buildup *buildup, double width_m, double height_m) {
    const double size_m[2] = {width_m, height_m};
    gradin_by_angle by;
    gradin_error error = {0};
    cr_assert_eq(gradin_angle_make(buildup, size_m, &by, &error), GRADIN_OK, "%s",
                 error.diagnostic[0].text);
    return by;
}

/* Plane-wave transmission of a finite limp pane, worked out apart from the engine (a recomputed
 * figure): against I S cos(theta) tau it passes -5.2, +0.7, +7.2 dB at 0, 60 and 80 degrees. The
 * engine takes the mean over the directions along the pane, which at 80 degrees is 2 dB less. */
Test(angle, a_finite_limp_pane) {
    static const double deg[3] = {0.0, 60.0, 80.0}, wanted_db[3] = {-5.2, 0.7, 7.2};
    static const double within_db[3] = {0.5, 0.7, 2.2};
    gradin_buildup buildup = {.name = "limp", .layer = &limp, .n_layer = 1, .temperature_c = 20.0};
    gradin_by_angle by = shape_of(&buildup, 1.5, 8.2);
    gradin_glass glass = {.by_angle = &by};
    for (int k = 0; k < 3; k++) {
        double angle = gradin_rad(deg[k]);
        double share = gradin_angle_share(&glass, GRADIN_PART_BODY, 10, angle);
        double db = 10.0 * log10(share / cos(angle));
        cr_expect_float_eq(db, wanted_db[k], within_db[k], "%g degrees: %.2f dB", deg[k], db);
        cr_expect(k == 0 || db > 0.0, "the cosine alone has too little");
    }
}

/* Infinite limp sheet at 0, 45 and 60 degrees against its field mean: with size it must lie within
 * 1.5 dB of the wave theory of a sheet without, whose R the table has. */
Test(angle, limp_sheets_by_angle) {
    reference table;
    reference_read("limp-wall/angle.csv", &table);
    gradin_buildup buildup = {.name = "limp", .layer = &limp, .n_layer = 1, .temperature_c = 20.0};
    gradin_by_angle by = shape_of(&buildup, 5.0, 5.0);
    for (int i = 0; i < table.n_row; i++) {
        if (reference_number(&table, i, "surface_kgm2") != 15.0 ||
            reference_number(&table, i, "hz") != 1000.0)
            continue;
        double normal_db = reference_number(&table, i, "r_0_deg");
        double slant_db = reference_number(&table, i, "r_60_deg");
        double wanted_db = normal_db - slant_db + 10.0 * log10(0.5); /* S cos theta falls on it */
        gradin_glass glass = {.by_angle = &by};
        double got_db =
            10.0 * log10(gradin_angle_share(&glass, GRADIN_PART_BODY, 13, GRADIN_PI / 3) /
                         gradin_angle_share(&glass, GRADIN_PART_BODY, 13, 0.0));
        cr_expect_float_eq(got_db, wanted_db, 0.5, "%.2f, not %.2f dB", got_db, wanted_db);
    }
}

/* ISO 12354-3: over a hemisphere every part passes half of its S tau, the flat -3 dB of EN
 * 12354-3:2000, equation (12), and of the term of R'tr,s in ISO 16283-3. */
Test(angle, the_mean_over_a_hemisphere_is_the_standards) {
    reference said;
    reference_read("en-12354-3/incidence-statements.csv", &said);
    double wanted_db = reference_number(&said, reference_row(&said, "R'tr_s term"), "value_db");
    gradin_buildup door = {.name = "report", .is_measured = true};
    for (int b = 0; b < GRADIN_N_BAND; b++) door.measured_r_db[b] = 30.0;
    gradin_by_angle by = shape_of(&door, 2.0, 2.4);
    gradin_glass glass = {.by_angle = &by};
    const int n = 4000;
    for (int kind = 0; kind < GRADIN_N_PART_KIND; kind++)
        for (int b = 0; b < GRADIN_N_BAND; b += 5) {
            double sum = 0.0;
            for (int i = 0; i < n; i++) {
                double angle = 0.5 * GRADIN_PI * (i + 0.5) / n;
                sum += gradin_angle_share(&glass, (gradin_part_kind)kind, b, angle) * sin(angle) *
                       0.5 * GRADIN_PI / n;
            }
            cr_expect_float_eq(10.0 * log10(sum), wanted_db,
                               kind == GRADIN_PART_OPENING ? 0.3 : 0.03, "part %d band %d: %.3f",
                               kind, b, 10.0 * log10(sum));
        }
}

/* No element falls to nothing at grazing, and a roof's size stops at a field's. */
Test(angle, grazing_passes_what_a_finite_pane_does) {
    gradin_buildup roof = {.name = "slab"};
    gradin_buildup_be(&roof, gradin_construction_find("concrete_150"));
    gradin_by_angle by = shape_of(&roof, 5.0, 5.0);
    for (int b = 0; b < GRADIN_N_BAND; b++)
        cr_expect_gt(by.closed[b][GRADIN_N_OBLIQUE - 1], 0.1, "band %d", b);
    gradin_element piece = {.kind = GRADIN_ELEMENT_ROOF, .width_m = 11.0, .height_m = 3.0};
    double size_m[2];
    gradin_angle_field_m(&piece, size_m);
    cr_expect(size_m[0] == 5.0 && size_m[1] == 3.0);
    piece.kind = GRADIN_ELEMENT_PANE;
    gradin_angle_field_m(&piece, size_m);
    cr_expect(size_m[0] == 11.0);
}
