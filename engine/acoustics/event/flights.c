/* Levels of one class on one track at all seats.
 *
 * Power that falls on each element at each moment (incident.c: free field, without the facade's
 * reflection), times what the element lets in, times the layout's transfer: per band one matrix
 * product [n_seat][n_element] x [n_element][n_time], summed A-weighted. */
#include <cblas.h>

#include "acoustics/envelope/element.h"
#include "acoustics/event/weighting.h"
#include "acoustics/room/room.h"
#include "acoustics/source/pass.h"
#include "acoustics/source/track.h"

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

static double a_energy(int band) {
    return pow(10.0, 0.1 * gradin_a_weight_db(gradin_band_mid_hz(band)));
}

/* ---- the house ------------------------------------------------------------------------------- */

static gradin_status fill_tau(gradin_arena *arena, const gradin_model *model, gradin_house *house,
                              gradin_error *error) {
    gradin_glass *glass = gradin_arena_alloc(arena, (size_t)model->n_element, sizeof *glass);
    if (!glass) return out_of_memory(error);
    gradin_status status = gradin_glass_make(model, glass, error);
    for (int e = 0; status == GRADIN_OK && e < model->n_element; e++)
        gradin_element_tau_m2(model, &model->element[e], &glass[e], house->shades,
                              house->tau_m2[e]);
    return status;
}

/* What the facade lets in and how long the room rings, by the state of its shades. */
static gradin_status let_in_by(gradin_arena *arena, gradin_house *house, gradin_error *error) {
    gradin_room_field field;
    house->tau_m2 =
        gradin_arena_alloc(arena, (size_t)house->model->n_element, sizeof house->tau_m2[0]);
    if (!house->tau_m2) return out_of_memory(error);
    gradin_status status = fill_tau(arena, house->model, house, error);
    if (status == GRADIN_OK)
        status = gradin_room_field_make(house->model, house->shades, &field, error);
    for (int b = 0; status == GRADIN_OK && b < GRADIN_N_BAND; b++)
        house->reverberation_s[b] = field.reverberation_s[field.main_side][b];
    return status;
}

gradin_status gradin_house_make(gradin_arena *arena, const gradin_model *model, gradin_house *house,
                                gradin_error *error) {
    if (!arena || !model || !house || model->n_element < 1)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "traffic needs a room with a facade: the venue states none");
    gradin_vec2 plan_m = gradin_polygon_centroid_m(model->footprint);
    *house = (gradin_house){.model = model,
                            .centre_m = {plan_m.x, plan_m.y, 0.5 * model->ceiling_m},
                            .uncertainty_db = gradin_noise_uncertainty_db(),
                            .uncertainty_source = gradin_noise_uncertainty_source()};
    gradin_status status = let_in_by(arena, house, error);
    return status == GRADIN_OK ? gradin_transfer_make(arena, model, &house->transfer, error)
                               : status;
}

gradin_status gradin_house_shaded(gradin_arena *arena, const gradin_house *house,
                                  gradin_shade_state shades, gradin_house *shaded,
                                  gradin_error *error) {
    *shaded = *house;
    shaded->shades = shades;
    return let_in_by(arena, shaded, error);
}

gradin_status gradin_flight_take(gradin_arena *arena, const gradin_house *house,
                                 gradin_flight *flight, gradin_error *error) {
    size_t n_seat = (size_t)house->transfer.n_seat, n_element = (size_t)house->transfer.n_element;
    flight->lamax_db = gradin_arena_alloc(arena, n_seat, sizeof(double));
    flight->sel_db = gradin_arena_alloc(arena, n_seat, sizeof(double));
    flight->band_db = gradin_arena_alloc(arena, n_seat * GRADIN_N_BAND, sizeof(double));
    flight->sii_least = gradin_arena_alloc(arena, n_seat, sizeof(double));
    flight->lost_s = gradin_arena_alloc(arena, n_seat, sizeof(double));
    flight->share = gradin_arena_alloc(arena, n_element, sizeof(double));
    bool is_full = flight->lamax_db && flight->sel_db && flight->band_db && flight->share &&
                   flight->sii_least && flight->lost_s;
    return is_full ? GRADIN_OK : out_of_memory(error);
}

/* ---- one flight ------------------------------------------------------------------------------ */

typedef struct work {
    const gradin_house *house;
    gradin_moments moments;
    gradin_source source;
    gradin_shape building;
    double *factor; /* [n_time] energy left by the adjustments */
    double *let_in; /* [band][element][time] */
    double *square; /* [seat][time] A-weighted */
    gradin_history history;
    double tau_s;    /* of the time weighting; 0 none */
    double *share;   /* [n_time] of one seat's maximum */
    double *outside; /* [n_time] A-weighted, free field */
} work;

static gradin_source source_of(const gradin_traffic *t, const gradin_class *c) {
    gradin_pass pass = {.reference_m = c->reference_m,
                        .temperature_c = t->temperature_c,
                        .humidity_pct = t->humidity_pct,
                        .pressure_kpa = t->pressure_kpa,
                        .directivity = c->directivity};
    for (int b = 0; b < GRADIN_N_BAND; b++) pass.level_db[b] = c->level_db[b];
    return gradin_source_make(&pass);
}

static double adjustment(const gradin_traffic *t, const work *w, int time) {
    double db = t->has_impedance ? gradin_impedance_db(t->temperature_c, t->pressure_kpa) : 0.0;
    gradin_vec3 way = gradin_sub(w->moments.source_m[time], w->house->centre_m);
    double lateral_m = hypot(way.x, way.y);
    if (t->has_lateral && w->moments.n > 1)
        db -= gradin_lateral_attenuation_db(lateral_m, gradin_deg(atan2(way.z, lateral_m)));
    return pow(10.0, 0.1 * db);
}

static size_t let_in_at(const work *w, int band, int element, int time) {
    size_t row = (size_t)band * (size_t)w->house->transfer.n_element + (size_t)element;
    return row * (size_t)w->moments.n + (size_t)time;
}

static void fill_let_in(work *w) {
    const gradin_model *m = w->house->model;
    for (int t = 0; t < w->moments.n; t++) {
        w->source.heading = w->moments.heading[t];
        for (int e = 0; e < m->n_element; e++) {
            double incident[GRADIN_N_BAND];
            gradin_source_incident(&w->source, w->moments.source_m[t], &m->element[e], incident);
            for (int b = 0; b < GRADIN_N_BAND; b++)
                w->let_in[let_in_at(w, b, e, t)] =
                    incident[b] * w->house->tau_m2[e][b] * w->factor[t];
        }
    }
}

static void multiply(work *w) {
    const gradin_transfer *h = &w->house->transfer;
    for (int b = 0; b < GRADIN_N_BAND; b++)
        cblas_dgemm(CblasRowMajor, CblasNoTrans, CblasNoTrans, h->n_seat, w->moments.n,
                    h->n_element, a_energy(b),
                    h->h_1m2[w->house->shades] + gradin_transfer_at(h, b, 0, 0), h->n_element,
                    w->let_in + let_in_at(w, b, 0, 0), w->moments.n, b > 0 ? 1.0 : 0.0, w->square,
                    w->moments.n);
}

static void bands_at(const work *w, int seat, int time, double *band_db) {
    const gradin_transfer *h = &w->house->transfer;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        const double *row = h->h_1m2[w->house->shades] + gradin_transfer_at(h, b, seat, 0);
        double square = 0.0;
        for (int e = 0; e < h->n_element; e++)
            square += row[e] * w->let_in[let_in_at(w, b, e, time)];
        band_db[b] = 10.0 * log10(square);
    }
}

/* Bands of the weighted mean square at the maximum: the weighting is linear. */
static void weighted_bands(const work *w, int seat, double *band_db) {
    const gradin_transfer *h = &w->house->transfer;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        const double *row = h->h_1m2[GRADIN_SHADES_AS_SET] + gradin_transfer_at(h, b, seat, 0);
        double square = 0.0;
        for (int e = 0; e < h->n_element; e++) {
            const double *let_in = w->let_in + let_in_at(w, b, e, 0);
            double sum = 0.0;
            for (int t = 0; t < w->moments.n; t++) sum += w->share[t] * let_in[t];
            square += row[e] * sum;
        }
        band_db[b] = 10.0 * log10(square);
    }
}

static void reduce_seat(work *w, int seat, gradin_flight *flight) {
    const double *square = w->square + (size_t)seat * (size_t)w->moments.n;
    gradin_peak peak = gradin_weighted_peak(&w->history, square, w->tau_s);
    double energy = 0.0;
    for (int t = 0; t < w->moments.n; t++) energy += square[t] * w->moments.weight_s[t];
    flight->lamax_db[seat] = 10.0 * log10(peak.square);
    flight->sel_db[seat] = 10.0 * log10(energy); /* t0 = 1 s */
    double *band_db = flight->band_db + (size_t)seat * GRADIN_N_BAND;
    if (!(w->tau_s > 0.0)) {
        bands_at(w, seat, peak.into_s > 0.0 ? peak.step + 1 : peak.step, band_db);
        return;
    }
    gradin_weighted_shares(&w->history, peak, w->tau_s, w->share);
    weighted_bands(w, seat, band_db);
}

/* Seconds in which the voice falls below the index, and the least index. */
static void reduce_speech(const work *w, const gradin_voice *voice, double sii_least, int seat,
                          gradin_flight *flight) {
    double band_db[GRADIN_N_BAND];
    flight->sii_least[seat] = voice->sii[seat];
    flight->lost_s[seat] = 0.0;
    for (int t = 0; t < w->moments.n; t++) {
        bands_at(w, seat, t, band_db);
        double sii = gradin_voice_sii(voice, seat, band_db);
        flight->sii_least[seat] = fmin(flight->sii_least[seat], sii);
        if (sii < sii_least && voice->sii[seat] >= sii_least)
            flight->lost_s[seat] += w->moments.weight_s[t];
    }
}

static void reduce_shares(const work *w, gradin_flight *flight) {
    const gradin_transfer *h = &w->house->transfer;
    double sum = 0.0;
    for (int e = 0; e < h->n_element; e++) {
        flight->share[e] = 0.0;
        for (int b = 0; b < GRADIN_N_BAND; b++) {
            double heard = 0.0, energy = 0.0;
            for (int s = 0; s < h->n_seat; s++)
                heard += h->h_1m2[w->house->shades][gradin_transfer_at(h, b, s, e)];
            for (int t = 0; t < w->moments.n; t++)
                energy += w->let_in[let_in_at(w, b, e, t)] * w->moments.weight_s[t];
            flight->share[e] += a_energy(b) * heard * energy;
        }
        sum += flight->share[e];
    }
    for (int e = 0; e < h->n_element && sum > 0.0; e++) flight->share[e] /= sum;
}

static double outside_square(work *w, int time) {
    double band[GRADIN_N_BAND], sum = 0.0;
    gradin_vec3 way = gradin_sub(w->house->centre_m, w->moments.source_m[time]);
    w->source.heading = w->moments.heading[time];
    gradin_source_free_field(&w->source, gradin_norm(way), band);
    gradin_source_turn(&w->source, way, band);
    for (int b = 0; b < GRADIN_N_BAND; b++) sum += a_energy(b) * band[b];
    return sum * w->factor[time];
}

static void reduce_outside(work *w, gradin_flight *flight) {
    double energy = 0.0;
    for (int t = 0; t < w->moments.n; t++) {
        w->outside[t] = outside_square(w, t);
        energy += w->outside[t] * w->moments.weight_s[t];
    }
    double most = gradin_weighted_peak(&w->history, w->outside, w->tau_s).square;
    flight->outside_lamax_db = 10.0 * log10(most);
    flight->outside_sel_db = 10.0 * log10(energy);
    flight->closest_m = w->moments.closest_m;
    flight->length_s = w->moments.length_s;
    flight->n_time = w->moments.n;
}

/* Time-weighted, as the maxima are. */
static gradin_status keep_history(gradin_arena *arena, work *w, gradin_flight *flight,
                                  gradin_error *error) {
    size_t n_time = (size_t)w->moments.n, n_seat = (size_t)w->house->transfer.n_seat;
    double *time_s = gradin_arena_alloc(arena, n_time, sizeof *time_s);
    flight->history_db = gradin_arena_alloc(arena, n_time * n_seat, sizeof(double));
    flight->outside_db = gradin_arena_alloc(arena, n_time, sizeof(double));
    if (!time_s || !flight->history_db || !flight->outside_db) return out_of_memory(error);
    gradin_weighted_history(&w->history, w->tau_s, w->outside);
    for (size_t s = 0; s < n_seat; s++)
        gradin_weighted_history(&w->history, w->tau_s, w->square + s * n_time);
    for (size_t t = 0; t < n_time; t++) {
        time_s[t] = w->moments.time_s[t];
        flight->outside_db[t] = 10.0 * log10(w->outside[t]);
        for (size_t s = 0; s < n_seat; s++)
            flight->history_db[t * n_seat + s] = 10.0 * log10(w->square[s * n_time + t]);
    }
    flight->time_s = time_s;
    return GRADIN_OK;
}

static gradin_status take_work(gradin_arena *arena, work *w, gradin_error *error) {
    size_t n_time = (size_t)w->moments.n, n_element = (size_t)w->house->transfer.n_element;
    w->factor = gradin_arena_alloc(arena, n_time, sizeof(double));
    w->share = gradin_arena_alloc(arena, n_time, sizeof(double));
    w->outside = gradin_arena_alloc(arena, n_time, sizeof(double));
    w->let_in = gradin_arena_alloc(arena, GRADIN_N_BAND * n_element * n_time, sizeof(double));
    w->square =
        gradin_arena_alloc(arena, (size_t)w->house->transfer.n_seat * n_time, sizeof(double));
    return w->factor && w->share && w->outside && w->let_in && w->square ? GRADIN_OK
                                                                         : out_of_memory(error);
}

static gradin_status compute(gradin_arena *scratch, work *w, const gradin_traffic *traffic,
                             const gradin_voice *voice, gradin_flight *flight,
                             gradin_arena *history, gradin_error *error) {
    gradin_status status = gradin_moments_make(scratch, &traffic->track[flight->track],
                                               w->house->centre_m, &w->moments, error);
    if (status == GRADIN_OK) status = take_work(scratch, w, error);
    if (status != GRADIN_OK) return status;
    w->source = source_of(traffic, &traffic->class_of[flight->class_index]);
    if (gradin_building_make(w->house->model, &w->building)) w->source.building = &w->building;
    w->history = (gradin_history){w->moments.n, w->moments.time_s, w->moments.length_s};
    w->tau_s = gradin_weighting_s(traffic->weighting);
    for (int t = 0; t < w->moments.n; t++) w->factor[t] = adjustment(traffic, w, t);
    fill_let_in(w);
    multiply(w);
    for (int s = 0; s < w->house->transfer.n_seat; s++) reduce_seat(w, s, flight);
    for (int s = 0; voice && s < w->house->transfer.n_seat; s++)
        reduce_speech(w, voice, traffic->sii_least, s, flight);
    reduce_shares(w, flight);
    reduce_outside(w, flight);
    return history ? keep_history(history, w, flight, error) : GRADIN_OK;
}

gradin_status gradin_flight_compute(const gradin_house *house, const gradin_traffic *traffic,
                                    const gradin_voice *voice, gradin_flight *flight,
                                    gradin_arena *history, gradin_error *error) {
    work w = {.house = house};
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return out_of_memory(error);
    gradin_status status = compute(scratch, &w, traffic, voice, flight, history, error);
    gradin_arena_destroy(scratch);
    return status;
}
