/* What a show must have: each figure beside its need.
 *
 * A must-have is kept when all of what the figure may be keeps it, and missed when none of it does;
 * in between it is too near to tell. What it misses by is told as the need that the figure surely
 * keeps. To compare misses of different kinds, each counts as the part by which its need must give
 * way: (need - figure)/need where more is better, (figure - need)/figure where less is, so that 0
 * is none and 1 all of it; a layout's miss is their sum. */
#include "studies/choose/choose.h"

/* Shares of whole seats and rounded needs meet exactly. */
static const double slack = 1e-9;

gradin_verdict choose_verdict(const gradin_asked *figure, double need, bool wants_more) {
    double worst = wants_more ? figure->low : -figure->high;
    double best = wants_more ? figure->high : -figure->low;
    double least = wants_more ? need : -need, by = slack * (1.0 + fabs(need));
    if (isnan(worst) || isnan(best)) return GRADIN_VERDICT_OVER;
    if (worst >= least - by) return GRADIN_VERDICT_WITHIN;
    return best < least - by ? GRADIN_VERDICT_OVER : GRADIN_VERDICT_NEAR;
}

static void add(gradin_candidate *c, gradin_ask ask, int partner, double need,
                const gradin_asked *figure) {
    bool wants_more = gradin_ask_wants_more(ask);
    gradin_verdict verdict = choose_verdict(figure, need, wants_more);
    double surely = wants_more ? figure->low : figure->high;
    c->must[c->n_must++] =
        (gradin_must){.ask = ask,
                      .partner = partner,
                      .need = need,
                      .figure = *figure,
                      .margin = wants_more ? figure->value - need : need - figure->value,
                      .verdict = verdict,
                      .lets_in = verdict == GRADIN_VERDICT_WITHIN ? NAN : surely};
}

static void add_if(gradin_candidate *c, gradin_ask ask, double need, bool is_asked) {
    if (is_asked) add(c, ask, -1, need, &c->figure[ask]);
}

static void add_form(const gradin_show *show, gradin_candidate *c) {
    bool is_any = false;
    for (int k = 0; k < GRADIN_N_FORM; k++) is_any = is_any || show->is_form_excluded[k];
    gradin_asked allowed = choose_certain(show->is_form_excluded[c->model->form] ? 0.0 : 1.0);
    if (is_any) add(c, GRADIN_ASK_FORM, -1, 1.0, &allowed);
}

static void add_changeovers(const gradin_show *show, gradin_candidate *c) {
    for (int k = 0; k < show->n_partner; k++) {
        const gradin_partner *p = &show->partner[k];
        gradin_asked figure = choose_hours(&c->shared[k]);
        add(c, GRADIN_ASK_CHANGEOVER, k, p->gap_s - p->margin_s, &figure);
    }
}

double choose_part(double need, double figure, bool wants_more) {
    if (isnan(figure)) return 1.0;
    if (wants_more ? figure >= need : figure <= need) return 0.0;
    return fabs(need - figure) / fmax(need, figure);
}

static double part_missed(const gradin_must *m) {
    if (m->verdict == GRADIN_VERDICT_WITHIN) return 0.0;
    return choose_part(m->need, m->lets_in, gradin_ask_wants_more(m->ask));
}

static void sum_up(gradin_candidate *c) {
    c->verdict = GRADIN_VERDICT_WITHIN;
    c->miss = 0.0;
    for (int k = 0; k < c->n_must; k++) {
        c->miss += part_missed(&c->must[k]);
        if (c->must[k].verdict == GRADIN_VERDICT_OVER) c->verdict = GRADIN_VERDICT_OVER;
        if (c->must[k].verdict == GRADIN_VERDICT_NEAR && c->verdict == GRADIN_VERDICT_WITHIN)
            c->verdict = GRADIN_VERDICT_NEAR;
    }
}

void choose_musts(const gradin_show *show, gradin_candidate *c) {
    c->n_must = 0;
    add_form(show, c);
    add_if(c, GRADIN_ASK_SEATS, show->seats, show->seats > 0);
    add_if(c, GRADIN_ASK_WHEELCHAIRS, show->wheelchairs, show->wheelchairs > 0);
    add_if(c, GRADIN_ASK_STAGE, show->stage_m2, show->stage_m2 > 0.0);
    add_if(c, GRADIN_ASK_CLEAR, show->clear_share, show->clear_share > 0.0);
    add_if(c, GRADIN_ASK_GOOD, show->good_share, show->good_share > 0.0);
    add_if(c, GRADIN_ASK_DISTANCE, show->distance_m, isfinite(show->distance_m));
    add_if(c, GRADIN_ASK_EVENTS, show->events, !isnan(show->events));
    add_if(c, GRADIN_ASK_WORDS, show->words_lost_a_show_s,
           !isnan(show->words_lost_a_show_s) && !show->is_amplified);
    add_changeovers(show, c);
    sum_up(c);
}
