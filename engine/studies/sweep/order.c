/* The order in which most is shared: points whose room is the same one after the other, for a
 * room's field takes longest and only the last one is kept. */
#include "base/use.h"
#include "studies/sweep/sweep.h"

#include <stdlib.h>

typedef struct placed {
    int point, index[GRADIN_MAX_VARIED]; /* of the keys that the room depends on */
} placed;

static int by_room(const void *a, const void *b) {
    const placed *p = a, *q = b;
    for (int k = 0; k < GRADIN_MAX_VARIED; k++)
        if (p->index[k] != q->index[k]) return p->index[k] < q->index[k] ? -1 : 1;
    return p->point < q->point ? -1 : p->point > q->point;
}

gradin_status gradin_sweep_order(gradin_arena *arena, const gradin_study *study, int **order,
                                 gradin_error *error) {
    if (NEEDS(error, arena, study, order) != GRADIN_OK) return GRADIN_BAD_USE;
    int n = gradin_study_points(study);
    if (n < 1) return gradin_error_add(error, GRADIN_BAD_USE, NULL, "the study has no points");
    placed *at = gradin_arena_alloc(arena, (size_t)n, sizeof *at);
    *order = gradin_arena_alloc(arena, (size_t)n, sizeof **order);
    if (!at || !*order) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    for (int i = 0; i < n; i++) {
        at[i].point = i;
        for (int k = 0; k < study->n_varied; k++)
            if (gradin_sweep_depends(&study->varied[k]) & (1U << GRADIN_STAGE_ROOM))
                at[i].index[k] = gradin_study_index(study, i, k);
    }
    qsort(at, (size_t)n, sizeof *at, by_room);
    for (int i = 0; i < n; i++) (*order)[i] = at[i].point;
    return GRADIN_OK;
}
