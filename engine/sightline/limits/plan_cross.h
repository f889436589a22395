/* sightline/limits/plan_cross.h: where a sightline crosses a stretch of rail on plan. */
#ifndef GRADIN_SIGHTLINE_PLAN_CROSS_H
#define GRADIN_SIGHTLINE_PLAN_CROSS_H

#include "gradin/base.h"

/* Crossing of the line from + t*way with the stretch a + share*(b - a), 0 <= share <= 1, on plan;
 * false when there is none or they run along each other. t may be anything. */
static inline bool gradin_plan_cross(gradin_vec2 from, gradin_vec2 way, gradin_vec3 a,
                                     gradin_vec3 b, double *t, double *share) {
    double along_x = b.x - a.x, along_y = b.y - a.y;
    double turn = way.x * along_y - way.y * along_x;
    if (fabs(turn) < 1e-12) return false;
    double to_x = a.x - from.x, to_y = a.y - from.y;
    *t = (to_x * along_y - to_y * along_x) / turn;
    *share = (to_x * way.y - to_y * way.x) / turn;
    return *share >= 0.0 && *share <= 1.0;
}

#endif
