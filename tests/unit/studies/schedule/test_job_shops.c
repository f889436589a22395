/* Published job shops (reference/scheduling): each job's steps in order, each machine one step at a
 * time. They are resource-constrained project scheduling with capacities of one: machines 0 to 2
 * are given as limits, the others as pairs kept apart, so that both count. */
#include "studies/schedule/schedule.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

enum { MAX_N = 60, N_LIMIT = 3, NODES = 20000 };

typedef struct shop {
    char name[8];
    int n, optimum, job[MAX_N], machine[MAX_N], duration_s[MAX_N];
    int demand[MAX_N][N_LIMIT];
    bool before[MAX_N * MAX_N], apart[MAX_N * MAX_N];
} shop;

static void finish(shop *x) {
    for (int i = 0; i < x->n; i++) {
        for (int r = 0; r < N_LIMIT; r++) x->demand[i][r] = x->machine[i] == r;
        for (int k = 0; k < x->n; k++) {
            x->before[i * x->n + k] = x->job[i] == x->job[k] && k == i + 1;
            x->apart[i * x->n + k] =
                i != k && x->machine[i] == x->machine[k] && x->machine[i] >= N_LIMIT;
        }
    }
}

/* Reads the next shop of the file; *held is the line that begins it. */
static bool next_shop(FILE *file, char held[100], shop *x) {
    *x = (shop){.n = 0};
    while (held[0]) {
        char name[8];
        int job, step, machine, duration, optimum;
        cr_assert_eq(
            sscanf(held, "%7[^,],%d,%d,%d,%d,%d", name, &job, &step, &machine, &duration, &optimum),
            6, "%s", held);
        if (x->n > 0 && strcmp(name, x->name) != 0) break;
        cr_assert_lt(x->n, MAX_N);
        memcpy(x->name, name, sizeof name);
        x->optimum = optimum;
        x->job[x->n] = job;
        x->machine[x->n] = machine;
        x->duration_s[x->n++] = duration;
        if (!fgets(held, 100, file)) held[0] = '\0';
    }
    finish(x);
    return x->n > 0;
}

static void check_valid(const shop *x, const int *start_s, int total_s) {
    int last = 0;
    for (int i = 0; i < x->n; i++) {
        int end = start_s[i] + x->duration_s[i];
        cr_assert_geq(start_s[i], 0);
        if (end > last) last = end;
        for (int k = 0; k < x->n; k++) {
            bool meets = k != i && start_s[k] < end && start_s[k] + x->duration_s[k] > start_s[i];
            cr_assert(!(meets && x->machine[i] == x->machine[k]), "%s: %d and %d", x->name, i, k);
            cr_assert(!(x->before[i * x->n + k] && start_s[k] < end), "%s: %d, %d", x->name, i, k);
        }
    }
    cr_assert_eq(last, total_s);
}

static schedule_result solve(gradin_arena *arena, const shop *x, long nodes) {
    schedule_problem p = {.n = x->n,
                          .n_limit = N_LIMIT,
                          .duration_s = x->duration_s,
                          .demand = &x->demand[0][0],
                          .capacity = (const int[N_LIMIT]){1, 1, 1},
                          .before = x->before,
                          .apart = x->apart};
    schedule_result found;
    cr_assert_eq(schedule_solve(arena, &p, &(schedule_budget){.n_node = nodes}, &found, NULL),
                 GRADIN_OK);
    return found;
}

Test(job_shops, published_optima_lie_between_bound_and_total) {
    FILE *file = fopen(GRADIN_SOURCE_DIR "/reference/scheduling/job-shops.csv", "r");
    char held[100];
    shop x;
    int n_shop = 0, n_proven = 0;
    double sum = 0.0, bound_sum = 0.0;
    cr_assert(file && fgets(held, sizeof held, file) && fgets(held, sizeof held, file));
    while (next_shop(file, held, &x)) {
        gradin_arena *arena = gradin_arena_create();
        schedule_result found = solve(arena, &x, NODES);
        check_valid(&x, found.start_s, found.total_s);
        cr_expect_leq(found.lower_bound_s, x.optimum, "%s", x.name);
        cr_expect_geq(found.total_s, x.optimum, "%s", x.name);
        printf("%s: %d moves, optimum %d, found %d, bound %d, %ld nodes\n", x.name, x.n, x.optimum,
               found.total_s, found.lower_bound_s, found.n_node);
        sum += (double)found.total_s / x.optimum - 1.0;
        bound_sum += 1.0 - (double)found.lower_bound_s / x.optimum;
        gradin_arena_destroy(arena);
        n_shop++;
        n_proven += found.total_s == found.lower_bound_s;
    }
    fclose(file);
    cr_expect_eq(n_shop, 6);
    cr_expect_geq(n_proven, 5, "%d of 6 proven", n_proven);
    cr_expect_lt(sum / n_shop, 0.001);
    cr_expect_lt(bound_sum / n_shop, 0.001);
    printf("mean over the optimum %.4f, bound under it %.4f\n", sum / n_shop, bound_sum / n_shop);
}
