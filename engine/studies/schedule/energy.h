/* studies/schedule/energy.h: bounds by the work that each limit lets through. */
#ifndef GRADIN_STUDIES_ENERGY_H
#define GRADIN_STUDIES_ENERGY_H

#include "studies/schedule/line.h"

/* One limit, or the carrier, by one way of counting demands. */
typedef struct energy_measure {
    int capacity;
    int *use;      /* [n] of a move, without its trips */
    int64_t *work; /* [n] of a move and its trips */
} energy_measure;

typedef struct schedule_energy {
    const schedule_problem *p;
    energy_measure *measure; /* [n_measure] */
    int n_measure;
} schedule_energy;

/* Capacities as far as demands can use them; false when out of memory, as below. */
bool energy_round(gradin_arena *arena, schedule_problem *p);
bool energy_open(gradin_arena *arena, const schedule_problem *p, schedule_energy *g);
/* Of the total: after_s[k] passes at least after the end of k; by_after: moves by that, most first.
 */
int energy_bound(const schedule_energy *g, const int *head_s, const int *after_s,
                 const int *by_after);
/* Can all that is not yet on the line, and what still runs, be through at most_s? */
bool energy_passes(const schedule_energy *g, const schedule_line *l, int now_s, int most_s,
                   const int *after_s, const int *by_after);

#endif
