/* gradin/studies.h: whole studies that join the rooms' results. */
#ifndef GRADIN_STUDIES_H
#define GRADIN_STUDIES_H

#include "gradin/acoustics.h"
#include "gradin/sightline.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { GRADIN_N_WORST = 10 };

typedef struct gradin_spread {
    double least, p10, median, p90, most; /* NAN when no seat has the figure */
} gradin_spread;

/* One layout assessed. The model must outlive it. */
typedef struct gradin_assessment {
    const gradin_model *model;
    gradin_sight sight;
    bool has_noise; /* the layout names an overflight and the venue has a facade */
    gradin_noise noise;
    int worst_seat[GRADIN_N_WORST]; /* worst first: rating, then visible fraction, then index */
    int n_worst;
    gradin_spread visible, c_value_m, distance_m, lamax_db[GRADIN_N_SHADE_STATE], nc;
    int n_over_criterion; /* seats over the noise criterion; 0 without one */
} gradin_assessment;

gradin_status gradin_assess(gradin_arena *arena, const gradin_model *model,
                            const gradin_sight_options *options, gradin_assessment *assessment,
                            gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
