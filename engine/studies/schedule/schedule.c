/* Branch and bound over the precedence tree (Patterson, Slowinski, Talbot and Weglarz, An algorithm
 * for a general class of precedence and resource constrained scheduling problems, 1989, from
 * memory): moves are started one after another, never before the one started last, each as early as
 * the running ones allow; every left-justified schedule is a path of the tree, so the least total
 * is on one. Pruned by tails, by the work left for each limit, and by the order of equal moves.
 * Before it, list schedules under several priorities, each justified, and then near the best of
 * them, give a first answer. */
#include "studies/schedule/schedule.h"

#include <string.h>

enum { N_SAMPLE = 150, N_NEAR = 150 };

typedef struct search {
    const schedule_problem *p;
    int *order, *head_s, *tail_s, *est_s; /* [n] */
    int *start_s, *best_start_s;          /* [n]; start -1 when not yet started */
    int *trial_s, *scratch;               /* [n], [2][n] */
    bool *after;                          /* [n][n] */
    int *twin;                            /* [n] an equal move of lower index, or -1 */
    int64_t left[SCHEDULE_N_LIMIT];       /* work of the moves not yet started */
    int best_s, bound_s, n_started;
    long n_node, node_limit;
} search;

static int end_of(const search *s, int i) {
    return s->start_s[i] + s->p->duration_s[i];
}

/* May k start at t beside the moves running then? All others started no later than t. */
static bool fits_at(const search *s, int k, int t_s) {
    const schedule_problem *p = s->p;
    int used[SCHEDULE_N_LIMIT] = {0};
    for (int i = 0; i < p->n; i++) {
        if (s->start_s[i] < 0 || end_of(s, i) <= t_s) continue;
        if (p->apart[i * p->n + k]) return false;
        for (int r = 0; r < SCHEDULE_N_LIMIT; r++) used[r] += p->demand[i][r];
    }
    for (int r = 0; r < SCHEDULE_N_LIMIT; r++)
        if (used[r] + p->demand[k][r] > p->capacity[r]) return false;
    return true;
}

/* Earliest start of k not before from_s: then, or at the end of a running move. */
static int earliest_s(const search *s, int k, int from_s) {
    int t_s = from_s;
    while (!fits_at(s, k, t_s)) {
        int next_s = -1;
        for (int i = 0; i < s->p->n; i++)
            if (s->start_s[i] >= 0 && end_of(s, i) > t_s && (next_s < 0 || end_of(s, i) < next_s))
                next_s = end_of(s, i);
        t_s = next_s; /* something runs, or k alone would fit */
    }
    return t_s;
}

static bool is_eligible(const search *s, int k, int *ready_s) {
    const schedule_problem *p = s->p;
    *ready_s = 0;
    if (s->start_s[k] >= 0) return false;
    for (int i = 0; i < p->n; i++) {
        if (!p->before[i * p->n + k]) continue;
        if (s->start_s[i] < 0) return false;
        if (end_of(s, i) > *ready_s) *ready_s = end_of(s, i);
    }
    return true;
}

static int tail_bound(search *s, int from_s) {
    const schedule_problem *p = s->p;
    int bound = 0;
    for (int at = 0; at < p->n; at++) {
        int k = s->order[at];
        s->est_s[k] = s->start_s[k] >= 0 ? s->start_s[k] : from_s;
        for (int i = 0; i < p->n && s->start_s[k] < 0; i++)
            if (p->before[i * p->n + k] && s->est_s[i] + p->duration_s[i] > s->est_s[k])
                s->est_s[k] = s->est_s[i] + p->duration_s[i];
        if (s->est_s[k] + s->tail_s[k] > bound) bound = s->est_s[k] + s->tail_s[k];
    }
    return bound;
}

static int work_bound(const search *s, int from_s) {
    const schedule_problem *p = s->p;
    int bound = 0;
    for (int r = 0; r < SCHEDULE_N_LIMIT; r++) {
        int64_t work = s->left[r];
        if (p->capacity[r] <= 0) continue;
        for (int i = 0; i < p->n; i++)
            if (s->start_s[i] >= 0 && end_of(s, i) > from_s)
                work += (int64_t)(end_of(s, i) - from_s) * p->demand[i][r];
        int end_s = from_s + (int)((work + p->capacity[r] - 1) / p->capacity[r]);
        if (end_s > bound) bound = end_s;
    }
    return bound;
}

static void put(search *s, int k, int start_s) {
    s->start_s[k] = start_s;
    s->n_started++;
    for (int r = 0; r < SCHEDULE_N_LIMIT; r++)
        s->left[r] -= (int64_t)s->p->duration_s[k] * s->p->demand[k][r];
}

static void take_back(search *s, int k) {
    s->start_s[k] = -1;
    s->n_started--;
    for (int r = 0; r < SCHEDULE_N_LIMIT; r++)
        s->left[r] += (int64_t)s->p->duration_s[k] * s->p->demand[k][r];
}

static void keep_if_better(search *s) {
    int total_s = 0;
    for (int i = 0; i < s->p->n; i++)
        if (end_of(s, i) > total_s) total_s = end_of(s, i);
    if (total_s >= s->best_s) return;
    s->best_s = total_s;
    memcpy(s->best_start_s, s->start_s, (size_t)s->p->n * sizeof *s->start_s);
}

/* The eligible move of longest tail after `last` in that order, or -1. */
static int next_choice(const search *s, int last) {
    int best = -1, ready_s;
    for (int k = 0; k < s->p->n; k++) {
        bool is_after = last < 0 || s->tail_s[k] < s->tail_s[last] ||
                        (s->tail_s[k] == s->tail_s[last] && k > last);
        if (!is_after || !is_eligible(s, k, &ready_s)) continue;
        if (s->twin[k] >= 0 && s->start_s[s->twin[k]] < 0) continue;
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
        int start_s = earliest_s(s, k, ready_s > last_start_s ? ready_s : last_start_s);
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
            int start_s = earliest_s(s, k, ready_s > last_s ? ready_s : last_s);
            bool is_better = best < 0 || start_s < best_start_s ||
                             (start_s == best_start_s && weight[k] > weight[best]);
            if (!is_better) continue;
            best = k;
            best_start_s = start_s;
        }
        put(s, best, best_start_s);
        last_s = best_start_s;
    }
    memcpy(s->trial_s, s->start_s, (size_t)s->p->n * sizeof *s->start_s);
    for (int i = 0; i < s->p->n; i++) take_back(s, i);
    int total_s = schedule_justify(s->p, s->trial_s, s->scratch);
    if (total_s >= s->best_s) return;
    s->best_s = total_s;
    memcpy(s->best_start_s, s->trial_s, (size_t)s->p->n * sizeof *s->trial_s);
}

static void sample(search *s, double *weight) {
    uint64_t state = 1;
    for (int round = 0; round < N_SAMPLE && s->best_s > s->bound_s; round++) {
        for (int k = 0; k < s->p->n; k++) {
            double chance = 0.5 + draw(&state) / 65536.0;
            double crew = 1.0 + (round % 3) * s->p->demand[k][0];
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
    if (memcmp(p->demand[a], p->demand[b], sizeof p->demand[a]) != 0) return false;
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

/* Equal moves may change places; people expect the first one first. */
static void sort_twins(const schedule_problem *p, int *start_s) {
    for (int k = 0; k < p->n; k++)
        for (int i = 0; i < k; i++) {
            if (start_s[i] <= start_s[k] || !are_equal(p, i, k)) continue;
            int first_s = start_s[k];
            start_s[k] = start_s[i];
            start_s[i] = first_s;
        }
}

static bool open_search(search *s, gradin_arena *arena, const schedule_problem *p) {
    size_t n = (size_t)p->n;
    int **array[] = {&s->order,   &s->head_s,       &s->tail_s, &s->est_s,
                     &s->start_s, &s->best_start_s, &s->twin,   &s->trial_s};
    s->p = p;
    for (size_t i = 0; i < sizeof array / sizeof *array; i++) {
        *array[i] = gradin_arena_alloc(arena, n, sizeof(int));
        if (!*array[i]) return false;
    }
    s->scratch = gradin_arena_alloc(arena, 2 * n, sizeof *s->scratch);
    s->after = gradin_arena_alloc(arena, n * n, sizeof *s->after);
    if (!s->scratch || !s->after) return false;
    for (int i = 0; i < p->n; i++) {
        s->start_s[i] = -1;
        for (int r = 0; r < SCHEDULE_N_LIMIT; r++)
            s->left[r] += (int64_t)p->duration_s[i] * p->demand[i][r];
    }
    return true;
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
    int chain_s = 0;
    schedule_heads(p, s.order, NULL, s.head_s);
    for (int i = 0; i < p->n; i++)
        if (s.head_s[i] + p->duration_s[i] > chain_s) chain_s = s.head_s[i] + p->duration_s[i];
    schedule_close(p, s.order, s.after);
    schedule_heads(p, s.order, s.after, s.head_s);
    schedule_tails(p, s.order, s.after, s.tail_s);
    s.bound_s = schedule_lower_bound(p, s.head_s, s.tail_s, s.est_s);
    find_twins(&s);
    sample(&s, weight);
    sample_near(&s, weight);
    branch(&s, 0);
    sort_twins(p, s.best_start_s);
    *result = (schedule_result){.start_s = s.best_start_s,
                                .total_s = p->n > 0 ? s.best_s : 0,
                                .lower_bound_s = s.bound_s,
                                .longest_chain_s = chain_s,
                                .n_node = s.n_node};
    if (s.n_node < node_limit) result->lower_bound_s = result->total_s;
    return GRADIN_OK;
}
