/* Who hands what to whom: what must come before, what may not run beside, and people, power, lifts
 * and the store lift that one has from another. Whatever keeps these links keeps every limit, for
 * each unit in use comes from somebody who is done with it (resource flow: Artigues, Michelon and
 * Reusser, 2003, from memory). Other links would do as well; these take first from those that are
 * linked already, then from those done longest. People have names (gangs.c), so theirs are the
 * links of each person from one move to the next. */
#include "studies/changeover/changeover.h"

typedef struct flow {
    const changeover *c;
    const schedule_problem *p;
    network *g;
    bool *link; /* [n][n] the first is done before the second begins */
    int *held;  /* [n] units of one limit that nobody has taken over */
} flow;

static int begin_s(const flow *f, int i) {
    return f->c->move[f->g->item[i].move].start_s + f->g->item[i].from_s;
}

static int end_s(const flow *f, int i) {
    return f->c->move[f->g->item[i].move].start_s + f->g->item[i].until_s;
}

/* Keeps the list in order of begin, a move before its trips. */
static void insert(flow *f, stretch s) {
    network *g = f->g;
    int at = g->n++, from_s = f->c->move[s.move].start_s + s.from_s;
    for (; at > 0 && begin_s(f, at - 1) > from_s; at--) g->item[at] = g->item[at - 1];
    g->item[at] = s;
}

static void list_stretches(flow *f) {
    for (int i = 0; i < f->c->n_move; i++) {
        const gradin_move *m = &f->c->move[i];
        insert(f, (stretch){i, -1, 0, m->end_s - m->start_s});
        for (int k = 0; k < m->n_trip; k++) {
            int from_s = m->trip_start_s[k] - m->start_s;
            insert(f, (stretch){i, k, from_s, from_s + f->c->trip_s});
        }
    }
    for (int i = 0; i < f->g->n; i++)
        if (f->g->item[i].trip < 0) f->g->whole[f->g->item[i].move] = i;
}

/* Limit n_limit is the store lift itself. */
static int demand_of(const flow *f, int i, int limit) {
    const stretch *s = &f->g->item[i];
    if (limit == f->p->n_limit) return s->trip >= 0;
    return s->trip >= 0 ? f->p->trip_demand[limit]
                        : f->p->demand[(size_t)s->move * (size_t)f->p->n_limit + (size_t)limit];
}

static bool is_done_before(const flow *f, int i, int k) {
    return end_s(f, i) <= begin_s(f, k);
}

static bool *link_of(const flow *f, int i, int k) {
    return &f->link[(size_t)i * (size_t)f->g->n + (size_t)k];
}

/* Rules, and what the critical path goes by: a start at the very end of what was waited for. */
static bool is_bound(const flow *f, int i, int k) {
    const stretch *a = &f->g->item[i], *b = &f->g->item[k];
    if (f->c->move[b->move].waits_for == a->move && end_s(f, i) == begin_s(f, k)) return true;
    size_t pair = (size_t)a->move * (size_t)f->c->n_move + (size_t)b->move;
    return a->trip < 0 && b->trip < 0 && is_done_before(f, i, k) &&
           (f->c->before[pair] || f->c->apart[pair]);
}

/* Whose units to take next: linked already, else done longest; -1: nobody's. */
static int best_giver(const flow *f, int k) {
    int best = -1;
    for (int i = 0; i < k; i++) {
        if (f->held[i] == 0 || !is_done_before(f, i, k)) continue;
        if (*link_of(f, i, k) || f->g->item[i].move == f->g->item[k].move) return i;
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
        *link_of(f, i, k) = true;
    }
}

static int item_of(const flow *f, int move, int trip) {
    int k = f->g->whole[move];
    while (f->g->item[k].move != move || f->g->item[k].trip != trip) k++;
    return k;
}

static void link_people(flow *f) {
    for (int i = 0; i < f->c->n_hand; i++) {
        const hand_over *h = &f->c->hand[i];
        *link_of(f, item_of(f, h->from_move, h->from_trip), item_of(f, h->to_move, h->to_trip)) =
            true;
    }
}

static void find_links(flow *f) {
    int n = f->g->n;
    for (int i = 0; i < n; i++)
        for (int k = 0; k < n; k++) *link_of(f, i, k) = is_bound(f, i, k);
    link_people(f);
    for (int limit = 0; limit <= f->p->n_limit; limit++) {
        if (limit == LIMIT_CREW) continue;
        int unused = schedule_capacity(f->p, limit);
        for (int k = 0; k < n; k++) {
            take_over(f, k, demand_of(f, k, limit), &unused);
            f->held[k] = demand_of(f, k, limit);
        }
    }
}

/* For each stretch those that have to be done before it. */
static bool list_links(flow *f) {
    network *g = f->g;
    int count = 0;
    for (int i = 0; i < g->n * g->n; i++) count += f->link[i];
    g->first = gradin_arena_alloc(f->c->arena, (size_t)g->n + 1, sizeof *g->first);
    g->earlier = gradin_arena_alloc(f->c->arena, (size_t)count + 1, sizeof *g->earlier);
    if (!g->first || !g->earlier) return false;
    count = 0;
    for (int k = 0; k < g->n; k++) {
        for (int i = 0; i < k; i++)
            if (*link_of(f, i, k)) g->earlier[count++] = i;
        g->first[k + 1] = count;
    }
    return true;
}

static bool open_flow(changeover *c, const schedule_problem *p, network *g, flow *made) {
    size_t n = (size_t)c->n_move;
    for (int i = 0; i < c->n_move; i++) n += (size_t)c->move[i].n_trip;
    flow f = {.c = c, .p = p, .g = g};
    *g = (network){.item = gradin_arena_alloc(c->arena, n + 1, sizeof *g->item),
                   .whole = gradin_arena_alloc(c->arena, (size_t)c->n_move + 1, sizeof(int))};
    f.link = gradin_arena_alloc(c->arena, n * n + 1, sizeof *f.link);
    f.held = gradin_arena_alloc(c->arena, n + 1, sizeof *f.held);
    if (!g->item || !g->whole || !f.link || !f.held) return changeover_no_memory(c);
    list_stretches(&f);
    *made = f;
    return true;
}

bool changeover_network(changeover *c, const schedule_problem *p, network *g) {
    flow f;
    if (!open_flow(c, p, g, &f)) return false;
    find_links(&f);
    return list_links(&f) || changeover_no_memory(c);
}

bool changeover_network_again(changeover *c, const gradin_changeover *plan, network *g) {
    flow f;
    if (!open_flow(c, NULL, g, &f)) return false;
    for (int i = 0; i < plan->n_link; i++) {
        const gradin_link *l = &plan->link[i];
        *link_of(&f, item_of(&f, l->first, l->first_trip), item_of(&f, l->then, l->then_trip)) =
            true;
    }
    return list_links(&f) || changeover_no_memory(c);
}

/* Seconds times a factor, at least one. */
static int scaled(int seconds, const double *factor, int move) {
    if (!factor || seconds == 0) return seconds;
    double s = nearbyint(seconds * factor[move]);
    return s > 1.0 ? (int)s : 1;
}

/* What has begun keeps its start, and what runs ends as it would have, or as drawn. */
static void run_begun(const changeover *c, const network *g, const double *factor, int k,
                      network_run *r) {
    const stretch *s = &g->item[k];
    const gradin_move *m = &c->move[s->move];
    r->start_s[k] = s->trip < 0 ? m->start_s : m->trip_start_s[s->trip];
    r->end_s[k] = s->trip < 0 ? m->end_s : r->start_s[k] + c->trip_s;
    if (s->trip < 0 && r->end_s[k] > c->now_s)
        r->end_s[k] = c->now_s + scaled(m->end_s - c->now_s, factor, s->move);
}

static int earliest(const changeover *c, const network *g, const double *factor, int k,
                    network_run *r) {
    const stretch *s = &g->item[k];
    int from_s = c->now_s;
    r->held_by[k] = -1;
    if (s->trip >= 0) from_s = r->start_s[g->whole[s->move]] + scaled(s->from_s, factor, s->move);
    for (int at = g->first[k]; at < g->first[k + 1]; at++) {
        int i = g->earlier[at];
        if (r->end_s[i] < from_s) continue;
        from_s = r->end_s[i];
        r->held_by[k] = g->item[i].move;
    }
    return from_s;
}

int changeover_run(const changeover *c, const network *g, const double *factor, network_run *r) {
    int total_s = 0;
    for (int k = 0; k < g->n; k++) {
        const stretch *s = &g->item[k];
        const gradin_move *m = &c->move[s->move];
        r->held_by[k] = -1;
        if (m->state != GRADIN_MOVE_PLANNED) {
            run_begun(c, g, factor, k, r);
        } else {
            bool is_trip = s->trip >= 0;
            int seconds = scaled(is_trip ? c->trip_s : m->duration_s, factor, s->move);
            int piece_s = scaled(c->detail[s->move].piece_s, factor, s->move);
            piece_s = is_trip ? seconds : changeover_piece(c, s->move, seconds, piece_s);
            r->start_s[k] = earliest(c, g, factor, k, r);
            r->end_s[k] = changeover_finish(c, &r->start_s[k], seconds, piece_s);
        }
        int whole = g->whole[s->move];
        if (r->end_s[k] > r->end_s[whole]) r->end_s[whole] = r->end_s[k];
        if (r->end_s[k] > total_s) total_s = r->end_s[k];
    }
    return total_s;
}
