/* embree/world.h: a scene in Embree for the sake of its answers: upright bodies and triangles as
 * its own meshes, round bodies as user geometry with intersections of another kind than the
 * engine's. */
#ifndef EMBREE_WORLD_H
#define EMBREE_WORLD_H

#include "gradin/geometry.h"

#include <embree3/rtcore.h>

/* The last part of a segment that is not tested, as a fraction: single-precision hits on a deck
 * that carries the samples fall within it. */
#define WORLD_END 2e-5

typedef struct world {
    RTCScene scene;
    const gradin_scene *source;
    int *round; /* [n_round] occluders that are ellipsoids or capsules */
    unsigned n_round;
} world;

/* False when out of memory. Prisms must be convex. */
bool world_build(world *w, RTCDevice device, const gradin_scene *source);
void world_free(world *w);
bool world_hides(const world *w, gradin_vec3 eye, gradin_vec3 sample, int owner);

#endif
