/* Levels of one event at chosen seats and outside, at each moment of its window. */
#include "acoustics/event/levels.h"
#include "base/use.h"
#include "model/complete.h"

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

static bool alloc(gradin_arena *arena, const gradin_moments *m, int n_seat,
                  gradin_event_levels *levels) {
    size_t n_time = (size_t)m->n, n = (size_t)n_seat * n_time;
    *levels = (gradin_event_levels){.n_time = m->n, .n_seat = n_seat};
    levels->time_s = gradin_arena_alloc(arena, n_time, sizeof(double));
    levels->outside_db = gradin_arena_alloc(arena, n_time, sizeof(double));
    levels->outside_band_db = gradin_arena_alloc(arena, n_time, GRADIN_N_BAND * sizeof(double));
    levels->seat_db = gradin_arena_alloc(arena, n, sizeof(double));
    levels->seat_band_db = gradin_arena_alloc(arena, n, GRADIN_N_BAND * sizeof(double));
    for (int t = 0; levels->time_s && t < m->n; t++) levels->time_s[t] = m->time_s[t];
    return levels->time_s && levels->outside_db && levels->outside_band_db && levels->seat_db &&
           levels->seat_band_db;
}

/* A-weighted and per band, time-weighted, of square[GRADIN_N_BAND][n_time], which is spent. */
static void tell(const gradin_incidence *i, double offset_db, double *square, double *sum,
                 double *level_db, double *band_db) {
    int n = i->moments.n;
    gradin_square_a(square, n, sum);
    gradin_weighted_course(&i->steps, i->tau_s, sum);
    for (int t = 0; t < n; t++) level_db[t] = 10.0 * log10(sum[t]) + offset_db;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double *row = square + b * n;
        gradin_weighted_course(&i->steps, i->tau_s, row);
        for (int t = 0; t < n; t++)
            band_db[t * GRADIN_N_BAND + b] = 10.0 * log10(row[t]) + offset_db;
    }
}

static gradin_status compute(gradin_arena *arena, gradin_arena *scratch,
                             const gradin_sounding *sounding, double offset_db, const int *seat,
                             gradin_event_levels *levels, gradin_error *error) {
    const gradin_incidence *i = sounding->incidence;
    const gradin_transfer *transfer = sounding->room->transfer;
    size_t n = (size_t)i->moments.n;
    double *square = gradin_arena_alloc(scratch, GRADIN_N_BAND * n, sizeof *square);
    double *sum = gradin_arena_alloc(scratch, n, sizeof *sum);
    double *factors =
        gradin_arena_alloc(scratch, gradin_transfer_scratch(transfer, 1), sizeof *factors);
    if (!square || !sum || !factors || !alloc(arena, &i->moments, levels->n_seat, levels))
        return out_of_memory(error);
    for (size_t k = 0; k < GRADIN_N_BAND * n; k++) square[k] = i->outside[k];
    tell(i, offset_db, square, sum, levels->outside_db, levels->outside_band_db);
    for (int s = 0; s < levels->n_seat; s++) {
        gradin_transfer_hear(transfer, sounding->room->shades, &sounding->powers, seat[s], 1,
                             square, factors);
        tell(i, offset_db, square, sum, levels->seat_db + (size_t)s * n,
             levels->seat_band_db + (size_t)s * n * GRADIN_N_BAND);
    }
    return GRADIN_OK;
}

static gradin_status check_use(const gradin_prepared_room *room, const gradin_traffic *traffic,
                               const gradin_event *event, const int *seat, int n_seat,
                               gradin_error *error) {
    bool is_good = room && room->transfer && traffic && event && event->class_index >= 0 &&
                   event->class_index < traffic->n_class && event->track >= 0 &&
                   event->track < traffic->n_track && (seat || n_seat == 0) && n_seat >= 0;
    for (int s = 0; is_good && s < n_seat; s++)
        is_good = seat[s] >= 0 && seat[s] < room->model->seats.n_seat;
    if (is_good) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                            "levels of an event need a prepared room, a class, a track and seats "
                            "that are there");
}

gradin_status gradin_event_levels_compute(gradin_arena *arena, const gradin_prepared_room *room,
                                          const gradin_traffic *traffic, const gradin_event *event,
                                          const int *seat, int n_seat, gradin_event_levels *levels,
                                          gradin_error *error) {
    if (NEEDS(error, arena, room, traffic, event, seat, levels) != GRADIN_OK ||
        model_complete(room->model, error) != GRADIN_OK ||
        NEEDS(error, room->transfer, room->glass, room->tau_m2, room->passed_m2, traffic->class_of,
              traffic->track) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_status status = check_use(room, traffic, event, seat, n_seat, error);
    if (status != GRADIN_OK) return status;
    gradin_incidence incidence;
    gradin_sounding sounding;
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return out_of_memory(error);
    int n_blas = gradin_blas_single();
    *levels = (gradin_event_levels){.n_seat = n_seat};
    status = gradin_incidence_make(scratch, room->model, traffic, event->class_index, event->track,
                                   &incidence, error);
    if (status == GRADIN_OK)
        status = gradin_sounding_make(scratch, room, &incidence, &sounding, error);
    if (status == GRADIN_OK)
        status = compute(arena, scratch, &sounding, event->offset_db, seat, levels, error);
    gradin_blas_restore(n_blas);
    gradin_arena_destroy(scratch);
    return status;
}
