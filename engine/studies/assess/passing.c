/* Level against time of the layout's overflight, by the event kernel and with the time weighting of
 * the maxima, so that each curve's top is the seat's maximum. */
#include "gradin/studies/page/passing.h"
#include "base/use.h"
#include "studies/shared/complete.h"

/* How many seats are louder, or as loud and before it. */
static int rank_of(const double *level_db, int n, int seat) {
    int rank = 0;
    for (int i = 0; i < n; i++)
        rank += level_db[i] > level_db[seat] || (level_db[i] == level_db[seat] && i < seat);
    return rank;
}

static void choose_seats(const gradin_assessment *a, int *seat) {
    const double *level_db = a->noise.lamax_db[GRADIN_SHADES_AS_SET];
    int n = a->noise.n_seat;
    for (int i = 0; i < n; i++) {
        int rank = rank_of(level_db, n, i);
        if (rank == 0) seat[0] = i;
        if (rank == n / 2) seat[1] = i;
        if (rank == n - 1) seat[2] = i;
    }
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
    choose_seats(assessment, passing->seat);
    gradin_status status = gradin_pass_traffic(arena, model->pass, &traffic, error);
    if (status == GRADIN_OK)
        status = gradin_room_prepare_kept(arena, model, cache_folder, kept, &room, error);
    if (status != GRADIN_OK) return status;
    return gradin_event_levels_compute(arena, &room, &traffic, &traffic.event[0], passing->seat,
                                       GRADIN_N_PASSING_SEAT, &passing->levels, error);
}
