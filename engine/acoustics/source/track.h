/* source/track.h: where a source on a track is, where it heads, and when it comes closest. */
#ifndef GRADIN_SOURCE_TRACK_H
#define GRADIN_SOURCE_TRACK_H

#include "gradin/acoustics/traffic.h"

/* For a track of two points and more, straight and even between them. */
gradin_vec3 gradin_track_at_m(const gradin_track *track, double time_s);
/* Speed on the piece of track that leads away from time_s forwards, or backwards. */
double gradin_track_speed_ms(const gradin_track *track, double time_s, bool is_forwards);
/* Unit direction of travel on the piece at time_s, or on the nearest one where the source moves. */
gradin_vec3 gradin_track_heading(const gradin_track *track, double time_s);

/* Time and distance at which any track comes closest to a point; its start for one point. */
typedef struct gradin_closest {
    double time_s, apart_m;
    gradin_vec3 source_m;
} gradin_closest;
gradin_closest gradin_track_closest(const gradin_track *track, gradin_vec3 point_m);

#endif
