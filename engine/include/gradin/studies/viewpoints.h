/* gradin/studies/viewpoints.h: seats to look from, by name or chosen by the figures of all.
 *
 * Ownership and threads: Results live in the arena that is given; calls of different arenas may run
 * in different threads. */
#ifndef GRADIN_VIEWPOINTS_H
#define GRADIN_VIEWPOINTS_H

#include "gradin/sightline.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The seat of that name; GRADIN_BAD_INPUT when there is none, with the nearest one in the
 * diagnostic. */
GRADIN_API gradin_status gradin_viewpoint_named(const gradin_model *model, const char *name,
                                                int *seat, gradin_error *error);

typedef struct gradin_viewpoint {
    int seat;
    const char *title; /* why it was chosen */
} gradin_viewpoint;

/* Up to most seats, each once: the best, the median, the worst, the worst by each cause, the ends
 * of distance and angles, the worst place for a wheelchair, then steps of what is seen. The same
 * figures give the same seats. */
GRADIN_API gradin_status gradin_viewpoints_choose(gradin_arena *arena, const gradin_model *model,
                                                  const gradin_sight *sight, int most,
                                                  gradin_viewpoint **viewpoint, int *n,
                                                  gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
