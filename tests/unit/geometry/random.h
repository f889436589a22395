/* unit/geometry/random.h: a small generator with a fixed seed (xorshift64*, Marsaglia 2003, Vigna
 * 2016), so that every machine draws the same scenes. */
#ifndef UNIT_GEOMETRY_RANDOM_H
#define UNIT_GEOMETRY_RANDOM_H

#include "gradin/geometry.h"

typedef struct random_source {
    uint64_t state;
} random_source;

static inline double random_between(random_source *r, double low, double high) {
    r->state ^= r->state >> 12;
    r->state ^= r->state << 25;
    r->state ^= r->state >> 27;
    uint64_t bits = (r->state * 0x2545F4914F6CDD1DULL) >> 11;
    return low + (high - low) * (double)bits * 0x1p-53;
}

static inline gradin_vec3 random_point(random_source *r, double half) {
    double x = random_between(r, -half, half), y = random_between(r, -half, half);
    return (gradin_vec3){x, y, random_between(r, -half, half)};
}

/* A star-shaped polygon of n corners about centre, convex or not. */
static inline gradin_polygon random_star(random_source *r, gradin_vec2 centre, double low,
                                         double high, int n, gradin_vec2 *corner) {
    for (int i = 0; i < n; i++) {
        double angle = 2.0 * GRADIN_PI * (i + random_between(r, 0.0, 0.8)) / n;
        double reach = random_between(r, low, high);
        corner[i] = (gradin_vec2){centre.x + reach * cos(angle), centre.y + reach * sin(angle)};
    }
    return (gradin_polygon){corner, n};
}

enum { RANDOM_CORNERS = 7 };

/* A shape of the kind, within about `size` of a point of the cube of half edge `half`. corner
 * [RANDOM_CORNERS] must outlive a prism. */
static inline gradin_shape random_shape(random_source *r, gradin_shape_kind kind, double half,
                                        double size, gradin_vec2 *corner) {
    gradin_vec3 c = random_point(r, half), a = random_point(r, size), b = random_point(r, size);
    double bearing = random_between(r, 0.0, 360.0), p = random_between(r, 0.05 * size, size);
    double q = random_between(r, 0.05 * size, size), s = random_between(r, 0.05 * size, size);
    switch (kind) {
    case GRADIN_SHAPE_ELLIPSOID:
        return gradin_ellipsoid(c, bearing, p, q, s);
    case GRADIN_SHAPE_BOX:
        return gradin_box(c, bearing, p, q, s);
    case GRADIN_SHAPE_CAPSULE:
        return gradin_capsule(gradin_add(c, a), gradin_add(c, b), 0.3 * p);
    case GRADIN_SHAPE_TRIANGLE:
        return gradin_triangle(gradin_add(c, a), gradin_add(c, b), c);
    case GRADIN_SHAPE_PRISM:
        break;
    }
    return gradin_prism(
        random_star(r, (gradin_vec2){c.x, c.y}, 0.2 * size, size, RANDOM_CORNERS, corner), c.z - p,
        c.z + q);
}

#endif
