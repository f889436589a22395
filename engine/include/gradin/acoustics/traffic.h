/* gradin/acoustics/traffic.h: a season of traffic: classes of source, tracks, and the events that
 * happen.
 *
 * Spectra are free-field levels at a reference distance. Times are local, in seconds since the
 * start of 1970.
 *
 * Ownership and threads: All of it belongs to the arena of whoever reads it; any number of threads
 * may read traffic that nobody changes. */
#ifndef GRADIN_TRAFFIC_H
#define GRADIN_TRAFFIC_H

#include "gradin/acoustics/room.h"
#include "gradin/acoustics/source.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Refused beyond these. */
enum {
    GRADIN_MAX_CLASS = 64,
    GRADIN_MAX_TRACK = 256,
    GRADIN_MAX_TRACK_POINT = 20000,
    GRADIN_MAX_EVENT = 2000000,
    GRADIN_MAX_BACKGROUND = 8,
    GRADIN_MAX_LIMIT = 8 /* besides the one that seats are judged by */
};

typedef struct gradin_class {
    const char *name;
    double reference_m;             /* distance at which level_db holds */
    double level_db[GRADIN_N_BAND]; /* dB re 20 uPa, free field */
    gradin_directivity directivity; /* about the direction of travel, or a track's bearing */
    bool is_octave;    /* level_db was stated in octaves, which are spread over their thirds */
    double scatter_db; /* standard deviation of its events about that level; what their offsets
                          state of it is not counted again */
} gradin_class;

/* Where the source is: straight between points. One point stays there for hold_s. */
typedef struct gradin_track {
    const char *name;
    int n_point;
    const double *time_s;       /* [n_point] ascending */
    const gradin_vec3 *point_m; /* [n_point] */
    double hold_s;              /* one point only */
    double bearing_deg;         /* that it points to, one point only; NAN: none */
} gradin_track;

typedef struct gradin_event {
    int64_t time_s;
    int class_index, track;
    double offset_db; /* this event against its class */
} gradin_event;

/* Of a day: day, evening and night, each up to the start of the next. */
typedef enum gradin_period {
    GRADIN_PERIOD_DAY,
    GRADIN_PERIOD_EVENING,
    GRADIN_PERIOD_NIGHT,
    GRADIN_N_PERIOD
} gradin_period;

typedef struct gradin_periods {
    int start_s[GRADIN_N_PERIOD];       /* second of the day; all 0: none are asked for */
    double penalty_db[GRADIN_N_PERIOD]; /* in the level of day, evening and night together */
} gradin_periods;

/* The hall's own noise in one state, as of its ventilation, alike at all seats. */
typedef struct gradin_background {
    const char *name;
    double nc;                      /* its octaves lie on this curve, 15..70; 0: level_db counts */
    double level_db[GRADIN_N_BAND]; /* thirds, dB re 20 uPa */
    bool is_octave; /* level_db was stated in octaves, which are spread over their thirds */
} gradin_background;

typedef struct gradin_traffic {
    const char *name, *path;
    const gradin_class *class_of; /* [n_class] */
    const gradin_track *track;    /* [n_track] */
    const gradin_event *event;    /* [n_event] in the order of the file */
    int n_class, n_track, n_event;
    int64_t from_s,
        to_s;      /* first and last day at 0:00, where they are stated; 0: the events' own */
    int n_skipped; /* bad rows left out because that was asked for */
    double temperature_c, humidity_pct, pressure_kpa;
    double source_uncertainty_db;    /* standard one of a class's level, alike for its events */
    bool has_lateral;                /* Doc 29 lateral attenuation */
    gradin_time_weighting weighting; /* of an event's maximum */
    bool has_impedance; /* adjustment of levels stated at 409.81 N s/m3 to the day's air */
    int start_s;        /* of a performance, seconds of the day */
    int length_s;
    int voice;        /* effort of the voice on stage, as gradin_effort: 0 normal .. 3 shout */
    double sii_least; /* below this index words are lost */
    const gradin_background *background; /* [n_background] the hall's own noise in its states;
                                            seats are judged by the first */
    int n_background;                    /* 0: silence */
    double limit_dba; /* of an event's maximum at a seat; NAN: the layout's brief decides */
    const double *more_limit_dba; /* [n_more_limit] events are counted over these, too */
    int n_more_limit;
    gradin_periods periods;
    char digest[33];
} gradin_traffic;

/* How far a straight track reaches to each side of its point. */
#define GRADIN_TRACK_REACH_M 30000.0
/* A straight, level, even track through a point, at time 0 there. Keeps the name; arrays into the
 * arena. GRADIN_OK, GRADIN_NO_MEMORY or GRADIN_BAD_USE. */
GRADIN_API gradin_status gradin_track_straight(gradin_arena *arena, gradin_vec3 point_m,
                                               double bearing_deg, double speed_ms,
                                               gradin_track *track);

#ifdef __cplusplus
}
#endif

#endif
