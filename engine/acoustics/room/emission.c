/* What the patches send back, for each band, shade state and facade element.
 *
 * An element feeds the room as a Lambert surface: what leaves its patches falls on the others by
 * their exchange areas. A band is one system for all its states (radiosity.c) and the work of one
 * thread from start to end. */
#include "acoustics/room/emission.h"

#include <omp.h>
#include <string.h>

#include "acoustics/room/radiosity.h"

static const double most_bytes = 1.5e9; /* of all threads; one goes beyond it if it must */

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

static size_t cells(const gradin_patch_emission *l, int n_row) {
    return (size_t)n_row * (size_t)l->patches->n;
}

static bool is_shaded(const gradin_model *model, const gradin_patch *patch) {
    return patch->element >= 0 && model->element[patch->element].shade >= 0;
}

gradin_status gradin_emission_order(gradin_arena *arena, const gradin_model *model,
                                    gradin_patches *patches, int *n_same, gradin_error *error) {
    gradin_patch *shaded = gradin_arena_alloc(arena, (size_t)patches->n, sizeof *shaded);
    int n_shaded = 0;
    if (!shaded) return out_of_memory(error);
    *n_same = 0;
    for (int i = 0; i < patches->n; i++) {
        gradin_patch patch = patches->patch[i];
        if (is_shaded(model, &patch))
            shaded[n_shaded++] = patch;
        else
            patches->patch[(*n_same)++] = patch;
    }
    memcpy(patches->patch + *n_same, shaded, (size_t)n_shaded * sizeof *shaded);
    return GRADIN_OK;
}

/* What one thread solves a band in. */
typedef struct solver {
    double *through_m2, *first, *alpha, *scratch;
} solver;

/* Power on each patch from patch i, added to row[n_patch]; the matrix has its upper half. */
static void add_from(const double *through_m2, int n, int i, double *row) {
    for (int j = 0; j < i; j++) row[j] += through_m2[(size_t)j * (size_t)n + (size_t)i];
    for (int j = i; j < n; j++) row[j] += through_m2[(size_t)i * (size_t)n + (size_t)j];
}

/* first[n_element][n_patch]: a unit of power leaves each element evenly. An element that solids
 * cover altogether feeds the room evenly. */
static void fill_first(const gradin_patch_emission *l, const double *through_m2, double *first) {
    int n = l->patches->n;
    const double *area_m2 = l->exchange->area_m2;
    for (int e = 0; e < l->model->n_element; e++) {
        double *row = first + cells(l, e), from_m2 = 0.0, sum_m2 = 0.0;
        for (int j = 0; j < n; j++) row[j] = 0.0;
        for (int i = 0; i < n; i++) {
            sum_m2 += area_m2[i];
            if (l->patches->patch[i].element != e) continue;
            from_m2 += area_m2[i];
            add_from(through_m2, n, i, row);
        }
        for (int j = 0; j < n; j++) row[j] = from_m2 > 0.0 ? row[j] / from_m2 : area_m2[j] / sum_m2;
    }
}

/* alpha[n_state][n_patch] */
static void fill_alpha(const gradin_patch_emission *l, int band, double *alpha) {
    double all[GRADIN_N_BAND];
    for (int state = l->first_state; state < GRADIN_N_SHADE_STATE; state++)
        for (int i = 0; i < l->patches->n; i++) {
            gradin_patch_alpha(l->model, &l->patches->patch[i], (gradin_shade_state)state, all);
            alpha[cells(l, state - l->first_state) + (size_t)i] = all[band];
        }
}

static gradin_status solve_band(const gradin_patch_emission *l, int band, const solver *own) {
    int n_element = l->model->n_element;
    gradin_radiosity all = {.n = l->patches->n,
                            .n_same = l->n_same,
                            .n_state = GRADIN_N_SHADE_STATE - l->first_state,
                            .n_source = n_element,
                            .area_m2 = l->exchange->area_m2,
                            .alpha = own->alpha,
                            .through_m2 = own->through_m2,
                            .first = own->first,
                            .scratch = own->scratch};
    for (int k = 0; k < all.n_state; k++)
        all.emission[k] = l->power_1m2[l->first_state + k] + (size_t)band * cells(l, n_element);
    fill_alpha(l, band, own->alpha);
    gradin_radiosity_air_fill(l->exchange, l->patches, l->air_1m[band], own->through_m2);
    fill_first(l, own->through_m2, own->first);
    return gradin_radiosity_solve(&all, NULL);
}

static size_t scratch_size(const gradin_patch_emission *l) {
    return gradin_radiosity_scratch(l->patches->n, l->n_same, l->model->n_element);
}

static solver *alloc_solvers(gradin_arena *arena, const gradin_patch_emission *l, int n_thread) {
    solver *own = gradin_arena_alloc(arena, (size_t)n_thread, sizeof *own);
    for (int i = 0; own && i < n_thread; i++) {
        own[i].through_m2 = gradin_arena_alloc(arena, cells(l, l->patches->n), sizeof(double));
        own[i].first = gradin_arena_alloc(arena, cells(l, l->model->n_element), sizeof(double));
        own[i].alpha = gradin_arena_alloc(arena, cells(l, GRADIN_N_SHADE_STATE), sizeof(double));
        own[i].scratch = gradin_arena_alloc(arena, scratch_size(l), sizeof(double));
        if (!own[i].through_m2 || !own[i].first || !own[i].alpha || !own[i].scratch) return NULL;
    }
    return own;
}

gradin_status gradin_emission_solve(gradin_arena *arena, gradin_patch_emission *emission,
                                    int n_thread, gradin_error *error) {
    double bytes = 8.0 * (double)(cells(emission, emission->patches->n) + scratch_size(emission));
    int n_own = (int)fmax(fmin(n_thread, most_bytes / bytes), 1.0);
    solver *own = alloc_solvers(arena, emission, n_own);
    gradin_status status = GRADIN_OK;
    if (!own) return out_of_memory(error);
#pragma omp parallel for num_threads(n_own) schedule(dynamic, 1)
    for (int band = 0; band < GRADIN_N_BAND; band++) {
        gradin_status mine = solve_band(emission, band, &own[omp_get_thread_num()]);
#pragma omp critical(gradin_solve)
        if (mine != GRADIN_OK) status = mine;
    }
    if (status == GRADIN_OK) return GRADIN_OK;
    return gradin_error_add(error, status, NULL,
                            "the room's sound field has no finite solution: nothing absorbs");
}
