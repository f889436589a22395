/* patches/exchange.h: how much of the sound that leaves one patch goes straight to another. */
#ifndef GRADIN_PATCHES_EXCHANGE_H
#define GRADIN_PATCHES_EXCHANGE_H

#include "acoustics/patches/patch.h"

typedef struct gradin_exchange {
    int n;
    double *area_m2;          /* [n] of the patches */
    double *exchange_m2;      /* [n][n] A_i F_ij, symmetric; every row sums to its area */
    double raw_low, raw_high; /* least and greatest row sum over area before they were closed */
    double kept_m2;           /* that patches in narrow gaps exchange with themselves */
} gradin_exchange;

/* Scene as made by gradin_room_sight_make(). */
gradin_status gradin_exchange_make(gradin_arena *arena, const gradin_patches *patches,
                                   const gradin_mask_scene *scene, gradin_exchange *exchange,
                                   gradin_error *error);

/* Scales a symmetric matrix m[n][n] without negative entries by d_i d_j so that each row sums to
 * wanted[i] within 1e-9 of it; an empty row stays empty. What a row lacks where no bounded d_i can
 * give it goes on the diagonal: the patch exchanges it with itself. scratch[3 n]. Returns how much
 * that is, over all rows; 0 as a rule. */
double gradin_exchange_close(double *m, const double *wanted, int n, double *scratch);

#endif
