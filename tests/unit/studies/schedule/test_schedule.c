/* Schedules against brute force: every order of at most 7 moves, placed one by one into a time line
 * of single time units. Some order of the kind gives a least total (active schedules, textbook
 * result of resource-constrained project scheduling), so the least over all orders is the answer.
 * Published instances: test_job_shops.c. */
#include "studies/schedule/schedule.h"

#include <criterion/criterion.h>
#include <string.h>

enum { MAX_N = 7, N_LIMIT = 3, HORIZON = 64, N_RANDOM = 500 };

typedef struct instance {
    int n, duration_s[MAX_N], demand[MAX_N][N_LIMIT], capacity[N_LIMIT];
    bool before[MAX_N * MAX_N], apart[MAX_N * MAX_N];
} instance;

typedef struct line {
    const instance *x;
    int used[HORIZON][N_LIMIT];
    bool runs[HORIZON][MAX_N];
    int end[MAX_N]; /* 0 when not placed */
    int best;
} line;

static bool is_free(const line *l, int k, int t) {
    for (int r = 0; r < N_LIMIT; r++)
        if (l->used[t][r] + l->x->demand[k][r] > l->x->capacity[r]) return false;
    for (int i = 0; i < l->x->n; i++)
        if (l->runs[t][i] && l->x->apart[i * l->x->n + k]) return false;
    return true;
}

static void mark(line *l, int k, int start, int sign) {
    for (int t = start; t < start + l->x->duration_s[k]; t++) {
        l->runs[t][k] = sign > 0;
        for (int r = 0; r < N_LIMIT; r++) l->used[t][r] += sign * l->x->demand[k][r];
    }
}

static int first_start(const line *l, int k) {
    int start = 0;
    for (int i = 0; i < l->x->n; i++)
        if (l->x->before[i * l->x->n + k] && l->end[i] > start) start = l->end[i];
    for (int t = start; t < start + l->x->duration_s[k]; t++)
        if (!is_free(l, k, t)) start = t + 1;
    return start;
}

static bool can_follow(const line *l, int k) {
    if (l->end[k] > 0) return false;
    for (int i = 0; i < l->x->n; i++)
        if (l->x->before[i * l->x->n + k] && l->end[i] == 0) return false;
    return true;
}

static void try_orders(line *l, int n_placed, int total) {
    if (total >= l->best) return;
    if (n_placed == l->x->n) {
        l->best = total;
        return;
    }
    for (int k = 0; k < l->x->n; k++) {
        if (!can_follow(l, k)) continue;
        int start = first_start(l, k);
        mark(l, k, start, 1);
        l->end[k] = start + l->x->duration_s[k];
        try_orders(l, n_placed + 1, l->end[k] > total ? l->end[k] : total);
        l->end[k] = 0;
        mark(l, k, start, -1);
    }
}

static int brute_force(const instance *x) {
    line l = {.x = x, .best = HORIZON};
    try_orders(&l, 0, 0);
    return l.best;
}

static unsigned long state = 12345;

static int draw(int least, int most) {
    state = state * 6364136223846793005UL + 1442695040888963407UL;
    return least + (int)((state >> 40) % (unsigned long)(most - least + 1));
}

static instance draw_instance(void) {
    instance x = {.n = draw(2, MAX_N), .capacity = {draw(3, 6), draw(4, 9), 1000}};
    for (int i = 0; i < x.n; i++) {
        x.duration_s[i] = draw(1, 6);
        x.demand[i][0] = draw(0, 3);
        x.demand[i][1] = draw(0, 4);
        x.demand[i][2] = draw(0, 3) == 0 ? draw(300, 900) : 0;
        for (int k = i + 1; k < x.n; k++) {
            x.before[i * x.n + k] = draw(0, 5) == 0;
            x.apart[i * x.n + k] = x.apart[k * x.n + i] = draw(0, 6) == 0;
        }
    }
    return x;
}

static schedule_problem problem_of(const instance *x) {
    return (schedule_problem){.n = x->n,
                              .n_limit = N_LIMIT,
                              .duration_s = x->duration_s,
                              .demand = &x->demand[0][0],
                              .capacity = x->capacity,
                              .before = x->before,
                              .apart = x->apart};
}

/* Every rule of the instance, second by second. */
static void expect_valid(const instance *x, const schedule_result *found, int number) {
    for (int t = 0; t < found->total_s; t++) {
        int used[N_LIMIT] = {0};
        for (int i = 0; i < x->n; i++) {
            if (found->start_s[i] > t || found->start_s[i] + x->duration_s[i] <= t) continue;
            for (int r = 0; r < N_LIMIT; r++) used[r] += x->demand[i][r];
            for (int k = 0; k < i; k++)
                cr_assert(!(x->apart[i * x->n + k] && found->start_s[k] <= t &&
                            found->start_s[k] + x->duration_s[k] > t),
                          "instance %d: %d and %d together", number, i, k);
        }
        for (int r = 0; r < N_LIMIT; r++)
            cr_assert_leq(used[r], x->capacity[r], "instance %d limit %d", number, r);
    }
    for (int i = 0; i < x->n; i++)
        for (int k = 0; k < x->n; k++)
            if (x->before[i * x->n + k])
                cr_assert_leq(found->start_s[i] + x->duration_s[i], found->start_s[k],
                              "instance %d: %d before %d", number, i, k);
}

/* Solves x and holds the answer against brute force, proven, and against every rule. The proof
 * closes all instances so small, so every second one is left to the tree. */
static schedule_result solve_whole(gradin_arena *arena, const instance *x, int number) {
    schedule_problem p = problem_of(x);
    schedule_result found;
    int least = brute_force(x);
    schedule_budget budget = {.n_node = 1000000, .is_tree_only = number % 2 == 1};
    cr_assert_eq(schedule_solve(arena, &p, &budget, &found, NULL), GRADIN_OK);
    cr_assert_eq(found.total_s, least, "instance %d: %d, not %d", number, found.total_s, least);
    cr_assert_eq(found.lower_bound_s, found.total_s, "instance %d not proven", number);
    expect_valid(x, &found, number);
    return found;
}

Test(schedule, equals_brute_force_on_500_random_instances_up_to_7_moves) {
    gradin_arena *arena = gradin_arena_create();
    for (int number = 0; number < N_RANDOM; number++) {
        instance x = draw_instance();
        solve_whole(arena, &x, number);
    }
    gradin_arena_destroy(arena);
}

static bool are_alike(const instance *x, int a, int b) {
    bool same = x->duration_s[a] == x->duration_s[b] && !x->before[a * x->n + b] &&
                memcmp(x->demand[a], x->demand[b], sizeof x->demand[a]) == 0;
    for (int i = 0; i < x->n && same; i++)
        same = i == a || i == b ||
               (x->before[i * x->n + a] == x->before[i * x->n + b] &&
                x->before[a * x->n + i] == x->before[b * x->n + i] &&
                x->apart[i * x->n + a] == x->apart[i * x->n + b]);
    return same;
}

/* Few kinds of moves, so that many are alike but for who must not run with whom. */
static instance draw_alike(void) {
    instance x = draw_instance();
    for (int i = 0; i < x.n; i++) {
        x.duration_s[i] = draw(1, 2);
        for (int r = 0; r < N_LIMIT; r++) x.demand[i][r] = 0;
        x.demand[i][0] = draw(1, 2);
        for (int k = 0; k < x.n; k++) x.before[i * x.n + k] = false;
    }
    return x;
}

/* Moves that are alike may change places: the first one comes first, and none that only looks alike
 * is held back. */
Test(schedule, alike_moves_keep_their_order_and_cost_nothing) {
    gradin_arena *arena = gradin_arena_create();
    int n_alike = 0;
    for (int number = 0; number < N_RANDOM; number++) {
        instance x = draw_alike();
        schedule_result found = solve_whole(arena, &x, number);
        for (int k = 0; k < x.n; k++)
            for (int i = 0; i < k; i++) {
                if (!are_alike(&x, i, k)) continue;
                cr_assert_leq(found.start_s[i], found.start_s[k], "instance %d: %d after %d",
                              number, i, k);
                n_alike++;
            }
    }
    cr_expect_gt(n_alike, 200);
    gradin_arena_destroy(arena);
}

/* With no node to spend, the bound must lie at or below the least and the answer be valid. */
Test(schedule, bounds_and_first_answers_enclose_the_least) {
    gradin_arena *arena = gradin_arena_create();
    int n_loose = 0;
    for (int number = 0; number < N_RANDOM; number++) {
        instance x = draw_instance();
        schedule_problem p = problem_of(&x);
        schedule_result found;
        schedule_solve(arena, &p, &(schedule_budget){.n_node = 0}, &found, NULL);
        int least = brute_force(&x);
        cr_assert_leq(found.lower_bound_s, least, "instance %d", number);
        cr_assert_geq(found.total_s, least, "instance %d", number);
        expect_valid(&x, &found, number);
        n_loose += found.lower_bound_s < least;
    }
    cr_expect_lt(n_loose, N_RANDOM / 4, "the bound is loose in %d of %d", n_loose, N_RANDOM);
    gradin_arena_destroy(arena);
}

/* Two machines of 10 min and one of 15 under power for two: 20 min, by hand. */
Test(schedule, power_for_two_of_three) {
    gradin_arena *arena = gradin_arena_create();
    instance x = {.n = 3,
                  .duration_s = {10, 10, 15},
                  .demand = {{1, 5, 0}, {1, 5, 0}, {1, 5, 0}},
                  .capacity = {9, 10, 1000}};
    schedule_problem p = problem_of(&x);
    schedule_result found;
    schedule_solve(arena, &p, &(schedule_budget){.n_node = 1000}, &found, NULL);
    cr_expect_eq(found.total_s, 20);
    cr_expect_eq(found.longest_chain_s, 15);
    gradin_arena_destroy(arena);
}

Test(schedule, a_circle_is_refused) {
    gradin_arena *arena = gradin_arena_create();
    instance x = {.n = 2, .duration_s = {1, 1}, .capacity = {1, 1, 1}};
    x.before[0 * 2 + 1] = x.before[1 * 2 + 0] = true;
    schedule_problem p = problem_of(&x);
    schedule_result found;
    cr_expect_eq(schedule_solve(arena, &p, &(schedule_budget){.n_node = 1000}, &found, NULL),
                 GRADIN_BAD_INPUT);
    gradin_arena_destroy(arena);
}
