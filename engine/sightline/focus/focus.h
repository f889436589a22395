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
    gradin_lie lie;                /* of all grids: askew to the largest floor */
    int n_sample;
    double acting[GRADIN_MAX_FOCUS]; /* of each area, by size, in what distance and angles go to */
    gradin_vec3 middle_m;            /* of those areas */
    double c_part[GRADIN_MAX_FOCUS]; /* of each area in the floor that C is measured to */
    gradin_vec2 floor_middle_m;      /* of the floor that C is measured to, whatever the shares */
} sight_focus;

/* samples.c: samples of one area, at least n_wanted (a point: one), a floor's in rows along the
 * unit vector; its size, 0 for a point; the length of a path. */
gradin_status gradin_sight_sample(gradin_arena *arena, const gradin_focus *area, gradin_vec2 along,
                                  int n_wanted, gradin_vec3 **sample_m, int *n);
double gradin_sight_size_m2(const gradin_focus *area);
double gradin_sight_length_m(const gradin_vec2 *point_m, int n);

/* outline.c: the corners that bound an area on plan: of a floor all round, of an upright its line,
 * of a point itself. */
gradin_polygon gradin_sight_outline(const gradin_focus *area);
bool gradin_sight_is_over(const gradin_focus *area, gradin_vec2 at_m);
gradin_vec2 gradin_sight_nearest(const gradin_focus *area, gradin_vec2 from_m);
gradin_vec2 gradin_sight_path_nearest(gradin_vec2 from_m, const gradin_vec2 *point_m, int n);

/* share.c: wanted[n_focus] samples of each area. n_wanted over the floors, to each by its size or
 * its weight and at least one. An upright has samples as dense as by size, or half of what a floor
 * of its weight has, but a sixteenth of n_wanted at least, for it is often small and far off, and
 * n_wanted at most; a point has one. */
void gradin_sight_share_out(const gradin_model *model, int n_wanted, int *wanted);

gradin_status gradin_sight_focus(gradin_arena *arena, const gradin_model *model, int n_wanted,
                                 sight_focus *focus, gradin_error *error);

/* A mask grid for each area, and scratch for one thread; NULL when out of memory. */
gradin_mask_grid **gradin_sight_grids(gradin_arena *arena, const sight_focus *focus);
gradin_mask_scratch **gradin_sight_scratch(gradin_arena *arena, const sight_focus *focus,
                                           gradin_mask_grid *const *grid, int n_thread);

#endif
