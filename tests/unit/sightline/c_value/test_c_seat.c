/* Which person the C-value of a seat is taken against, and its figures against the plane formula.
 */
#include "unit/sightline/hall.h"

#include <criterion/criterion.h>

static hall h;

#define NEAR(a, b) cr_assert(fabs((a) - (b)) <= 1e-9, "%s = %.12f, not %.12f", #a, (a), (double)(b))

/* Focus: front edge on y = 0, acting plane at z = 0. */
static void start(void) {
    hall_start(&h);
    hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 1.0);
}

Test(c_seat, row_in_front) {
    gradin_arena *arena = gradin_arena_create();
    start();
    int front = hall_seat(&h, 0.0, 6.0, 1.1), rear = hall_seat(&h, 0.0, 6.9, 1.403);
    gradin_sight s = hall_compute(&h, arena, 16, false);
    cr_assert_eq(s.c_case[front], GRADIN_C_NONE);
    cr_assert(isnan(s.c_m[front]) && isnan(s.c_row_m[front]) && isnan(s.t_m[front]));
    cr_assert_eq(s.front_seat[front], -1);
    cr_assert_eq(s.c_case[rear], GRADIN_C_ROW_IN_FRONT);
    cr_assert_eq(s.front_seat[rear], front);
    NEAR(s.d_m[rear], 6.0);
    NEAR(s.t_m[rear], 0.9);
    NEAR(s.r_m[rear], 1.1);
    NEAR(s.n_m[rear], 0.303);
    /* Bath worksheet: D 6000, R 1100, T 900, N 303 gives C 120 */
    NEAR(s.c_m[rear], 0.120);
    NEAR(s.c_row_m[rear], 0.120);
    cr_assert(isnan(s.c_two_m[rear]));
    gradin_arena_destroy(arena);
}

Test(c_seat, half_seat_stagger_looks_two_rows_ahead) {
    gradin_arena *arena = gradin_arena_create();
    start();
    hall_rows(&h, 3, 5, 6.0, 0.275, 1.1, 0.243);
    gradin_sight s = hall_compute(&h, arena, 16, false);
    int seat = 12; /* middle of the third row */
    cr_assert_eq(s.c_case[seat], GRADIN_C_TWO_AHEAD);
    cr_assert_eq(s.front_seat[seat], 2);
    /* D 6000, R 1100, T 900, N 243 a row gives C2 120 */
    NEAR(s.c_m[seat], 0.120);
    NEAR(s.c_two_m[seat], 0.120);
    NEAR(s.t_m[seat], 1.8);
    NEAR(s.n_m[seat], 0.486);
    NEAR(s.c_row_m[seat], gradin_c_value_m(6.9, 1.343, 0.243, 0.9));
    /* second row: both heads of the row in front stand half a seat off */
    cr_assert_eq(s.c_case[7], GRADIN_C_BETWEEN_HEADS);
    NEAR(s.c_m[7], gradin_c_value_m(s.d_m[7], 1.1, 0.243, s.t_m[7]));
    cr_assert(fabs(s.c_m[7] - gradin_c_value_m(6.0, 1.1, 0.243, 0.9)) < 0.002);
    NEAR(s.c_m[7], s.c_row_m[7]);
    gradin_arena_destroy(arena);
}

Test(c_seat, a_head_counts_up_to_half_its_breadth_off_the_plane) {
    for (int k = 0; k < 2; k++) {
        gradin_arena *arena = gradin_arena_create();
        start();
        hall_seat(&h, k ? 0.079 : 0.077, 6.0, 1.1);
        int rear = hall_seat(&h, 0.0, 6.9, 1.4);
        hall_focus(&h, 0.0, -4.0, 1.0, 1.0, 0.0, 1.0);
        gradin_sight s = hall_compute(&h, arena, 16, false);
        cr_assert_eq(s.c_case[rear], k ? GRADIN_C_BETWEEN_HEADS : GRADIN_C_ROW_IN_FRONT);
        gradin_arena_destroy(arena);
    }
}

/* Seen aslant, the nearest person of the row in front is not the one whose head is in the way. */
Test(c_seat, aslant_the_head_in_the_plane_is_found_within_the_row) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, -10.0, 0.0, 2.0, 2.0, 0.0, 1.0); /* 45 degrees off, centre at (-10, 0) */
    int rear = hall_seat(&h, 0.0, 10.0, 2.0);
    hall_seat(&h, -0.53, 9.1, 1.8);                /* nearer, 0.26 m off the plane */
    int in_plane = hall_seat(&h, -0.95, 9.1, 1.8); /* 0.035 m off */
    gradin_sight s = hall_compute(&h, arena, 16, false);
    cr_assert_eq(s.c_case[rear], GRADIN_C_ROW_IN_FRONT);
    cr_assert_eq(s.front_seat[rear], in_plane);
    NEAR(s.t_m[rear], (0.95 + 0.9) / sqrt(2.0));
    /* the plane meets the corner (-9, 1) of the focus */
    NEAR(s.d_m[rear] + s.t_m[rear], 9.0 * sqrt(2.0));
    gradin_arena_destroy(arena);
}

Test(c_seat, people_overhead_beyond_the_edge_or_at_the_neck_do_not_count) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.9, 1.0);
    int seat = hall_seat(&h, 0.0, 8.0, 1.2);
    hall_seat(&h, 0.0, 5.0, 4.5);  /* on a gallery: floor at 3.3, ray at 1.09 */
    hall_seat(&h, 0.0, -9.0, 1.2); /* across the stage */
    hall_seat(&h, 0.0, 7.75, 1.2); /* 0.25 m ahead: no place for a person */
    hall_seat(&h, 0.0, 9.0, 1.2);  /* behind */
    hall_seat(&h, 0.3, 7.0, 1.2);  /* beside the plane */
    gradin_sight s = hall_compute(&h, arena, 16, false);
    cr_assert_eq(s.c_case[seat], GRADIN_C_NONE);
    gradin_arena_destroy(arena);
}

Test(c_seat, the_nearest_edge_of_the_lowest_floor_sets_the_point) {
    gradin_arena *arena = gradin_arena_create();
    start();
    hall_focus(&h, 0.0, 2.0, 2.0, 1.0, 0.0, 1.0); /* a tongue, front edge on y = 2.5 */
    hall_focus(&h, 0.0, 3.0, 2.0, 1.0, 0.4, 1.0); /* a rostrum before it */
    hall_seat(&h, 0.0, 6.0, 1.1);
    int rear = hall_seat(&h, 0.0, 6.9, 1.4);
    gradin_sight s = hall_compute(&h, arena, 16, false);
    NEAR(s.d_m[rear], 3.5);
    NEAR(s.r_m[rear], 1.1);
    gradin_arena_destroy(arena);
}

Test(c_seat, a_plane_between_the_areas_turns_to_the_nearest_edge) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, -6.0, 0.0, 4.0, 4.0, 0.0, 1.0);
    hall_focus(&h, 7.0, 0.0, 4.0, 4.0, 0.0, 1.0);
    int seat = hall_seat(&h, 0.5, 6.0, 1.6);
    int ahead = hall_seat(&h, 0.5 - 1.0, 6.0 - 4.0 / 4.5 * 1.0 * 1.0, 1.4);
    gradin_sight s = hall_compute(&h, arena, 16, false);
    /* corners (-4, 2) and (5, 2) are equally far at 0.5: the first counts */
    double reach = hypot(4.5, 4.0);
    cr_assert_eq(s.front_seat[seat], ahead);
    NEAR(s.t_m[seat] + s.d_m[seat], reach);
    gradin_arena_destroy(arena);
}

Test(c_seat, over_the_focus_nobody_is_in_front) {
    gradin_arena *arena = gradin_arena_create();
    start();
    int seat = hall_seat(&h, 0.0, -1.0, 1.2);
    hall_seat(&h, 0.0, -2.0, 1.2);
    gradin_sight s = hall_compute(&h, arena, 16, false);
    cr_assert_eq(s.c_case[seat], GRADIN_C_NONE);
    NEAR(s.width_deg[seat], 360.0);
    NEAR(s.nearest_m[seat], 0.0);
    gradin_arena_destroy(arena);
}

Test(c_seat, focus_lies_in_the_plane_of_view_not_straight_ahead) {
    gradin_arena *arena = gradin_arena_create();
    start();
    hall_seat(&h, 3.0 - 0.9 * 3.0 / 10.9, 6.0, 1.1);
    int rear = hall_seat(&h, 3.0, 6.9, 1.4);
    gradin_sight s = hall_compute(&h, arena, 16, false);
    double slant = hypot(1.0, 3.0 / 10.9); /* towards the centroid (0, -4) */
    NEAR(s.d_m[rear], 6.0 * slant);
    NEAR(s.t_m[rear], 0.9 * slant);
    gradin_arena_destroy(arena);
}

Test(c_seat, both_rows_may_leave_a_gap) {
    gradin_arena *arena = gradin_arena_create();
    start();
    int two_ahead = hall_seat(&h, 0.2, 6.0, 1.1), front = hall_seat(&h, -0.25, 6.9, 1.35);
    int rear = hall_seat(&h, 0.0, 7.8, 1.6);
    gradin_sight s = hall_compute(&h, arena, 16, false);
    cr_assert_eq(s.c_case[rear], GRADIN_C_BETWEEN_HEADS);
    cr_assert_eq(s.front_seat[rear], front);
    NEAR(s.c_m[rear], s.c_row_m[rear]);
    NEAR(s.c_two_m[rear], gradin_c_value_m(6.0, 1.1, 0.5, 1.8));
    cr_assert_neq(s.front_seat[rear], two_ahead);
    gradin_arena_destroy(arena);
}

/* "On the ray's own level": people whose eyes are more than 1 m under the ray are a storey below
 * and leave the row behind them in front, and those whose floor is above the ray are a storey
 * above. The ray falls from the eye at 5.0 m and y 10 to the focus at 0 m and y 0, half a metre per
 * metre. */
Test(c_seat, who_sits_a_storey_below_or_above_is_not_in_front) {
    static const struct {
        double eye_m;
        bool counts;
    } cases[] = {{3.49, false}, {3.51, true}, {4.4, true}, {4.7, true}, {4.82, false}};
    for (size_t k = 0; k < sizeof cases / sizeof *cases; k++) {
        gradin_arena *arena = gradin_arena_create();
        start();
        int rear = hall_seat(&h, 0.0, 10.0, 5.0);
        int other = hall_seat(&h, 0.0, 9.0, cases[k].eye_m); /* the ray is at 4.5 m */
        int behind = hall_seat(&h, 0.0, 8.0, 3.9);           /* and here at 4.0 m */
        h.floor_m[other].z = cases[k].eye_m - 0.3;
        h.floor_m[behind].z = 3.0;
        gradin_sight s = hall_compute(&h, arena, 16, false);
        /* 3.51 m: of a row over whose crown the ray passes by more than 0.3 m, so the next counts
         */
        int expected = !cases[k].counts || cases[k].eye_m < 4.0 ? behind : other;
        cr_assert_eq(s.front_seat[rear], expected, "eye at %.2f m: %d", cases[k].eye_m,
                     s.front_seat[rear]);
        gradin_arena_destroy(arena);
    }
}

/* Two rows of a gallery and people on the floor below: they are no row two ahead. */
Test(c_seat, nobody_far_ahead_is_two_rows_ahead) {
    gradin_arena *arena = gradin_arena_create();
    start();
    int below = hall_seat(&h, 0.0, 3.0, 1.1), front = hall_seat(&h, 0.25, 9.0, 4.5);
    int rear = hall_seat(&h, 0.0, 9.9, 5.0);
    gradin_sight s = hall_compute(&h, arena, 16, false);
    cr_assert_eq(s.c_case[rear], GRADIN_C_BETWEEN_HEADS);
    cr_assert_eq(s.front_seat[rear], front);
    cr_assert_neq(s.front_seat[rear], below);
    cr_assert(isnan(s.c_two_m[rear]));
    gradin_arena_destroy(arena);
}
