/* What seats of two layouts are compared by when these are not asked to see the same: a share of a
 * stage and a screen is no share of a stage. The areas that both name, of one kind, count with the
 * weights of the first layout; where no name is common, each layout's own share of all. */
#include "studies/compare/compare.h"

#include <string.h>

static int area_of(const gradin_model *model, const gradin_focus *like) {
    for (int k = 0; k < model->n_focus; k++)
        if (model->focus[k].kind == like->kind && strcmp(model->focus[k].name, like->name) == 0)
            return k;
    return -1;
}

static double weight_sum(const gradin_model *model) {
    double sum = 0.0;
    for (int k = 0; k < model->n_focus; k++) sum += model->focus[k].weight;
    return sum;
}

static bool are_weighed_alike(const gradin_model *a, int i, const gradin_model *b, int j) {
    return fabs(a->focus[i].weight / weight_sum(a) - b->focus[j].weight / weight_sum(b)) < 1e-9;
}

compare_focus compare_find_focus(const gradin_model *a, const gradin_model *b) {
    compare_focus f = {.is_other = a->n_focus != b->n_focus};
    for (int k = 0; k < a->n_focus; k++) {
        int other = area_of(b, &a->focus[k]);
        if (other < 0 || !are_weighed_alike(a, k, b, other)) f.is_other = true;
        if (other < 0) continue;
        f.area[0][f.n] = k;
        f.area[1][f.n] = other;
        f.weight[0][k] = f.weight[1][other] = a->focus[k].weight;
        f.n++;
    }
    f.is_part = f.is_other && f.n > 0;
    return f;
}

double compare_seen(const compare_focus *focus, const gradin_assessment *a, int of, int seat) {
    const gradin_sight *s = &a->sight;
    double seen = 0.0, weight = 0.0;
    if (!focus->is_part || !s->area_visible) return s->visible ? s->visible[seat] : NAN;
    for (int k = 0; k < focus->n; k++) {
        int area = focus->area[of][k];
        weight += focus->weight[of][area];
        seen += focus->weight[of][area] *
                s->area_visible[(size_t)seat * (size_t)s->n_area + (size_t)area];
    }
    return seen / weight;
}
