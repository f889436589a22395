/* sightline/limits/rail_pass.h: at what height a sightline passes a rail, and what rails hide. */
#ifndef GRADIN_SIGHTLINE_RAIL_PASS_H
#define GRADIN_SIGHTLINE_RAIL_PASS_H

#include "gradin/sightline.h"

enum { RAIL_POINTS_AN_EDGE = 64 }; /* of a focus area's boundary, corners included */

/* Height above the rail's foot at which the ray to `point` passes over it, the lower of its two
 * sides and of all stretches; INFINITY when it does not pass over it. */
double gradin_rail_pass_m(const gradin_rail *rail, gradin_vec3 eye, gradin_vec3 point);
/* Points on the boundary of a focus area. */
int gradin_rail_n_bound(const gradin_focus *area);
gradin_vec3 gradin_rail_bound(const gradin_focus *area, int i);

/* Fills the lines of the limits. */
gradin_status gradin_rail_lines(gradin_arena *arena, const gradin_model *model,
                                gradin_rail_limits *limits, gradin_error *error);

#endif
