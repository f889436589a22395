/* bench/rays.h: a scene handed to Embree, the general ray tracer that serves as yardstick. Heads
 * that are spheres and bars go in as its own sphere and round line primitives, other ellipsoids as
 * meshes of 160 triangles, boxes and prisms as meshes. */
#ifndef BENCH_RAYS_H
#define BENCH_RAYS_H

#include "hall.h"

#include <embree3/rtcore.h>

typedef enum rays_mode {
    RAYS_SINGLE,
    RAYS_PACKET_8,
    RAYS_PACKET_16,
    RAYS_STREAM,
    N_RAYS_MODE
} rays_mode;

typedef struct rays_result {
    double seconds; /* in Embree's calls only; filling in the rays is not counted */
    long n_clear, n_ray;
} rays_result;

RTCScene rays_build(RTCDevice device, const gradin_scene *scene);
/* want_first: which occluder is nearest (rtcIntersect), else only whether there is one
 * (rtcOccluded). */
/* best_s[n_seat] keeps the least time of each seat over repeated runs, so that a spell given to
 * another program does not count. */
rays_result rays_run(RTCScene scene, const bench_hall *hall, rays_mode mode, bool want_first,
                     double *best_s);

#endif
