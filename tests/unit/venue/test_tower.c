/* Where a tower stands, slid and turned: by hand. A quarter clockwise about a point takes (x, y)
 * from it to (y, -x). */
#include "gradin/venue.h"

#include <criterion/criterion.h>

static gradin_tower tower(void) {
    gradin_tower t = gradin_tower_defaults();
    t.front_m = (gradin_vec2){10, 4};
    t.facing_deg = 270.0;
    t.slide_bearing_deg = 180.0;
    t.depth_m = 3.0;
    t.turn_deg[0] = -45.0;
    t.turn_deg[1] = 200.0;
    return t;
}

static void expect(const gradin_tower *t, double slide_m, double turn_deg, double x_m, double y_m,
                   double facing_deg) {
    gradin_vec2 front_m = {0};
    double facing = 0.0;
    gradin_tower_stand(t, slide_m, turn_deg, &front_m, &facing);
    cr_expect_float_eq(front_m.x, x_m, 1e-12, "turn %g: x %.9f", turn_deg, front_m.x);
    cr_expect_float_eq(front_m.y, y_m, 1e-12, "turn %g: y %.9f", turn_deg, front_m.y);
    cr_expect_float_eq(facing, facing_deg, 1e-12, "turn %g: facing %.9f", turn_deg, facing);
}

/* Facing west its middle lies 1.5 m east of the front, at (11.5, 4): the front is (-1.5, 0) from
 * it. */
Test(tower, turns_about_the_middle_of_its_plan) {
    gradin_tower t = tower();
    cr_expect_float_eq(gradin_tower_pivot_m(&t).x, 11.5, 1e-12);
    cr_expect_float_eq(gradin_tower_pivot_m(&t).y, 4.0, 1e-12);
    expect(&t, 0.0, 0.0, 10.0, 4.0, 270.0);
    expect(&t, 0.0, 90.0, 11.5, 5.5, 0.0);
    expect(&t, 0.0, 180.0, 13.0, 4.0, 90.0);
    expect(&t, 0.0, -45.0, 11.5 - 1.5 * sqrt(0.5), 4.0 - 1.5 * sqrt(0.5), 225.0);
    expect(&t, 2.0, 90.0, 11.5, 3.5, 0.0); /* slid 2 m to the south */
}

/* (10, 4) is (2, 1) from (8, 3): a quarter on it is (1, -2). */
Test(tower, turns_about_the_point_that_is_stated) {
    gradin_tower t = tower();
    t.pivot_m = (gradin_vec2){8, 3};
    expect(&t, 0.0, 90.0, 9.0, 1.0, 0.0);
    expect(&t, 0.5, 90.0, 9.0, 0.5, 0.0);
}

/* From 270 it reaches 225 to 270 + 200 = 470, which is 110. */
Test(tower, faces_a_bearing_by_the_least_turn_in_its_range) {
    static const double facing_turn[][2] = {{270, 0},   {0, 90},      {90, 180},
                                            {110, 200}, {225, -45},   {240, -30},
                                            {360, 90},  {110.1, NAN}, {224.9, NAN}};
    gradin_tower t = tower();
    for (size_t i = 0; i < sizeof facing_turn / sizeof *facing_turn; i++) {
        double turn_deg = gradin_tower_turn_to(&t, facing_turn[i][0]);
        if (isnan(facing_turn[i][1]))
            cr_expect(isnan(turn_deg), "%g: %g", facing_turn[i][0], turn_deg);
        else
            cr_expect_float_eq(turn_deg, facing_turn[i][1], 1e-9, "%g", facing_turn[i][0]);
    }
    /* two ways: the shorter; half a turn either way: clockwise */
    t.turn_deg[0] = -360.0;
    t.turn_deg[1] = 360.0;
    cr_expect_float_eq(gradin_tower_turn_to(&t, 0.0), 90.0, 1e-9);
    cr_expect_float_eq(gradin_tower_turn_to(&t, 180.0), -90.0, 1e-9);
    cr_expect_float_eq(gradin_tower_turn_to(&t, 90.0), 180.0, 1e-9);
    /* one that does not turn */
    t.turn_deg[0] = t.turn_deg[1] = 0.0;
    cr_expect_eq(gradin_tower_turn_to(&t, 270.0), 0.0);
    cr_expect(isnan(gradin_tower_turn_to(&t, 271.0)));
}
