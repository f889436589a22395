/* Noise of one pass at every seat.
 *
 * p^2(seat, t) = sum over elements and bands of incident power * S tau * (direct + reverberant).
 * In a diffuse room the direct factor has no band and the reverberant one no seat, so the
 * A-weighted level over time needs one number an element and time, not one a band; bands are summed
 * at each seat's maximum only. A room in patches has a factor a seat, element and band. tau is that
 * of diffuse incidence at every angle (stated limit). Seats are independent: any number of threads
 * gives the same bytes. */
#include <omp.h>
#include <string.h>

#include "acoustics/envelope/element.h"
#include "acoustics/room/work.h"

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

/* ---- contract ------------------------------------------------------------------------------- */

static bool is_element_good(const gradin_model *model, const gradin_element *element) {
    bool is_vent = element->kind == GRADIN_ELEMENT_VENT;
    return (is_vent || (element->buildup >= 0 && element->buildup < model->n_buildup)) &&
           element->shade < model->n_shade;
}

static gradin_status check_use(const gradin_arena *arena, const gradin_model *model,
                               const gradin_noise *noise, gradin_error *error) {
    if (!arena || !model || !noise || !model->pass || model->n_element < 1)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "noise needs a pass and at least one element of the facade");
    if (model->footprint.n_corner < 3)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "the room needs a footprint");
    for (int e = 0; e < model->n_element; e++)
        if (!is_element_good(model, &model->element[e]))
            return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                    "facade element %d names a build-up or shade that is not there",
                                    e);
    return GRADIN_OK;
}

/* ---- results -------------------------------------------------------------------------------- */

static gradin_status take_results(gradin_arena *arena, const gradin_model *model,
                                  gradin_noise *noise) {
    size_t n_seat = (size_t)model->seats.n_seat, n_buildup = (size_t)model->n_buildup;
    *noise = (gradin_noise){.n_seat = model->seats.n_seat,
                            .n_element = model->n_element,
                            .n_buildup = model->n_buildup};
    double **const per_seat[] = {&noise->lamax_db[GRADIN_SHADES_AS_SET],
                                 &noise->lamax_db[GRADIN_SHADES_OPEN],
                                 &noise->lamax_db[GRADIN_SHADES_SHUT],
                                 &noise->laeq_db,
                                 &noise->nc,
                                 &noise->excess_db};
    for (size_t i = 0; i < sizeof per_seat / sizeof per_seat[0]; i++) {
        *per_seat[i] = gradin_arena_alloc(arena, n_seat, sizeof(double));
        if (!*per_seat[i]) return GRADIN_NO_MEMORY;
    }
    noise->band_db = gradin_arena_alloc(arena, n_seat, GRADIN_N_BAND * sizeof(double));
    noise->loudest_element = gradin_arena_alloc(arena, n_seat, sizeof(int));
    noise->r_db = gradin_arena_alloc(arena, n_buildup, GRADIN_N_BAND * sizeof(double));
    noise->rw = gradin_arena_alloc(arena, n_buildup, sizeof *noise->rw);
    noise->share = gradin_arena_alloc(arena, (size_t)model->n_element, sizeof(double));
    noise->glass = gradin_arena_alloc(arena, (size_t)model->n_element, sizeof *noise->glass);
    bool is_full = noise->band_db && noise->loudest_element && noise->r_db && noise->rw &&
                   noise->share && noise->glass;
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

static void rate_facade(const gradin_model *model, const gradin_work *work, gradin_noise *noise) {
    for (int state = 0; state < GRADIN_N_SHADE_STATE; state++) {
        double d_db[GRADIN_N_BAND];
        for (int b = 0; b < GRADIN_N_BAND; b++) {
            double sum_m2 = 0.0;
            for (int e = 0; e < model->n_element; e++) sum_m2 += work->tau_m2[state][e][b];
            noise->facade_r_db[state][b] = gradin_composite_r_db(&sum_m2, 1, work->area_m2);
            d_db[b] = gradin_d2m_nt_db(noise->facade_r_db[state][b], 0.0, model->volume_m3,
                                       work->area_m2);
        }
        noise->d2m_nt_w_db[state] = gradin_rate_thirds(&d_db[GRADIN_BAND_100_HZ]).rating_db;
    }
}

static void share_at_maximum(const gradin_work *work, gradin_noise *noise) {
    int best = 0;
    double most = -1.0;
    for (int t = 0; t < work->window.n_time; t++) {
        double sum = 0.0;
        for (int e = 0; e < work->n_element; e++) sum += work->let_in[GRADIN_SHADES_AS_SET][t][e];
        if (sum > most) {
            most = sum;
            best = t;
        }
    }
    noise->maximum_s = work->window.time_s[best];
    for (int e = 0; e < work->n_element; e++)
        noise->share[e] = most > 0.0 ? work->let_in[GRADIN_SHADES_AS_SET][best][e] / most : 0.0;
}

/* ---- one seat ------------------------------------------------------------------------------- */

/* What reaches one seat: by the diffuse field and its own direct factors, or by the transfer of a
 * room in patches. */
typedef struct listener {
    const gradin_work *work;
    const double *direct_1m2;        /* [n_element], diffuse */
    const gradin_transfer *transfer; /* NULL when diffuse */
    const gradin_model *model;
    int seat, side;
    double *square; /* [n_time] mean square over the pass, of one state */
    double *share;  /* [n_time] of each moment in the weighted mean square at the maximum */
} listener;

/* Power that an element lets in, in one band. */
static double through(const gradin_work *work, int state, int time, int element, int band) {
    size_t at = (size_t)time * (size_t)work->n_element + (size_t)element;
    return work->incident[at][band] * work->tau_m2[state][element][band];
}

static double heard(const listener *l, int state, int time, int element, int band) {
    return through(l->work, state, time, element, band) *
           l->transfer->h_1m2[state][gradin_transfer_at(l->transfer, band, l->seat, element)];
}

/* A-weighted, of one element. */
static double element_square(const listener *l, int state, int time, int element) {
    double square = 0.0;
    if (!l->transfer)
        return l->work->let_in[state][time][element] * l->direct_1m2[element] +
               l->work->echo[l->side][time][element];
    for (int b = 0; b < GRADIN_N_BAND; b++)
        square += l->work->a_weight[b] * heard(l, state, time, element, b);
    return square;
}

static double square_at(const listener *l, int state, int time) {
    const double *let_in = l->work->let_in[state][time];
    double square = l->transfer ? 0.0 : l->work->reverberant[state][l->side][time];
    for (int e = 0; e < l->work->n_element; e++)
        square += l->transfer ? element_square(l, state, time, e) : let_in[e] * l->direct_1m2[e];
    return square;
}

/* The largest weighted mean square over the pass, and the mean over the window. */
static gradin_peak over_pass(listener *l, int state, double *mean) {
    double sum = 0.0;
    for (int t = 0; t < l->work->window.n_time; t++) {
        l->square[t] = square_at(l, state, t);
        sum += l->work->window.weight_s[t] * l->square[t];
    }
    *mean = sum / l->work->window.length_s;
    return gradin_weighted_peak(&l->work->history, l->square, l->work->tau_s);
}

static void add_bands_at(const listener *l, int time, double *square) {
    const gradin_room_field *field = &l->work->field[GRADIN_SHADES_AS_SET];
    for (int e = 0; e < l->work->n_element; e++) {
        int from = gradin_element_side(l->model, &l->model->element[e]);
        for (int b = 0; b < GRADIN_N_BAND; b++)
            square[b] +=
                l->share[time] *
                (l->transfer ? heard(l, GRADIN_SHADES_AS_SET, time, e, b)
                             : through(l->work, GRADIN_SHADES_AS_SET, time, e, b) *
                                   (l->direct_1m2[e] + field->reverberant_1m2[l->side][from][b]));
    }
}

/* At the maximum that the shares stand for. */
static void bands_at_most(const listener *l, double *band_db) {
    double square[GRADIN_N_BAND] = {0.0};
    for (int t = 0; t < l->work->window.n_time; t++)
        if (l->share[t] > 0.0) add_bands_at(l, t, square);
    for (int b = 0; b < GRADIN_N_BAND; b++) band_db[b] = 10.0 * log10(square[b]);
}

static double element_at_most(const listener *l, int element) {
    double square = 0.0;
    for (int t = 0; t < l->work->window.n_time; t++)
        if (l->share[t] > 0.0)
            square += l->share[t] * element_square(l, GRADIN_SHADES_AS_SET, t, element);
    return square;
}

static int loudest_at_most(const listener *l) {
    double most = element_at_most(l, 0);
    int loudest = 0;
    for (int e = 1; e < l->work->n_element; e++) {
        double square = element_at_most(l, e);
        if (square <= most) continue;
        most = square;
        loudest = e;
    }
    return loudest;
}

static double largest_excess_db(const double *octave_db, double nc) {
    double excess_db = -INFINITY;
    if (isnan(nc)) return NAN;
    for (int o = 0; o < GRADIN_N_OCTAVE; o++)
        excess_db = fmax(excess_db, octave_db[o] - gradin_nc_level_db(nc, o));
    return excess_db;
}

static void compute_seat(const gradin_model *model, listener *l, gradin_noise *noise) {
    double octave_db[GRADIN_N_OCTAVE], mean = 0.0;
    double *band_db = &noise->band_db[(size_t)l->seat * GRADIN_N_BAND];
    for (int state = 0; state < GRADIN_N_SHADE_STATE; state++) {
        gradin_peak peak = over_pass(l, state, &mean);
        noise->lamax_db[state][l->seat] = 10.0 * log10(peak.square);
        if (state != GRADIN_SHADES_AS_SET) continue;
        noise->laeq_db[l->seat] = 10.0 * log10(mean);
        gradin_weighted_shares(&l->work->history, peak, l->work->tau_s, l->share);
    }
    bands_at_most(l, band_db);
    gradin_octaves_db(band_db, octave_db);
    noise->nc[l->seat] = gradin_nc(octave_db, NULL);
    noise->excess_db[l->seat] = largest_excess_db(octave_db, model->criterion.nc);
    noise->loudest_element[l->seat] = loudest_at_most(l);
}

/* ---- all seats ------------------------------------------------------------------------------ */

typedef struct gradin_thread {
    double *direct_1m2;                 /* [n_element] */
    double *square, *share;             /* [n_time] */
    gradin_visibility_scratch *scratch; /* diffuse */
} gradin_thread;

/* scene NULL: no rays */
static gradin_thread *take_threads(gradin_arena *arena, const gradin_scene *scene, int n_thread,
                                   const gradin_work *work) {
    gradin_thread *thread = gradin_arena_alloc(arena, (size_t)n_thread, sizeof *thread);
    size_t n_time = (size_t)work->window.n_time, n_element = (size_t)work->n_element;
    for (int i = 0; thread && i < n_thread; i++) {
        thread[i].direct_1m2 = gradin_arena_alloc(arena, n_element, sizeof(double));
        thread[i].square = gradin_arena_alloc(arena, n_time, sizeof(double));
        thread[i].share = gradin_arena_alloc(arena, n_time, sizeof(double));
        if (scene) thread[i].scratch = gradin_visibility_scratch_create(arena, scene);
        if (!thread[i].direct_1m2 || !thread[i].square || !thread[i].share ||
            (scene && !thread[i].scratch))
            return NULL;
    }
    return thread;
}

static gradin_status hear_patches(gradin_arena *arena, const gradin_model *model,
                                  const gradin_work *work, gradin_noise *noise,
                                  gradin_error *error) {
    gradin_transfer transfer;
    gradin_status status = gradin_transfer_make(arena, model, &transfer, error);
    if (status != GRADIN_OK) return status;
    noise->n_patch = transfer.n_patch;
    memcpy(noise->cache_note, transfer.cache_note, sizeof noise->cache_note);
    int n_thread = omp_get_max_threads();
    gradin_thread *thread = take_threads(arena, NULL, n_thread, work);
    if (!thread) return out_of_memory(error);
#pragma omp parallel for num_threads(n_thread) schedule(dynamic, 8)
    for (int seat = 0; seat < noise->n_seat; seat++) {
        gradin_thread *mine = &thread[omp_get_thread_num()];
        listener l = {.work = work,
                      .transfer = &transfer,
                      .model = model,
                      .seat = seat,
                      .square = mine->square,
                      .share = mine->share};
        compute_seat(model, &l, noise);
    }
    return GRADIN_OK;
}

static gradin_status hear_diffuse(gradin_arena *arena, const gradin_model *model,
                                  const gradin_work *work, gradin_noise *noise,
                                  gradin_error *error) {
    gradin_scene scene;
    gradin_status status = gradin_room_scene_make(arena, model, &scene, error);
    if (status != GRADIN_OK) return status;
    int n_thread = omp_get_max_threads();
    gradin_thread *thread = take_threads(arena, &scene, n_thread, work);
    if (!thread) return out_of_memory(error);
#pragma omp parallel for num_threads(n_thread) schedule(dynamic, 8)
    for (int seat = 0; seat < noise->n_seat; seat++) {
        gradin_thread *mine = &thread[omp_get_thread_num()];
        for (int e = 0; e < work->n_element; e++)
            mine->direct_1m2[e] = gradin_direct_1m2(&model->element[e], model->seats.eye_m[seat],
                                                    &scene, mine->scratch);
        listener l = {.work = work,
                      .direct_1m2 = mine->direct_1m2,
                      .model = model,
                      .seat = seat,
                      .side = gradin_room_side(model, model->seats.eye_m[seat]),
                      .square = mine->square,
                      .share = mine->share};
        compute_seat(model, &l, noise);
    }
    return GRADIN_OK;
}

static gradin_status check_finite(const gradin_noise *noise, gradin_error *error) {
    for (int seat = 0; seat < noise->n_seat; seat++)
        for (int state = 0; state < GRADIN_N_SHADE_STATE; state++)
            if (isnan(noise->lamax_db[state][seat]) || noise->lamax_db[state][seat] == INFINITY)
                return gradin_error_add(error, GRADIN_NUMERIC, NULL,
                                        "the level at seat %d is not a finite number", seat);
    return GRADIN_OK;
}

static gradin_status compute(gradin_arena *arena, gradin_arena *scratch, const gradin_model *model,
                             gradin_noise *noise, gradin_error *error) {
    gradin_work work;
    if (take_results(arena, model, noise) != GRADIN_OK) return out_of_memory(error);
    gradin_status status = rate_buildups(model, noise, error);
    if (status == GRADIN_OK) status = gradin_glass_make(model, noise->glass, error);
    if (status == GRADIN_OK) status = gradin_work_make(scratch, model, noise->glass, &work, error);
    if (status != GRADIN_OK) return status;
    rate_facade(model, &work, noise);
    share_at_maximum(&work, noise);
    const gradin_room_field *field = &work.field[GRADIN_SHADES_AS_SET];
    for (int b = 0; b < GRADIN_N_BAND; b++)
        noise->reverberation_s[b] = field->reverberation_s[field->main_side][b];
    noise->weighting = model->pass->weighting;
    noise->outside_lamax_db = work.outside_lamax_db;
    noise->closest_m = work.window.closest_m;
    noise->window_s = work.window.length_s;
    noise->uncertainty_db = gradin_noise_uncertainty_db();
    noise->uncertainty_source = gradin_noise_uncertainty_source();
    status = model->room_method == GRADIN_ROOM_RADIOSITY
                 ? hear_patches(scratch, model, &work, noise, error)
                 : hear_diffuse(scratch, model, &work, noise, error);
    return status == GRADIN_OK ? check_finite(noise, error) : status;
}

gradin_status gradin_noise_compute(gradin_arena *arena, const gradin_model *model,
                                   gradin_noise *noise, gradin_error *error) {
    gradin_status status = check_use(arena, model, noise, error);
    if (status != GRADIN_OK) return status;
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return out_of_memory(error);
    status = compute(arena, scratch, model, noise, error);
    gradin_arena_destroy(scratch);
    return status;
}
