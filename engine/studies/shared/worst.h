/* studies/shared/worst.h: the seats that see least. */
#ifndef GRADIN_STUDIES_WORST_H
#define GRADIN_STUDIES_WORST_H

#include "gradin/studies.h"

/* Is seat a worse than seat b? By rating, then by visible fraction, then the lower index: a total
 * order, so the list is the same on every run. */
bool studies_is_worse(const gradin_sight *sight, int a, int b);

/* The worst seats of the sight, worst first; returns how many, at most GRADIN_N_WORST. */
int studies_worst(const gradin_sight *sight, int seat[GRADIN_N_WORST]);

#endif
