/* event/uncertainty.h: the uncertainty of the levels of a prepared room. */
#ifndef GRADIN_EVENT_UNCERTAINTY_H
#define GRADIN_EVENT_UNCERTAINTY_H

#include "gradin/acoustics/event.h"

/* Fills the room's own part, which needs tau_m2 and heard_1m2 with the shades as set; beyond_db is
 * what gradin_diffuse_note() found. */
void gradin_uncertainty_prepare(gradin_prepared_room *room, double beyond_db);
/* What it is made of and where that is from. */
const char *gradin_uncertainty_source(void);

#endif
