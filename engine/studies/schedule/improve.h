/* studies/schedule/improve.h: shorter schedules from those found first. */
#ifndef GRADIN_STUDIES_IMPROVE_H
#define GRADIN_STUDIES_IMPROVE_H

#include "studies/schedule/line.h"

enum { PUTS_A_SCHEDULE = 5 }; /* each move of a schedule is put down so often, about */

typedef struct schedule_effort {
    long n_put;         /* moves put down in all, about */
    const int *place;   /* [n] each move's place in an order that keeps precedence */
    const int *tail_s;  /* [n] from the start of each to the end of all, at least */
    const int *first_s; /* [n_first][n] starts of the schedules to begin with */
    int n_first;
    int *scratch; /* as schedule_justify() takes */
} schedule_effort;

/* Told of each schedule, which is on the line then; false ends the search. */
typedef bool (*schedule_keep)(void *context, int total_s);

/* The line is empty before and after; false when out of memory. */
bool schedule_improve(gradin_arena *arena, const schedule_effort *effort, schedule_line *line,
                      schedule_keep keep, void *context);

#endif
