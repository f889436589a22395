/* Flights of a season worked out, track by track: classes that differ in level alone are heard once
 * for their track (acoustics/event/flight.c). */
#include "studies/season/season.h"

/* Flights by track: of_track[from[i]] .. of_track[from[i + 1] - 1], n tracks that occur. */
typedef struct by_track {
    gradin_flight **of_track;
    int *from, n;
} by_track;

static gradin_status sort(gradin_arena *arena, const gradin_season *s, gradin_flight *flight,
                          by_track *by, gradin_error *error) {
    int n = 0;
    by->n = 0;
    by->of_track = gradin_arena_alloc(arena, (size_t)s->n_flight, sizeof(gradin_flight *));
    by->from = gradin_arena_alloc(arena, (size_t)s->traffic->n_track + 1, sizeof *by->from);
    if (!by->of_track || !by->from)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    for (int track = 0; track < s->traffic->n_track; track++) {
        for (int k = 0; k < s->n_flight; k++)
            if (flight[k].track == track) by->of_track[n++] = &flight[k];
        if (n > by->from[by->n]) by->from[++by->n] = n;
    }
    return GRADIN_OK;
}

/* One track's; several at once in threads, one alone with threads of its own. */
static gradin_status fly(const gradin_season *s, const gradin_traffic *traffic,
                         const gradin_voice *voice, const by_track *by,
                         const gradin_season_options *options, gradin_error *error) {
    gradin_status status = GRADIN_OK;
    int n_done = 0, n_blas = gradin_blas_single();
#pragma omp parallel for schedule(dynamic, 1) if (by->n > 1)
    for (int i = 0; i < by->n; i++) {
        gradin_error mine = {0};
        int n = by->from[i + 1] - by->from[i];
        gradin_status own =
            gradin_flights_compute(&s->room, traffic, voice, by->of_track + by->from[i], n, &mine);
#pragma omp critical(gradin_season)
        {
            if (own != GRADIN_OK && status == GRADIN_OK) {
                status = own;
                gradin_error_add(error, own, NULL, "%s", mine.diagnostic[0].text);
            }
            n_done += n;
            if (options && options->progress)
                options->progress(options->progress_user, n_done, s->n_flight);
        }
    }
    gradin_blas_restore(n_blas);
    return status;
}

gradin_status season_fly(const gradin_season *s, const gradin_traffic *traffic,
                         const gradin_voice *voice, const gradin_season_options *options,
                         gradin_flight *flight, gradin_error *error) {
    by_track by;
    gradin_arena *arena = gradin_arena_create();
    if (!arena) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    gradin_status status = sort(arena, s, flight, &by, error);
    if (status == GRADIN_OK) status = fly(s, traffic, voice, &by, options, error);
    gradin_arena_destroy(arena);
    return status;
}
