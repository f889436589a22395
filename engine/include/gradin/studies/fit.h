/* gradin/studies/fit.h: rough checks of a layout against the venue's own stated local rules: edges
 * that open at a height without a rail, rows too long for their aisles or too close to each other,
 * places for wheelchairs, exits and vomitories left free. A rough check replaces no review: the
 * local code and a licensed professional decide.
 *
 * Ownership and threads: The findings live in the arena that is given and point into the model,
 * which must outlive them; checks of different arenas may run in different threads. */
#ifndef GRADIN_FIT_H
#define GRADIN_FIT_H

#include "gradin/model.h"

#ifdef __cplusplus
extern "C" {
#endif

/* What makes an edge. */
typedef enum gradin_edge_of {
    GRADIN_EDGE_LIFT,     /* treads of lift sections; the floor beside one that is down */
    GRADIN_EDGE_STAIR,    /* an open floor panel */
    GRADIN_EDGE_SLAB,     /* decks and galleries that always stand, and those of the layout */
    GRADIN_EDGE_SET,      /* set pieces that people can stand on */
    GRADIN_EDGE_PLATFORM, /* under the rows of a block */
    GRADIN_EDGE_PASSAGE,  /* sides of a level passage through a bank */
    GRADIN_EDGE_FLOOR,    /* of the fixed floor where it is not at 0 */
    GRADIN_N_EDGE_OF
} gradin_edge_of;

/* "lift", "stair", "slab", "set piece", "platform", "passage", "floor" */
GRADIN_API const char *gradin_edge_name(gradin_edge_of of);

/* Where two floors lie beside each other at heights that differ by more than the venue's stated
 * drop, whatever makes them, and no rail stands: a straight line, or one that bends along an arc.
 */
typedef struct gradin_open_edge {
    const char *where; /* first lift section, panel, solid, or block and row */
    gradin_vec2 from_m, to_m;
    const gradin_vec2 *point_m; /* [n_point] its corners from the one to the other */
    int n_point;
    double low_m, high_m; /* heights of the upper floor along it */
    double drop_m;        /* greatest; NAN at an open stair */
    bool is_stage;        /* carries the focus: nobody rails off what is looked at */
    gradin_edge_of of;
    double length_m; /* along it */
} gradin_open_edge;

/* Seats side by side without a gap between them. */
typedef struct gradin_row_run {
    const char *first_seat, *last_seat;
    int n_seat, n_aisle; /* ends with an aisle or free floor */
    int most;            /* that the rules allow */
} gradin_row_run;

/* A row closer to the one in front than the rules allow. */
typedef struct gradin_tight_row {
    const char *block;
    int row;                    /* the closest of its block; the first has none in front */
    const char *row_label;      /* as the house writes it; NULL: row */
    double depth_m, clearway_m; /* clearway NAN when the block states no seat_depth */
    bool is_depth, is_clearway; /* which is less than its rule */
} gradin_tight_row;

/* An exit or a vomitory that is not free, or a door of which only a part is. */
typedef struct gradin_blocked {
    const char *name, *reason;
    double clear_m, width_m; /* of a door: what counts, and its own */
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

typedef enum gradin_way_state {
    GRADIN_WAY_OUT,
    GRADIN_WAY_NONE,      /* none of 0.5 m, the breadth of a person */
    GRADIN_WAY_NOT_LOOKED /* on a tower, a deck or in a box, whose stairs and doors are in no file
                           */
} gradin_way_state;

/* The best way over the floor from a row, or from a place for a wheelchair, to a free exit: the
 * shortest of those as wide as is wanted, or where there is none of those as wide as the widest.
 * Seats stand in the way of everybody but their own row; places for wheelchairs go without steps.
 */
typedef struct gradin_route {
    const char *first_seat, *last_seat; /* of the row; the place for a wheelchair */
    const char *from_seat;              /* of them that with the longest way */
    int n_place;
    bool is_wheelchair;
    gradin_way_state state; /* the rest belongs to GRADIN_WAY_OUT */
    const char *exit;
    const gradin_vec2 *point_m; /* [n_point] from the row's end, or the place, to the exit */
    int n_point;
    double length_m;         /* from from_seat */
    double in_row_m;         /* of that to the middle of the row's seat that is passed last */
    double width_m;          /* the least clear width along it past the row; 3 m and more are 3 m */
    gradin_vec2 narrowest_m; /* where that is */
    bool is_over_focus;      /* crosses what is looked at */
    bool is_long, is_narrow; /* by the venue's rules; no way at all meets none */
} gradin_route;

/* An end of an aisle at which no way leads on. */
typedef struct gradin_dead_end {
    const char *aisle, *at; /* `at`: what it ends at */
    gradin_vec2 end_m;
    double
        length_m; /* back to where a way leads out of the aisle; the whole of it when none does */
    bool is_nowhere; /* none does */
    bool is_long;    /* by the venue's rule; one that leads nowhere is */
} gradin_dead_end;

typedef struct gradin_routes {
    const gradin_route *route; /* [n_route] in the order of the seats */
    const gradin_dead_end *dead_end;
    int n_route, n_dead_end;
    int n_aisle;                          /* that were looked at */
    double wanted_m, wheelchair_wanted_m; /* widths: the venue's rules, else 36 in */
    double wheelchair_slope;              /* steepest floor of their ways: the rule, else 1:12 */
    int n_row, n_row_without, n_wheelchair, n_wheelchair_without; /* looked at; without a way */
    int longest, narrowest;                       /* row in `route`; -1: none has a way */
    int longest_wheelchair, narrowest_wheelchair; /* the same of places for wheelchairs */
    int n_unmet, n_long_dead_end; /* routes, ends of aisles that do not meet what is stated */
    bool is_met;
} gradin_routes;

/* What is judged; edges are never judged. */
typedef enum gradin_fit_part {
    GRADIN_FIT_ROWS,        /* lengths */
    GRADIN_FIT_SPACING,     /* from row to row */
    GRADIN_FIT_WHEELCHAIRS, /* places and companions */
    GRADIN_FIT_SLOPES,      /* under places for wheelchairs */
    GRADIN_FIT_EXITS,       /* width, in all and on each side of what closes the arch */
    GRADIN_FIT_WAYS,        /* from every place to an exit */
    GRADIN_FIT_VOMITORIES,
    GRADIN_FIT_LOADS,
    GRADIN_FIT_ROUTES, /* once they are added */
    GRADIN_N_FIT_PART
} gradin_fit_part;

/* "rows", "spacing", "wheelchairs", "slopes", "exits", "ways out", "vomitories", "loads", "routes"
 */
GRADIN_API const char *gradin_fit_part_name(gradin_fit_part part);

typedef struct gradin_fit {
    const gradin_model *model;
    const gradin_routes *routes; /* NULL until gradin_fit_routes() */
    const gradin_open_edge *edge;
    const gradin_row_run *long_row;   /* only those over the rules */
    const gradin_blocked *exit, *vom; /* only those that are not free */
    const gradin_blocked *narrowed;   /* exits of which only a part is free */
    int n_exit_narrowed, n_box_row;   /* n_box_row: rows of boxes, not looked at */
    int n_edge, n_stage_edge, n_row, n_long_row, n_exit, n_exit_blocked, n_vom, n_vom_blocked;
    const gradin_element *exit_vom; /* [n_exit_vom] open vomitories that lead out, as doors */
    int n_exit_vom;
    double exit_m, exit_needed_m; /* clear width of the free exits; NAN when no rule is stated */
    gradin_exit_side side[2];     /* of the arch, when it is in */
    int n_side;                   /* 0 or 2 */
    bool is_cut;                  /* what closes the arch is down: each side needs its own exits */
    const char *first_cut_off;    /* place without a way to a free exit; NULL: none */
    int n_cut_off, n_on_deck; /* places without one; places on towers and decks, not looked at */
    const gradin_overload *overload;
    const gradin_tight_row *tight_row; /* one per block that is too close somewhere */
    int n_tight_row, n_no_seat_depth;  /* blocks whose clearway cannot be told */
    int wheelchairs_needed;            /* -1 when the rules have no table */
    int companions_needed;             /* -1 when the rules state none */
    int n_steep;                       /* places for wheelchairs on a floor steeper than the rule */
    double steepest;                   /* floor under one: rise per metre */
    const char *steepest_place;        /* NULL: all stand level */
    int n_overload, n_limited;         /* surfaces and towers with a stated limit */
    const char *hanging;               /* first thing whose stated mass nothing here bears; NULL */
    bool is_missed[GRADIN_N_FIT_PART];
    bool is_met; /* none is missed */
} gradin_fit;

GRADIN_API gradin_status gradin_fit_check(gradin_arena *arena, const gradin_model *model,
                                          gradin_fit *fit, gradin_error *error);

/* Adds the routes to checks that were made, and what they say to is_met. */
GRADIN_API gradin_status gradin_fit_routes(gradin_arena *arena, gradin_fit *fit,
                                           gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
