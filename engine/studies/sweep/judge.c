/* Does a point keep the needs, and which of two is better? A need is surely kept when the bound of
 * the figure keeps it, surely missed when no value within the bounds does, and too near to tell
 * between; a figure that is not there tells nothing. */
#include "studies/sweep/sweep.h"

static const double tie = 1e-9;

int sweep_column(const gradin_study *s, gradin_study_figure figure) {
    for (int i = 0; i < s->n_figure; i++)
        if (s->figure[i] == figure) return i;
    return -1;
}

static gradin_verdict judge_one(const gradin_known *k, const gradin_study_bound *b) {
    if (isnan(k->value)) return GRADIN_VERDICT_NEAR;
    if (k->low >= b->least && k->high <= b->most) return GRADIN_VERDICT_WITHIN;
    return k->high < b->least || k->low > b->most ? GRADIN_VERDICT_OVER : GRADIN_VERDICT_NEAR;
}

gradin_verdict sweep_judge(const gradin_study *s, const gradin_sweep_row *row) {
    gradin_verdict all = GRADIN_VERDICT_WITHIN;
    if (row->refused) return GRADIN_VERDICT_OVER;
    for (int i = 0; i < s->n_bound; i++) {
        int column = sweep_column(s, s->bound[i].figure);
        gradin_verdict one = judge_one(&row->figure[column], &s->bound[i]);
        if (one == GRADIN_VERDICT_OVER) return one;
        if (one == GRADIN_VERDICT_NEAR) all = one;
    }
    return all;
}

bool sweep_keeps_as_stated(const gradin_study *s, const gradin_sweep_row *row) {
    if (row->refused) return false;
    for (int i = 0; i < s->n_bound; i++) {
        double value = row->figure[sweep_column(s, s->bound[i].figure)].value;
        if (!(value >= s->bound[i].least && value <= s->bound[i].most)) return false;
    }
    return true;
}

/* Part of a bound that a value misses it by; of a bound 0 the miss itself. */
double sweep_part_missed(double value, const gradin_study_bound *b) {
    double by = value < b->least ? b->least - value : value > b->most ? value - b->most : 0.0;
    double bound = value < b->least ? b->least : b->most;
    if (isnan(value)) return INFINITY;
    return by > 0.0 && bound != 0.0 ? by / fabs(bound) : by;
}

double sweep_miss(const gradin_study *s, const gradin_sweep_row *row) {
    double most = 0.0;
    for (int i = 0; i < s->n_bound && !row->refused; i++)
        most = fmax(most, sweep_part_missed(row->figure[sweep_column(s, s->bound[i].figure)].value,
                                            &s->bound[i]));
    return row->refused ? INFINITY : most;
}

/* More is better; what is not there is worst. */
static double worth(const gradin_study *s, const gradin_sweep_row *row, int aim) {
    double value = row->figure[sweep_column(s, s->aim[aim].figure)].value;
    if (isnan(value)) return -INFINITY;
    return s->aim[aim].wants_most ? value : -value;
}

int sweep_compare(const gradin_study *s, const gradin_sweep_row *a, const gradin_sweep_row *b) {
    for (int i = 0; i < s->n_aim; i++) {
        double p = worth(s, a, i), q = worth(s, b, i);
        if (p == q || fabs(p - q) <= tie * fmax(fabs(p), fabs(q))) continue;
        return p > q ? -1 : 1;
    }
    return a->point < b->point ? -1 : a->point > b->point;
}

/* Is a no worse in any aim and better in one? */
bool sweep_beats(const gradin_study *s, const gradin_sweep_row *a, const gradin_sweep_row *b) {
    bool is_better = false;
    for (int i = 0; i < s->n_aim; i++) {
        double p = worth(s, a, i), q = worth(s, b, i);
        if (p == q || fabs(p - q) <= tie * fmax(fabs(p), fabs(q))) continue;
        if (p < q) return false;
        is_better = true;
    }
    return is_better;
}
