/* sightline/rating/angles.h: where the focus lies as seen from one seat. */
#ifndef GRADIN_SIGHTLINE_ANGLES_H
#define GRADIN_SIGHTLINE_ANGLES_H

#include "sightline/focus/focus.h"

typedef struct sight_angles {
    double distance_m, nearest_m, off_axis_deg, down_deg, turn_deg, width_deg;
} sight_angles;

/* axis_deg may be NAN: then off_axis_deg is. */
sight_angles gradin_sight_angles(const sight_focus *focus, gradin_vec3 eye_m, double facing_deg,
                                 double axis_deg);

#endif
