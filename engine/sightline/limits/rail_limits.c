/* How high a rail could be before it hides the focus, and before it hides all of it; which rails
 * hide something, and how much.
 *
 * The ray from the eye e to a point at height z passes the rail, which stands the share t of the
 * way along, at e + (z - e) t; the rail hides the point when its top is higher (similar triangles,
 * the inverse of "lowest height seen" e - (e - h) D/x). Along any line over the focus t is
 * monotone, so the extremes lie on its boundary: points on the edges, corners included, are enough.
 * The rail has its thickness and counts as filled up to its top: a bar of the same thickness hides
 * a little less. A ray that passes under the foot of a rail has another rail to look over. */
#include "base/use.h"
#include "gradin/sightline.h"
#include "model/complete.h"
#include "sightline/limits/rail_pass.h"

typedef struct reach {
    double whole_m, lost_m; /* least and greatest height above the foot over the points so far */
    bool covers;            /* every point so far is seen across this rail */
} reach;

static void take_point(const gradin_rail *rail, gradin_vec3 eye, gradin_vec3 point, reach *r) {
    double least_m = gradin_rail_pass_m(rail, eye, point);
    if (isinf(least_m)) {
        r->covers = false;
        return;
    }
    r->whole_m = fmin(r->whole_m, least_m);
    r->lost_m = fmax(r->lost_m, least_m);
}

static void take_area(const gradin_rail *rail, gradin_vec3 eye, const gradin_focus *area,
                      reach *r) {
    int n = gradin_rail_n_bound(area);
    for (int i = 0; i < n; i++) take_point(rail, eye, gradin_rail_bound(area, i), r);
}

static reach reach_of(const gradin_model *model, int rail, gradin_vec3 eye) {
    reach r = {INFINITY, -INFINITY, true};
    for (int a = 0; a < model->n_focus; a++)
        take_area(&model->rail[rail], eye, &model->focus[a], &r);
    return r;
}

/* Of a seat from which no rail hides anything: the rail with least to spare. */
static void find_seat(const gradin_model *model, int seat, gradin_rail_limits *limits) {
    double spare_m = INFINITY;
    limits->rail[seat] = -1;
    limits->whole_m[seat] = limits->lost_m[seat] = NAN;
    for (int i = 0; i < model->n_rail; i++) {
        if (!model->rail[i].has_top) continue;
        reach r = reach_of(model, i, model->seats.eye_m[seat]);
        double left_m = r.whole_m - model->rail[i].height_m;
        /* Below zero it could hide something, filled to its top, but does not. */
        if (isinf(r.whole_m) || left_m < 0.0 || left_m >= spare_m) continue;
        spare_m = left_m;
        limits->rail[seat] = i;
        limits->whole_m[seat] = r.whole_m;
        limits->lost_m[seat] = r.covers ? r.lost_m : NAN;
    }
}

/* The seat's first line is that of the rail that hides most. */
static void name_worst(const gradin_model *model, const gradin_rail_line *line,
                       gradin_rail_limits *limits) {
    reach r = reach_of(model, line->rail, model->seats.eye_m[line->seat]);
    limits->rail[line->seat] = line->rail;
    limits->whole_m[line->seat] = line->whole_m;
    limits->lost_m[line->seat] = r.covers ? r.lost_m : NAN;
}

gradin_status gradin_rail_limits_compute(gradin_arena *arena, const gradin_model *model,
                                         gradin_rail_limits *limits, gradin_error *error) {
    if (NEEDS(error, arena, limits) != GRADIN_OK || model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    size_t n = (size_t)model->seats.n_seat;
    *limits = (gradin_rail_limits){.n_seat = model->seats.n_seat,
                                   .rail = gradin_arena_alloc(arena, n, sizeof(int)),
                                   .whole_m = gradin_arena_alloc(arena, n, sizeof(double)),
                                   .lost_m = gradin_arena_alloc(arena, n, sizeof(double))};
    if (!limits->rail || !limits->whole_m || !limits->lost_m)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the rails");
#pragma omp parallel for schedule(dynamic)
    for (int i = 0; i < limits->n_seat; i++) find_seat(model, i, limits);
    gradin_status status = gradin_rail_lines(arena, model, limits, error);
    for (int k = 0; status == GRADIN_OK && k < limits->n_line; k++)
        if (k == 0 || limits->line[k].seat != limits->line[k - 1].seat)
            name_worst(model, &limits->line[k], limits);
    return status;
}
