/* geometry/mask_scene.h: a scene made ready for masks, a thread's scratch, one eye's job. */
#ifndef GRADIN_GEOMETRY_MASK_SCENE_H
#define GRADIN_GEOMETRY_MASK_SCENE_H

#include "geometry/mask.h"

enum { MASK_FEW = 4 }; /* so few samples are asked one by one */
/* An eye nearer than this to the height of the samples is served ray by ray. */
#define MASK_LEVEL_M 1e-3

struct gradin_mask_scene {
    gradin_scene scene; /* a copy in the order of the tree: neighbours lie together in memory */
    int32_t *original;  /* [n_occluder] index in the caller's scene */
    bvh tree;
    int32_t *slot;             /* [n_occluder] index into ellipsoid; unset for other kinds */
    mask_ellipsoid *ellipsoid; /* [number of ellipsoids] */
};

struct gradin_mask_scratch {
    uint32_t *clear; /* [n_strip][n_stride] */
    mask_bits bits, past, level;
    mask_shadow shadow;
    /* for gradin_mask_first(), 32 a word: what hides the sample lies between these distances */
    float *near_m, *far_m; /* [n_strip][n_stride][32] */
    double *entry;         /* fraction of the way, NAN when not computed */
    int32_t *holder;       /* occluder in the order of the tree */
    uint32_t *open;        /* [n_strip][n_stride] samples that may still change */
};

typedef struct mask_job {
    const gradin_mask_scene *scene;
    const mask_table *table;
    gradin_mask_scratch *scratch;
    int owner;
    int32_t *first; /* [n_sample] only for gradin_mask_first() */
    mask_view view;
} mask_job;

mask_view gradin_mask_view(const gradin_mask_scene *scene, const gradin_mask_grid *grid,
                           gradin_vec3 eye_m);
/* The masks serve this eye; else every ray is followed by itself. */
bool gradin_mask_fits(const gradin_mask_grid *grid, gradin_vec3 eye_m);
/* Children that may hide, nearest first; returns how many. */
int gradin_mask_order(const mask_look *look, int order[BVH_WAYS]);
/* Samples that child k may hide. */
mask_rect gradin_mask_rect(const mask_look *look, int k);
/* Asks the processor to fetch what the living children are. */
void gradin_mask_fetch(const gradin_mask_scene *scene, const bvh_node *node, uint32_t alive);
/* Throws the shadow of occluder k. */
mask_form gradin_mask_shade(const mask_job *job, int k, mask_rect rect, mask_shadow *shadow);
/* Its pieces into scratch->bits, within `open`; bit 0: any sure, bit 1: any in doubt. */
int gradin_mask_cast(const mask_job *job, const mask_shadow *shadow, mask_rect rect,
                     const uint32_t *open);

#endif
