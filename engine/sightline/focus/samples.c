/* Samples of one focus area, each of which stands for the same part of it. A floor: a grid on plan,
 * raised to its plane, so that a slope is sampled evenly, too. An upright: its rectangles laid side
 * by side, a grid over them, bent back along the line. A point: itself. */
#include "sightline/focus/focus.h"

double gradin_sight_length_m(const gradin_vec2 *point_m, int n) {
    double length_m = 0.0;
    for (int i = 0; i + 1 < n; i++)
        length_m += hypot(point_m[i + 1].x - point_m[i].x, point_m[i + 1].y - point_m[i].y);
    return length_m;
}

double gradin_sight_size_m2(const gradin_focus *area) {
    if (area->kind == GRADIN_FOCUS_POINT) return 0.0;
    if (area->kind == GRADIN_FOCUS_UPRIGHT)
        return gradin_sight_length_m(area->line_m, area->n_line) * (area->top_m - area->bottom_m);
    return gradin_polygon_area_m2(area->polygon);
}

static gradin_vec2 along_line(const gradin_focus *area, double at_m) {
    int last = area->n_line - 2;
    for (int i = 0;; i++) {
        gradin_vec2 a = area->line_m[i], b = area->line_m[i + 1];
        double piece_m = hypot(b.x - a.x, b.y - a.y);
        if (at_m > piece_m && i < last) {
            at_m -= piece_m;
            continue;
        }
        double s = piece_m > 0.0 ? at_m / piece_m : 0.0;
        return (gradin_vec2){a.x + s * (b.x - a.x), a.y + s * (b.y - a.y)};
    }
}

/* The grid of the area as it lies flat: a floor on plan, an upright unrolled. */
static gradin_status lay_flat(gradin_arena *arena, const gradin_focus *area, gradin_vec2 along,
                              int n_wanted, gradin_vec2 **flat_m, int *n) {
    if (area->kind == GRADIN_FOCUS_FLOOR)
        return gradin_polygon_grid(arena, area->polygon, along, n_wanted, flat_m, n);
    double length_m = gradin_sight_length_m(area->line_m, area->n_line);
    gradin_vec2 corner_m[4] = {{0.0, area->bottom_m},
                               {length_m, area->bottom_m},
                               {length_m, area->top_m},
                               {0.0, area->top_m}};
    if (!(area->top_m > area->bottom_m)) return GRADIN_BAD_INPUT;
    gradin_polygon flat = {corner_m, 4};
    return gradin_polygon_grid(arena, flat, gradin_polygon_askew(flat).row, n_wanted, flat_m, n);
}

static gradin_vec3 raise(const gradin_focus *area, gradin_vec2 flat_m) {
    if (area->kind == GRADIN_FOCUS_FLOOR)
        return (gradin_vec3){flat_m.x, flat_m.y, gradin_focus_z_m(area, flat_m)};
    gradin_vec2 on_plan = along_line(area, flat_m.x);
    return (gradin_vec3){on_plan.x, on_plan.y, flat_m.y};
}

gradin_status gradin_sight_sample(gradin_arena *arena, const gradin_focus *area, gradin_vec2 along,
                                  int n_wanted, gradin_vec3 **sample_m, int *n) {
    gradin_vec2 *flat_m = NULL;
    *n = 1;
    if (area->kind != GRADIN_FOCUS_POINT) {
        gradin_status status = lay_flat(arena, area, along, n_wanted, &flat_m, n);
        if (status != GRADIN_OK) return status;
    }
    *sample_m = gradin_arena_alloc(arena, (size_t)*n, sizeof **sample_m);
    if (!*sample_m) return GRADIN_NO_MEMORY;
    if (!flat_m) **sample_m = gradin_focus_middle_m(area);
    for (int i = 0; flat_m && i < *n; i++) (*sample_m)[i] = raise(area, flat_m[i]);
    return GRADIN_OK;
}
