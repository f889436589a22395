/* Working time and the clock, by hand. */
#include "studies/changeover/changeover.h"

#include <criterion/criterion.h>

enum { HOUR = 3600, MINUTE = 60, DAY = 24 * HOUR };

static gradin_arena *arena;
static gradin_changeover out;
static gradin_machinery machinery;
static gradin_model model;
static changeover c;

static void open(void) {
    arena = gradin_arena_create();
    out = (gradin_changeover){.has_start = true};
    model = (gradin_model){.venue_file = "venue.yaml"};
    c = (changeover){.arena = arena, .a = &machinery, .from = &model, .out = &out};
}

static void close(void) {
    gradin_arena_destroy(arena);
}

TestSuite(clock, .init = open, .fini = close);

/* From 22:30: work until 02:00, supper until 02:45, work until the shift's end at 06:00; the next
 * shift begins at 22:00. Worked: 3:30 h, then 3:15 h. */
Test(clock, a_shift_and_a_meal) {
    static const gradin_shift shift = {22 * HOUR, 6 * HOUR};
    static const gradin_rest supper = {"supper", 45 * MINUTE, 2 * HOUR, 0, true};
    machinery =
        (gradin_machinery){.work = {.shift = &shift, .n_shift = 1, .rest = &supper, .n_rest = 1}};
    out.start_s = 20000ll * DAY + 22 * HOUR + 30 * MINUTE;
    cr_assert(changeover_calendar(&c, 7 * HOUR));
    cr_assert_geq(c.n_stop, 2);
    cr_expect_eq(c.stop[0].from_s, 3 * HOUR + 30 * MINUTE);
    cr_expect_eq(c.stop[0].to_s, 4 * HOUR + 15 * MINUTE);
    cr_expect_eq(c.stop_work_s[0], 3 * HOUR + 30 * MINUTE);
    cr_expect_eq(c.stop[1].from_s, 7 * HOUR + 30 * MINUTE);
    cr_expect_eq(c.stop[1].to_s, 23 * HOUR + 30 * MINUTE);
    cr_expect_eq(c.stop_work_s[1], 6 * HOUR + 45 * MINUTE);
    /* What ends at the rest ends before it, what starts there starts behind it. */
    cr_expect_eq(changeover_clock_end(&c, 3 * HOUR + 30 * MINUTE), 3 * HOUR + 30 * MINUTE);
    cr_expect_eq(changeover_clock_start(&c, 3 * HOUR + 30 * MINUTE), 4 * HOUR + 15 * MINUTE);
    cr_expect_eq(changeover_clock_end(&c, 4 * HOUR), 4 * HOUR + 45 * MINUTE);
    cr_expect_eq(changeover_worked_at(&c, 4 * HOUR), 3 * HOUR + 30 * MINUTE);
    cr_expect_eq(changeover_worked_at(&c, 5 * HOUR), 4 * HOUR + 15 * MINUTE);
    /* Beyond the shift's end the night after goes on. */
    cr_expect_eq(changeover_clock_end(&c, 7 * HOUR), 23 * HOUR + 45 * MINUTE);
}

/* 15 minutes after each 2 h of work, and a meal of 45 after 5 h. A longer stop starts the shorter
 * one's count anew, not the other way round: 2:00, 4:00, 5:00 (meal), 7:00 and so on of work. */
Test(clock, rests_after_so_much_work) {
    static const gradin_rest rest[] = {{"rest", 15 * MINUTE, 0, 2 * HOUR, false},
                                       {"meal", 45 * MINUTE, 0, 5 * HOUR, false}};
    static const int at_h[] = {2, 4, 5, 7, 9, 10};
    machinery = (gradin_machinery){.work = {.rest = rest, .n_rest = 2}};
    cr_assert(changeover_calendar(&c, 10 * HOUR));
    cr_assert_geq(c.n_stop, 6);
    for (int i = 0; i < 6; i++) {
        cr_expect_eq(c.stop_work_s[i], at_h[i] * HOUR, "stop %d at %d s", i, c.stop_work_s[i]);
        cr_expect_str_eq(c.stop[i].name, at_h[i] % 5 == 0 ? "meal" : "rest");
    }
    cr_expect_eq(changeover_clock_end(&c, 10 * HOUR), 10 * HOUR + 4 * 15 * MINUTE + 45 * MINUTE);
}

/* A start off shift waits for the shift; one shift may follow another without a stop. */
Test(clock, a_start_off_shift) {
    static const gradin_shift shift[] = {{8 * HOUR, 16 * HOUR}, {16 * HOUR, 0}};
    machinery = (gradin_machinery){.work = {.shift = shift, .n_shift = 2}};
    out.start_s = 7 * HOUR;
    cr_assert(changeover_calendar(&c, 20 * HOUR));
    cr_expect_eq(changeover_clock_start(&c, 0), HOUR);
    cr_expect_eq(changeover_clock_end(&c, 10 * HOUR), 11 * HOUR);
    cr_expect_eq(changeover_clock_end(&c, 16 * HOUR + 1), 25 * HOUR + 1);
}

/* Without a start neither is kept. */
Test(clock, no_start_no_stop) {
    static const gradin_rest rest = {"rest", 15 * MINUTE, 0, 2 * HOUR, false};
    machinery = (gradin_machinery){.work = {.rest = &rest, .n_rest = 1}};
    out.has_start = false;
    cr_assert(changeover_calendar(&c, 10 * HOUR));
    cr_expect_eq(c.n_stop, 0);
    cr_expect_eq(changeover_clock_end(&c, 10 * HOUR), 10 * HOUR);
}

/* A rest after 2 h of work. People's work of 40 minutes from 1:50 on goes on behind it; a machine's
 * waits for its end, a batch at a time: of two of 20 minutes from 1:30 the first is done at 1:50,
 * the second begins at 2:00. */
Test(clock, machines_are_not_left_alone) {
    static const gradin_rest rest = {"rest", 15 * MINUTE, 0, 2 * HOUR, false};
    machinery = (gradin_machinery){.work = {.rest = &rest, .n_rest = 1}};
    cr_assert(changeover_calendar(&c, 10 * HOUR));
    int start_s = 110 * MINUTE;
    cr_expect_eq(changeover_finish(&c, &start_s, 40 * MINUTE, 0), 150 * MINUTE);
    cr_expect_eq(changeover_finish(&c, &start_s, 40 * MINUTE, 40 * MINUTE), 160 * MINUTE);
    cr_expect_eq(start_s, 120 * MINUTE);
    start_s = 90 * MINUTE;
    cr_expect_eq(changeover_finish(&c, &start_s, 40 * MINUTE, 20 * MINUTE), 140 * MINUTE);
    cr_expect_eq(start_s, 90 * MINUTE);
    start_s = 80 * MINUTE;
    cr_expect_eq(changeover_finish(&c, &start_s, 40 * MINUTE, 40 * MINUTE), 120 * MINUTE);
}

/* Eight people from 20:00 for 9 h without a rest: 20 to 22 by day, 22 to 4 in the night, and from
 * 4:00 on, after 8 h, at the higher of night and overtime. 8 (2 * 30 + 6 * 40 + 1 * 45). */
Test(clock, cost_by_day_night_and_overtime) {
    machinery = (gradin_machinery){.work = {.rate_day = 30.0,
                                            .rate_night = 40.0,
                                            .rate_overtime = 45.0,
                                            .night_from_s = 22 * HOUR,
                                            .night_to_s = 6 * HOUR,
                                            .overtime_after_s = 8 * HOUR}};
    out.start_s = 20 * HOUR;
    out.total_s = 9 * HOUR;
    c.n_called = 8;
    changeover_cost(&c);
    cr_expect(out.cost.is_known);
    cr_expect_float_eq(out.cost.day_hours, 16.0, 1e-9);
    cr_expect_float_eq(out.cost.night_hours, 48.0, 1e-9);
    cr_expect_float_eq(out.cost.overtime_hours, 8.0, 1e-9);
    cr_expect_float_eq(out.cost.sum, 8.0 * (60.0 + 240.0 + 45.0), 1e-9);
}

/* A look of 40 minutes from 1:50 on waits for the end of a rest after 2 h of work; one of 3 h,
 * which fits between no two rests, goes on behind it. */
Test(clock, a_step_is_not_parted_where_it_fits) {
    static const gradin_rest rest = {"rest", 15 * MINUTE, 0, 2 * HOUR, false};
    gradin_move move[] = {{.kind = GRADIN_MOVE_STEP}, {.kind = GRADIN_MOVE_SET}};
    machinery = (gradin_machinery){.work = {.rest = &rest, .n_rest = 1}};
    c.move = move;
    cr_assert(changeover_calendar(&c, 10 * HOUR));
    cr_expect_eq(changeover_piece(&c, 0, 40 * MINUTE, 0), 40 * MINUTE);
    cr_expect_eq(changeover_piece(&c, 0, 120 * MINUTE, 0), 120 * MINUTE);
    cr_expect_eq(changeover_piece(&c, 0, 180 * MINUTE, 0), 0);
    cr_expect_eq(changeover_piece(&c, 1, 40 * MINUTE, 0), 0);
    cr_expect_eq(changeover_piece(&c, 1, 40 * MINUTE, 20 * MINUTE), 20 * MINUTE);
}
