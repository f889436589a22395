/* studies/schedule/schedule.h: moves under precedence, cumulative limits and pairs that may not
 * overlap, some with trips of one carrier that only makes one trip at a time; least total time
 * (resource-constrained project scheduling). Whole seconds. */
#ifndef GRADIN_STUDIES_SCHEDULE_H
#define GRADIN_STUDIES_SCHEDULE_H

#include "gradin/base.h"

typedef struct schedule_problem {
    int n, n_limit;
    const int *duration_s; /* [n] */
    const int *demand;     /* [n][n_limit], each at most its capacity */
    const int *capacity;   /* [n_limit] */
    const bool *before;    /* [n][n] before[i*n+k]: i ends before k starts */
    const bool *apart;     /* [n][n] symmetric: may not overlap */
    /* Trips of the carrier, each inside its move's time; no two of them overlap, whosever they are.
     * A trip's demand comes on top of its move's, and must fit beside it. */
    const int *n_trip;      /* [n]; NULL: no carrier. n_trip * trip_s is at most the duration */
    int trip_s;             /* 1 or more when n_trip is given */
    const int *trip_demand; /* [n_limit] */
} schedule_problem;

typedef struct schedule_result {
    int *start_s;      /* [n] */
    int *trip_start_s; /* [sum of n_trip] by move; NULL without a carrier */
    int total_s, lower_bound_s;
    int longest_chain_s;
    long n_node; /* of the search */
} schedule_result;

/* An order that keeps precedence, or false when precedence runs in a circle; then *stuck is one of
 * the circle. order is [n]. */
bool schedule_order(const schedule_problem *p, int *order, int *stuck);

/* How far a search goes, and whom it tells how far it has got. Only the tree: nothing is bred and
 * nothing proven before it. */
typedef struct schedule_budget {
    long n_node;
    bool is_tree_only;
    void (*tell)(void *user, int done, int total); /* may be NULL */
    void *user;
} schedule_budget;

/* Least total time by branch and bound over the precedence tree; when the budget's nodes do not
 * suffice, the best found with a lower bound below it. The same answer on every run. */
gradin_status schedule_solve(gradin_arena *arena, const schedule_problem *p,
                             const schedule_budget *budget, schedule_result *result,
                             gradin_error *error);

static inline int schedule_trips(const schedule_problem *p, int k) {
    return p->n_trip ? p->n_trip[k] : 0;
}
/* Work of a move and its trips for one limit; limit n_limit is the carrier, of capacity 1. */
int64_t schedule_work(const schedule_problem *p, int k, int limit);
static inline int schedule_capacity(const schedule_problem *p, int limit) {
    return limit < p->n_limit ? p->capacity[limit] : 1;
}
/* Least whole time in which a limit lets so much work through; 0 for a limit of nothing. */
int schedule_time_of(const schedule_problem *p, int limit, int64_t work);

/* bound.c: after[i][k]: k comes after i, at once or through others. order keeps
 * precedence. */
void schedule_close(const schedule_problem *p, const int *order, bool *after);
/* Time before each move can start, and from the start of each to the end of all [n]: by chains
 * alone, and with `after` also by the work that comes before or after. */
void schedule_heads(const schedule_problem *p, const int *order, const bool *after, int *head_s);
void schedule_tails(const schedule_problem *p, const int *order, const bool *after, int *tail_s);
/* Lower bound of the total; scratch is [n]. */
int schedule_lower_bound(const schedule_problem *p, const int *head_s, const int *tail_s,
                         int *scratch);
/* The lower bound for an order that keeps precedence, by itself; -1 without memory. */
int schedule_least(gradin_arena *arena, const schedule_problem *p, const int *order);
/* Can i and k never overlap, whatever else happens? */
bool schedule_excludes(const schedule_problem *p, int i, int k);

#endif
