/* Where the diffuse room is wrong by more than 1 dB at some seats.
 *
 * Limits from own runs of both methods in empty boxes (test_limits.c), radiosity itself held
 * against a tracer of rays: with even absorption of 0.1 to 0.5 seats of a box whose longest side is
 * 3 times its shortest differ by up to 1.0 dB, at 5 times by up to 2.2 dB; compact boxes whose
 * floor takes more than half of what is absorbed by 1.0 to 1.4 dB; two L by up to 9 dB, 3 dB rms
 * over the seats of one. What seats err by there is taken as an uncertainty of its own. No
 * published limit is used: those that are quoted ("quasi-cubic", "evenly absorbing") name no
 * figure. */
#include "acoustics/room/limits.h"
#include "acoustics/envelope/element.h"
#include "acoustics/room/room.h"

#include <stdio.h>
#include <string.h>

enum { MIDDLE_BAND = 10 }; /* 500 Hz */

static const double most_ratio = 3.0, least_of_hull = 0.95, most_of_one = 0.5;
static const double inwards_db = 4.0, long_db = 2.0, one_side_db = 1.0;

/* Sides of the smallest rectangle round the plan that has one of its edges. */
static void sides_m(gradin_polygon plan, double *long_m, double *short_m) {
    double least_m2 = INFINITY;
    for (int i = 0; i < plan.n_corner; i++) {
        gradin_vec2 a = plan.corner_m[i], b = plan.corner_m[(i + 1) % plan.n_corner];
        double length_m = hypot(b.x - a.x, b.y - a.y), low[2] = {INFINITY, INFINITY};
        double high[2] = {-INFINITY, -INFINITY};
        if (!(length_m > 0.0)) continue;
        gradin_vec2 u = {(b.x - a.x) / length_m, (b.y - a.y) / length_m};
        for (int k = 0; k < plan.n_corner; k++) {
            gradin_vec2 p = plan.corner_m[k];
            const double at[2] = {p.x * u.x + p.y * u.y, p.y * u.x - p.x * u.y};
            for (int j = 0; j < 2; j++) {
                low[j] = fmin(low[j], at[j]);
                high[j] = fmax(high[j], at[j]);
            }
        }
        double x_m = high[0] - low[0], y_m = high[1] - low[1];
        if (x_m * y_m >= least_m2) continue;
        least_m2 = x_m * y_m;
        *long_m = fmax(x_m, y_m);
        *short_m = fmin(x_m, y_m);
    }
}

static gradin_status hull_share(gradin_polygon plan, double *share, gradin_error *error) {
    gradin_arena *arena = gradin_arena_create();
    size_t n = (size_t)plan.n_corner;
    gradin_vec2 *point_m = arena ? gradin_arena_alloc(arena, n, sizeof *point_m) : NULL;
    gradin_vec2 *hull_m = point_m ? gradin_arena_alloc(arena, n + 1, sizeof *hull_m) : NULL;
    if (hull_m) {
        memcpy(point_m, plan.corner_m, n * sizeof *point_m);
        int n_hull = gradin_convex_hull(point_m, plan.n_corner, hull_m);
        *share =
            gradin_polygon_area_m2(plan) / gradin_polygon_area_m2((gradin_polygon){hull_m, n_hull});
    }
    gradin_arena_destroy(arena);
    return hull_m ? GRADIN_OK : gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

static double absorbs_m2(const gradin_surface *surface) {
    return surface->area_m2 * surface->absorption[MIDDLE_BAND];
}

/* Share of what is absorbed at 500 Hz that floor and seats, or the ceiling, take. */
static double one_side(const gradin_model *m) {
    double all_m2 = 0.0;
    for (int i = 0; i < m->n_surface; i++) all_m2 += absorbs_m2(&m->surface[i]);
    for (int e = 0; e < m->n_element; e++)
        all_m2 +=
            gradin_element_area_m2(&m->element[e]) *
            gradin_element_absorption(m, &m->element[e], GRADIN_SHADES_AS_SET, MIDDLE_BAND, 1.0);
    double floor_m2 = absorbs_m2(&m->surface[GRADIN_SURFACE_FLOOR]) +
                      absorbs_m2(&m->surface[GRADIN_SURFACE_SEATING]);
    double ceiling_m2 = absorbs_m2(&m->surface[GRADIN_SURFACE_CEILING]);
    return all_m2 > 0.0 ? fmax(floor_m2, ceiling_m2) / all_m2 : 0.0;
}

gradin_status gradin_diffuse_note(const gradin_model *model, char note[GRADIN_TEXT_CHARS],
                                  double *beyond_db, gradin_error *error) {
    double long_m = 0.0, short_m = 0.0, share = 1.0;
    const char *why = NULL;
    note[0] = '\0';
    *beyond_db = 0.0;
    if (model->n_surface < GRADIN_N_SURFACE || model->footprint.n_corner < 3) return GRADIN_OK;
    sides_m(model->footprint, &long_m, &short_m);
    gradin_status status = hull_share(model->footprint, &share, error);
    if (share < least_of_hull)
        why = "its plan turns inwards", *beyond_db = inwards_db;
    else if (long_m > most_ratio * fmin(short_m, model->ceiling_m))
        why = "it is more than 3 times as long as it is high or broad", *beyond_db = long_db;
    else if (one_side(model) > most_of_one)
        why = "floor and seats, or the ceiling, take more than half of what is absorbed",
        *beyond_db = one_side_db;
    if (why)
        snprintf(note, GRADIN_TEXT_CHARS,
                 "this room is not diffuse: %s; levels can be wrong by several decibels, "
                 "room_method: radiosity is not",
                 why);
    return status;
}
