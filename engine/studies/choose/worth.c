/* What a layout is worth to a show, and the order of all.
 *
 * The additive value model with stated ends and direct weights (Keeney and Raiffa, Decisions with
 * Multiple Objectives, chapter 3; from memory): each wish is worth 0 at one stated figure and 1 at
 * the other, straight between, and a layout scores their mean by weight. The ends are stated and
 * not taken from the layouts at hand, so that a further layout cannot turn the others around. */
#include "studies/choose/choose.h"

static const double same_score = 1e-12;

double choose_worth(const gradin_wished *wished, double value) {
    if (isnan(value)) return 0.0;
    double share = (value - wished->nothing_at) / (wished->full_at - wished->nothing_at);
    return fmin(fmax(share, 0.0), 1.0);
}

double choose_score(const gradin_show *show, const double *worth) {
    double sum = 0.0, weights = 0.0;
    for (int k = 0; k < show->n_wished; k++) {
        sum += show->wished[k].weight * worth[k];
        weights += show->wished[k].weight;
    }
    return weights > 0.0 ? sum / weights : 0.0;
}

void choose_worths(const gradin_show *show, gradin_candidate *c) {
    for (int k = 0; k < show->n_wished; k++)
        c->worth[k] = choose_worth(&show->wished[k], c->figure[show->wished[k].ask].value);
    c->score = choose_score(show, c->worth);
}

/* Below 0 when a comes first. */
static int compare(const gradin_candidate *a, const gradin_candidate *b) {
    if (a->verdict != b->verdict) return a->verdict < b->verdict ? -1 : 1;
    bool is_missing = a->verdict == GRADIN_VERDICT_OVER;
    double by = is_missing ? a->miss - b->miss : b->score - a->score;
    if (is_missing && fabs(by) <= same_score) by = b->score - a->score;
    return fabs(by) <= same_score ? 0 : by < 0.0 ? -1 : 1;
}

void choose_order(gradin_choice *choice) {
    for (int i = 0; i < choice->n_candidate; i++) {
        const gradin_candidate *c = &choice->candidate[i];
        int k = i;
        for (; k > 0 && compare(c, &choice->candidate[choice->order[k - 1]]) < 0; k--)
            choice->order[k] = choice->order[k - 1];
        choice->order[k] = i;
        choice->n_meets += c->verdict == GRADIN_VERDICT_WITHIN;
        choice->n_near += c->verdict == GRADIN_VERDICT_NEAR;
    }
}

bool choose_competes(const gradin_choice *choice, int candidate) {
    return choice->candidate[candidate].verdict == choice->candidate[choice->order[0]].verdict;
}

bool choose_give_first(const double *score, const bool *is_in, int n, double *share) {
    double best = -INFINITY;
    int n_best = 0;
    for (int i = 0; i < n; i++)
        if (is_in[i]) best = fmax(best, score[i]);
    for (int i = 0; i < n; i++) n_best += is_in[i] && score[i] >= best - same_score;
    for (int i = 0; i < n; i++)
        if (is_in[i] && score[i] >= best - same_score) share[i] += 1.0 / n_best;
    return n_best > 0;
}
