/* gradin/studies/page/passing.h: a layout's overflight at a few of its seats, level against time.
 *
 * Ownership and threads: Results live in the arena that is given. Not from several threads at
 * once. */
#ifndef GRADIN_PASSING_H
#define GRADIN_PASSING_H

#include "gradin/acoustics/event.h"
#include "gradin/studies.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { GRADIN_N_PASSING_SEAT = 3 };

/* Levels at the seats with the highest, the median and the lowest maximum, in this order, shades as
 * set; of layouts without an overflight n_time is 0. */
typedef struct gradin_passing {
    int seat[GRADIN_N_PASSING_SEAT]; /* may be the same one where there are fewer */
    gradin_event_levels levels;      /* [GRADIN_N_PASSING_SEAT] seats */
} gradin_passing;

/* Of a finished assessment; the room from `kept` or the folder as in gradin_room_prepare_kept(),
 * each may be NULL. */
GRADIN_API gradin_status gradin_passing_compute(gradin_arena *arena,
                                                const gradin_assessment *assessment,
                                                const char *cache_folder, gradin_kept_room *kept,
                                                gradin_passing *passing, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
