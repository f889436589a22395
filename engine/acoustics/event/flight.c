/* Classes on one track reduced to the figures of each seat: those that differ in level alone by the
 * mean squares of one of them, times what they differ by. */
#include "acoustics/event/keep_incidence.h"
#include "acoustics/event/levels.h"
#include "acoustics/source/source.h"
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
    const gradin_flight_levels *of; /* [n] */
    int n;
    const gradin_voice *voice; /* NULL: speech is left out */
    double sii_least;
} reduction;

/* A moment's levels beside each background: the least index, and the seconds that it costs. */
static void hear_moment(const reduction *r, const gradin_flight *flight, int seat,
                        const double *band_db, double seconds) {
    const gradin_voice *voice = r->voice;
    for (int k = 0; k < voice->n_background; k++) {
        size_t at = (size_t)k * (size_t)voice->n_seat + (size_t)seat;
        double sii = gradin_voice_sii(voice, k, seat, band_db);
        flight->sii_least[at] = fmin(flight->sii_least[at], sii);
        if (sii < r->sii_least && voice->sii[at] >= r->sii_least) flight->lost_s[at] += seconds;
    }
}

/* Seconds in which the voice falls below the index, and the least index. */
static void reduce_speech(const gradin_seat_turn *turn, const reduction *r,
                          const gradin_flight_levels *of) {
    const gradin_moments *m = &turn->sounding->incidence->moments;
    double band_db[GRADIN_N_BAND];
    for (int k = 0; k < r->voice->n_background; k++) {
        size_t at = (size_t)k * (size_t)r->voice->n_seat + (size_t)turn->seat;
        of->flight->sii_least[at] = r->voice->sii[at];
        of->flight->lost_s[at] = 0.0;
    }
    for (int t = 0; t < m->n; t++) {
        for (int b = 0; b < GRADIN_N_BAND; b++)
            band_db[b] = 10.0 * log10(of->ratio[b] * turn->square[b * m->n + t]);
        hear_moment(r, of->flight, turn->seat, band_db, m->weight_s[t]);
    }
}

/* Bands of the weighted mean square at the maximum: the weighting is linear. */
static void bands_at_maximum(const gradin_seat_turn *turn, const double *share, const double *ratio,
                             double *band_db) {
    int n = turn->sounding->incidence->moments.n;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double sum = 0.0;
        for (int t = 0; t < n; t++)
            if (share[t] > 0.0) sum += share[t] * turn->square[b * n + t];
        band_db[b] = 10.0 * log10(ratio[b] * sum);
    }
}

/* A-weighted sum over the bands of what one class sends, sum[n_time]. */
static void square_a(const double *square, int n_time, const double *ratio, double *sum) {
    for (int t = 0; t < n_time; t++) sum[t] = 0.0;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double weight = gradin_a_energy(b) * ratio[b];
        for (int t = 0; t < n_time; t++) sum[t] += weight * square[b * n_time + t];
    }
}

static void reduce_class(const gradin_seat_turn *turn, const reduction *r,
                         const gradin_flight_levels *of) {
    const gradin_incidence *i = turn->sounding->incidence;
    gradin_flight *flight = of->flight;
    square_a(turn->square, i->moments.n, of->ratio, turn->scratch);
    gradin_peak peak = gradin_weighted_peak(&i->steps, turn->scratch, i->tau_s);
    flight->lamax_db[turn->seat] = 10.0 * log10(peak.square);
    flight->sel_db[turn->seat] = 10.0 * log10(exposure(&i->moments, turn->scratch));
    gradin_weighted_shares(&i->steps, peak, i->tau_s, turn->scratch);
    bands_at_maximum(turn, turn->scratch, of->ratio,
                     flight->band_db + (size_t)turn->seat * GRADIN_N_BAND);
    if (r->voice) reduce_speech(turn, r, of);
}

static void reduce_seat(const gradin_seat_turn *turn) {
    const reduction *r = turn->user;
    for (int k = 0; k < r->n; k++) reduce_class(turn, r, &r->of[k]);
}

static void add_shares(const gradin_sounding *s, int e, const reduction *r) {
    const gradin_incidence *i = s->incidence;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double energy = gradin_a_energy(b) * s->room->heard_1m2[e][b] *
                        exposure(&i->moments, s->powers.let_in + gradin_incidence_at(i, e, b, 0));
        for (int k = 0; k < r->n; k++) r->of[k].flight->share[e] += r->of[k].ratio[b] * energy;
    }
}

static void reduce_shares(const gradin_sounding *s, const reduction *r) {
    for (int k = 0; k < r->n; k++)
        for (int e = 0; e < s->incidence->n_element; e++) r->of[k].flight->share[e] = 0.0;
    for (int e = 0; e < s->incidence->n_element && s->room->heard_1m2; e++) add_shares(s, e, r);
    for (int k = 0; k < r->n; k++) {
        double sum = 0.0, *share = r->of[k].flight->share;
        for (int e = 0; e < s->incidence->n_element; e++) sum += share[e];
        for (int e = 0; e < s->incidence->n_element && sum > 0.0; e++) share[e] /= sum;
    }
}

/* scratch[n_time] */
static void reduce_outside(const gradin_incidence *i, const gradin_flight_levels *of,
                           double *scratch) {
    gradin_flight *flight = of->flight;
    square_a(i->outside, i->moments.n, of->ratio, scratch);
    double most = gradin_weighted_peak(&i->steps, scratch, i->tau_s).square;
    flight->outside_lamax_db = 10.0 * log10(most);
    flight->outside_sel_db = 10.0 * log10(exposure(&i->moments, scratch));
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

gradin_status gradin_sounding_reduce(gradin_arena *arena, const gradin_sounding *sounding,
                                     const gradin_voice *voice, double sii_least,
                                     const gradin_flight_levels *of, int n, gradin_error *error) {
    reduction all = {of, n, voice, sii_least};
    const gradin_incidence *i = sounding->incidence;
    double *scratch = gradin_arena_alloc(arena, (size_t)i->moments.n, sizeof *scratch);
    if (!scratch) return out_of_memory(error);
    gradin_status status = gradin_levels_each(sounding, false, reduce_seat, &all, error);
    if (status != GRADIN_OK) return status;
    reduce_shares(sounding, &all);
    for (int k = 0; k < n && status == GRADIN_OK; k++) {
        reduce_outside(i, &of[k], scratch);
        status = check_levels(of[k].flight->lamax_db, sounding->room->model->seats.n_seat, error);
    }
    return status;
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
                           gradin_sounding *sounding, gradin_error *error) {
    const gradin_incidence *incidence;
    if (!arena) return out_of_memory(error);
    gradin_status status = gradin_incidence_take(arena, room->incidences, room->model, traffic,
                                                 class_index, track, &incidence, error);
    return status == GRADIN_OK ? gradin_sounding_make(arena, room, incidence, sounding, error)
                               : status;
}

static gradin_status check_room(const gradin_prepared_room *room, const gradin_traffic *traffic,
                                gradin_error *error) {
    if (NEEDS(error, room, traffic) != GRADIN_OK ||
        model_complete(room->model, error) != GRADIN_OK ||
        NEEDS(error, room->transfer, room->glass, room->tau_m2, room->passed_m2, traffic->class_of,
              traffic->track) != GRADIN_OK)
        return GRADIN_BAD_USE;
    return GRADIN_OK;
}

static gradin_status check_flights(const gradin_flight *const *flight, int n,
                                   const gradin_voice *voice, gradin_error *error) {
    for (int k = 0; k < n; k++) {
        if (NEEDS(error, flight[k]) != GRADIN_OK || NEEDS(error, flight[k]->lamax_db) != GRADIN_OK)
            return GRADIN_BAD_USE;
        if (flight[k]->track != flight[0]->track)
            return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                    "flights worked out together are on one track");
        if (voice && voice->n_background > flight[k]->n_background)
            return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                    "the flight has no room for all backgrounds of the voice");
    }
    return GRADIN_OK;
}

/* Moves flights that the first differs from in level alone behind it; how many they are. */
static int gather_alike(const gradin_traffic *traffic, gradin_flight **left, int n,
                        gradin_flight_levels *of) {
    gradin_source first = gradin_source_make(traffic, &traffic->class_of[left[0]->class_index]);
    int n_alike = 0;
    for (int k = 0; k < n; k++) {
        gradin_source own = gradin_source_make(traffic, &traffic->class_of[left[k]->class_index]);
        if (!gradin_source_ratio(&own, &first, of[n_alike].ratio)) continue;
        of[n_alike].flight = left[k];
        left[k] = left[n_alike];
        left[n_alike] = of[n_alike].flight;
        n_alike++;
    }
    return n_alike;
}

/* Of n flights on one track, left[n] in any order. */
static gradin_status compute_left(const gradin_prepared_room *room, const gradin_traffic *traffic,
                                  const gradin_voice *voice, gradin_flight **left, int n,
                                  gradin_flight_levels *of, gradin_error *error) {
    gradin_status status = GRADIN_OK;
    while (n > 0 && status == GRADIN_OK) {
        gradin_arena *arena = gradin_arena_create();
        gradin_sounding sounding;
        int n_alike = gather_alike(traffic, left, n, of);
        if (n_alike == 0) { /* silent in a band: it is alike to nothing, itself included */
            for (int b = 0; b < GRADIN_N_BAND; b++) of[0].ratio[b] = 1.0;
            of[n_alike++].flight = left[0];
        }
        status =
            sound(arena, room, traffic, left[0]->class_index, left[0]->track, &sounding, error);
        if (status == GRADIN_OK)
            status = gradin_sounding_reduce(arena, &sounding, voice, traffic->sii_least, of,
                                            n_alike, error);
        gradin_arena_destroy(arena);
        left += n_alike;
        n -= n_alike;
    }
    return status;
}

gradin_status gradin_flights_compute(const gradin_prepared_room *room,
                                     const gradin_traffic *traffic, const gradin_voice *voice,
                                     gradin_flight *const *flight, int n_flight,
                                     gradin_error *error) {
    if (NEEDS(error, flight) != GRADIN_OK || check_room(room, traffic, error) != GRADIN_OK ||
        check_flights((const gradin_flight *const *)flight, n_flight, voice, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_arena *arena = gradin_arena_create();
    size_t n = n_flight > 0 ? (size_t)n_flight : 0;
    gradin_flight **left = arena ? gradin_arena_alloc(arena, n, sizeof *left) : NULL;
    gradin_flight_levels *of = arena ? gradin_arena_alloc(arena, n, sizeof *of) : NULL;
    for (size_t k = 0; left && k < n; k++) left[k] = flight[k];
    gradin_status status = left && of
                               ? compute_left(room, traffic, voice, left, n_flight, of, error)
                               : out_of_memory(error);
    gradin_arena_destroy(arena);
    return status;
}

gradin_status gradin_flight_compute(const gradin_prepared_room *room, const gradin_traffic *traffic,
                                    const gradin_voice *voice, gradin_flight *flight,
                                    gradin_error *error) {
    return gradin_flights_compute(room, traffic, voice, &flight, 1, error);
}

gradin_status gradin_flight_maxima(const gradin_prepared_room *room, const gradin_traffic *traffic,
                                   int class_index, int track, double *lamax_db,
                                   gradin_error *error) {
    if (NEEDS(error, lamax_db) != GRADIN_OK || check_room(room, traffic, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_arena *arena = gradin_arena_create();
    gradin_sounding sounding;
    gradin_status status = sound(arena, room, traffic, class_index, track, &sounding, error);
    if (status == GRADIN_OK) status = gradin_sounding_maxima(&sounding, lamax_db, error);
    gradin_arena_destroy(arena);
    return status;
}
