/* What changed from a seat of one layout to the same seat of another, figure by figure, which of
 * them moved its class, and the seats that changed most. */
#include "studies/compare/compare.h"

#include <stdlib.h>

static gradin_figure figure_of(gradin_reason reason) {
    return (gradin_figure)((int)reason - 1);
}
_Static_assert((int)GRADIN_REASON_VISIBLE - 1 == (int)GRADIN_FIGURE_VISIBLE &&
                   (int)GRADIN_REASON_TURN - 1 == (int)GRADIN_FIGURE_TURN,
               "the figures of a rating stand in one order");

static double at(const double *value, int seat) {
    return value ? value[seat] : NAN;
}

double compare_value(const gradin_assessment *a, gradin_figure figure, int seat) {
    const gradin_sight *s = &a->sight;
    switch (figure) {
    case GRADIN_FIGURE_VISIBLE:
        return at(s->visible, seat);
    case GRADIN_FIGURE_CLEAR_VIEW:
        return a->has_crowd ? at(a->crowd.clear, seat) : NAN;
    case GRADIN_FIGURE_C_VALUE:
        return at(s->c_m, seat);
    case GRADIN_FIGURE_DISTANCE:
        return at(s->distance_m, seat);
    case GRADIN_FIGURE_OFF_AXIS:
        return at(s->off_axis_deg, seat);
    case GRADIN_FIGURE_DOWN:
        return at(s->down_deg, seat);
    case GRADIN_FIGURE_TURN:
        return at(s->turn_deg, seat);
    default:
        return a->has_noise ? at(a->noise.lamax_db[GRADIN_SHADES_AS_SET], seat) : NAN;
    }
}

bool compare_is_more_better(gradin_figure figure) {
    return figure <= GRADIN_FIGURE_C_VALUE;
}

gradin_effect compare_effect(double change, double tells, bool is_more_better) {
    if (!isfinite(change) || !isfinite(tells)) return GRADIN_EFFECT_NONE;
    if (fabs(change) <= tells) return GRADIN_EFFECT_SAME;
    return (change > 0.0) == is_more_better ? GRADIN_EFFECT_BETTER : GRADIN_EFFECT_WORSE;
}

static bool is_over_two_rows(const gradin_assessment *a, int seat) {
    return a->sight.c_case && a->sight.c_case[seat] == GRADIN_C_TWO_AHEAD;
}

/* C over two rows is not C over one: seats of which only one looks so far are compared over
 * the row in front. */
static bool are_over_other_rows(const gradin_assessment *const side[2],
                                const gradin_seat_change *c) {
    return is_over_two_rows(side[0], c->seat[0]) != is_over_two_rows(side[1], c->seat[1]);
}

static double value_of(const gradin_assessment *const side[2], const compare_focus *focus, int of,
                       gradin_figure figure, const gradin_seat_change *c) {
    if (figure == GRADIN_FIGURE_VISIBLE) return compare_seen(focus, side[of], of, c->seat[of]);
    if (figure == GRADIN_FIGURE_C_VALUE && are_over_other_rows(side, c))
        return at(side[of]->sight.c_row_m, c->seat[of]);
    return compare_value(side[of], figure, c->seat[of]);
}

static void find_effects(const gradin_assessment *const side[2], const compare_focus *focus,
                         gradin_seat_change *c) {
    for (int k = 0; k < GRADIN_N_FIGURE; k++) {
        gradin_figure figure = (gradin_figure)k;
        for (int of = 0; of < 2; of++) c->value[of][k] = value_of(side, focus, of, figure, c);
        c->change[k] = c->value[1][k] - c->value[0][k];
        c->effect[k] = compare_effect(c->change[k], c->tells[k], compare_is_more_better(figure));
    }
}

/* The figure that sets the worse of the two classes has moved, or only one of the layouts has it,
 * or it is C over another row than before. */
static void find_steps(const gradin_assessment *const side[2], gradin_seat_change *c) {
    int first = (int)side[0]->sight.rating[c->seat[0]],
        second = (int)side[1]->sight.rating[c->seat[1]];
    if (first == second) return;
    bool is_worse = second > first;
    gradin_figure cause = figure_of(side[is_worse]->sight.reason[c->seat[is_worse]]);
    gradin_effect moved = is_worse ? GRADIN_EFFECT_WORSE : GRADIN_EFFECT_BETTER;
    bool is_other_row = cause == GRADIN_FIGURE_C_VALUE && are_over_other_rows(side, c);
    if (c->effect[cause] != moved && c->effect[cause] != GRADIN_EFFECT_NONE && !is_other_row)
        return;
    c->steps = first - second;
    c->cause = cause;
}

static void find_hidden(const gradin_assessment *const side[2], gradin_seat_change *c) {
    c->hidden_change = 0.0;
    for (int k = 0; k < GRADIN_N_CAUSE; k++) {
        double change = side[1]->sight.hidden[(size_t)c->seat[1] * GRADIN_N_CAUSE + (size_t)k] -
                        side[0]->sight.hidden[(size_t)c->seat[0] * GRADIN_N_CAUSE + (size_t)k];
        if (fabs(change) <= fabs(c->hidden_change)) continue;
        c->hidden_change = change;
        c->hidden = (gradin_cause)k;
    }
}

static gradin_seat_change matched_change(const gradin_assessment *const side[2],
                                         const compare_partners *partners, int seat,
                                         const gradin_common_noise *common,
                                         const compare_focus *focus) {
    gradin_seat_change c = {.seat = {seat, partners->partner[seat]},
                            .matched = partners->matched[seat],
                            .apart_m = partners->apart_m[seat],
                            .cause = GRADIN_N_FIGURE,
                            .hidden_change = NAN};
    compare_tells(side[0], c.seat[0], side[1], c.seat[1], common, focus, c.tells);
    find_effects(side, focus, &c);
    find_steps(side, &c);
    /* what hides is known of all that is looked at, not of its common part */
    if (!focus->is_part) find_hidden(side, &c);
    return c;
}

static gradin_seat_change lone_change(const gradin_assessment *const side[2], int of, int seat) {
    gradin_seat_change c = {.seat = {-1, -1},
                            .matched = GRADIN_MATCHED_NOT,
                            .apart_m = NAN,
                            .cause = GRADIN_N_FIGURE,
                            .hidden_change = NAN};
    c.seat[of] = seat;
    for (int k = 0; k < GRADIN_N_FIGURE; k++) {
        c.value[of][k] = compare_value(side[of], (gradin_figure)k, seat);
        c.value[1 - of][k] = c.change[k] = c.tells[k] = NAN;
    }
    return c;
}

static double told(const gradin_seat_change *c, gradin_figure figure) {
    bool is_told =
        c->effect[figure] == GRADIN_EFFECT_WORSE || c->effect[figure] == GRADIN_EFFECT_BETTER;
    return is_told ? fabs(c->change[figure]) : 0.0;
}

/* By classes, then by what is seen, then by level. */
static bool is_larger(const gradin_seat_change *a, const gradin_seat_change *b) {
    if (abs(a->steps) != abs(b->steps)) return abs(a->steps) > abs(b->steps);
    double seen = told(a, GRADIN_FIGURE_VISIBLE) - told(b, GRADIN_FIGURE_VISIBLE);
    if (seen != 0.0) return seen > 0.0;
    return told(a, GRADIN_FIGURE_LAMAX) > told(b, GRADIN_FIGURE_LAMAX);
}

static bool has_changed(const gradin_seat_change *c) {
    return c->steps != 0 || told(c, GRADIN_FIGURE_VISIBLE) > 0.0 ||
           told(c, GRADIN_FIGURE_LAMAX) > 0.0;
}

static void find_largest(gradin_compared_pair *pair) {
    const gradin_seat_change *c = pair->change;
    for (int i = 0; i < pair->n_change; i++) {
        if (!has_changed(&c[i])) continue;
        int n = pair->n_largest;
        if (n == GRADIN_N_LARGEST && !is_larger(&c[i], &c[pair->largest[n - 1]])) continue;
        int place = n < GRADIN_N_LARGEST ? pair->n_largest++ : n - 1;
        for (; place > 0 && is_larger(&c[i], &c[pair->largest[place - 1]]); place--)
            pair->largest[place] = pair->largest[place - 1];
        pair->largest[place] = i;
    }
}

gradin_status compare_changes(gradin_arena *arena, const gradin_assessment *a,
                              const gradin_assessment *b, const compare_partners *partners,
                              gradin_compared_pair *pair) {
    const gradin_assessment *const side[2] = {a, b};
    const compare_focus focus = compare_find_focus(a->model, b->model);
    pair->is_focus_other = focus.is_other;
    pair->n_common_focus = focus.n;
    int n_first = a->sight.n_seat, n_second = b->sight.n_seat;
    pair->change = gradin_arena_alloc(arena, (size_t)(n_first + n_second), sizeof *pair->change);
    if (!pair->change) return GRADIN_NO_MEMORY;
    for (int i = 0; i < n_first; i++)
        pair->change[pair->n_change++] =
            partners->partner[i] >= 0 ? matched_change(side, partners, i, &pair->common, &focus)
                                      : lone_change(side, 0, i);
    for (int i = 0; i < n_second; i++)
        if (partners->back[i] < 0) pair->change[pair->n_change++] = lone_change(side, 1, i);
    find_largest(pair);
    return GRADIN_OK;
}
