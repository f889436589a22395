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

/* A seat of another block on the sections that carry the rake. */
typedef struct rake_rider {
    int seat, rank, tread;
} rake_rider;

/* The real seats at the heights that are tried. */
typedef struct rake_seats {
    gradin_model raised; /* the job's, with heights of its own; what hides is left as it was */
    int *seat;           /* [first[n_row]] of the block, row by row */
    int *first;          /* [n_row + 1] */
    double *c_m;         /* scratch for a row */
    rake_rider *rider;
    int n_rider;
} rake_seats;

typedef struct rake_job {
    gradin_arena *arena;
    const gradin_model *model;
    gradin_rake *rake;
    rake_limit limit[GRADIN_MAX_RAKE_ROW];
    rake_seats *seats;    /* NULL: only the section counts */
    gradin_status failed; /* of what the seats asked for; GRADIN_OK */
    gradin_error *error;
} rake_job;

/* rows.c: rows, their distances in the section, and what carries them. */
gradin_status rake_read_rows(rake_job *job);
/* Tread from the front under a plan point when the section makes n_step of them. */
int rake_tread_at(const gradin_section *s, int n_step, double facing_deg, gradin_vec3 at);

/* seats.c: the block's seats and those of other blocks that move with them. */
gradin_status rake_take_seats(rake_job *job);
/* Puts the seats of rows first..last-1, and all that ride on their rank, at the heights as set. */
void rake_raise_rows(rake_job *job, int first, int last);
/* Least C of the row's seats over whoever is in front of them, and the seat that has it; INFINITY
 * and -1 when nobody is in front. */
double rake_seats_c_m(rake_job *job, int k, int *seat);

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
