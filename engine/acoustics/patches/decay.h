/* patches/decay.h: factors on the absorption by which radiosity decays as measured. */
#ifndef GRADIN_PATCHES_DECAY_H
#define GRADIN_PATCHES_DECAY_H

#include "acoustics/patches/exchange.h"

/* One band of a room in decay. */
typedef struct gradin_decay {
    int n;
    const double *area_m2;    /* [n] */
    const double *through_m2; /* [n][n] of gradin_radiosity_air_fill() with gradin_decay_air_1m() */
    double *z; /* [3 n] the first n: where to begin, and what comes out; then scratch */
} gradin_decay;

/* What a field that falls by 60 dB in time_s gains a metre on its way, less what air takes, as the
 * energy that air would take. */
double gradin_decay_air_1m(double air_1m, double time_s);
/* What is left of each patch's share after one reflection of the field that decays so: 1 when
 * absorption alpha[n] gives that time, above it when the room would ring longer. */
double gradin_decay_left(const gradin_decay *decay, const double *alpha);

/* factor[GRADIN_N_BAND] on what the model states; 1 without a measured reverberation. air_1m by
 * band. Threads up to n_thread, the same bytes for all. GRADIN_BAD_INPUT when no factor does. */
gradin_status gradin_decay_factors(gradin_arena *scratch, const gradin_model *model,
                                   const gradin_patches *patches, const gradin_exchange *exchange,
                                   const double *air_1m, int n_thread, double *factor,
                                   gradin_error *error);

#endif
