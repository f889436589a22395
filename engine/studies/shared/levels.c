/* What the seats of each level see: counts by rating and the spread of the visible share. */
#include "studies/shared/levels.h"
#include "studies/shared/spread.h"

static gradin_status sum_level(gradin_arena *arena, const gradin_model *model,
                               const gradin_sight *sight, int level, double *visible,
                               gradin_level_sum *sum) {
    for (int i = 0; i < sight->n_seat; i++) {
        if (model->seats.level[i] != level) continue;
        visible[sum->n_seat++] = sight->visible[i];
        sum->n_rating[sight->rating[i]]++;
    }
    return studies_spread(arena, visible, sum->n_seat, &sum->visible);
}

gradin_status studies_levels(gradin_arena *arena, const gradin_model *model,
                             const gradin_sight *sight, gradin_level_sum **level) {
    *level = gradin_arena_alloc(arena, (size_t)model->n_level, sizeof **level);
    double *visible = gradin_arena_alloc(arena, (size_t)sight->n_seat, sizeof *visible);
    gradin_status status = *level && visible ? GRADIN_OK : GRADIN_NO_MEMORY;
    for (int k = 0; k < model->n_level && status == GRADIN_OK; k++)
        status = sum_level(arena, model, sight, k, visible, &(*level)[k]);
    return status;
}
