/* geometry/mask/mask_scene.h: a scene made ready for masks, a thread's scratch, one eye's job. */
#ifndef GRADIN_GEOMETRY_MASK_SCENE_H
#define GRADIN_GEOMETRY_MASK_SCENE_H

#include "geometry/mask/mask.h"

enum { MASK_FEW = 4 }; /* so few samples are asked one by one */
/* An eye nearer than this to the height of the samples is served ray by ray. */
#define MASK_LEVEL_M 1e-3
/* The same for a plane that rises, whose heights are rounded. */
#define MASK_TILTED_M 1e-2

struct gradin_mask_scene {
    const gradin_occluder *exact; /* the caller's: every doubt is settled by them */
    gradin_lie lie;
    gradin_vec2 along;  /* the mask's rows */
    gradin_scene scene; /* in the frame of the rows: a copy of all but the soup in the order of the
                           tree: neighbours lie together in memory; concave prisms in pieces */
    int32_t *original;  /* [n_occluder] index in the caller's scene, of a piece that of the whole */
    bvh tree;           /* in the frame of the edges */
    soup_set soup;
    uint8_t *kind;             /* [n_occluder] gradin_shape_kind, close together */
    mask_ellipsoid *ellipsoid; /* [n_occluder] unset for other kinds */
};

struct gradin_mask_scratch {
    uint32_t *clear; /* [n_strip][n_stride] */
    mask_live live;
    bool is_stale; /* samples went since `live` was found */
    mask_bits bits, past, level;
    mask_shadow shadow;
    /* for gradin_mask_first(), 32 a word: what hides the sample lies between these distances */
    float *near_m, *far_m; /* [n_strip][n_stride][32] of hidden samples */
    float *most_m;         /* [n_strip][n_stride] no smaller than far_m of the word */
    double *entry;         /* fraction of the way, NAN when not computed */
    int32_t *holder;       /* occluder in the order of the tree */
    uint32_t *open;        /* [n_strip][n_stride] samples that may still change */
    int32_t *place;        /* [number of samples] to be followed through the soup */
};

struct mask_job {
    const gradin_mask_scene *scene;
    const mask_table *table;
    gradin_mask_scratch *scratch;
    gradin_vec3 eye_m;          /* as the caller has it */
    gradin_vec3 edgewise_eye_m; /* in the frame of the edges */
    int owner;
    int32_t *first; /* [n_sample] only for gradin_mask_first() */
    mask_view view;
};

/* Occluder k of the scene's copy. */
typedef struct mask_body {
    const gradin_occluder *occluder; /* in the frame of the rows */
    const gradin_shape *exact;       /* the caller's */
    const mask_ellipsoid *ellipsoid; /* null for all other kinds */
} mask_body;

static inline mask_body gradin_mask_body(const gradin_mask_scene *s, int k) {
    bool is_round = s->kind[k] == GRADIN_SHAPE_ELLIPSOID;
    return (mask_body){&s->scene.occluder[k], &s->exact[s->original[k]].shape,
                       is_round ? &s->ellipsoid[k] : NULL};
}

/* A job for one eye. */
mask_job gradin_mask_job(const gradin_mask_scene *scene, const gradin_mask_grid *grid,
                         gradin_vec3 eye_m, int owner, gradin_mask_scratch *scratch);

/* The masks serve this eye; else every ray is followed by itself. */
bool gradin_mask_fits(const gradin_mask_scene *scene, const gradin_mask_grid *grid,
                      gradin_vec3 eye_m);
/* Samples that child k may hide. */
static inline mask_rect gradin_mask_rect(const mask_look *look, int k) {
    return (mask_rect){(int)look->column_low[k], (int)look->column_high[k] - 1,
                       (int)look->row_low[k], (int)look->row_high[k] - 1};
}
/* All samples clear and live. */
void gradin_mask_begin(const mask_job *job);
/* Takes from the mask what a body hides of the rectangle. */
void gradin_mask_take(const mask_job *job, const mask_body *body, mask_rect rect);
/* Follows the samples not hidden yet (all when not is_any) through the soup; found() is told of
 * each that meets a triangle, search->number being the place of its bit. */
void gradin_mask_soup(const mask_job *job, bool is_any,
                      void (*found)(const mask_job *job, const soup_search *search));
/* Sample at a place: 32 * word + bit. */
int gradin_mask_sample(const gradin_mask_grid *grid, int place);
/* Throws the shadow of a body. */
mask_form gradin_mask_shade(const mask_job *job, const mask_body *body, mask_rect rect,
                            mask_shadow *shadow);
/* Its pieces into scratch->bits, within `open`; bit 0: any sure, bit 1: any in doubt. */
int gradin_mask_cast(const mask_job *job, const mask_shadow *shadow, mask_rect rect,
                     const uint32_t *open);

#endif
