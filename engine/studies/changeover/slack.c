/* How late each move may start when the plan keeps its end and who hands what to whom: what must
 * come before, what may not run beside, and people, power, lifts and the store lift that one has
 * from another. Whatever keeps these links keeps every limit, for each unit in use comes from
 * somebody who is done with it (resource flow: Artigues, Michelon and Reusser, 2003, from memory).
 * The latest starts are those of the critical path method's backward pass (Kelley and Walker, 1959,
 * from memory) with lags, since trips stay where they are within their move. Other links would do
 * as well and may leave another move more time; these take first from those that are linked
 * already, then from those done longest. */
#include "studies/changeover/changeover.h"

/* A move or a trip: an interval within its move, in order of begin. */
typedef struct stretch {
    int move, from_s, until_s; /* from the move's start */
    bool is_trip;
} stretch;

typedef struct flow {
    const changeover *c;
    const schedule_problem *p;
    stretch *item; /* [n] */
    int n;
    bool *link; /* [n][n] the first is done before the second begins */
    int *held;  /* [n] units of one limit that nobody has taken over */
} flow;

static int begin_s(const flow *f, int i) {
    return f->c->move[f->item[i].move].start_s + f->item[i].from_s;
}

static int end_s(const flow *f, int i) {
    return f->c->move[f->item[i].move].start_s + f->item[i].until_s;
}

/* Keeps the list in order of begin, a move before its trips. */
static void insert(flow *f, stretch s) {
    int at = f->n++, from_s = f->c->move[s.move].start_s + s.from_s;
    for (; at > 0 && begin_s(f, at - 1) > from_s; at--) f->item[at] = f->item[at - 1];
    f->item[at] = s;
}

static void list_stretches(flow *f) {
    for (int i = 0; i < f->c->n_move; i++) {
        const gradin_move *m = &f->c->move[i];
        insert(f, (stretch){i, 0, m->duration_s, false});
        for (int k = 0; k < m->n_trip; k++) {
            int from_s = m->trip_start_s[k] - m->start_s;
            insert(f, (stretch){i, from_s, from_s + f->c->trip_s, true});
        }
    }
}

/* Limit n_limit is the store lift itself. */
static int demand_of(const flow *f, int i, int limit) {
    const stretch *s = &f->item[i];
    if (limit == f->p->n_limit) return s->is_trip;
    return s->is_trip ? f->p->trip_demand[limit]
                      : f->p->demand[(size_t)s->move * (size_t)f->p->n_limit + (size_t)limit];
}

static bool is_done_before(const flow *f, int i, int k) {
    return end_s(f, i) <= begin_s(f, k);
}

/* Rules, and what the critical path goes by: a start at the very end of what was waited for. */
static bool is_bound(const flow *f, int i, int k) {
    const stretch *a = &f->item[i], *b = &f->item[k];
    if (f->c->move[b->move].waits_for == a->move && end_s(f, i) == begin_s(f, k)) return true;
    size_t pair = (size_t)a->move * (size_t)f->c->n_move + (size_t)b->move;
    return !a->is_trip && !b->is_trip && is_done_before(f, i, k) &&
           (f->c->before[pair] || f->c->apart[pair]);
}

/* Whose units to take next: linked already, else done longest; -1: nobody's. */
static int best_giver(const flow *f, int k) {
    int best = -1;
    for (int i = 0; i < k; i++) {
        if (f->held[i] == 0 || !is_done_before(f, i, k)) continue;
        bool is_tied =
            f->link[(size_t)i * (size_t)f->n + (size_t)k] || f->item[i].move == f->item[k].move;
        if (is_tied) return i;
        if (best < 0 || end_s(f, i) < end_s(f, best)) best = i;
    }
    return best;
}

static void take_over(flow *f, int k, int needed, int *unused) {
    int taken = needed < *unused ? needed : *unused;
    *unused -= taken;
    needed -= taken;
    for (int i; needed > 0 && (i = best_giver(f, k)) >= 0; needed -= taken) {
        taken = needed < f->held[i] ? needed : f->held[i];
        f->held[i] -= taken;
        f->link[(size_t)i * (size_t)f->n + (size_t)k] = true;
    }
}

static void find_links(flow *f) {
    for (int i = 0; i < f->n; i++)
        for (int k = 0; k < f->n; k++)
            f->link[(size_t)i * (size_t)f->n + (size_t)k] = is_bound(f, i, k);
    for (int limit = 0; limit <= f->p->n_limit; limit++) {
        int unused = schedule_capacity(f->p, limit);
        for (int k = 0; k < f->n; k++) {
            take_over(f, k, demand_of(f, k, limit), &unused);
            f->held[k] = demand_of(f, k, limit);
        }
    }
}

/* Brings the latest start of the first's move before the second's. True when it was later. */
static bool pull(const flow *f, int first, int second, int *latest_s) {
    const stretch *a = &f->item[first], *b = &f->item[second];
    int most_s = latest_s[b->move] + b->from_s - a->until_s;
    if (a->move == b->move || latest_s[a->move] <= most_s) return false;
    latest_s[a->move] = most_s;
    return true;
}

/* The starts as they are keep every link, so none is pulled below its own: it ends. */
static void pass_back(const flow *f, int *latest_s) {
    for (bool is_pulled = true; is_pulled;) {
        is_pulled = false;
        for (int k = f->n - 1; k >= 0; k--)
            for (int i = 0; i < k; i++)
                if (f->link[(size_t)i * (size_t)f->n + (size_t)k])
                    is_pulled |= pull(f, i, k, latest_s);
    }
}

bool changeover_find_slack(changeover *c, const schedule_problem *p) {
    size_t n = (size_t)c->n_move;
    for (int i = 0; i < c->n_move; i++) n += (size_t)c->move[i].n_trip;
    flow f = {.c = c, .p = p};
    f.item = gradin_arena_alloc(c->arena, n + 1, sizeof *f.item);
    f.link = gradin_arena_alloc(c->arena, n * n + 1, sizeof *f.link);
    f.held = gradin_arena_alloc(c->arena, n + 1, sizeof *f.held);
    int *latest_s = gradin_arena_alloc(c->arena, n + 1, sizeof *latest_s);
    if (!f.item || !f.link || !f.held || !latest_s) return changeover_no_memory(c);
    list_stretches(&f);
    find_links(&f);
    for (int i = 0; i < c->n_move; i++) latest_s[i] = c->out->total_s - c->move[i].duration_s;
    pass_back(&f, latest_s);
    for (int i = 0; i < c->n_move; i++) c->move[i].float_s = latest_s[i] - c->move[i].start_s;
    return true;
}
