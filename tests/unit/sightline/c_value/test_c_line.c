/* The line to which C is measured: the edge of the lowest floor, whatever else is looked at and in
 * which order, or the line that the layout states. */
#include "unit/sightline/hall.h"

#include <criterion/criterion.h>

static hall h;

#define NEAR(a, b) cr_assert(fabs((a) - (b)) <= 1e-9, "%s = %.12f, not %.12f", #a, (a), (double)(b))

static int rows(void) {
    int front = hall_seat(&h, 0.0, 6.0, 1.1);
    cr_assert_eq(front, 0);
    return hall_seat(&h, 0.0, 6.9, 1.403);
}

/* Bath worksheet: D 6000, R 1100, T 900, N 303 gives C 120. A surtitle area upstage and high, or in
 * front of the stage, heavy or light, before or behind in the list, changes nothing. */
Test(c_line, a_second_area_moves_no_c) {
    for (int k = 0; k < 8; k++) {
        gradin_arena *arena = gradin_arena_create();
        double y = k & 1 ? 3.0 : -7.0, weight = k & 2 ? 50.0 : 0.02;
        hall_start(&h);
        if (k & 4) hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 1.0);
        hall_focus(&h, 5.0, y, 8.0, 0.5, 6.5, weight);
        if (!(k & 4)) hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 1.0);
        int rear = rows();
        gradin_sight s = hall_compute(&h, arena, 64, false);
        NEAR(s.c_m[rear], 0.120);
        NEAR(s.d_m[rear], 6.0);
        cr_assert_eq(s.c_area[rear], k & 4 ? 0 : 1);
        gradin_arena_destroy(arena);
    }
}

/* Two floors of one height are one floor: a stage in halves. The seat before the left half looks at
 * the middle of both, as it does at the whole. */
Test(c_line, floors_of_one_height_are_one) {
    gradin_arena *arena = gradin_arena_create();
    double d_m[3], c_m[3];
    for (int k = 0; k < 3; k++) {
        hall_start(&h);
        if (k == 0) hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.3, 1.0);
        if (k > 0) hall_focus(&h, k == 1 ? -3.0 : 3.0, -4.0, 6.0, 8.0, 0.3, 9.0);
        if (k > 0) hall_focus(&h, k == 1 ? 3.0 : -3.0, -4.0, 6.0, 8.0, 0.3, 1.0);
        hall_seat(&h, -3.7, 6.0, 1.1);
        int rear = hall_seat(&h, -4.0, 6.9, 1.403);
        gradin_sight s = hall_compute(&h, arena, 64, false);
        d_m[k] = s.d_m[rear];
        c_m[k] = s.c_m[rear];
        cr_assert_eq(s.c_case[rear], GRADIN_C_ROW_IN_FRONT);
    }
    for (int k = 1; k < 3; k++) {
        NEAR(d_m[k], d_m[0]);
        NEAR(c_m[k], c_m[0]);
    }
    gradin_arena_destroy(arena);
}

/* A ramp upstage that falls from the stage's height to the floor, a rake that rises from it, a high
 * platform: C stays at the stage's near edge. The same worksheet, C 120. */
Test(c_line, a_sloping_floor_upstage_takes_no_line_away) {
    static const struct {
        double z_m, slope, uphill_deg;
    } ramps[] = {{-0.6, 0.1, 0.0}, {0.0, 0.1, 180.0}, {0.3, 0.1, 180.0}, {-0.01, 0.1, 0.0}};
    for (int k = 0; k < 8; k++) {
        gradin_arena *arena = gradin_arena_create();
        hall_start(&h);
        if (k < 4) hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 1.0);
        hall_focus(&h, 0.0, -11.0, 4.0, 6.0, ramps[k % 4].z_m, 1.0);
        gradin_focus *ramp = &h.focus[h.model.n_focus - 1];
        ramp->slope = ramps[k % 4].slope;
        ramp->uphill_deg = ramps[k % 4].uphill_deg;
        if (k >= 4) hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 1.0);
        int rear = rows();
        gradin_sight s = hall_compute(&h, arena, 64, false);
        NEAR(s.d_m[rear], 6.0);
        NEAR(s.c_m[rear], 0.120);
        gradin_arena_destroy(arena);
    }
}

/* Calf height at a setting line 2 m behind the stage front: D 8000, R 1100 - 450. */
Test(c_line, a_stated_line_with_its_height_counts) {
    gradin_arena *arena = gradin_arena_create();
    gradin_vec2 point_m[] = {{-6.0, -2.0}, {6.0, -2.0}};
    gradin_c_line line = {.name = "setting line", .point_m = point_m, .n_point = 2, .z_m = 0.45};
    hall_start(&h);
    hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 1.0);
    h.model.c_line = &line;
    int rear = rows();
    gradin_sight s = hall_compute(&h, arena, 64, false);
    NEAR(s.d_m[rear], 8.0);
    NEAR(s.r_m[rear], 0.65);
    NEAR(s.c_m[rear], gradin_c_value_m(8.0, 0.65, 0.303, 0.9));
    cr_assert_eq(s.c_area[rear], -1);
    point_m[0].x = 2.0; /* beside the plane: it turns to the line's near end, (2, -2) */
    h.eye_m[0].x = h.floor_m[0].x = 0.2;
    s = hall_compute(&h, arena, 64, false);
    cr_assert_eq(s.c_case[rear], GRADIN_C_ROW_IN_FRONT);
    NEAR(s.d_m[rear] + s.t_m[rear], hypot(2.0, 8.9));
    gradin_arena_destroy(arena);
}

/* The first of a bent line's stretches that the view meets. */
Test(c_line, a_bent_line_is_met_at_its_near_side) {
    gradin_arena *arena = gradin_arena_create();
    gradin_vec2 point_m[] = {{3.0, -8.0}, {3.0, -1.0}, {-3.0, -1.0}, {-3.0, -8.0}};
    gradin_c_line line = {.name = "edge", .point_m = point_m, .n_point = 4, .z_m = 0.0};
    gradin_c_point point;
    hall_start(&h);
    h.model.c_line = &line;
    cr_assert(
        gradin_c_line_meet(&h.model, (gradin_vec2){0.0, 6.0}, (gradin_vec2){0.0, -1.0}, &point));
    NEAR(point.ahead_m, 7.0);
    cr_assert(
        gradin_c_line_meet(&h.model, (gradin_vec2){9.0, -4.0}, (gradin_vec2){-1.0, 0.0}, &point));
    NEAR(point.ahead_m, 6.0);
    cr_assert_not(
        gradin_c_line_meet(&h.model, (gradin_vec2){9.0, -4.0}, (gradin_vec2){1.0, 0.0}, &point));
    cr_assert(gradin_c_line_nearest(&h.model, (gradin_vec2){4.0, 3.0}, &point));
    NEAR(point.at_m.x, 3.0);
    NEAR(point.at_m.y, -1.0);
    gradin_arena_destroy(arena);
}
