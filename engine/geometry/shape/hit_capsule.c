/* Segment against capsule: the union of a cylinder between its end planes and two end spheres. The
 * union is convex, so the line meets it in one stretch, from the first entry to the last exit. */
#include "geometry/shape/hit.h"

static hit_stretch hit_ball(gradin_vec3 from, gradin_vec3 way, double radius) {
    double way2 = gradin_dot(way, way);
    if (way2 == 0.0) return HIT_NOWHERE;
    double nearest = -gradin_dot(from, way) / way2;
    gradin_vec3 foot = gradin_add(from, gradin_scale(way, nearest));
    double inside = radius * radius - gradin_dot(foot, foot);
    if (inside < 0.0) return HIT_NOWHERE;
    double half_chord = sqrt(inside / way2);
    return (hit_stretch){nearest - half_chord, nearest + half_chord};
}

static gradin_vec3 across(gradin_vec3 v, gradin_vec3 axis) {
    return gradin_sub(v, gradin_scale(axis, gradin_dot(v, axis)));
}

static hit_stretch hit_cylinder(gradin_vec3 from, gradin_vec3 way, gradin_vec3 axis, double length,
                                double radius) {
    gradin_vec3 from_across = across(from, axis), way_across = across(way, axis);
    hit_stretch slab =
        hit_slab(gradin_dot(from, axis) - 0.5 * length, gradin_dot(way, axis), 0.5 * length);
    /* along the axis the square of what is left across it is rounding */
    if (gradin_dot(way_across, way_across) <= 1e-24 * gradin_dot(way, way))
        return gradin_dot(from_across, from_across) <= radius * radius ? slab : HIT_NOWHERE;
    return hit_common(slab, hit_ball(from_across, way_across, radius));
}

static hit_stretch unite(hit_stretch a, hit_stretch b) {
    if (a.enter > a.leave) return b;
    if (b.enter > b.leave) return a;
    return (hit_stretch){fmin(a.enter, b.enter), fmax(a.leave, b.leave)};
}

hit_stretch gradin_hit_capsule(const gradin_shape *shape, gradin_vec3 eye, gradin_vec3 way) {
    gradin_vec3 a = shape->as.capsule.a_m, b = shape->as.capsule.b_m;
    double radius = shape->as.capsule.radius_m;
    gradin_vec3 from_a = gradin_sub(eye, a), axis = gradin_sub(b, a);
    double length = gradin_norm(axis);
    hit_stretch ends =
        unite(hit_ball(from_a, way, radius), hit_ball(gradin_sub(eye, b), way, radius));
    if (length == 0.0) return ends;
    return unite(ends, hit_cylinder(from_a, way, gradin_scale(axis, 1.0 / length), length, radius));
}
