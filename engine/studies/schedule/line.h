/* studies/schedule/line.h: a line of time on which moves are put one by one: what every limit has
 * in use between one start or end and the next. */
#ifndef GRADIN_STUDIES_LINE_H
#define GRADIN_STUDIES_LINE_H

#include "studies/schedule/schedule.h"

/* For each move the others that a table of pairs ties to it: list[first[k]] to list[first[k+1]-1].
 */
typedef struct schedule_links {
    int *first; /* [n + 1] */
    int *list;
} schedule_links;

typedef struct schedule_line {
    const schedule_problem *p;
    schedule_links earlier, later, apart;
    int *start_s;          /* [n]; -1 when not on the line */
    int *first_trip;       /* [n + 1] */
    int *trip_start_s;     /* [first_trip[n]] of moves on the line, and of the one last asked for */
    int *at_s, n_at;       /* [n_at] sorted, the first is 0; the last piece has no end */
    int *used;             /* [n_at][width]; number n_limit counts trips, what follows is 0 */
    int width;             /* n_limit + 1, rounded up to a whole number of lanes */
    int *room, *trip_room; /* [n][width] what others may use beside a move, beside a trip of it */
    bool is_carrier_tight; /* has the carrier ever kept a move from its earliest start? */
} schedule_line;

bool line_open(gradin_arena *arena, const schedule_problem *p, schedule_line *l);
void line_clear(schedule_line *l);
/* The earliest start of k, not before from_s, beside all that is on the line. Its trips are put as
 * early as they go, and stay in trip_start_s until k is put on the line or asked for again. */
int line_earliest(schedule_line *l, int k, int from_s);
/* Puts k where line_earliest has just found it free; takes it off again. */
void line_put(schedule_line *l, int k, int start_s);
void line_take(schedule_line *l, int k);
static inline int line_end(const schedule_line *l, int k) {
    return l->start_s[k] + l->p->duration_s[k];
}
int line_total(const schedule_line *l);

/* justify.c: puts k as early as it goes behind those that come before it; after it, when time runs
 * backwards. */
void schedule_place(schedule_line *l, int k, bool is_late);
/* Pushes every move of a full line as late as it goes within the total, last first, then
 * as early as it goes, first first; again while the total shrinks. What is on the line afterwards
 * is no longer than before. scratch is [3][n] and one for each trip. The new total. */
int schedule_justify(schedule_line *l, int *scratch);
/* A whole schedule in place of what is on the line. */
void schedule_put_all(schedule_line *l, const int *start_s, const int *trip_start_s);

/* twins.c: twin[k] is an equal move of lower index, or -1. Sorted, the starts of equal moves rise.
 */
void schedule_find_twins(const schedule_problem *p, int *twin);
void schedule_sort_twins(const schedule_line *l, int *start_s, int *trip_start_s);

#endif
