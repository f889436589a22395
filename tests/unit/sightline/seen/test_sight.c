/* Occlusion, angles, rating and what holds for all figures of a hall at once. */
#include "base/faults.h"
#include "unit/sightline/hall.h"

#include <criterion/criterion.h>
#include <omp.h>
#include <string.h>

static hall h, g;

#define NEAR(a, b) cr_assert(fabs((a) - (b)) <= 1e-9, "%s = %.12f, not %.12f", #a, (a), (double)(b))

static const double *hidden_of(const gradin_sight *s, int seat) {
    return s->hidden + (size_t)seat * GRADIN_N_CAUSE;
}

/* A hall with one of everything; sign -1 gives its mirror image. */
static void furnish(hall *f, double sign, double riser_m) {
    hall_start(f);
    hall_focus(f, sign * 1.0, -4.0, 9.0, 6.0, 0.5, 2.0);
    hall_focus(f, sign * -5.5, -2.0, 2.0, 3.0, 0.2, 1.0);
    if (sign < 0.0) /* corner by corner, so that the samples are mirrored, too */
        for (int a = 0; a < 2; a++) {
            gradin_vec2 *c = f->area_corner[a], first = c[0], second = c[1];
            c[0] = c[3], c[3] = first, c[1] = c[2], c[2] = second;
        }
    for (int row = 0; row < 5; row++)
        for (int k = 0; k < 8; k++)
            hall_seat(f, sign * (0.55 * (k - 3) + (row % 2 ? 0.2 : 0.0)), 4.0 + 0.9 * row,
                      1.2 + riser_m * row);
    hall_heads(f);
    hall_occluder(f,
                  gradin_capsule((gradin_vec3){sign * -2, 3.4, 1.12},
                                 (gradin_vec3){sign * 4, 3.4, 1.12}, 0.025),
                  GRADIN_CAUSE_RAIL, 1);
    hall_solid(f, sign * 2.0, 1.0, 0.4, 0.4, 0.0, 4.0, GRADIN_CAUSE_STRUCTURE, 2);
    hall_solid(f, sign * -6.0, -0.5, 3.0, 0.1, 0.0, 5.0, GRADIN_CAUSE_ARCH, 3);
}

Test(sight, mirror_image_has_the_same_figures) {
    gradin_arena *arena = gradin_arena_create();
    furnish(&h, 1.0, 0.1);
    furnish(&g, -1.0, 0.1);
    gradin_sight a = hall_compute(&h, arena, 800, false), b = hall_compute(&g, arena, 800, false);
    double least = 1.0;
    for (int i = 0; i < a.n_seat; i++) {
        least = fmin(least, a.visible[i]);
        NEAR(a.visible[i], b.visible[i]);
        for (int c = 0; c < GRADIN_N_CAUSE; c++) NEAR(hidden_of(&a, i)[c], hidden_of(&b, i)[c]);
        cr_assert_eq(a.c_case[i], b.c_case[i], "seat %d", i);
        cr_assert_eq(a.worst_occluder[i], b.worst_occluder[i], "seat %d", i);
        if (a.c_case[i] != GRADIN_C_NONE) NEAR(a.c_m[i], b.c_m[i]);
        NEAR(a.distance_m[i], b.distance_m[i]);
        NEAR(a.nearest_m[i], b.nearest_m[i]);
        NEAR(a.off_axis_deg[i], b.off_axis_deg[i]);
        NEAR(a.down_deg[i], b.down_deg[i]);
        NEAR(a.turn_deg[i], b.turn_deg[i]);
        NEAR(a.width_deg[i], b.width_deg[i]);
    }
    cr_assert_lt(least, 0.8, "something hides in this hall");
    gradin_arena_destroy(arena);
}

Test(sight, all_parts_make_one) {
    gradin_arena *arena = gradin_arena_create();
    furnish(&h, 1.0, 0.1);
    gradin_sight s = hall_compute(&h, arena, 800, false);
    double cause[GRADIN_N_CAUSE] = {0};
    for (int i = 0; i < s.n_seat; i++) {
        double sum = s.visible[i];
        for (int c = 0; c < GRADIN_N_CAUSE; c++) {
            sum += hidden_of(&s, i)[c];
            cause[c] += hidden_of(&s, i)[c];
        }
        NEAR(sum, 1.0);
        if (s.worst_occluder[i] == 0) NEAR(s.worst_hidden[i], hidden_of(&s, i)[GRADIN_CAUSE_HEAD]);
    }
    for (int c = 0; c < GRADIN_N_CAUSE; c++) cr_assert_gt(cause[c], 0.0, "cause %d hides", c);
    gradin_arena_destroy(arena);
}

Test(sight, quick_and_reference_and_any_thread_count_give_the_same_bytes) {
    gradin_arena *arena = gradin_arena_create();
    furnish(&h, 1.0, 0.06);
    omp_set_num_threads(1);
    gradin_sight one = hall_compute(&h, arena, 700, false);
    gradin_sight reference = hall_compute(&h, arena, 700, true);
    omp_set_num_threads(2);
    gradin_sight two = hall_compute(&h, arena, 700, false);
    omp_set_num_threads(5);
    gradin_sight five = hall_compute(&h, arena, 700, false);
    cr_assert(hall_same_bytes(&one, &reference), "reference");
    cr_assert(hall_same_bytes(&one, &two), "two threads");
    cr_assert(hall_same_bytes(&one, &five), "five threads");
    gradin_arena_destroy(arena);
}

static double mean_visible(double riser_m) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, -4.0, 10.0, 8.0, 0.0, 1.0);
    hall_rows(&h, 6, 7, 5.0, 0.0, 1.2, riser_m);
    hall_heads(&h);
    gradin_sight s = hall_compute(&h, arena, 900, false);
    double sum = 0.0;
    for (int i = 0; i < s.n_seat; i++) sum += s.visible[i];
    gradin_arena_destroy(arena);
    return sum / s.n_seat;
}

Test(sight, a_higher_riser_hides_no_more) {
    double last = -1.0, first = mean_visible(0.0);
    for (int k = 0; k <= 10; k++) {
        double visible = mean_visible(0.05 * k);
        cr_assert_geq(visible, last, "riser %.2f m: %.6f after %.6f", 0.05 * k, visible, last);
        last = visible;
    }
    cr_assert(first < 0.7 && last > 0.95, "from %.3f to %.3f", first, last);
}

Test(sight, a_lower_solid_rail_hides_no_more_at_any_seat) {
    double last[HALL_SEATS] = {0}, gain = 0.0;
    for (int k = 0; k <= 10; k++) {
        gradin_arena *arena = gradin_arena_create();
        double top = 1.3 - 0.06 * k;
        hall_start(&h);
        hall_focus(&h, 0.0, -4.0, 10.0, 8.0, 0.0, 1.0);
        hall_rows(&h, 3, 7, 5.0, 0.0, 1.2, 0.1);
        hall_heads(&h);
        hall_occluder(&h, gradin_box((gradin_vec3){0, 4.2, 0.5 * top}, 180.0, 0.01, 6.0, 0.5 * top),
                      GRADIN_CAUSE_RAIL, 1);
        gradin_sight s = hall_compute(&h, arena, 900, false);
        for (int i = 0; i < s.n_seat; i++) {
            cr_assert_geq(s.visible[i], last[i], "top %.2f m, seat %d", top, i);
            gain += s.visible[i] - last[i];
            last[i] = s.visible[i];
        }
        gradin_arena_destroy(arena);
    }
    cr_assert_gt(gain, 5.0);
}

/* Two areas weighing 3 and 1, of equal size: a wall hides the heavy one, a post group part of the
 * light one. The parts that hide share a name. */
Test(sight, weights_names_and_the_worst) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, -4.0, 0.0, 2.0, 2.0, 0.0, 3.0);
    hall_focus(&h, 4.0, 0.0, 2.0, 2.0, 0.0, 1.0);
    int seat = hall_seat(&h, 0.0, 8.0, 1.2);
    gradin_sight s = hall_compute(&h, arena, 200, false);
    NEAR(s.visible[seat], 1.0);
    cr_assert_eq(s.worst_occluder[seat], -1);
    NEAR(s.worst_hidden[seat], 0.0);
    hall_solid(&h, -4.0, 1.5, 1.0, 0.1, 0.0, 5.0, GRADIN_CAUSE_STRUCTURE, 4);
    s = hall_compute(&h, arena, 200, false);
    double half = hidden_of(&s, seat)[GRADIN_CAUSE_STRUCTURE];
    cr_assert(half > 0.2 && half < 0.7);
    hall_solid(&h, -3.0, 1.5, 1.0, 0.1, 0.0, 5.0, GRADIN_CAUSE_ARCH, 5);
    hall_solid(&h, -5.0, 1.5, 1.0, 0.1, 0.0, 5.0, GRADIN_CAUSE_ARCH, 5);
    hall_solid(&h, -5.0, 1.7, 6.0, 0.1, 0.0, 5.0, GRADIN_CAUSE_RAIL, 3);
    s = hall_compute(&h, arena, 200, false);
    /* the rail stands nearest the eye and takes all of the blame */
    NEAR(s.visible[seat], 0.25);
    NEAR(hidden_of(&s, seat)[GRADIN_CAUSE_RAIL], 0.75);
    NEAR(hidden_of(&s, seat)[GRADIN_CAUSE_ARCH], 0.0);
    cr_assert_eq(s.worst_occluder[seat], 3);
    NEAR(s.worst_hidden[seat], 0.75);
    gradin_arena_destroy(arena);
}

Test(sight, parts_of_one_name_add_up_in_the_blame) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, 0.0, 10.0, 4.0, 0.0, 1.0);
    int seat = hall_seat(&h, 0.0, 12.0, 1.2);
    hall_solid(&h, -3.0, 3.0, 0.5, 0.1, 0.0, 5.0, GRADIN_CAUSE_STRUCTURE, 2);
    hall_solid(&h, 0.0, 3.0, 0.7, 0.1, 0.0, 5.0, GRADIN_CAUSE_STRUCTURE, 1);
    hall_solid(&h, 3.0, 3.0, 0.5, 0.1, 0.0, 5.0, GRADIN_CAUSE_STRUCTURE, 2);
    gradin_sight s = hall_compute(&h, arena, 4000, false);
    cr_assert_eq(s.worst_occluder[seat], 2);
    /* breadths 1.0 of 1.7 on a line across */
    double share = s.worst_hidden[seat] / (1.0 - s.visible[seat]);
    cr_assert(fabs(share - 1.0 / 1.7) < 0.03, "%.4f", share);
    gradin_arena_destroy(arena);
}

Test(sight, own_head_and_shoulders_do_not_hide) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, 0.0, 4.0, 4.0, 0.0, 1.0);
    int alone = hall_seat(&h, 0.0, 8.0, 1.2);
    hall_heads(&h);
    gradin_sight s = hall_compute(&h, arena, 100, false);
    NEAR(s.visible[alone], 1.0);
    gradin_arena_destroy(arena);
}

Test(sight, angles) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, -5.0, 10.0, 10.0, 1.0, 1.0); /* centroid (0, -5, 1) */
    int middle = hall_seat(&h, 0.0, 7.0, 6.0), side = hall_seat(&h, 12.0, -5.0, 1.0);
    gradin_sight s = hall_compute(&h, arena, 100, false);
    NEAR(s.distance_m[middle], 13.0); /* 12 along, 5 down */
    NEAR(s.nearest_m[middle], 7.0);
    NEAR(s.down_deg[middle], gradin_deg(atan2(5.0, 12.0)));
    NEAR(s.off_axis_deg[middle], 0.0);
    NEAR(s.turn_deg[middle], 0.0);
    NEAR(s.width_deg[middle], 2.0 * gradin_deg(atan2(5.0, 7.0)));
    NEAR(s.off_axis_deg[side], 90.0);
    NEAR(s.turn_deg[side], 90.0);
    NEAR(s.down_deg[side], 0.0);
    h.model.axis_deg = NAN;
    s = hall_compute(&h, arena, 100, false);
    cr_assert(isnan(s.off_axis_deg[side]));
    gradin_arena_destroy(arena);
}

/* Areas to the left and to the right ahead, and across north. */
Test(sight, width_holds_all_areas) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, -10.0, 10.0, 2.0, 2.0, 0.0, 1.0);
    hall_focus(&h, 10.0, 10.0, 2.0, 2.0, 0.0, 1.0);
    int seat = hall_seat(&h, 0.0, 0.0, 1.2);
    gradin_sight s = hall_compute(&h, arena, 100, false);
    NEAR(s.width_deg[seat], 2.0 * gradin_deg(atan2(11.0, 9.0)));
    hall_focus(&h, 0.0, -10.0, 2.0, 2.0, 0.0, 1.0);
    s = hall_compute(&h, arena, 100, false);
    double right_of_south = gradin_deg(atan2(1.0, 9.0));
    NEAR(s.width_deg[seat], 360.0 - (180.0 - right_of_south - gradin_deg(atan2(11.0, 9.0))));
    gradin_arena_destroy(arena);
}

/* A wide area ahead of somebody who faces north, and a narrow one behind it just east of north: the
 * wide one's arc runs through north and covers the other. */
Test(sight, width_of_an_area_behind_one_across_north) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, 5.0, 10.0, 2.0, 0.0, 1.0);
    hall_focus(&h, 1.0, 15.0, 1.0, 1.0, 0.0, 1.0);
    int seat = hall_seat(&h, 0.0, -3.0, 1.2);
    gradin_sight s = hall_compute(&h, arena, 100, false);
    NEAR(s.width_deg[seat], 2.0 * gradin_deg(atan2(5.0, 7.0)));
    gradin_arena_destroy(arena);
}

Test(sight, width_of_an_area_behind_a_wider_one) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, -5.0, 10.0, 2.0, 0.0, 1.0);
    hall_focus(&h, 3.0, -15.0, 1.0, 1.0, 0.0, 1.0);
    int seat = hall_seat(&h, 0.0, 3.0, 1.2);
    gradin_sight s = hall_compute(&h, arena, 100, false);
    NEAR(s.width_deg[seat], 2.0 * gradin_deg(atan2(5.0, 7.0)));
    gradin_arena_destroy(arena);
}

Test(sight, rating_is_the_worst_figure) {
    gradin_arena *arena = gradin_arena_create();
    hall_start(&h);
    hall_focus(&h, 0.0, -5.0, 10.0, 10.0, 1.0, 1.0);
    hall_seat(&h, 0.0, 7.0, 6.0); /* 13 m, 22.6 degrees down */
    gradin_limits *l = &h.model.limits;
    gradin_sight s = hall_compute(&h, arena, 100, false);
    cr_assert(s.rating[0] == GRADIN_RATING_CLEAR && s.reason[0] == GRADIN_REASON_NONE);
    const double distance[3] = {13.0, 15.0, 20.0}; /* stands on its limit */
    memcpy(l->distance_max_m, distance, sizeof distance);
    s = hall_compute(&h, arena, 100, false);
    cr_assert_eq(s.rating[0], GRADIN_RATING_CLEAR);
    l->distance_max_m[0] = 12.9;
    s = hall_compute(&h, arena, 100, false);
    cr_assert(s.rating[0] == GRADIN_RATING_GOOD && s.reason[0] == GRADIN_REASON_DISTANCE);
    l->down_max_deg[0] = 10.0;
    l->down_max_deg[1] = 20.0;
    l->down_max_deg[2] = 30.0;
    s = hall_compute(&h, arena, 100, false);
    cr_assert(s.rating[0] == GRADIN_RATING_FAIR && s.reason[0] == GRADIN_REASON_DOWN);
    for (int k = 0; k < 3; k++) l->visible_min[k] = 1.1;
    s = hall_compute(&h, arena, 100, false);
    cr_assert(s.rating[0] == GRADIN_RATING_POOR && s.reason[0] == GRADIN_REASON_VISIBLE);
    for (int k = 0; k < 3; k++) l->c_value_min_m[k] = 9.0, l->visible_min[k] = NAN;
    s = hall_compute(&h, arena, 100, false);
    cr_assert_eq(s.rating[0], GRADIN_RATING_FAIR, "nobody in front: no C to judge");
    cr_assert(s.n_rating[GRADIN_RATING_FAIR] == 1 && s.n_rating[GRADIN_RATING_CLEAR] == 0);
    hall_seat(&h, 0.0, 6.0, 5.8);
    s = hall_compute(&h, arena, 100, false);
    cr_assert(s.rating[0] == GRADIN_RATING_POOR && s.reason[0] == GRADIN_REASON_C_VALUE);
    gradin_arena_destroy(arena);
}

static void note_progress(void *user, int done, int total) {
    int *note = user; /* calls, last done, total */
    cr_assert_gt(done, note[1], "progress goes forward");
    note[0]++;
    note[1] = done;
    note[2] = total;
}

Test(sight, progress_ends_at_the_total) {
    gradin_arena *arena = gradin_arena_create();
    furnish(&h, 1.0, 0.1);
    int note[3] = {0, 0, 0};
    gradin_sight s;
    gradin_sight_options options = {
        .n_sample = 50, .progress = note_progress, .progress_user = note};
    cr_assert_eq(gradin_sight_compute(arena, &h.model, &options, &s, NULL), GRADIN_OK);
    cr_assert(note[0] >= 1 && note[1] == 40 && note[2] == 40);
    gradin_arena_destroy(arena);
}

static void expect(gradin_status expected, const gradin_sight_options *options, const char *what) {
    gradin_arena *arena = gradin_arena_create();
    gradin_error error = {0};
    gradin_sight s;
    gradin_status status = gradin_sight_compute(arena, &h.model, options, &s, &error);
    cr_assert_eq(status, expected, "%s: %s", what, gradin_status_name(status));
    cr_assert_eq(error.n_diagnostic, expected != GRADIN_OK, "%s", what);
    gradin_arena_destroy(arena);
}

Test(sight, refusals) {
    gradin_sight_options many = {.n_sample = GRADIN_MAX_SAMPLE + 1}, below = {.n_sample = -1};
    furnish(&h, 1.0, 0.1);
    expect(GRADIN_OK, NULL, "no options");
    expect(GRADIN_BAD_INPUT, &many, "samples");
    expect(GRADIN_BAD_INPUT, &below, "samples");
    h.focus[1].weight = 0.0;
    expect(GRADIN_BAD_INPUT, NULL, "weight");
    h.focus[1].weight = 1.0;
    for (int k = 0; k < 4; k++) h.area_corner[1][k].x = 3.0;
    expect(GRADIN_BAD_INPUT, NULL, "area without breadth");
    furnish(&h, 1.0, 0.1);
    h.occluder[3].name = 6;
    expect(GRADIN_BAD_USE, NULL, "name");
    h.occluder[3].name = 0;
    h.occluder[3].cause = GRADIN_N_CAUSE;
    expect(GRADIN_BAD_USE, NULL, "cause");
    h.occluder[3].cause = 0;
    h.model.n_focus = 0;
    expect(GRADIN_BAD_INPUT, NULL, "no focus");
    h.model.n_focus = GRADIN_MAX_FOCUS + 1;
    expect(GRADIN_BAD_INPUT, NULL, "focus areas");
    h.model.n_focus = 2;
    h.model.seats.n_seat = GRADIN_MAX_SEAT + 1;
    expect(GRADIN_BAD_INPUT, NULL, "seats");
    h.model.seats.n_seat = 0;
    expect(GRADIN_OK, NULL, "an empty hall");
    cr_assert_eq(gradin_sight_compute(NULL, &h.model, NULL, NULL, NULL), GRADIN_BAD_USE);
}

Test(sight, every_failing_allocation_is_reported) {
    furnish(&h, 1.0, 0.1);
    omp_set_num_threads(2);
    long n = 0;
    gradin_status status = GRADIN_NO_MEMORY;
    while (status == GRADIN_NO_MEMORY && n < 1000) {
        gradin_arena *arena = gradin_arena_create();
        gradin_error error = {0};
        gradin_sight s;
        gradin_alloc_fail_at(++n);
        status = gradin_sight_compute(arena, &h.model, NULL, &s, &error);
        gradin_alloc_fail_at(0);
        cr_assert(status == GRADIN_OK || error.n_diagnostic == 1, "allocation %ld", n);
        gradin_arena_destroy(arena);
    }
    cr_assert_eq(status, GRADIN_OK, "allocation %ld gave %s", n, gradin_status_name(status));
    cr_assert_gt(n, 30);
}

Test(sight, formulas_outside_their_range) {
    cr_assert(isnan(gradin_c_value_m(-1.0, 1.0, 0.1, 1.0)));
    cr_assert(isnan(gradin_riser_m(0.06, 0.0, 1.0, 0.9)));
}

Test(sight, names) {
    for (int k = 0; k < GRADIN_N_C_CASE; k++)
        cr_assert_gt(strlen(gradin_c_case_name((gradin_c_case)k)), 3);
    for (int k = 0; k < GRADIN_N_REASON; k++)
        cr_assert_gt(strlen(gradin_reason_name((gradin_reason)k)), 3);
    cr_assert_str_eq(gradin_c_case_name(GRADIN_C_TWO_AHEAD), "two rows ahead");
    cr_assert_str_eq(gradin_reason_name(GRADIN_REASON_TURN), "head turn");
}
