/* studies/schedule/seen.h: partial schedules that the search has been at. */
#ifndef GRADIN_STUDIES_SEEN_H
#define GRADIN_STUDIES_SEEN_H

#include "studies/schedule/line.h"

enum { SEEN_WORDS = 8 }; /* 64 moves each; problems of more moves are not compared */

typedef struct seen_end {
    int move, end_s;
} seen_end;

typedef struct seen_state {
    int now_s, next; /* of the same bucket; 0: none */
    int first_end, n_running;
} seen_state;

typedef struct schedule_seen {
    int n, n_word, most, n_state, most_end, n_end;
    uint64_t mask;
    int *first;        /* [mask + 1] */
    seen_state *state; /* [most + 1] from 1 on */
    uint64_t *started; /* [most + 1][n_word] */
    seen_end *end;     /* [most_end + 1] */
} schedule_seen;

/* For at most so many states; what comes later is compared and not kept. */
bool seen_open(gradin_arena *arena, int n, long most, schedule_seen *seen);
/* Has the search been at a state that is as good as the moves now on the line, of which the last
 * started at now_s? If not it is kept. */
bool seen_is_dominated(schedule_seen *seen, const schedule_line *l, int now_s);

#endif
