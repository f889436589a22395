/* Form factors against closed forms.
 *
 * Howell's catalogue of configuration factors, C-11 (parallel, equal, opposite rectangles) and C-14
 * (rectangles with a common edge at a right angle), recomputed with full digits; a unit square
 * against a small surface on its axis: catalogue B-3. Solid angle of a cube's face from its middle:
 * 4 pi/6. */
#include <criterion/criterion.h>

#include "acoustics/room/form.h"

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

Test(form, parallel_rectangles) {
    gradin_rectangle low = flat(0, 0, 0, 1, 1, 1), high = flat(0, 0, 1, 1, 1, -1);
    check("cube", &low, &high, 0.19982489569838746);
    low = flat(0, 0, 0, 2, 1, 1), high = flat(0, 0, 1, 2, 1, -1);
    check("2 x 1 at 1", &low, &high, 0.28587538);
    low = flat(0, 0, 0, 1, 1, 1), high = flat(0, 0, 2, 1, 1, -1);
    check("1 x 1 at 2", &low, &high, 0.06858959);
}

/* From w1 x l1 on the floor to h2 x l1 at its edge. */
Test(form, perpendicular_rectangles) {
    gradin_rectangle wall = standing(1, 1), floor = flat(0, 0, 0, 1, 1, 1);
    check("cube", &floor, &wall, 0.20004377607540316);
    wall = standing(1, 2);
    check("w1 h2 l1", &floor, &wall, 0.23285260);
    wall = standing(1, 1), floor = flat(0, 0, 0, 1, 2, 1);
    check("w2 h1 l1", &floor, &wall, 0.11642630);
    wall = standing(2, 1), floor = flat(0, 0, 0, 2, 1, 1);
    check("w1 h1 l2", &floor, &wall, 0.24063601);
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
