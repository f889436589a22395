/* Samples and middle of the focus. Every sample of an area stands for the same part of it; areas
 * count by their weights in what is seen, and by size in where the middle lies. */
#include "sightline/focus/focus.h"

#include <string.h>

static gradin_status sample_area(gradin_arena *arena, const gradin_focus *area, gradin_vec2 along,
                                 int n_wanted, gradin_vec3 **sample_m, int *n,
                                 gradin_error *error) {
    gradin_status status = gradin_sight_sample(arena, area, along, n_wanted, sample_m, n);
    if (status == GRADIN_OK) return GRADIN_OK;
    if (status == GRADIN_NO_MEMORY)
        return gradin_error_add(error, status, NULL, "no memory for the samples of the focus");
    return gradin_error_add(error, status, NULL,
                            "focus %s cannot be sampled; an area above zero is allowed",
                            area->name ? area->name : "area");
}

/* One direction for all areas, so that one tree of boxes serves them: that of the largest floor. */
static gradin_lie find_lie(const gradin_model *model) {
    const gradin_focus none = {0}, *largest = &none;
    double most_m2 = 0.0;
    for (int a = 0; a < model->n_focus; a++) {
        const gradin_focus *area = &model->focus[a];
        double size_m2 = area->kind == GRADIN_FOCUS_FLOOR ? gradin_sight_size_m2(area) : 0.0;
        if (!(size_m2 > most_m2 * (1.0 + 1e-9))) continue;
        most_m2 = size_m2;
        largest = area;
    }
    return gradin_polygon_askew(largest->polygon);
}

static void weigh(const gradin_model *model, sight_focus *focus) {
    double sum = 0.0;
    for (int a = 0; a < focus->n_area; a++) sum += model->focus[a].weight;
    for (int a = 0; a < focus->n_area; a++) focus->share[a] = model->focus[a].weight / sum;
}

static bool holds(const gradin_model *model, gradin_focus_kind kind) {
    for (int a = 0; a < model->n_focus; a++)
        if (model->focus[a].kind == kind) return true;
    return false;
}

/* A seat's distance and angles are those to where people act: the floors, whatever else is looked
 * at. Without a floor they are those to the uprights, without one of these to the points. */
static void find_acting(const gradin_model *model, sight_focus *focus) {
    gradin_focus_kind kind = holds(model, GRADIN_FOCUS_FLOOR)     ? GRADIN_FOCUS_FLOOR
                             : holds(model, GRADIN_FOCUS_UPRIGHT) ? GRADIN_FOCUS_UPRIGHT
                                                                  : GRADIN_FOCUS_POINT;
    double sum = 0.0;
    for (int a = 0; a < focus->n_area; a++) {
        const gradin_focus *area = &model->focus[a];
        if (area->kind != kind) continue;
        focus->acting[a] = kind == GRADIN_FOCUS_POINT ? 1.0 : gradin_sight_size_m2(area);
        sum += focus->acting[a];
    }
    for (int a = 0; a < focus->n_area; a++) {
        focus->acting[a] /= sum;
        focus->middle_m =
            gradin_add(focus->middle_m,
                       gradin_scale(gradin_focus_middle_m(&model->focus[a]), focus->acting[a]));
    }
}

static bool grid_areas(gradin_arena *arena, sight_focus *focus) {
    focus->grid = gradin_arena_alloc(arena, (size_t)focus->n_area, sizeof *focus->grid);
    for (int a = 0; focus->grid && a < focus->n_area; a++) {
        int from = focus->first_sample[a], to = focus->first_sample[a + 1];
        focus->grid[a] =
            gradin_mask_grid_create(arena, focus->sample_m + from, to - from, focus->lie);
        if (!focus->grid[a]) return false;
    }
    return focus->grid != NULL;
}

gradin_status gradin_sight_focus(gradin_arena *arena, const gradin_model *model, int n_wanted,
                                 sight_focus *focus, gradin_error *error) {
    int n_area = model->n_focus;
    gradin_vec3 *point[GRADIN_MAX_FOCUS];
    memset(focus, 0, sizeof *focus);
    focus->area = model->focus;
    focus->n_area = n_area;
    focus->share = gradin_arena_alloc(arena, (size_t)n_area, sizeof *focus->share);
    focus->first_sample = gradin_arena_alloc(arena, (size_t)n_area + 1, sizeof(int));
    if (!focus->share || !focus->first_sample)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the focus");
    int wanted[GRADIN_MAX_FOCUS];
    gradin_sight_share_out(model, n_wanted, wanted);
    focus->lie = find_lie(model);
    for (int a = 0; a < n_area; a++) {
        int n = 0;
        gradin_status status =
            sample_area(arena, &model->focus[a], focus->lie.row, wanted[a], &point[a], &n, error);
        if (status != GRADIN_OK) return status;
        focus->first_sample[a + 1] = focus->first_sample[a] + n;
    }
    focus->n_sample = focus->first_sample[n_area];
    focus->sample_m = gradin_arena_alloc(arena, (size_t)focus->n_sample, sizeof(gradin_vec3));
    if (!focus->sample_m)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the focus");
    for (int a = 0; a < n_area; a++)
        memcpy(focus->sample_m + focus->first_sample[a], point[a],
               (size_t)(focus->first_sample[a + 1] - focus->first_sample[a]) * sizeof **point);
    if (!grid_areas(arena, focus))
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the focus");
    weigh(model, focus);
    find_acting(model, focus);
    return GRADIN_OK;
}
