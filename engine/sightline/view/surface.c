/* Normals of the shapes, for shading (elementary geometry). */
#include "sightline/view/view.h"

static gradin_vec3 of_solid(const gradin_shape *s, gradin_vec3 at_m) {
    gradin_vec3 d = gradin_sub(at_m, s->as.solid.centre_m);
    gradin_vec2 f = s->as.solid.forward;
    double forward = (d.x * f.x + d.y * f.y) / s->as.solid.half_forward_m;
    double right = (d.x * f.y - d.y * f.x) / s->as.solid.half_right_m;
    double up = d.z / s->as.solid.half_up_m;
    if (s->kind == GRADIN_SHAPE_ELLIPSOID) {
        forward /= s->as.solid.half_forward_m;
        right /= s->as.solid.half_right_m;
        up /= s->as.solid.half_up_m;
    } else if (fabs(up) >= fmax(fabs(forward), fabs(right)))
        forward = right = 0.0;
    else if (fabs(forward) >= fabs(right))
        right = up = 0.0;
    else
        forward = up = 0.0;
    return (gradin_vec3){forward * f.x + right * f.y, forward * f.y - right * f.x, up};
}

static gradin_vec3 of_capsule(const gradin_shape *s, gradin_vec3 at_m) {
    gradin_vec3 a = s->as.capsule.a_m, ab = gradin_sub(s->as.capsule.b_m, a);
    double length2 = gradin_dot(ab, ab);
    double t = length2 > 0.0 ? gradin_dot(gradin_sub(at_m, a), ab) / length2 : 0.0;
    t = fmin(fmax(t, 0.0), 1.0);
    return gradin_sub(at_m, gradin_add(a, gradin_scale(ab, t)));
}

static gradin_vec3 of_prism(const gradin_shape *s, gradin_vec3 at_m) {
    const gradin_vec3 up = {0.0, 0.0, 1.0};
    if (fabs(at_m.z - s->as.prism.top_m) < 1e-6 || fabs(at_m.z - s->as.prism.bottom_m) < 1e-6)
        return up;
    int edge = 0;
    gradin_polygon p = s->as.prism.polygon;
    gradin_polygon_nearest_m(p, (gradin_vec2){at_m.x, at_m.y}, &edge);
    gradin_vec2 a = p.corner_m[edge], b = p.corner_m[(edge + 1) % p.n_corner];
    return (gradin_vec3){b.y - a.y, a.x - b.x, 0.0};
}

static gradin_vec3 of_triangle(const gradin_shape *s) {
    const gradin_vec3 *c = s->as.triangle.corner_m;
    return gradin_cross(gradin_sub(c[1], c[0]), gradin_sub(c[2], c[0]));
}

static gradin_vec3 of_shape(const gradin_shape *s, gradin_vec3 at_m) {
    switch (s->kind) {
    case GRADIN_SHAPE_ELLIPSOID:
    case GRADIN_SHAPE_BOX:
        return of_solid(s, at_m);
    case GRADIN_SHAPE_CAPSULE:
        return of_capsule(s, at_m);
    case GRADIN_SHAPE_PRISM:
        return of_prism(s, at_m);
    case GRADIN_SHAPE_TRIANGLE:
        break;
    }
    return of_triangle(s);
}

gradin_vec3 view_normal(const gradin_shape *shape, gradin_vec3 at_m, gradin_vec3 way) {
    gradin_vec3 normal = of_shape(shape, at_m);
    double length = gradin_norm(normal);
    if (!(length > 0.0)) return gradin_scale(way, -1.0);
    return gradin_scale(normal, (gradin_dot(normal, way) > 0.0 ? -1.0 : 1.0) / length);
}
