/* gradin/show.h: what a show asks of a layout: what it must have, what it wishes for, and what it
 * shares the house with. Lengths m, times s, levels dB(A), shares 0 to 1; money in the currency of
 * whoever states it.
 *
 * Ownership and threads: All of it belongs to the arena of whoever reads it; any number of threads
 * may read a show that nobody changes. */
#ifndef GRADIN_SHOW_H
#define GRADIN_SHOW_H

#include <stdint.h>

#include "gradin/layout.h"

#ifdef __cplusplus
extern "C" {
#endif

enum {
    GRADIN_MAX_PARTNER = 6,
    GRADIN_MAX_PRICE = 12,
    GRADIN_MAX_WISHED = 12,
    GRADIN_MAX_SHOW_START = 4,
    GRADIN_N_FORM = GRADIN_FORM_CUSTOM + 1,
    GRADIN_N_WEEKDAY = 7
};

/* A figure of a layout that a show may need or wish. Seats are those that are sold. */
typedef enum gradin_ask {
    GRADIN_ASK_FORM,        /* allowed, or wished for: 1 the most, 0 not */
    GRADIN_ASK_SEATS,       /* sold, places for wheelchairs and companions with them */
    GRADIN_ASK_WHEELCHAIRS, /* places sold */
    GRADIN_ASK_STAGE,       /* m2 of the floors that are looked at */
    GRADIN_ASK_CLEAR,       /* share of the seats sold that are rated clear */
    GRADIN_ASK_GOOD,        /* clear or good */
    GRADIN_ASK_DISTANCE,    /* m, the farthest seat sold */
    GRADIN_ASK_EVENTS,      /* over the limit, expected per performance, at a percentile seat */
    GRADIN_ASK_WORDS,       /* s per performance with words lost to traffic, at that seat */
    GRADIN_ASK_CHANGEOVER,  /* s, the longer way between this layout and a partner's */
    GRADIN_ASK_CREW_HOURS,  /* person-hours of both ways, all partners */
    GRADIN_ASK_TAKINGS,     /* of one performance with every seat sold */
    GRADIN_N_ASK
} gradin_ask;

/* "seats to sell", "changeover" ... */
GRADIN_API const char *gradin_ask_name(gradin_ask ask);
/* Or is less better? */
GRADIN_API bool gradin_ask_wants_more(gradin_ask ask);

/* Another show that stands in the house in turn with this one. */
typedef struct gradin_partner {
    const char *name;
    const char *layout_path; /* as seen from here */
    double gap_s;            /* free for the changeover, either way */
    double margin_s;         /* of it that has to stay free */
    int start_s; /* time of day at which the work begins; -1: the one that takes longest */
} gradin_partner;

/* Seats that cost the same: those of these blocks and rows, rated so or better, no farther away. A
 * seat has the first price that it fits. */
typedef struct gradin_price {
    const char *name;
    double price;
    const char *const *block; /* [n_block]; none: all */
    int n_block;
    int row[2];             /* first and last, from the front; 0 and 0: all */
    gradin_rating rated;    /* POOR: any */
    double distance_m;      /* INFINITY: any */
    const gradin_place *at; /* of its blocks in a file, or NULL */
} gradin_price;

/* Worth nothing at one figure and all of its weight at the other, in between on a straight line.
 * Forms are worth more the earlier they stand among those wished. */
typedef struct gradin_wished {
    gradin_ask ask;
    double weight;
    double nothing_at, full_at;
} gradin_wished;

/* Required: name. Start from gradin_show_defaults(). */
typedef struct gradin_show {
    const char *name, *file;
    const char *brief_path;   /* one for all layouts; NULL: each one's own */
    const char *traffic_path; /* NULL: noise is not asked about */
    bool is_form_excluded[GRADIN_N_FORM];
    const gradin_form *form; /* [n_form] wished, best first */
    int n_form;
    int seats, wheelchairs;                   /* least; 0: any */
    double stage_m2, clear_share, good_share; /* least; 0: any */
    double distance_m;                        /* most; INFINITY: any */
    gradin_rating sold_to;                    /* seats rated worse are held back */
    double limit_dba;                         /* of an event's maximum; NAN: not asked */
    double events;                            /* most; NAN: not asked */
    double words_lost_a_show_s;               /* most; NAN: not asked */
    double percentile;                        /* so many of 100 seats sold have no more */
    bool is_amplified;                        /* the voice; words are then no matter of traffic */
    int voice;                                /* effort, as gradin_effort; -1: as the traffic */
    int start_s[GRADIN_MAX_SHOW_START];       /* [n_start] of the day; none: the traffic's */
    int n_start, length_s;                    /* 0: the traffic's */
    bool is_day_played[GRADIN_N_WEEKDAY];     /* Monday first; none: all */
    int64_t from_s, to_s;                     /* first and last day, at 0:00; 0: the traffic's */
    int shades;                               /* -1 as set, 0 open, 1 shut */
    const gradin_partner *partner;            /* [n_partner] */
    const gradin_price *price;                /* [n_price] */
    const gradin_wished *wished;              /* [n_wished] */
    int n_partner, n_price, n_wished;
    int crew;                /* on changeovers; 0: the venue's */
    double confidence;       /* with which a noise figure must keep its need to be said to */
    char digest[33];         /* hex XXH3-128 of the file */
    const char *const *note; /* [n_note] former words that were read */
    int n_note;
    const gradin_place *at;
} gradin_show;

/* Asks for nothing; seats rated poor are held back, the 90th-percentile seat is heard, a confidence
 * of 84 % (one standard uncertainty). */
GRADIN_API gradin_show gradin_show_defaults(void);

#ifdef __cplusplus
}
#endif

#endif
