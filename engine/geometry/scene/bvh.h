/* geometry/scene/bvh.h: a tree of boxes over the occluders of a scene, sixteen children per node.
 */
#ifndef GRADIN_GEOMETRY_BVH_H
#define GRADIN_GEOMETRY_BVH_H

#include "geometry/scene/cull.h"

enum { BVH_WAYS = 16 };
#define BVH_EMPTY 3e38f /* lower limit of an empty place */

typedef struct bvh_node {
    /* boxes of the children, rounded outward; an empty place lies at BVH_EMPTY */
    float low[3][BVH_WAYS], high[3][BVH_WAYS];
    int32_t child[BVH_WAYS]; /* >= 0 a node, < 0 leaf -1 - child */
} bvh_node;

typedef struct bvh {
    bvh_node *node; /* [n_node], the root first; none when there is nothing */
    int n_node;
    float reach_m; /* largest coordinate */
} bvh;

/* Over the scene's occluders index[n], which are put into the tree's order: leaf i holds those from
 * leaf * i on. */
gradin_status gradin_bvh_build(gradin_arena *arena, const gradin_scene *scene, int32_t *index,
                               int n, int leaf, bvh *tree);

#endif
