/* The loudest event at each seat with all shades open, and with all shut. */
#include "studies/season/season.h"
#include "studies/shared/bands.h"
#include "studies/shared/spread.h"

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

/* lamax_db[n_flight][n_seat] */
static gradin_status all_flights(const gradin_season *s, const gradin_prepared_room *room,
                                 double *lamax_db, gradin_error *error) {
    gradin_status status = GRADIN_OK;
    size_t n_seat = (size_t)s->model->seats.n_seat;
    int n_blas = gradin_blas_single();
#pragma omp parallel for schedule(dynamic, 1)
    for (int k = 0; k < s->n_flight; k++) {
        gradin_error mine = {0};
        gradin_status own =
            gradin_flight_maxima(room, s->traffic, s->flight[k].class_index, s->flight[k].track,
                                 lamax_db + (size_t)k * n_seat, &mine);
#pragma omp critical(gradin_season_shades)
        if (own != GRADIN_OK && status == GRADIN_OK) {
            status = own;
            gradin_error_add(error, own, NULL, "%s", mine.diagnostic[0].text);
        }
    }
    gradin_blas_restore(n_blas);
    return status;
}

static gradin_status loudest(gradin_arena *scratch, const gradin_season *s,
                             gradin_shade_state shades, double *lamax_db, gradin_error *error) {
    gradin_prepared_room room;
    size_t n_seat = (size_t)s->model->seats.n_seat;
    double *each_db = gradin_arena_alloc(scratch, (size_t)s->n_flight * n_seat, sizeof *each_db);
    if (!each_db) return out_of_memory(error);
    gradin_status status = gradin_room_shade(scratch, &s->room, shades, &room, error);
    if (status == GRADIN_OK) status = all_flights(s, &room, each_db, error);
    for (size_t i = 0; i < n_seat && status == GRADIN_OK; i++) {
        lamax_db[i] = -INFINITY;
        for (int k = 0; k < s->n_flight; k++)
            lamax_db[i] = fmax(lamax_db[i], each_db[(size_t)k * n_seat + i] + s->most_offset_db[k]);
    }
    return status;
}

static gradin_status fill_state(gradin_arena *arena, gradin_season *s, gradin_shade_state shades,
                                gradin_error *error) {
    int n_seat = s->model->seats.n_seat;
    double *lamax_db = gradin_arena_alloc(arena, (size_t)n_seat, sizeof *lamax_db);
    gradin_arena *scratch = gradin_arena_create();
    gradin_status status =
        lamax_db && scratch ? loudest(scratch, s, shades, lamax_db, error) : out_of_memory(error);
    gradin_arena_destroy(scratch);
    if (status != GRADIN_OK) return status;
    s->lamax_shades_db[shades] = lamax_db;
    s->lamax_verdict[shades] = gradin_arena_alloc(arena, (size_t)n_seat, sizeof(gradin_verdict));
    if (!s->lamax_verdict[shades]) return out_of_memory(error);
    for (int i = 0; i < n_seat; i++)
        s->lamax_verdict[shades][i] = gradin_verdict_of(
            lamax_db[i] - s->limit_dba, s->uncertainty_db[i], s->model->criterion.confidence);
    status = studies_spread(arena, lamax_db, n_seat, &s->lamax_shades[shades]);
    return status == GRADIN_OK ? status : out_of_memory(error);
}

gradin_status season_shades(gradin_arena *arena, gradin_season *s, gradin_error *error) {
    s->lamax_shades_db[GRADIN_SHADES_AS_SET] = s->lamax_db;
    s->lamax_verdict[GRADIN_SHADES_AS_SET] = s->verdict;
    s->lamax_shades[GRADIN_SHADES_AS_SET] = s->lamax_spread;
    if (!studies_has_shades(s->model)) return GRADIN_OK;
    gradin_status status = fill_state(arena, s, GRADIN_SHADES_OPEN, error);
    if (status == GRADIN_OK) status = fill_state(arena, s, GRADIN_SHADES_SHUT, error);
    if (status != GRADIN_OK) return status;
    status = studies_difference(arena, s->lamax_shades_db[GRADIN_SHADES_OPEN],
                                s->lamax_shades_db[GRADIN_SHADES_SHUT], s->model->seats.n_seat,
                                &s->shade_gain_db, &s->shade_gain);
    return status == GRADIN_OK ? status : out_of_memory(error);
}
