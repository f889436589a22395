/* gradin/studies/season_write.h: a season's results as tables.
 *
 * Ownership and threads: Texts live in the arena that is given, or become whole files; any number
 * of threads may write one season, each with an arena of its own. */
#ifndef GRADIN_SEASON_WRITE_H
#define GRADIN_SEASON_WRITE_H

#include "gradin/studies/season.h"

#ifdef __cplusplus
extern "C" {
#endif

/* One line per seat; one line per class on a track; everything as JSON; one screen for a terminal,
 * at most 80 columns. Texts in the arena. */
GRADIN_API gradin_status gradin_season_seats_csv(gradin_arena *arena, const gradin_season *season,
                                                 char **text, size_t *size, gradin_error *error);
GRADIN_API gradin_status gradin_season_flights_csv(gradin_arena *arena, const gradin_season *season,
                                                   char **text, size_t *size, gradin_error *error);
GRADIN_API gradin_status gradin_season_json(gradin_arena *arena, const gradin_season *season,
                                            char **text, size_t *size, gradin_error *error);
GRADIN_API gradin_status gradin_season_text(gradin_arena *arena, const gradin_season *season,
                                            char **text, gradin_error *error);
/* Levels against time of every class on every track at the seats of the trace, one line per moment:
 * GRADIN_BAD_USE without gradin_season_histories(). */
GRADIN_API gradin_status gradin_season_history_csv(gradin_arena *arena, const gradin_season *season,
                                                   char **text, size_t *size, gradin_error *error);
/* season-seats.csv, flights.csv, season.json and, where there are histories, level-time.csv into
 * folder dir (which exists). */
GRADIN_API gradin_status gradin_season_tables_write(const gradin_season *season, const char *dir,
                                                    gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
