/* How far the weights may go before another layout is first.
 *
 * With share w of one wish and the others in their proportions a layout scores
 *   (1) score(w) = w worth + (1 - w) rest,
 * rest being the mean of its other wishes by weight: a straight line. The first stays first up to
 * where another line crosses its own. Under all weights at once: shares drawn evenly from all that
 * sum to one, as exponential numbers over their sum (Devroye, Non-Uniform Random Variate
 * Generation, 1986, chapter V theorem 4.1; from memory). */
#include "studies/choose/choose.h"

static const double same = 1e-12;

typedef struct line {
    double worth, rest;
} line;

static double sum_of_weights(const gradin_show *show) {
    double sum = 0.0;
    for (int k = 0; k < show->n_wished; k++) sum += show->wished[k].weight;
    return sum;
}

static line line_of(const gradin_show *show, const gradin_candidate *c, int wish) {
    double sum = 0.0, weights = 0.0;
    for (int k = 0; k < show->n_wished; k++) {
        if (k == wish) continue;
        sum += show->wished[k].weight * c->worth[k];
        weights += show->wished[k].weight;
    }
    return (line){c->worth[wish], weights > 0.0 ? sum / weights : 0.0};
}

/* Where b passes a: from w = share on to either side. */
static void cross(line a, line b, int other, gradin_weight_room *room) {
    double slope = (a.worth - a.rest) - (b.worth - b.rest), lead = a.rest - b.rest;
    if (fabs(slope) <= same) return;
    double at = -lead / slope;
    if (slope < 0.0 && at >= room->share - same && at < room->most - same) {
        room->most = fmax(at, room->share);
        room->above = other;
    }
    if (slope > 0.0 && at <= room->share + same && at > room->least + same) {
        room->least = fmin(at, room->share);
        room->below = other;
    }
}

static void set_room(gradin_choice *choice, int wish, double weights) {
    gradin_weight_room *room = &choice->weight[wish];
    int first = choice->order[0];
    *room = (gradin_weight_room){.share = choice->show->wished[wish].weight / weights,
                                 .most = 1.0,
                                 .below = -1,
                                 .above = -1};
    line own = line_of(choice->show, &choice->candidate[first], wish);
    for (int i = 0; i < choice->n_candidate && choice->show->n_wished > 1; i++)
        if (i != first && choose_competes(choice, i))
            cross(own, line_of(choice->show, &choice->candidate[i], wish), i, room);
}

static void draw_weights(const gradin_choice *choice, const bool *is_in, double *first) {
    const gradin_show *show = choice->show;
    for (int draw = 0; draw < GRADIN_N_CHOICE_DRAW; draw++) {
        double weight[GRADIN_MAX_WISHED], score[GRADIN_MAX_CANDIDATE];
        double sum = 0.0;
        for (int k = 0; k < show->n_wished; k++)
            sum += weight[k] = -log(choose_even(draw, k, CHOOSE_STREAM_WEIGHT));
        for (int i = 0; i < choice->n_candidate; i++) {
            score[i] = 0.0;
            for (int k = 0; k < show->n_wished; k++)
                score[i] += weight[k] / sum * choice->candidate[i].worth[k];
        }
        choose_give_first(score, is_in, choice->n_candidate, first);
    }
}

void choose_weights(gradin_choice *choice) {
    double first[GRADIN_MAX_CANDIDATE] = {0.0}, weights = sum_of_weights(choice->show);
    bool is_in[GRADIN_MAX_CANDIDATE];
    if (!(weights > 0.0)) return;
    for (int k = 0; k < choice->show->n_wished; k++) set_room(choice, k, weights);
    for (int i = 0; i < choice->n_candidate; i++) is_in[i] = choose_competes(choice, i);
    draw_weights(choice, is_in, first);
    for (int i = 0; i < choice->n_candidate; i++)
        choice->candidate[i].weight_share = first[i] / GRADIN_N_CHOICE_DRAW;
}
