/* What each layout achieves of the aims, and the Pareto front: a layout is off it when another one
 * is ahead in some aim and behind in none, by what can be told. Should that leave nobody, as small
 * differences in a circle can, all are on it. */
#include "studies/compare/compare.h"

static const double clock_tells_s = 60.0; /* times are printed in minutes */

static double hours_into(const gradin_comparison *c, int to) {
    double sum_s = 0.0;
    for (int from = 0; from < c->n_layout; from++) {
        const gradin_compared_changeover *way = &c->changeover[from * c->n_layout + to];
        if (from == to) continue;
        if (!way->is_planned) return NAN;
        sum_s += way->plan.total_s;
    }
    return sum_s / (c->n_layout - 1);
}

/* By how much plans that are not proven least could be shorter, in the mean. */
static double slack_into_s(const gradin_comparison *c, int to) {
    double sum_s = 0.0;
    for (int from = 0; from < c->n_layout; from++) {
        const gradin_changeover *plan = &c->changeover[from * c->n_layout + to].plan;
        if (from != to) sum_s += plan->total_s - plan->lower_bound_s;
    }
    return sum_s / (c->n_layout - 1);
}

static void set_aims(gradin_comparison *c, int i) {
    gradin_compared_layout *l = &c->layout[i];
    int n = l->all.n_seat;
    l->aim[GRADIN_AIM_SEATS] = n;
    int n_clear = l->all.n_rating[GRADIN_RATING_CLEAR],
        n_good = l->all.n_rating[GRADIN_RATING_GOOD];
    l->aim[GRADIN_AIM_CLEAR] = n > 0 ? (double)n_clear / n : 0.0;
    l->aim[GRADIN_AIM_GOOD] = n > 0 ? (double)(n_clear + n_good) / n : 0.0;
    l->aim[GRADIN_AIM_NOISE] = l->all.figure[GRADIN_FIGURE_LAMAX].median;
    l->aim[GRADIN_AIM_CHANGEOVER] = hours_into(c, i);
}

static double tells_of(const gradin_comparison *c, int i, int j, gradin_aim aim) {
    const gradin_compared_layout *a = &c->layout[i], *b = &c->layout[j];
    switch (aim) {
    case GRADIN_AIM_SEATS:
        return 0.0;
    case GRADIN_AIM_CLEAR:
        return compare_class_tells(a->assessment, GRADIN_RATING_CLEAR) +
               compare_class_tells(b->assessment, GRADIN_RATING_CLEAR);
    case GRADIN_AIM_GOOD:
        return compare_class_tells(a->assessment, GRADIN_RATING_GOOD) +
               compare_class_tells(b->assessment, GRADIN_RATING_GOOD);
    case GRADIN_AIM_NOISE:
        if (!a->assessment->has_noise || !b->assessment->has_noise) return NAN;
        gradin_common_noise common = compare_common_noise(a->assessment, b->assessment);
        return compare_noise_tells(a->assessment, -1, b->assessment, -1, &common);
    default:
        return clock_tells_s + slack_into_s(c, i) + slack_into_s(c, j);
    }
}

static void set_against(gradin_comparison *c, int i, int j) {
    gradin_compared_layout *l = &c->layout[i];
    for (int k = 0; k < GRADIN_N_AIM; k++) {
        l->tells[j][k] = tells_of(c, i, j, (gradin_aim)k);
        l->against[j][k] =
            compare_effect(l->aim[k] - c->layout[j].aim[k], l->tells[j][k], k <= GRADIN_AIM_GOOD);
    }
}

static bool is_beaten_by(const gradin_compared_layout *l, int other) {
    bool is_behind = false;
    for (int k = 0; k < GRADIN_N_AIM; k++) {
        if (l->against[other][k] == GRADIN_EFFECT_BETTER) return false;
        is_behind |= l->against[other][k] == GRADIN_EFFECT_WORSE;
    }
    return is_behind;
}

void compare_front(gradin_comparison *c) {
    int n_on = 0;
    for (int i = 0; i < c->n_layout; i++) set_aims(c, i);
    for (int i = 0; i < c->n_layout; i++) {
        gradin_compared_layout *l = &c->layout[i];
        l->is_on_front = true;
        for (int j = 0; j < c->n_layout; j++) {
            if (j == i) continue;
            set_against(c, i, j);
            l->is_on_front = l->is_on_front && !is_beaten_by(l, j);
        }
        n_on += l->is_on_front;
    }
    for (int i = 0; i < c->n_layout && n_on == 0; i++) c->layout[i].is_on_front = true;
}
