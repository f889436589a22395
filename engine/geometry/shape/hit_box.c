/* Segment against box (three slabs in the box's own frame) and against triangle (plane, then three
 * edge sides). */
#include "geometry/shape/hit.h"

hit_stretch gradin_hit_box(const gradin_shape *shape, gradin_vec3 eye, gradin_vec3 way) {
    gradin_vec3 from = gradin_sub(eye, shape->as.solid.centre_m);
    gradin_vec2 forward = shape->as.solid.forward;
    hit_stretch ahead =
        hit_slab(from.x * forward.x + from.y * forward.y, way.x * forward.x + way.y * forward.y,
                 shape->as.solid.half_forward_m);
    hit_stretch right =
        hit_slab(from.x * forward.y - from.y * forward.x, way.x * forward.y - way.y * forward.x,
                 shape->as.solid.half_right_m);
    hit_stretch up = hit_slab(from.z, way.z, shape->as.solid.half_up_m);
    return hit_common(hit_common(ahead, right), up);
}

/* A triangle seen within 1e-9 rad of its own plane is a line without breadth and hides nothing. */
#define EDGE_ON_RAD 1e-9

hit_stretch gradin_hit_triangle(const gradin_shape *shape, gradin_vec3 eye, gradin_vec3 way) {
    const gradin_vec3 *corner = shape->as.triangle.corner_m;
    gradin_vec3 normal =
        gradin_cross(gradin_sub(corner[1], corner[0]), gradin_sub(corner[2], corner[0]));
    double closing = gradin_dot(normal, way);
    if (!(fabs(closing) > EDGE_ON_RAD * gradin_norm(normal) * gradin_norm(way))) return HIT_NOWHERE;
    double t = gradin_dot(normal, gradin_sub(corner[0], eye)) / closing;
    gradin_vec3 foot = gradin_add(eye, gradin_scale(way, t));
    for (int i = 0; i < 3; i++) {
        gradin_vec3 edge = gradin_sub(corner[(i + 1) % 3], corner[i]);
        gradin_vec3 side = gradin_cross(edge, gradin_sub(foot, corner[i]));
        if (gradin_dot(side, normal) < 0.0) return HIT_NOWHERE;
    }
    return (hit_stretch){t, t};
}
