/* What a choice comes to, in sentences with the figures that make them. */
#include "table/choose/choose.h"

static void put_percent(table_text *out, double share) {
    table_put_number(out, TABLE_COUNT, 100.0 * share);
    table_put(out, " %");
}

static const char *units_of(const gradin_candidate *c) {
    return c->model->units;
}

static const char *least_or_most(gradin_ask ask) {
    return gradin_ask_wants_more(ask) ? "at least" : "at most";
}

/* "seats to sell: 431, at least 450" */
static void put_must(table_text *out, const gradin_choice *choice, const gradin_candidate *c,
                     const gradin_must *m) {
    table_put_ask(out, choice, m->ask, m->partner);
    if (m->ask == GRADIN_ASK_FORM) {
        table_print(out, ": %s is out of the question", gradin_form_name(c->model->form));
        return;
    }
    if (isnan(m->figure.value)) {
        table_put(out, ": there is no figure");
        return;
    }
    table_put(out, ": ");
    table_put_asked(out, m->ask, m->figure.value, units_of(c));
    table_print(out, ", needed %s ", least_or_most(m->ask));
    table_put_asked(out, m->ask, m->need, units_of(c));
}

static void put_unmet(table_text *out, const gradin_choice *choice, const gradin_candidate *c,
                      gradin_verdict verdict, const char *before) {
    bool is_first = true;
    for (int k = 0; k < c->n_must; k++) {
        if (c->must[k].verdict != verdict) continue;
        table_put(out, is_first ? before : "; ");
        put_must(out, choice, c, &c->must[k]);
        is_first = false;
    }
    if (!is_first) table_put(out, ".");
}

/* The must-have that it keeps by the least part of its need, as far as that is known. */
static const gradin_must *narrowest(const gradin_candidate *c) {
    const gradin_must *found = NULL;
    double least = INFINITY;
    for (int k = 0; k < c->n_must; k++) {
        const gradin_must *m = &c->must[k];
        bool wants_more = gradin_ask_wants_more(m->ask);
        double edge = wants_more ? m->figure.low - m->need : m->need - m->figure.high;
        double part = edge / fmax(fabs(m->need), 1e-9);
        if (m->ask == GRADIN_ASK_FORM || part >= least) continue;
        least = part;
        found = m;
    }
    return found;
}

static void put_narrowest(table_text *out, const gradin_choice *choice, const gradin_candidate *c) {
    const gradin_must *m = narrowest(c);
    if (!m) return;
    table_put(out, " Least to spare, as a part of the need, has ");
    put_must(out, choice, c, m);
    table_put(out, ".");
}

static void put_score(table_text *out, const gradin_choice *choice, const gradin_candidate *c) {
    if (choice->show->n_wished == 0) return;
    table_put(out, " It scores ");
    table_put_number(out, TABLE_COUNT, 100.0 * c->score);
    table_put(out, " of 100 by the wishes of the show.");
}

/* Those after the first that cannot be told from it. */
static void put_level(table_text *out, const gradin_choice *choice) {
    for (int k = 0; k + 1 < choice->n_candidate && !choice->is_told[k]; k++) {
        const gradin_candidate *one = &choice->candidate[choice->order[k]];
        const gradin_candidate *next = &choice->candidate[choice->order[k + 1]];
        table_print(out, " Between %s and %s there is no difference that can be told",
                    one->model->layout_name, next->model->layout_name);
        if (choice->show->n_wished > 0) {
            table_put(out, " (");
            table_put_number(out, TABLE_COUNT, 100.0 * one->score);
            table_put(out, " and ");
            table_put_number(out, TABLE_COUNT, 100.0 * next->score);
            table_put(out, " of 100 by the wishes of the show)");
        }
        table_put(out, ".");
    }
}

static void put_chance(table_text *out, const gradin_choice *choice, const gradin_candidate *c) {
    table_put(out, " When all that is uncertain is drawn by chance, it has all in ");
    put_percent(out, c->meets_share);
    if (choice->n_candidate > 1) {
        table_put(out, " of the draws and comes first in ");
        put_percent(out, c->first_share);
    }
    table_put(out, choice->n_candidate > 1 ? "." : " of the draws.");
}

void table_choice_answer(table_text *out, const gradin_choice *choice) {
    const gradin_candidate *c = &choice->candidate[choice->order[0]];
    const char *name = c->model->layout_name;
    if (choice->n_meets > 0) {
        table_print(out, "%s has all that the show must have%s.", name,
                    choice->n_meets > 1 && choice->show->n_wished > 0 ? ", and the most of what "
                                                                        "it wishes"
                                                                      : "");
        put_score(out, choice, c);
        put_level(out, choice);
        put_narrowest(out, choice, c);
    } else if (choice->n_near > 0) {
        table_print(out, "No layout surely has all that the show must have. %s may.", name);
        put_unmet(out, choice, c, GRADIN_VERDICT_NEAR, " Too near to tell: ");
        put_level(out, choice);
    } else {
        table_print(out, "No layout has all that the show must have. The nearest is %s.", name);
        put_unmet(out, choice, c, GRADIN_VERDICT_OVER, " It lacks ");
        put_unmet(out, choice, c, GRADIN_VERDICT_NEAR, " Too near to tell: ");
        put_level(out, choice);
    }
    put_chance(out, choice, c);
}

static void put_crew(table_text *out, const gradin_partner *p, const gradin_shared *s) {
    int in_s = s->in.longest_chain_s, out_s = s->out.longest_chain_s;
    int chain_s = in_s > out_s ? in_s : out_s;
    if (s->crew_needed > 0)
        table_print(out, ", or %d people on it (now %d)", s->crew_needed, s->in.crew);
    if (s->crew_needed >= 0) return;
    table_put(out, ", and three times the crew does not help");
    if (chain_s > p->gap_s - p->margin_s) {
        table_put(out, ": moves that wait for each other take ");
        table_put_clock(out, chain_s, 0);
        table_put(out, " h whatever the crew");
    }
}

static void let_changeover_in(table_text *out, const gradin_choice *choice,
                              const gradin_candidate *c, const gradin_must *m) {
    const gradin_partner *p = &choice->show->partner[m->partner];
    const gradin_shared *s = &c->shared[m->partner];
    if (!s->is_planned) {
        table_print(out, "a changeover with %s that can be planned (%s)", p->name, s->why_not);
        return;
    }
    table_print(out, "%s ", p->name);
    table_put_relaxed(out, m->ask, m->lets_in + p->margin_s, NULL);
    table_put(out, " away (now ");
    table_put_asked(out, m->ask, p->gap_s, NULL);
    table_put(out, ", the margin kept)");
    put_crew(out, p, s);
}

static void let_in(table_text *out, const gradin_choice *choice, const gradin_candidate *c,
                   const gradin_must *m) {
    if (m->ask == GRADIN_ASK_CHANGEOVER) {
        let_changeover_in(out, choice, c, m);
        return;
    }
    if (m->ask == GRADIN_ASK_FORM) {
        table_print(out, "%s allowed", gradin_form_name(c->model->form));
        return;
    }
    if (isnan(m->lets_in)) {
        table_print(out, "no need of %s", gradin_ask_name(m->ask));
        return;
    }
    table_print(out, "%s %s ", gradin_ask_name(m->ask), least_or_most(m->ask));
    table_put_relaxed(out, m->ask, m->lets_in, units_of(c));
    table_put(out, " (now ");
    table_put_asked(out, m->ask, m->need, units_of(c));
    table_put(out, ")");
    int n_short = (int)(m->need - m->lets_in);
    if (m->ask == GRADIN_ASK_SEATS && n_short <= c->n_held)
        table_print(out, ", or %d of the %d seats sold that are held back", n_short, c->n_held);
}

void table_choice_lets_in(table_text *out, const gradin_choice *choice, int candidate) {
    const gradin_candidate *c = &choice->candidate[candidate];
    bool is_first = true;
    for (int k = 0; k < c->n_must; k++) {
        if (c->must[k].verdict == GRADIN_VERDICT_WITHIN) continue;
        table_put(out, is_first ? "" : "; and ");
        let_in(out, choice, c, &c->must[k]);
        is_first = false;
    }
    if (!is_first) table_put(out, ".");
}
