/* Angles and bearings: clockwise from north, x east, y north. */
#include "gradin/base.h"

#include <criterion/criterion.h>

Test(angles, folding_into_a_turn) {
    const double pairs[][2] = {{0, 0},         {360, 0},  {-90, 270}, {725, 5},    {-720, 0},
                               {359.5, 359.5}, {-0.0, 0}, {1e6, 280}, {-1e-20, 0}, {180, 180}};
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++) {
        double folded = gradin_wrap_360_deg(pairs[i][0]);
        cr_expect_float_eq(folded, pairs[i][1], 1e-9, "%g gave %g", pairs[i][0], folded);
        cr_expect(folded >= 0.0 && folded < 360.0, "%g gave %g", pairs[i][0], folded);
    }
    cr_expect(isnan(gradin_wrap_360_deg(NAN)));
    cr_expect(isnan(gradin_wrap_360_deg(INFINITY)));
}

Test(angles, gap_between_bearings) {
    const double triples[][3] = {{0, 0, 0},      {10, 350, 20}, {350, 10, 20}, {0, 180, 180},
                                 {90, 270, 180}, {-10, 10, 20}, {0, 181, 179}, {720, 1, 1}};
    for (size_t i = 0; i < sizeof triples / sizeof *triples; i++) {
        double gap = gradin_bearing_gap_deg(triples[i][0], triples[i][1]);
        cr_expect_float_eq(gap, triples[i][2], 1e-9, "case %zu gave %g", i, gap);
    }
}

Test(angles, main_bearings_are_exact) {
    const double unit[4][2] = {{0, 1}, {1, 0}, {0, -1}, {-1, 0}};
    for (int i = 0; i < 4; i++)
        for (int turn = -2; turn <= 2; turn++) {
            gradin_vec2 u = gradin_bearing_unit(90.0 * i + 360.0 * turn);
            cr_expect(u.x == unit[i][0] && u.y == unit[i][1], "bearing %d: %g %g", 90 * i, u.x,
                      u.y);
        }
}

Test(angles, bearing_of_a_direction) {
    cr_expect_eq(gradin_bearing_deg(0, 1), 0.0);
    cr_expect_float_eq(gradin_bearing_deg(1, 0), 90.0, 1e-12);
    cr_expect_float_eq(gradin_bearing_deg(0, -1), 180.0, 1e-12);
    cr_expect_float_eq(gradin_bearing_deg(-1, 0), 270.0, 1e-12);
    cr_expect_float_eq(gradin_bearing_deg(1, 1), 45.0, 1e-12);
    cr_expect_float_eq(gradin_bearing_deg(-1, 1), 315.0, 1e-12);
    cr_expect_eq(gradin_bearing_deg(0, 0), 0.0);
}

Test(angles, unit_and_bearing_undo_each_other) {
    for (int i = 0; i < 3600; i++) {
        double bearing = 0.1 * i + 0.03;
        gradin_vec2 u = gradin_bearing_unit(bearing);
        cr_expect_float_eq(hypot(u.x, u.y), 1.0, 1e-15);
        cr_expect_float_eq(gradin_bearing_deg(u.x, u.y), bearing, 1e-11);
    }
}

Test(angles, degrees_and_radians) {
    cr_expect_float_eq(gradin_rad(180.0), acos(-1.0), 1e-15);
    cr_expect_float_eq(gradin_deg(acos(-1.0) / 2.0), 90.0, 1e-13);
}

Test(angles, vectors) {
    gradin_vec3 a = {1, 2, 3}, b = {-4, 5, 0.5}, c = gradin_cross(a, b);
    cr_expect_float_eq(gradin_dot(c, a), 0.0, 1e-12);
    cr_expect_float_eq(gradin_dot(c, b), 0.0, 1e-12);
    cr_expect(c.x == 1 - 15 && c.y == -12 - 0.5 && c.z == 5 + 8);
    cr_expect_eq(gradin_norm((gradin_vec3){2, 3, 6}), 7.0);
    gradin_vec3 x = {1, 0, 0}, y = {0, 1, 0};
    cr_expect_eq(gradin_cross(x, y).z, 1.0); /* right-handed */
    gradin_vec3 s = gradin_sub(gradin_add(a, b), gradin_scale(b, 2.0));
    cr_expect(s.x == 5 && s.y == -3 && s.z == 2.5);
}

Test(angles, the_foot_is_exact) {
    cr_expect_eq(GRADIN_FOOT_M * 12500.0, 3810.0); /* 0.3048 m, ISO 80000-3 Annex C */
}
