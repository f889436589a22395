/* Layouts beside each other: what is the same, what changed and by what, what it comes to. The
 * figures are made up; the errors asked for are those that tests/bench/sampling.c holds. */
#include "base/faults.h"
#include "halls.h"

#include <criterion/criterion.h>
#include <string.h>

static small_hall first, second, third;
static gradin_comparison c;
static gradin_error error;
static gradin_arena *arena;

static void begin(void) {
    arena = gradin_arena_create();
    small_hall_make(&first);
    small_hall_make(&second);
    small_hall_make(&third);
    gradin_error_clear(&error);
}

static void end(void) {
    gradin_arena_destroy(arena);
}

TestSuite(compare, .init = begin, .fini = end);

static gradin_status compare_by(gradin_match_by by) {
    const gradin_assessment *const both[] = {&first.a, &second.a};
    gradin_compare_options how = {.by = by, .is_without_changeovers = true};
    return gradin_compare(arena, both, 2, &how, &c, &error);
}

static const gradin_compared_pair *compared(void) {
    cr_assert_eq(compare_by(GRADIN_MATCH_NAME), GRADIN_OK, "%s", error.diagnostic[0].text);
    return &c.pair[0];
}

static void rate(small_hall *h, int seat, gradin_rating rating, gradin_reason reason) {
    h->rating[seat] = rating;
    h->reason[seat] = reason;
}

static void expect_no_difference(const gradin_compared_pair *p) {
    cr_expect_eq(p->all.n_alone[0] + p->all.n_alone[1], 0);
    cr_expect_eq(p->all.n_same, HALL_SEATS);
    cr_expect_eq(p->n_largest, 0);
    for (int k = 0; k < GRADIN_N_FIGURE; k++) {
        cr_expect_eq(p->all.n_effect[k][GRADIN_EFFECT_BETTER], 0);
        cr_expect_eq(p->all.n_effect[k][GRADIN_EFFECT_WORSE], 0);
    }
    cr_expect_eq(p->all.n_effect[GRADIN_FIGURE_LAMAX][GRADIN_EFFECT_SAME], HALL_SEATS);
    cr_expect_eq(p->all.n_effect[GRADIN_FIGURE_VISIBLE][GRADIN_EFFECT_SAME], HALL_SEATS);
}

Test(compare, with_itself) {
    const gradin_compared_pair *p = compared();
    expect_no_difference(p);
    cr_expect_eq(p->all.n_matched[GRADIN_MATCHED_NAME], HALL_SEATS);
    cr_expect(c.layout[0].is_on_front && c.layout[1].is_on_front);
}

Test(compare, of_a_mirrored_layout_the_places_match) {
    small_hall_mirror(&second);
    const gradin_compared_pair *p = compared();
    expect_no_difference(p);
    cr_expect(p->is_mirror_found);
    cr_expect_eq(p->by, GRADIN_MATCH_MIRROR);
    cr_expect_float_eq(p->axis_deg, 180.0, 1e-12);
    for (int i = 0; i < HALL_SEATS; i++) cr_expect_eq(p->change[i].seat[1], i);
}

/* Across the other axis, in a hall that lies elsewhere on its own plan. */
Test(compare, the_mirror_goes_through_the_middle_of_each_hall) {
    static const gradin_vec2 moved_m[] = {{-30, 2}, {-20, 2}, {-20, 22}, {-30, 22}};
    second.model.footprint.corner_m = moved_m;
    for (int i = 0; i < HALL_SEATS; i++) {
        second.floor_m[i].x -= 30.0;
        second.floor_m[i].y = 22.0 - second.floor_m[i].y;
    }
    const gradin_compared_pair *p = compared();
    cr_expect(p->is_mirror_found);
    cr_expect_float_eq(p->axis_deg, 90.0, 1e-12);
    for (int i = 0; i < HALL_SEATS; i++) cr_expect_eq(p->change[i].seat[1], i);
}

Test(compare, a_mirror_is_not_found_where_places_do_as_well) {
    for (int i = 0; i < HALL_SEATS; i++)
        first.floor_m[i].x = second.floor_m[i].x = 2.25 + 0.5 * (i % HALL_ROW);
    cr_expect_eq(compared()->by, GRADIN_MATCH_NAME);
    cr_assert_eq(compare_by(GRADIN_MATCH_MIRROR), GRADIN_OK);
    cr_expect_eq(c.pair[0].change[0].seat[1], HALL_ROW - 1);
    cr_expect_eq(c.pair[0].change[0].matched, GRADIN_MATCHED_MIRROR);
    cr_expect_not(c.pair[0].is_mirror_found);
}

Test(compare, nine_seats_of_ten_show_a_mirror) {
    small_hall_mirror(&second);
    second.floor_m[0].y = 1.0, second.floor_m[1].y = 2.0;
    cr_expect(compared()->is_mirror_found);
    second.floor_m[2].y = 3.0;
    cr_expect_not(compared()->is_mirror_found);
}

Test(compare, a_mirror_without_a_seat_is_refused) {
    for (int i = 0; i < HALL_SEATS; i++) second.floor_m[i].z += 5.0;
    cr_expect_eq(compare_by(GRADIN_MATCH_MIRROR), GRADIN_BAD_INPUT);
    cr_expect(strstr(error.diagnostic[0].text, "in the mirror"));
}

Test(compare, seats_are_matched_by_name_then_by_place) {
    second.id[3] = "Loge-1-1", second.id[4] = "Loge-1-2", second.id[5] = "Loge-1-3";
    second.floor_m[3].y += 0.29;
    second.floor_m[4].y += 0.31;
    second.floor_m[5].z += 2.1;
    second.floor_m[0].x -= 0.35;
    const gradin_compared_pair *p = compared();
    cr_expect_eq(p->all.n_matched[GRADIN_MATCHED_NAME], HALL_SEATS - 3);
    cr_expect_eq(p->all.n_matched[GRADIN_MATCHED_PLACE], 1);
    cr_expect_eq(p->change[3].seat[1], 3);
    cr_expect_eq(p->change[3].matched, GRADIN_MATCHED_PLACE);
    cr_expect_float_eq(p->change[3].apart_m, 0.29, 1e-9);
    cr_expect_eq(p->change[4].seat[1], -1);
    cr_expect_eq(p->all.n_alone[0], 2);
    cr_expect_eq(p->all.n_alone[1], 2);
    cr_expect_eq(p->n_change, HALL_SEATS + 2);
    cr_expect_eq(p->change[HALL_SEATS].seat[0], -1);
    cr_expect_eq(p->change[HALL_SEATS].seat[1], 4);
    cr_expect_eq(p->n_elsewhere, 1);
}

Test(compare, the_nearest_place_comes_first) {
    second.floor_m[1].x = first.floor_m[0].x + 0.25; /* 0.25 m from both seats 0 and 1 */
    second.floor_m[0].x = first.floor_m[0].x + 0.20;
    cr_assert_eq(compare_by(GRADIN_MATCH_PLACE), GRADIN_OK);
    cr_expect_eq(c.pair[0].change[0].seat[1], 0);
    cr_expect_eq(c.pair[0].change[1].seat[1], 1);
    cr_expect_eq(c.pair[0].change[0].matched, GRADIN_MATCHED_PLACE);
}

Test(compare, a_class_moves_with_the_figure_that_sets_it) {
    rate(&second, 2, GRADIN_RATING_FAIR, GRADIN_REASON_VISIBLE);
    second.visible[2] = 0.7;
    second.hidden[2][GRADIN_CAUSE_HEAD] = 0.1, second.hidden[2][GRADIN_CAUSE_RAIL] = 0.2;
    rate(&first, 3, GRADIN_RATING_GOOD, GRADIN_REASON_DISTANCE);
    first.distance_m[3] = 16.0;
    const gradin_compared_pair *p = compared();
    const gradin_seat_change *worse = &p->change[2], *better = &p->change[3];
    cr_expect_eq(worse->steps, -2);
    cr_expect_eq(worse->cause, GRADIN_FIGURE_VISIBLE);
    cr_expect_eq(worse->hidden, GRADIN_CAUSE_RAIL);
    cr_expect_float_eq(worse->hidden_change, 0.2, 1e-12);
    cr_expect_float_eq(worse->change[GRADIN_FIGURE_VISIBLE], -0.3, 1e-12);
    cr_expect_eq(better->steps, 1);
    cr_expect_eq(better->cause, GRADIN_FIGURE_DISTANCE);
    cr_expect_eq(better->effect[GRADIN_FIGURE_DISTANCE], GRADIN_EFFECT_BETTER);
    cr_expect_eq(p->all.n_better, 1);
    cr_expect_eq(p->all.n_worse, 1);
    cr_expect_eq(p->all.n_same, HALL_SEATS - 2);
    cr_expect_eq(p->all.n_cause[0][GRADIN_FIGURE_VISIBLE], 1);
    cr_expect_eq(p->all.n_cause[1][GRADIN_FIGURE_DISTANCE], 1);
}

/* A class that a hair's breadth moves is the same class. */
Test(compare, what_samples_cannot_tell_is_no_difference) {
    first.visible[0] = 0.951, second.visible[0] = 0.939;
    first.visible[1] = 0.951, second.visible[1] = 0.938;
    for (int i = 0; i < 2; i++) rate(&second, i, GRADIN_RATING_GOOD, GRADIN_REASON_VISIBLE);
    const gradin_compared_pair *p = compared();
    /* three standard errors of two shares of 0.3 points */
    cr_expect_float_eq(p->change[0].tells[GRADIN_FIGURE_VISIBLE], 0.0127279, 1e-6);
    cr_expect_eq(p->change[0].steps, 0);
    cr_expect_eq(p->change[0].cause, GRADIN_N_FIGURE);
    cr_expect_eq(p->change[0].effect[GRADIN_FIGURE_VISIBLE], GRADIN_EFFECT_SAME);
    cr_expect_eq(p->change[1].steps, -1);
    first.a.sight.area_sample[0] = second.a.sight.area_sample[0] = 64;
    p = compared();
    cr_expect_float_eq(p->change[1].tells[GRADIN_FIGURE_VISIBLE], 8.0 * 0.0127279, 1e-5);
    cr_expect_eq(p->change[1].steps, 0);
}

/* An area that weighs much, with few samples. */
Test(compare, areas_err_with_their_own_samples) {
    static const gradin_vec2 side_m[] = {{0, 0}, {1, 0}, {1, 1.5}, {0, 1.5}};
    gradin_focus focus[2] = {first.model.focus[0],
                             {.name = "side", .polygon = {side_m, 4}, .weight = 3.0}};
    first.model.focus = second.model.focus = focus;
    first.model.n_focus = second.model.n_focus = 2;
    for (int k = 0; k < 2; k++) {
        small_hall *h = k ? &second : &first;
        h->a.sight.area_sample[0] = 960;
        h->a.sight.area_sample[1] = 64;
    }
    double big = 0.25 * 0.003 * pow(1024.0 / 960.0, 0.75), small = 0.75 * 0.003 * pow(16.0, 0.75);
    cr_expect_float_eq(compared()->change[0].tells[GRADIN_FIGURE_VISIBLE],
                       3.0 * sqrt(2.0) * hypot(big, small), 1e-9);
}

Test(compare, drawn_views_have_their_own_error) {
    first.a.has_crowd = second.a.has_crowd = true;
    second.clear[0] = 0.54, second.clear[1] = 0.55;
    const gradin_compared_pair *p = compared();
    cr_expect_eq(p->change[0].effect[GRADIN_FIGURE_CLEAR_VIEW], GRADIN_EFFECT_SAME);
    cr_expect_eq(p->change[1].effect[GRADIN_FIGURE_CLEAR_VIEW], GRADIN_EFFECT_BETTER);
    second.a.has_crowd = false;
    cr_expect_eq(compared()->change[1].effect[GRADIN_FIGURE_CLEAR_VIEW], GRADIN_EFFECT_NONE);
}

static double noise_tells(void) {
    return compared()->change[0].tells[GRADIN_FIGURE_LAMAX];
}

/* One-sided 84 %: 0.994 standard deviations. */
Test(compare, levels_differ_by_what_the_halls_do_not_share) {
    const double k = 0.99446;
    cr_expect_float_eq(noise_tells(), 0.3, 1e-12);
    second.pass.level_db[4] = 1.0;
    cr_expect_float_eq(noise_tells(), k * sqrt(2.0) * 2.0, 1e-3);
    second.pass.level_db[4] = 0.0;
    second.glass[0].r_db[10] = 33.0;
    cr_expect_float_eq(noise_tells(), k * sqrt(2.0) * 3.0, 1e-3);
    second.floor_m[7].z = 0.31;
    cr_expect_float_eq(noise_tells(), k * sqrt(2.0 * (9.0 + 4.0)), 1e-3);
    second.glass[0].r_db[10] = 30.0;
    second.lamax_db[0] = 43.0, second.lamax_db[1] = 42.7, second.lamax_db[2] = 37.0;
    const gradin_compared_pair *p = compared();
    cr_expect_eq(p->change[0].effect[GRADIN_FIGURE_LAMAX], GRADIN_EFFECT_WORSE);
    cr_expect_eq(p->change[1].effect[GRADIN_FIGURE_LAMAX], GRADIN_EFFECT_SAME);
    cr_expect_eq(p->change[2].effect[GRADIN_FIGURE_LAMAX], GRADIN_EFFECT_BETTER);
    cr_expect_eq(p->change[0].steps, 0);
}

Test(compare, by_block_and_in_all) {
    second.kind[HALL_ROW] = GRADIN_SEAT_WHEELCHAIR;
    second.verdict[HALL_ROW + 1] = GRADIN_VERDICT_OVER;
    second.visible[HALL_ROW + 2] = 0.5;
    rate(&second, HALL_ROW + 2, GRADIN_RATING_POOR, GRADIN_REASON_VISIBLE);
    second.model.seats.n_seat = second.a.sight.n_seat = second.a.noise.n_seat = HALL_SEATS - 1;
    second.block_name[0] = "Parterre";
    const gradin_compared_pair *p = compared();
    cr_assert_eq(c.n_block, 3);
    cr_expect_str_eq(c.block_name[2], "Parterre");
    cr_expect_eq(c.layout[0].block[2].n_seat, 0);
    cr_expect_eq(c.layout[1].block[2].n_seat, HALL_ROW);
    cr_expect_eq(c.layout[1].block[1].n_seat, HALL_ROW - 1);
    cr_expect_eq(c.layout[1].block[1].n_wheelchair, 1);
    cr_expect_eq(c.layout[1].all.n_wheelchair, 1);
    cr_expect_eq(c.layout[1].all.n_verdict[GRADIN_VERDICT_OVER], 1);
    cr_expect_eq(c.layout[1].block[1].n_rating[GRADIN_RATING_POOR], 1);
    cr_expect_float_eq(c.layout[1].block[1].figure[GRADIN_FIGURE_VISIBLE].least, 0.5, 1e-12);
    cr_expect_float_eq(c.layout[1].block[2].figure[GRADIN_FIGURE_VISIBLE].least, 1.0, 1e-12);
    cr_expect_eq(p->block[1].n_worse, 1);
    cr_expect_eq(p->block[1].n_alone[0], 1);
    cr_expect_eq(p->block[0].n_same, HALL_ROW); /* the names hold, whatever the block is called */
}

Test(compare, the_largest_changes) {
    for (int i = 0; i < HALL_SEATS; i++) second.visible[i] = 0.9 - 0.01 * i;
    rate(&second, 5, GRADIN_RATING_GOOD, GRADIN_REASON_VISIBLE);
    rate(&second, 1, GRADIN_RATING_FAIR, GRADIN_REASON_VISIBLE);
    const gradin_compared_pair *p = compared();
    cr_assert_eq(p->n_largest, GRADIN_N_LARGEST);
    cr_expect_eq(p->largest[0], 1);
    cr_expect_eq(p->largest[1], 5);
    cr_expect_eq(p->largest[2], HALL_SEATS - 1);
    cr_expect_eq(p->largest[19], 6); /* 0, 2, 3 and 4 fall out */
}

Test(compare, levels_alone_are_changes_too) {
    for (int i = 0; i < HALL_SEATS; i++)
        second.lamax_db[i] = 40.0 + 0.5 * (i == 4) + 2.0 * (i == 9);
    const gradin_compared_pair *p = compared();
    cr_assert_eq(p->n_largest, 2);
    cr_expect_eq(p->largest[0], 9);
    cr_expect_eq(p->largest[1], 4);
}

static void compare_three(void) {
    const gradin_assessment *const all[] = {&first.a, &second.a, &third.a};
    gradin_compare_options how = {.is_without_changeovers = true};
    cr_assert_eq(gradin_compare(arena, all, 3, &how, &c, &error), GRADIN_OK);
}

/* The second has fewer seats, all clear; the third has as few, half of them clear. */
Test(compare, who_is_beaten) {
    for (int i = 0; i < HALL_SEATS; i++) {
        first.rating[i] = i < 6 ? GRADIN_RATING_CLEAR : GRADIN_RATING_GOOD;
        third.rating[i] = i < 10 ? GRADIN_RATING_CLEAR : GRADIN_RATING_GOOD;
        first.reason[i] = third.reason[i] = GRADIN_REASON_TURN;
    }
    small_hall *less[] = {&second, &third};
    for (int i = 0; i < 2; i++)
        less[i]->model.seats.n_seat = less[i]->a.sight.n_seat = less[i]->a.noise.n_seat = 20;
    compare_three();
    cr_expect(c.layout[0].is_on_front);
    cr_expect(c.layout[1].is_on_front);
    cr_expect_not(c.layout[2].is_on_front);
    cr_expect_eq(c.pair[1].second, 2);
    cr_expect_float_eq(c.layout[0].aim[GRADIN_AIM_CLEAR], 0.25, 1e-12);
    cr_expect_eq(c.layout[0].against[1][GRADIN_AIM_SEATS], GRADIN_EFFECT_BETTER);
    cr_expect_eq(c.layout[0].against[1][GRADIN_AIM_CLEAR], GRADIN_EFFECT_WORSE);
    cr_expect_eq(c.layout[0].against[1][GRADIN_AIM_NOISE], GRADIN_EFFECT_SAME);
    cr_expect_eq(c.layout[0].against[1][GRADIN_AIM_CHANGEOVER], GRADIN_EFFECT_NONE);
    third.lamax_db[0] = 30.0; /* one quiet seat moves no median */
    compare_three();
    cr_expect_not(c.layout[2].is_on_front);
    for (int i = 0; i < HALL_SEATS; i++) third.lamax_db[i] = 30.0;
    compare_three();
    cr_expect(c.layout[2].is_on_front);
}

/* Three shares that lie within the samples' error of the limit may be clear or not. */
Test(compare, a_share_of_clear_seats_is_as_sure_as_its_seats) {
    for (int i = 0; i < 3; i++) first.visible[i] = 0.9585;
    first.visible[3] = 0.9595; /* more than three standard errors above 0.95 */
    first.visible[4] = 0.945;  /* good by its share: could be clear */
    rate(&first, 4, GRADIN_RATING_GOOD, GRADIN_REASON_VISIBLE);
    first.visible[5] = 0.945; /* poor by its distance whatever it sees */
    rate(&first, 5, GRADIN_RATING_POOR, GRADIN_REASON_DISTANCE);
    (void)compared();
    cr_expect_float_eq(c.layout[0].tells[1][GRADIN_AIM_CLEAR], 4.0 / HALL_SEATS, 1e-12);
    cr_expect_float_eq(c.layout[1].tells[0][GRADIN_AIM_CLEAR], 4.0 / HALL_SEATS, 1e-12);
    cr_expect_eq(c.layout[1].against[0][GRADIN_AIM_CLEAR], GRADIN_EFFECT_SAME);
    cr_expect_float_eq(c.layout[1].tells[0][GRADIN_AIM_GOOD], 0.0, 1e-12);
    cr_expect_float_eq(c.layout[0].aim[GRADIN_AIM_GOOD], 23.0 / HALL_SEATS, 1e-12);
    cr_expect_eq(c.layout[0].against[1][GRADIN_AIM_GOOD], GRADIN_EFFECT_WORSE);
    first.visible[6] = 0.845; /* 0.85 for good */
    rate(&first, 6, GRADIN_RATING_FAIR, GRADIN_REASON_VISIBLE);
    (void)compared();
    cr_expect_float_eq(c.layout[1].tells[0][GRADIN_AIM_GOOD], 1.0 / HALL_SEATS, 1e-12);
}

Test(compare, other_limits_are_told) {
    second.model.limits.visible_min[1] = 0.8;
    second.model.limits.is_left_out[GRADIN_REASON_TURN] = true;
    second.model.limits.turn_max_deg[0] = 12.0;
    second.model.criterion.lamax_dba = 42.0;
    const gradin_compared_pair *p = compared();
    for (int k = GRADIN_REASON_VISIBLE; k < (int)GRADIN_N_REASON; k++)
        cr_expect_eq(p->is_limit_other[k], k == GRADIN_REASON_VISIBLE || k == GRADIN_REASON_TURN);
    cr_expect(p->is_criterion_other);
    first.model.limits.is_left_out[GRADIN_REASON_TURN] = true; /* no longer counted in either */
    cr_expect_not(compared()->is_limit_other[GRADIN_REASON_TURN]);
}

Test(compare, a_changeover_that_cannot_be_planned_says_why) {
    const gradin_assessment *const both[] = {&first.a, &second.a};
    cr_assert_eq(gradin_compare(arena, both, 2, NULL, &c, &error), GRADIN_OK);
    cr_expect_not(c.changeover[1].is_planned);
    cr_expect_str_not_empty(c.changeover[1].why_not);
    cr_expect_str_empty(c.changeover[0].why_not);
    cr_expect(isnan(c.layout[0].aim[GRADIN_AIM_CHANGEOVER]));
}

Test(compare, two_to_six_layouts) {
    const gradin_assessment *const seven[7] = {&first.a, &first.a, &first.a, &first.a,
                                               &first.a, &first.a, &first.a};
    gradin_compare_options how = {.is_without_changeovers = true};
    cr_expect_eq(gradin_compare(arena, seven, 1, &how, &c, &error), GRADIN_BAD_USE);
    cr_expect_eq(gradin_compare(arena, seven, 7, &how, &c, &error), GRADIN_BAD_USE);
    cr_expect_eq(gradin_compare(arena, seven, 6, &how, &c, &error), GRADIN_OK);
    how.by = GRADIN_N_MATCH_BY;
    cr_expect_eq(gradin_compare(arena, seven, 2, &how, &c, &error), GRADIN_BAD_USE);
}

/* Every allocation fails once: no memory is said each time, and nothing else. */
Test(compare, memory_that_runs_out) {
    const gradin_assessment *const both[] = {&first.a, &second.a};
    gradin_status status = GRADIN_NO_MEMORY;
    int n = 0;
    second.id[3] = "Loge-1-1"; /* places are matched, too */
    while (status != GRADIN_OK && n < 1000) {
        gradin_error_clear(&error);
        gradin_alloc_fail_at(++n);
        status = gradin_compare(arena, both, 2, NULL, &c, &error);
        gradin_alloc_fail_at(0);
        cr_assert(status == GRADIN_OK || status == GRADIN_NO_MEMORY, "%d", n);
        cr_assert(status == GRADIN_OK || error.n_diagnostic > 0, "%d", n);
    }
    cr_expect_gt(n, 10);
    cr_expect_lt(n, 1000);
}
