/* event/incidence.h: what one event sends onto the facade and to the point outside. */
#ifndef GRADIN_EVENT_INCIDENCE_H
#define GRADIN_EVENT_INCIDENCE_H

#include "acoustics/event/moments.h"
#include "acoustics/event/weighting.h"
#include "gradin/acoustics/event.h"

/* Of one class on one track, offset 0, adjustments included. */
typedef struct gradin_incidence {
    int n_element;
    gradin_moments moments;
    gradin_steps steps; /* the moments' times */
    double tau_s;       /* of the time weighting; 0 none */
    gradin_vec3 outside_m;
    double *outside;   /* [GRADIN_N_BAND][n_time] mean square there, free field */
    double *outside_a; /* [n_time] A-weighted */
    double *incident;  /* [n_element][GRADIN_N_BAND][n_time] intensity times rho c of the wave */
    double *angle_rad; /* [n_element][n_time] of the wave from the outward normal */
} gradin_incidence;

static inline size_t gradin_incidence_at(const gradin_incidence *i, int element, int band,
                                         int time) {
    return ((size_t)element * GRADIN_N_BAND + (size_t)band) * (size_t)i->moments.n + (size_t)time;
}

/* Everything into the arena. */
gradin_status gradin_incidence_make(gradin_arena *arena, const gradin_model *model,
                                    const gradin_traffic *traffic, int class_index, int track,
                                    gradin_incidence *incidence, gradin_error *error);

#endif
