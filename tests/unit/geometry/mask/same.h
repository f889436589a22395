/* unit/geometry/mask/same.h: the masks of every instruction set against the reference. */
#ifndef UNIT_GEOMETRY_SAME_H
#define UNIT_GEOMETRY_SAME_H

#include "unit/geometry/random.h"

enum { SAME_MOST = 2600 }; /* samples */

/* Asserts that both are equal, sample by sample, with and without blame; the samples lie so.
 * Returns how many are hidden. */
int same_masks(const gradin_scene *scene, const gradin_vec3 *sample, int n_sample, gradin_lie lie,
               gradin_vec3 eye, int owner, const char *what, int trial);

#endif
