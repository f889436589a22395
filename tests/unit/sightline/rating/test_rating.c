/* Which figures a rating counts, and the class of C by itself, each from just inside and just
 * beyond its limit. The limits here are chosen for the tests. */
#include "unit/sightline/hall.h"

#include <criterion/criterion.h>

static hall h;
static gradin_arena *arena;
static gradin_sight s;
static gradin_crowd crowd;
static double chance;

static void setup(void) {
    arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, -4.0, 12.0, 8.0, 0.0, 1.0);
    hall_seat(&h, 0.0, 10.0, 2.4);
    h.model.audience.shoulder_drop_m = 0.2;
    s = hall_compute(&h, arena, 16, false);
    crowd = (gradin_crowd){.n_seat = 1, .n_draw = 10, .clear = &chance};
}
static void teardown(void) {
    gradin_arena_destroy(arena);
}
TestSuite(rating, .init = setup, .fini = teardown);

static void set(double limit[3], double clear, double good, double fair) {
    limit[0] = clear;
    limit[1] = good;
    limit[2] = fair;
}

static void expect(const gradin_crowd *drawn, gradin_rating rating, gradin_reason reason) {
    cr_assert_eq(gradin_sight_rate(&h.model, drawn, &s, NULL), GRADIN_OK);
    cr_assert_eq(s.rating[0], rating, "%s", gradin_rating_name(s.rating[0]));
    cr_assert_eq(s.reason[0], reason, "%s", gradin_reason_name(s.reason[0]));
    for (int k = 0; k < GRADIN_N_RATING; k++)
        cr_assert_eq(s.n_rating[k], k == (int)rating, "%d seats of class %d", s.n_rating[k], k);
}

Test(rating, a_figure_that_is_left_out_sets_nothing) {
    gradin_limits *l = &h.model.limits;
    double *limit[] = {l->visible_min,  l->distance_max_m, l->off_axis_max_deg,
                       l->down_max_deg, l->turn_max_deg,   l->clear_view_min};
    const gradin_reason reason[] = {GRADIN_REASON_VISIBLE,  GRADIN_REASON_DISTANCE,
                                    GRADIN_REASON_OFF_AXIS, GRADIN_REASON_DOWN,
                                    GRADIN_REASON_TURN,     GRADIN_REASON_CLEAR_VIEW};
    s.visible[0] = s.distance_m[0] = s.off_axis_deg[0] = s.down_deg[0] = s.turn_deg[0] = 0.5;
    chance = 0.5;
    for (size_t i = 0; i < sizeof reason / sizeof *reason; i++) {
        bool is_least = reason[i] == GRADIN_REASON_VISIBLE || reason[i] == GRADIN_REASON_CLEAR_VIEW;
        double strict = is_least ? 0.6 : 0.4;
        set(limit[i], strict, strict, strict);
        expect(&crowd, GRADIN_RATING_POOR, reason[i]);
        l->is_left_out[reason[i]] = true;
        expect(&crowd, GRADIN_RATING_CLEAR, GRADIN_REASON_NONE);
        l->is_left_out[reason[i]] = false;
        set(limit[i], strict, 0.5, 0.5);
        expect(&crowd, GRADIN_RATING_GOOD, reason[i]);
        set(limit[i], NAN, NAN, NAN);
    }
}

/* A front row close to a level stage looks steeply to its middle, and people there in the face. */
Test(rating, who_acts_is_not_looked_down_on_from_below_their_heads) {
    set(h.model.limits.down_max_deg, 20.0, 25.0, 30.0);
    s.down_deg[0] = 33.0;
    h.model.seats.eye_m[0].z = 1.71;
    expect(NULL, GRADIN_RATING_POOR, GRADIN_REASON_DOWN);
    h.model.seats.eye_m[0].z = 1.69;
    expect(NULL, GRADIN_RATING_CLEAR, GRADIN_REASON_NONE);
    gradin_focus low = h.model.focus[0];
    low.z_m = -0.3;
    h.model.focus = &low;
    expect(NULL, GRADIN_RATING_POOR, GRADIN_REASON_DOWN);
}

Test(rating, without_draws_there_is_no_chance) {
    chance = 0.0;
    set(h.model.limits.clear_view_min, 0.8, 0.8, 0.8);
    expect(NULL, GRADIN_RATING_CLEAR, GRADIN_REASON_NONE);
    expect(&crowd, GRADIN_RATING_POOR, GRADIN_REASON_CLEAR_VIEW);
}

static void expect_class(gradin_c_case c_case, double row_m, double two_m, double gap_deg,
                         gradin_rating c_class) {
    s.c_case[0] = c_case;
    s.c_m[0] = c_case == GRADIN_C_TWO_AHEAD ? two_m : row_m;
    s.c_row_m[0] = row_m;
    s.c_two_m[0] = two_m;
    s.window_deg[0] = gap_deg;
    cr_assert_eq(gradin_sight_rate(&h.model, NULL, &s, NULL), GRADIN_OK);
    cr_expect_eq(s.c_class[0], c_class, "case %d, C %.3f and %.3f, gap %.1f: %s", (int)c_case,
                 row_m, two_m, gap_deg, gradin_rating_name(s.c_class[0]));
    cr_expect_eq(s.n_c_class[c_class], 1);
}

Test(rating, class_of_c) {
    set(h.model.limits.c_value_min_m, 0.120, 0.090, 0.060);
    set(h.model.limits.two_row_c_min_m, 0.110, 0.080, 0.050);
    set(h.model.limits.head_gap_min_deg, 20.0, 15.0, 10.0);
    const gradin_c_case in_plane[] = {GRADIN_C_ROW_IN_FRONT, GRADIN_C_ACROSS_AISLE};
    for (int k = 0; k < 2; k++) { /* a head stands in the plane: C over it, no gap */
        expect_class(in_plane[k], 0.120, 0.2, 30.0, GRADIN_RATING_CLEAR);
        expect_class(in_plane[k], 0.119, 0.2, 30.0, GRADIN_RATING_GOOD);
        expect_class(in_plane[k], 0.059, 0.2, 30.0, GRADIN_RATING_POOR);
    }
    /* between heads: the gap, or what C over the row gives anyway; two rows ahead nobody stands */
    expect_class(GRADIN_C_BETWEEN_HEADS, -0.02, -0.4, 20.0, GRADIN_RATING_CLEAR);
    expect_class(GRADIN_C_BETWEEN_HEADS, -0.02, -0.4, 19.9, GRADIN_RATING_GOOD);
    expect_class(GRADIN_C_BETWEEN_HEADS, -0.02, -0.4, 10.0, GRADIN_RATING_FAIR);
    expect_class(GRADIN_C_BETWEEN_HEADS, -0.02, -0.4, 9.9, GRADIN_RATING_POOR);
    expect_class(GRADIN_C_BETWEEN_HEADS, 0.120, -0.4, 9.9, GRADIN_RATING_CLEAR);
    /* a row's end has no head on one side */
    expect_class(GRADIN_C_BETWEEN_HEADS, -0.02, -0.4, NAN, GRADIN_RATING_CLEAR);
    /* below the shoulders there is no gap */
    expect_class(GRADIN_C_BETWEEN_HEADS, -0.199, -0.4, 25.0, GRADIN_RATING_CLEAR);
    expect_class(GRADIN_C_BETWEEN_HEADS, -0.201, -0.4, 25.0, GRADIN_RATING_POOR);
    /* two rows ahead: the worse of gap and two-row C, or C over the row in front */
    expect_class(GRADIN_C_TWO_AHEAD, -0.02, 0.110, 25.0, GRADIN_RATING_CLEAR);
    expect_class(GRADIN_C_TWO_AHEAD, -0.02, 0.109, 25.0, GRADIN_RATING_GOOD);
    expect_class(GRADIN_C_TWO_AHEAD, -0.02, 0.049, 25.0, GRADIN_RATING_POOR);
    expect_class(GRADIN_C_TWO_AHEAD, -0.02, 0.110, 14.0, GRADIN_RATING_FAIR);
    expect_class(GRADIN_C_TWO_AHEAD, 0.100, 0.049, 25.0, GRADIN_RATING_GOOD);
}

/* A gap of 25 degrees in which a wide focus does not fit. */
Test(rating, a_gap_is_no_better_than_what_heads_leave) {
    set(h.model.limits.c_value_min_m, 0.120, 0.090, 0.060);
    set(h.model.limits.two_row_c_min_m, 0.110, 0.080, 0.050);
    set(h.model.limits.head_gap_min_deg, 20.0, 15.0, 10.0);
    set(h.model.limits.visible_min, 0.95, 0.85, 0.66);
    double *hidden = &s.c_heads[0];
    const gradin_c_case between[] = {GRADIN_C_BETWEEN_HEADS, GRADIN_C_TWO_AHEAD};
    for (int k = 0; k < 2; k++) {
        *hidden = 0.05;
        expect_class(between[k], -0.02, 0.2, 25.0, GRADIN_RATING_CLEAR);
        *hidden = 0.06;
        expect_class(between[k], -0.02, 0.2, 25.0, GRADIN_RATING_GOOD);
        *hidden = 0.35;
        expect_class(between[k], -0.02, 0.2, 25.0, GRADIN_RATING_POOR);
        expect_class(between[k], 0.120, 0.2, 25.0, GRADIN_RATING_CLEAR);
    }
    expect_class(GRADIN_C_ROW_IN_FRONT, 0.120, 0.2, 25.0, GRADIN_RATING_CLEAR);
}

/* C sets the rating only where a brief asks for it, and nobody in front sets nothing. */
Test(rating, c_counts_by_its_class) {
    set(h.model.limits.c_value_min_m, 0.120, 0.090, 0.060);
    set(h.model.limits.head_gap_min_deg, 20.0, 15.0, 10.0);
    s.c_case[0] = GRADIN_C_BETWEEN_HEADS;
    s.c_m[0] = s.c_row_m[0] = -0.02;
    s.window_deg[0] = 23.0;
    expect(NULL, GRADIN_RATING_CLEAR, GRADIN_REASON_NONE);
    s.window_deg[0] = 5.0;
    expect(NULL, GRADIN_RATING_POOR, GRADIN_REASON_C_VALUE);
    s.c_case[0] = GRADIN_C_NONE;
    expect(NULL, GRADIN_RATING_CLEAR, GRADIN_REASON_NONE);
    cr_assert_eq(s.c_class[0], GRADIN_N_RATING);
    cr_assert_eq(s.n_c_class[GRADIN_N_RATING], 1);
}

Test(rating, results_of_other_seats_are_refused) {
    s.n_seat = 2;
    cr_assert_eq(gradin_sight_rate(&h.model, NULL, &s, NULL), GRADIN_BAD_USE);
    s.n_seat = 1;
    crowd.n_seat = 2;
    cr_assert_eq(gradin_sight_rate(&h.model, &crowd, &s, NULL), GRADIN_BAD_USE);
}
