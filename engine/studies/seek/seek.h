/* studies/seek/seek.h: the parts of a search. */
#ifndef GRADIN_STUDIES_SEEK_H
#define GRADIN_STUDIES_SEEK_H

#include "gradin/studies/seek.h"

enum { SEEK_MOST_KEY = GRADIN_MAX_VARIED };

/* Where a key can stand: places 0 .. n - 1. */
typedef struct seek_axis {
    const gradin_varied *varied;
    int n;
    bool is_ordered; /* steps have a length: numbers that rise or fall */
    double step;     /* of a range without values */
} seek_axis;

typedef struct seek_place {
    int at[SEEK_MOST_KEY];
} seek_place;

typedef struct seek_job {
    gradin_arena *arena;
    gradin_study *study;
    const gradin_sweep_row *row;
    gradin_seek_try try_point;
    void *user;
    gradin_error *error;
    gradin_status status; /* of what was tried last */
    seek_axis axis[SEEK_MOST_KEY];
    int n_axis;
    seek_place *place; /* [n_most] of the points */
    bool *is_base;     /* [n_most] a descent went through it */
    int n, n_most;
    double scale[GRADIN_MAX_STUDY_AIM]; /* of the aims' figures; 0: none seen yet */
} seek_job;

/* space.c */
void seek_find_axes(seek_job *job);
double seek_count_all(const seek_job *job);
/* Value of a key at a place as it stands in a file; in the arena. */
const char *seek_value(const seek_job *job, int key, int at);
/* Place of a point of the unit cube. */
seek_place seek_place_of(const seek_job *job, const double *unit);

/* try.c: the point of a place, worked out unless it was before; -1 when no more may be tried or
 * something failed (job->status). */
int seek_try(seek_job *job, const seek_place *place);
bool seek_is_over(const seek_job *job);

/* cost.c: less is better: a refused point, one that misses needs, one that surely keeps them. */
double seek_cost(seek_job *job, int point);
/* Is a better than b? */
bool seek_is_better(seek_job *job, int a, int b);

/* local.c: from a point downhill along the ordered keys; the best point found. */
int seek_descend(seek_job *job, int from);
/* polish.c: steps of one key, and of two together, until none is better; *is_whole when all were
 * tried. */
int seek_polish(seek_job *job, int from, bool *is_whole);

/* guard.c */
gradin_status seek_check_keys(const gradin_study *study, const gradin_model *model,
                              gradin_error *error);

#endif
