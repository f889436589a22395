/* gradin/studies/cut.h: an upright cut through a hall, along the plane in which a seat's C is
 * measured or along any line. Part of the sightline room.
 *
 * Ownership and threads: Results live in the arena that is given and point into the model and the
 * sightlines, which must outlive them; computations of different arenas may run in different
 * threads. */
#ifndef GRADIN_CUT_H
#define GRADIN_CUT_H

#include "gradin/sightline.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Places of a cut: x along its line from its first end, y the height above the plan origin. */

typedef enum gradin_cut_kind {
    GRADIN_CUT_TREAD, /* lifts and platforms, decks, slabs, walls, set pieces */
    GRADIN_CUT_RAIL,
    GRADIN_CUT_ARCH,
    GRADIN_N_CUT_KIND
} gradin_cut_kind;

/* A rectangle that is cut. */
typedef struct gradin_cut_part {
    gradin_cut_kind kind;
    const char *name;
    double x_m[2], z_m[2];
} gradin_cut_part;

/* A bar of a rail that passes through, or a triangle of a mesh as its trace. */
typedef struct gradin_cut_ring {
    gradin_vec2 at_m;
    double radius_m;
} gradin_cut_ring;

typedef struct gradin_cut_trace {
    gradin_vec2 end_m[2];
} gradin_cut_trace;

/* The seat of a row that sits nearest to the cut, of those whose places it touches. */
typedef struct gradin_cut_row {
    int seat;
    double x_m, aside_m; /* of its eye; off the cut, to the right of its way */
    double along;        /* cosine between the cut's way and the seat's facing, on plan */
} gradin_cut_row;

/* A focus area where it is cut; an upright and a point have one x. */
typedef struct gradin_cut_focus {
    int area;
    gradin_vec2 end_m[2];
} gradin_cut_focus;

/* The ray from the seat's eye to an edge of the focus in the cut. */
typedef struct gradin_cut_ray {
    gradin_vec2 to_m;
    double clear;        /* share of the way before something is met; 1: all of it */
    const char *blocked; /* by what; NULL: nothing */
} gradin_cut_ray;

typedef struct gradin_cut_options {
    int seat;                 /* along its plane of view; -1: along the line */
    gradin_vec2 from_m, to_m; /* without a seat */
} gradin_cut_options;

typedef struct gradin_cut {
    const gradin_model *model;
    const gradin_sight *sight; /* of all seats: C and what each loses */
    int seat;                  /* -1 without */
    gradin_vec2 from_m, unit;  /* first end on plan, and the way */
    double length_m;
    bool is_wall[2];    /* does its first, its second end lie on a wall? */
    double floor_low_m; /* of all that is cut */
    const gradin_cut_part *part;
    const gradin_cut_ring *ring;
    const gradin_cut_trace *trace;
    const gradin_cut_row *row; /* [n_row] by x */
    const gradin_cut_focus *focus;
    int n_part, n_ring, n_trace, n_row, n_focus;
    gradin_cut_ray near_edge,
        far_edge; /* with a seat that has a floor before it; else to_m is NAN */
} gradin_cut;

/* GRADIN_BAD_INPUT for a line that is shorter than a millimetre or misses the room; GRADIN_BAD_USE
 * for sightlines of another model or no such seat. */
GRADIN_API gradin_status gradin_cut_compute(gradin_arena *arena, const gradin_model *model,
                                            const gradin_sight *sight,
                                            const gradin_cut_options *options, gradin_cut *cut,
                                            gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
