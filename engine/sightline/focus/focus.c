/* Samples and centroid of the focus. Every sample of an area stands for the same part of it; areas
 * count by their weights. */
#include "sightline/focus/focus.h"

#include <string.h>

static gradin_status sample_area(gradin_arena *arena, const gradin_focus *area, gradin_vec2 along,
                                 int n_wanted, gradin_vec2 **point, int *n, gradin_error *error) {
    gradin_status status = gradin_polygon_grid(arena, area->polygon, along, n_wanted, point, n);
    if (status == GRADIN_OK) return GRADIN_OK;
    if (status == GRADIN_NO_MEMORY)
        return gradin_error_add(error, status, NULL, "no memory for the samples of the focus");
    return gradin_error_add(error, status, NULL,
                            "focus %s cannot be sampled; an area above zero is allowed",
                            area->name ? area->name : "area");
}

/* One direction for all areas, so that one tree of boxes serves them. */
static gradin_lie find_lie(const gradin_model *model) {
    int largest = 0;
    for (int a = 1; a < model->n_focus; a++)
        if (gradin_polygon_area_m2(model->focus[a].polygon) >
            gradin_polygon_area_m2(model->focus[largest].polygon) * (1.0 + 1e-9))
            largest = a;
    return gradin_polygon_askew(model->focus[largest].polygon);
}

static void weigh(const gradin_model *model, sight_focus *focus) {
    double sum = 0.0;
    for (int a = 0; a < focus->n_area; a++) sum += model->focus[a].weight;
    for (int a = 0; a < focus->n_area; a++) {
        gradin_vec2 c = gradin_polygon_centroid_m(model->focus[a].polygon);
        focus->share[a] = model->focus[a].weight / sum;
        focus->centroid_m =
            gradin_add(focus->centroid_m,
                       gradin_scale((gradin_vec3){c.x, c.y, model->focus[a].z_m}, focus->share[a]));
    }
}

static void raise_samples(const gradin_focus *area, const gradin_vec2 *point, int n,
                          gradin_vec3 *sample_m) {
    for (int i = 0; i < n; i++) sample_m[i] = (gradin_vec3){point[i].x, point[i].y, area->z_m};
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
    gradin_vec2 *point[GRADIN_MAX_FOCUS];
    double total_m2 = 0.0;
    memset(focus, 0, sizeof *focus);
    focus->area = model->focus;
    focus->n_area = n_area;
    focus->share = gradin_arena_alloc(arena, (size_t)n_area, sizeof *focus->share);
    focus->first_sample = gradin_arena_alloc(arena, (size_t)n_area + 1, sizeof(int));
    if (!focus->share || !focus->first_sample)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the focus");
    for (int a = 0; a < n_area; a++) total_m2 += gradin_polygon_area_m2(model->focus[a].polygon);
    focus->lie = find_lie(model);
    for (int a = 0; a < n_area; a++) {
        double part = gradin_polygon_area_m2(model->focus[a].polygon) / total_m2;
        int n = 0, wanted = (int)fmax(1.0, ceil(n_wanted * part - 1e-9));
        gradin_status status =
            sample_area(arena, &model->focus[a], focus->lie.row, wanted, &point[a], &n, error);
        if (status != GRADIN_OK) return status;
        focus->first_sample[a + 1] = focus->first_sample[a] + n;
    }
    focus->n_sample = focus->first_sample[n_area];
    focus->sample_m = gradin_arena_alloc(arena, (size_t)focus->n_sample, sizeof(gradin_vec3));
    if (!focus->sample_m)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the focus");
    for (int a = 0; a < n_area; a++)
        raise_samples(&model->focus[a], point[a],
                      focus->first_sample[a + 1] - focus->first_sample[a],
                      focus->sample_m + focus->first_sample[a]);
    if (!grid_areas(arena, focus))
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the focus");
    weigh(model, focus);
    return GRADIN_OK;
}
