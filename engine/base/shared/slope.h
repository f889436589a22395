/* base/shared/slope.h: the plane of a floor that rises evenly from the lowest corner of its
 * outline. */
#ifndef GRADIN_BASE_SHARED_SLOPE_H
#define GRADIN_BASE_SHARED_SLOPE_H

#include "gradin/base.h"

/* Over the plan: its height at the origin, and its rise per metre to the east and to the north. */
typedef struct slope_plane {
    double z_m, east, north;
} slope_plane;

static inline double slope_z_m(slope_plane plane, gradin_vec2 at_m) {
    return plane.z_m + plane.east * at_m.x + plane.north * at_m.y;
}

/* Level without a slope, then uphill_deg says nothing. */
static inline slope_plane slope_rising(const gradin_vec2 *corner_m, int n_corner, double lowest_m,
                                       double slope, double uphill_deg) {
    slope_plane plane = {lowest_m, 0.0, 0.0};
    double least = INFINITY;
    if (!(slope > 1e-9) || !corner_m) return plane;
    gradin_vec2 up = gradin_bearing_unit(uphill_deg);
    plane.east = slope * up.x;
    plane.north = slope * up.y;
    for (int i = 0; i < n_corner; i++)
        least = fmin(least, plane.east * corner_m[i].x + plane.north * corner_m[i].y);
    plane.z_m = lowest_m - least;
    return plane;
}

#endif
