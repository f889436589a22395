/* sightline/audience/person.h: one person drawn from the population. */
#ifndef GRADIN_SIGHTLINE_PERSON_H
#define GRADIN_SIGHTLINE_PERSON_H

#include "gradin/model.h"

/* The person in seat `seat` of draw `draw`: sizes as in gradin_audience; eye_height_m is above the
 * tread. Nothing depends on the order of calls. */
gradin_audience gradin_draw_person(const gradin_audience *audience, uint32_t seed, int draw,
                                   int seat);

#endif
