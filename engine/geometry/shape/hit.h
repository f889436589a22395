/* geometry/shape/hit.h: segment tests of one shape kind each. The caller has already tested the
 * bounding sphere. A test gives the stretch [enter, leave] of the line eye + t * way that lies in
 * the closed shape, or false when the line misses it. */
#ifndef GRADIN_GEOMETRY_HIT_H
#define GRADIN_GEOMETRY_HIT_H

#include "gradin/geometry.h"

typedef struct hit_stretch {
    double enter, leave; /* fractions of the way; enter > leave is empty */
} hit_stretch;

#define HIT_NOWHERE ((hit_stretch){INFINITY, -INFINITY})
#define HIT_EVERYWHERE ((hit_stretch){-INFINITY, INFINITY})

hit_stretch gradin_hit_ellipsoid(const gradin_shape *shape, gradin_vec3 eye, gradin_vec3 way);
hit_stretch gradin_hit_capsule(const gradin_shape *shape, gradin_vec3 eye, gradin_vec3 way);
hit_stretch gradin_hit_box(const gradin_shape *shape, gradin_vec3 eye, gradin_vec3 way);
hit_stretch gradin_hit_triangle(const gradin_shape *shape, gradin_vec3 eye, gradin_vec3 way);
/* A prism may be met in several stretches: the first that reaches into (0, 1) by more than
 * GRADIN_SEGMENT_END. */
hit_stretch gradin_hit_prism(const gradin_shape *shape, gradin_vec3 eye, gradin_vec3 way);

/* The stretch of |offset + t * step| <= half. */
static inline hit_stretch hit_slab(double offset, double step, double half) {
    if (step == 0.0) return fabs(offset) <= half ? HIT_EVERYWHERE : HIT_NOWHERE;
    double a = (-half - offset) / step, b = (half - offset) / step;
    return (hit_stretch){fmin(a, b), fmax(a, b)};
}

static inline hit_stretch hit_common(hit_stretch a, hit_stretch b) {
    return (hit_stretch){fmax(a.enter, b.enter), fmin(a.leave, b.leave)};
}

#endif
