/* One class on one track reduced to the figures of each seat. */
#include "acoustics/event/levels.h"
#include "base/use.h"
#include "model/complete.h"

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

gradin_status gradin_flight_alloc(gradin_arena *arena, const gradin_prepared_room *room,
                                  int n_background, gradin_flight *flight, gradin_error *error) {
    if (NEEDS(error, arena, room, flight) != GRADIN_OK ||
        model_complete(room->model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (n_background < 1 || n_background > GRADIN_MAX_BACKGROUND)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a flight takes 1 to %d backgrounds",
                                GRADIN_MAX_BACKGROUND);
    flight->n_background = n_background;
    size_t n_seat = (size_t)room->model->seats.n_seat, n_element = (size_t)room->model->n_element;
    flight->lamax_db = gradin_arena_alloc(arena, n_seat, sizeof(double));
    flight->sel_db = gradin_arena_alloc(arena, n_seat, sizeof(double));
    flight->band_db = gradin_arena_alloc(arena, n_seat * GRADIN_N_BAND, sizeof(double));
    flight->sii_least = gradin_arena_alloc(arena, n_seat * (size_t)n_background, sizeof(double));
    flight->lost_s = gradin_arena_alloc(arena, n_seat * (size_t)n_background, sizeof(double));
    flight->share = gradin_arena_alloc(arena, n_element, sizeof(double));
    bool is_full = flight->lamax_db && flight->sel_db && flight->band_db && flight->share &&
                   flight->sii_least && flight->lost_s;
    return is_full ? GRADIN_OK : out_of_memory(error);
}

/* Exposure, t0 = 1 s: square[n_time] by trapezoids. */
static double exposure(const gradin_moments *m, const double *square) {
    double energy = 0.0;
    for (int t = 0; t < m->n; t++) energy += square[t] * m->weight_s[t];
    return energy;
}

typedef struct reduction {
    gradin_flight *flight;
    const gradin_voice *voice; /* NULL: speech is left out */
    double sii_least;
} reduction;

/* A moment's levels beside each background: the least index, and the seconds that it costs. */
static void hear_moment(const reduction *r, int seat, const double *band_db, double seconds) {
    const gradin_voice *voice = r->voice;
    for (int k = 0; k < voice->n_background; k++) {
        size_t at = (size_t)k * (size_t)voice->n_seat + (size_t)seat;
        double sii = gradin_voice_sii(voice, k, seat, band_db);
        r->flight->sii_least[at] = fmin(r->flight->sii_least[at], sii);
        if (sii < r->sii_least && voice->sii[at] >= r->sii_least) r->flight->lost_s[at] += seconds;
    }
}

/* Seconds in which the voice falls below the index, and the least index. */
static void reduce_speech(const gradin_seat_turn *turn, const reduction *r) {
    const gradin_moments *m = &turn->sounding->incidence->moments;
    double band_db[GRADIN_N_BAND];
    for (int k = 0; k < r->voice->n_background; k++) {
        size_t at = (size_t)k * (size_t)r->voice->n_seat + (size_t)turn->seat;
        r->flight->sii_least[at] = r->voice->sii[at];
        r->flight->lost_s[at] = 0.0;
    }
    for (int t = 0; t < m->n; t++) {
        for (int b = 0; b < GRADIN_N_BAND; b++)
            band_db[b] = 10.0 * log10(turn->square[b * m->n + t]);
        hear_moment(r, turn->seat, band_db, m->weight_s[t]);
    }
}

/* Bands of the weighted mean square at the maximum: the weighting is linear. */
static void bands_at_maximum(const gradin_seat_turn *turn, const double *share, double *band_db) {
    int n = turn->sounding->incidence->moments.n;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double sum = 0.0;
        for (int t = 0; t < n; t++)
            if (share[t] > 0.0) sum += share[t] * turn->square[b * n + t];
        band_db[b] = 10.0 * log10(sum);
    }
}

static void reduce_seat(const gradin_seat_turn *turn) {
    const reduction *r = turn->user;
    const gradin_incidence *i = turn->sounding->incidence;
    gradin_square_a(turn->square, i->moments.n, turn->scratch);
    gradin_peak peak = gradin_weighted_peak(&i->steps, turn->scratch, i->tau_s);
    r->flight->lamax_db[turn->seat] = 10.0 * log10(peak.square);
    r->flight->sel_db[turn->seat] = 10.0 * log10(exposure(&i->moments, turn->scratch));
    gradin_weighted_shares(&i->steps, peak, i->tau_s, turn->scratch);
    bands_at_maximum(turn, turn->scratch, r->flight->band_db + (size_t)turn->seat * GRADIN_N_BAND);
    if (r->voice) reduce_speech(turn, r);
}

static void reduce_shares(const gradin_sounding *s, gradin_flight *flight) {
    const gradin_incidence *i = s->incidence;
    double sum = 0.0;
    for (int e = 0; e < i->n_element; e++) {
        flight->share[e] = 0.0;
        for (int b = 0; b < GRADIN_N_BAND && s->room->heard_1m2; b++)
            flight->share[e] +=
                gradin_a_energy(b) * s->room->heard_1m2[e][b] *
                exposure(&i->moments, s->powers.let_in + gradin_incidence_at(i, e, b, 0));
        sum += flight->share[e];
    }
    for (int e = 0; e < i->n_element && sum > 0.0; e++) flight->share[e] /= sum;
}

static void reduce_outside(const gradin_incidence *i, gradin_flight *flight) {
    double most = gradin_weighted_peak(&i->steps, i->outside_a, i->tau_s).square;
    flight->outside_lamax_db = 10.0 * log10(most);
    flight->outside_sel_db = 10.0 * log10(exposure(&i->moments, i->outside_a));
    flight->outside_m = i->outside_m;
    flight->closest_m = i->moments.closest_m;
    flight->length_s = i->moments.length_s;
    flight->n_time = i->moments.n;
}

static gradin_status check_levels(const double *lamax_db, int n_seat, gradin_error *error) {
    for (int seat = 0; seat < n_seat; seat++)
        if (isnan(lamax_db[seat]) || lamax_db[seat] == INFINITY)
            return gradin_error_add(error, GRADIN_NUMERIC, NULL,
                                    "the level at seat %d is not a finite number", seat);
    return GRADIN_OK;
}

gradin_status gradin_sounding_reduce(const gradin_sounding *sounding, const gradin_voice *voice,
                                     double sii_least, gradin_flight *flight, gradin_error *error) {
    reduction all = {flight, voice, sii_least};
    gradin_status status = gradin_levels_each(sounding, false, reduce_seat, &all, error);
    if (status != GRADIN_OK) return status;
    reduce_shares(sounding, flight);
    reduce_outside(sounding->incidence, flight);
    return check_levels(flight->lamax_db, sounding->room->model->seats.n_seat, error);
}

static void reduce_maximum(const gradin_seat_turn *turn) {
    const gradin_incidence *i = turn->sounding->incidence;
    double *lamax_db = turn->user;
    lamax_db[turn->seat] =
        10.0 * log10(gradin_weighted_peak(&i->steps, turn->square, i->tau_s).square);
}

gradin_status gradin_sounding_maxima(const gradin_sounding *sounding, double *lamax_db,
                                     gradin_error *error) {
    gradin_status status = gradin_levels_each(sounding, true, reduce_maximum, lamax_db, error);
    return status == GRADIN_OK ? check_levels(lamax_db, sounding->room->model->seats.n_seat, error)
                               : status;
}

/* One class on one track sounds in the room; in the arena. */
static gradin_status sound(gradin_arena *arena, const gradin_prepared_room *room,
                           const gradin_traffic *traffic, int class_index, int track,
                           gradin_incidence *incidence, gradin_sounding *sounding,
                           gradin_error *error) {
    if (!arena) return out_of_memory(error);
    gradin_status status =
        gradin_incidence_make(arena, room->model, traffic, class_index, track, incidence, error);
    return status == GRADIN_OK ? gradin_sounding_make(arena, room, incidence, sounding, error)
                               : status;
}

gradin_status gradin_flight_compute(const gradin_prepared_room *room, const gradin_traffic *traffic,
                                    const gradin_voice *voice, gradin_flight *flight,
                                    gradin_error *error) {
    if (NEEDS(error, room, traffic, flight) != GRADIN_OK ||
        model_complete(room->model, error) != GRADIN_OK ||
        NEEDS(error, room->transfer, room->glass, room->tau_m2, room->passed_m2, traffic->class_of,
              traffic->track, flight->lamax_db) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (voice && voice->n_background > flight->n_background)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "the flight has no room for all backgrounds of the voice");
    gradin_arena *arena = gradin_arena_create();
    gradin_incidence incidence;
    gradin_sounding sounding;
    gradin_status status = sound(arena, room, traffic, flight->class_index, flight->track,
                                 &incidence, &sounding, error);
    if (status == GRADIN_OK)
        status = gradin_sounding_reduce(&sounding, voice, traffic->sii_least, flight, error);
    gradin_arena_destroy(arena);
    return status;
}

gradin_status gradin_flight_maxima(const gradin_prepared_room *room, const gradin_traffic *traffic,
                                   int class_index, int track, double *lamax_db,
                                   gradin_error *error) {
    if (NEEDS(error, room, traffic, lamax_db) != GRADIN_OK ||
        model_complete(room->model, error) != GRADIN_OK ||
        NEEDS(error, room->transfer, room->glass, room->tau_m2, room->passed_m2, traffic->class_of,
              traffic->track) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_arena *arena = gradin_arena_create();
    gradin_incidence incidence;
    gradin_sounding sounding;
    gradin_status status =
        sound(arena, room, traffic, class_index, track, &incidence, &sounding, error);
    if (status == GRADIN_OK) status = gradin_sounding_maxima(&sounding, lamax_db, error);
    gradin_arena_destroy(arena);
    return status;
}
