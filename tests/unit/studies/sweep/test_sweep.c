/* What rows say together, against all pairs compared one by one; points that a search picked. */
#include "studies/sweep/sweep.h"

#include <criterion/criterion.h>

#include <stdio.h>

enum { N = 60 };

static const gradin_study_figure figures[] = {GRADIN_STUDY_EVENTS, GRADIN_STUDY_GLASS_T};
static const gradin_study_aim aims[] = {{GRADIN_STUDY_GLASS_T, false},
                                        {GRADIN_STUDY_EVENTS, false}};
static const gradin_study_bound bounds[] = {{GRADIN_STUDY_EVENTS, -INFINITY, 5.0}};

static gradin_study study_of(gradin_varied *varied, const char *const *value) {
    *varied = (gradin_varied){.name = "k", .value = value, .n_value = N};
    return (gradin_study){.name = "s",
                          .varied = varied,
                          .n_varied = 1,
                          .figure = figures,
                          .n_figure = 2,
                          .bound = bounds,
                          .n_bound = 1,
                          .aim = aims,
                          .n_aim = 2};
}

static unsigned next(unsigned *state) {
    return *state = *state * 1664525u + 1013904223u;
}

static bool keeps(const gradin_sweep_row *row, bool surely) {
    return !row->refused && (surely ? row->figure[0].high : row->figure[0].low) <= 5.0;
}

static bool beats(const gradin_sweep_row *a, const gradin_sweep_row *b) {
    double p = a->figure[1].value, q = b->figure[1].value, x = a->figure[0].value,
           y = b->figure[0].value;
    return p <= q && x <= y && (p < q || x < y);
}

Test(sweep, best_and_front_are_those_of_all_pairs) {
    static const char *value[N];
    static gradin_known known[N][2];
    static gradin_sweep_row row[N];
    unsigned state = 7;
    for (int round = 0; round < 50; round++) {
        gradin_arena *arena = gradin_arena_create();
        gradin_varied varied;
        gradin_study study = study_of(&varied, value);
        gradin_sweep_result r;
        for (int i = 0; i < N; i++) {
            double events = next(&state) >> 28, tonnes = next(&state) >> 28;
            value[i] = gradin_arena_print(arena, "%d", i);
            known[i][0] = (gradin_known){events, events - 1.5, events + 1.5};
            known[i][1] = (gradin_known){tonnes, tonnes, tonnes};
            row[i] = (gradin_sweep_row){.point = i, .figure = known[i]};
            if (next(&state) >> 29 == 0) row[i] = (gradin_sweep_row){.point = i, .refused = "no"};
        }
        cr_assert_eq(gradin_sweep_sum(arena, &study, row, N, &r, NULL), GRADIN_OK);
        int n_front = 0, best = -1;
        for (int i = 0; i < N; i++) {
            bool is_front = keeps(&row[i], false);
            for (int k = 0; k < N && is_front; k++)
                is_front = !(keeps(&row[k], false) && beats(&row[k], &row[i]));
            n_front += is_front;
            bool is_told = false;
            for (int k = 0; k < r.n_front; k++) is_told |= r.front[k] == i;
            cr_expect_eq(is_told, is_front, "round %d, row %d", round, i);
            if (!keeps(&row[i], true)) continue;
            if (best < 0 || known[i][1].value < known[best][1].value ||
                (known[i][1].value == known[best][1].value &&
                 known[i][0].value < known[best][0].value))
                best = i;
        }
        cr_expect_eq(r.n_front, n_front);
        cr_expect_eq(r.best_sure, best);
        gradin_arena_destroy(arena);
    }
}

/* By hand: 6 of at most 5 misses a fifth; of at least 8, a quarter; of 0 the miss itself. */
Test(sweep, part_of_a_need_that_is_missed) {
    const gradin_study_bound most = {GRADIN_STUDY_EVENTS, -INFINITY, 5.0};
    const gradin_study_bound least = {GRADIN_STUDY_EVENTS, 8.0, INFINITY};
    const gradin_study_bound none = {GRADIN_STUDY_EVENTS, -INFINITY, 0.0};
    cr_expect_float_eq(sweep_part_missed(6.0, &most), 0.2, 1e-12);
    cr_expect_float_eq(sweep_part_missed(6.0, &least), 0.25, 1e-12);
    cr_expect_float_eq(sweep_part_missed(6.0, &none), 6.0, 1e-12);
    cr_expect_eq(sweep_part_missed(5.0, &most), 0.0);
    cr_expect(isinf(sweep_part_missed(NAN, &most)));
}

Test(sweep, points_that_a_search_picked) {
    static const char *const value[] = {"a", "b"};
    static const char *chosen[] = {"b", "0.25", "a", "0.5", "b", "0.9"};
    gradin_varied varied[] = {{.name = "w", .value = value, .n_value = 2},
                              {.name = "r", .from = 0.0, .to = 1.0}};
    gradin_study s = {.varied = varied, .n_varied = 2, .chosen = chosen, .n_chosen = 3};
    char text[GRADIN_VALUE_CHARS];
    cr_assert_eq(gradin_study_points(&s), 3);
    cr_expect_eq(gradin_study_index(&s, 0, 0), 1);
    cr_expect_eq(gradin_study_index(&s, 1, 0), 0);
    cr_expect_eq(gradin_study_index(&s, 2, 1), 2);
    cr_assert(gradin_study_value(&s, 2, 1, text));
    cr_expect_str_eq(text, "0.9");
    cr_expect(!gradin_study_value(&s, 3, 1, text));
}

Test(sweep, memory_gives_back_what_it_was_given) {
    sweep_memory *m = sweep_memory_create();
    for (int i = 0; i < 500; i++) {
        char key[33];
        sweep_stage_result result = {.refused = i % 3 == 0 ? "no" : NULL};
        result.figure[0].value = i;
        snprintf(key, sizeof key, "%032x", (unsigned)i * 2654435761u);
        cr_assert(!sweep_memory_find(m, key));
        cr_assert(sweep_memory_keep(m, key, &result));
    }
    for (int i = 0; i < 500; i++) {
        char key[33];
        snprintf(key, sizeof key, "%032x", (unsigned)i * 2654435761u);
        const sweep_stage_result *found = sweep_memory_find(m, key);
        cr_assert(found && found->figure[0].value == i);
        cr_expect_eq(found->refused != NULL, i % 3 == 0);
    }
    sweep_memory_destroy(m);
}

/* A key that the table names leaves other stages alone; one that it does not name, none. */
Test(sweep, what_depends_on_a_key) {
    const char *path = "facade.buildups[x.y].layers[2].glass_mm";
    gradin_varied v = {.file = GRADIN_VARIED_VENUE, .path = &path, .n_path = 1};
    unsigned glass = gradin_sweep_depends(&v);
    cr_expect(!(glass & (1U << GRADIN_STAGE_SIGHT)) && !(glass & (1U << GRADIN_STAGE_ROOM)));
    cr_expect(glass & (1U << GRADIN_STAGE_SEASON));
    v.file = GRADIN_VARIED_BRIEF;
    path = "rating.visible_min[1]";
    unsigned brief = gradin_sweep_depends(&v);
    cr_expect(brief & (1U << GRADIN_STAGE_SIGHT));
    cr_expect(!(brief & (1U << GRADIN_STAGE_RAYS)));
    v.file = GRADIN_VARIED_VENUE;
    path = "machines.crew.people";
    cr_expect_eq(gradin_sweep_depends(&v), 1U << GRADIN_STAGE_CHANGEOVER);
    path = "machines.lifts[F].riser";
    cr_expect_eq(gradin_sweep_depends(&v), (1U << GRADIN_N_STAGE) - 1U);
}
