/* What changeovers cost a programme, and as few of them planned as its best run needs.
 *
 * A plan takes a search, so a way from layout to layout is at first worth what it costs at least:
 * nothing, then the hours of its moves, and a clash once these cannot fit the window in any order.
 * The best run by such prices is found, the ways that it goes through are looked into, and again,
 * until all of them are planned. No true price is below its bound, so nothing beats that run; and
 * of runs of one price it is the one that all true prices would have led to, for each stage takes
 * the first of the best. */
#include "studies/programme/programme.h"

#include <math.h>
#include <string.h>

enum { DAY_S = 86400 };

/* Free from the show before, or from the beginning, until the margin before this one. */
static void set_window(const gradin_programme *p, int show, gradin_staging *s) {
    s->free_s = show > 0 ? p->booking[show - 1].end_s + (int64_t)ceil(p->clear_s) : p->first_free_s;
    s->due_s = p->booking[show].start_s - (int64_t)ceil(p->ready_s + p->margin_s);
}

static bool is_same_venue(const gradin_model *a, const gradin_model *b) {
    return strcmp(a->venue_name, b->venue_name) == 0;
}

/* Two layouts of one venue with a crew: what keeps them apart is the venue's rules. */
static bool may_lead(const programme_ways *w, int at) {
    const gradin_model *a = &w->model[at / w->p->n_layout], *b = &w->model[at % w->p->n_layout];
    return is_same_venue(a, b) && a->machinery && a->machinery->crew > 0;
}

/* Where no order of moves keeps the venue's rules there is no way, and the reason is kept; what is
 * wrong with the venue itself is an error of the input. */
static gradin_status judge(programme_ways *w, int at, gradin_status status,
                           const gradin_error *mine) {
    if (status == GRADIN_OK) return GRADIN_OK;
    if (status == GRADIN_BAD_INPUT && may_lead(w, at)) {
        const char *text = mine->n_diagnostic > 0 ? mine->diagnostic[0].text : "";
        w->changeover[at] = (gradin_changeover){.from = NULL};
        w->way[at].known = PROGRAMME_PLANNED;
        w->way[at].no_way = gradin_arena_copy_text(w->arena, text);
        return w->way[at].no_way
                   ? GRADIN_OK
                   : gradin_error_add(w->error, GRADIN_NO_MEMORY, NULL, "out of memory");
    }
    if (w->error) *w->error = *mine;
    return status;
}

static gradin_status find_least(programme_ways *w, int at) {
    gradin_error mine = {0};
    const gradin_model *a = &w->model[at / w->p->n_layout], *b = &w->model[at % w->p->n_layout];
    w->way[at].known = PROGRAMME_LEAST;
    return judge(w, at, changeover_find_least(a, b, &w->way[at].least, &mine), &mine);
}

static gradin_status plan(programme_ways *w, int at) {
    gradin_error mine = {0};
    const gradin_model *a = &w->model[at / w->p->n_layout], *b = &w->model[at % w->p->n_layout];
    gradin_changeover *c = &w->changeover[at];
    gradin_span span;
    gradin_status status = changeover_plan_of_many(w->arena, a, b, w->n_node, c, &mine);
    if (status == GRADIN_OK) status = gradin_changeover_span(c, -1, &span, &mine);
    w->way[at].known = PROGRAMME_PLANNED;
    w->way[at].clock.plan = c;
    return judge(w, at, status, &mine);
}

/* One step more. */
static gradin_status learn(programme_ways *w, int at) {
    w->way[at].is_asked = false;
    w->way[at].is_changed = true;
    return w->way[at].known == PROGRAMME_NOTHING ? find_least(w, at) : plan(w, at);
}

/* What may turn out to be no way at all has a clash and no cost then. */
static programme_price least_price(const programme_ways *w, int at, const gradin_staging *s) {
    const programme_way *way = &w->way[at];
    if (way->known == PROGRAMME_NOTHING) return (programme_price){.n_changeover = 1};
    if (s->free_s + way->least.total_s > s->due_s)
        return (programme_price){.n_clash = 1, .n_changeover = 1};
    return (programme_price){.cost = w->p->hour_cost * way->least.person_hours, .n_changeover = 1};
}

static gradin_status price_one(programme_ways *w, int at, gradin_staging *s,
                               programme_price *price) {
    programme_way *way = &w->way[at];
    bool is_change = s->from_layout != s->layout;
    if (is_change && way->known != PROGRAMME_PLANNED) {
        *price = least_price(w, at, s);
        return GRADIN_OK;
    }
    s->no_way = way->no_way;
    gradin_status status =
        is_change && !s->no_way ? programme_place(w->p, &way->clock, s) : GRADIN_OK;
    *price = programme_price_of(s);
    return status == GRADIN_OK ? GRADIN_OK
                               : gradin_error_add(w->error, status, NULL, "out of memory");
}

static gradin_status price_way(programme_ways *w, int show, int from, int to) {
    int at = from * w->p->n_layout + to;
    programme_step *step = &w->step[show];
    gradin_staging *s = &step->staging[at], later;
    if (from != to && !may_lead(w, at) && w->way[at].known != PROGRAMME_PLANNED) {
        gradin_status status = plan(w, at); /* tells what is wrong */
        if (status != GRADIN_OK) return status;
    }
    *s = (gradin_staging){.from_layout = from, .layout = to};
    set_window(w->p, show, s);
    s->begin_s = s->done_s = s->free_s;
    later = *s;
    later.due_s += DAY_S;
    gradin_status status = price_one(w, at, s, &step->way[at]);
    return status == GRADIN_OK ? price_one(w, at, &later, &step->day_later[at]) : status;
}

gradin_status programme_price_ways(programme_ways *w, int show, bool is_first) {
    const programme_step *step = &w->step[show];
    gradin_status status = GRADIN_OK;
    for (int i = 0; i < step->n_choice && status == GRADIN_OK; i++) {
        int to = step->choice[i], first = w->p->first_layout >= 0 ? w->p->first_layout : to;
        const int *before = show > 0 ? step[-1].choice : &first;
        int n_before = show > 0 ? step[-1].n_choice : 1;
        for (int k = 0; k < n_before && status == GRADIN_OK; k++)
            if (is_first || w->way[before[k] * w->p->n_layout + to].is_changed)
                status = price_way(w, show, before[k], to);
    }
    return status;
}

/* Are all ways of a run planned? Asks for those that are not. */
static bool is_planned(programme_ways *w, const int *layout) {
    bool is_known = true;
    for (int i = 0; i < w->p->n_booking; i++) {
        int from = programme_from(w->p, layout, i);
        programme_way *way = &w->way[from * w->p->n_layout + layout[i]];
        if (from == layout[i] || way->known == PROGRAMME_PLANNED) continue;
        way->is_asked = true;
        is_known = false;
    }
    return is_known;
}

static gradin_status learn_all(programme_ways *w) {
    int n_way = w->p->n_layout * w->p->n_layout;
    gradin_status status = GRADIN_OK;
    for (int at = 0; at < n_way && status == GRADIN_OK; at++) {
        w->way[at].is_changed = false;
        if (w->way[at].is_asked) status = learn(w, at);
    }
    for (int show = 0; show < w->p->n_booking && status == GRADIN_OK; show++)
        status = programme_price_ways(w, show, false);
    return status;
}

static gradin_status find_path(programme_ways *w, programme_run *run) {
    gradin_arena *arena = gradin_arena_create();
    gradin_status status = arena ? programme_path(arena, w->step, w->p->n_booking, w->p->n_layout,
                                                  w->p->first_layout, run)
                                 : GRADIN_NO_MEMORY;
    if (arena) gradin_arena_destroy(arena);
    return status == GRADIN_OK ? status : gradin_error_add(w->error, status, NULL, "out of memory");
}

gradin_status programme_find_run(programme_ways *w, programme_run *run) {
    for (;;) {
        gradin_status status = find_path(w, run);
        if (status != GRADIN_OK) return status;
        /* A day is worth asking about once the run without it is sure. */
        if (is_planned(w, run->layout) && is_planned(w, run->day_layout)) return GRADIN_OK;
        status = learn_all(w);
        if (status != GRADIN_OK) return status;
    }
}
