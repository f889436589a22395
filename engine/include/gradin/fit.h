/* gradin/fit.h: rough checks of a layout against the venue's own stated local rules: edges that
 * open at a height without a rail, rows too long for their aisles, exits and vomitories left free.
 * A rough check replaces no review: the local code and a licensed professional decide. */
#ifndef GRADIN_FIT_H
#define GRADIN_FIT_H

#include "gradin/layout.h"

#ifdef __cplusplus
extern "C" {
#endif

/* A straight edge of lift treads, or of an open floor panel, with a drop and no rail beside it. */
typedef struct gradin_open_edge {
    const char *where; /* first lift section, or the panel */
    gradin_vec2 from_m, to_m;
    double low_m, high_m; /* heights of its treads */
    double drop_m;        /* greatest; NAN at an open stair */
} gradin_open_edge;

/* Seats side by side without a gap. */
typedef struct gradin_row_run {
    const char *first_seat, *last_seat;
    int n_seat, n_aisle; /* ends with an aisle or free floor */
    int most;            /* that the rules allow */
} gradin_row_run;

typedef struct gradin_blocked {
    const char *name, *reason;
} gradin_blocked;

typedef struct gradin_fit {
    const gradin_model *model;
    const gradin_open_edge *edge;
    const gradin_row_run *long_row;   /* only those over the rules */
    const gradin_blocked *exit, *vom; /* only those that are not free */
    int n_edge, n_row, n_long_row, n_exit, n_exit_blocked, n_vom, n_vom_blocked;
    double exit_m, exit_needed_m; /* clear width of the free exits; NAN when no rule is stated */
    bool is_met; /* rows, exits and vomitories; edges are listed and never judged */
} gradin_fit;

gradin_status gradin_fit_check(gradin_arena *arena, const gradin_model *model, gradin_fit *fit,
                               gradin_error *error);

/* ---- written out (table) --------------------------------------------------------------------- */

gradin_status gradin_fit_text(gradin_arena *arena, const gradin_fit *fit, char **text,
                              gradin_error *error);
gradin_status gradin_fit_json(gradin_arena *arena, const gradin_fit *fit, char **text, size_t *size,
                              gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
