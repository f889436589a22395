/* studies/shared/spread.h: order statistics of one figure over the seats. */
#ifndef GRADIN_STUDIES_SPREAD_H
#define GRADIN_STUDIES_SPREAD_H

#include "gradin/studies.h"

/* Over the finite ones of value[n] (value may be NULL: no seat has the figure). Scratch from the
 * arena. GRADIN_OK or GRADIN_NO_MEMORY. */
gradin_status studies_spread(gradin_arena *arena, const double *value, int n,
                             gradin_spread *spread);
/* The percentile p, 0..1, alone; NAN when no value is finite. */
gradin_status studies_percentile(gradin_arena *arena, const double *value, int n, double p,
                                 double *percentile);

#endif
