/* geometry/scene/cull.h: what cannot hide a bundle of samples from one eye. Every test is
 * conservative: it may keep an occluder that hides nothing, never drop one that gradin_shape_hit()
 * would find. */
#ifndef GRADIN_GEOMETRY_CULL_H
#define GRADIN_GEOMETRY_CULL_H

#include "gradin/geometry.h"

/* Upright box round a shape or round an eye and its samples. */
typedef struct cull_box {
    gradin_vec3 low, high;
} cull_box;

cull_box gradin_cull_shape_box(const gradin_shape *shape);
/* A triangle so thin that rounding turns its plane: it may be met anywhere in its bounding sphere.
 */
bool gradin_cull_is_thin(const gradin_shape *triangle);

/* One occluder as seen from one eye. */
typedef struct cull_candidate {
    int index;
    double near_m;               /* no point of it is nearer to the eye */
    gradin_vec3 toward;          /* unit, to the middle of its bounding sphere */
    double cos_limit, sin_limit; /* of the sphere's half angle; -2 when the eye is inside */
    double slope_min, slope_max; /* rise over plan distance of all its points */
    gradin_vec3 plane;           /* unit normal of the plane eye-axis of a capsule, else null */
    double plane_limit;          /* largest |direction . plane| of its points */
} cull_candidate;

cull_candidate gradin_cull_look(const gradin_shape *shape, cull_box box, gradin_vec3 eye);

/* A bundle of directions from one eye to a set of samples. */
typedef struct cull_bundle {
    cull_box box; /* of the eye and the samples */
    double sample_low_m;
    double far_m; /* longest segment */
    gradin_vec3 axis;
    double cos_half, sin_half; /* of the cone round all directions; cos_half < 0: no cone */
    double chord;              /* longest |direction - axis| */
    double slope_min, slope_max;
} cull_bundle;

/* Boxes do not meet, or the shape is a prism that ends at or below all samples and below the eye.
 */
bool gradin_cull_apart(const cull_bundle *bundle, gradin_vec3 eye, const gradin_shape *shape,
                       cull_box box);
/* The candidate is outside the cone, out of reach, above or below all rays, or off the plane. */
bool gradin_cull_outside(const cull_bundle *bundle, const cull_candidate *candidate);

#endif
