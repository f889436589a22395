/* studies/fit/fit.h: parts of the rough checks. */
#ifndef GRADIN_STUDIES_FIT_H
#define GRADIN_STUDIES_FIT_H

#include "gradin/fit.h"

/* underfoot.c: height of what a person stands on at a plan point: a lift tread, a deck no more than
 * a step above reach_m, else the floor; -INFINITY over an open stair or outside the room. */
double fit_surface_m(const gradin_model *model, gradin_vec2 at_m, double reach_m);
/* Corners of one tread of a section: x_min, y_min, x_max, y_max. */
gradin_box2 fit_tread(const gradin_section *section, int tread);
/* Is the centre of a seat within radius_m of the point, seats from..to not counted? */
bool fit_is_seat_near(const gradin_model *model, gradin_vec2 at_m, double radius_m, int from,
                      int to);

/* Each fills its part; false when out of memory. */
bool fit_edges(gradin_arena *arena, gradin_fit *fit);
bool fit_rows(gradin_arena *arena, gradin_fit *fit);
bool fit_exits(gradin_arena *arena, gradin_fit *fit);
bool fit_loads(gradin_arena *arena, gradin_fit *fit);

#endif
