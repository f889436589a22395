/* Form factors against closed forms.
 *
 * Howell's catalogue of configuration factors, C-11 (parallel, equal, opposite rectangles) and C-14
 * (rectangles with a common edge at a right angle), recomputed with full digits; a unit square
 * against a small surface on its axis: catalogue B-3. Solid angle of a cube's face from its middle:
 * 4 pi/6. */
#include <criterion/criterion.h>

#include "acoustics/patches/form.h"
#include "support/reference.h"

#include <string.h>

static gradin_rectangle flat(double x, double y, double z, double a, double b, double up) {
    return (gradin_rectangle){{x, y, z}, {a, 0.0, 0.0}, {0.0, b, 0.0}, {0.0, 0.0, up}};
}

/* In the plane y = 0, facing +y. */
static gradin_rectangle standing(double a, double h) {
    return (gradin_rectangle){{0, 0, 0}, {a, 0.0, 0.0}, {0.0, 0.0, h}, {0.0, 1.0, 0.0}};
}

static gradin_rectangle piece(const gradin_rectangle *r, int i, int j, int n) {
    return (gradin_rectangle){gradin_rectangle_at_m(r, (double)i / n, (double)j / n),
                              gradin_scale(r->along_m, 1.0 / n), gradin_scale(r->up_m, 1.0 / n),
                              r->normal};
}

static double in_pieces_m2(const gradin_rectangle *a, const gradin_rectangle *b, int n) {
    double sum_m2 = 0.0;
    for (int k = 0; k < n * n; k++)
        for (int l = 0; l < n * n; l++) {
            gradin_rectangle from = piece(a, k % n, k / n, n), to = piece(b, l % n, l / n, n);
            sum_m2 += gradin_form_exchange_m2(&from, &to);
        }
    return sum_m2;
}

static void check(const char *what, const gradin_rectangle *a, const gradin_rectangle *b,
                  double factor) {
    double whole = gradin_form_exchange_m2(a, b) / gradin_rectangle_m2(a);
    double pieces = in_pieces_m2(a, b, 4) / gradin_rectangle_m2(a);
    cr_assert(fabs(whole / factor - 1.0) < 1e-3, "%s: %.9f, not %.9f", what, whole, factor);
    cr_assert(fabs(pieces / factor - 1.0) < 3e-4, "%s in pieces: %.9f, not %.9f", what, pieces,
              factor);
}

/* reference/form-factors: C-11 of a x b at distance c, C-14 from width a by c to height b by c at
 * its edge. */
Test(form, rectangles_of_the_catalogue) {
    reference table;
    reference_read("form-factors/values.csv", &table);
    for (int i = 0; i < table.n_row; i++) {
        const char *what = reference_text(&table, i, "case");
        double a_m = reference_number(&table, i, "a_m"), b_m = reference_number(&table, i, "b_m");
        double c_m = reference_number(&table, i, "c_m");
        bool is_parallel = strncmp(what, "parallel", 8) == 0;
        gradin_rectangle from = flat(0, 0, 0, is_parallel ? a_m : c_m, is_parallel ? b_m : a_m, 1);
        gradin_rectangle to = is_parallel ? flat(0, 0, c_m, a_m, b_m, -1) : standing(c_m, b_m);
        cr_assert(is_parallel || strncmp(what, "perpendicular", 13) == 0, "%s", what);
        check(what, &from, &to, reference_number(&table, i, "factor"));
    }
}

Test(form, reciprocity_and_sides) {
    gradin_rectangle a = flat(0, 0, 0, 1.3, 0.7, 1), b = standing(2.1, 1.7);
    b.corner_m.y = -0.4;
    cr_assert(gradin_form_exchange_m2(&a, &b) == gradin_form_exchange_m2(&b, &a));
    cr_assert(gradin_form_exchange_m2(&a, &b) > 0.0);
    b.normal.y = -1.0;
    cr_assert(gradin_form_exchange_m2(&a, &b) == 0.0, "its back is turned");
    gradin_rectangle below = flat(0, 0, -1, 1, 1, 1);
    cr_assert(gradin_form_exchange_m2(&a, &below) == 0.0);
}

/* B-3: F = 1/(2 pi) [X/sqrt(1+X2) atan(Y/sqrt(1+X2)) + Y/sqrt(1+Y2) atan(X/sqrt(1+Y2))] from below
 * one corner. */
Test(form, point) {
    gradin_rectangle high = flat(0, 0, 2, 3, 5, -1);
    double x = 1.5, y = 2.5, rx = sqrt(1 + x * x), ry = sqrt(1 + y * y);
    double wanted = (x / rx * atan(y / rx) + y / ry * atan(x / ry)) / (2.0 * GRADIN_PI);
    double got = gradin_form_point((gradin_vec3){0, 0, 0}, (gradin_vec3){0, 0, 1}, &high);
    cr_assert(fabs(got - wanted) < 1e-12, "%.12f, not %.12f", got, wanted);
    /* half of it lies behind the horizon of a point that looks along x */
    gradin_rectangle across = flat(-3, 0, 2, 6, 5, -1);
    gradin_rectangle half = flat(0, 0, 2, 3, 5, -1);
    gradin_vec3 ahead = {1, 0, 0};
    cr_assert(fabs(gradin_form_point((gradin_vec3){0, 1, 0}, ahead, &across) -
                   gradin_form_point((gradin_vec3){0, 1, 0}, ahead, &half)) < 1e-12);
}

Test(form, solid_angle) {
    gradin_rectangle face = flat(-1, -1, 1, 2, 2, -1);
    cr_assert(fabs(gradin_rectangle_seen_sr((gradin_vec3){0, 0, 0}, &face) -
                   4.0 * GRADIN_PI / 6.0) < 1e-12);
    cr_assert(gradin_rectangle_seen_sr((gradin_vec3){0, 0, 2}, &face) == 0.0, "from behind");
    double close = gradin_rectangle_seen_sr((gradin_vec3){0, 0, 1.0 - 1e-9}, &face);
    cr_assert(fabs(close - 2.0 * GRADIN_PI) < 1e-6, "%.9f", close);
}
