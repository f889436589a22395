/* studies/fit/ways.h: the floor as cells that people walk over, and the ways over it to the exits.
 * Widths of ways are whole centimetres here. */
#ifndef GRADIN_STUDIES_FIT_WAYS_H
#define GRADIN_STUDIES_FIT_WAYS_H

#include "studies/fit/fit.h"

/* Points of the plan by squares of 1 m. */
typedef struct bins {
    const gradin_vec2 *at_m; /* [n] */
    gradin_vec2 low_m;
    int n_column, n_row;
    int *first; /* [n_column * n_row + 1] index into item */
    int *item;  /* [n] */
} bins;

/* way_bins.c: false when out of memory. */
bool bins_make(gradin_arena *arena, const gradin_vec2 *at_m, int n, bins *made);
/* The k-th of the 9 squares round a point; *item [return value]. */
int bins_near(const bins *b, gradin_vec2 at_m, int k, const int **item);
/* From a point to the nearest of all; most_m (at most 1 m) when none is as near. */
double bins_off_m(const bins *b, gradin_vec2 at_m, double most_m);

typedef struct ways {
    gradin_arena *arena;
    const gradin_fit *fit;
    const gradin_model *model;
    fit_gates gate;
    double step_m, steepest; /* the highest step and the steepest floor that is walked */
    int wanted_cm;           /* a way as wide as this is wide enough */
    gradin_vec2 low_m, x;    /* corner of the first cell; direction of its row */
    double column_m, row_m;  /* size of a cell */
    int n_column, n_row, n_cell;
    bool *has_thing;   /* [n_cell] a wall, a solid or a rail may stand within 0.2 m of it */
    double *floor_m;   /* [n_cell] NAN where nobody gets to */
    int *wide_cm;      /* [n_cell] of the broadest body that stands there, at most wanted_cm */
    const char **exit; /* [n_cell] the free exit it lies before; NULL elsewhere */
    int *door_cm;      /* [n_cell] what that exit lets through */
    int *out_cm;       /* [n_cell] least width along the widest way out; 0: none */
    double *length_m;  /* [n_cell] of the shortest way as wide as was asked for; INFINITY: none */
    int *next;         /* [n_cell] cell that it goes on to; -1 before the exit */
    int *heap, *place; /* [n_cell] of the search for it */
    int n_heap;
    bins seat;
    gradin_vec2 *wall_m; /* [n_wall] points where what can be walked ends */
    int n_wall, wall_capacity;
    bins wall;
} ways;

enum { WAYS_BODY_CM = 50 }; /* nobody passes what is narrower; common practice, no source */

/* way_cells.c */
gradin_vec2 ways_middle_m(const ways *w, int cell);
int ways_cell(const ways *w, gradin_vec2 at_m); /* -1 outside */
/* The k-th of 16 neighbours: 4 beside, 4 across corners, 8 a knight's move off. -1: none. */
int ways_beside(const ways *w, int cell, int k);
/* Can somebody who stands at from_m stand at a point a short step off? */
bool ways_is_free(const ways *w, gradin_vec2 at_m, double from_m, double margin_m);
/* The i-th way out as a door; NULL when it is not free, or has steps and none are walked. */
const gradin_element *ways_gate(const ways *w, int i);
/* Walks the floor from the free exits inwards: fills floor_m, exit, door_cm. */
bool ways_start(gradin_arena *arena, const gradin_fit *fit, double step_m, double steepest,
                double wanted_m, ways *w);
/* From a cell that is walked to one beside it or across its corner: no step too high? */
bool ways_is_step(const ways *w, int from, int to);

/* way_walls.c: fills wide_cm; false when out of memory. */
bool ways_measure(ways *w);
/* Where the floor that is walked from a at from_m ends on the line to b. */
gradin_vec2 ways_end_m(const ways *w, gradin_vec2 a, gradin_vec2 b, double from_m);
/* Does the point lie on the wall where a free exit opens it? */
bool ways_is_in_exit(const ways *w, gradin_vec2 at_m);

/* way_widest.c: fills out_cm: from each cell to an exit, at most from_cm. Cells of `left_out`
 * [n_cell] (may be NULL) are not walked. */
void ways_widest(ways *w, const bool *left_out, int from_cm);
/* way_shortest.c: fills length_m and next: over cells as wide as least_cm. */
void ways_shortest(ways *w, int least_cm);

/* way_line.c: the way from a point over a cell to its exit, drawn straight where as wide a body
 * walks straight: *point [return value], 0 when out of memory. */
int ways_line(const ways *w, gradin_vec2 from_m, int cell, int least_cm, const gradin_vec2 **point);
/* The narrowest place on the way, measured across it between what bounds it, at most 3 m. */
double ways_narrowest_m(const ways *w, const gradin_vec2 *point, int n_point, gradin_vec2 *at_m);
double ways_length_m(const gradin_vec2 *point, int n_point);

/* way_access.c: calls `visit` with each cell to which somebody steps straight from a seat, and
 * with how far its middle is from the seat's. */
typedef void (*ways_visit)(void *context, int seat, int cell, double off_m);
void ways_from_seat(const ways *w, int seat, ways_visit visit, void *context);

/* dead_ends.c: aisles that lead on at one end only, or at none. Spoils out_cm. The list lies in the
 * arena given; false when out of memory. */
bool fit_dead_ends(ways *w, gradin_arena *arena, gradin_routes *routes);

#endif
