/* gradin/season.h: a season of traffic at a layout's seats. */
#ifndef GRADIN_SEASON_H
#define GRADIN_SEASON_H

#include "gradin/flights.h"
#include "gradin/studies.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { GRADIN_N_START = 96, GRADIN_START_STEP_S = 900, GRADIN_N_TRACE = 3 };

typedef struct gradin_season_options {
    void (*progress)(void *user, int done, int total); /* flights worked out; may be NULL */
    void *progress_user;
} gradin_season_options;

typedef struct gradin_season {
    const gradin_model *model;
    const gradin_traffic *traffic;
    gradin_house house;
    gradin_voice voice;
    double limit_dba; /* of an event's LAmax at a seat; NAN when none is stated */
    int n_day;        /* a performance on each, from the first event's day to the last's */
    int64_t first_day_s;

    int n_flight;                   /* classes on tracks that occur */
    gradin_flight *flight;          /* [n_flight] by class, then track */
    int *n_event;                   /* [n_flight] */
    double *most_offset_db;         /* [n_flight] */
    gradin_spread *flight_lamax_db; /* [n_flight] over the seats */
    gradin_spread *flight_sel_db;   /* [n_flight] over the seats, exposure of one event */
    gradin_spread *flight_lost_s;   /* [n_flight] over the seats */

    /* [n_seat] over the season */
    double *lamax_db;  /* loudest event */
    int *loudest;      /* its flight */
    double *nc, *nr;   /* of the bands at that maximum */
    double *band_db;   /* [n_seat][GRADIN_N_BAND] at that maximum */
    double *laeq_db;   /* of events over all performances; -INFINITY without one */
    double *excess_db; /* largest octave over the hall's NC; NAN without one */
    int *n_over;       /* events over the limit */
    double *over_show; /* the same, mean a performance */

    gradin_spread lamax_spread, laeq_spread, nc_spread, over_spread; /* over the seats */
    gradin_spread sii_spread;                                        /* without traffic */

    double *share;                     /* [n_element] of the season's energy at the seats */
    double start_over[GRADIN_N_START]; /* events over the limit a performance that starts at
                                          k * GRADIN_START_STEP_S, mean of seats and days */
    double show_over;                  /* the same at the stated start */
    double worst_show_over;            /* on the worst day, mean of seats */
    int worst_day;                     /* its index */

    int trace_flight;               /* loudest flight, with its history */
    int trace_seat[GRADIN_N_TRACE]; /* quietest, median and loudest seat of it */
    int trace_event;                /* how many of it */
} gradin_season;

/* Distinct classes on tracks are worked out once each; their events differ by an offset alone.
 * Results into the arena; the same for any number of threads. */
gradin_status gradin_season_compute(gradin_arena *arena, const gradin_model *model,
                                    const gradin_traffic *traffic,
                                    const gradin_season_options *options, gradin_season *season,
                                    gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
