/* studies/season/season.h: counting the events of a season. */
#ifndef GRADIN_STUDIES_SEASON_H
#define GRADIN_STUDIES_SEASON_H

#include "gradin/season.h"

/* Fills everything that depends on when and how often: seats, shares, performances, start times.
 * index[class * n_track + track] is the flight of an event. */
gradin_status season_count(gradin_arena *arena, gradin_season *season, const int *index,
                           gradin_error *error);

/* season_shades.c: the loudest event with all shades open and shut. */
gradin_status season_shades(gradin_arena *arena, gradin_season *season, gradin_error *error);
/* season_matter.c: once everything is counted. */
void season_worst_words(gradin_season *season);
void season_rank_seats(gradin_season *season);
gradin_status season_rank_bays(gradin_arena *arena, gradin_season *season);
/* season_trace.c: finds the seats that the user names; works out the history. */
gradin_status season_choose_seats(gradin_season *season, const gradin_season_options *options,
                                  gradin_error *error);
gradin_status season_trace(gradin_arena *arena, gradin_season *season, gradin_error *error);

#endif
