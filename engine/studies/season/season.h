/* studies/season/season.h: counting the events of a season. */
#ifndef GRADIN_STUDIES_SEASON_H
#define GRADIN_STUDIES_SEASON_H

#include "gradin/studies/season.h"

enum { SEASON_DAY_S = 86400 };

/* Events of one flight with one offset. */
typedef struct season_same {
    int flight, n, n_show; /* n_show of them in performances */
    double offset_db;
} season_same;

typedef struct season_groups {
    season_same *same; /* [n_same] */
    int n_same;
    int *of_event; /* [n_event] */
} season_groups;

/* season_group.c: seconds after the start of the performance that a time falls into or follows. */
/* First and last day at 0:00: as stated, else the first event's and the last one's. */
void season_days(const gradin_traffic *traffic, int64_t *first_s, int64_t *last_s);
int64_t season_after_start_s(int64_t time_s, int start_s);
/* Groups the events, and fills class_scatter_db. index[class * n_track + track] is the flight of an
 * event. False without memory. */
bool season_group(gradin_arena *arena, gradin_season *season, const int *index,
                  season_groups *groups);
/* Sums of chances, were levels lower by what is systematic, as they are, and higher. */
typedef struct season_chances {
    double low, expected, high;
} season_chances;

/* season_expect.c: of a seat's events in performances over a limit; after its systematic_db. */
season_chances season_expect_show(const gradin_season *season, const season_groups *groups,
                                  int seat, double limit_dba, double confidence);
/* season_limits.c, season_periods.c: more limits, and periods of the day. */
gradin_status season_limits(gradin_arena *arena, gradin_season *season,
                            const season_groups *groups);
gradin_status season_periods(gradin_arena *arena, gradin_season *season, const int *index);
/* Expected events over the limit; after each seat's systematic_db. Counts only: of performances at
 * the stated start alone. False without memory. */
bool season_expect(gradin_arena *arena, gradin_season *season, const season_groups *groups,
                   bool is_counts_only);

/* Fills everything that depends on when and how often: seats, shares, performances, start times.
 * index[class * n_track + track] is the flight of an event. */
gradin_status season_count(gradin_arena *arena, gradin_season *season, const int *index,
                           bool is_counts_only, gradin_error *error);

/* season_fly.c: fills flight[n_flight], their arrays there, class and track set; `options` for
 * its progress, or NULL. */
gradin_status season_fly(const gradin_season *season, const gradin_traffic *traffic,
                         const gradin_voice *voice, const gradin_season_options *options,
                         gradin_flight *flight, gradin_error *error);

/* season_louder.c: flight[n_flight] with every class louder by more_db, speech included. */
gradin_status season_fly_louder(gradin_arena *arena, const gradin_season *season, double more_db,
                                gradin_flight *flight, gradin_error *error);

/* Once it is known what is in no level: what may not hold with it is no longer within. */
void season_doubt(gradin_season *season);
/* season_expect.c: the same of how often. False when out of memory. */
bool season_doubt_often(gradin_arena *arena, gradin_season *season, const int *index);

/* season_shades.c: the loudest event with all shades open and shut. */
gradin_status season_shades(gradin_arena *arena, gradin_season *season, gradin_error *error);
/* season_matter.c: once everything is counted. */
void season_worst_words(gradin_season *season);
/* season_background.c: the voice beside each state of the hall's own noise. GRADIN_NO_MEMORY. */
gradin_status season_backgrounds(gradin_arena *arena, gradin_season *season);
void season_rank_seats(gradin_season *season);
gradin_status season_rank_bays(gradin_arena *arena, gradin_season *season);
/* season_trace.c: finds the seats that the user names; works out the history. */
gradin_status season_choose_seats(gradin_season *season, const gradin_season_options *options,
                                  gradin_error *error);
gradin_status season_trace(gradin_arena *arena, gradin_season *season, gradin_error *error);

#endif
