/* Segment against ellipsoid: both are scaled so that the ellipsoid is the unit sphere, then the
 * line's point nearest the centre and half its chord are taken. This form keeps the digits that
 * b^2 - 4ac loses for a small sphere far away. */
#include "geometry/shape/hit.h"

static gradin_vec3 to_unit_sphere(const gradin_shape *shape, gradin_vec3 v) {
    gradin_vec2 forward = shape->as.solid.forward;
    return (gradin_vec3){(v.x * forward.x + v.y * forward.y) / shape->as.solid.half_forward_m,
                         (v.x * forward.y - v.y * forward.x) / shape->as.solid.half_right_m,
                         v.z / shape->as.solid.half_up_m};
}

hit_stretch gradin_hit_ellipsoid(const gradin_shape *shape, gradin_vec3 eye, gradin_vec3 way) {
    gradin_vec3 from = to_unit_sphere(shape, gradin_sub(eye, shape->as.solid.centre_m));
    gradin_vec3 step = to_unit_sphere(shape, way);
    double step2 = gradin_dot(step, step);
    if (step2 == 0.0) return gradin_dot(from, from) <= 1.0 ? HIT_EVERYWHERE : HIT_NOWHERE;
    double nearest = -gradin_dot(from, step) / step2;
    gradin_vec3 foot = gradin_add(from, gradin_scale(step, nearest));
    double inside = 1.0 - gradin_dot(foot, foot);
    if (inside < 0.0) return HIT_NOWHERE;
    double half_chord = sqrt(inside / step2);
    return (hit_stretch){nearest - half_chord, nearest + half_chord};
}
