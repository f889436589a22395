/* Noise of a layout's overflight at every seat: traffic of one event (pass_traffic.c, flight.c),
 * in all states of the shades, with ratings of the facade and what each element brings. */
#include <string.h>

#include "acoustics/envelope/element.h"
#include "acoustics/event/keep_incidence.h"
#include "acoustics/event/levels.h"
#include "acoustics/event/site.h"
#include "base/use.h"
#include "model/complete.h"

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

static gradin_status alloc_results(gradin_arena *arena, const gradin_model *model,
                                   gradin_noise *noise) {
    size_t n_seat = (size_t)model->seats.n_seat, n_buildup = (size_t)model->n_buildup;
    size_t n_element = (size_t)model->n_element;
    *noise = (gradin_noise){.n_seat = model->seats.n_seat,
                            .n_element = model->n_element,
                            .n_buildup = model->n_buildup};
    double **const per_seat[] = {&noise->lamax_db[GRADIN_SHADES_AS_SET],
                                 &noise->lamax_db[GRADIN_SHADES_OPEN],
                                 &noise->lamax_db[GRADIN_SHADES_SHUT],
                                 &noise->laeq_db,
                                 &noise->nc,
                                 &noise->excess_db,
                                 &noise->systematic_db,
                                 &noise->uncertainty_db};
    for (size_t i = 0; i < sizeof per_seat / sizeof per_seat[0]; i++) {
        *per_seat[i] = gradin_arena_alloc(arena, n_seat, sizeof(double));
        if (!*per_seat[i]) return GRADIN_NO_MEMORY;
    }
    noise->loudest_element = gradin_arena_alloc(arena, n_seat, sizeof(int));
    for (int k = 0; k < GRADIN_N_SHADE_STATE; k++) {
        noise->lamax_verdict[k] =
            gradin_arena_alloc(arena, n_seat, sizeof *noise->lamax_verdict[k]);
        if (!noise->lamax_verdict[k]) return GRADIN_NO_MEMORY;
    }
    noise->verdict = gradin_arena_alloc(arena, n_seat, sizeof *noise->verdict);
    noise->r_db = gradin_arena_alloc(arena, n_buildup, GRADIN_N_BAND * sizeof(double));
    noise->rw = gradin_arena_alloc(arena, n_buildup, sizeof *noise->rw);
    noise->share = gradin_arena_alloc(arena, n_element, sizeof(double));
    noise->glass = gradin_arena_alloc(arena, n_element, sizeof *noise->glass);
    noise->incident = gradin_arena_alloc(arena, n_element, sizeof noise->incident[0]);
    noise->incident_angle_rad = gradin_arena_alloc(arena, n_element, sizeof(double));
    noise->body_share = gradin_arena_alloc(arena, n_element, sizeof noise->body_share[0]);
    bool is_full = noise->incident_angle_rad && noise->body_share && noise->loudest_element &&
                   noise->verdict && noise->r_db && noise->rw && noise->share && noise->glass &&
                   noise->incident;
    return is_full ? GRADIN_OK : GRADIN_NO_MEMORY;
}

static gradin_status rate_buildups(const gradin_model *model, gradin_noise *noise,
                                   gradin_error *error) {
    for (int i = 0; i < model->n_buildup; i++) {
        double *r_db = &noise->r_db[(size_t)i * GRADIN_N_BAND];
        gradin_status status = gradin_glazing_r_db(&model->buildup[i], r_db, error);
        if (status != GRADIN_OK) return status;
        noise->rw[i] = gradin_rate_thirds(&r_db[GRADIN_BAND_100_HZ]);
    }
    return GRADIN_OK;
}

static double facade_area_m2(const gradin_model *model) {
    const double only_vents_m2 = 10.0; /* cancels in D2m,nT */
    double area_m2 = 0.0;
    for (int e = 0; e < model->n_element; e++)
        area_m2 += gradin_element_area_m2(&model->element[e]);
    return area_m2 > 0.0 ? area_m2 : only_vents_m2;
}

static void rate_facade(const gradin_prepared_room *room, gradin_noise *noise) {
    const gradin_model *model = room->model;
    double area_m2 = facade_area_m2(model), d_db[GRADIN_N_BAND];
    double *r_db = noise->facade_r_db[room->shades];
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double sum_m2 = 0.0;
        for (int e = 0; e < model->n_element; e++) sum_m2 += room->tau_m2[e][b];
        r_db[b] = gradin_composite_r_db(&sum_m2, 1, area_m2);
        d_db[b] = gradin_d2m_nt_db(r_db[b], 0.0, model->volume_m3, area_m2);
    }
    noise->d2m_nt_w_db[room->shades] = gradin_rate_thirds(&d_db[GRADIN_BAND_100_HZ]).rating_db;
}

/* Shares of the A-weighted power let in at the moment when that is most, and what falls on the
 * elements then. */
static void share_at_maximum(const gradin_sounding *s, gradin_noise *noise) {
    const gradin_incidence *i = s->incidence;
    int n_time = i->moments.n, best = 0;
    double most = -1.0;
    for (int t = 0; t < n_time; t++) {
        double sum = 0.0;
        for (int e = 0; e < i->n_element; e++) sum += s->powers.let_in_a[e * n_time + t];
        if (sum > most) {
            most = sum;
            best = t;
        }
    }
    noise->maximum_s = i->moments.time_s[best] - i->moments.closest_s;
    for (int e = 0; e < i->n_element; e++) {
        noise->share[e] = most > 0.0 ? s->powers.let_in_a[e * n_time + best] / most : 0.0;
        noise->incident_angle_rad[e] = i->angle_rad[e * n_time + best];
        for (int b = 0; b < GRADIN_N_BAND; b++) {
            noise->incident[e][b] = i->incident[gradin_incidence_at(i, e, b, best)];
            noise->body_share[e][b] = gradin_angle_share(&s->room->glass[e], GRADIN_PART_BODY, b,
                                                         noise->incident_angle_rad[e]);
        }
    }
}

static double largest_excess_db(const double *octave_db, double nc) {
    double excess_db = -INFINITY;
    if (isnan(nc)) return NAN;
    for (int o = 0; o < GRADIN_N_OCTAVE; o++)
        excess_db = fmax(excess_db, octave_db[o] - gradin_nc_level_db(nc, o));
    return excess_db;
}

static void rate_seats(const gradin_flight *flight, double nc, gradin_noise *noise) {
    for (int seat = 0; seat < noise->n_seat; seat++) {
        double octave_db[GRADIN_N_OCTAVE];
        gradin_octaves_db(flight->band_db + (size_t)seat * GRADIN_N_BAND, octave_db);
        noise->laeq_db[seat] = flight->sel_db[seat] - 10.0 * log10(flight->length_s);
        noise->nc[seat] = gradin_nc(octave_db, NULL);
        noise->excess_db[seat] = largest_excess_db(octave_db, nc);
    }
}

static void judge_lamax(const gradin_criterion *criterion, gradin_noise *noise) {
    for (int k = 0; k < GRADIN_N_SHADE_STATE; k++)
        for (int seat = 0; seat < noise->n_seat; seat++)
            noise->lamax_verdict[k][seat] = gradin_verdict_despite(
                noise->lamax_db[k][seat] - criterion->lamax_dba, noise->gaps.adds_db,
                noise->uncertainty_db[seat], criterion->confidence);
}

/* Over when one octave or the A-weighted level is, within when all are. */
static gradin_verdict judge(const gradin_noise *noise, const gradin_criterion *criterion,
                            const double *octave_db, gradin_verdict verdict) {
    for (int o = 0; o < GRADIN_N_OCTAVE && !isnan(criterion->nc); o++) {
        double unsure_db = gradin_band_uncertainty_db(&noise->uncertainty, 3 * o, 3 * o + 2);
        double excess_db = octave_db[o] - gradin_nc_level_db(criterion->nc, o);
        verdict = gradin_verdict_both(
            verdict, gradin_verdict_despite(excess_db, noise->gaps.adds_octave_db[o], unsure_db,
                                            criterion->confidence));
    }
    return verdict;
}

/* Once the levels of all states are there; the uncertainty is that of the shades as set. */
static void judge_seats(const gradin_criterion *criterion, gradin_noise *noise) {
    for (int seat = 0; seat < noise->n_seat; seat++) {
        const double *band_db = noise->band_db + (size_t)seat * GRADIN_N_BAND;
        noise->systematic_db[seat] = gradin_systematic_db(&noise->uncertainty, band_db);
        noise->uncertainty_db[seat] =
            hypot(noise->systematic_db[seat], noise->uncertainty.scatter_db);
    }
    judge_lamax(criterion, noise);
    for (int seat = 0; seat < noise->n_seat; seat++) {
        double octave_db[GRADIN_N_OCTAVE];
        gradin_octaves_db(noise->band_db + (size_t)seat * GRADIN_N_BAND, octave_db);
        noise->verdict[seat] =
            judge(noise, criterion, octave_db, noise->lamax_verdict[GRADIN_SHADES_AS_SET][seat]);
    }
}

static gradin_status hear_as_set(gradin_arena *arena, const gradin_sounding *sounding,
                                 gradin_noise *noise, gradin_error *error) {
    const gradin_prepared_room *room = sounding->room;
    gradin_flight flight = {.class_index = 0};
    gradin_flight_levels own = {.flight = &flight};
    for (int b = 0; b < GRADIN_N_BAND; b++) own.ratio[b] = 1.0;
    gradin_status status = gradin_flight_alloc(arena, room, 1, &flight, error);
    if (status == GRADIN_OK)
        status = gradin_sounding_reduce(arena, sounding, NULL, 0.0, &own, 1, error);
    if (status != GRADIN_OK) return status;
    noise->lamax_db[GRADIN_SHADES_AS_SET] = flight.lamax_db;
    noise->band_db = flight.band_db;
    noise->outside_lamax_db = flight.outside_lamax_db;
    noise->closest_m = flight.closest_m;
    noise->window_s = flight.length_s;
    rate_seats(&flight, room->model->criterion.nc, noise);
    share_at_maximum(sounding, noise);
    return gradin_sounding_loudest(sounding, noise->loudest_element, error);
}

static gradin_status hear_state(gradin_arena *arena, const gradin_prepared_room *room,
                                const gradin_incidence *incidence, gradin_noise *noise,
                                gradin_error *error) {
    gradin_sounding sounding;
    gradin_arena *scratch = gradin_arena_create();
    gradin_status status = scratch
                               ? gradin_sounding_make(scratch, room, incidence, &sounding, error)
                               : out_of_memory(error);
    if (status == GRADIN_OK)
        status = room->shades == GRADIN_SHADES_AS_SET
                     ? hear_as_set(arena, &sounding, noise, error)
                     : gradin_sounding_maxima(&sounding, noise->lamax_db[room->shades], error);
    gradin_arena_destroy(scratch);
    if (status == GRADIN_OK) rate_facade(room, noise);
    return status;
}

static void describe(const gradin_prepared_room *room, gradin_noise *noise) {
    noise->weighting = room->model->pass->weighting;
    noise->n_patch = room->n_patch;
    memcpy(noise->cache_note, room->cache_note, sizeof noise->cache_note);
    memcpy(noise->room_note, room->room_note, sizeof noise->room_note);
    memcpy(noise->reverberation_s, room->reverberation_s, sizeof noise->reverberation_s);
    for (int e = 0; e < noise->n_element; e++) {
        noise->glass[e] = room->glass[e];
        noise->glass[e].by_angle = NULL; /* it ends with the room */
    }
    noise->uncertainty_source = room->uncertainty_source;
    noise->calibration = room->calibration;
}

static gradin_status add_predicted(gradin_arena *arena, gradin_noise *noise, gradin_error *error) {
    noise->lamax_predicted_db = gradin_arena_alloc(arena, (size_t)noise->n_seat, sizeof(double));
    if (!noise->lamax_predicted_db) return out_of_memory(error);
    for (int seat = 0; seat < noise->n_seat; seat++)
        noise->lamax_predicted_db[seat] = gradin_site_predicted_dba(
            &noise->calibration, noise->band_db + (size_t)seat * GRADIN_N_BAND);
    return GRADIN_OK;
}

static gradin_status compute(gradin_arena *arena, gradin_arena *scratch, const gradin_model *model,
                             const char *cache_folder, gradin_kept_room *kept, gradin_noise *noise,
                             gradin_error *error) {
    gradin_prepared_room room, shaded;
    gradin_traffic traffic;
    const gradin_incidence *incidence = NULL;
    if (alloc_results(arena, model, noise) != GRADIN_OK) return out_of_memory(error);
    gradin_status status = rate_buildups(model, noise, error);
    if (status == GRADIN_OK) status = gradin_pass_traffic(scratch, model->pass, &traffic, error);
    if (status == GRADIN_OK)
        status = gradin_room_prepare_kept(scratch, model, cache_folder, kept, &room, error);
    if (status == GRADIN_OK)
        status = gradin_incidence_take(scratch, room.incidences, model, &traffic, 0, 0, &incidence,
                                       error);
    if (status == GRADIN_OK) status = hear_state(arena, &room, incidence, noise, error);
    for (int state = GRADIN_SHADES_OPEN; status == GRADIN_OK && state < GRADIN_N_SHADE_STATE;
         state++) {
        status = gradin_room_shade(scratch, &room, (gradin_shade_state)state, &shaded, error);
        if (status == GRADIN_OK) status = hear_state(arena, &shaded, incidence, noise, error);
    }
    if (status == GRADIN_OK) status = gradin_gaps_find(model, &traffic, 0, 0, &noise->gaps, error);
    if (status != GRADIN_OK) return status;
    noise->uncertainty = gradin_uncertainty_with(&room, &traffic, 0);
    judge_seats(&model->criterion, noise);
    describe(&room, noise);
    return model->site ? add_predicted(arena, noise, error) : status;
}

gradin_status gradin_noise_compute_kept(gradin_arena *arena, const gradin_model *model,
                                        const char *cache_folder, gradin_kept_room *kept,
                                        gradin_noise *noise, gradin_error *error) {
    if (NEEDS(error, arena, noise) != GRADIN_OK || model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (!model->pass || model->n_element < 1)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "noise needs a pass and at least one element of the facade");
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return out_of_memory(error);
    int n_blas = gradin_blas_single();
    gradin_status status = compute(arena, scratch, model, cache_folder, kept, noise, error);
    gradin_blas_restore(n_blas);
    gradin_arena_destroy(scratch);
    return status;
}

gradin_status gradin_noise_compute(gradin_arena *arena, const gradin_model *model,
                                   const char *cache_folder, gradin_noise *noise,
                                   gradin_error *error) {
    return gradin_noise_compute_kept(arena, model, cache_folder, NULL, noise, error);
}
