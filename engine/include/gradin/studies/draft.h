/* gradin/studies/draft.h: a whole layout drafted from its form and a few wishes. It is a start to
 * edit, and approves nothing: rails, guards, egress, loads and moving machinery are the local
 * code's, the makers' and a licensed professional's.
 *
 * Ownership and threads: A draft and all that it points to live in the arena that is given; drafts
 * of different arenas may run in different threads. */
#ifndef GRADIN_DRAFT_H
#define GRADIN_DRAFT_H

#include "gradin/studies.h"
#include "gradin/studies/fit.h"
#include "gradin/wishes.h"

#ifdef __cplusplus
extern "C" {
#endif

/* One bank of rows, tower or row of places, as the report tells it. */
typedef struct gradin_draft_line {
    const char *name;
    const char *what; /* how it stands */
    int n_seat;
} gradin_draft_line;

typedef struct gradin_draft {
    const gradin_layout *layout; /* of wishes->hall */
    const gradin_model *model;
    const gradin_fit *fit;
    const gradin_draft_line *line;
    const char *const *limit; /* [n_limit] what kept it from being larger or better */
    int n_line, n_limit;
    int n_tried, n_passed, n_refused; /* choices weighed; drafted whole and good; given up */
    int n_worse;                      /* drafted whole, no better than one that was good */
    int n_wanted;                     /* seats wished for; 0: as many as possible */
    int n_wheelchair_needed;          /* by the count table or the wish */
    double least_c_m, wanted_c_m;     /* over the rows of lifts, in the section of each bank */
    int n_rating[GRADIN_N_RATING];
} gradin_draft;

/* GRADIN_BAD_INPUT, with the key of the wish, for what cannot be made. The draft and all that it
 * points to live in the arena, beside the wishes and their venue, which must outlive it.
 * gradin_draft_write() of gradin/files.h makes a file of it. */
GRADIN_API gradin_status gradin_draft_make(gradin_arena *arena, const gradin_wishes *wishes,
                                           gradin_draft *draft, gradin_error *error);

/* Wheelchair places that a count of seats asks for: ADA Standards 2010, 221.2.1.1. */
GRADIN_API int gradin_wheelchair_places(int n_seat);

#ifdef __cplusplus
}
#endif

#endif
