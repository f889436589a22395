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

gradin_vec3 gradin_rail_edge_point(const gradin_focus *area, int edge, int k) {
    gradin_vec2 a = area->polygon.corner_m[edge];
    gradin_vec2 b = area->polygon.corner_m[(edge + 1) % area->polygon.n_corner];
    double s = (double)k / RAIL_POINTS_AN_EDGE;
    return (gradin_vec3){a.x + s * (b.x - a.x), a.y + s * (b.y - a.y), area->z_m};
}
