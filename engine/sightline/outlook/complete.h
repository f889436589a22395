/* sightline/outlook/complete.h: has an outlook all that its counts promise? */
#ifndef GRADIN_SIGHTLINE_OUTLOOK_COMPLETE_H
#define GRADIN_SIGHTLINE_OUTLOOK_COMPLETE_H

#include "gradin/studies/outlook.h"

/* GRADIN_BAD_USE for an outlook that is NULL, names no model or points, or lacks an array that a
 * count above 0 belongs to. Nothing is computed, so the writers call it, too. */
gradin_status outlook_complete(const gradin_outlook *outlook, gradin_error *error);
/* GRADIN_BAD_USE for points that are NULL or of which one has no name. */
gradin_status outside_complete(const gradin_outside *outside, gradin_error *error);

#endif
