/* studies/shared/bands.h: extracts of noise for maps, shared by assessments and seasons. */
#ifndef GRADIN_STUDIES_BANDS_H
#define GRADIN_STUDIES_BANDS_H

#include "gradin/studies.h"

/* Has any element of the facade a shade? */
bool studies_has_shades(const gradin_model *model);
/* a[n] - b[n] in the arena with its spread. GRADIN_OK or GRADIN_NO_MEMORY. */
gradin_status studies_difference(gradin_arena *arena, const double *a, const double *b, int n,
                                 double **difference, gradin_spread *spread);

#endif
