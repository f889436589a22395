/* studies/season.h: counting the events of a season. */
#ifndef GRADIN_STUDIES_SEASON_H
#define GRADIN_STUDIES_SEASON_H

#include "gradin/season.h"

/* Fills everything that depends on when and how often: seats, shares, performances, start times.
 * index[class * n_track + track] is the flight of an event. */
gradin_status season_count(gradin_arena *arena, gradin_season *season, const int *index,
                           gradin_error *error);

#endif
