/* venue/frame.h: lift grids that lie at a bearing. A grid is laid out square to the plan, then
 * turned clockwise about its origin by bearing_deg; unturned ones keep their figures to the bit. */
#ifndef GRADIN_VENUE_FRAME_H
#define GRADIN_VENUE_FRAME_H

#include "gradin/venue.h"

/* A plan point where it would lie if the section's grid were not turned, and the way back. */
gradin_vec2 grid_unturned_m(const gradin_lift_section *section, gradin_vec2 at_m);
gradin_vec2 grid_turned_m(const gradin_lift_section *section, gradin_vec2 at_m);
/* Corners of a box of the section's unturned grid: x_min y_min, x_max y_min, x_max y_max, x_min
 * y_max. */
void grid_corners(const gradin_lift_section *section, gradin_box2 box, gradin_vec2 corner_m[4]);

#endif
