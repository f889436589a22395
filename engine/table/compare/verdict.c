/* What a comparison comes to, in sentences with the figures that make them. */
#include "table/compare/words.h"

#include <stdlib.h>
#include <string.h>

typedef struct sides {
    const gradin_comparison *c;
    const gradin_compared_pair *pair;
    const gradin_compared_layout *layout[2];
    const char *name[2];
} sides;

/* What the second is beside the first in an aim. */
static gradin_effect beside(const sides *s, gradin_aim aim) {
    return s->layout[1]->against[s->pair->first][aim];
}

static int ahead_in(const sides *s, gradin_aim aim) {
    gradin_effect effect = beside(s, aim);
    return effect == GRADIN_EFFECT_BETTER ? 1 : effect == GRADIN_EFFECT_WORSE ? 0 : -1;
}

static void put_percent(table_text *out, double share) {
    table_put_number(out, TABLE_PERCENT, 100.0 * share);
    table_put(out, " %");
}

static void put_sight(table_text *out, const sides *s) {
    int ahead = ahead_in(s, GRADIN_AIM_CLEAR);
    int of = ahead < 0 ? 0 : ahead;
    if (ahead < 0)
        table_put(out, "Neither has more clear seats by what can be told: ");
    else
        table_print(out, "%s has more clear seats: ", s->name[ahead]);
    put_percent(out, s->layout[of]->aim[GRADIN_AIM_CLEAR]);
    table_print(out, " of the seats of %s are clear, ", s->name[of]);
    put_percent(out, s->layout[1 - of]->aim[GRADIN_AIM_CLEAR]);
    table_print(out, " of those of %s.", s->name[1 - of]);
}

/* The figure that keeps most seats from being clear; NONE when all are. */
static gradin_reason most_frequent(const gradin_seat_sums *sum) {
    gradin_reason most = GRADIN_REASON_NONE;
    for (int k = GRADIN_REASON_VISIBLE; k < (int)GRADIN_N_REASON; k++)
        if (sum->n_reason[k] > (most == GRADIN_REASON_NONE ? 0 : sum->n_reason[most]))
            most = (gradin_reason)k;
    return most;
}

static void put_reason(table_text *out, const sides *s, int of) {
    const gradin_seat_sums *all = &s->layout[of]->all;
    gradin_reason reason = most_frequent(all);
    if (reason == GRADIN_REASON_NONE)
        table_print(out, "nothing in %s", s->name[of]);
    else
        table_print(out, "%s in %s (%d seats)",
                    table_figure_name((gradin_figure)(reason - GRADIN_REASON_VISIBLE)), s->name[of],
                    all->n_reason[reason]);
}

/* What a share of clear seats hides: why the others are not, and how little the worst see. */
static void put_why(table_text *out, const sides *s) {
    table_put(out, " What most often keeps a seat from being clear: ");
    put_reason(out, s, 0);
    table_put(out, ", ");
    put_reason(out, s, 1);
    table_put(out, ". One seat of ten sees no more of its focus than ");
    put_percent(out, s->layout[0]->all.figure[GRADIN_FIGURE_VISIBLE].p10);
    table_print(out, " in %s, ", s->name[0]);
    put_percent(out, s->layout[1]->all.figure[GRADIN_FIGURE_VISIBLE].p10);
    table_print(out, " in %s.", s->name[1]);
}

/* "places for wheelchairs" only where they differ. */
static void put_wheelchairs(table_text *out, const sides *s, int of) {
    int own = s->layout[of]->all.n_wheelchair, other = s->layout[1 - of]->all.n_wheelchair;
    if (own != other) table_print(out, ", and %d wheelchair places for %d", own, other);
    table_put(out, ".");
}

static void put_seats(table_text *out, const sides *s) {
    int ahead = ahead_in(s, GRADIN_AIM_CLEAR), of = ahead < 0 ? 1 : ahead;
    int n = s->layout[of]->all.n_seat, other = s->layout[1 - of]->all.n_seat;
    if (n == other) {
        table_print(out, " Both have %d seats", n);
    } else {
        const char *word = ahead < 0 ? s->name[of] : n > other ? "And it" : "But it";
        table_print(out, " %s has %d seat%s %s (%d for %d)", word, abs(n - other),
                    abs(n - other) == 1 ? "" : "s", n > other ? "more" : "fewer", n, other);
    }
    put_wheelchairs(out, s, of);
}

static void put_matched(table_text *out, const sides *s) {
    const gradin_change_sums *all = &s->pair->all;
    int n = all->n_better + all->n_same + all->n_worse;
    if (n == 0) {
        table_put(out, " No seat of one is a seat of the other.");
        return;
    }
    table_print(out,
                " Of %d seats that both have, %d %s a better class in %s, %d a worse one and %d "
                "the same.",
                n, all->n_better, all->n_better == 1 ? "has" : "have", s->name[1], all->n_worse,
                all->n_same);
}

static void put_level(table_text *out, const sides *s, int of) {
    table_put_number(out, TABLE_DECIBEL, s->layout[of]->aim[GRADIN_AIM_NOISE]);
}

static void put_noise(table_text *out, const sides *s) {
    int ahead = ahead_in(s, GRADIN_AIM_NOISE);
    bool is_known[2] = {s->layout[0]->assessment->has_noise, s->layout[1]->assessment->has_noise};
    if (is_known[0] != is_known[1])
        table_print(out, " Noise is known of %s only.", s->name[is_known[1]]);
    if (beside(s, GRADIN_AIM_NOISE) == GRADIN_EFFECT_NONE) return;
    if (ahead < 0) {
        table_put(out, " Noise at the median seat shows no difference that can be told: ");
        put_level(out, s, 0);
        table_put(out, " and ");
        put_level(out, s, 1);
        table_put(out, " dB(A), told from ");
        table_put_number(out, TABLE_DECIBEL, s->layout[1]->tells[s->pair->first][GRADIN_AIM_NOISE]);
        table_put(out, " dB on.");
        return;
    }
    table_print(out, " %s is quieter: ", s->name[ahead]);
    put_level(out, s, ahead);
    table_put(out, " dB(A) at the median seat, ");
    put_level(out, s, 1 - ahead);
    table_print(out, " in %s.", s->name[1 - ahead]);
}

static void put_way(table_text *out, const gradin_changeover *plan) {
    table_put_clock(out, plan->total_s, 0);
    table_put(out, " h (");
    table_put_number(out, TABLE_DECIBEL, plan->person_hours);
    table_put(out, " person-hours)");
}

static void put_changeover(table_text *out, const sides *s) {
    int n = s->c->n_layout, first = s->pair->first, second = s->pair->second;
    const gradin_compared_changeover *there = &s->c->changeover[first * n + second],
                                     *back = &s->c->changeover[second * n + first];
    const char *why_not = there->is_planned ? back->why_not : there->why_not;
    if (!there->is_planned || !back->is_planned) {
        table_print(out, " Changeover: none planned, %s.", why_not);
        return;
    }
    if (there->plan.n_move == 0 && back->plan.n_move == 0) {
        table_put(out, " Nothing moves between them.");
        return;
    }
    table_print(out, " From %s to %s takes ", s->name[0], s->name[1]);
    put_way(out, &there->plan);
    table_put(out, ", the way back ");
    put_way(out, &back->plan);
    table_put(out, ".");
}

static int list_ahead(table_text *out, const sides *s, int of) {
    int n = 0;
    for (int k = 0; k < GRADIN_N_AIM; k++) {
        if (ahead_in(s, (gradin_aim)k) != of) continue;
        if (out) table_print(out, "%s%s", n > 0 ? ", " : "", table_aim_name((gradin_aim)k));
        n++;
    }
    return n;
}

static void put_decision(table_text *out, const sides *s) {
    int n[2] = {list_ahead(NULL, s, 0), list_ahead(NULL, s, 1)};
    int of = n[0] > 0 ? 0 : 1;
    if (n[0] + n[1] == 0) return;
    table_print(out, " %s%s is ahead in ", n[0] > 0 && n[1] > 0 ? "The aims conflict: " : "",
                s->name[of]);
    list_ahead(out, s, of);
    if (n[1 - of] == 0) {
        table_put(out, " and behind in no aim that is compared.");
        return;
    }
    table_print(out, "; %s in ", s->name[1 - of]);
    list_ahead(out, s, 1 - of);
    table_put(out, ".");
}

static void put_areas(table_text *out, const gradin_model *model) {
    double sum = 0.0;
    for (int k = 0; k < model->n_focus; k++) sum += model->focus[k].weight;
    for (int k = 0; k < model->n_focus; k++) {
        const char *before = k == 0 ? "" : k + 1 < model->n_focus ? ", " : " and ";
        table_print(out, "%s%s", before, model->focus[k].name);
        if (model->n_focus == 1) return;
        table_put(out, " (");
        table_put_number(out, TABLE_PERCENT, 100.0 * model->focus[k].weight / sum);
        table_put(out, " %)");
    }
}

/* They differ in the weights alone. */
static bool is_all_common(const sides *s) {
    int n = s->pair->n_common_focus;
    return s->layout[0]->assessment->model->n_focus == n &&
           s->layout[1]->assessment->model->n_focus == n;
}

/* Classes and shares of the whole rest on what each is asked to see. */
static void put_focus(table_text *out, const sides *s) {
    if (!s->pair->is_focus_other) return;
    table_print(out, " They are not asked to see the same: %s is rated by ", s->name[0]);
    put_areas(out, s->layout[0]->assessment->model);
    table_print(out, ", %s by ", s->name[1]);
    put_areas(out, s->layout[1]->assessment->model);
    if (s->pair->n_common_focus == 0)
        table_put(out, ". No area has the same name, so shares of all are compared.");
    else if (is_all_common(s))
        table_print(out,
                    ". So their counts of classes say little of each other. Seat by seat both are "
                    "compared by the weights of %s.",
                    s->name[0]);
    else
        table_put(out, ". So their counts of classes say little of each other. Seat by seat only "
                       "what both name is compared.");
}

static void put_over(table_text *out, const gradin_model *m, const gradin_focus *f) {
    if (f->over_floor_m < GRADIN_FOCUS_OVER_M) {
        table_put(out, "on the floor");
        return;
    }
    table_put_length(out, f->over_floor_m, length_unit_of(m->units));
    table_put(out, " over the floor");
}

/* Where one is asked to see a floor and the other what is above it. */
static void put_raised(table_text *out, const sides *s) {
    const gradin_model *m[2] = {s->layout[0]->assessment->model, s->layout[1]->assessment->model};
    for (int i = 0; i < m[0]->n_focus; i++)
        for (int k = 0; k < m[1]->n_focus; k++) {
            const gradin_focus *a = &m[0]->focus[i], *b = &m[1]->focus[k];
            if (a->kind != GRADIN_FOCUS_FLOOR || b->kind != a->kind ||
                strcmp(a->name, b->name) != 0 ||
                fabs(a->over_floor_m - b->over_floor_m) < GRADIN_FOCUS_OVER_M)
                continue;
            table_print(out, " The focus area %s lies ", a->name);
            put_over(out, m[0], a);
            table_print(out, " in %s, ", s->name[0]);
            put_over(out, m[1], b);
            table_print(out, " in %s: shares seen are not of the same.", s->name[1]);
        }
}

static void put_caveats(table_text *out, const sides *s) {
    int n = 0;
    put_focus(out, s);
    put_raised(out, s);
    for (int k = GRADIN_REASON_VISIBLE; k < (int)GRADIN_N_REASON; k++) {
        if (!s->pair->is_limit_other[k]) continue;
        table_print(out, "%s%s", n++ > 0 ? ", " : " The two are rated by different limits of ",
                    gradin_reason_name((gradin_reason)k));
    }
    if (n > 0) table_put(out, ": --brief gives both the same.");
    if (s->pair->is_other_venue)
        table_put(out, " They stand in two venues, where seats of one name need have nothing in "
                       "common but it: --match place matches by place alone.");
    if (s->pair->is_criterion_other)
        table_put(out, " The two are held against different limits of noise.");
}

static bool has_figure_changed(const gradin_compared_pair *pair) {
    for (int k = 0; k < GRADIN_N_FIGURE; k++)
        if (pair->all.n_effect[k][GRADIN_EFFECT_WORSE] +
            pair->all.n_effect[k][GRADIN_EFFECT_BETTER])
            return true;
    return false;
}

static bool is_alike(const sides *s) {
    const gradin_change_sums *all = &s->pair->all;
    const gradin_seat_sums *a = &s->layout[0]->all, *b = &s->layout[1]->all;
    return !s->pair->is_focus_other &&
           all->n_alone[0] + all->n_alone[1] + all->n_better + all->n_worse == 0 &&
           a->n_wheelchair == b->n_wheelchair && a->n_companion == b->n_companion &&
           !has_figure_changed(s->pair);
}

void table_compare_verdict(table_text *out, const gradin_comparison *c, int pair) {
    const gradin_compared_pair *p = &c->pair[pair];
    sides s = {c,
               p,
               {&c->layout[p->first], &c->layout[p->second]},
               {table_compare_name(c, p->first), table_compare_name(c, p->second)}};
    if (strcmp(s.name[0], s.name[1]) == 0) s.name[0] = "A", s.name[1] = "B";
    if (is_alike(&s)) {
        table_print(out,
                    "No difference anywhere: the same %d seats, and no figure of any of them "
                    "moves by what can be told.",
                    s.layout[0]->all.n_seat);
        put_changeover(out, &s);
    } else {
        put_sight(out, &s);
        put_seats(out, &s);
        put_why(out, &s);
        put_matched(out, &s);
        put_noise(out, &s);
        put_changeover(out, &s);
        put_decision(out, &s);
    }
    put_caveats(out, &s);
}

void table_compare_front(table_text *out, const gradin_comparison *c) {
    int n_on = 0;
    for (int i = 0; i < c->n_layout; i++) n_on += c->layout[i].is_on_front;
    if (n_on == c->n_layout) {
        table_put(out, "None of them is beaten: each is ahead of any other in some aim, or level "
                       "with it. What is wanted most decides.");
        return;
    }
    table_put(out,
              "Not beaten in seats, clear and good seats, noise and changeover taken together: ");
    for (int i = 0, n = 0; i < c->n_layout; i++)
        if (c->layout[i].is_on_front)
            table_print(out, "%s%s", n++ > 0 ? ", " : "", table_compare_name(c, i));
    table_put(out, ". Each other one is behind one of these in some aim, and ahead of it in none.");
}
