/* gradin/studies/changeover.h: the moves between two layouts of a venue, in an order that its
 * interlocks, its crew and its power allow. It plans and controls nothing: nobody under or on
 * moving machinery, trained operators, the maker's procedure.
 *
 * Ownership and threads: A changeover and its texts live in the arena that is given and point into
 * both models, which must outlive them; plans of different arenas may run in different threads. */
#ifndef GRADIN_CHANGEOVER_H
#define GRADIN_CHANGEOVER_H

#include "gradin/model.h"

#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

enum { GRADIN_MAX_MOVE = 400 };

/* Steps of the search unless others are asked for: of one plan; of each where a study wants many.
 */
enum { GRADIN_PLAN_NODES = 30000, GRADIN_PLAN_NODES_OF_MANY = 1000 };

/* Why a move starts when it does. */
typedef enum gradin_move_cause {
    GRADIN_STARTS_FREE,    /* at the beginning */
    GRADIN_STARTS_AFTER,   /* another move has to be done first */
    GRADIN_STARTS_APART,   /* may not run together with another */
    GRADIN_STARTS_LIMITED, /* crew, power, lifts at once or the store lift are taken until then */
    GRADIN_STARTS_RESTED   /* it goes in one piece, and would not be done before a rest */
} gradin_move_cause;

/* Where a move is when the rest is planned again. */
typedef enum gradin_move_state {
    GRADIN_MOVE_PLANNED,
    GRADIN_MOVE_RUNNING,
    GRADIN_MOVE_DONE
} gradin_move_state;

typedef struct gradin_move {
    const char *name;  /* what moves: "F-A1 .. F-B4 (8 sections)", "South rows 4-6" */
    const char *task;  /* what is done: "from 0.000 to 0.900 m", "strike 120 seats" */
    const char *lane;  /* row of the chart: "F lifts", "W1", "seats", "rails" */
    const char *block; /* of seats; NULL without */
    int n_seat;
    gradin_move_kind kind;
    int duration_s;     /* of work */
    int piece_s;        /* of a machine, that nobody leaves half way; 0: work of people */
    int start_s, end_s; /* of the clock, from the start of the plan: rests are in it */
    gradin_move_state state;
    int crew;
    const char *gang;   /* "A", or "A, B" when people of two gangs work together; "" for nobody */
    const char *people; /* "A1-A4": the people of the gangs one by one */
    double power_kw;
    bool are_people_near;
    bool is_rail;     /* of rails: the edge that they guard is open while people work at it */
    bool is_critical; /* on the chain that ends last; its float is 0 */
    bool is_near; /* its float is at most a twentieth of the total (common practice, no source) */
    int float_s;  /* of work, that it may start later without a later end, when the plan keeps its
                     links: what comes before what, and who has people, power and lifts from whom */
    gradin_move_cause cause;
    int waits_for;           /* the move that the cause is about, -1 without */
    const char *rule;        /* name of the rule when it is AFTER or APART */
    const int *trip_start_s; /* [n_trip] trips of the store lift that take or bring its seats */
    int n_trip;
    const char *const *trip_people; /* [n_trip] who work the store lift besides; NULL: nobody */
} gradin_move;

/* Hours in which nobody works. */
typedef struct gradin_stop {
    int from_s, to_s; /* of the clock, from the start of the plan */
    const char *name; /* of the rest, or "off shift" and which doors are left open then */
    bool is_rest, is_paid;
} gradin_stop;

/* The first has to be done before the second begins; a trip of the store lift for a move, or the
 * move itself (-1). */
typedef struct gradin_link {
    int first, first_trip, then, then_trip;
} gradin_link;

/* Totals when the time of each move is drawn from what the venue states for its kind. */
typedef struct gradin_late {
    int n_draw; /* 0: no contingency is stated */
    double mean_s, deviation_s;
    int within_50_s, within_80_s, within_95_s; /* so many of 100 draws are done by then */
    double as_planned, in_gap, in_margin; /* shares done within the plan's own total, within the
                                             gap, and with the margin to spare */
} gradin_late;

typedef struct gradin_cost {
    bool is_known;                                 /* a start is given and rates are stated */
    int people;                                    /* called from the start to the end */
    double day_hours, night_hours, overtime_hours; /* person-hours paid */
    double sum;
    const char *currency; /* NULL: not stated */
} gradin_cost;

/* What is asked of a plan besides the two layouts. */
typedef struct gradin_changeover_terms {
    bool has_start;
    int64_t start_s;     /* local, seconds since 1970; without it no shift and no rest is kept */
    int gap_s, margin_s; /* between the shows, 0: not asked; of it to keep free */
    int from_move;       /* 0; or the first that has not begun at at_s: the rest is planned again */
    int at_s;            /* of the clock, from the start of the plan */
    bool is_drawn;       /* fill late where the venue states a contingency */
    int n_node;          /* steps of the search, 0: GRADIN_PLAN_NODES; the same plan for the same */
    void (*progress)(void *user, int done, int total); /* of the search; NULL: not told */
    void *progress_user;
} gradin_changeover_terms;

typedef struct gradin_changeover {
    const gradin_model *from, *to;
    const gradin_move *move; /* [n_move] in order of start */
    int n_move;
    int total_s;               /* of the clock */
    int work_s, lower_bound_s; /* of work; proven least when they are equal */
    int longest_chain_s;       /* by precedence alone, whatever the crew */
    int crew, crew_peak;
    int n_called;          /* people who do anything */
    int n_gang, gang_size; /* gangs A, B, .. of that many people, the last perhaps of fewer */
    double power_kw, power_peak_kw; /* limit (INFINITY when none), most drawn at once */
    int trip_s; /* of the store lift: down, up, loading, unloading; 0 without one. One at a time */
    double person_hours;
    int n_struck, n_set, n_kept;               /* loose and telescopic seats */
    int n_piece_out, n_piece_in, n_piece_kept; /* of scenery */
    int n_stand_out, n_stand_in; /* platforms under rows and set pieces of one layout alone:
                                    somebody builds them, and no move does */
    bool has_start;
    int64_t start_s; /* local, seconds since 1970 */
    int gap_s, margin_s;
    bool keeps_gap; /* with its margin: the plan, and 80 of 100 draws where contingency is stated */
    int from_move, at_s;     /* as asked; 0: the first plan */
    const gradin_stop *stop; /* [n_stop] of the venue's shifts and rests until the end */
    const gradin_link *link; /* [n_link] of moves; whoever keeps them keeps every limit */
    int n_stop, n_link;
    bool has_rests; /* the venue states shifts or rests, whether they are kept or not */
    gradin_late late;
    gradin_cost cost;
} gradin_changeover;

/* Plans the changeover. GRADIN_BAD_INPUT when the layouts are of two venues, the venue states no
 * crew, or no order of moves keeps every rule (the diagnostic names it). Moves and texts live in
 * the arena; the models must outlive it. */
GRADIN_API gradin_status gradin_changeover_plan(gradin_arena *arena, const gradin_model *from,
                                                const gradin_model *to,
                                                gradin_changeover *changeover, gradin_error *error);

/* The same on the venue's terms: from a start on, with its shifts and rests, or what is left of it
 * once it is late. GRADIN_BAD_INPUT also when no such move is, or the shifts leave no time. */
GRADIN_API gradin_status gradin_changeover_plan_on(gradin_arena *arena, const gradin_model *from,
                                                   const gradin_model *to,
                                                   const gradin_changeover_terms *terms,
                                                   gradin_changeover *changeover,
                                                   gradin_error *error);

/* The same moves by the same links, begun at a start: with the venue's shifts, rests and rates. The
 * plan was made without one. GRADIN_BAD_INPUT when the shifts leave no time. */
GRADIN_API gradin_status gradin_changeover_restart(gradin_arena *arena,
                                                   const gradin_changeover *plan, int64_t start_s,
                                                   gradin_changeover *changeover,
                                                   gradin_error *error);

/* How long a plan takes by the clock. */
typedef struct gradin_span {
    int total_s, bound_s; /* of the plan; and under which none can be in those hours */
    int start_s;          /* time of day at which it takes so long */
    bool has_rests;       /* shifts or rests of the venue are in it */
} gradin_span;

/* Begun at a time of day; -1: at the one that takes longest, of the beginnings of shifts, or of all
 * quarters of an hour where the venue states no shift. */
GRADIN_API gradin_status gradin_changeover_span(const gradin_changeover *plan, int of_day_s,
                                                gradin_span *span, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
