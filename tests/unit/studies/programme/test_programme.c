/* Programmes: hours of night by hand, the cheapest beginning by hand, and the run of layouts and
 * the free day against all choices tried one by one. */
#include "studies/programme/programme.h"

#include <criterion/criterion.h>

enum { HOUR_S = 3600, DAY_S = 86400, N_SHOW = 5, N_LAYOUT = 4 };

/* Four people for two hours, then two for one: 10 person-hours in 3 hours. */
static const gradin_move moves[] = {
    {.start_s = 0, .end_s = 2 * HOUR_S, .duration_s = 2 * HOUR_S, .crew = 4},
    {.start_s = 2 * HOUR_S, .end_s = 3 * HOUR_S, .duration_s = HOUR_S, .crew = 2}};
static const gradin_changeover work = {
    .move = moves, .n_move = 2, .total_s = 3 * HOUR_S, .person_hours = 10.0};

static gradin_programme nights(void) {
    return (gradin_programme){.night_from_s = 22 * HOUR_S,
                              .night_to_s = 6 * HOUR_S,
                              .night_factor = 1.5,
                              .hour_cost = 20.0};
}

/* By hand: from 21:00 one of the first two hours is night (4), and the third (2); from 05:00 the
 * first hour alone (4); from 23:00 all (10); by day none. The same on any day. */
Test(programme, hours_of_night) {
    static const struct {
        int begin_s;
        double night_h;
    } known[] = {{21 * HOUR_S, 6.0}, {5 * HOUR_S, 4.0},         {23 * HOUR_S, 10.0},
                 {6 * HOUR_S, 0.0},  {19 * HOUR_S, 0.0},        {4 * HOUR_S, 8.0},
                 {20 * HOUR_S, 2.0}, {21 * HOUR_S + 1800, 8.0}, {3 * HOUR_S, 10.0}};
    gradin_programme p = nights();
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        for (int day = 0; day < 3; day++) {
            double got_s = programme_night_s(&p, &work, (int64_t)day * DAY_S + known[i].begin_s);
            cr_expect_float_eq(got_s, known[i].night_h * HOUR_S, 1e-9, "%d: %.2f h",
                               known[i].begin_s, got_s / HOUR_S);
        }
    p.night_from_s = p.night_to_s = 0;
    cr_expect_eq(programme_night_s(&p, &work, 23 * HOUR_S), 0.0);
    p.night_from_s = 1 * HOUR_S; /* within one day */
    p.night_to_s = 2 * HOUR_S;
    cr_expect_float_eq(programme_night_s(&p, &work, 0), 4.0 * HOUR_S, 1e-9);
}

static gradin_staging placed(int free_s, int due_s) {
    gradin_programme p = nights();
    gradin_staging s = {.free_s = DAY_S + free_s, .due_s = DAY_S + due_s};
    programme_clock clock = {.plan = &work};
    cr_assert_eq(programme_place(&p, &clock, &s), GRADIN_OK);
    return s;
}

Test(programme, begins_where_least_is_night) {
    /* At once costs 200 + 0.5 * 20 * 6 = 260; at 06:00 the day after, 200. */
    gradin_staging s = placed(21 * HOUR_S, 34 * HOUR_S);
    cr_expect_eq(s.begin_s, DAY_S + 30 * HOUR_S);
    cr_expect_eq(s.done_s, DAY_S + 33 * HOUR_S);
    cr_expect_float_eq(s.cost, 200.0, 1e-9);
    cr_expect_eq(s.short_s, 0);
    /* Done by 08:00: from 05:00 the first hour is night, 200 + 10 * 4 = 240 */
    s = placed(21 * HOUR_S, 32 * HOUR_S);
    cr_expect_eq(s.begin_s, DAY_S + 29 * HOUR_S);
    cr_expect_float_eq(s.cost, 240.0, 1e-9);
    /* As cheap at once as later: at once */
    s = placed(9 * HOUR_S + 7, 40 * HOUR_S);
    cr_expect_eq(s.begin_s, DAY_S + 9 * HOUR_S + 7);
    /* Exactly its window; a second less is a second missed */
    s = placed(21 * HOUR_S, 24 * HOUR_S);
    cr_expect_eq(s.short_s, 0);
    cr_expect_float_eq(s.cost, 260.0, 1e-9);
    s = placed(21 * HOUR_S, 24 * HOUR_S - 1);
    cr_expect_eq(s.short_s, 1);
    cr_expect_eq(s.begin_s, DAY_S + 21 * HOUR_S);
}

/* Begun at 21:00 the shifts leave it no time, at 22:00 they do: it begins then, although that is
 * dearer than the time that does not exist. Where no time is left at all there is no way. */
Test(programme, begins_where_there_is_time) {
    for (int is_any = 0; is_any < 2; is_any++) {
        gradin_programme p = nights();
        gradin_staging s = {.free_s = DAY_S + 21 * HOUR_S, .due_s = DAY_S + 34 * HOUR_S};
        programme_clock clock = {.plan = &work};
        for (int i = 0; i < PROGRAMME_QUARTERS; i++)
            clock.quarter[i] = (programme_begun){.is_known = true, .total_s = -1};
        if (is_any) clock.quarter[22 * 4] = (programme_begun){true, 3 * HOUR_S, 10.0 * HOUR_S};
        cr_assert_eq(programme_place(&p, &clock, &s), GRADIN_OK);
        cr_expect_eq(s.no_way == NULL, is_any);
        cr_expect_eq(s.begin_s, DAY_S + (is_any ? 22 : 21) * HOUR_S);
        cr_expect_eq(s.done_s, DAY_S + (is_any ? 25 : 21) * HOUR_S);
        cr_expect_float_eq(s.cost, is_any ? 300.0 : 0.0, 1e-9, "%g", s.cost);
    }
}

static unsigned next(unsigned *state) {
    *state = *state * 1664525u + 1013904223u;
    return *state >> 16;
}

typedef struct table {
    programme_step step[N_SHOW];
    programme_price way[N_SHOW][N_LAYOUT * N_LAYOUT], later[N_SHOW][N_LAYOUT * N_LAYOUT];
} table;

static programme_price random_price(unsigned *state, bool is_stay) {
    programme_price price = {.n_clash = next(state) % 5 == 0, .cost = next(state) % 90};
    if (price.n_clash) price.short_s = 1 + next(state) % 300;
    price.n_no_way = price.n_clash && next(state) % 3 == 0;
    price.n_changeover = !is_stay;
    return is_stay ? (programme_price){.n_clash = 0} : price;
}

static void fill(table *t, unsigned *state) {
    for (int k = 0; k < N_SHOW; k++) {
        programme_step *s = &t->step[k];
        *s = (programme_step){.way = t->way[k], .day_later = t->later[k]};
        for (int i = 0; i < N_LAYOUT; i++)
            if (next(state) % 3 > 0 || i == k % N_LAYOUT) {
                s->own[s->n_choice] = (programme_price){.cost = 7.0 * (next(state) % 4)};
                s->choice[s->n_choice++] = i;
            }
        for (int i = 0; i < N_LAYOUT * N_LAYOUT; i++) {
            t->way[k][i] = random_price(state, i / N_LAYOUT == i % N_LAYOUT);
            t->later[k][i] = t->way[k][i];
            t->later[k][i].n_clash = 0;
            t->later[k][i].n_no_way = 0;
            t->later[k][i].short_s = 0;
            t->later[k][i].cost *= 0.5;
        }
    }
}

/* Of all choices, with the way into show `later` a day longer; -1: none. */
static programme_price best_of_all(const table *t, int first, int later) {
    programme_price best = {.n_clash = 1 << 20};
    int at[N_SHOW] = {0};
    for (bool is_more = true; is_more;) {
        programme_price sum = {.n_clash = 0};
        for (int k = 0; k < N_SHOW; k++) {
            int to = t->step[k].choice[at[k]];
            int from = k > 0 ? t->step[k - 1].choice[at[k - 1]] : first < 0 ? to : first;
            const programme_price *way = k == later ? t->later[k] : t->way[k];
            sum =
                programme_sum(sum, programme_sum(way[from * N_LAYOUT + to], t->step[k].own[at[k]]));
        }
        if (programme_compare(&sum, &best) < 0) best = sum;
        int k = 0;
        while (k < N_SHOW && ++at[k] == t->step[k].n_choice) at[k++] = 0;
        is_more = k < N_SHOW;
    }
    return best;
}

static programme_price price_along(const table *t, int first, const int *layout) {
    programme_price sum = {.n_clash = 0};
    for (int k = 0; k < N_SHOW; k++) {
        int from = k > 0 ? layout[k - 1] : first < 0 ? layout[0] : first, i = 0;
        while (t->step[k].choice[i] != layout[k]) i++;
        sum = programme_sum(
            sum, programme_sum(t->way[k][from * N_LAYOUT + layout[k]], t->step[k].own[i]));
    }
    return sum;
}

Test(programme, against_all_choices) {
    unsigned state = 7;
    int n_day = 0;
    for (int run = 0; run < 300; run++) {
        table t;
        int layout[N_SHOW], day_layout[N_SHOW], first = run % 3 == 0 ? -1 : run % N_LAYOUT;
        programme_run found = {.layout = layout, .day_layout = day_layout};
        gradin_arena *arena = gradin_arena_create();
        fill(&t, &state);
        cr_assert_eq(programme_path(arena, t.step, N_SHOW, N_LAYOUT, first, &found), GRADIN_OK);
        programme_price price = found.price;
        gradin_free_day day = found.day;
        programme_price best = best_of_all(&t, first, -1), own = price_along(&t, first, layout);
        cr_assert_eq(programme_compare(&price, &best), 0, "run %d: %d %g, not %d %g", run,
                     price.n_clash, price.cost, best.n_clash, best.cost);
        cr_assert_eq(programme_compare(&own, &best), 0, "run %d", run);
        programme_price with_day = best;
        for (int k = 1; k < N_SHOW; k++) {
            programme_price sum = best_of_all(&t, first, k);
            if (programme_compare(&sum, &with_day) < 0) with_day = sum;
        }
        if (day.before < 0) {
            cr_assert_eq(programme_compare(&with_day, &best), 0, "run %d", run);
        } else {
            n_day++;
            cr_assert_eq(day.saved_clashes, best.n_clash - with_day.n_clash, "run %d", run);
            cr_assert_eq(day.saved_no_way, best.n_no_way - with_day.n_no_way, "run %d", run);
            cr_assert_float_eq(day.saved_short_s, best.short_s - with_day.short_s, 1e-9, "%d", run);
            cr_assert_float_eq(day.saved_cost, best.cost - with_day.cost, 1e-9, "run %d", run);
        }
        gradin_arena_destroy(arena);
    }
    cr_assert(n_day > 50 && n_day < 300, "%d", n_day);
}

/* A clash outweighs all else, then one without a way, a second missed any cost, a cost any count of
 * changeovers. */
Test(programme, what_counts_first) {
    static const programme_price rising[] = {
        {0, 0, 0.0, 1.0, 3}, {0, 0, 0.0, 2.0, 0}, {0, 0, 0.0, 2.0, 1}, {1, 0, 5.0, 9.0, 0},
        {1, 0, 6.0, 0.0, 0}, {1, 1, 0.0, 0.0, 0}, {2, 0, 0.0, 0.0, 0}};
    for (int i = 0; i < 6; i++) {
        cr_expect_lt(programme_compare(&rising[i], &rising[i + 1]), 0, "%d", i);
        cr_expect_gt(programme_compare(&rising[i + 1], &rising[i]), 0, "%d", i);
    }
    cr_expect_eq(programme_compare(&rising[2], &rising[2]), 0);
}

/* Five minutes late can be talked about; a changeover that no order of moves makes cannot. */
Test(programme, late_is_better_than_impossible) {
    gradin_staging late = {.layout = 1, .short_s = 300, .cost = 260.0};
    gradin_staging impossible = {.layout = 2, .no_way = "no order of moves"};
    programme_price a = programme_price_of(&late), b = programme_price_of(&impossible);
    cr_expect_lt(programme_compare(&a, &b), 0);
    cr_expect_gt(programme_compare(&b, &a), 0);
}

static void choose(const gradin_programme *p, const gradin_model *model, int n, int first,
                   gradin_clash needs, int most) {
    int choice[GRADIN_MAX_PROGRAMME_LAYOUT], got;
    gradin_staging s = {.most = -1};
    programme_choices(p, model, 0, choice, &got, &s);
    cr_expect_eq(got, n, "%d", got);
    cr_expect_eq(choice[0], first);
    cr_expect_eq(s.needs, needs);
    cr_expect_eq(s.most, most, "%d", s.most);
}

Test(programme, what_a_show_needs) {
    gradin_model model[3] = {0};
    int list[] = {2, 0, 1};
    gradin_booking b = {.layout = list, .n_layout = 3, .seats = 300, .wheelchairs = 4};
    gradin_programme p = {.booking = &b, .n_booking = 1, .n_layout = 3};
    for (int i = 0; i < 3; i++) {
        model[i].seats.n_seat = 200 + 100 * i; /* 200, 300, 400 */
        model[i].seats.n_wheelchair = 4 - i;   /* 4, 3, 2 */
    }
    b.wheelchairs = 0;
    choose(&p, model, 2, 2, GRADIN_CLASH_NONE, 0);
    b.wheelchairs = 3;
    choose(&p, model, 1, 1, GRADIN_CLASH_NONE, 0);
    b.wheelchairs = 4;
    choose(&p, model, 2, 2, GRADIN_CLASH_WHEELCHAIRS, 3);
    b.seats = 401;
    choose(&p, model, 3, 2, GRADIN_CLASH_SEATS, 400);
}
