/* From the power that each facade element lets in to the mean square pressure at each seat.
 *
 * Diffuse: direct field plus one reverberant figure a band. Radiosity: direct field plus what the
 * room's patches send back, p^2 = rho c sum b_j Omega_j/pi over the patches that the seat sees (a
 * Lambert surface of radiosity b has the radiance b/pi). The solid angles seen from a seat are
 * scaled to 4 pi, which patches cut by sampling miss by little. Each seat and each band is the work
 * of one thread: any count of threads gives the same bytes. */
#include <cblas.h>
#include <omp.h>
#include <stdio.h>
#include <string.h>

#include "acoustics/room/cache.h"
#include "acoustics/room/leaving.h"

enum { SEAT_BLOCK = 128 };

static const double most_bytes = 3e9;

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

typedef struct room {
    const gradin_model *model;
    gradin_scene scene;
    gradin_patches patches;
    gradin_exchange exchange;
    gradin_leaving leaving;
    double *seen; /* [SEAT_BLOCK][n_patch] solid angle over pi, of the seats of one block */
    gradin_visibility_scratch **scratch; /* [n_thread] */
    int n_thread;
} room;

static size_t cells(const room *r, int n_row) {
    return (size_t)n_row * (size_t)r->patches.n;
}

/* No shade hangs half way between: then the layout's own state is one of the other two. */
static gradin_shade_state twin_of(const gradin_model *model, gradin_shade_state state) {
    bool is_open = true, is_shut = true;
    if (state != GRADIN_SHADES_AS_SET) return state;
    for (int i = 0; i < model->n_shade; i++) {
        is_open = is_open && model->shade[i].closed == 0.0;
        is_shut = is_shut && model->shade[i].closed == 1.0;
    }
    return is_open ? GRADIN_SHADES_OPEN : is_shut ? GRADIN_SHADES_SHUT : state;
}

/* States from this one on are solved. */
static int first_state(const gradin_model *model) {
    return twin_of(model, GRADIN_SHADES_AS_SET) == GRADIN_SHADES_AS_SET ? 0 : 1;
}

/* ---- what a seat sees ------------------------------------------------------------------------ */

/* Rays of one thread to the patches that face its seat. */
typedef struct seat_rays {
    gradin_vec3 *end_m; /* [n_patch * GRADIN_PATCH_SIGHT] */
    int32_t *first;
    int *to; /* [n_patch] */
} seat_rays;

/* Solid angles of the patches that face the seat, and the ends of the rays to them; their count. */
static int face_seat(const room *r, gradin_vec3 eye_m, const seat_rays *rays, double *seen) {
    int n_to = 0;
    for (int j = 0; j < r->patches.n; j++) {
        const gradin_patch *p = &r->patches.patch[j];
        seen[j] = gradin_rectangle_seen_sr(eye_m, &p->rectangle) * p->exposed;
        if (!(seen[j] > 0.0)) continue;
        memcpy(&rays->end_m[n_to * GRADIN_PATCH_SIGHT], p->sight_m, sizeof p->sight_m);
        rays->to[n_to++] = j;
    }
    return n_to;
}

static void look_from_seat(const room *r, gradin_vec3 eye_m, const seat_rays *rays,
                           gradin_visibility_scratch *scratch, double *seen) {
    double sum_sr = 0.0;
    int n = r->patches.n, n_to = face_seat(r, eye_m, rays, seen);
    if (n_to == 0) return;
    gradin_visibility(&r->scene, eye_m, GRADIN_NO_OWNER, rays->end_m, n_to * GRADIN_PATCH_SIGHT,
                      rays->first, scratch);
    for (int k = 0; k < n_to; k++) {
        int through = 0;
        for (int q = 0; q < GRADIN_PATCH_SIGHT; q++)
            through += rays->first[k * GRADIN_PATCH_SIGHT + q] == GRADIN_CLEAR;
        seen[rays->to[k]] *= (double)through / GRADIN_PATCH_SIGHT;
        sum_sr += seen[rays->to[k]];
    }
    for (int j = 0; j < n && sum_sr > 0.0; j++) seen[j] *= 4.0 / sum_sr; /* 4 pi over pi */
}

static seat_rays *take_seat_rays(gradin_arena *arena, const room *r) {
    size_t n_ray = (size_t)r->patches.n * GRADIN_PATCH_SIGHT;
    seat_rays *rays = gradin_arena_alloc(arena, (size_t)r->n_thread, sizeof *rays);
    for (int i = 0; rays && i < r->n_thread; i++) {
        rays[i].end_m = gradin_arena_alloc(arena, n_ray, sizeof *rays[i].end_m);
        rays[i].first = gradin_arena_alloc(arena, n_ray, sizeof *rays[i].first);
        rays[i].to = gradin_arena_alloc(arena, (size_t)r->patches.n, sizeof *rays[i].to);
        if (!rays[i].end_m || !rays[i].first || !rays[i].to) return NULL;
    }
    return rays;
}

static gradin_status look_block(gradin_arena *arena, room *r, int from, int n_seat,
                                gradin_error *error) {
    seat_rays *rays = take_seat_rays(arena, r);
    if (!rays) return out_of_memory(error);
#pragma omp parallel for num_threads(r->n_thread) schedule(dynamic, 4)
    for (int k = 0; k < n_seat; k++) {
        int own = omp_get_thread_num();
        look_from_seat(r, r->model->seats.eye_m[from + k], &rays[own], r->scratch[own],
                       r->seen + cells(r, k));
    }
    return GRADIN_OK;
}

/* seen with the air between, [n_seat][n_patch] */
static void thin_by_air(const room *r, int from, int n_seat, double air_1m, double *thinned) {
    for (int k = 0; k < n_seat; k++)
        for (int j = 0; j < r->patches.n; j++) {
            double seen = r->seen[cells(r, k) + (size_t)j];
            gradin_vec3 way =
                gradin_sub(r->patches.patch[j].middle_m, r->model->seats.eye_m[from + k]);
            thinned[cells(r, k) + (size_t)j] =
                seen > 0.0 ? seen * exp(-air_1m * gradin_norm(way)) : 0.0;
        }
}

static void hear_block(const room *r, int from, int n_seat, double *thinned,
                       gradin_transfer *transfer) {
    int n_element = r->model->n_element, n = r->patches.n;
    int first = first_state(r->model);
#pragma omp parallel for num_threads(r->n_thread) schedule(dynamic, 1)
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double *own = thinned + (size_t)omp_get_thread_num() * cells(r, SEAT_BLOCK);
        thin_by_air(r, from, n_seat, r->leaving.air_1m[b], own);
        for (int state = first; state < GRADIN_N_SHADE_STATE; state++)
            cblas_dgemm(CblasRowMajor, CblasNoTrans, CblasTrans, n_seat, n_element, n, 1.0, own, n,
                        r->leaving.power_1m2[state] + (size_t)b * cells(r, n_element), n, 1.0,
                        transfer->h_1m2[state] + gradin_transfer_at(transfer, b, from, 0),
                        n_element);
    }
}

/* ---- both ways --------------------------------------------------------------------------------
 */

/* The direct field and the diffuse room's, or the direct field alone. */
static void fill_direct(room *r, const gradin_room_field *field, gradin_transfer *transfer) {
    const gradin_model *m = r->model;
#pragma omp parallel for num_threads(r->n_thread) schedule(dynamic, 8)
    for (int s = 0; s < m->seats.n_seat; s++)
        for (int e = 0; e < m->n_element; e++) {
            double direct = gradin_direct_1m2(&m->element[e], m->seats.eye_m[s], &r->scene,
                                              r->scratch[omp_get_thread_num()]);
            int side = gradin_room_side(m, m->seats.eye_m[s]);
            int from = gradin_element_side(m, &m->element[e]);
            for (int state = 0; state < GRADIN_N_SHADE_STATE; state++)
                for (int b = 0; b < GRADIN_N_BAND; b++)
                    transfer->h_1m2[state][gradin_transfer_at(transfer, b, s, e)] =
                        direct + (field ? field[state].reverberant_1m2[side][from][b] : 0.0);
        }
}

static gradin_status take_scratch(gradin_arena *arena, room *r, gradin_error *error) {
    r->n_thread = omp_get_max_threads();
    r->scratch = gradin_arena_alloc(arena, (size_t)r->n_thread, sizeof(void *));
    for (int i = 0; r->scratch && i < r->n_thread; i++) {
        r->scratch[i] = gradin_visibility_scratch_create(arena, &r->scene);
        if (!r->scratch[i]) return out_of_memory(error);
    }
    return r->scratch ? GRADIN_OK : out_of_memory(error);
}

static gradin_status take_leaving(gradin_arena *arena, room *r, gradin_error *error) {
    size_t n = GRADIN_N_BAND * cells(r, r->model->n_element);
    if (8.0 * GRADIN_N_SHADE_STATE * (double)n > most_bytes)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                "%d elements on %d patches are too many; a larger room_patch "
                                "gives fewer",
                                r->model->n_element, r->patches.n);
    for (int state = 0; state < GRADIN_N_SHADE_STATE; state++) {
        r->leaving.power_1m2[state] = gradin_arena_alloc(arena, n, sizeof(double));
        if (!r->leaving.power_1m2[state]) return out_of_memory(error);
    }
    r->seen = gradin_arena_alloc(arena, cells(r, SEAT_BLOCK), sizeof(double));
    return r->seen ? GRADIN_OK : out_of_memory(error);
}

static gradin_status hear_all(gradin_arena *arena, room *r, gradin_transfer *transfer,
                              gradin_error *error) {
    gradin_status status = GRADIN_OK;
    double *thinned =
        gradin_arena_alloc(arena, (size_t)r->n_thread * cells(r, SEAT_BLOCK), sizeof *thinned);
    if (!thinned) return out_of_memory(error);
    for (int from = 0; from < transfer->n_seat && status == GRADIN_OK; from += SEAT_BLOCK) {
        int n = transfer->n_seat - from < SEAT_BLOCK ? transfer->n_seat - from : SEAT_BLOCK;
        gradin_arena *own = gradin_arena_create();
        status = own ? look_block(own, r, from, n, error) : out_of_memory(error);
        if (status == GRADIN_OK) hear_block(r, from, n, thinned, transfer);
        gradin_arena_destroy(own);
    }
    return status;
}

static gradin_status solve_all(gradin_arena *arena, room *r, gradin_error *error) {
    r->leaving.model = r->model;
    r->leaving.patches = &r->patches;
    r->leaving.exchange = &r->exchange;
    r->leaving.first_state = first_state(r->model);
    for (int b = 0; b < GRADIN_N_BAND; b++)
        r->leaving.air_1m[b] = gradin_room_air_4m(gradin_band_mid_hz(b)) / 4.0;
    gradin_status status = take_leaving(arena, r, error);
    if (status != GRADIN_OK) return status;
    return gradin_leaving_solve(arena, &r->leaving, r->n_thread, error);
}

static gradin_status cut_room(gradin_arena *arena, room *r, gradin_error *error) {
    gradin_status status =
        gradin_patches_make(arena, r->model, r->model->room_patch_m, &r->patches, error);
    if (status == GRADIN_OK)
        status = gradin_leaving_order(arena, r->model, &r->patches, &r->leaving.n_same, error);
    if (status != GRADIN_OK) return status;
    return gradin_exchange_make(arena, &r->patches, &r->scene, &r->exchange, error);
}

static gradin_status add_patches(gradin_arena *arena, room *r, gradin_transfer *transfer,
                                 gradin_error *error) {
    int n_blas = gradin_blas_single();
    gradin_status status = cut_room(arena, r, error);
    transfer->n_patch = r->patches.n;
    if (status == GRADIN_OK) status = solve_all(arena, r, error);
    if (status == GRADIN_OK) status = hear_all(arena, r, transfer, error);
    gradin_blas_restore(n_blas);
    return status;
}

static gradin_status check_size(const gradin_model *model, gradin_transfer *transfer,
                                gradin_error *error) {
    double n = (double)model->seats.n_seat * model->n_element * GRADIN_N_BAND;
    *transfer = (gradin_transfer){.n_seat = model->seats.n_seat, .n_element = model->n_element};
    if (8.0 * GRADIN_N_SHADE_STATE * n <= most_bytes) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                            "%d seats times %d facade elements are too many for this room "
                            "method",
                            model->seats.n_seat, model->n_element);
}

static gradin_status take_states(gradin_arena *arena, const gradin_model *model,
                                 gradin_transfer *transfer, gradin_error *error) {
    size_t n = (size_t)model->seats.n_seat * (size_t)model->n_element * GRADIN_N_BAND;
    gradin_shade_state twin = twin_of(model, GRADIN_SHADES_AS_SET);
    for (int state = GRADIN_N_SHADE_STATE - 1; state >= 0; state--) {
        bool is_twin = state == GRADIN_SHADES_AS_SET && twin != GRADIN_SHADES_AS_SET;
        transfer->h_1m2[state] =
            is_twin ? transfer->h_1m2[twin] : gradin_arena_alloc(arena, n, sizeof(double));
        if (!transfer->h_1m2[state]) return out_of_memory(error);
    }
    return GRADIN_OK;
}

static gradin_status fill(gradin_arena *scratch, const gradin_model *model,
                          const gradin_scene *scene, gradin_transfer *transfer,
                          gradin_error *error) {
    room r = {.model = model, .scene = *scene};
    gradin_room_field field[GRADIN_N_SHADE_STATE];
    bool is_diffuse = model->room_method == GRADIN_ROOM_DIFFUSE;
    gradin_status status = take_scratch(scratch, &r, error);
    for (int state = 0; status == GRADIN_OK && state < GRADIN_N_SHADE_STATE; state++)
        status = gradin_room_field_make(model, (gradin_shade_state)state, &field[state], error);
    if (status != GRADIN_OK) return status;
    fill_direct(&r, is_diffuse ? field : NULL, transfer);
    return is_diffuse ? GRADIN_OK : add_patches(scratch, &r, transfer, error);
}

/* ---- kept in a folder ------------------------------------------------------------------------ */

static void keep(const char *folder, const char *path, const char *key, int n_state,
                 gradin_transfer *transfer) {
    gradin_error failure = {0};
    if (gradin_cache_write(folder, path, key, n_state, transfer, &failure) != GRADIN_OK)
        snprintf(transfer->cache_note, sizeof transfer->cache_note,
                 "the room's field could not be kept: %.160s: %.200s", failure.diagnostic[0].file,
                 failure.diagnostic[0].text);
}

static gradin_status fill_kept(gradin_arena *arena, gradin_arena *scratch,
                               const gradin_model *model, const gradin_scene *scene,
                               gradin_transfer *transfer, gradin_error *error) {
    char key[33];
    gradin_shade_state twin = twin_of(model, GRADIN_SHADES_AS_SET);
    int n_state = twin == GRADIN_SHADES_AS_SET ? GRADIN_N_SHADE_STATE : GRADIN_N_SHADE_STATE - 1;
    gradin_cache_key(model, scene, key);
    const char *path = gradin_cache_path(scratch, model->room_cache, key);
    if (!path) return out_of_memory(error);
    gradin_status status =
        gradin_cache_read(arena, path, key, n_state, transfer, &transfer->is_kept_one);
    if (status != GRADIN_OK) return out_of_memory(error);
    if (transfer->is_kept_one) {
        if (twin != GRADIN_SHADES_AS_SET) transfer->h_1m2[0] = transfer->h_1m2[twin];
        return GRADIN_OK;
    }
    status = take_states(arena, model, transfer, error);
    if (status == GRADIN_OK) status = fill(scratch, model, scene, transfer, error);
    if (status == GRADIN_OK) keep(model->room_cache, path, key, n_state, transfer);
    return status;
}

static gradin_status make(gradin_arena *arena, gradin_arena *scratch, const gradin_model *model,
                          gradin_transfer *transfer, gradin_error *error) {
    gradin_scene scene;
    gradin_status status = gradin_room_scene_make(scratch, model, &scene, error);
    if (status != GRADIN_OK) return status;
    if (model->room_cache && model->room_method == GRADIN_ROOM_RADIOSITY)
        return fill_kept(arena, scratch, model, &scene, transfer, error);
    status = take_states(arena, model, transfer, error);
    return status == GRADIN_OK ? fill(scratch, model, &scene, transfer, error) : status;
}

gradin_status gradin_transfer_make(gradin_arena *arena, const gradin_model *model,
                                   gradin_transfer *transfer, gradin_error *error) {
    if (!arena || !model || !transfer || model->n_element < 1 ||
        (model->room_method == GRADIN_ROOM_RADIOSITY &&
         (model->n_surface < GRADIN_N_SURFACE || !(model->room_patch_m > 0.0))))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "a room needs its surfaces and at least one facade element");
    gradin_status status = check_size(model, transfer, error);
    if (status != GRADIN_OK) return status;
    gradin_arena *scratch = gradin_arena_create();
    status = scratch ? make(arena, scratch, model, transfer, error) : out_of_memory(error);
    gradin_arena_destroy(scratch);
    return status;
}
