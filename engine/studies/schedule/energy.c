/* Bounds by work: what must pass a limit between a head and a tail takes its work over the limit's
 * capacity. Beside the stated demands each limit is measured by dual feasible functions (Fekete and
 * Schepers, New classes of fast lower bounds for bin packing problems, 2001, from memory): a demand
 * of more than the capacity less e counts as all of it, one of less than e as none, for any e up to
 * half the capacity. Capacities are first rounded down to what demands can add up to: gangs of
 * three use nine of ten people. */
#include "studies/schedule/energy.h"

enum { MAX_MEASURE = 20, MAX_ROUNDED = 1 << 16 };

static int gcd(int a, int b) {
    while (b > 0) {
        int rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

static int demand_of(const schedule_problem *p, int k, int limit) {
    return p->demand[(size_t)k * (size_t)p->n_limit + (size_t)limit];
}

static bool has_trips(const schedule_problem *p) {
    for (int k = 0; k < p->n; k++)
        if (schedule_trips(p, k) > 0) return true;
    return false;
}

/* reach[v]: some demands add up to v units. */
static void add_up(bool *reach, int most, int demand) {
    for (int v = most; v >= demand && demand > 0; v--) reach[v] |= reach[v - demand];
}

static int rounded(const schedule_problem *p, int limit, bool *reach) {
    int capacity = p->capacity[limit], unit = 0;
    int trip = has_trips(p) ? p->trip_demand[limit] : 0;
    for (int k = 0; k < p->n; k++) unit = gcd(unit, demand_of(p, k, limit));
    unit = gcd(unit, trip);
    if (unit == 0 || capacity / unit >= MAX_ROUNDED) return capacity;
    int most = capacity / unit;
    for (int v = 0; v <= most; v++) reach[v] = v == 0;
    for (int k = 0; k < p->n; k++) add_up(reach, most, demand_of(p, k, limit) / unit);
    add_up(reach, most, trip / unit); /* the carrier makes one trip at a time */
    while (!reach[most]) most--;
    return most * unit;
}

bool energy_round(gradin_arena *arena, schedule_problem *p) {
    int *capacity = gradin_arena_alloc(arena, (size_t)p->n_limit + 1, sizeof *capacity);
    bool *reach = gradin_arena_alloc(arena, MAX_ROUNDED, sizeof *reach);
    if (!capacity || !reach) return false;
    for (int r = 0; r < p->n_limit; r++) capacity[r] = rounded(p, r, reach);
    p->capacity = capacity;
    return true;
}

static int measured(int demand, int capacity, int e) {
    if (e == 0) return demand;
    return demand > capacity - e ? capacity : demand >= e ? demand : 0;
}

static bool add_measure(schedule_energy *g, gradin_arena *arena, int limit, int e) {
    const schedule_problem *p = g->p;
    energy_measure *m = &g->measure[g->n_measure++];
    m->capacity = schedule_capacity(p, limit);
    m->use = gradin_arena_alloc(arena, (size_t)p->n, sizeof *m->use);
    m->work = gradin_arena_alloc(arena, (size_t)p->n, sizeof *m->work);
    if (!m->use || !m->work) return false;
    for (int k = 0; k < p->n; k++) {
        if (limit < p->n_limit) m->use[k] = measured(demand_of(p, k, limit), m->capacity, e);
        m->work[k] = e > 0 ? (int64_t)p->duration_s[k] * m->use[k] : schedule_work(p, k, limit);
    }
    return true;
}

/* Does some demand count otherwise with e than with all smaller ones? */
static bool is_own(const schedule_problem *p, int limit, int e) {
    int capacity = p->capacity[limit];
    bool is_demand = false, is_greater = false;
    for (int k = 0; k < p->n; k++) {
        is_demand |= demand_of(p, k, limit) == e - 1;
        is_greater |= demand_of(p, k, limit) == capacity - e + 1;
    }
    return is_greater || (is_demand && e > 1);
}

bool energy_open(gradin_arena *arena, const schedule_problem *p, schedule_energy *g) {
    *g = (schedule_energy){.p = p};
    bool has_dual = !has_trips(p); /* a trip's demand comes on top of its move's */
    int most = MAX_MEASURE + p->n_limit + 1;
    g->measure = gradin_arena_alloc(arena, (size_t)most, sizeof *g->measure);
    if (!g->measure) return false;
    for (int r = 0; r <= p->n_limit; r++)
        if (schedule_capacity(p, r) > 0 && !add_measure(g, arena, r, 0)) return false;
    for (int r = 0; r < p->n_limit && has_dual; r++) {
        int half = p->capacity[r] / 2 < 200 ? p->capacity[r] / 2 : 0;
        for (int e = 1; e <= half && g->n_measure < most; e++)
            if (is_own(p, r, e) && !add_measure(g, arena, r, e)) return false;
    }
    return true;
}

/* What ends at least after_s before the end of all has to be through by then. */
int energy_bound(const schedule_energy *g, const int *head_s, const int *after_s,
                 const int *by_after) {
    int n = g->p->n, bound_s = 0;
    for (int i = 0; i < g->n_measure; i++)
        for (int from = 0; from < n; from++) {
            const energy_measure *m = &g->measure[i];
            int64_t work = 0;
            for (int at = 0; at < n; at++) {
                int k = by_after[at];
                if (head_s[k] < head_s[from]) continue;
                work += m->work[k];
                int64_t end_s = head_s[from] + after_s[k] + (work + m->capacity - 1) / m->capacity;
                if (end_s > bound_s) bound_s = (int)end_s;
            }
        }
    return bound_s;
}

static bool does_pass(const schedule_energy *g, const energy_measure *m, const schedule_line *l,
                      int now_s, int most_s, const int *after_s, const int *by_after) {
    int64_t work = 0;
    for (int at = 0; at < g->p->n; at++) {
        int k = by_after[at];
        if (l->start_s[k] < 0)
            work += m->work[k];
        else if (line_end(l, k) > now_s)
            work += (int64_t)(line_end(l, k) - now_s) * m->use[k];
        else
            continue;
        if (work > (int64_t)(most_s - now_s - after_s[k]) * m->capacity) return false;
    }
    return true;
}

bool energy_passes(const schedule_energy *g, const schedule_line *l, int now_s, int most_s,
                   const int *after_s, const int *by_after) {
    for (int i = 0; i < g->n_measure; i++)
        if (!does_pass(g, &g->measure[i], l, now_s, most_s, after_s, by_after)) return false;
    return true;
}
