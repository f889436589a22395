/* What a show shares the house with: the changeovers between its layout and each partner's, both
 * ways. A plan can be worked as it stands; what is proven is that none is shorter than its bound.
 * Both are sums of stated rates with the venue's shifts and rests, without a fault or learning: the
 * stated margin is for those. */
#include "studies/changeover/least.h"
#include "studies/choose/choose.h"

#include <stdio.h>

enum { MOST_MORE_CREW = 3 }; /* times the crew there is: more is not looked for */

static const double clock_tells_s = 60.0; /* times are printed in minutes */

typedef struct both_ways {
    gradin_changeover *in, *out;
    gradin_span *in_span, *out_span;
} both_ways;

typedef struct attempt {
    const gradin_model *own, *partner;
    double limit_s;
    int of_day_s, n_node;
} attempt;

static gradin_status plan_one(gradin_arena *arena, const attempt *a, const gradin_model *from,
                              const gradin_model *to, gradin_changeover *c, gradin_span *span,
                              gradin_error *error) {
    gradin_status status = changeover_plan_of_many(arena, from, to, a->n_node, c, error);
    return status == GRADIN_OK ? gradin_changeover_span(c, a->of_day_s, span, error) : status;
}

static gradin_status plan_both(gradin_arena *arena, const gradin_model *partner,
                               const gradin_model *own, const attempt *a, both_ways w,
                               gradin_error *error) {
    gradin_status status = plan_one(arena, a, partner, own, w.in, w.in_span, error);
    if (status != GRADIN_OK) return status;
    return plan_one(arena, a, own, partner, w.out, w.out_span, error);
}

/* The model with another crew; the machinery goes where `machinery` points. */
static gradin_model with_crew(const gradin_model *model, int crew, gradin_machinery *machinery) {
    gradin_model m = *model;
    *machinery = *model->machinery;
    machinery->crew = crew;
    m.machinery = machinery;
    return m;
}

static bool fits_with(const attempt *a, int crew, gradin_status *status) {
    gradin_machinery machinery[2];
    gradin_model own = with_crew(a->own, crew, &machinery[0]);
    gradin_model partner = with_crew(a->partner, crew, &machinery[1]);
    gradin_changeover in, out;
    gradin_span in_span, out_span;
    both_ways w = {&in, &out, &in_span, &out_span};
    gradin_arena *scratch = gradin_arena_create();
    *status = scratch ? plan_both(scratch, &partner, &own, a, w, NULL) : GRADIN_NO_MEMORY;
    bool fits =
        *status == GRADIN_OK && in_span.total_s <= a->limit_s && out_span.total_s <= a->limit_s;
    if (scratch) gradin_arena_destroy(scratch);
    return fits;
}

/* Halving between a crew that is too small and one that is enough: plans of a larger crew are taken
 * to be no longer. */
static gradin_status find_crew(const attempt *a, gradin_shared *s) {
    gradin_status status = GRADIN_OK;
    int few = a->own->machinery->crew, many = MOST_MORE_CREW * few;
    s->crew_needed = -1;
    if (s->in.longest_chain_s > a->limit_s || s->out.longest_chain_s > a->limit_s) return status;
    if (!fits_with(a, many, &status)) return status;
    while (many - few > 1 && status == GRADIN_OK) {
        int middle = few + (many - few) / 2;
        if (fits_with(a, middle, &status))
            many = middle;
        else
            few = middle;
    }
    s->crew_needed = many;
    return status;
}

static gradin_status share_one(gradin_arena *arena, const gradin_partner *p,
                               const gradin_model *partner, const gradin_choose_options *how,
                               gradin_candidate *c, gradin_shared *s) {
    gradin_error why = {0};
    both_ways w = {&s->in, &s->out, &s->in_span, &s->out_span};
    attempt a = {c->model, partner, p->gap_s - p->margin_s, p->start_s, how->n_node};
    gradin_status status = plan_both(arena, partner, c->model, &a, w, &why);
    s->is_planned = status == GRADIN_OK;
    if (!s->is_planned) {
        snprintf(s->why_not, sizeof s->why_not, "%s",
                 why.n_diagnostic > 0 ? why.diagnostic[0].text : gradin_status_name(status));
        return status == GRADIN_BAD_INPUT ? GRADIN_OK : status;
    }
    bool is_long = s->in_span.total_s > a.limit_s || s->out_span.total_s > a.limit_s;
    return how->finds_crew && is_long ? find_crew(&a, s) : GRADIN_OK;
}

static double longer(int in_s, int out_s) {
    return in_s > out_s ? in_s : out_s;
}

gradin_asked choose_hours(const gradin_shared *s) {
    if (!s->is_planned) return choose_no_figure();
    double plan_s = longer(s->in_span.total_s, s->out_span.total_s);
    double least_s = longer(s->in_span.bound_s, s->out_span.bound_s);
    if (plan_s - least_s < clock_tells_s) return choose_certain(plan_s);
    gradin_asked f = choose_between(GRADIN_DOUBT_HOURS, least_s, plan_s, plan_s);
    for (int k = 0; k < GRADIN_N_SHIFT; k++)
        f.at[k] = least_s + (plan_s - least_s) * k / (GRADIN_N_SHIFT - 1);
    return f;
}

gradin_status choose_share(gradin_arena *arena, const gradin_show *show,
                           const gradin_model *partner, const gradin_choose_options *how,
                           gradin_candidate *c, gradin_error *error) {
    double hours = 0.0;
    c->figure[GRADIN_ASK_CHANGEOVER] = c->figure[GRADIN_ASK_CREW_HOURS] = choose_no_figure();
    for (int k = 0; k < show->n_partner; k++) {
        gradin_shared *s = &c->shared[k];
        gradin_status status = share_one(arena, &show->partner[k], &partner[k], how, c, s);
        if (status != GRADIN_OK)
            return gradin_error_add(error, status, NULL, "a changeover cannot be planned");
        gradin_asked f = choose_hours(s);
        gradin_asked *longest = &c->figure[GRADIN_ASK_CHANGEOVER];
        if (k == 0 || isnan(f.value) || f.value > longest->value) *longest = f;
        hours += s->is_planned ? s->in.person_hours + s->out.person_hours : NAN;
    }
    if (show->n_partner > 0) c->figure[GRADIN_ASK_CREW_HOURS] = choose_certain(hours);
    return GRADIN_OK;
}
