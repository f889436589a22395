/* event/outside.h: the point outside at which an event's level is stated. */
#ifndef GRADIN_EVENT_OUTSIDE_H
#define GRADIN_EVENT_OUTSIDE_H

#include "acoustics/source/track.h"
#include "gradin/model.h"

/* Point of the room (its footprint from 0 to the ceiling) that lies nearest to the track. */
gradin_vec3 gradin_outside_m(const gradin_model *model, const gradin_track *track);

#endif
