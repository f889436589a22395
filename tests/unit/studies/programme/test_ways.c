/* Programmes look into no more changeovers than their best run needs, and choose as if they had
 * looked into all: the demo's layouts, and prices at random with bounds below them. */
#include "gradin/files.h"
#include "studies/programme/programme.h"

#include <criterion/criterion.h>
#include <stdio.h>

enum { N_SHOW = 6, N_LAYOUT = 4, N_WAY = N_LAYOUT * N_LAYOUT, HOUR_S = 3600, DAY_S = 86400 };

static unsigned next(unsigned *state) {
    *state = *state * 1664525u + 1013904223u;
    return *state >> 16;
}

typedef struct table {
    programme_step step[N_SHOW];
    programme_price way[N_SHOW][N_WAY], later[N_SHOW][N_WAY];
} table;

/* Few values, so that many runs cost the same. */
static programme_price random_price(unsigned *state, bool is_stay) {
    programme_price price = {.cost = 10.0 * (next(state) % 3), .n_changeover = 1};
    if (next(state) % 6 == 0) price = (programme_price){1, 0, 1 + next(state) % 2, 10.0, 1};
    if (next(state) % 12 == 0) price = (programme_price){1, 1, 0.0, 0.0, 1};
    return is_stay ? (programme_price){.n_clash = 0} : price;
}

static void fill(table *t, unsigned *state) {
    for (int k = 0; k < N_SHOW; k++) {
        programme_step *s = &t->step[k];
        *s = (programme_step){.way = t->way[k], .day_later = t->later[k]};
        for (int i = 0; i < N_LAYOUT; i++)
            if (next(state) % 3 > 0 || i == k % N_LAYOUT) s->choice[s->n_choice++] = i;
        for (int i = 0; i < N_WAY; i++) {
            bool is_stay = i / N_LAYOUT == i % N_LAYOUT;
            t->way[k][i] = t->later[k][i] = random_price(state, is_stay);
            if (next(state) % 2) t->later[k][i] = (programme_price){.n_changeover = !is_stay};
        }
    }
}

/* The same run and day as from all true prices, and not every way is asked for. */
static int expect_same(const table *t, int first, int run) {
    int layout[4][N_SHOW], n_known = 0;
    bool is_known[N_WAY] = {false};
    table low = *t;
    programme_run all = {.layout = layout[0], .day_layout = layout[1]};
    programme_run own = {.layout = layout[2], .day_layout = layout[3]};
    gradin_arena *arena = gradin_arena_create();
    programme_path(arena, t->step, N_SHOW, N_LAYOUT, first, &all);
    for (int k = 0; k < N_SHOW; k++) {
        low.step[k].way = low.way[k], low.step[k].day_later = low.later[k];
        for (int i = 0; i < N_WAY; i++)
            if (i / N_LAYOUT != i % N_LAYOUT)
                low.way[k][i] = low.later[k][i] = (programme_price){.n_changeover = 1};
    }
    for (bool is_more = true; is_more;) {
        programme_path(arena, low.step, N_SHOW, N_LAYOUT, first, &own);
        is_more = false;
        for (int k = 0; k < N_SHOW; k++)
            for (int i = 0; i < 2; i++) {
                const int *at = i == 0 ? own.layout : own.day_layout;
                int from = k > 0 ? at[k - 1] : first < 0 ? at[0] : first;
                int way = from * N_LAYOUT + at[k];
                if (from == at[k] || is_known[way]) continue;
                is_known[way] = is_more = true;
                n_known++;
                for (int m = 0; m < N_SHOW; m++) {
                    low.way[m][way] = t->way[m][way];
                    low.later[m][way] = t->later[m][way];
                }
            }
    }
    cr_expect_eq(own.day.before, all.day.before, "run %d", run);
    cr_expect_eq(programme_compare(&own.price, &all.price), 0, "run %d", run);
    for (int k = 0; k < N_SHOW; k++) cr_expect_eq(own.layout[k], all.layout[k], "run %d", run);
    gradin_arena_destroy(arena);
    return n_known;
}

Test(programme_ways, the_run_that_all_prices_lead_to) {
    unsigned state = 11;
    int n_known = 0;
    for (int run = 0; run < 400; run++) {
        table t;
        fill(&t, &state);
        n_known += expect_same(&t, run % 5 - 1, run);
    }
    cr_expect_lt(n_known, 400 * (N_WAY - N_LAYOUT) * 3 / 4, "%d", n_known);
}

/* What is known before any order is: the same hours, and no more time than is proven. */
static void expect_least(const gradin_changeover *c) {
    changeover_least least;
    cr_assert_eq(changeover_find_least(c->from, c->to, &least, NULL), GRADIN_OK);
    cr_expect_leq(least.total_s, c->lower_bound_s);
    cr_expect_gt(least.total_s, c->total_s / 2, "%d of %d s", least.total_s, c->total_s);
    cr_expect_eq(least.person_hours, c->person_hours);
}

static int count_planned(const gradin_programme_plan *plan) {
    int n = 0, n_layout = plan->programme->n_layout;
    for (int i = 0; i < n_layout * n_layout; i++) n += plan->changeover[i].from != NULL;
    return n;
}

Test(programme_ways, plans_what_the_best_run_goes_through) {
    static const char *const name[] = {"end_stage", "thrust", "flat_floor"};
    const int any[] = {0, 1, 2}, flat[] = {2};
    gradin_arena *arena = gradin_arena_create();
    gradin_model model[3];
    gradin_booking show[3];
    gradin_programme_plan plan;
    gradin_programme p = {.name = "three",
                          .layout_name = name,
                          .n_layout = 3,
                          .booking = show,
                          .n_booking = 3,
                          .first_layout = 1,
                          .night_factor = 1.0,
                          .hour_cost = 10.0};
    char path[512];
    for (int i = 0; i < 3; i++) {
        snprintf(path, sizeof path, GRADIN_SOURCE_DIR "/demo/%s.yaml", name[i]);
        cr_assert_eq(gradin_model_read(arena, path, &model[i], NULL), GRADIN_OK);
        show[i] = (gradin_booking){.name = "show",
                                   .start_s = (i + 1) * 2 * DAY_S,
                                   .end_s = (i + 1) * 2 * DAY_S + HOUR_S,
                                   .layout = any,
                                   .n_layout = 3,
                                   .is_any_order = true};
    }
    cr_assert_eq(gradin_programme_plan_make(arena, &p, model, NULL, &plan, NULL), GRADIN_OK);
    cr_expect_eq(plan.n_changeover, 0);
    cr_expect_eq(count_planned(&plan), 0, "%d plans for shows that can all stay",
                 count_planned(&plan));
    show[1].layout = flat; /* a way there, and none of the ways by the end stage */
    show[1].n_layout = 1;
    cr_assert_eq(gradin_programme_plan_make(arena, &p, model, NULL, &plan, NULL), GRADIN_OK);
    cr_expect_eq(plan.n_changeover, 1);
    cr_expect_eq(plan.staging[2].layout, 2);
    cr_expect_leq(count_planned(&plan), 2, "%d plans", count_planned(&plan));
    expect_least(&plan.changeover[plan.staging[1].from_layout * 3 + 2]);
    gradin_arena_destroy(arena);
}
