/* room/exchange.h: how much of the sound that leaves one patch goes straight to another. */
#ifndef GRADIN_ROOM_EXCHANGE_H
#define GRADIN_ROOM_EXCHANGE_H

#include "acoustics/room/patch.h"

typedef struct gradin_exchange {
    int n;
    double *area_m2;          /* [n] of the patches */
    double *exchange_m2;      /* [n][n] A_i F_ij, symmetric; every row sums to its area */
    double raw_low, raw_high; /* least and greatest row sum over area before they were closed */
} gradin_exchange;

/* Scene as made by gradin_room_scene_make(). */
gradin_status gradin_exchange_make(gradin_arena *arena, const gradin_patches *patches,
                                   const gradin_scene *scene, gradin_exchange *exchange,
                                   gradin_error *error);

/* Scales a symmetric matrix m[n][n] without negative entries by d_i d_j so that each row sums to
 * wanted[i] within 1e-9 of it; an empty row stays empty. scratch[2 n]. False when that does not
 * converge. */
bool gradin_exchange_close(double *m, const double *wanted, int n, double *scratch);

#endif
