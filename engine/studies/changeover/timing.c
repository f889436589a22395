/* From moves and their order to a schedule of what they share, and back: when each starts, what it
 * waited for, the critical path, and the most in use at once. */
#include "studies/changeover/changeover.h"

static int watts(double power_kw) {
    return (int)ceil(fmin(power_kw * 1000.0, 1e9) - 1e-6);
}

static void fill_capacity(const changeover *c, int *capacity) {
    capacity[LIMIT_CREW] = c->a->crew;
    capacity[LIMIT_WATTS] = watts(c->a->power_kw);
    for (int i = 0; i < c->a->n_machine; i++)
        if (c->a->machine[i].group >= 0)
            capacity[LIMIT_GRID + c->a->machine[i].group] = c->a->machine[i].drive.at_once;
}

static void fill_demand(const changeover *c, int move, int *demand) {
    const move_detail *w = &c->detail[move];
    demand[LIMIT_CREW] = c->move[move].crew;
    demand[LIMIT_WATTS] = watts(c->move[move].power_kw);
    if (w->together > 0) demand[LIMIT_GRID + c->a->machine[w->machine[0]].group] = w->together;
}

bool changeover_problem(changeover *c, schedule_problem *p) {
    size_t n = (size_t)c->n_move, n_limit = (size_t)c->n_limit;
    int *duration_s = gradin_arena_alloc(c->arena, n, sizeof *duration_s);
    int *demand = gradin_arena_alloc(c->arena, n * n_limit, sizeof *demand);
    int *limit = gradin_arena_alloc(c->arena, 2 * n_limit, sizeof *limit);
    int *n_trip = gradin_arena_alloc(c->arena, n, sizeof *n_trip);
    if (!duration_s || !demand || !limit || !n_trip) return false;
    fill_capacity(c, limit);
    for (int i = 0; i < c->n_move; i++) {
        duration_s[i] = c->move[i].duration_s;
        n_trip[i] = c->detail[i].n_trip;
        fill_demand(c, i, demand + (size_t)i * n_limit);
    }
    *p = (schedule_problem){.n = c->n_move,
                            .n_limit = c->n_limit,
                            .duration_s = duration_s,
                            .demand = demand,
                            .capacity = limit,
                            .before = c->before,
                            .apart = c->apart};
    if (!c->a->store) return true;
    int *trip_demand = limit + n_limit;
    trip_demand[LIMIT_CREW] = c->a->store->drive.crew;
    trip_demand[LIMIT_WATTS] = watts(c->a->store->drive.power_kw);
    p->n_trip = n_trip;
    p->trip_s = c->trip_s;
    p->trip_demand = trip_demand;
    return true;
}

static int end_of(const gradin_move *m) {
    return m->end_s;
}

/* Does a trip for m begin, or m itself, when one for o ends? */
static bool waits_for_trip(const changeover *c, const gradin_move *m, const gradin_move *o) {
    for (int i = 0; i < o->n_trip; i++) {
        int end_s = o->trip_start_s[i] + c->trip_s;
        if (end_s == m->start_s) return true;
        for (int k = 0; k < m->n_trip; k++)
            if (end_s == m->trip_start_s[k]) return true;
    }
    return false;
}

/* A move that waits for no other's end waits for a trip of the store lift. */
static int find_trip_holder(const changeover *c, int k) {
    const gradin_move *m = &c->move[k];
    for (int i = 0; i < c->n_move; i++)
        if (i != k && c->move[i].start_s <= m->start_s && end_of(&c->move[i]) > m->start_s &&
            waits_for_trip(c, m, &c->move[i]))
            return i;
    return -1;
}

static gradin_move_cause cause_of(const changeover *c, int i, int k) {
    return changeover_is_before(c, i, k) ? GRADIN_STARTS_AFTER
           : c->apart[i * c->n_move + k] ? GRADIN_STARTS_APART
                                         : GRADIN_STARTS_LIMITED;
}

void changeover_set_cause(changeover *c, int i, int k) {
    gradin_move *m = &c->move[k];
    m->waits_for = i;
    m->cause = cause_of(c, i, k);
    m->rule = m->cause == GRADIN_STARTS_LIMITED ? NULL : c->rule[i * c->n_move + k];
}

/* Of the moves that end at a time the one that a move waited for: one that must come before it, one
 * that may not run beside it, or one that held what both share. */
static void find_holder(changeover *c, int k, int end_s) {
    gradin_move *m = &c->move[k];
    for (int i = 0; i < c->n_move; i++) {
        if (i == k || end_of(&c->move[i]) != end_s) continue;
        if (m->waits_for < 0 || cause_of(c, i, k) < m->cause) changeover_set_cause(c, i, k);
    }
}

static int latest_end_s(const changeover *c, int k) {
    int latest_s = -1;
    for (int i = 0; i < c->n_move; i++) {
        int end_s = end_of(&c->move[i]);
        if (i != k && end_s <= c->move[k].start_s && end_s > latest_s) latest_s = end_s;
    }
    return latest_s;
}

/* What it waited for ended at its start. A plan may leave a pause before a move, to send trips of
 * the store lift one after the other: then the last end before it counts. */
static void find_cause(changeover *c, int k) {
    gradin_move *m = &c->move[k];
    m->waits_for = -1;
    m->cause = GRADIN_STARTS_FREE;
    m->rule = NULL;
    if (m->start_s == 0) return;
    find_holder(c, k, m->start_s);
    if (m->waits_for >= 0) return;
    m->waits_for = find_trip_holder(c, k);
    if (m->waits_for >= 0)
        m->cause = GRADIN_STARTS_LIMITED;
    else
        find_holder(c, k, latest_end_s(c, k));
}

void changeover_find_causes(changeover *c) {
    for (int i = 0; i < c->n_move; i++) find_cause(c, i);
}

static void mark_critical(changeover *c) {
    int last = -1;
    for (int i = 0; i < c->n_move; i++)
        if (last < 0 || end_of(&c->move[i]) > end_of(&c->move[last])) last = i;
    /* What waits for the end of a rest leaves those before it room. */
    for (int i = last; i >= 0;) {
        c->move[i].is_critical = true;
        i = c->move[i].cause == GRADIN_STARTS_RESTED ? -1 : c->move[i].waits_for;
    }
}

/* What is in use at a time counts towards the most in use. */
static void note_peak(changeover *c, int t_s) {
    const gradin_drive *store = c->a->store ? &c->a->store->drive : NULL;
    int crew = 0;
    double power_kw = 0.0;
    for (int i = 0; i < c->n_move; i++) {
        const gradin_move *m = &c->move[i];
        if (m->start_s > t_s || end_of(m) <= t_s) continue;
        crew += m->crew;
        power_kw += m->power_kw;
        for (int k = 0; k < m->n_trip; k++) {
            if (m->trip_start_s[k] > t_s || m->trip_start_s[k] + c->trip_s <= t_s) continue;
            crew += store->crew;
            power_kw += store->power_kw;
        }
    }
    if (crew > c->out->crew_peak) c->out->crew_peak = crew;
    c->out->power_peak_kw = fmax(c->out->power_peak_kw, power_kw);
}

static void find_peaks(changeover *c) {
    for (int i = 0; i < c->n_move; i++) {
        const gradin_move *m = &c->move[i];
        note_peak(c, m->start_s);
        for (int k = 0; k < m->n_trip; k++) note_peak(c, m->trip_start_s[k]);
    }
}

double changeover_person_hours(const changeover *c) {
    double hours = 0.0;
    for (int i = 0; i < c->n_move; i++) {
        int n_trip = c->detail[i].n_trip;
        hours += c->move[i].crew * c->move[i].duration_s / 3600.0;
        if (n_trip > 0) hours += n_trip * c->a->store->drive.crew * c->trip_s / 3600.0;
    }
    return hours;
}

void changeover_sum_up(changeover *c) {
    mark_critical(c);
    find_peaks(c);
    c->out->person_hours = changeover_person_hours(c);
}

void changeover_take(changeover *c, const schedule_problem *p, const schedule_result *found) {
    const int *trip_start_s = found->trip_start_s;
    for (int i = 0; i < c->n_move; i++) {
        gradin_move *m = &c->move[i];
        m->start_s = found->start_s[i];
        m->end_s = m->start_s + p->duration_s[i];
        m->n_trip = c->detail[i].n_trip;
        m->trip_start_s = trip_start_s;
        if (trip_start_s) trip_start_s += m->n_trip;
    }
    c->out->work_s = found->total_s;
    c->out->lower_bound_s = found->lower_bound_s;
    c->out->longest_chain_s = found->longest_chain_s;
    c->out->trip_s = c->trip_s;
}
