/* Segment against prism: the stretch between the two heights first, then the polygon's walls on
 * plan. The walls cut the line at an even count of fractions (half-open rule at corners); parity at
 * the start of the stretch tells whether a cap is met, else the next wall is the entry. */
#include "geometry/plan/plan.h"
#include "geometry/shape/hit.h"

/* Fraction of the way at which the plan line crosses wall a-b. */
static bool crosses_wall(gradin_vec2 from, gradin_vec2 way, gradin_vec2 a, gradin_vec2 b,
                         double *t) {
    gradin_vec2 to_a = plan_sub(a, from), to_b = plan_sub(b, from);
    double side_a = plan_cross(way, to_a), side_b = plan_cross(way, to_b);
    if ((side_a >= 0.0) == (side_b >= 0.0)) return false;
    double ahead_a = plan_dot(to_a, way), ahead_b = plan_dot(to_b, way);
    *t = (ahead_a + (ahead_b - ahead_a) * (side_a / (side_a - side_b))) / plan_dot(way, way);
    return true;
}

/* A target on the top face is met at exactly 1: the quotient is of one difference with itself. */
static hit_stretch between_heights(double from, double step, double bottom, double top) {
    if (step == 0.0) return from >= bottom && from <= top ? HIT_EVERYWHERE : HIT_NOWHERE;
    double a = (bottom - from) / step, b = (top - from) / step;
    return (hit_stretch){fmin(a, b), fmax(a, b)};
}

hit_stretch gradin_hit_prism(const gradin_shape *shape, gradin_vec3 eye, gradin_vec3 way) {
    gradin_polygon polygon = shape->as.prism.polygon;
    double bottom = shape->as.prism.bottom_m, top = shape->as.prism.top_m;
    hit_stretch level = between_heights(eye.z, way.z, bottom, top);
    double start = fmax(level.enter, GRADIN_SEGMENT_END);
    double end = fmin(level.leave, 1.0 - GRADIN_SEGMENT_END);
    if (!(start <= end)) return HIT_NOWHERE;

    gradin_vec2 from = {eye.x, eye.y}, plan_way = {way.x, way.y};
    if (plan_dot(plan_way, plan_way) <= 1e-24 * gradin_dot(way, way))
        return gradin_polygon_contains(polygon, from) ? level : HIT_NOWHERE;
    bool inside = false;
    double next = INFINITY, t;
    for (int i = 0; i < polygon.n_corner; i++) {
        if (!crosses_wall(from, plan_way, plan_corner(polygon, i), plan_corner(polygon, i + 1), &t))
            continue;
        if (t <= start)
            inside = !inside;
        else
            next = fmin(next, t);
    }
    if (inside) return level;
    return next < end ? (hit_stretch){next, level.leave} : HIT_NOWHERE;
}
