/* Level against time of the layout's overflight, by the event kernel and with the time weighting of
 * the maxima, so that each curve's top is the seat's maximum. */
#include "gradin/studies/page/passing.h"
#include "base/use.h"
#include "studies/shared/complete.h"

#include <stdlib.h>

typedef struct heard {
    double level_db;
    int seat;
} heard;

static int louder_first(const void *a, const void *b) {
    const heard *p = a, *q = b;
    if (p->level_db != q->level_db) return p->level_db > q->level_db ? -1 : 1;
    return p->seat - q->seat;
}

/* The loudest, the median and the quietest. */
static bool choose_seats(gradin_arena *arena, const gradin_assessment *a, int *seat) {
    int n = a->noise.n_seat;
    heard *by_rank = gradin_arena_alloc(arena, (size_t)n, sizeof *by_rank);
    if (!by_rank) return false;
    for (int i = 0; i < n; i++) by_rank[i] = (heard){a->noise.lamax_db[GRADIN_SHADES_AS_SET][i], i};
    qsort(by_rank, (size_t)n, sizeof *by_rank, louder_first);
    seat[0] = by_rank[0].seat;
    seat[1] = by_rank[n / 2].seat;
    seat[2] = by_rank[n - 1].seat;
    return true;
}

gradin_status gradin_passing_compute(gradin_arena *arena, const gradin_assessment *assessment,
                                     const char *cache_folder, gradin_kept_room *kept,
                                     gradin_passing *passing, gradin_error *error) {
    if (NEEDS(error, arena, passing) != GRADIN_OK ||
        assessment_complete(assessment, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    *passing = (gradin_passing){.levels = {.n_time = 0}};
    if (!assessment->has_noise || assessment->noise.n_seat < 1) return GRADIN_OK;
    const gradin_model *model = assessment->model;
    gradin_prepared_room room;
    gradin_traffic traffic;
    if (!choose_seats(arena, assessment, passing->seat))
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    gradin_status status = gradin_pass_traffic(arena, model->pass, &traffic, error);
    if (status == GRADIN_OK)
        status = gradin_room_prepare_kept(arena, model, cache_folder, kept, &room, error);
    if (status != GRADIN_OK) return status;
    return gradin_event_levels_compute(arena, &room, &traffic, &traffic.event[0], passing->seat,
                                       GRADIN_N_PASSING_SEAT, &passing->levels, error);
}
