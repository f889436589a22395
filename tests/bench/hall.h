/* bench/hall.h: the scenes that are timed, made by rule so that every machine gets the same. */
#ifndef BENCH_HALL_H
#define BENCH_HALL_H

#include "gradin/model.h"

typedef struct bench_hall {
    gradin_scene scene;
    const gradin_vec3 *eye_m; /* [n_seat]; a seat owns the occluders with its index */
    int n_seat;
    gradin_vec3 **sample_m; /* [n_area][n_sample[area]] */
    int *n_sample, n_area;
    gradin_lie lie; /* of the samples */
} bench_hall;

/* n_row rows of n_across seats on risers, a spherical head each, 4 rails, 1 soffit, 1,024 samples
 * on a square of 10 m. False when out of memory. */
bool bench_rows(gradin_arena *arena, int n_row, int n_across, double riser_m, bench_hall *hall);

/* A layout with everything in it; n_wanted samples over its focus areas. */
bool bench_layout(gradin_arena *arena, const char *path, int n_wanted, bench_hall *hall);

/* Adds a set of 2 * n * n triangles: a folded cloth across the back of the focus, with gaps. */
bool bench_add_cloth(gradin_arena *arena, int n, bench_hall *hall);

#endif
