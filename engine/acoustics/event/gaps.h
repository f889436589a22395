/* event/gaps.h: what the parts of the envelope that are not stated add together. */
#ifndef GRADIN_EVENT_GAPS_H
#define GRADIN_EVENT_GAPS_H

#include "gradin/acoustics.h"

/* Sets adds_db and adds_octave_db from the parts and the ground. */
void gradin_gaps_sum(gradin_gaps *gaps);

#endif
