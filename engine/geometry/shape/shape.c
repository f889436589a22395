/* Constructors of shapes with their bounding spheres, and the segment test over all kinds. */
#include "geometry/shape/hit.h"

static gradin_shape solid(gradin_shape_kind kind, gradin_vec3 centre_m, double bearing_deg,
                          double half_forward_m, double half_right_m, double half_up_m) {
    gradin_shape shape = {.kind = kind, .bound_centre_m = centre_m};
    shape.as.solid.centre_m = centre_m;
    shape.as.solid.half_forward_m = half_forward_m;
    shape.as.solid.half_right_m = half_right_m;
    shape.as.solid.half_up_m = half_up_m;
    shape.as.solid.forward = gradin_bearing_unit(bearing_deg);
    return shape;
}

gradin_shape gradin_ellipsoid(gradin_vec3 centre_m, double bearing_deg, double half_forward_m,
                              double half_right_m, double half_up_m) {
    gradin_shape shape = solid(GRADIN_SHAPE_ELLIPSOID, centre_m, bearing_deg, half_forward_m,
                               half_right_m, half_up_m);
    shape.bound_radius_m = fmax(half_forward_m, fmax(half_right_m, half_up_m));
    return shape;
}

gradin_shape gradin_box(gradin_vec3 centre_m, double bearing_deg, double half_forward_m,
                        double half_right_m, double half_up_m) {
    gradin_shape shape =
        solid(GRADIN_SHAPE_BOX, centre_m, bearing_deg, half_forward_m, half_right_m, half_up_m);
    shape.bound_radius_m = gradin_norm((gradin_vec3){half_forward_m, half_right_m, half_up_m});
    return shape;
}

gradin_shape gradin_capsule(gradin_vec3 a_m, gradin_vec3 b_m, double radius_m) {
    gradin_shape shape = {.kind = GRADIN_SHAPE_CAPSULE};
    shape.as.capsule.a_m = a_m;
    shape.as.capsule.b_m = b_m;
    shape.as.capsule.radius_m = radius_m;
    shape.bound_centre_m = gradin_scale(gradin_add(a_m, b_m), 0.5);
    shape.bound_radius_m = 0.5 * gradin_norm(gradin_sub(b_m, a_m)) + radius_m;
    return shape;
}

gradin_shape gradin_prism(gradin_polygon polygon, double bottom_m, double top_m) {
    gradin_shape shape = {.kind = GRADIN_SHAPE_PRISM};
    shape.as.prism.polygon = polygon;
    shape.as.prism.bottom_m = bottom_m;
    shape.as.prism.top_m = top_m;
    gradin_box2 box = gradin_polygon_bounds(polygon);
    gradin_vec3 centre = {0.5 * (box.x_min_m + box.x_max_m), 0.5 * (box.y_min_m + box.y_max_m),
                          0.5 * (bottom_m + top_m)};
    double reach = 0.0;
    for (int i = 0; i < polygon.n_corner; i++)
        reach =
            fmax(reach, hypot(polygon.corner_m[i].x - centre.x, polygon.corner_m[i].y - centre.y));
    shape.bound_centre_m = centre;
    shape.bound_radius_m = hypot(reach, 0.5 * (top_m - bottom_m));
    return shape;
}

static double middle(double a, double b, double c) {
    return 0.5 * (fmin(a, fmin(b, c)) + fmax(a, fmax(b, c)));
}

gradin_shape gradin_triangle(gradin_vec3 a_m, gradin_vec3 b_m, gradin_vec3 c_m) {
    gradin_shape shape = {.kind = GRADIN_SHAPE_TRIANGLE};
    const gradin_vec3 corner[3] = {a_m, b_m, c_m};
    shape.bound_centre_m = (gradin_vec3){middle(a_m.x, b_m.x, c_m.x), middle(a_m.y, b_m.y, c_m.y),
                                         middle(a_m.z, b_m.z, c_m.z)};
    for (int i = 0; i < 3; i++) {
        shape.as.triangle.corner_m[i] = corner[i];
        double reach = gradin_norm(gradin_sub(corner[i], shape.bound_centre_m));
        shape.bound_radius_m = fmax(shape.bound_radius_m, reach);
    }
    return shape;
}

/* The cheap test that most shapes fail, with slack for its own rounding. */
static bool passes_bound(const gradin_shape *shape, gradin_vec3 eye, gradin_vec3 way) {
    gradin_vec3 to_centre = gradin_sub(shape->bound_centre_m, eye);
    double way2 = gradin_dot(way, way);
    double t = way2 > 0.0 ? gradin_dot(to_centre, way) / way2 : 0.0;
    t = t > 0.0 ? (t < 1.0 ? t : 1.0) : 0.0;
    gradin_vec3 gap = gradin_sub(to_centre, gradin_scale(way, t));
    double reach = shape->bound_radius_m * (1.0 + 1e-9) + 1e-9;
    return gradin_dot(gap, gap) <= reach * reach;
}

static hit_stretch stretch_inside(const gradin_shape *shape, gradin_vec3 eye, gradin_vec3 way) {
    switch (shape->kind) {
    case GRADIN_SHAPE_ELLIPSOID:
        return gradin_hit_ellipsoid(shape, eye, way);
    case GRADIN_SHAPE_CAPSULE:
        return gradin_hit_capsule(shape, eye, way);
    case GRADIN_SHAPE_BOX:
        return gradin_hit_box(shape, eye, way);
    case GRADIN_SHAPE_PRISM:
        return gradin_hit_prism(shape, eye, way);
    case GRADIN_SHAPE_TRIANGLE:
        return gradin_hit_triangle(shape, eye, way);
    }
    return HIT_NOWHERE;
}

bool gradin_shape_hit(const gradin_shape *shape, gradin_vec3 eye_m, gradin_vec3 target_m,
                      double *t) {
    gradin_vec3 way = gradin_sub(target_m, eye_m);
    if (!passes_bound(shape, eye_m, way)) return false;
    hit_stretch inside = stretch_inside(shape, eye_m, way);
    if (!(inside.enter <= inside.leave && inside.leave > GRADIN_SEGMENT_END &&
          inside.enter < 1.0 - GRADIN_SEGMENT_END))
        return false;
    if (t) *t = fmax(inside.enter, 0.0);
    return true;
}
