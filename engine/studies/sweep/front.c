/* The points that no other beats in all aims, of those that keep the needs or are too near to tell.
 * Sorted by the aims, a point is beaten only by one before it, and then by one of the front. */
#include "studies/sweep/sweep.h"

#include <stdlib.h>

typedef struct entrant {
    const gradin_study *study;
    const gradin_sweep_row *row;
    int index;
} entrant;

static int by_aims(const void *a, const void *b) {
    const entrant *p = a, *q = b;
    return sweep_compare(p->study, p->row, q->row);
}

static bool is_beaten(const gradin_sweep_result *r, const gradin_sweep_row *row) {
    for (int i = 0; i < r->n_front; i++)
        if (sweep_beats(r->study, &r->row[r->front[i]], row)) return true;
    return false;
}

gradin_status sweep_front(gradin_arena *arena, gradin_sweep_result *r) {
    entrant *in = gradin_arena_alloc(arena, (size_t)r->n_row, sizeof *in);
    int n = 0;
    r->front = gradin_arena_alloc(arena, (size_t)r->n_row, sizeof *r->front);
    if (!in || !r->front) return GRADIN_NO_MEMORY;
    for (int i = 0; i < r->n_row && r->study->n_aim > 0; i++)
        if (r->verdict[i] != GRADIN_VERDICT_OVER) in[n++] = (entrant){r->study, &r->row[i], i};
    if (n > 0) qsort(in, (size_t)n, sizeof *in, by_aims);
    for (int i = 0; i < n; i++)
        if (!is_beaten(r, in[i].row)) r->front[r->n_front++] = in[i].index;
    return GRADIN_OK;
}
