/* geometry/plan/plan.h: small vector helpers on plan. */
#ifndef GRADIN_GEOMETRY_PLAN_H
#define GRADIN_GEOMETRY_PLAN_H

#include "gradin/geometry.h"

static inline gradin_vec2 plan_sub(gradin_vec2 a, gradin_vec2 b) {
    return (gradin_vec2){a.x - b.x, a.y - b.y};
}
static inline double plan_dot(gradin_vec2 a, gradin_vec2 b) {
    return a.x * b.x + a.y * b.y;
}
/* > 0 when b lies to the left of a. */
static inline double plan_cross(gradin_vec2 a, gradin_vec2 b) {
    return a.x * b.y - a.y * b.x;
}
static inline gradin_vec2 plan_along(gradin_vec2 a, gradin_vec2 direction, double t) {
    return (gradin_vec2){a.x + t * direction.x, a.y + t * direction.y};
}
static inline bool plan_is_unit(gradin_vec2 a) {
    return fabs(plan_dot(a, a) - 1.0) < 1e-9;
}
/* The point in the frame whose first axis is the unit vector, and back. */
static inline gradin_vec2 plan_into(gradin_vec2 p, gradin_vec2 along) {
    return (gradin_vec2){p.x * along.x + p.y * along.y, p.y * along.x - p.x * along.y};
}
static inline gradin_vec2 plan_out_of(gradin_vec2 p, gradin_vec2 along) {
    return (gradin_vec2){p.x * along.x - p.y * along.y, p.x * along.y + p.y * along.x};
}
/* Corner i of the closed walk round the polygon, 0 <= i <= n_corner. */
static inline gradin_vec2 plan_corner(gradin_polygon polygon, int i) {
    return polygon.corner_m[i < polygon.n_corner ? i : i - polygon.n_corner];
}

/* Closest point of the segment a-b. */
gradin_vec2 gradin_plan_nearest_on_segment(gradin_vec2 a, gradin_vec2 b, gradin_vec2 point);

/* convex.c: a simple polygon of up to PLAN_CUT_CORNERS corners as convex pieces of up to
 * PLAN_PIECE_CORNERS, counter-clockwise, into out[n_corner]; 0 when it is not cut, -1 when out of
 * memory. */
enum { PLAN_CUT_CORNERS = 64, PLAN_PIECE_CORNERS = 16 };
int plan_convex_pieces(gradin_arena *arena, gradin_polygon polygon, gradin_polygon *out);

#endif
