/* studies/schedule/schedule.h: moves under precedence, cumulative limits and pairs that may not
 * overlap; least total time (resource-constrained project scheduling). Whole seconds. */
#ifndef GRADIN_STUDIES_SCHEDULE_H
#define GRADIN_STUDIES_SCHEDULE_H

#include "gradin/base.h"

enum { SCHEDULE_N_LIMIT = 3 };

typedef struct schedule_problem {
    int n;
    const int *duration_s;                 /* [n] */
    const int (*demand)[SCHEDULE_N_LIMIT]; /* [n], each at most its capacity */
    int capacity[SCHEDULE_N_LIMIT];
    const bool *before; /* [n][n] before[i*n+k]: i ends before k starts */
    const bool *apart;  /* [n][n] symmetric: may not overlap */
} schedule_problem;

typedef struct schedule_result {
    int *start_s; /* [n] */
    int total_s, lower_bound_s;
    int longest_chain_s;
    long n_node; /* of the search */
} schedule_result;

/* An order that keeps precedence, or false when precedence runs in a circle; then *stuck is one of
 * the circle. order is [n]. */
bool schedule_order(const schedule_problem *p, int *order, int *stuck);

/* Least total time by branch and bound over the precedence tree; when node_limit nodes do not
 * suffice, the best found with a lower bound below it. The same answer on every run. */
gradin_status schedule_solve(gradin_arena *arena, const schedule_problem *p, long node_limit,
                             schedule_result *result, gradin_error *error);

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
/* justify.c: pushes every move as late as it goes within the total, last first, then as
 * early as it goes, first first; again while the total shrinks. start_s is a schedule and becomes
 * one that is no longer; scratch is [2][n]. The new total. */
int schedule_justify(const schedule_problem *p, int *start_s, int *scratch);
/* Can i and k never overlap, whatever else happens? */
bool schedule_excludes(const schedule_problem *p, int i, int k);

#endif
