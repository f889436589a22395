/* Branch and bound over the precedence tree (Patterson, Slowinski, Talbot and Weglarz, An algorithm
 * for a general class of precedence and resource constrained scheduling problems, 1989, from
 * memory): moves are started one after another, never before the one started last, each as early as
 * the running ones allow; every left-justified schedule is a path of the tree, so the least total
 * is on one. Pruned by tails, by the work left for each limit, by the order of equal moves and by
 * what the search has been at. Before it, list schedules under several priorities, each justified,
 * and then schedules bred from them, give a first answer; a search that learns (prove.c) closes the
 * gap to the bound as far as it can. */
#include "studies/schedule/energy.h"
#include "studies/schedule/improve.h"
#include "studies/schedule/prove.h"
#include "studies/schedule/seen.h"

#include <string.h>

enum { N_SAMPLE = 150, N_NEAR = 150, N_FIRST = 24, PUTS_A_NODE = 10, PUTS_A_MOVE = 1500 };

typedef struct choice {
    int move, start_s;
} choice;

typedef struct search {
    const schedule_problem *p;
    schedule_line line;
    schedule_energy energy;
    schedule_seen seen;
    bool is_compared;                     /* with what the search has been at */
    int *order, *head_s, *tail_s, *est_s; /* [n] */
    int *after_s, *by_after, *place; /* [n] least time after the end of each; by that; in order */
    int *first_s, n_first;           /* [N_FIRST][n] schedules to breed from */
    int *best_start_s, *best_trip_s; /* [n], [n_trip] */
    int *scratch;                    /* [3][n] and [n_trip] */
    bool *after;                     /* [n][n] */
    choice *choices;                 /* [n][n] at each depth */
    int *twin;                       /* [n] an equal move of lower index, or -1 */
    int best_s, bound_s, n_started;
    long n_node, node_limit;
    const schedule_budget *budget;
    long n_told, n_bred, n_proof_percent, n_choice;
} search;

static long breed_puts(const search *s) {
    return s->node_limit * PUTS_A_NODE + (long)PUTS_A_MOVE * s->p->n;
}

/* Half of the effort breeds, the rest proves and goes through the tree. */
static void tell(search *s) {
    if (!s->budget->tell) return;
    long put = s->n_bred * PUTS_A_SCHEDULE * s->p->n, puts = breed_puts(s);
    long bred = puts > 0 ? 50 * (put < puts ? put : puts) / puts : 50;
    long done =
        bred + s->n_proof_percent + (s->node_limit > 0 ? 25 * s->n_node / s->node_limit : 0);
    if (done <= s->n_told) return;
    s->n_told = done;
    s->budget->tell(s->budget->user, (int)done, 100);
}

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

static void put(search *s, int k, int start_s) {
    line_put(&s->line, k, start_s);
    s->n_started++;
}

static void take_back(search *s, int k) {
    line_take(&s->line, k);
    s->n_started--;
}

static void keep_if_better(search *s) {
    int total_s = line_total(&s->line);
    if (total_s >= s->best_s) return;
    s->best_s = total_s;
    memcpy(s->best_start_s, s->line.start_s, (size_t)s->p->n * sizeof(int));
    memcpy(s->best_trip_s, s->line.trip_start_s, (size_t)s->line.first_trip[s->p->n] * sizeof(int));
}

static bool may_be_better(search *s, int now_s) {
    return tail_bound(s, now_s) < s->best_s &&
           energy_passes(&s->energy, &s->line, now_s, s->best_s - 1, s->after_s, s->by_after) &&
           !(s->is_compared && seen_is_dominated(&s->seen, &s->line, now_s));
}

/* Longest tail first. */
static void insert(search *s, choice *list, int n, choice new) {
    int at = n;
    for (; at > 0 && s->tail_s[new.move] > s->tail_s[list[at - 1].move]; at--)
        list[at] = list[at - 1];
    list[at] = new;
}

/* The moves that may come next. One that could have started before the last one makes a schedule
 * that is not left-justified; so does one that starts when another could have begun and ended. */
static int list_choices(search *s, int last_start_s, choice *list) {
    int n = 0, n_kept = 0, first_end_s = INT32_MAX, ready_s;
    for (int k = 0; k < s->p->n; k++) {
        if (!is_eligible(s, k, &ready_s)) continue;
        if (s->twin[k] >= 0 && !has_started(s, s->twin[k])) continue;
        choice c = {k, line_earliest(&s->line, k, ready_s)};
        int end_s = c.start_s + (s->p->duration_s[k] > 0 ? s->p->duration_s[k] : 1);
        if (end_s < first_end_s) first_end_s = end_s;
        if (c.start_s >= last_start_s) insert(s, list, n++, c);
    }
    for (int i = 0; i < n; i++)
        if (list[i].start_s < first_end_s) list[n_kept++] = list[i];
    return first_end_s <= last_start_s ? 0 : n_kept;
}

static void branch(search *s, int last_start_s) {
    choice *list = s->choices + (size_t)s->n_started * (size_t)s->p->n;
    if (s->n_started == s->p->n) {
        keep_if_better(s);
        return;
    }
    int n = list_choices(s, last_start_s, list);
    for (int i = 0; i < n; i++) {
        if (s->n_node >= s->node_limit || s->best_s <= s->bound_s) return;
        s->n_node++;
        tell(s);
        line_earliest(&s->line, list[i].move, list[i].start_s); /* its trips */
        put(s, list[i].move, list[i].start_s);
        if (may_be_better(s, list[i].start_s)) branch(s, list[i].start_s);
        take_back(s, list[i].move);
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
    if (s->n_first < N_FIRST)
        memcpy(s->first_s + (size_t)s->n_first++ * (size_t)s->p->n, s->line.start_s,
               (size_t)s->p->n * sizeof(int));
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

static bool keep_bred(void *context, int total_s) {
    search *s = context;
    (void)total_s;
    s->n_bred++;
    tell(s);
    keep_if_better(s);
    return s->best_s > s->bound_s;
}

/* Half of the effort; the tree has the other. */
static bool breed(search *s, gradin_arena *arena) {
    schedule_effort effort = {.n_put = breed_puts(s),
                              .place = s->place,
                              .tail_s = s->tail_s,
                              .first_s = s->first_s,
                              .n_first = s->n_first,
                              .scratch = s->scratch};
    if (s->best_s <= s->bound_s) return true;
    return schedule_improve(arena, &effort, &s->line, keep_bred, s);
}

static bool open_search(search *s, gradin_arena *arena, const schedule_problem *p) {
    size_t n = (size_t)p->n;
    int **array[] = {&s->order,   &s->head_s,   &s->tail_s, &s->est_s, &s->best_start_s,
                     &s->after_s, &s->by_after, &s->place,  &s->twin};
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
    s->choices = gradin_arena_alloc(arena, n * n + 1, sizeof *s->choices);
    s->first_s = gradin_arena_alloc(arena, N_FIRST * n, sizeof(int));
    s->is_compared = n_trip == 0 && n <= 64 * SEEN_WORDS;
    return s->best_trip_s && s->scratch && s->after && s->first_s && s->choices &&
           energy_open(arena, p, &s->energy) &&
           (!s->is_compared || seen_open(arena, p->n, s->node_limit, &s->seen));
}

static void sort_by_after(search *s) {
    for (int i = 0; i < s->p->n; i++) {
        int k = i;
        s->after_s[i] = s->tail_s[i] - s->p->duration_s[i];
        for (; k > 0 && s->after_s[i] > s->after_s[s->by_after[k - 1]]; k--)
            s->by_after[k] = s->by_after[k - 1];
        s->by_after[k] = i;
        s->place[s->order[i]] = i;
    }
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
    sort_by_after(s);
    int energy_s = energy_bound(&s->energy, s->head_s, s->after_s, s->by_after);
    if (energy_s > s->bound_s) s->bound_s = energy_s;
    return chain_s;
}

/* The tree holds a least schedule when only cumulative limits and pairs bind. Where the carrier has
 * kept a move waiting, another sequence of trips might not have: no proof then. */
static bool is_proven(const search *s) {
    return s->best_s <= s->bound_s || (s->n_node < s->node_limit && !s->line.is_carrier_tight);
}

/* The tree goes on where the proof leaves a gap, so half of what breeding leaves is for each. */
static void tell_proof(void *user, long n_done, long n_work) {
    search *s = user;
    if (s->n_bred == 0) return; /* a short one, before that */
    s->n_proof_percent = n_done < n_work ? 25 * n_done / n_work : 25;
    tell(s);
}

/* Whoever finds a schedule by its bounds may leave moves later than they need be. */
static void settle(search *s) {
    schedule_put_all(&s->line, s->best_start_s, s->best_trip_s);
    int total_s = schedule_justify(&s->line, s->scratch);
    if (total_s == s->best_s) s->best_s++;
    keep_if_better(s);
    line_clear(&s->line);
}

static bool close_gap(search *s, bool is_short) {
    int before_s = s->best_s;
    if (s->best_s <= s->bound_s || s->node_limit <= 0) return true;
    prove_case c = {.p = s->p,
                    .head_s = s->head_s,
                    .tail_s = s->tail_s,
                    .after = s->after,
                    .twin = s->twin,
                    .first_trip = s->line.first_trip,
                    .start_s = s->best_start_s,
                    .trip_start_s = s->best_trip_s,
                    .best_s = s->best_s,
                    .bound_s = s->bound_s,
                    .tell = tell_proof,
                    .user = s,
                    .n_node = s->node_limit,
                    .is_short = is_short};
    if (!prove(&c)) return false;
    s->best_s = c.best_s;
    s->bound_s = c.bound_s;
    s->n_choice += c.n_choice;
    if (s->best_s < before_s) settle(s);
    return true;
}

/* All that may spare the tree; false without memory. */
static bool close_before_tree(search *s, gradin_arena *arena) {
    if (s->budget->is_tree_only) return true;
    return close_gap(s, true) && breed(s, arena) && close_gap(s, false);
}

static gradin_status no_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a schedule");
}

gradin_status schedule_solve(gradin_arena *arena, const schedule_problem *stated,
                             const schedule_budget *budget, schedule_result *result,
                             gradin_error *error) {
    search s = {.best_s = INT32_MAX, .node_limit = budget->n_node, .budget = budget};
    schedule_problem rounded = *stated, *p = &rounded;
    double *weight = gradin_arena_alloc(arena, (size_t)p->n, sizeof *weight);
    int stuck = -1;
    if (!weight || !energy_round(arena, p) || !open_search(&s, arena, p)) return no_memory(error);
    if (!schedule_order(p, s.order, &stuck))
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL, "moves wait for each other");
    int chain_s = find_bounds(&s);
    schedule_find_twins(p, s.twin);
    sample(&s, weight);
    sample_near(&s, weight);
    if (!close_before_tree(&s, arena)) return no_memory(error);
    s.line.is_carrier_tight = false;
    branch(&s, 0);
    schedule_sort_twins(&s.line, s.best_start_s, s.best_trip_s);
    *result = (schedule_result){.start_s = s.best_start_s,
                                .trip_start_s = p->n_trip ? s.best_trip_s : NULL,
                                .total_s = p->n > 0 ? s.best_s : 0,
                                .lower_bound_s = s.bound_s,
                                .longest_chain_s = chain_s,
                                .n_node = s.n_node + s.n_choice};
    if (is_proven(&s)) result->lower_bound_s = result->total_s;
    return GRADIN_OK;
}
