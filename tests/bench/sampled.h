/* bench/sampled.h: the halls on which the number of samples is tried. */
#ifndef BENCH_SAMPLED_H
#define BENCH_SAMPLED_H

#include "gradin/model.h"

typedef struct sampled_hall {
    gradin_model model;                   /* focus, scene and seats' eyes alone unless is_layout */
    gradin_focus focus[GRADIN_MAX_FOCUS]; /* of the model unless is_layout */
    bool is_layout;
    double limit_rms; /* points of a hundred at 1,024 samples */
} sampled_hall;

/* A layout's path, "rows:RISER" for rows of heads by rule, "random:SEED" for shapes and eyes at
 * random about a star, "areas:SEED" for the same with a small floor and a screen of their own
 * weights, or "strips:SEED" for eyes behind a parapet along the floor's edge. False when it cannot
 * be made. */
bool sampled_open(gradin_arena *arena, const char *what, sampled_hall *hall);

#endif
