/* Segment tests against marching: an inside test written from each shape's definition is asked at
 * many points of the segment. A march that finds the inside must be a hit, entered within one step;
 * a hit must be found by the march, or be a chord that a march with 200 times finer steps about the
 * entry finds. */
#include "support/formulas.h"
#include "unit/geometry/random.h"

#include <criterion/criterion.h>

enum { STEPS = 2000 };

static gradin_vec3 at(gradin_vec3 a, gradin_vec3 b, double t) {
    return gradin_add(a, gradin_scale(gradin_sub(b, a), t));
}

static double gap_to_axis(const gradin_shape *s, gradin_vec3 p) {
    double least = INFINITY;
    for (int i = 0; i <= 400; i++) /* 0.25 % of the axis: the caller allows for it */
        least = fmin(
            least, gradin_norm(gradin_sub(p, at(s->as.capsule.a_m, s->as.capsule.b_m, i / 400.0))));
    return least;
}

static bool by_angles(gradin_polygon polygon, double x, double y) {
    double turn = 0.0; /* winding number by summed angles, unlike the engine's crossings */
    for (int i = 0; i < polygon.n_corner; i++) {
        gradin_vec2 a = polygon.corner_m[i], b = polygon.corner_m[(i + 1) % polygon.n_corner];
        double ax = a.x - x, ay = a.y - y, bx = b.x - x, by = b.y - y;
        turn += atan2(ax * by - ay * bx, ax * bx + ay * by);
    }
    return fabs(turn) > GRADIN_PI;
}

/* Value < 0 inside the shape grown by grow (a length, small). */
static bool is_inside(const gradin_shape *s, gradin_vec3 p, double grow) {
    gradin_vec3 v = gradin_sub(p, s->as.solid.centre_m);
    double f = v.x * s->as.solid.forward.x + v.y * s->as.solid.forward.y;
    double r = v.x * s->as.solid.forward.y - v.y * s->as.solid.forward.x;
    switch (s->kind) {
    case GRADIN_SHAPE_ELLIPSOID:
        return pow(f / (s->as.solid.half_forward_m + grow), 2) +
                   pow(r / (s->as.solid.half_right_m + grow), 2) +
                   pow(v.z / (s->as.solid.half_up_m + grow), 2) <=
               1.0;
    case GRADIN_SHAPE_BOX:
        return fabs(f) <= s->as.solid.half_forward_m + grow &&
               fabs(r) <= s->as.solid.half_right_m + grow &&
               fabs(v.z) <= s->as.solid.half_up_m + grow;
    case GRADIN_SHAPE_CAPSULE:
        return gap_to_axis(s, p) <= s->as.capsule.radius_m + grow;
    default:
        return p.z >= s->as.prism.bottom_m - grow && p.z <= s->as.prism.top_m + grow &&
               by_angles(s->as.prism.polygon, p.x, p.y);
    }
}

/* First step of [from, to] inside, or -1. */
static double march(const gradin_shape *s, gradin_vec3 eye, gradin_vec3 target, double from,
                    double to, double grow) {
    for (int i = 0; i < STEPS; i++) {
        double t = from + (to - from) * (i + 0.5) / STEPS;
        if (is_inside(s, at(eye, target, t), grow)) return t;
    }
    return -1.0;
}

static int check_kind(gradin_shape_kind kind, uint64_t seed, int n_trial) {
    random_source r = {seed};
    int n_hit = 0;
    for (int trial = 0; trial < n_trial; trial++) {
        gradin_vec2 corner[RANDOM_CORNERS];
        gradin_shape s = random_shape(&r, kind, 1.0, 1.2, corner);
        gradin_vec3 eye = random_point(&r, 2.0), target = random_point(&r, 2.0);
        double t = -1.0, coarse = march(&s, eye, target, 0.0, 1.0, 0.0);
        bool hit = gradin_shape_hit(&s, eye, target, &t);
        n_hit += hit;
        if (coarse >= 0.0) {
            cr_assert(hit, "kind %d trial %d: the march enters at %.4f", kind, trial, coarse);
            cr_assert(t <= coarse, "kind %d trial %d: %.9f > %.9f", kind, trial, t, coarse);
        }
        if (hit && !(coarse >= 0.0 && coarse - t <= 1.0 / STEPS)) {
            double fine = march(&s, eye, target, t - 1e-6, t + 1e-2, 3e-5);
            cr_assert(fine >= 0.0 && fine <= t + 1e-2 && fine - t < 2e-3,
                      "kind %d trial %d: no inside at the entry %.9f", kind, trial, t);
        }
    }
    return n_hit;
}

Test(shape, ellipsoid_equals_marching) {
    cr_assert_gt(check_kind(GRADIN_SHAPE_ELLIPSOID, 1, 3000), 200);
}
Test(shape, box_equals_marching) {
    cr_assert_gt(check_kind(GRADIN_SHAPE_BOX, 2, 3000), 200);
}
Test(shape, capsule_equals_marching) {
    cr_assert_gt(check_kind(GRADIN_SHAPE_CAPSULE, 3, 800), 40);
}
Test(shape, prism_equals_marching) {
    cr_assert_gt(check_kind(GRADIN_SHAPE_PRISM, 4, 3000), 200);
}

/* Same sign of the three volumes with the eye and of the two sides of the plane (Plucker). */
static double volume(gradin_vec3 a, gradin_vec3 b, gradin_vec3 c, gradin_vec3 d) {
    return gradin_dot(gradin_sub(a, d), gradin_cross(gradin_sub(b, d), gradin_sub(c, d)));
}

Test(shape, triangle_equals_signed_volumes) {
    random_source r = {6};
    int n_hit = 0;
    for (int trial = 0; trial < 20000; trial++) {
        gradin_vec3 a = random_point(&r, 2), b = random_point(&r, 2), c = random_point(&r, 2);
        gradin_vec3 e = random_point(&r, 3), g = random_point(&r, 3);
        gradin_shape s = gradin_triangle(a, b, c);
        double u = volume(e, g, a, b), v = volume(e, g, b, c), w = volume(e, g, c, a);
        double side_e = volume(e, a, b, c), side_g = volume(g, a, b, c), t = -1.0;
        bool expected = ((u > 0) == (v > 0)) && ((v > 0) == (w > 0)) && side_e * side_g < 0.0;
        bool hit = gradin_shape_hit(&s, e, g, &t);
        cr_assert_eq(hit, expected, "trial %d", trial);
        if (hit) cr_assert(fabs(t - side_e / (side_e - side_g)) < 1e-9, "trial %d", trial);
        n_hit += hit;
    }
    cr_assert_gt(n_hit, 500);
}

Test(shape, entry_of_known_segments) {
    gradin_vec3 eye = {0, 0, 0}, target = {10, 0, 0};
    double t;
    gradin_shape ball = formula_sphere((gradin_vec3){5, 0, 0}, 1.0);
    cr_assert(gradin_shape_hit(&ball, eye, target, &t) && fabs(t - 0.4) < 1e-12);
    gradin_shape egg = gradin_ellipsoid((gradin_vec3){5, 0, 0}, 90.0, 2.0, 0.5, 0.25);
    cr_assert(gradin_shape_hit(&egg, eye, target, &t) && fabs(t - 0.3) < 1e-12, "long axis east");
    gradin_shape bar = gradin_capsule((gradin_vec3){3, 0, 0}, (gradin_vec3){6, 0, 0}, 0.5);
    cr_assert(gradin_shape_hit(&bar, eye, target, &t) && fabs(t - 0.25) < 1e-12, "end on");
    gradin_shape box = gradin_box((gradin_vec3){5, 0, 0}, 0.0, 2.0, 1.0, 1.0);
    cr_assert(gradin_shape_hit(&box, eye, target, &t) && fabs(t - 0.4) < 1e-12, "right is east");
    cr_assert(gradin_shape_hit(&ball, eye, target, NULL));
}

Test(shape, ends_of_the_segment) {
    gradin_shape ball = formula_sphere((gradin_vec3){0, 0, 0}, 1.0);
    double t = -1.0;
    cr_assert(gradin_shape_hit(&ball, (gradin_vec3){0.2, 0, 0}, (gradin_vec3){9, 0, 0}, &t));
    cr_assert_eq(t, 0.0, "the eye is inside");
    cr_assert_not(gradin_shape_hit(&ball, (gradin_vec3){9, 0, 0}, (gradin_vec3){1, 0, 0}, &t),
                  "the target is on the surface");
    cr_assert(gradin_shape_hit(&ball, (gradin_vec3){9, 0, 0}, (gradin_vec3){0.999, 0, 0}, &t));
    cr_assert_not(gradin_shape_hit(&ball, (gradin_vec3){1, 0, 0}, (gradin_vec3){9, 0, 0}, &t),
                  "the eye is on the surface and looks away");
    cr_assert_not(gradin_shape_hit(&ball, (gradin_vec3){9, 0, 0}, (gradin_vec3){1.001, 0, 0}, &t));
    cr_assert_not(gradin_shape_hit(&ball, (gradin_vec3){-9, 0, 0}, (gradin_vec3){-2, 0, 0}, &t));
}

static const gradin_vec2 lift_corner[] = {{-2, -2}, {2, -2}, {2, 2}, {0, 0.5}, {-2, 2}};

Test(shape, focus_on_top_of_a_lift_is_seen_from_above_only) {
    random_source r = {9};
    gradin_polygon polygon = {lift_corner, 5};
    for (int trial = 0; trial < 5000; trial++) {
        double top = random_between(&r, -1.0, 2.0), rise = pow(10, random_between(&r, -4, 1));
        gradin_shape lift = gradin_prism(polygon, top - 1.3, top);
        gradin_vec3 focus = {random_between(&r, -1.9, 1.9), random_between(&r, -1.9, 0.4), top};
        gradin_vec3 eye = random_point(&r, 20.0), below = eye;
        if (gradin_polygon_contains(polygon, (gradin_vec2){eye.x, eye.y})) continue;
        eye.z = top + rise;
        below.z = top - rise;
        cr_assert_not(gradin_shape_hit(&lift, eye, focus, NULL), "from above, trial %d", trial);
        cr_assert(gradin_shape_hit(&lift, below, focus, NULL), "from below, trial %d", trial);
    }
}

Test(shape, thin_slab_without_thickness_hides) {
    gradin_shape slab = gradin_prism((gradin_polygon){lift_corner, 5}, 1.0, 1.0);
    double t;
    cr_assert(gradin_shape_hit(&slab, (gradin_vec3){0, -1, 4}, (gradin_vec3){0, -1, 0}, &t));
    cr_assert(fabs(t - 0.75) < 1e-12);
    cr_assert(gradin_shape_hit(&slab, (gradin_vec3){1, -1, 4}, (gradin_vec3){0, -1, 0}, &t));
    cr_assert_not(gradin_shape_hit(&slab, (gradin_vec3){0, 1.5, 4}, (gradin_vec3){0, 1.5, 0}, &t),
                  "down through the notch");
}

Test(shape, bounding_sphere_holds_the_shape) {
    random_source r = {21};
    for (int trial = 0; trial < 400; trial++) {
        gradin_vec2 corner[RANDOM_CORNERS];
        gradin_shape s = random_shape(&r, (gradin_shape_kind)(trial % 4), 1.0, 1.2, corner);
        for (int i = 0; i < 500; i++) {
            gradin_vec3 p = random_point(&r, 3.0);
            if (!is_inside(&s, p, 0.0)) continue;
            double reach = gradin_norm(gradin_sub(p, s.bound_centre_m));
            cr_assert(reach <= s.bound_radius_m + 1e-9, "kind %d trial %d", s.kind, trial);
        }
    }
}
