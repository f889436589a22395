/* At what height a sightline passes a rail: similar triangles, see rail_limits.c. */
#include "sightline/limits/rail_pass.h"
#include "sightline/limits/plan_cross.h"

/* Over one stretch. */
static double stretch_pass_m(const gradin_rail *rail, int stretch, gradin_vec3 eye,
                             gradin_vec3 point) {
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

double gradin_rail_pass_m(const gradin_rail *rail, gradin_vec3 eye, gradin_vec3 point) {
    double least_m = INFINITY;
    for (int k = 0; k + 1 < rail->n_point; k++)
        least_m = fmin(least_m, stretch_pass_m(rail, k, eye, point));
    return least_m;
}

/* Along an upright's height the ray's height at the rail is linear: both edges are enough. */
int gradin_rail_n_bound(const gradin_focus *area) {
    if (area->kind == GRADIN_FOCUS_POINT) return 1;
    if (area->kind == GRADIN_FOCUS_UPRIGHT)
        return 2 * (area->n_line - 1) * (RAIL_POINTS_AN_EDGE + 1);
    return area->polygon.n_corner * RAIL_POINTS_AN_EDGE;
}

static gradin_vec2 between(gradin_vec2 a, gradin_vec2 b, double s) {
    return (gradin_vec2){a.x + s * (b.x - a.x), a.y + s * (b.y - a.y)};
}

static gradin_vec3 upright_bound(const gradin_focus *area, int i) {
    int an_edge = RAIL_POINTS_AN_EDGE + 1, stretch = i / an_edge / 2;
    gradin_vec2 at = between(area->line_m[stretch], area->line_m[stretch + 1],
                             (double)(i % an_edge) / RAIL_POINTS_AN_EDGE);
    return (gradin_vec3){at.x, at.y, i / an_edge % 2 ? area->top_m : area->bottom_m};
}

gradin_vec3 gradin_rail_bound(const gradin_focus *area, int i) {
    if (area->kind == GRADIN_FOCUS_POINT) return gradin_focus_middle_m(area);
    if (area->kind == GRADIN_FOCUS_UPRIGHT) return upright_bound(area, i);
    int edge = i / RAIL_POINTS_AN_EDGE;
    gradin_vec2 at = between(area->polygon.corner_m[edge],
                             area->polygon.corner_m[(edge + 1) % area->polygon.n_corner],
                             (double)(i % RAIL_POINTS_AN_EDGE) / RAIL_POINTS_AN_EDGE);
    return (gradin_vec3){at.x, at.y, gradin_focus_z_m(area, at)};
}
