/* studies/schedule/prove.h: closes the gap between the best schedule found and its bound. */
#ifndef GRADIN_STUDIES_PROVE_H
#define GRADIN_STUDIES_PROVE_H

#include "studies/schedule/schedule.h"

/* What is known of a problem, and whom to tell how far the work is. */
typedef struct prove_case {
    const schedule_problem *p;
    const int *head_s, *tail_s;  /* [n] before the start of each, from it to the end of all */
    const bool *after;           /* [n][n] precedence, closed */
    const int *twin;             /* [n] an equal move that may as well start first, or -1 */
    const int *first_trip;       /* [n + 1] */
    int *start_s, *trip_start_s; /* the best schedule, and each shorter one that is found */
    int best_s, bound_s;
    void (*tell)(void *user, long n_done, long n_work);
    void *user;
    long n_node;   /* the budget */
    bool is_short; /* never much of it */
    long n_choice; /* so many were made */
} prove_case;

/* Raises bound_s and lowers best_s until they meet or the work is done: little of it, and much more
 * while they are more than one per cent apart. Trips are moves of their own, so what is proven
 * holds with a carrier too. False when out of memory. */
bool prove(prove_case *c);

#endif
