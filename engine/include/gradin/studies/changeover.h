/* gradin/studies/changeover.h: the moves between two layouts of a venue, in an order that its
 * interlocks, its crew and its power allow. It plans and controls nothing: nobody under or on
 * moving machinery, trained operators, the maker's procedure.
 *
 * Ownership and threads: A changeover and its texts live in the arena that is given and point into
 * both models, which must outlive them; plans of different arenas may run in different threads. */
#ifndef GRADIN_CHANGEOVER_H
#define GRADIN_CHANGEOVER_H

#include "gradin/model.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { GRADIN_MAX_MOVE = 400 };

typedef enum gradin_move_kind {
    GRADIN_MOVE_STRIKE, /* seats or rails taken away */
    GRADIN_MOVE_MACHINE,
    GRADIN_MOVE_SET /* seats or rails put up */
} gradin_move_kind;

/* Why a move starts when it does. */
typedef enum gradin_move_cause {
    GRADIN_STARTS_FREE,   /* at the beginning */
    GRADIN_STARTS_AFTER,  /* another move has to be done first */
    GRADIN_STARTS_APART,  /* may not run together with another */
    GRADIN_STARTS_LIMITED /* crew, power, lifts at once or the store lift are taken until then */
} gradin_move_cause;

typedef struct gradin_move {
    const char *name;  /* what moves: "F-A1 .. F-B4 (8 sections)", "South rows 4-6" */
    const char *task;  /* what is done: "from 0.000 to 0.900 m", "strike 120 seats" */
    const char *lane;  /* row of the chart: "F lifts", "W1", "seats", "rails" */
    const char *block; /* of seats; NULL without */
    int n_seat;
    gradin_move_kind kind;
    int duration_s, start_s;
    int crew;
    const char *gang;   /* "A", or "A, B" when people of two gangs work together; "" for nobody */
    const char *people; /* "A1-A4": the people of the gangs one by one */
    double power_kw;
    bool are_people_near;
    bool is_critical; /* on the chain that ends last; its float is 0 */
    bool is_near; /* its float is at most a twentieth of the total (common practice, no source) */
    int float_s; /* that it may start later without a later end, when the plan keeps its links: what
                    comes before what, and who has people, power and lifts from whom */
    gradin_move_cause cause;
    int waits_for;           /* the move that the cause is about, -1 without */
    const char *rule;        /* name of the rule when it is AFTER or APART */
    const int *trip_start_s; /* [n_trip] trips of the store lift that take or bring its seats */
    int n_trip;
    const char *const *trip_people; /* [n_trip] who work the store lift besides; NULL: nobody */
} gradin_move;

typedef struct gradin_changeover {
    const gradin_model *from, *to;
    const gradin_move *move; /* [n_move] in order of start */
    int n_move;
    int total_s, lower_bound_s; /* the total is proven least when they are equal */
    int longest_chain_s;        /* by precedence alone, whatever the crew */
    int crew, crew_peak;
    int n_gang, gang_size; /* gangs A, B, .. of that many people, the last perhaps of fewer */
    double power_kw, power_peak_kw; /* limit (INFINITY when none), most drawn at once */
    int trip_s; /* of the store lift: down, up, loading, unloading; 0 without one. One at a time */
    double person_hours;
    int n_struck, n_set, n_kept; /* loose and telescopic seats */
} gradin_changeover;

/* Plans the changeover. GRADIN_BAD_INPUT when the layouts are of two venues, the venue states no
 * crew, or no order of moves keeps every rule (the diagnostic names it). Moves and texts live in
 * the arena; the models must outlive it. */
GRADIN_API gradin_status gradin_changeover_plan(gradin_arena *arena, const gradin_model *from,
                                                const gradin_model *to,
                                                gradin_changeover *changeover, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
