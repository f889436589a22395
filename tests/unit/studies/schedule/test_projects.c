/* Published projects of 30 and 60 activities on four limits (reference/scheduling). For those of 30
 * the optimum is known and proven; of one of 60 only bounds are published. */
#include "studies/schedule/schedule.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MAX_N = 60, N_LIMIT = 4, NODES = 30000, NODES_OF_60 = 150000 };

typedef struct project {
    char name[12];
    int n, capacity[N_LIMIT], low, high;
    int duration[MAX_N], demand[MAX_N][N_LIMIT];
    bool before[MAX_N * MAX_N], apart[MAX_N * MAX_N];
} project;

static FILE *open_table(const char *name) {
    char path[400], line[200];
    snprintf(path, sizeof path, GRADIN_SOURCE_DIR "/reference/%s", name);
    FILE *file = fopen(path, "r");
    cr_assert(file && fgets(line, sizeof line, file), "%s", path);
    return file;
}

static void read_activity(project *x, const char *line) {
    char name[12], before[60] = "";
    int k, duration, use[N_LIMIT], offset = 0;
    cr_assert_eq(sscanf(line, "%11[^,],%d,%d,%n", name, &k, &duration, &offset), 3);
    if (strcmp(name, x->name) != 0) return;
    const char *rest = line + offset;
    if (*rest != ',') sscanf(rest, "%59[^,]", before);
    rest += strlen(before);
    cr_assert_eq(sscanf(rest, ",%d,%d,%d,%d", &use[0], &use[1], &use[2], &use[3]), 4);
    x->duration[k - 1] = duration;
    memcpy(x->demand[k - 1], use, sizeof use);
    for (char *at = strtok(before, " "); at; at = strtok(NULL, " "))
        x->before[(atoi(at) - 1) * x->n + k - 1] = true;
}

static bool next_project(FILE *instances, project *x) {
    char line[200];
    *x = (project){.n = 0};
    if (!fgets(line, sizeof line, instances)) return false;
    int *c = x->capacity;
    cr_assert_eq(sscanf(line, "%11[^,],%d,%d,%d,%d,%d,%d,%d", x->name, &x->n, &c[0], &c[1], &c[2],
                        &c[3], &x->low, &x->high),
                 8);
    FILE *file = open_table("scheduling/project-activities.csv");
    while (fgets(line, sizeof line, file)) read_activity(x, line);
    fclose(file);
    return true;
}

static void check_valid(const project *x, const int *start, int total) {
    int last = 0;
    for (int i = 0; i < x->n; i++) {
        int end = start[i] + x->duration[i], used[N_LIMIT] = {0};
        last = end > last ? end : last;
        for (int k = 0; k < x->n; k++) {
            cr_assert(!(x->before[i * x->n + k] && start[k] < end), "%s: %d, %d", x->name, i, k);
            bool runs = start[k] <= start[i] && start[k] + x->duration[k] > start[i];
            for (int r = 0; r < N_LIMIT && runs; r++) used[r] += x->demand[k][r];
        }
        for (int r = 0; r < N_LIMIT; r++) cr_assert_leq(used[r], x->capacity[r], "%s", x->name);
    }
    cr_assert_eq(last, total);
}

static void solve(const project *x, schedule_result *found) {
    gradin_arena *arena = gradin_arena_create();
    schedule_problem p = {.n = x->n,
                          .n_limit = N_LIMIT,
                          .duration_s = x->duration,
                          .demand = &x->demand[0][0],
                          .capacity = x->capacity,
                          .before = x->before,
                          .apart = x->apart};
    cr_assert_eq(schedule_solve(arena, &p,
                                &(schedule_budget){.n_node = x->n > 30 ? NODES_OF_60 : NODES},
                                found, NULL),
                 GRADIN_OK);
    check_valid(x, found->start_s, found->total_s);
    gradin_arena_destroy(arena);
}

/* Three quarters of the time go into these: the weekly run has them, by GRADIN_COSTLY. */
static bool is_costly(const project *x) {
    return strcmp(x->name, "60-9-1") == 0 || strcmp(x->name, "30-29-3") == 0;
}

/* How many of the projects, costly or not, and how many of them are proven least. */
static void solve_all(bool are_costly, int *n, int *n_proven) {
    FILE *instances = open_table("scheduling/project-instances.csv");
    project x;
    *n = *n_proven = 0;
    while (next_project(instances, &x)) {
        if (is_costly(&x) != are_costly) continue;
        schedule_result found;
        solve(&x, &found);
        printf("%s: published %d to %d, found %d, bound %d, %ld nodes\n", x.name, x.low, x.high,
               found.total_s, found.lower_bound_s, found.n_node);
        cr_expect_geq(found.total_s, x.low, "%s", x.name);
        cr_expect_leq(found.lower_bound_s, x.high, "%s", x.name);
        if (x.n == 30) cr_expect_eq(found.total_s, x.high, "%s: %d", x.name, found.total_s);
        cr_expect_leq(found.total_s, 1.02 * x.high, "%s", x.name);
        ++*n;
        *n_proven += found.total_s == found.lower_bound_s;
    }
    fclose(instances);
}

Test(projects, published_optima_are_found) {
    int n, n_proven;
    solve_all(false, &n, &n_proven);
    cr_expect_eq(n, 14);
    cr_expect_geq(n_proven, 14, "%d of %d proven", n_proven, n);
}

Test(projects, published_optima_of_the_costly_are_found) {
    int n, n_proven;
    if (!getenv("GRADIN_COSTLY")) cr_skip_test("the weekly run has it");
    solve_all(true, &n, &n_proven);
    cr_expect_eq(n, 2);
}
