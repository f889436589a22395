/* event/moments.h: the evaluation window of an event, as moments seen from one point. */
#ifndef GRADIN_EVENT_MOMENTS_H
#define GRADIN_EVENT_MOMENTS_H

#include "acoustics/source/track.h"

/* The times at which a track matters at a point, and how long each of them stands for. */
typedef struct gradin_moments {
    int n;
    double *time_s, *weight_s; /* [n]; weights sum to length_s */
    gradin_vec3 *source_m;     /* [n] */
    gradin_vec3 *heading;      /* [n] unit; of the piece of track that begins or goes on there */
    double closest_s;          /* when the source is closest to the point */
    double closest_m, length_s;
} gradin_moments;

gradin_status gradin_moments_make(gradin_arena *arena, const gradin_track *track,
                                  gradin_vec3 point_m, gradin_moments *moments,
                                  gradin_error *error);

#endif
