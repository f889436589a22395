/* render/export/solids.h: shapes as triangles. Lengths m, z up; a triangle's front is where its
 * corners run against the clock. */
#ifndef GRADIN_RENDER_SOLIDS_H
#define GRADIN_RENDER_SOLIDS_H

#include "base/shared/slope.h"
#include "gradin/geometry.h"

typedef struct solids {
    gradin_arena *arena;
    gradin_vec3 *vertex; /* [n] three for a triangle */
    int n, capacity;
    struct solids_strips *strips; /* what the last cover needed, for the next one */
    bool failed;                  /* out of memory */
} solids;

void solids_triangle(solids *s, gradin_vec3 a, gradin_vec3 b, gradin_vec3 c);
void solids_quad(solids *s, const gradin_vec3 corner[4]);
/* Between two heights, its sides along x and y. */
void solids_block(solids *s, gradin_vec3 low, gradin_vec3 high);
/* A shape of the model; of heads nothing. */
void solids_shape(solids *s, const gradin_shape *shape);

/* The inside of a simple polygon less holes[n_hole], which lie inside it and may touch. */
void solids_cover(solids *s, gradin_polygon outer, const gradin_polygon *hole, int n_hole,
                  slope_plane at, bool is_up);

#endif
