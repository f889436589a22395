/* patches/emission.h: what the patches send back of the power that each facade element lets in. */
#ifndef GRADIN_PATCHES_EMISSION_H
#define GRADIN_PATCHES_EMISSION_H

#include "acoustics/patches/exchange.h"

/* Neighbouring bands whose emission is that of `middle` times a share. */
typedef struct gradin_band_group {
    int first, n, middle;
} gradin_band_group;

typedef struct gradin_patch_emission {
    const gradin_model *model;
    const gradin_patches *patches; /* ordered by gradin_emission_order() */
    const gradin_exchange *exchange;
    int n_same, first_state; /* states from first_state on are solved */
    double air_1m[GRADIN_N_BAND];
    const double *factor;  /* [GRADIN_N_BAND] on the stated absorption; NULL: 1 */
    bool has_only_middles; /* power_1m2 is made, and of the middle band of each group alone */
    gradin_band_group group[GRADIN_N_BAND]; /* out */
    int n_group;
    double share[GRADIN_N_SHADE_STATE][GRADIN_N_BAND];
    /* out: [band][n_element][n_patch] power a square metre for one watt of each element; in place
     * of the bands the n_group groups when it has only middles */
    double *power_1m2[GRADIN_N_SHADE_STATE];
} gradin_patch_emission;

/* Moves patches that shades change behind all others, which number n_same. */
gradin_status gradin_emission_order(gradin_arena *arena, const gradin_model *model,
                                    gradin_patches *patches, int *n_same, gradin_error *error);

/* Bands on up to n_thread threads; every count of threads gives the same bytes. */
gradin_status gradin_emission_solve(gradin_arena *arena, gradin_patch_emission *emission,
                                    int n_thread, gradin_error *error);

#endif
