/* studies/rake/rake.h: the parts of the rake study. */
#ifndef GRADIN_STUDIES_RAKE_H
#define GRADIN_STUDIES_RAKE_H

#include "gradin/studies.h"

extern const gradin_place RAKE_BLOCK; /* where the user names the block */

/* Limits of one rank while its setting is sought. */
typedef struct rake_limit {
    double travel_m[2]; /* of its treads */
    double riser_m[2];  /* between its treads */
} rake_limit;

typedef struct rake_job {
    gradin_arena *arena;
    const gradin_model *model;
    gradin_rake *rake;
    rake_limit limit[GRADIN_MAX_RAKE_ROW];
    gradin_error *error;
} rake_job;

/* rows.c: rows, their distances in the section, and what carries them. */
gradin_status rake_read_rows(rake_job *job);

/* solve.c: floors and ranks for a wanted C. False when no setting reaches it; *hindrance says
 * why. */
bool rake_solve_constant_c(rake_job *job, double c_m, const char **hindrance);
/* The least riser that reaches the wanted C in all rows, else the one whose worst row is best. */
bool rake_solve_constant_riser(rake_job *job, const char **hindrance);
/* C of row k over the row in front, at the floors as set. */
double rake_row_c_m(const gradin_rake *rake, int k, bool before);

/* bill.c: figures of the rows as set, moves of the lifts, C of the real seats. */
gradin_status rake_make_bill(rake_job *job);

#endif
