/* sightline/rating/rate.h: the rating of one seat. */
#ifndef GRADIN_SIGHTLINE_RATE_H
#define GRADIN_SIGHTLINE_RATE_H

#include "gradin/sightline.h"

/* The worst of the seat's figures against the limits, and the figure that set it. */
gradin_rating gradin_sight_rate(const gradin_limits *limits, const gradin_sight *sight, int seat,
                                gradin_reason *reason);

#endif
