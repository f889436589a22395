/* patches/patch.h: the room's inner surface cut into rectangles. */
#ifndef GRADIN_PATCHES_PATCH_H
#define GRADIN_PATCHES_PATCH_H

#include "acoustics/patches/form.h"
#include "acoustics/room/room.h"

enum { GRADIN_PATCH_SIGHT = 4 };
/* Pieces before those that lie within something are dropped. */
enum { GRADIN_MAX_CUT = 4 * GRADIN_MAX_PATCH };

typedef enum gradin_patch_kind {
    GRADIN_PATCH_FLOOR, /* floor, treads, tops of solids */
    GRADIN_PATCH_CEILING,
    GRADIN_PATCH_WALL, /* walls, sides and undersides of solids and lifts */
    GRADIN_PATCH_ELEMENT
} gradin_patch_kind;

typedef struct gradin_patch {
    gradin_rectangle rectangle;
    gradin_patch_kind kind;
    int element;    /* of the facade, or -1 */
    double exposed; /* share of the rectangle that is a surface of the room's air */
    double seated;  /* share of the exposed part that people sit on */
    double area_m2; /* exposed */
    gradin_vec3 middle_m;
    gradin_vec3 eye_m;                       /* of the exposed part, just off the surface */
    gradin_vec3 sight_m[GRADIN_PATCH_SIGHT]; /* spread over it, likewise */
} gradin_patch;

typedef struct gradin_patches {
    gradin_patch *patch; /* [n] */
    int n;
} gradin_patches;

/* Walls, floor, ceiling, facade elements, lifts, towers, platforms and solids in rectangles whose
 * sides are at most size_m. GRADIN_BAD_INPUT beyond GRADIN_MAX_PATCH. */
gradin_status gradin_patches_make(gradin_arena *arena, const gradin_model *model, double size_m,
                                  gradin_patches *patches, gradin_error *error);
/* Only whether that would be refused: samples nothing where there are few enough before it. */
gradin_status gradin_patches_refuse(gradin_arena *arena, const gradin_model *model, double size_m,
                                    gradin_error *error);

/* alpha.c: absorption coefficients, alpha[GRADIN_N_BAND] rows of patches->n, `stride` apart;
 * factor[GRADIN_N_BAND] on what is stated, or NULL. */
void gradin_patches_alpha(const gradin_model *model, const gradin_patches *patches,
                          gradin_shade_state state, const double *factor, double *alpha,
                          size_t stride);
/* The same of one band, alpha[patches->n]. */
void gradin_patches_alpha_band(const gradin_model *model, const gradin_patches *patches,
                               gradin_shade_state state, const gradin_scaling *scaling, int band,
                               double *alpha);

/* Inside: faces before they are measured. */

typedef struct gradin_patch_maker {
    gradin_arena *arena;
    const gradin_model *model;
    double size_m;
    const gradin_occluder **prism; /* [n_prism] structure and arch */
    gradin_box2 *plan;             /* [n_prism] round them */
    int n_prism;
    gradin_patch *patch;
    int n, capacity;
    bool is_out_of_memory;
} gradin_patch_maker;

/* cut.c: adds a face, cut into rectangles of the maker's size; small ones join an earlier one in
 * the same plane. */
void gradin_patch_add(gradin_patch_maker *maker, gradin_rectangle face, gradin_patch_kind kind,
                      int element);
/* faces.c: all faces of the model. */
void gradin_patch_faces(gradin_patch_maker *maker);

#endif
