/* What two layouts can be compared by: C over the same row, shares of the same areas. The figures
 * are made up. */
#include "halls.h"

#include <criterion/criterion.h>

static small_hall first, second;
static gradin_comparison c;
static gradin_error error;
static gradin_arena *arena;

static void begin(void) {
    arena = gradin_arena_create();
    small_hall_make(&first);
    small_hall_make(&second);
    gradin_error_clear(&error);
}

static void end(void) {
    gradin_arena_destroy(arena);
}

TestSuite(compare_like, .init = begin, .fini = end);

static const gradin_compared_pair *compared(void) {
    const gradin_assessment *const both[] = {&first.a, &second.a};
    gradin_compare_options how = {.is_without_changeovers = true};
    cr_assert_eq(gradin_compare(arena, both, 2, &how, &c, &error), GRADIN_OK, "%s",
                 error.diagnostic[0].text);
    return &c.pair[0];
}

static void rate(small_hall *h, int seat, gradin_rating rating, gradin_reason reason) {
    h->rating[seat] = rating;
    h->reason[seat] = reason;
}

/* Two rows ahead C is about twice that over the row in front (common practice, no source): a seat
 * that looks past other heads has not gained by that. */
Test(compare_like, c_values_are_compared_over_the_same_row) {
    first.c_case[4] = first.c_case[5] = second.c_case[5] = GRADIN_C_TWO_AHEAD;
    first.c_m[4] = 0.192, first.c_row_m[4] = 0.081;
    second.c_m[4] = second.c_row_m[4] = 0.091;
    first.c_m[5] = 0.192, second.c_m[5] = 0.160;
    rate(&second, 4, GRADIN_RATING_FAIR, GRADIN_REASON_C_VALUE);
    const gradin_compared_pair *p = compared();
    const gradin_seat_change *other_row = &p->change[4], *same_row = &p->change[5];
    cr_expect_float_eq(other_row->value[0][GRADIN_FIGURE_C_VALUE], 0.081, 1e-12);
    cr_expect_float_eq(other_row->change[GRADIN_FIGURE_C_VALUE], 0.010, 1e-12);
    cr_expect_eq(other_row->effect[GRADIN_FIGURE_C_VALUE], GRADIN_EFFECT_BETTER);
    cr_expect_eq(other_row->steps, -2, "its class is by the row that it looks over");
    cr_expect_eq(other_row->cause, GRADIN_FIGURE_C_VALUE);
    cr_expect_float_eq(same_row->change[GRADIN_FIGURE_C_VALUE], -0.032, 1e-12);
}

static gradin_focus floor_of(const char *name, double weight) {
    static const gradin_vec2 corner_m[] = {{1, 1}, {9, 1}, {9, 6}, {1, 6}};
    return (gradin_focus){.name = name, .polygon = {corner_m, 4}, .weight = weight};
}

/* The same stage, and in the second layout a screen as well that many see less of: nobody sees the
 * stage any worse. One who loses some of the stage does. */
Test(compare_like, what_both_are_asked_to_see) {
    static double stage[HALL_SEATS], both[HALL_SEATS][2];
    const gradin_focus one[] = {floor_of("stage", 1.0)};
    const gradin_focus two[] = {floor_of("screen", 3.0), floor_of("stage", 1.0)};
    for (int i = 0; i < HALL_SEATS; i++) {
        stage[i] = 1.0;
        both[i][0] = 0.6;
        both[i][1] = i == 5 ? 0.5 : 1.0;
        second.visible[i] = 0.75 * both[i][0] + 0.25 * both[i][1];
        rate(&second, i, GRADIN_RATING_FAIR, GRADIN_REASON_VISIBLE);
    }
    first.model.focus = one, first.model.n_focus = 1;
    first.a.sight.n_area = 1, first.a.sight.area_visible = stage;
    second.model.focus = two, second.model.n_focus = 2;
    second.a.sight.n_area = 2, second.a.sight.area_visible = both[0];
    second.a.sight.area_sample[0] = second.a.sight.area_sample[1] = GRADIN_DEFAULT_SAMPLE / 2;
    const gradin_compared_pair *p = compared();
    cr_expect(p->is_focus_other);
    cr_expect_eq(p->n_common_focus, 1);
    cr_expect_eq(p->change[4].effect[GRADIN_FIGURE_VISIBLE], GRADIN_EFFECT_SAME);
    cr_expect_eq(p->change[4].steps, 0);
    cr_expect_float_eq(p->change[5].change[GRADIN_FIGURE_VISIBLE], -0.5, 1e-12);
    cr_expect_eq(p->change[5].steps, -2);
    cr_expect_eq(p->all.n_worse, 1);
    cr_expect_eq(p->all.n_same, HALL_SEATS - 1);
}

/* Areas of other names are what each show is about: then shares of all are compared, and said so.
 */
Test(compare_like, no_area_of_the_same_name) {
    const gradin_focus one[] = {floor_of("stage", 1.0)}, other[] = {floor_of("platform", 1.0)};
    first.model.focus = one, second.model.focus = other;
    first.model.n_focus = second.model.n_focus = 1;
    second.visible[2] = 0.7;
    const gradin_compared_pair *p = compared();
    cr_expect(p->is_focus_other);
    cr_expect_eq(p->n_common_focus, 0);
    cr_expect_float_eq(p->change[2].change[GRADIN_FIGURE_VISIBLE], -0.3, 1e-12);
}
