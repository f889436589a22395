/* How many samples each area gets. A share that is known by n samples errs as n^-0.75 (measured:
 * tests/bench/sampling.c), and counts by its weight w in what is seen. The sum of the squares of
 * w n^-0.75 is least, for so many samples in all, where n goes with w^0.8 (derived). So a small
 * floor that counts for much gets many; no floor gets fewer for its size, before both are brought
 * to the number wanted, since a large one is shown on a map of its own.
 *
 * Samples on an upright are met by single rays, each as dear as some fifty bits of a mask, so it
 * gets half as many as a floor of its weight. */
#include "sightline/focus/focus.h"

enum { UPRIGHT_PART = 16 };
static const double weight_power = 0.8, upright_part = 0.5;

typedef struct sums {
    double size_m2, weight;
} sums;

/* Of the floors; without a floor, of all areas. */
static sums sum_up(const gradin_model *model) {
    sums floors = {0.0, 0.0}, all = {0.0, 0.0};
    for (int a = 0; a < model->n_focus; a++) {
        const gradin_focus *area = &model->focus[a];
        double size_m2 = gradin_sight_size_m2(area);
        all = (sums){all.size_m2 + size_m2, all.weight + area->weight};
        if (area->kind == GRADIN_FOCUS_FLOOR)
            floors = (sums){floors.size_m2 + size_m2, floors.weight + area->weight};
    }
    return floors.size_m2 > 0.0 ? floors : all;
}

static double by_size(const gradin_focus *area, sums by) {
    return gradin_sight_size_m2(area) / by.size_m2;
}

static double by_weight(const gradin_focus *area, sums by) {
    return pow(area->weight / by.weight, weight_power);
}

static double floor_claim(const gradin_focus *area, sums by) {
    return area->kind == GRADIN_FOCUS_FLOOR ? fmax(by_size(area, by), by_weight(area, by)) : 0.0;
}

static int whole(double n) {
    return (int)fmax(1.0, ceil(n - 1e-9));
}

static int wanted_of(const gradin_focus *area, sums by, double claims, int n_wanted) {
    if (area->kind == GRADIN_FOCUS_POINT) return 1;
    if (area->kind == GRADIN_FOCUS_FLOOR) return whole(n_wanted * (floor_claim(area, by) / claims));
    double part = fmax(by_size(area, by), upright_part * by_weight(area, by));
    int least = n_wanted / UPRIGHT_PART, n = whole(n_wanted * fmin(part, 1.0));
    return n < least ? least : n;
}

void gradin_sight_share_out(const gradin_model *model, int n_wanted, int *wanted) {
    sums by = sum_up(model);
    double claims = 0.0;
    for (int a = 0; a < model->n_focus; a++) claims += floor_claim(&model->focus[a], by);
    for (int a = 0; a < model->n_focus; a++)
        wanted[a] = wanted_of(&model->focus[a], by, claims, n_wanted);
}
