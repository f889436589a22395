/* patches/radiosity.h: the sound that the room's patches send back. */
#ifndef GRADIN_PATCHES_RADIOSITY_H
#define GRADIN_PATCHES_RADIOSITY_H

#include "acoustics/patches/exchange.h"

/* One band of a room in up to GRADIN_N_SHADE_STATE states, which differ in what the patches from
 * n_same on absorb. */
typedef struct gradin_radiosity {
    int n, n_same, n_state, n_source;
    const double *area_m2; /* [n] */
    const double *alpha;   /* [n_state][n] absorption */
    double *through_m2;    /* [n][n] of gradin_radiosity_air_fill(); solving overwrites it */
    const double *first;   /* [n_source][n] power that falls on each patch from the source */
    double *emission[GRADIN_N_SHADE_STATE]; /* out, [n_source][n] power a square metre sent back */
    double *scratch;                        /* [gradin_radiosity_scratch()] */
} gradin_radiosity;

size_t gradin_radiosity_scratch(int n, int n_same, int n_source);

/* (I - rho F) B = E for all sources and states. GRADIN_NUMERIC when the room absorbs nothing at
 * all. */
gradin_status gradin_radiosity_solve(const gradin_radiosity *band, gradin_error *error);

/* exchange_m2[i][j] with what air takes on the way; air_1m is the energy lost a metre. */
double gradin_radiosity_through_air_m2(const gradin_exchange *exchange,
                                       const gradin_patches *patches, double air_1m, int i, int j);

/* The same of all pairs, through_m2[i][j] for i <= j; the other half stays as it is. */
void gradin_radiosity_air_fill(const gradin_exchange *exchange, const gradin_patches *patches,
                               double air_1m, double *through_m2);

#endif
