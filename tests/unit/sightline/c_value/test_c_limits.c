/* The distances that decide who is the row in front, the row two ahead, across an aisle, or beside
 * the window, each from just inside and just beyond. They are conventions of this project; common
 * practice, no source. Seats are 0.55 m wide and 0.9 m deep, the plane of view is x = 0. */
#include "unit/sightline/hall.h"

#include <criterion/criterion.h>

static hall h;

typedef struct sitter {
    double aside_m, ahead_m;
} sitter;

/* The seat at y 10 with up to three persons ahead of it, their eyes a little lower each. */
static gradin_sight look(gradin_arena *arena, const sitter *who, int n) {
    hall_start(&h);
    hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 1.0);
    hall_seat(&h, 0.0, 10.0, 2.4);
    for (int i = 0; i < n; i++)
        hall_seat(&h, who[i].aside_m, 10.0 - who[i].ahead_m, 2.4 - 0.2 * who[i].ahead_m);
    return hall_compute(&h, arena, 16, false);
}

static void expect(const sitter *who, int n, gradin_c_case c_case, int front) {
    gradin_arena *arena = gradin_arena_create();
    gradin_sight s = look(arena, who, n);
    cr_expect_eq(s.c_case[0], c_case, "%g m aside, %g m ahead: case %d, not %d", who[n - 1].aside_m,
                 who[n - 1].ahead_m, (int)s.c_case[0], (int)c_case);
    cr_expect_eq(s.front_seat[0], front, "%g m ahead: seat %d, not %d", who[n - 1].ahead_m,
                 s.front_seat[0], front);
    gradin_arena_destroy(arena);
}

Test(c_limits, a_row_counts_when_its_seat_reaches_into_the_plane) {
    expect((sitter[]){{0.27, 0.9}}, 1, GRADIN_C_BETWEEN_HEADS, 1);
    expect((sitter[]){{0.28, 0.9}}, 1, GRADIN_C_NONE, -1);
}

/* The row in front is half its depth deep, from 0.9 to 1.35 m ahead. */
Test(c_limits, a_row_is_half_its_depth_deep) {
    expect((sitter[]){{0.25, 0.9}, {0.0, 1.34}}, 2, GRADIN_C_ROW_IN_FRONT, 2);
    expect((sitter[]){{0.25, 0.9}, {0.0, 1.36}}, 2, GRADIN_C_TWO_AHEAD, 2);
}

/* The row two ahead begins within two and a half rows, 2.25 m, behind that: up to 3.6 m ahead. */
Test(c_limits, the_row_two_ahead_is_near) {
    expect((sitter[]){{0.25, 0.9}, {0.0, 3.59}}, 2, GRADIN_C_TWO_AHEAD, 2);
    expect((sitter[]){{0.25, 0.9}, {0.0, 3.61}}, 2, GRADIN_C_BETWEEN_HEADS, 1);
}

/* More than half a row, 0.45 m, free between two places is an aisle. */
Test(c_limits, a_free_strip_is_an_aisle) {
    expect((sitter[]){{0.0, 1.34}}, 1, GRADIN_C_ROW_IN_FRONT, 1);
    expect((sitter[]){{0.0, 1.36}}, 1, GRADIN_C_ACROSS_AISLE, 1);
}

/* The head to the other side bounds the window when it is of the row: within a quarter of its
 * depth, 0.225 m. */
Test(c_limits, a_window_is_bounded_by_heads_of_one_row) {
    for (int k = 0; k < 2; k++) {
        gradin_arena *arena = gradin_arena_create();
        gradin_sight s = look(arena, (sitter[]){{0.2, 0.9}, {-0.3, k ? 1.13 : 1.12}}, 2);
        cr_expect_eq(isnan(s.window_deg[0]), k == 1, "%g", s.window_deg[0]);
        gradin_arena_destroy(arena);
    }
}

/* A head up to one and a half seats, 0.825 m, off the plane bounds it. */
Test(c_limits, a_window_is_bounded_by_near_heads) {
    for (int k = 0; k < 2; k++) {
        gradin_arena *arena = gradin_arena_create();
        gradin_sight s = look(arena, (sitter[]){{0.2, 0.9}, {k ? -0.83 : -0.82, 0.9}}, 2);
        cr_expect_eq(isnan(s.window_deg[0]), k == 1, "%g", s.window_deg[0]);
        gradin_arena_destroy(arena);
    }
}
