/* gradin/studies/season.h: a season of traffic at a layout's seats.
 *
 * Ownership and threads: A season lives in the arena that is given and points into the model and
 * the traffic, which must outlive it; seasons are computed from one thread of a process at a time,
 * for they set the threads of BLAS. */
#ifndef GRADIN_SEASON_H
#define GRADIN_SEASON_H

#include "gradin/acoustics/event.h"
#include "gradin/studies.h"

#ifdef __cplusplus
extern "C" {
#endif

/* What the flights of a season may take; refused beyond. */
#define GRADIN_MAX_FLIGHT_BYTES 3e9

enum { GRADIN_N_START = 96, GRADIN_START_STEP_S = 900, GRADIN_MAX_TRACE = 6 };

typedef struct gradin_season_options {
    /* Flights worked out; total 0 while the room is being worked out. May be NULL. */
    void (*progress)(void *user, int done, int total);
    void *progress_user;
    const char *const *trace_id; /* [n_trace] seats of the level against time; n_trace 0: the */
    int n_trace;                 /* loudest, the median and the quietest */
    const char *room_cache;      /* folder that keeps rooms by radiosity; NULL: none */
    gradin_kept_room *kept;      /* a room kept in memory from one season to the next; NULL: none */
    bool is_counts_only;   /* levels of seats and what they count in performances at the stated
                              start alone: no spreads, no other start, limit, period or state of
                              the shades, no trace, no gaps, nothing ranked; the writers refuse it */
    bool is_without_words; /* no speech in the flights */
} gradin_season_options;

/* All bays of one facade entry. */
typedef struct gradin_bays {
    const char *entry;
    int n_element, loudest_element;
    double share;      /* of the season's energy at the seats */
    double without_db; /* change of that energy's level were these perfect, <= 0; -INFINITY when
                          there is no other */
} gradin_bays;

/* Events of a performance expected over one limit, and were all levels lower or higher by their
 * systematic part at the confidence. */
typedef struct gradin_limit_count {
    double limit_dba;
    double mean, mean_low, mean_high; /* of the seats */
    double p90, p90_low, p90_high;    /* a tenth of the seats has more */
    double worst, worst_low, worst_high;
    int worst_seat;
} gradin_limit_count;

/* LAeq of the listed events in one period of the day, over all days of the season. */
typedef struct gradin_period_level {
    double hours, penalty_db;
    double outside_db;     /* free field */
    gradin_spread seat_db; /* over the seats */
} gradin_period_level;

/* The voice beside one state of the hall's own noise. */
typedef struct gradin_season_background {
    const char *name;
    double level_dba, nc;
    int n_lacking;        /* seats that lack the index without traffic */
    gradin_spread sii;    /* over the seats, without traffic */
    gradin_spread lost_s; /* over the seats that do not lack it: of each one's worst class */
} gradin_season_background;

typedef struct gradin_season {
    const gradin_model *model;
    const gradin_traffic *traffic;
    gradin_prepared_room room;
    gradin_voice voice;
    double limit_dba;                /* of an event's LAmax at a seat; NAN when none is stated */
    gradin_uncertainty uncertainty;  /* of the levels at the seats; its scatter is the largest of
                                        the classes' */
    double *class_scatter_db;        /* [n_class] of its events beyond what their offsets state */
    int n_verdict[GRADIN_N_VERDICT]; /* seats by verdict */
    int n_day; /* a performance on each; as stated, else from the first event to the last */
    int64_t first_day_s;

    int n_flight;                   /* classes on tracks that occur */
    gradin_flight *flight;          /* [n_flight] by class, then track */
    int *n_event;                   /* [n_flight] */
    double *most_offset_db;         /* [n_flight] */
    gradin_spread *flight_lamax_db; /* [n_flight] over the seats */
    gradin_spread *flight_sel_db;   /* [n_flight] over the seats, exposure of one event */
    gradin_spread *flight_lost_s;   /* [n_flight] over the seats */

    /* [n_seat] over the season */
    double *lamax_db;        /* loudest event */
    int *loudest;            /* its flight */
    double *nc, *nr;         /* of the bands at that maximum */
    double *band_db;         /* [n_seat][GRADIN_N_BAND] at that maximum */
    double *laeq_db;         /* of events over all performances; -INFINITY without one */
    double *excess_db;       /* largest octave over the hall's NC; NAN without one */
    double *systematic_db;   /* of lamax_db: standard uncertainty, its systematic part */
    double *uncertainty_db;  /* of lamax_db as one event's: systematic and scatter */
    gradin_verdict *verdict; /* of lamax_db beside the limit, as one event's level */
    gradin_verdict *lamax_verdict[GRADIN_N_SHADE_STATE]; /* the same by state of the shades, where
                                                            lamax_shades_db is there */
    gradin_verdict *often; /* of over_show beside one event per performance, by its bounds */
    double *over;          /* expected number of events over the limit */
    double *over_show;     /* the same per performance, and were all levels lower or higher by */
    double *over_show_low, *over_show_high; /* their systematic part at the confidence */

    gradin_spread lamax_spread, laeq_spread, nc_spread, over_spread; /* over the seats */
    gradin_spread systematic_spread;
    double *lamax_predicted_db; /* [n_seat] lamax_db without the site's correction; NULL without */
    gradin_spread predicted_spread;
    gradin_spread sii_spread; /* without traffic */

    /* [n_seat] loudest event by state of the shades; as set is lamax_db, the others are NULL in a
       venue without shades */
    double *lamax_shades_db[GRADIN_N_SHADE_STATE];
    gradin_spread lamax_shades[GRADIN_N_SHADE_STATE];
    double *shade_gain_db; /* [n_seat] open less shut; NULL without shades */
    gradin_spread shade_gain;
    double *lost_s;   /* [n_seat] of the worst class on its track, at the class's own level; NAN
                         where the voice lacks the index without traffic */
    int *lost_flight; /* [n_seat] its flight, -1 when nothing is lost */
    gradin_spread lost_spread;
    gradin_season_background *background; /* [n_background] as the traffic has them; the seats'
                                             figures are those beside the first */
    int n_background;
    gradin_band_level *band; /* [n_band] at the maximum, as chosen by gradin_season_bands() */
    int n_band;
    int worst_seat[GRADIN_N_WORST]; /* most events over the limit, then the loudest event */
    int n_worst_seat;
    gradin_bays *bays; /* [n_bays] by facade entry, the largest share first */
    int n_bays;

    double *share;                     /* [n_element] of the season's energy at the seats */
    double start_over[GRADIN_N_START]; /* expected events over the limit a performance that starts
                                          at k * GRADIN_START_STEP_S, mean of seats and days */
    double show_over;                  /* the same at the stated start */
    double show_over_low, show_over_high; /* the same were all levels lower or higher by their
                                             systematic part at the confidence */
    double worst_show_over;               /* on the worst day, mean of seats */
    int worst_day;                        /* its index */

    gradin_limit_count limit_count[GRADIN_MAX_LIMIT + 1]; /* [n_limit] lowest limit first */
    int n_limit;
    gradin_period_level period[GRADIN_N_PERIOD]; /* hours 0: no periods are asked for */
    double outside_den_db; /* day, evening and night with their penalties, over 24 hours */

    gradin_gaps gaps;          /* what of the envelope is in no level, by the loudest event */
    int trace_flight;          /* of the loudest event at any seat */
    double trace_offset_db;    /* of that event against its class */
    gradin_event_levels trace; /* [n_trace] of that event at those seats */
    int trace_seat[GRADIN_MAX_TRACE]; /* [n_trace] as chosen, or the loudest, the median and the
                                         quietest of it */
    int n_trace;
    bool is_trace_chosen;
    int trace_event;              /* how many of that flight */
    gradin_event_levels *history; /* [n_flight] at those seats, at each class's own level, as added
                                     by gradin_season_histories(); NULL without */
} gradin_season;

/* Distinct classes on tracks are worked out once each; their events differ by an offset alone.
 * Results into the arena; the same for any number of threads. */
GRADIN_API gradin_status gradin_season_compute(gradin_arena *arena, const gradin_model *model,
                                               const gradin_traffic *traffic,
                                               const gradin_season_options *options,
                                               gradin_season *season, gradin_error *error);
/* Adds levels by band of each seat's loudest event. */
GRADIN_API gradin_status gradin_season_bands(gradin_arena *arena, gradin_season *season,
                                             const gradin_band_choice *choice, gradin_error *error);

/* Adds levels against time of every class on every track at the seats of the trace. */
GRADIN_API gradin_status gradin_season_histories(gradin_arena *arena, gradin_season *season,
                                                 gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
