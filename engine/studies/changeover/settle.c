/* From starts in working time to a plan on the clock: rests and shifts, what is planned again, who
 * waits for whom, float, gangs, how late it may get, cost. */
#include "studies/changeover/changeover.h"

static const double SURE_SHARE = 0.8;
enum { NEAR_PARTS = 20, DAY_S = 86400 };

/* All moves one after another at their longest, and a day. */
static int64_t most_work_s(const changeover *c) {
    double sum_s = 0.0, most = 1.0;
    for (int i = 0; i < GRADIN_N_MOVE_KIND; i++) most = fmax(most, c->a->work.spread[i].most);
    for (int i = 0; i < c->n_move; i++) sum_s += c->move[i].duration_s;
    return (int64_t)(2.0 * most * sum_s) + DAY_S;
}

static bool open_run(changeover *c, const network *g, network_run *r) {
    size_t n = (size_t)g->n + 1;
    r->start_s = gradin_arena_alloc(c->arena, n, sizeof *r->start_s);
    r->end_s = gradin_arena_alloc(c->arena, n, sizeof *r->end_s);
    r->held_by = gradin_arena_alloc(c->arena, n, sizeof *r->held_by);
    return (r->start_s && r->end_s && r->held_by) || changeover_no_memory(c);
}

static bool is_at_stop(const changeover *c, int work_s) {
    for (int i = 0; i < c->n_stop; i++)
        if (c->stop_work_s[i] == work_s) return true;
    return false;
}

/* Who held a move in a run; a start that waited for nobody's end waited for a rest. What has begun
 * keeps its cause. */
static void find_cause(changeover *c, int move, int holder) {
    gradin_move *m = &c->move[move];
    if (m->state != GRADIN_MOVE_PLANNED) return;
    m->waits_for = -1;
    m->cause = GRADIN_STARTS_FREE;
    if (holder >= 0 && c->move[holder].end_s == m->start_s) {
        changeover_set_cause(c, holder, move);
    } else if (m->start_s > c->now_s && is_at_stop(c, m->start_s)) {
        m->cause = GRADIN_STARTS_RESTED;
        m->waits_for = holder;
    }
}

/* What a run through the network found; causes stay. */
static bool take_run_as(changeover *c, const network *g, const network_run *r) {
    size_t n_trip = (size_t)(g->n - c->n_move);
    int *trip_start_s = gradin_arena_alloc(c->arena, n_trip + 1, sizeof *trip_start_s);
    if (!trip_start_s) return changeover_no_memory(c);
    for (int i = 0; i < c->n_move; i++) {
        gradin_move *m = &c->move[i];
        m->start_s = r->start_s[g->whole[i]];
        m->end_s = r->end_s[g->whole[i]];
        m->trip_start_s = trip_start_s;
        trip_start_s += m->n_trip;
    }
    for (int k = 0; k < g->n; k++)
        if (g->item[k].trip >= 0)
            ((int *)c->move[g->item[k].move].trip_start_s)[g->item[k].trip] = r->start_s[k];
    return true;
}

static bool take_run(changeover *c, const network *g, const network_run *r) {
    if (!take_run_as(c, g, r)) return false;
    for (int i = 0; i < c->n_move; i++) find_cause(c, i, r->held_by[g->whole[i]]);
    return true;
}

/* Links by the starts as they are; then, where there are stops, the starts by the links. */
static bool lay(changeover *c, const schedule_problem *p, network *g, network_run *r) {
    network nobody;
    changeover_find_causes(c);
    c->n_hand = c->out->work_s = 0;
    for (int i = 0; i < c->n_move; i++)
        if (c->move[i].end_s > c->out->work_s) c->out->work_s = c->move[i].end_s;
    if (!changeover_network(c, p, &nobody) || !changeover_gangs(c, &nobody) ||
        !changeover_network(c, p, g) || !open_run(c, g, r))
        return false;
    if (c->n_stop == 0) return true;
    c->out->work_s = changeover_run(c, g, NULL, r);
    if (c->out->work_s > c->known_work_s) return changeover_no_stretch(c);
    return take_run(c, g, r);
}

static bool list_links(changeover *c, const network *g) {
    gradin_link *link = gradin_arena_alloc(c->arena, (size_t)g->first[g->n] + 1, sizeof *link);
    if (!link) return changeover_no_memory(c);
    for (int k = 0; k < g->n; k++)
        for (int at = g->first[k]; at < g->first[k + 1]; at++) {
            const stretch *a = &g->item[g->earlier[at]], *b = &g->item[k];
            link[c->out->n_link++] = (gradin_link){a->move, a->trip, b->move, b->trip};
        }
    c->out->link = link;
    return true;
}

static void to_clock(changeover *c) {
    gradin_changeover *out = c->out;
    out->total_s = changeover_clock_end(c, out->work_s);
    for (int i = 0; i < c->n_move; i++) {
        gradin_move *m = &c->move[i];
        for (int k = 0; k < m->n_trip; k++)
            ((int *)m->trip_start_s)[k] = changeover_clock_start(c, m->trip_start_s[k]);
        m->start_s = changeover_clock_start(c, m->start_s);
        m->end_s = changeover_clock_end(c, m->end_s);
    }
    out->stop = c->stop;
    while (out->n_stop < c->n_stop && c->stop_work_s[out->n_stop] < out->work_s) out->n_stop++;
}

static bool find_rest(changeover *c, const network *g, network_run *r, bool is_drawn) {
    changeover_sum_up(c);
    if (!changeover_find_slack(c, g)) return false;
    for (int i = 0; i < c->n_move; i++)
        c->move[i].is_near = c->move[i].float_s <= c->out->work_s / NEAR_PARTS;
    c->out->total_s = changeover_clock_end(c, c->out->work_s);
    return (!is_drawn || changeover_late(c, g, r)) && list_links(c, g);
}

bool changeover_settle(changeover *c, const schedule_problem *p,
                       const gradin_changeover_terms *terms) {
    network g;
    network_run r;
    c->out->has_rests = c->a->work.n_shift > 0 || c->a->work.n_rest > 0;
    if (!changeover_calendar(c, most_work_s(c) + terms->at_s) || !lay(c, p, &g, &r)) return false;
    if (terms->from_move > 0 &&
        (!changeover_replan(c, p, terms->from_move, terms->at_s) || !lay(c, p, &g, &r)))
        return false;
    if (!find_rest(c, &g, &r, terms->is_drawn)) return false;
    to_clock(c);
    if (!changeover_tell_open_doors(c)) return false;
    changeover_cost(c);
    c->out->n_called = c->n_called;
    c->out->keeps_gap = c->out->total_s <= c->out->gap_s - c->out->margin_s &&
                        (c->out->late.n_draw == 0 || c->out->late.in_margin >= SURE_SHARE);
    return true;
}

bool changeover_lay_again(changeover *c, const gradin_changeover *plan) {
    network g;
    network_run r;
    c->out->cost = (gradin_cost){.is_known = false};
    c->out->late = (gradin_late){.n_draw = 0};
    if (!changeover_calendar(c, most_work_s(c)) || !changeover_network_again(c, plan, &g) ||
        !open_run(c, &g, &r))
        return false;
    c->out->work_s = changeover_run(c, &g, NULL, &r);
    if (c->n_stop > 0 && c->out->work_s > c->known_work_s) return changeover_no_stretch(c);
    if (!take_run_as(c, &g, &r)) return false;
    to_clock(c);
    if (!changeover_tell_open_doors(c)) return false;
    changeover_cost(c);
    return true;
}
