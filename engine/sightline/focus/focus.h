/* sightline/focus/focus.h: the focus areas of a model, sampled and weighed once for all seats. */
#ifndef GRADIN_SIGHTLINE_FOCUS_H
#define GRADIN_SIGHTLINE_FOCUS_H

#include "gradin/sightline.h"

typedef struct sight_focus {
    const gradin_focus *area; /* [n_area] */
    int n_area;
    double *share;                 /* [n_area] of the sum of weights */
    int *first_sample;             /* [n_area + 1] */
    gradin_vec3 *sample_m;         /* [n_sample] area by area */
    const gradin_mask_grid **grid; /* [n_area] of each area's samples */
    gradin_lie lie;                /* of all grids: askew to the largest area */
    int n_sample;
    gradin_vec3 centroid_m;     /* of the areas' centroids, by share */
    gradin_vec2 floor_middle_m; /* of the floor that C is measured to, whatever the shares */
} sight_focus;

/* n_wanted samples in all, to each area by its size and at least one. */
gradin_status gradin_sight_focus(gradin_arena *arena, const gradin_model *model, int n_wanted,
                                 sight_focus *focus, gradin_error *error);

/* A mask grid for each area, and scratch for one thread; NULL when out of memory. */
gradin_mask_grid **gradin_sight_grids(gradin_arena *arena, const sight_focus *focus);
gradin_mask_scratch **gradin_sight_scratch(gradin_arena *arena, const sight_focus *focus,
                                           gradin_mask_grid *const *grid, int n_thread);

#endif
