/* studies/shared/levels.h: what the seats of each level see. */
#ifndef GRADIN_STUDIES_LEVELS_H
#define GRADIN_STUDIES_LEVELS_H

#include "gradin/studies.h"

/* level[model->n_level] in the arena. GRADIN_OK or GRADIN_NO_MEMORY. */
gradin_status studies_levels(gradin_arena *arena, const gradin_model *model,
                             const gradin_sight *sight, gradin_level_sum **level);

#endif
