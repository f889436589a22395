/* How far plans and bounds of projects drawn in the style of the literature lie apart, and how long
 * that takes: bench_projects N SEEDS NODES [STRENGTH FACTOR]. Without the last two every style:
 * complexity 1.5, 1.8, 2.1; factor 0.25 to 1; strength 0.2 to 1. */
#include "support/projects.h"

#include <stdio.h>
#include <stdlib.h>
#include <time.h>

typedef struct tally {
    int n, n_proven, n_near;
    double worst_percent, worst_s, sum_s;
} tally;

static double processor_s(void) {
    struct timespec now;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static void add(tally *t, double gap_percent, double taken_s) {
    t->n++;
    t->n_proven += gap_percent == 0.0;
    t->n_near += gap_percent <= 2.0;
    if (gap_percent > t->worst_percent) t->worst_percent = gap_percent;
    if (taken_s > t->worst_s) t->worst_s = taken_s;
    t->sum_s += taken_s;
}

static void print_tally(const char *what, const tally *t) {
    printf("%s: %d, gap 0 in %d (%.1f %%), to 2 %% in %d (%.1f %%), worst %.1f %%; processor "
           "mean %.3f s, worst %.2f s\n",
           what, t->n, t->n_proven, 100.0 * t->n_proven / t->n, t->n_near, 100.0 * t->n_near / t->n,
           t->worst_percent, t->sum_s / t->n, t->worst_s);
    fflush(stdout);
}

static void run(const project_style *style, uint64_t seed, long n_node, tally *one, tally *all) {
    static project x;
    project_draw(&x, style, seed);
    schedule_problem p = project_problem(&x);
    schedule_result found;
    gradin_arena *arena = gradin_arena_create();
    double from_s = processor_s();
    if (schedule_solve(arena, &p, &(schedule_budget){.n_node = n_node}, &found, NULL) != GRADIN_OK)
        exit(1);
    double taken_s = processor_s() - from_s;
    const char *broken = project_broken_rule(&x, found.start_s, found.total_s);
    if (broken) printf("BROKEN: %s\n", broken);
    double gap = 100.0 * (found.total_s - found.lower_bound_s) / found.lower_bound_s;
    if (getenv("EACH") || broken)
        printf("  seed %lu: %d, bound %d, %.1f %%, %ld nodes, %.2f s\n", (unsigned long)seed,
               found.total_s, found.lower_bound_s, gap, found.n_node, taken_s);
    add(one, gap, taken_s);
    add(all, gap, taken_s);
    gradin_arena_destroy(arena);
}

int main(int argc, char **argv) {
    if (argc != 4 && argc != 6) return 2;
    const double complexity[] = {1.5, 1.8, 2.1}, strength[] = {0.2, 0.5, 0.7, 1.0};
    int n_seed = atoi(argv[2]);
    long n_node = atol(argv[3]);
    tally all = {0};
    for (int s = 0; s < 4; s++)
        for (int f = 1; f <= 4; f++) {
            tally one = {0};
            char name[60];
            if (argc == 6 && (strength[s] != atof(argv[4]) || f / 4.0 != atof(argv[5]))) continue;
            for (int c = 0; c < 3; c++)
                for (int seed = 1; seed <= n_seed; seed++)
                    run(&(project_style){atoi(argv[1]), complexity[c], f / 4.0, strength[s]},
                        (uint64_t)(seed + 1000 * c + 10000 * s + 100000 * f), n_node, &one, &all);
            snprintf(name, sizeof name, "strength %.1f, factor %.2f", strength[s], f / 4.0);
            print_tally(name, &one);
        }
    print_tally("all", &all);
    return 0;
}
