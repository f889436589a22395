/* Floors, uprights and points as seen from one seat behind solids: against similar triangles, by
 * hand. Lengths m. */
#include "unit/sightline/hall.h"

#include <criterion/criterion.h>

static hall h;
static gradin_arena *arena;
static gradin_vec2 line_m[3];

#define NEAR(a, b, slack)                                                                          \
    cr_assert(fabs((a) - (b)) <= (slack), "%s = %.9f, not %.9f", #a, (double)(a), (double)(b))

static void start(void) {
    arena = gradin_arena_create();
    hall_start(&h);
    h.model.n_occluder_name = 1;
}

static void stop(void) {
    gradin_arena_destroy(arena);
}

TestSuite(kinds, .init = start, .fini = stop);

/* An upright on y = -4 from x = -5 to 5, or bent back along x = 5 to y = -6. */
static void upright(double bottom_m, double top_m, int n_line, double weight) {
    line_m[0] = (gradin_vec2){-5.0, -4.0};
    line_m[1] = (gradin_vec2){5.0, -4.0};
    line_m[2] = (gradin_vec2){5.0, -6.0};
    h.focus[h.model.n_focus++] = (gradin_focus){.name = "screen",
                                                .kind = GRADIN_FOCUS_UPRIGHT,
                                                .line_m = line_m,
                                                .n_line = n_line,
                                                .bottom_m = bottom_m,
                                                .top_m = top_m,
                                                .weight = weight};
}

static void point(double x, double y, double z_m, double weight) {
    h.focus[h.model.n_focus++] = (gradin_focus){.name = "face",
                                                .kind = GRADIN_FOCUS_POINT,
                                                .point_m = {x, y},
                                                .z_m = z_m,
                                                .weight = weight};
}

/* A wall across the whole view at y = 1, 0.1 thick, the eye at y = 6, z = 1.2: its top at 2 m is
 * over y = -4 as high as 1.2 + 0.8 * 10/5.05 or 10/4.95, by the nearer and the farther edge. */
Test(kinds, a_wall_hides_the_lower_part_of_a_screen) {
    upright(1.0, 5.0, 2, 1.0);
    hall_solid(&h, 0.0, 1.0, 40.0, 0.1, 0.0, 2.0, GRADIN_CAUSE_STRUCTURE, 0);
    hall_seat(&h, 0.0, 6.0, 1.2);
    gradin_sight s = hall_compute(&h, arena, 4096, false);
    NEAR(s.visible[0], (5.0 - (1.2 + 0.8 * 10.0 / 4.95)) / 4.0, 0.01);
    cr_assert_eq(s.n_area, 1);
    NEAR(s.area_visible[0], s.visible[0], 1e-12);
    NEAR(s.hidden[GRADIN_CAUSE_STRUCTURE], 1.0 - s.visible[0], 1e-12);
    NEAR(s.distance_m[0], sqrt(100.0 + 1.8 * 1.8), 1e-9); /* to the middle, 3 m up */
    NEAR(s.nearest_m[0], 10.0, 1e-9);
    NEAR(s.width_deg[0], 2.0 * gradin_deg(atan2(5.0, 10.0)), 1e-9);
    gradin_sight exact = hall_compute(&h, arena, 4096, true);
    cr_assert(s.visible[0] == exact.visible[0]);
}

/* By area along the bent line: what hides the 2 m behind the corner hides 2 of 12. */
Test(kinds, a_bent_screen_is_sampled_by_its_length) {
    upright(1.0, 5.0, 3, 1.0);
    hall_solid(&h, 4.8, -5.5, 0.1, 2.9, 0.0, 9.0, GRADIN_CAUSE_STRUCTURE, 0);
    hall_seat(&h, -4.0, -5.0, 1.2); /* behind the screen: it is seen from either side */
    gradin_sight s = hall_compute(&h, arena, 4096, false);
    NEAR(s.visible[0], 10.0 / 12.0, 0.01);
    gradin_vec3 middle_m = gradin_focus_middle_m(&h.focus[0]);
    NEAR(middle_m.x, (10.0 * 0.0 + 2.0 * 5.0) / 12.0, 1e-12);
    NEAR(s.nearest_m[0], 1.0, 1e-9);
}

/* A stage 12 by 8 behind y = 0, its front at z = 0. Level, the wall with its top at z = 0.6, y = 2
 * (lower edge of the ray at y = 1.95) hides it to y = 1.95 - 0.6/(0.6/4.05) = -2.1. Raked by 1 in
 * 10 from z = 0 at the front: the ray meets z = -y/10 farther on only where it falls to it. */
Test(kinds, a_raked_stage_is_seen_where_the_ray_falls_to_its_plane) {
    for (int k = 0; k < 2; k++) {
        double slope = k ? 0.1 : 0.0;
        hall_start(&h);
        h.model.n_occluder_name = 1;
        hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 1.0);
        h.focus[0].slope = slope;
        h.focus[0].uphill_deg = 180.0;
        hall_solid(&h, 0.0, 2.0, 40.0, 0.1, -1.0, 0.6, GRADIN_CAUSE_STRUCTURE, 0);
        hall_seat(&h, 0.0, 6.0, 1.2);
        gradin_sight s = hall_compute(&h, arena, 4096, false);
        double fall = 0.6 / 4.05; /* past the wall's far edge; the near one lets more by */
        double hidden_to_m = (1.2 - fall * 6.0) / (fall + slope); /* behind the front */
        NEAR(s.visible[0], 1.0 - hidden_to_m / 8.0, 0.01);
        NEAR(s.down_deg[0], gradin_deg(atan2(1.2 - 4.0 * slope, 10.0)), 1e-9);
    }
}

Test(kinds, a_point_is_seen_or_not) {
    point(0.0, -4.0, 3.2, 1.0);
    hall_solid(&h, 0.0, 1.0, 1.0, 0.1, 0.0, 2.1, GRADIN_CAUSE_STRUCTURE, 0); /* ray at 2.2 */
    hall_seat(&h, 0.0, 6.0, 1.2);
    hall_seat(&h, 0.0, 7.0, 0.6); /* ray at 0.6 + 2.6 * 6/11 = 2.02: hidden */
    gradin_sight s = hall_compute(&h, arena, 256, false);
    cr_assert_eq(s.n_sample, 1);
    cr_assert(s.visible[0] == 1.0 && s.visible[1] == 0.0);
    NEAR(s.width_deg[0], 0.0, 1e-9);
}

/* Each area has its own share; the total goes by weight, whatever the areas' sizes. */
Test(kinds, the_total_is_weighted) {
    hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 3.0);
    upright(1.0, 5.0, 2, 2.0);
    point(0.0, -4.0, 0.5, 1.0);
    hall_solid(&h, 0.0, 1.0, 40.0, 0.1, 0.0, 2.0, GRADIN_CAUSE_STRUCTURE, 0);
    hall_seat(&h, 0.0, 6.0, 1.2);
    gradin_sight s = hall_compute(&h, arena, 4096, false);
    cr_assert_eq(s.n_area, 3);
    cr_assert(s.area_visible[0] == 0.0 && s.area_visible[2] == 0.0);
    NEAR(s.area_visible[1], (5.0 - (1.2 + 0.8 * 10.0 / 4.95)) / 4.0, 0.02);
    NEAR(s.visible[0], s.area_visible[1] * 2.0 / 6.0, 1e-12);
}

/* C stays with the floor, whatever hangs before, above or below it, in any order and weight; with
 * no floor there is none, but to a stated line there is. */
Test(kinds, c_is_measured_to_a_floor_or_a_stated_line_only) {
    double c_m[4];
    for (int k = 0; k < 4; k++) {
        hall_start(&h);
        if (k == 1) upright(-2.0, 5.0, 2, 50.0);
        if (k == 2) point(0.0, 3.0, -1.0, 50.0);
        hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 1.0);
        if (k == 3) point(0.0, 3.0, -1.0, 0.02);
        hall_seat(&h, 0.0, 6.0, 1.1);
        int rear = hall_seat(&h, 0.0, 6.9, 1.403);
        c_m[k] = hall_compute(&h, arena, 64, false).c_m[rear];
    }
    NEAR(c_m[0], 0.120, 1e-9); /* Bath worksheet: D 6000, R 1100, T 900, N 303 gives C 120 */
    for (int k = 1; k < 4; k++) NEAR(c_m[k], c_m[0], 1e-9);

    hall_start(&h);
    upright(0.0, 5.0, 2, 1.0);
    point(0.0, 0.0, 0.0, 1.0);
    hall_seat(&h, 0.0, 6.0, 1.1);
    hall_seat(&h, 0.0, 6.9, 1.403);
    gradin_sight s = hall_compute(&h, arena, 64, false);
    cr_assert(isnan(s.c_m[1]) && s.c_case[1] == GRADIN_C_NONE && s.c_class[1] == GRADIN_N_RATING);
    gradin_vec2 edge_m[2] = {{-6.0, 0.0}, {6.0, 0.0}};
    gradin_c_line edge = {.name = "edge", .point_m = edge_m, .n_point = 2};
    h.model.c_line = &edge;
    s = hall_compute(&h, arena, 64, false);
    NEAR(s.c_m[1], 0.120, 1e-9);
}

/* The rail that hides nothing of a screen passes under its lower edge; level with the eye's ray to
 * the point: 1.2 + (3.2 - 1.2) * 5/10 at the rail's middle, less half its breadth along the ray. */
Test(kinds, a_rail_s_limit_holds_for_uprights_and_points) {
    gradin_vec3 rail_m[2] = {{-9.0, 1.0, 0.0}, {9.0, 1.0, 0.0}};
    gradin_rail rail = {.name = "rail",
                        .point_m = rail_m,
                        .n_point = 2,
                        .height_m = 1.0,
                        .thickness_m = 0.05,
                        .has_top = true,
                        .sheet = -1};
    gradin_rail_limits limits;
    for (int k = 0; k < 2; k++) {
        hall_start(&h);
        h.model.rail = &rail;
        h.model.n_rail = 1;
        if (k == 0) upright(3.2, 6.0, 2, 1.0);
        if (k == 1) point(0.0, -4.0, 3.2, 1.0);
        hall_seat(&h, 0.0, 6.0, 1.2);
        gradin_error error = {0};
        cr_assert_eq(gradin_rail_limits_compute(arena, &h.model, &limits, &error), GRADIN_OK);
        NEAR(limits.whole_m[0], 2.2 - 0.025 * 2.0 / 10.0, 1e-9);
        if (k == 0) NEAR(limits.lost_m[0], 1.2 + 4.8 * 0.5 - 0.025 * 4.8 / 10.0, 1e-9);
    }
}

/* Two floors of 96 m2 at (0, -4, 0) and 24 m2 at (9, -2, 1): their middle lies by size at
 * (1.8, -3.6, 0.2). Its way from the seat, the two nearest edges and the width from the outer
 * corners by hand. Nothing else that is looked at moves it, nor any weight or order. */
Test(kinds, distance_and_angles_go_to_the_floors) {
    for (int k = 0; k < 4; k++) {
        hall_start(&h);
        h.model.axis_deg = 0.0;
        if (k == 1) upright(3.0, 9.0, 3, 50.0);
        if (k == 1) point(-20.0, 5.9, 7.0, 50.0);
        if (k == 2) hall_focus(&h, 9.0, -2.0, 6.0, 4.0, 1.0, 7.0);
        hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, k == 3 ? 0.1 : 1.0);
        if (k != 2) hall_focus(&h, 9.0, -2.0, 6.0, 4.0, 1.0, 1.0);
        if (k == 3) point(-20.0, 5.9, 7.0, 0.5);
        hall_seat(&h, 3.0, 6.0, 1.2);
        gradin_sight s = hall_compute(&h, arena, 64, false);
        NEAR(s.distance_m[0], sqrt(1.2 * 1.2 + 9.6 * 9.6 + 1.0), 1e-9);
        NEAR(s.nearest_m[0], 6.0, 1e-9);
        NEAR(s.turn_deg[0], gradin_deg(atan2(1.2, 9.6)), 1e-9);
        NEAR(s.off_axis_deg[0], gradin_deg(atan2(1.2, 9.6)), 1e-9);
        NEAR(s.down_deg[0], gradin_deg(atan2(1.0, hypot(1.2, 9.6))), 1e-9);
        NEAR(s.width_deg[0], gradin_deg(atan2(9.0, 6.0) + atan2(9.0, 6.0)), 1e-9);
    }
}

/* Without a floor the uprights, by size: 60 m2 with its middle 5.5 m up and 12 m2 at 0.5 m, both
 * with their middle at (5/6, -25/6); without one, the points, each alike. */
Test(kinds, without_a_floor_distance_goes_to_uprights_or_points) {
    for (int k = 0; k < 2; k++) {
        hall_start(&h);
        if (k == 1) point(-20.0, 5.9, 7.0, 50.0);
        upright(3.0, 8.0, 3, 1.0);
        upright(0.0, 1.0, 3, 9.0);
        hall_seat(&h, 3.0, 6.0, 1.2);
        gradin_sight s = hall_compute(&h, arena, 64, false);
        double up_m = (60.0 * 5.5 + 12.0 * 0.5) / 72.0 - 1.2;
        NEAR(s.distance_m[0], sqrt(hypot(13.0, 61.0) * hypot(13.0, 61.0) / 36.0 + up_m * up_m),
             1e-9);
        NEAR(s.down_deg[0], -gradin_deg(atan2(up_m, hypot(13.0, 61.0) / 6.0)), 1e-9);
        NEAR(s.nearest_m[0], 10.0, 1e-9);
    }
    hall_start(&h);
    point(3.0, 1.0, 1.2, 50.0);
    point(-1.0, 3.0, 3.2, 0.5);
    hall_seat(&h, 3.0, 6.0, 1.2);
    gradin_sight s = hall_compute(&h, arena, 64, false);
    NEAR(s.distance_m[0], sqrt(4.0 + 16.0 + 1.0), 1e-9);
    NEAR(s.nearest_m[0], 5.0, 1e-9);
    NEAR(s.width_deg[0], gradin_deg(atan2(4.0, 3.0)), 1e-9);
}
