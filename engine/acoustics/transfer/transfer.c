/* The room's transfer made: direct field plus the room's own.
 *
 * Diffuse: one reverberant figure per band and pair of sides. Radiosity: what the room's patches
 * send back, (1) p^2 = rho c sum b_j Omega_j/pi over the patches that the seat sees (a Lambert
 * surface of radiosity b has the radiance b/pi). With few elements the product over the patches is
 * made once, per seat and element; with many it is left in its two factors. Each seat and each band
 * is the work of one thread: any count of threads gives the same bytes. */
#include "acoustics/transfer/transfer.h"

#include <omp.h>
#include <stdio.h>
#include <string.h>

#include "acoustics/patches/decay.h"
#include "acoustics/patches/emission.h"
#include "acoustics/patches/seen.h"
#include "acoustics/transfer/block.h"
#include "acoustics/transfer/cache.h"
#include "base/use.h"
#include "model/complete.h"

enum { SEAT_BLOCK = 128 };

static const double most_whole_bytes = 1e9; /* beyond it the two factors are kept */

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

typedef struct maker {
    const gradin_model *model;
    const gradin_scene *scene;
    const gradin_mask_scene *sight;
    gradin_patches patches;
    gradin_exchange exchange;
    gradin_patch_emission emission;
    int n_thread, n_state; /* states that differ, the last ones */
} maker;

gradin_shade_state gradin_shade_twin(const gradin_model *model, gradin_shade_state state) {
    bool is_open = true, is_shut = true;
    if (state != GRADIN_SHADES_AS_SET) return state;
    for (int i = 0; i < model->n_shade; i++) {
        is_open = is_open && model->shade[i].closed == 0.0;
        is_shut = is_shut && model->shade[i].closed == 1.0;
    }
    return is_open ? GRADIN_SHADES_OPEN : is_shut ? GRADIN_SHADES_SHUT : state;
}

static int count_states(const gradin_model *model) {
    bool has_twin = gradin_shade_twin(model, GRADIN_SHADES_AS_SET) != GRADIN_SHADES_AS_SET;
    return has_twin ? GRADIN_N_SHADE_STATE - 1 : GRADIN_N_SHADE_STATE;
}

static void share_twin(const gradin_model *model, gradin_transfer *t) {
    gradin_shade_state twin = gradin_shade_twin(model, GRADIN_SHADES_AS_SET);
    t->whole_1m2[GRADIN_SHADES_AS_SET] = t->whole_1m2[twin];
    t->emission_1m2[GRADIN_SHADES_AS_SET] = t->emission_1m2[twin];
}

gradin_transfer_form gradin_transfer_form_of(const gradin_model *model) {
    if (model->room_method == GRADIN_ROOM_DIFFUSE) return GRADIN_TRANSFER_BY_SIDE;
    double whole = gradin_transfer_bytes(GRADIN_TRANSFER_BY_ELEMENT, model->seats.n_seat,
                                         model->n_element, 0, count_states(model));
    return whole <= most_whole_bytes ? GRADIN_TRANSFER_BY_ELEMENT : GRADIN_TRANSFER_BY_PATCH;
}

static gradin_status check_size(const gradin_transfer *t, int n_state, gradin_error *error) {
    double bytes = gradin_transfer_bytes(t->form, t->n_seat, t->n_element, t->n_patch, n_state);
    if (bytes <= GRADIN_MAX_TRANSFER_BYTES) return GRADIN_OK;
    if (t->form != GRADIN_TRANSFER_BY_PATCH)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                "%d seats times %d facade elements need %.1f GB; at most %.1f GB "
                                "are allowed",
                                t->n_seat, t->n_element, bytes / 1e9,
                                GRADIN_MAX_TRANSFER_BYTES / 1e9);
    return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                            "%d seats, %d facade elements and %d patches need %.1f GB; at most "
                            "%.1f GB are allowed; a larger room_patch gives fewer patches",
                            t->n_seat, t->n_element, t->n_patch, bytes / 1e9,
                            GRADIN_MAX_TRANSFER_BYTES / 1e9);
}

static gradin_status add_direct(gradin_arena *arena, const maker *m, gradin_transfer *t,
                                gradin_error *error) {
    size_t n = (size_t)t->n_element;
    t->direct_1m2 = gradin_arena_alloc(arena, (size_t)t->n_seat * n, sizeof *t->direct_1m2);
    if (!t->direct_1m2) return out_of_memory(error);
#pragma omp parallel for num_threads(m->n_thread) schedule(dynamic, 8)
    for (int s = 0; s < t->n_seat; s++)
        for (int e = 0; e < t->n_element; e++)
            t->direct_1m2[(size_t)s * n + (size_t)e] =
                gradin_direct_1m2(&m->model->element[e], m->model->seats.eye_m[s], m->sight);
    return GRADIN_OK;
}

static gradin_status add_sides(gradin_arena *arena, const gradin_model *model, gradin_transfer *t,
                               gradin_error *error) {
    t->seat_side = gradin_arena_alloc(arena, (size_t)t->n_seat, sizeof *t->seat_side);
    t->element_side = gradin_arena_alloc(arena, (size_t)t->n_element, sizeof *t->element_side);
    if (!t->seat_side || !t->element_side) return out_of_memory(error);
    for (int s = 0; s < t->n_seat; s++)
        t->seat_side[s] = gradin_room_side(model, model->seats.eye_m[s]);
    for (int e = 0; e < t->n_element; e++)
        t->element_side[e] = gradin_element_side(model, &model->element[e]);
    t->factor = gradin_arena_alloc(arena, GRADIN_N_BAND, sizeof *t->factor);
    if (!t->factor) return out_of_memory(error);
    for (int state = 0; state < GRADIN_N_SHADE_STATE; state++) {
        gradin_room_field field;
        gradin_status status =
            gradin_room_field_make(model, (gradin_shade_state)state, &field, error);
        if (status != GRADIN_OK) return status;
        memcpy(t->factor, field.factor, sizeof field.factor);
        for (int b = 0; b < GRADIN_N_BAND; b++)
            for (int k = 0; k < 4; k++)
                t->side_1m2[state][k / 2][k % 2][b] = field.reverberant_1m2[k / 2][k % 2][b];
    }
    return GRADIN_OK;
}

static gradin_status cut_room(gradin_arena *arena, maker *m, gradin_transfer *t,
                              gradin_error *error) {
    gradin_status status =
        gradin_patches_make(arena, m->model, m->model->room_patch_m, &m->patches, error);
    t->n_patch = m->patches.n;
    if (status == GRADIN_OK) status = check_size(t, m->n_state, error);
    if (status == GRADIN_OK)
        status = gradin_emission_order(arena, m->model, &m->patches, &m->emission.n_same, error);
    if (status != GRADIN_OK) return status;
    return gradin_exchange_make(arena, &m->patches, m->sight, &m->exchange, error);
}

/* Bands of all patches, where these are kept. */
static gradin_status add_emission(gradin_arena *arena, maker *m, gradin_transfer *t,
                                  gradin_error *error) {
    size_t n = GRADIN_N_BAND * (size_t)t->n_element * (size_t)m->patches.n;
    for (int state = m->emission.first_state; state < GRADIN_N_SHADE_STATE; state++) {
        t->emission_1m2[state] = gradin_arena_alloc(arena, n, sizeof(double));
        m->emission.power_1m2[state] = t->emission_1m2[state];
        if (!t->emission_1m2[state]) return out_of_memory(error);
    }
    share_twin(m->model, t);
    return GRADIN_OK;
}

/* What the patches send back, in `arena` when it is kept; what it takes to find that, in `scratch`.
 */
static gradin_status solve_all(gradin_arena *arena, gradin_arena *scratch, maker *m,
                               gradin_transfer *t, gradin_error *error) {
    m->emission.model = m->model;
    m->emission.has_only_middles = t->form == GRADIN_TRANSFER_BY_ELEMENT;
    m->emission.patches = &m->patches;
    m->emission.exchange = &m->exchange;
    m->emission.first_state = GRADIN_N_SHADE_STATE - m->n_state;
    m->emission.factor = t->factor;
    for (int b = 0; b < GRADIN_N_BAND; b++)
        t->air_1m[b] = m->emission.air_1m[b] = gradin_room_air_4m(gradin_band_mid_hz(b)) / 4.0;
    gradin_status status =
        m->emission.has_only_middles ? GRADIN_OK : add_emission(arena, m, t, error);
    if (status == GRADIN_OK)
        status = gradin_decay_factors(scratch, m->model, &m->patches, &m->exchange, t->air_1m,
                                      m->n_thread, t->factor, error);
    if (status != GRADIN_OK) return status;
    return gradin_emission_solve(scratch, &m->emission, m->n_thread, error);
}

static bool add_middles(gradin_arena *arena, const maker *m, gradin_transfer *t) {
    t->eye_m = m->model->seats.eye_m;
    t->patch_m = gradin_arena_alloc(arena, 3 * (size_t)m->patches.n, sizeof *t->patch_m);
    for (int j = 0; t->patch_m && j < m->patches.n; j++) {
        gradin_vec3 middle_m = m->patches.patch[j].middle_m;
        const double at_m[3] = {middle_m.x, middle_m.y, middle_m.z};
        for (int k = 0; k < 3; k++) t->patch_m[3 * j + k] = at_m[k];
    }
    return t->patch_m != NULL;
}

/* The two factors multiplied, block by block of seats. */
static gradin_status multiply(gradin_arena *arena, gradin_arena *scratch, const maker *m,
                              gradin_transfer *t, gradin_error *error) {
    int most = t->n_seat < SEAT_BLOCK ? t->n_seat : SEAT_BLOCK;
    size_t n = GRADIN_N_BAND * (size_t)t->n_seat * (size_t)t->n_element;
    double *seen = gradin_arena_alloc(scratch, (size_t)most * (size_t)t->n_patch, sizeof *seen);
    gradin_block_scratch *own = gradin_block_scratch_alloc(scratch, t, most, m->n_thread);
    if (!seen || !own) return out_of_memory(error);
    for (int state = m->emission.first_state; state < GRADIN_N_SHADE_STATE; state++) {
        t->whole_1m2[state] = gradin_arena_alloc(arena, n, sizeof(double));
        if (!t->whole_1m2[state]) return out_of_memory(error);
    }
    share_twin(m->model, t);
    for (int from = 0; from < t->n_seat; from += most) {
        int n_seat = t->n_seat - from < most ? t->n_seat - from : most;
        if (!gradin_seats_look(scratch, m->sight, &m->patches, t->eye_m + from, n_seat, m->n_thread,
                               seen))
            return out_of_memory(error);
        gradin_block_multiply(t, &m->emission, from, n_seat, seen, own);
    }
    return GRADIN_OK;
}

static gradin_status look_from_all(gradin_arena *arena, gradin_arena *scratch, const maker *m,
                                   gradin_transfer *t, gradin_error *error) {
    size_t n = (size_t)t->n_seat * (size_t)t->n_patch;
    t->seen = gradin_arena_alloc(arena, n, sizeof *t->seen);
    if (!t->seen || !gradin_seats_look(scratch, m->sight, &m->patches, t->eye_m, t->n_seat,
                                       m->n_thread, t->seen))
        return out_of_memory(error);
    return GRADIN_OK;
}

static void forget_factors(gradin_transfer *t) {
    t->direct_1m2 = t->patch_m = NULL;
}

static gradin_status add_patches(gradin_arena *arena, gradin_arena *scratch, maker *m,
                                 gradin_transfer *t, gradin_error *error) {
    bool is_whole = t->form == GRADIN_TRANSFER_BY_ELEMENT;
    gradin_arena *to = is_whole ? scratch : arena;
    t->factor = gradin_arena_alloc(arena, GRADIN_N_BAND, sizeof *t->factor);
    if (!t->factor) return out_of_memory(error);
    int n_blas = gradin_blas_single();
    gradin_status status = cut_room(scratch, m, t, error);
    if (status == GRADIN_OK && !add_middles(to, m, t)) status = out_of_memory(error);
    if (status == GRADIN_OK) status = add_direct(to, m, t, error);
    if (status == GRADIN_OK) status = solve_all(to, scratch, m, t, error);
    if (status == GRADIN_OK)
        status = is_whole ? multiply(arena, scratch, m, t, error)
                          : look_from_all(arena, scratch, m, t, error);
    gradin_blas_restore(n_blas);
    if (is_whole) forget_factors(t);
    return status;
}

static void keep(const char *folder, const char *path, const char *key, int n_state,
                 gradin_transfer *transfer) {
    gradin_error failure = {0};
    if (gradin_cache_write(folder, path, key, n_state, transfer, &failure) != GRADIN_OK)
        snprintf(transfer->cache_note, sizeof transfer->cache_note,
                 "the room's field could not be kept: %.160s: %.200s", failure.diagnostic[0].file,
                 failure.diagnostic[0].text);
}

static gradin_status find_or_keep(gradin_arena *arena, gradin_arena *scratch, maker *m,
                                  const char *folder, gradin_transfer *t, gradin_error *error) {
    char key[33];
    gradin_cache_key(m->model, m->scene, key);
    const char *path = gradin_cache_path(scratch, folder, key);
    if (!path) return out_of_memory(error);
    if (gradin_cache_read(arena, path, key, m->n_state, t, &t->is_kept_one) != GRADIN_OK)
        return out_of_memory(error);
    if (t->is_kept_one) {
        share_twin(m->model, t);
        t->eye_m = m->model->seats.eye_m;
        for (int b = 0; b < GRADIN_N_BAND; b++)
            t->air_1m[b] = gradin_room_air_4m(gradin_band_mid_hz(b)) / 4.0;
        return GRADIN_OK;
    }
    gradin_status status = add_patches(arena, scratch, m, t, error);
    if (status == GRADIN_OK) keep(folder, path, key, m->n_state, t);
    return status;
}

/* Of the states of the shades those that are asked for; all of them into a folder, for others. */
static int states_to_solve(const gradin_model *model, const char *folder, bool is_as_set_only) {
    bool is_shut = gradin_shade_twin(model, GRADIN_SHADES_AS_SET) == GRADIN_SHADES_SHUT;
    return is_as_set_only && is_shut && !folder ? 1 : count_states(model);
}

static gradin_status make(gradin_arena *arena, gradin_arena *scratch, const gradin_model *model,
                          const char *folder, bool is_as_set_only, gradin_transfer *t,
                          gradin_error *error) {
    gradin_scene scene;
    maker m = {.model = model,
               .scene = &scene,
               .n_thread = omp_get_max_threads(),
               .n_state = states_to_solve(model, folder, is_as_set_only)};
    gradin_status status = gradin_room_scene_make(scratch, model, &scene, error);
    if (status == GRADIN_OK) status = check_size(t, m.n_state, error);
    if (status != GRADIN_OK) return status;
    m.sight = gradin_room_sight_make(scratch, model, &scene);
    if (!m.sight) return out_of_memory(error);
    if (t->form == GRADIN_TRANSFER_BY_SIDE) {
        status = add_sides(arena, model, t, error);
        return status == GRADIN_OK ? add_direct(arena, &m, t, error) : status;
    }
    return folder ? find_or_keep(arena, scratch, &m, folder, t, error)
                  : add_patches(arena, scratch, &m, t, error);
}

static gradin_status check_room(const gradin_model *model, gradin_error *error) {
    bool is_radiosity = model->room_method == GRADIN_ROOM_RADIOSITY;
    if (model->n_element < 1 ||
        (is_radiosity && (model->n_surface < GRADIN_N_SURFACE || !(model->room_patch_m > 0.0))))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "a room needs its surfaces and at least one facade element");
    return GRADIN_OK;
}

/* Patches are sampled only where how many are left decides. */
gradin_status gradin_transfer_refuse(gradin_arena *arena, const gradin_model *model,
                                     gradin_error *error) {
    gradin_patches patches = {.n = 0};
    gradin_transfer t = {.n_seat = model->seats.n_seat,
                         .n_element = model->n_element,
                         .form = gradin_transfer_form_of(model)};
    gradin_status status = check_room(model, error);
    if (status == GRADIN_OK && t.form == GRADIN_TRANSFER_BY_ELEMENT)
        status = gradin_patches_refuse(arena, model, model->room_patch_m, error);
    if (status == GRADIN_OK && t.form == GRADIN_TRANSFER_BY_PATCH)
        status = gradin_patches_make(arena, model, model->room_patch_m, &patches, error);
    t.n_patch = patches.n;
    return status == GRADIN_OK ? check_size(&t, count_states(model), error) : status;
}

gradin_status gradin_transfer_make(gradin_arena *arena, const gradin_model *model,
                                   gradin_transfer_form form, const char *cache_folder,
                                   gradin_transfer *transfer, gradin_error *error) {
    return gradin_transfer_make_states(arena, model, form, cache_folder, false, transfer, error);
}

gradin_status gradin_transfer_make_states(gradin_arena *arena, const gradin_model *model,
                                          gradin_transfer_form form, const char *cache_folder,
                                          bool is_as_set_only, gradin_transfer *transfer,
                                          gradin_error *error) {
    if (NEEDS(error, arena, transfer) != GRADIN_OK || model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (check_room(model, error) != GRADIN_OK) return GRADIN_BAD_USE;
    *transfer = (gradin_transfer){
        .n_seat = model->seats.n_seat, .n_element = model->n_element, .form = form};
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return out_of_memory(error);
    gradin_status status =
        make(arena, scratch, model, cache_folder, is_as_set_only, transfer, error);
    gradin_arena_destroy(scratch);
    return status;
}
