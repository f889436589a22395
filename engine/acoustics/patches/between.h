/* patches/between.h: whether anything stands between two points. */
#ifndef GRADIN_PATCHES_BETWEEN_H
#define GRADIN_PATCHES_BETWEEN_H

#include "gradin/geometry.h"

/* A tree of boxes over a scene, shared by all threads; the scene must outlive it. NULL when out of
 * memory. */
typedef struct gradin_between gradin_between;
gradin_between *gradin_between_make(gradin_arena *arena, const gradin_scene *scene);

/* Whether gradin_shape_hit() finds nothing of the scene on the way: what gradin_visibility() calls
 * GRADIN_CLEAR. *last is what stopped an earlier ray, tried first, or -1; one per thread. */
bool gradin_between_clear(const gradin_between *tree, gradin_vec3 from_m, gradin_vec3 to_m,
                          int *last);

#endif
