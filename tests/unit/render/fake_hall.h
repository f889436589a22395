/* unit/render/fake_hall.h: an assessment made by hand, with everything that a map can show:
 * a thrust stage in a hall of 28 by 32 m, towers on a second sheet, glazing on two sides, extreme
 * and missing figures. Nothing in it is computed by the engine. */
#ifndef GRADIN_TEST_FAKE_HALL_H
#define GRADIN_TEST_FAKE_HALL_H

#include "gradin/render.h"

typedef struct fake_hall {
    gradin_model model;
    gradin_assessment assessment;
    gradin_band_level band[2]; /* an octave with a limit, a third */
} fake_hall;

/* In the arena; NULL only without memory. */
fake_hall *fake_hall_create(gradin_arena *arena);

#endif
