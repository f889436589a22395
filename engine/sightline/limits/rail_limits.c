/* How high a rail could be before it hides the focus, and before it hides all of it.
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
#include "sightline/limits/plan_cross.h"

enum { POINTS_AN_EDGE = 64 };

typedef struct reach {
    double whole_m, lost_m; /* least and greatest height above the foot over the points so far */
    bool covers;            /* every point so far is seen across this rail */
} reach;

/* Height above the foot at which the ray to `point` passes over the stretch, the lower of its two
 * sides; INFINITY when it does not pass over it. */
static double pass_m(const gradin_rail *rail, int stretch, gradin_vec3 eye, gradin_vec3 point) {
    gradin_vec3 a = rail->point_m[stretch], b = rail->point_m[stretch + 1];
    gradin_vec2 way = {point.x - eye.x, point.y - eye.y};
    double t, share;
    if (!gradin_plan_cross((gradin_vec2){eye.x, eye.y}, way, a, b, &t, &share) || t <= 0.0 ||
        t >= 1.0)
        return INFINITY;
    double along_x = b.x - a.x, along_y = b.y - a.y;
    double across = fabs(way.x * along_y - way.y * along_x) / hypot(along_x, along_y);
    double half_m = 0.5 * rail->thickness_m * fabs(point.z - eye.z) / across;
    double above_m = eye.z + (point.z - eye.z) * t - (a.z + share * (b.z - a.z));
    return above_m < 0.0 ? INFINITY : above_m - half_m;
}

static void take_point(const gradin_rail *rail, gradin_vec3 eye, gradin_vec3 point, reach *r) {
    double least_m = INFINITY;
    for (int k = 0; k + 1 < rail->n_point; k++)
        least_m = fmin(least_m, pass_m(rail, k, eye, point));
    if (isinf(least_m)) {
        r->covers = false;
        return;
    }
    r->whole_m = fmin(r->whole_m, least_m);
    r->lost_m = fmax(r->lost_m, least_m);
}

static void take_area(const gradin_rail *rail, gradin_vec3 eye, const gradin_focus *area,
                      reach *r) {
    for (int i = 0; i < area->polygon.n_corner; i++) {
        gradin_vec2 a = area->polygon.corner_m[i];
        gradin_vec2 b = area->polygon.corner_m[(i + 1) % area->polygon.n_corner];
        for (int k = 0; k < POINTS_AN_EDGE; k++) {
            double s = (double)k / POINTS_AN_EDGE;
            gradin_vec3 point = {a.x + s * (b.x - a.x), a.y + s * (b.y - a.y), area->z_m};
            take_point(rail, eye, point, r);
        }
    }
}

static reach reach_of(const gradin_model *model, int rail, gradin_vec3 eye) {
    reach r = {INFINITY, -INFINITY, true};
    for (int a = 0; a < model->n_focus; a++)
        take_area(&model->rail[rail], eye, &model->focus[a], &r);
    return r;
}

static void find_seat(const gradin_model *model, int seat, gradin_rail_limits *limits) {
    double spare_m = INFINITY;
    limits->rail[seat] = -1;
    limits->whole_m[seat] = limits->lost_m[seat] = NAN;
    for (int i = 0; i < model->n_rail; i++) {
        if (!model->rail[i].has_top) continue;
        reach r = reach_of(model, i, model->seats.eye_m[seat]);
        if (isinf(r.whole_m) || r.whole_m - model->rail[i].height_m >= spare_m) continue;
        spare_m = r.whole_m - model->rail[i].height_m;
        limits->rail[seat] = i;
        limits->whole_m[seat] = r.whole_m;
        limits->lost_m[seat] = r.covers ? r.lost_m : NAN;
    }
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
    return GRADIN_OK;
}
