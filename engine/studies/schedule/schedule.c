/* Branch and bound over the precedence tree (Patterson, Slowinski, Talbot and Weglarz, An algorithm
 * for a general class of precedence and resource constrained scheduling problems, 1989, from
 * memory): moves are started one after another, never before the one started last, each as early as
 * the running ones allow; every left-justified schedule is a path of the tree, so the least total
 * is on one. Pruned by tails, by the work left for each limit, and by the order of equal moves.
 * Before it, list schedules under several priorities, each justified, and then near the best of
 * them, give a first answer. */
#include "studies/schedule/line.h"

#include <string.h>

enum { N_SAMPLE = 150, N_NEAR = 150 };

typedef struct search {
    const schedule_problem *p;
    schedule_line line;
    int *order, *head_s, *tail_s, *est_s; /* [n] */
    int *best_start_s, *best_trip_s;      /* [n], [n_trip] */
    int *scratch;                         /* [3][n] and [n_trip] */
    bool *after;                          /* [n][n] */
    int *twin;                            /* [n] an equal move of lower index, or -1 */
    int64_t *left;                        /* [n_limit + 1] work of the moves not yet started */
    int best_s, bound_s, n_started;
    long n_node, node_limit;
} search;

static bool has_started(const search *s, int k) {
    return s->line.start_s[k] >= 0;
}

/* Have all started that come before k? Then *ready_s is when they have ended. */
static bool is_eligible(const search *s, int k, int *ready_s) {
    const schedule_links *tie = &s->line.earlier;
    *ready_s = 0;
    if (has_started(s, k)) return false;
    for (int at = tie->first[k]; at < tie->first[k + 1]; at++) {
        if (!has_started(s, tie->list[at])) return false;
        if (line_end(&s->line, tie->list[at]) > *ready_s)
            *ready_s = line_end(&s->line, tie->list[at]);
    }
    return true;
}

static int tail_bound(search *s, int from_s) {
    const schedule_problem *p = s->p;
    const schedule_links *tie = &s->line.earlier;
    int bound = 0;
    for (int place = 0; place < p->n; place++) {
        int k = s->order[place];
        s->est_s[k] = has_started(s, k) ? s->line.start_s[k] : from_s;
        for (int at = tie->first[k]; at < tie->first[k + 1] && !has_started(s, k); at++) {
            int i = tie->list[at];
            if (s->est_s[i] + p->duration_s[i] > s->est_s[k])
                s->est_s[k] = s->est_s[i] + p->duration_s[i];
        }
        if (s->est_s[k] + s->tail_s[k] > bound) bound = s->est_s[k] + s->tail_s[k];
    }
    return bound;
}

/* Work not yet started, and what the running moves have still to do; their trips may be over. */
static int work_bound(const search *s, int from_s) {
    const schedule_problem *p = s->p;
    int bound = 0;
    for (int r = 0; r <= p->n_limit; r++) {
        int64_t work = s->left[r];
        for (int i = 0; i < p->n && r < p->n_limit; i++)
            if (has_started(s, i) && line_end(&s->line, i) > from_s)
                work += (int64_t)(line_end(&s->line, i) - from_s) * p->demand[i * p->n_limit + r];
        int end_s = from_s + schedule_time_of(p, r, work);
        if (end_s > bound) bound = end_s;
    }
    return bound;
}

static void put(search *s, int k, int start_s) {
    line_put(&s->line, k, start_s);
    s->n_started++;
    for (int r = 0; r <= s->p->n_limit; r++) s->left[r] -= schedule_work(s->p, k, r);
}

static void take_back(search *s, int k) {
    line_take(&s->line, k);
    s->n_started--;
    for (int r = 0; r <= s->p->n_limit; r++) s->left[r] += schedule_work(s->p, k, r);
}

static void keep_if_better(search *s) {
    int total_s = line_total(&s->line);
    if (total_s >= s->best_s) return;
    s->best_s = total_s;
    memcpy(s->best_start_s, s->line.start_s, (size_t)s->p->n * sizeof(int));
    memcpy(s->best_trip_s, s->line.trip_start_s, (size_t)s->line.first_trip[s->p->n] * sizeof(int));
}

/* The eligible move of longest tail after `last` in that order, or -1. */
static int next_choice(const search *s, int last) {
    int best = -1, ready_s;
    for (int k = 0; k < s->p->n; k++) {
        bool is_after = last < 0 || s->tail_s[k] < s->tail_s[last] ||
                        (s->tail_s[k] == s->tail_s[last] && k > last);
        if (!is_after || !is_eligible(s, k, &ready_s)) continue;
        if (s->twin[k] >= 0 && !has_started(s, s->twin[k])) continue;
        if (best < 0 || s->tail_s[k] > s->tail_s[best]) best = k;
    }
    return best;
}

static void branch(search *s, int last_start_s) {
    int ready_s;
    if (s->n_started == s->p->n) {
        keep_if_better(s);
        return;
    }
    for (int k = next_choice(s, -1); k >= 0; k = next_choice(s, k)) {
        if (s->n_node >= s->node_limit || s->best_s <= s->bound_s) return;
        s->n_node++;
        is_eligible(s, k, &ready_s);
        int start_s = line_earliest(&s->line, k, ready_s > last_start_s ? ready_s : last_start_s);
        put(s, k, start_s);
        if (tail_bound(s, start_s) < s->best_s && work_bound(s, start_s) < s->best_s)
            branch(s, start_s);
        take_back(s, k);
    }
}

/* 16 bits of a linear congruential generator (Knuth's MMIX constants, from memory): the same draws
 * on every machine. */
static int draw(uint64_t *state) {
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (int)(*state >> 48);
}

/* Starts moves in time, the eligible one of greatest weight first among those that start soonest.
 */
static void list_schedule(search *s, const double *weight) {
    int last_s = 0;
    while (s->n_started < s->p->n) {
        int best = -1, best_start_s = 0, ready_s;
        for (int k = 0; k < s->p->n; k++) {
            if (!is_eligible(s, k, &ready_s)) continue;
            int start_s = line_earliest(&s->line, k, ready_s > last_s ? ready_s : last_s);
            bool is_better = best < 0 || start_s < best_start_s ||
                             (start_s == best_start_s && weight[k] > weight[best]);
            if (!is_better) continue;
            best = k;
            best_start_s = start_s;
        }
        put(s, best, best_start_s);
        last_s = best_start_s;
    }
    schedule_justify(&s->line, s->scratch);
    keep_if_better(s);
    for (int i = 0; i < s->p->n; i++) take_back(s, i);
}

static void sample(search *s, double *weight) {
    uint64_t state = 1;
    for (int round = 0; round < N_SAMPLE && s->best_s > s->bound_s; round++) {
        for (int k = 0; k < s->p->n; k++) {
            double chance = 0.5 + draw(&state) / 65536.0;
            double crew = 1.0 + (round % 3) * s->p->demand[k * s->p->n_limit];
            weight[k] = s->tail_s[k] * crew * (round < 3 ? 1.0 : chance);
        }
        list_schedule(s, weight);
    }
}

/* Schedules near the best one: its order of starts, shaken more or less. */
static void sample_near(search *s, double *weight) {
    uint64_t state = 2;
    for (int round = 0; round < N_NEAR && s->best_s > s->bound_s; round++) {
        double reach = s->best_s * (0.02 + 0.04 * (round % 8));
        for (int k = 0; k < s->p->n; k++)
            weight[k] = reach * draw(&state) / 65536.0 - s->best_start_s[k];
        list_schedule(s, weight);
    }
}

static bool are_equal(const schedule_problem *p, int a, int b) {
    int n = p->n;
    if (p->duration_s[a] != p->duration_s[b]) return false;
    if (schedule_trips(p, a) != schedule_trips(p, b)) return false;
    for (int r = 0; r < p->n_limit; r++)
        if (p->demand[a * p->n_limit + r] != p->demand[b * p->n_limit + r]) return false;
    if (p->before[a * n + b] || p->before[b * n + a]) return false;
    for (int i = 0; i < n; i++) {
        if (i == a || i == b) continue;
        if (p->before[i * n + a] != p->before[i * n + b] ||
            p->before[a * n + i] != p->before[b * n + i] ||
            p->apart[i * n + a] != p->apart[i * n + b])
            return false;
    }
    return true;
}

static void find_twins(search *s) {
    for (int k = 0; k < s->p->n; k++) {
        s->twin[k] = -1;
        for (int i = 0; i < k; i++)
            if (are_equal(s->p, i, k)) s->twin[k] = i;
    }
}

static void swap(int *a, int *b) {
    int held = *a;
    *a = *b;
    *b = held;
}

/* Equal moves may change places; people expect the first one first. */
static void sort_twins(const search *s) {
    const int *first = s->line.first_trip;
    for (int k = 0; k < s->p->n; k++)
        for (int i = 0; i < k; i++) {
            if (s->best_start_s[i] <= s->best_start_s[k] || !are_equal(s->p, i, k)) continue;
            swap(&s->best_start_s[i], &s->best_start_s[k]);
            for (int trip = 0; trip < first[k + 1] - first[k]; trip++)
                swap(&s->best_trip_s[first[i] + trip], &s->best_trip_s[first[k] + trip]);
        }
}

static bool open_search(search *s, gradin_arena *arena, const schedule_problem *p) {
    size_t n = (size_t)p->n;
    int **array[] = {&s->order, &s->head_s, &s->tail_s, &s->est_s, &s->best_start_s, &s->twin};
    s->p = p;
    if (!line_open(arena, p, &s->line)) return false;
    size_t n_trip = (size_t)s->line.first_trip[p->n];
    for (size_t i = 0; i < sizeof array / sizeof *array; i++) {
        *array[i] = gradin_arena_alloc(arena, n, sizeof(int));
        if (!*array[i]) return false;
    }
    s->best_trip_s = gradin_arena_alloc(arena, n_trip + 1, sizeof(int));
    s->scratch = gradin_arena_alloc(arena, 3 * n + n_trip, sizeof(int));
    s->after = gradin_arena_alloc(arena, n * n, sizeof *s->after);
    s->left = gradin_arena_alloc(arena, (size_t)p->n_limit + 1, sizeof *s->left);
    if (!s->best_trip_s || !s->scratch || !s->after || !s->left) return false;
    for (int i = 0; i < p->n; i++)
        for (int r = 0; r <= p->n_limit; r++) s->left[r] += schedule_work(p, i, r);
    return true;
}

/* Heads, tails and the lower bound; the longest chain. */
static int find_bounds(search *s) {
    const schedule_problem *p = s->p;
    int chain_s = 0;
    schedule_heads(p, s->order, NULL, s->head_s);
    for (int i = 0; i < p->n; i++)
        if (s->head_s[i] + p->duration_s[i] > chain_s) chain_s = s->head_s[i] + p->duration_s[i];
    schedule_close(p, s->order, s->after);
    schedule_heads(p, s->order, s->after, s->head_s);
    schedule_tails(p, s->order, s->after, s->tail_s);
    s->bound_s = schedule_lower_bound(p, s->head_s, s->tail_s, s->est_s);
    return chain_s;
}

/* The tree holds a least schedule when only cumulative limits and pairs bind. Where the carrier has
 * kept a move waiting, another sequence of trips might not have: no proof then. */
static bool is_proven(const search *s) {
    return s->best_s <= s->bound_s || (s->n_node < s->node_limit && !s->line.is_carrier_tight);
}

gradin_status schedule_solve(gradin_arena *arena, const schedule_problem *p, long node_limit,
                             schedule_result *result, gradin_error *error) {
    search s = {.best_s = INT32_MAX, .node_limit = node_limit};
    double *weight = gradin_arena_alloc(arena, (size_t)p->n, sizeof *weight);
    int stuck = -1;
    if (!weight || !open_search(&s, arena, p))
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a schedule");
    if (!schedule_order(p, s.order, &stuck))
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL, "moves wait for each other");
    int chain_s = find_bounds(&s);
    find_twins(&s);
    sample(&s, weight);
    sample_near(&s, weight);
    s.line.is_carrier_tight = false;
    branch(&s, 0);
    sort_twins(&s);
    *result = (schedule_result){.start_s = s.best_start_s,
                                .trip_start_s = p->n_trip ? s.best_trip_s : NULL,
                                .total_s = p->n > 0 ? s.best_s : 0,
                                .lower_bound_s = s.bound_s,
                                .longest_chain_s = chain_s,
                                .n_node = s.n_node};
    if (is_proven(&s)) result->lower_bound_s = result->total_s;
    return GRADIN_OK;
}
