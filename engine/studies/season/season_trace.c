/* The event and the seats of the plot of level against time: the event with the highest maximum at
 * any seat, its offset included, so that the plot's loudest seat is the loudest of all tables. */
#include "base/use.h"
#include "studies/season/season.h"
#include "studies/shared/complete.h"
#include "studies/shared/find_seat.h"

#include <stdlib.h>

typedef struct ranked {
    double level_db;
    int seat;
} ranked;

static int by_level(const void *a, const void *b) {
    const ranked *p = a, *q = b;
    if (p->level_db != q->level_db) return p->level_db < q->level_db ? -1 : 1;
    return (p->seat > q->seat) - (p->seat < q->seat);
}

gradin_status season_choose_seats(gradin_season *s, const gradin_season_options *options,
                                  gradin_error *error) {
    gradin_status status = GRADIN_OK;
    int n = options ? options->n_trace : 0;
    if (n > GRADIN_MAX_TRACE)
        return gradin_error_add(error, GRADIN_BAD_INPUT, &(gradin_place){.key = "--seat"},
                                "%d seats are named; at most %d are drawn", n, GRADIN_MAX_TRACE);
    for (int i = 0; i < n; i++) {
        s->trace_seat[i] = study_find_seat(&s->model->seats, options->trace_id[i], error);
        if (s->trace_seat[i] < 0) status = GRADIN_BAD_INPUT;
    }
    s->n_trace = n;
    s->is_trace_chosen = n > 0;
    return status;
}

/* Its loudest, median and quietest seat. */
static gradin_status typical_seats(gradin_arena *arena, gradin_season *s,
                                   const gradin_flight *flight, gradin_error *error) {
    int n = s->model->seats.n_seat;
    ranked *rank = gradin_arena_alloc(arena, (size_t)n, sizeof *rank);
    if (!rank) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    for (int i = 0; i < n; i++) rank[i] = (ranked){flight->lamax_db[i], i};
    qsort(rank, (size_t)n, sizeof *rank, by_level);
    s->trace_seat[0] = rank[n - 1].seat;
    s->trace_seat[1] = rank[n / 2].seat;
    s->trace_seat[2] = rank[0].seat;
    s->n_trace = 3;
    return GRADIN_OK;
}

/* Of a flight's loudest event at its loudest seat. */
static double most_db(const gradin_season *s, int flight) {
    return s->flight_lamax_db[flight].most + s->most_offset_db[flight];
}

gradin_status season_trace(gradin_arena *arena, gradin_season *s, gradin_error *error) {
    for (int k = 1; k < s->n_flight; k++)
        if (most_db(s, k) > most_db(s, s->trace_flight)) s->trace_flight = k;
    s->trace_offset_db = s->most_offset_db[s->trace_flight];
    gradin_flight *flight = &s->flight[s->trace_flight];
    if (!s->is_trace_chosen) {
        gradin_status status = typical_seats(arena, s, flight, error);
        if (status != GRADIN_OK) return status;
    }
    s->trace_event = s->n_event[s->trace_flight];
    const gradin_event event = {.class_index = flight->class_index,
                                .track = flight->track,
                                .offset_db = s->trace_offset_db};
    return gradin_event_levels_compute(arena, &s->room, s->traffic, &event, s->trace_seat,
                                       s->n_trace, &s->trace, error);
}

gradin_status gradin_season_histories(gradin_arena *arena, gradin_season *season,
                                      gradin_error *error) {
    if (NEEDS(error, arena) != GRADIN_OK || season_complete(season, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    size_t n = (size_t)season->n_flight;
    gradin_event_levels *history = gradin_arena_alloc(arena, n, sizeof *history);
    gradin_status status = GRADIN_OK;
    if (!history) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    for (int k = 0; status == GRADIN_OK && k < season->n_flight; k++) {
        const gradin_flight *flight = &season->flight[k];
        const gradin_event event = {.class_index = flight->class_index, .track = flight->track};
        status =
            gradin_event_levels_compute(arena, &season->room, season->traffic, &event,
                                        season->trace_seat, season->n_trace, &history[k], error);
    }
    if (status == GRADIN_OK) season->history = history;
    return status;
}
