/* studies/listen/course.h: what a seat hears of the layout's overflight, moment by moment. */
#ifndef GRADIN_STUDIES_LISTEN_COURSE_H
#define GRADIN_STUDIES_LISTEN_COURSE_H

#include "gradin/acoustics/listen.h"

/* Part of an event at one seat, of a whole number of seconds. */
typedef struct listen_course {
    gradin_event_levels levels; /* without time weighting */
    double start_s;             /* as the track counts it */
    int n_second;
} listen_course;

/* Finds r->seat, r->cache_note and the part of the event to be heard. */
gradin_status listen_course_make(gradin_arena *arena, const gradin_model *model,
                                 const gradin_listen_options *options, gradin_recording *r,
                                 listen_course *course, gradin_error *error);
/* Mean square in a band, a sample each: square[n_second * rate], straight between moments. */
void listen_course_square(const listen_course *course, int band, float *square);
/* Mean levels of each second into second[n_second]; square[rate * n_second] is scratch. */
void listen_course_seconds(const listen_course *course, float *square,
                           gradin_listen_second *second);

#endif
