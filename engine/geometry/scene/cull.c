/* Conservative culling of occluders against the cone and the box of a bundle of segments that leave
 * one eye. The slacks are far above the rounding of the tests they guard: lengths 1e-6 m,
 * cosines 1e-12 (samples) and 1e-9 (cones). */
#include "geometry/scene/cull.h"

#define SLACK_M 1e-6
#define SLACK 1e-6

static cull_box box_round(gradin_vec3 centre, double x, double y, double z) {
    gradin_vec3 half = {x, y, z};
    return (cull_box){gradin_sub(centre, half), gradin_add(centre, half)};
}

static cull_box box_of_points(const gradin_vec3 *point, int n, double margin) {
    cull_box box = {point[0], point[0]};
    for (int i = 1; i < n; i++) {
        box.low = (gradin_vec3){fmin(box.low.x, point[i].x), fmin(box.low.y, point[i].y),
                                fmin(box.low.z, point[i].z)};
        box.high = (gradin_vec3){fmax(box.high.x, point[i].x), fmax(box.high.y, point[i].y),
                                 fmax(box.high.z, point[i].z)};
    }
    gradin_vec3 half = {margin, margin, margin};
    return (cull_box){gradin_sub(box.low, half), gradin_add(box.high, half)};
}

#define THIN 1e-6 /* breadth to length */

bool gradin_cull_is_thin(const gradin_shape *triangle) {
    const gradin_vec3 *c = triangle->as.triangle.corner_m;
    gradin_vec3 a = gradin_sub(c[1], c[0]), b = gradin_sub(c[2], c[0]), e = gradin_sub(c[2], c[1]);
    double longest2 = fmax(gradin_dot(a, a), fmax(gradin_dot(b, b), gradin_dot(e, e)));
    return !(gradin_norm(gradin_cross(a, b)) > THIN * longest2);
}

static cull_box triangle_box(const gradin_shape *shape) {
    double reach = shape->bound_radius_m * (1.0 + SLACK) + SLACK_M;
    return gradin_cull_is_thin(shape) ? box_round(shape->bound_centre_m, reach, reach, reach)
                                      : box_of_points(shape->as.triangle.corner_m, 3, 0.0);
}

cull_box gradin_cull_shape_box(const gradin_shape *shape) {
    double forward = shape->as.solid.half_forward_m, right = shape->as.solid.half_right_m;
    gradin_vec2 unit = shape->as.solid.forward;
    switch (shape->kind) {
    case GRADIN_SHAPE_ELLIPSOID:
        return box_round(shape->as.solid.centre_m, hypot(forward * unit.x, right * unit.y),
                         hypot(forward * unit.y, right * unit.x), shape->as.solid.half_up_m);
    case GRADIN_SHAPE_BOX:
        return box_round(shape->as.solid.centre_m, fabs(forward * unit.x) + fabs(right * unit.y),
                         fabs(forward * unit.y) + fabs(right * unit.x), shape->as.solid.half_up_m);
    case GRADIN_SHAPE_CAPSULE:
        return box_of_points((const gradin_vec3[]){shape->as.capsule.a_m, shape->as.capsule.b_m}, 2,
                             shape->as.capsule.radius_m);
    case GRADIN_SHAPE_TRIANGLE:
        return triangle_box(shape);
    case GRADIN_SHAPE_PRISM:
        break;
    }
    gradin_box2 plan = gradin_polygon_bounds(shape->as.prism.polygon);
    return (cull_box){{plan.x_min_m, plan.y_min_m, shape->as.prism.bottom_m},
                      {plan.x_max_m, plan.y_max_m, shape->as.prism.top_m}};
}

static double gap_1d(double low, double high, double at) {
    return fmax(0.0, fmax(low - at, at - high));
}

static double reach_1d(double low, double high, double at) {
    return fmax(fabs(low - at), fabs(high - at));
}

/* A rise is seen flattest from farthest when below the eye, from nearest when above. */
static void look_slopes(cull_candidate *c, cull_box box, gradin_vec3 eye) {
    double near_plan =
        hypot(gap_1d(box.low.x, box.high.x, eye.x), gap_1d(box.low.y, box.high.y, eye.y)) - SLACK_M;
    double far_plan =
        hypot(reach_1d(box.low.x, box.high.x, eye.x), reach_1d(box.low.y, box.high.y, eye.y)) +
        SLACK_M;
    c->slope_min = -INFINITY;
    c->slope_max = INFINITY;
    if (near_plan <= SLACK_M) return;
    double top = box.high.z - eye.z + SLACK_M, bottom = box.low.z - eye.z - SLACK_M;
    c->slope_max = top / (top > 0.0 ? near_plan : far_plan);
    c->slope_min = bottom / (bottom < 0.0 ? near_plan : far_plan);
}

static void look_sphere(cull_candidate *c, const gradin_shape *shape, gradin_vec3 eye) {
    gradin_vec3 to = gradin_sub(shape->bound_centre_m, eye);
    double distance = gradin_norm(to), radius = shape->bound_radius_m * (1.0 + SLACK) + SLACK_M;
    c->near_m = fmax(0.0, distance - radius);
    c->cos_limit = -2.0;
    if (distance <= radius) return;
    double sine = radius / distance;
    c->toward = gradin_scale(to, 1.0 / distance);
    c->sin_limit = sine;
    c->cos_limit = sqrt(1.0 - sine * sine) - 1e-12;
}

static double eye_to_axis_m(gradin_vec3 to_a, gradin_vec3 to_b) {
    gradin_vec3 axis = gradin_sub(to_b, to_a);
    double length2 = gradin_dot(axis, axis);
    double t = length2 > 0.0 ? fmin(fmax(-gradin_dot(to_a, axis) / length2, 0.0), 1.0) : 0.0;
    return gradin_norm(gradin_add(to_a, gradin_scale(axis, t)));
}

/* Every point of a capsule lies within its radius of the plane through the eye and the axis, at
 * near_m or farther: a direction that meets it has |direction . normal| <= radius / near_m. */
static void look_capsule(cull_candidate *c, const gradin_shape *shape, gradin_vec3 eye) {
    gradin_vec3 to_a = gradin_sub(shape->as.capsule.a_m, eye);
    gradin_vec3 to_b = gradin_sub(shape->as.capsule.b_m, eye);
    gradin_vec3 normal = gradin_cross(to_a, to_b);
    double size = gradin_norm(normal), radius = shape->as.capsule.radius_m + SLACK_M;
    double near = eye_to_axis_m(to_a, to_b) - radius;
    if (near <= SLACK_M || size <= 1e-4 * gradin_norm(to_a) * gradin_norm(to_b)) return;
    c->near_m = fmax(c->near_m, near);
    c->plane = gradin_scale(normal, 1.0 / size);
    c->plane_limit = radius / near + 1e-9;
}

cull_candidate gradin_cull_look(const gradin_shape *shape, cull_box box, gradin_vec3 eye) {
    cull_candidate c = {0};
    look_sphere(&c, shape, eye);
    look_slopes(&c, box, eye);
    if (shape->kind == GRADIN_SHAPE_CAPSULE) look_capsule(&c, shape, eye);
    gradin_vec3 gap = {gap_1d(box.low.x, box.high.x, eye.x), gap_1d(box.low.y, box.high.y, eye.y),
                       gap_1d(box.low.z, box.high.z, eye.z)};
    c.near_m = fmax(c.near_m, gradin_norm(gap)) * (1.0 - SLACK) - SLACK_M;
    return c;
}

static bool apart_1d(double a_low, double a_high, double b_low, double b_high) {
    return a_high < b_low - SLACK_M || b_high < a_low - SLACK_M;
}

bool gradin_cull_apart(const cull_bundle *bundle, gradin_vec3 eye, const gradin_shape *shape,
                       cull_box box) {
    cull_box b = bundle->box;
    if (apart_1d(b.low.z, b.high.z, box.low.z, box.high.z) ||
        apart_1d(b.low.x, b.high.x, box.low.x, box.high.x) ||
        apart_1d(b.low.y, b.high.y, box.low.y, box.high.y))
        return true;
    /* no slack needed: the rounded quotient that meets the top is then 1 or more */
    return shape->kind == GRADIN_SHAPE_PRISM && shape->as.prism.top_m <= bundle->sample_low_m &&
           shape->as.prism.top_m < eye.z;
}

static bool outside_cone(const cull_bundle *bundle, const cull_candidate *c) {
    if (bundle->cos_half < 0.0 || c->cos_limit < -1.0) return false;
    double between = gradin_dot(bundle->axis, c->toward);
    return between < bundle->cos_half * c->cos_limit - bundle->sin_half * c->sin_limit - 1e-9;
}

bool gradin_cull_outside(const cull_bundle *bundle, const cull_candidate *c) {
    if (c->near_m > bundle->far_m || outside_cone(bundle, c)) return true;
    if (c->slope_max < bundle->slope_min || c->slope_min > bundle->slope_max) return true;
    return fabs(gradin_dot(bundle->axis, c->plane)) > c->plane_limit + bundle->chord &&
           c->plane_limit > 0.0;
}
