/* gradin/fit.h: rough checks of a layout against the venue's own stated local rules: edges that
 * open at a height without a rail, rows too long for their aisles, exits and vomitories left free.
 * A rough check replaces no review: the local code and a licensed professional decide.
 *
 * Ownership and threads: The findings live in the arena that is given and point into the model,
 * which must outlive them; checks of different arenas may run in different threads. */
#ifndef GRADIN_FIT_H
#define GRADIN_FIT_H

#include "gradin/model.h"

#ifdef __cplusplus
extern "C" {
#endif

/* A straight edge of lift treads, or of an open floor panel, with a drop and no rail beside it. */
typedef struct gradin_open_edge {
    const char *where; /* first lift section, or the panel */
    gradin_vec2 from_m, to_m;
    double low_m, high_m; /* heights of its treads */
    double drop_m;        /* greatest; NAN at an open stair */
    bool is_stage; /* of a section that carries the focus: nobody rails off what is looked at */
} gradin_open_edge;

/* Seats side by side without a gap between them. */
typedef struct gradin_row_run {
    const char *first_seat, *last_seat;
    int n_seat, n_aisle; /* ends with an aisle or free floor */
    int most;            /* that the rules allow */
} gradin_row_run;

typedef struct gradin_blocked {
    const char *name, *reason;
} gradin_blocked;

/* Exits on one side of the arch when it is in. */
typedef struct gradin_exit_side {
    const char *name; /* "south" */
    int n_free, n_place;
    double exit_m, needed_m; /* needed NAN when no rule is stated */
} gradin_exit_side;

/* A surface or tower that bears more than its venue states. */
typedef enum gradin_load_kind {
    GRADIN_LOAD_SPREAD, /* all that it bears over its area, kN/m2 */
    GRADIN_LOAD_TOTAL,  /* the same in all, kN */
    GRADIN_LOAD_UNDER,  /* under one thing, over that thing's own area, kN/m2 */
    GRADIN_LOAD_PEOPLE, /* places on a tower */
    GRADIN_LOAD_MASS    /* people, seats and things on a tower, kg */
} gradin_load_kind;

typedef struct gradin_overload {
    const char *where; /* lift section, tower, its deck, panel, floor */
    const char *what;  /* the thing that weighs most, or how people use the surface */
    gradin_load_kind kind;
    double load, limit; /* in the unit of the kind */
} gradin_overload;

typedef struct gradin_fit {
    const gradin_model *model;
    const gradin_open_edge *edge;
    const gradin_row_run *long_row;   /* only those over the rules */
    const gradin_blocked *exit, *vom; /* only those that are not free */
    int n_edge, n_stage_edge, n_row, n_long_row, n_exit, n_exit_blocked, n_vom, n_vom_blocked;
    double exit_m, exit_needed_m; /* clear width of the free exits; NAN when no rule is stated */
    gradin_exit_side side[2];     /* of the arch, when it is in */
    int n_side;                   /* 0 or 2 */
    bool is_cut;                  /* what closes the arch is down: each side needs its own exits */
    const gradin_overload *overload;
    int n_overload, n_limited; /* surfaces and towers with a stated limit */
    const char *hanging;       /* first thing whose stated mass nothing here bears; NULL */
    bool is_met; /* rows, exits, vomitories, loads; edges are listed and never judged */
} gradin_fit;

GRADIN_API gradin_status gradin_fit_check(gradin_arena *arena, const gradin_model *model,
                                          gradin_fit *fit, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
