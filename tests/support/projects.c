/* After Kolisch, Sprecher and Drexl, Characterization and generation of a general class of
 * resource-constrained project scheduling problems, 1995, from memory: durations and demands from 1
 * to 10, at most three that come at once before or after an activity, no arc that others imply;
 * capacities between the greatest demand and the peak of the schedule without limits. */
#include "support/projects.h"

#include <string.h>

enum { MOST_TIES = 3, N_FREE_ENDS = 3 };

typedef struct drawing {
    project *x;
    uint64_t state;
    bool after[PROJECT_MOVES][PROJECT_MOVES];
    int n_before[PROJECT_MOVES], n_after[PROJECT_MOVES], n_arc;
} drawing;

static int draw(drawing *d, int least, int most) {
    d->state = d->state * 6364136223846793005u + 1442695040888963407u;
    return least + (int)((d->state >> 33) % (uint64_t)(most - least + 1));
}

static bool is_arc(const drawing *d, int i, int k) {
    return d->x->before[i * d->x->n + k];
}

/* Is i to k neither implied by other arcs nor makes it another arc implied? */
static bool may_tie(const drawing *d, int i, int k) {
    int n = d->x->n;
    if (d->after[i][k] || d->n_after[i] >= MOST_TIES || d->n_before[k] >= MOST_TIES) return false;
    for (int a = 0; a < n; a++)
        for (int b = 0; b < n; b++)
            if (is_arc(d, a, b) && (a == i || d->after[a][i]) && (b == k || d->after[k][b]))
                return false;
    return true;
}

static void tie(drawing *d, int i, int k) {
    int n = d->x->n;
    d->x->before[i * n + k] = true;
    d->n_after[i]++;
    d->n_before[k]++;
    d->n_arc++;
    for (int a = 0; a < n; a++)
        for (int b = 0; b < n; b++)
            if ((a == i || d->after[a][i]) && (b == k || d->after[k][b])) d->after[a][b] = true;
}

static void try_tie(drawing *d, int i, int k) {
    if (may_tie(d, i, k)) tie(d, i, k);
}

/* Everybody but the first and the last few has one before and one after it; then more until there
 * are enough. Arcs from the start and to the end of all are counted, not stated. */
static void draw_arcs(drawing *d, double complexity) {
    int n = d->x->n, wanted = (int)(complexity * (n + 2) + 0.5);
    for (int k = N_FREE_ENDS; k < n; k++)
        for (int turn = 0; turn < 50 && d->n_before[k] == 0; turn++)
            try_tie(d, draw(d, 0, k - 1), k);
    for (int i = n - N_FREE_ENDS - 1; i >= 0; i--)
        for (int turn = 0; turn < 50 && d->n_after[i] == 0; turn++)
            try_tie(d, i, draw(d, i + 1, n - 1));
    for (int turn = 0; turn < 4000; turn++) {
        int n_free = 0;
        for (int k = 0; k < n; k++) n_free += (d->n_before[k] == 0) + (d->n_after[k] == 0);
        if (d->n_arc + n_free >= wanted) return;
        int i = draw(d, 0, n - 2);
        try_tie(d, i, draw(d, i + 1, n - 1));
    }
}

static void draw_demands(drawing *d, double factor) {
    project *x = d->x;
    for (int k = 0; k < x->n; k++) {
        x->duration[k] = draw(d, 1, 10);
        int wanted = (int)(factor * PROJECT_LIMITS + 0.5), *demand = &x->demand[k * PROJECT_LIMITS];
        while (wanted > 0) {
            int r = draw(d, 0, PROJECT_LIMITS - 1);
            if (demand[r] > 0) continue;
            demand[r] = draw(d, 1, 10);
            wanted--;
        }
    }
}

/* Most of a limit that the schedule without limits has in use at once. */
static int peak_of(const project *x, int r) {
    int start[PROJECT_MOVES] = {0}, peak = 0;
    for (int k = 0; k < x->n; k++)
        for (int i = 0; i < k; i++)
            if (x->before[i * x->n + k] && start[i] + x->duration[i] > start[k])
                start[k] = start[i] + x->duration[i];
    for (int k = 0; k < x->n; k++) {
        int used = 0;
        for (int i = 0; i < x->n; i++)
            if (start[i] <= start[k] && start[i] + x->duration[i] > start[k])
                used += x->demand[i * PROJECT_LIMITS + r];
        peak = used > peak ? used : peak;
    }
    return peak;
}

void project_draw(project *x, const project_style *style, uint64_t seed) {
    drawing d = {.x = x, .state = seed * 2654435761u + 17u};
    memset(x, 0, sizeof *x);
    x->n = style->n;
    for (int i = 0; i < 5; i++) draw(&d, 0, 1);
    draw_arcs(&d, style->complexity);
    draw_demands(&d, style->factor);
    for (int r = 0; r < PROJECT_LIMITS; r++) {
        int least = 0, most = peak_of(x, r);
        for (int k = 0; k < x->n; k++)
            if (x->demand[k * PROJECT_LIMITS + r] > least)
                least = x->demand[k * PROJECT_LIMITS + r];
        x->capacity[r] = least + (int)(style->strength * (most - least) + 0.5);
    }
}

schedule_problem project_problem(const project *x) {
    return (schedule_problem){.n = x->n,
                              .n_limit = PROJECT_LIMITS,
                              .duration_s = x->duration,
                              .demand = x->demand,
                              .capacity = x->capacity,
                              .before = x->before,
                              .apart = x->apart};
}

const char *project_broken_rule(const project *x, const int *start_s, int total_s) {
    int last_s = 0;
    for (int i = 0; i < x->n; i++) {
        int end_s = start_s[i] + x->duration[i], used[PROJECT_LIMITS] = {0};
        if (start_s[i] < 0) return "a start before all";
        last_s = end_s > last_s ? end_s : last_s;
        for (int k = 0; k < x->n; k++) {
            if (x->before[i * x->n + k] && start_s[k] < end_s) return "an order";
            bool runs = start_s[k] <= start_s[i] && start_s[k] + x->duration[k] > start_s[i];
            for (int r = 0; r < PROJECT_LIMITS && runs; r++)
                used[r] += x->demand[k * PROJECT_LIMITS + r];
        }
        for (int r = 0; r < PROJECT_LIMITS; r++)
            if (used[r] > x->capacity[r]) return "a limit";
    }
    return last_s == total_s ? NULL : "the total";
}
