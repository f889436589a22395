/* gradin/studies/choose.h: which layout a show is played in: what each has of what the show needs,
 * ranked by what it wishes, and how far both can be told. It approves nothing.
 *
 * Ownership and threads: A choice lives in the arena that is given and points into the show, the
 * models and the traffic, which must outlive it; choices with traffic are made from one thread of a
 * process at a time, for they set the threads of BLAS. */
#ifndef GRADIN_STUDIES_CHOOSE_CHOICE_H
#define GRADIN_STUDIES_CHOOSE_CHOICE_H

#include "gradin/acoustics/traffic.h"
#include "gradin/show.h"
#include "gradin/studies.h"
#include "gradin/studies/changeover.h"

#ifdef __cplusplus
extern "C" {
#endif

enum {
    GRADIN_MAX_CANDIDATE = 12,
    GRADIN_MAX_MUST = GRADIN_N_ASK + GRADIN_MAX_PARTNER,
    GRADIN_N_SHIFT = 7,         /* -3 .. 3 standard deviations */
    GRADIN_N_CHOICE_DRAW = 4096 /* of errors, and of weights */
};

/* What moves a figure when the truth is not as worked out. */
typedef enum gradin_doubt {
    GRADIN_DOUBT_NONE,
    GRADIN_DOUBT_SIGHT, /* samples of what is seen: on average other seats for each layout */
    GRADIN_DOUBT_NOISE, /* systematic part of levels: source and envelope common to all layouts */
    GRADIN_DOUBT_HOURS  /* a changeover between its proven least and its plan */
} gradin_doubt;

/* NANs where a layout has no such figure. */
typedef struct gradin_asked {
    double value, low, high;   /* as far as it is known; alike when it is certain */
    double at[GRADIN_N_SHIFT]; /* were its doubt off by -3 .. 3 standard deviations */
    gradin_doubt doubt;
} gradin_asked;

/* One must-have of one layout. */
typedef struct gradin_must {
    gradin_ask ask;
    int partner; /* index, of a changeover; -1 */
    double need;
    gradin_asked figure;
    double margin;          /* above 0: better than the need by so much */
    gradin_verdict verdict; /* WITHIN: has it; OVER: has it not */
    double lets_in; /* the least changed need that the figure surely keeps; NAN when it has it */
} gradin_must;

/* Both ways between a candidate and a partner's layout. */
typedef struct gradin_shared {
    bool is_planned;
    char why_not[GRADIN_TEXT_CHARS];
    gradin_changeover in,
        out; /* from the partner's layout to this one, and back, in working time */
    gradin_span in_span, out_span; /* the same by the clock, from the partner's start */
    int crew_needed; /* with which both would fit; 0: they do, or not asked; -1: no crew is enough
                      */
} gradin_shared;

typedef struct gradin_sale {
    int n_seat;
    double takings;
} gradin_sale;

/* Levels at the seats that performances of this show hear. */
typedef struct gradin_show_noise {
    bool is_there;
    int n_performance, n_event;          /* events that fall into one */
    int64_t first_day_s, last_day_s;     /* of the traffic that was counted */
    double *over, *over_low, *over_high; /* [n_seat] events per performance; NULL without a limit */
    double *lost_s;                      /* [n_seat] per performance; NULL unless asked */
    double source_db, envelope_db, room_db; /* standard uncertainty of a level, systematic part, at
                                               the median seat */
    gradin_gaps gaps; /* what of the envelope is in no level, by the loudest flight */
    double gaps_db;   /* what that may add at the median seat: the upper bounds hold it */
} gradin_show_noise;

typedef struct gradin_candidate {
    const gradin_model *model; /* as the show has it: shades, crew; without its overflight */
    gradin_assessment assessment;
    gradin_show_noise noise;
    gradin_shared shared[GRADIN_MAX_PARTNER]; /* [n_partner of the show] */
    gradin_asked figure[GRADIN_N_ASK];
    gradin_must must[GRADIN_MAX_MUST];
    int n_must;
    gradin_verdict verdict;          /* OVER when it lacks one, WITHIN when it has all */
    double worth[GRADIN_MAX_WISHED]; /* [n_wished of the show] 0..1 */
    double score;                    /* 0..1, by the weights */
    double miss;                     /* sum over what it lacks of the part that the need must give
                                        way by, 0 to 1 each */
    double first_share;  /* of draws of the errors in which it has all and comes first */
    double meets_share;  /* in which it has all */
    double weight_share; /* of all weights, any as likely, under which it comes first among those
                            that it competes with */
    bool *is_held;       /* [n_seat] held back */
    int n_held, n_held_wheelchair;
    int n_held_reason[GRADIN_N_REASON];
    gradin_sale sale[GRADIN_MAX_PRICE + 1]; /* [n_price + 1] of the show; last: without a price */
    bool lacks_shades;                      /* the show asks for shades and there are none */
} gradin_candidate;

/* How far one weight may go, the others keeping their proportions, before another layout is first.
 */
typedef struct gradin_weight_room {
    double share;       /* of all weights, as stated */
    double least, most; /* share between which the first stays first; 0 and 1: always */
    int below, above;   /* index of the layout that is first beyond; -1: none */
} gradin_weight_room;

typedef struct gradin_choice {
    const gradin_show *show;
    const gradin_traffic *traffic; /* NULL without */
    gradin_candidate *candidate;   /* [n_candidate] in the order given */
    int n_candidate;
    int order[GRADIN_MAX_CANDIDATE]; /* best first: those that have all, then those too near to
                                        tell, both by score, then the others by their miss */
    double ahead_share[GRADIN_MAX_CANDIDATE]; /* [n - 1] of draws in which order[i] scores more than
                                                 order[i + 1] */
    bool is_told[GRADIN_MAX_CANDIDATE]; /* [n - 1] at the show's confidence; false: no difference */
    int n_meets, n_near;
    double none_share;                            /* of draws in which no layout has all */
    gradin_weight_room weight[GRADIN_MAX_WISHED]; /* [n_wished] */
    bool are_limits_other;                        /* layouts are rated by different limits */
} gradin_choice;

typedef struct gradin_choose_options {
    gradin_sight_options sight;
    const char *room_cache;        /* folder that keeps rooms by radiosity; NULL: none */
    bool finds_crew;               /* look for the crew with which a changeover would fit */
    int n_node;                    /* of each changeover's search, 0: GRADIN_PLAN_NODES_OF_MANY */
    struct gradin_kept_room *kept; /* [n] of gradin/acoustics/event.h: a room of each layout, which
                                      is made where it is not there; NULL: none */
} gradin_choose_options;

/* model[n], 1 to GRADIN_MAX_CANDIDATE, and partner[show->n_partner], all of one venue; traffic NULL
 * when the show asks nothing of it. The same result for any number of threads. options may be NULL.
 * GRADIN_BAD_INPUT for layouts of several venues, for days that the traffic does not have, for
 * traffic or a limit without a facade, for a price of blocks that no layout has. */
GRADIN_API gradin_status gradin_choose(gradin_arena *arena, const gradin_show *show,
                                       const gradin_model *model, int n,
                                       const gradin_model *partner, const gradin_traffic *traffic,
                                       const gradin_choose_options *options, gradin_choice *choice,
                                       gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
