/* What the patches send back, for each band, shade state and facade element.
 *
 * An element feeds the room as a Lambert surface: what leaves its patches falls on the others by
 * their exchange areas. A system holds all states of a band (radiosity.c) and is the work of one
 * thread from start to end.
 *
 * Surfaces are known by octave as a rule, and then the thirds of an octave differ by their air
 * alone. They share the system of the middle one, and the others' emission is its own times (1)
 * (e^(m0 l) - rho)/(e^(m l) - rho): with mean free path l and mean reflection rho, what has
 * reflected n times is W rho^n e^(-n m l), summed over n. It is within 0.07 dB of systems of their
 * own up to 2.5 kHz; above, sharing would err by 0.2 dB at seats far from the source
 * (test_thirds.c), so each third has its own. So have thirds of which any patch absorbs a share of
 * its own. */
#include "acoustics/patches/emission.h"

#include <omp.h>
#include <string.h>

#include "acoustics/patches/radiosity.h"

enum {
    FIRST_PUBLISHED = 3, /* 100 Hz, of the octave of 125 Hz */
    FIRST_ALONE = 18     /* 3.15 kHz */
};

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

/* What one thread solves a group in. */
typedef struct solver {
    double *through_m2, *first, *scratch;
} solver;

typedef struct all_bands {
    gradin_patch_emission *l;
    double *alpha; /* [GRADIN_N_BAND][n_state][n_patch] */
    double path_m; /* mean free path */
    int n_state;
} all_bands;

static double *alpha_at(const all_bands *all, int band, int k) {
    return all->alpha + cells(all->l, band * all->n_state + k);
}

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

/* Of what leaves the patches, straight to the next one. */
static double mean_path_m(const gradin_patch_emission *l) {
    double sum_m2 = 0.0, sum_m3 = 0.0;
    int n = l->patches->n;
    for (int i = 0; i < n; i++)
        for (int j = i + 1; j < n; j++) {
            double own_m2 = l->exchange->exchange_m2[(size_t)i * (size_t)n + (size_t)j];
            if (own_m2 == 0.0) continue;
            sum_m2 += own_m2;
            sum_m3 += own_m2 * gradin_norm(gradin_sub(l->patches->patch[j].middle_m,
                                                      l->patches->patch[i].middle_m));
        }
    return sum_m2 > 0.0 ? sum_m3 / sum_m2 : 0.0;
}

/* Bands of one octave in which every patch absorbs the same; 63 Hz goes with 125 Hz, below which
 * nothing is published and air takes nothing to speak of. */
static void group_bands(all_bands *all) {
    size_t row = cells(all->l, all->n_state) * sizeof *all->alpha;
    gradin_patch_emission *l = all->l;
    l->n_group = 0;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        gradin_band_group *last = l->n_group > 0 ? &l->group[l->n_group - 1] : NULL;
        if (b < FIRST_ALONE && (b % 3 > 0 || b == FIRST_PUBLISHED) &&
            memcmp(alpha_at(all, b, 0), alpha_at(all, b - 1, 0), row) == 0)
            last->n++;
        else
            l->group[l->n_group++] = (gradin_band_group){.first = b, .n = 1};
    }
    for (int k = 0; k < l->n_group; k++) l->group[k].middle = l->group[k].first + l->group[k].n / 2;
}

static double mean_reflection(const all_bands *all, int band, int k) {
    const double *alpha = alpha_at(all, band, k), *area_m2 = all->l->exchange->area_m2;
    double sum_m2 = 0.0, left_m2 = 0.0;
    for (int i = 0; i < all->l->patches->n; i++) {
        sum_m2 += area_m2[i];
        left_m2 += (1.0 - alpha[i]) * area_m2[i];
    }
    return left_m2 / sum_m2;
}

/* The emission of each band in parts of that of its group's middle. */
static void fill_shares(const all_bands *all, const gradin_band_group *group) {
    gradin_patch_emission *l = all->l;
    for (int k = 0; k < all->n_state; k++)
        for (int b = group->first; b < group->first + group->n; b++) {
            double rho = mean_reflection(all, b, k);
            double own = exp(l->air_1m[b] * all->path_m) - rho;
            double known = exp(l->air_1m[group->middle] * all->path_m) - rho;
            l->share[l->first_state + k][b] = own > 0.0 ? known / own : 1.0; /* (1) */
        }
}

static void share_band(const all_bands *all, int middle, int band) {
    const gradin_patch_emission *l = all->l;
    size_t n = cells(l, l->model->n_element);
    for (int state = l->first_state; state < l->first_state + all->n_state; state++) {
        double *power = l->power_1m2[state];
        for (size_t i = 0; i < n; i++)
            power[(size_t)band * n + i] = l->share[state][band] * power[(size_t)middle * n + i];
    }
}

static gradin_status solve_group(const all_bands *all, int k_group, const solver *own) {
    const gradin_patch_emission *l = all->l;
    const gradin_band_group *group = &l->group[k_group];
    int n_element = l->model->n_element, band = group->middle;
    size_t row = (size_t)(l->has_only_middles ? k_group : band);
    gradin_radiosity system = {.n = l->patches->n,
                               .n_same = l->n_same,
                               .n_state = all->n_state,
                               .n_source = n_element,
                               .area_m2 = l->exchange->area_m2,
                               .alpha = alpha_at(all, band, 0),
                               .through_m2 = own->through_m2,
                               .first = own->first,
                               .scratch = own->scratch};
    for (int k = 0; k < all->n_state; k++)
        system.emission[k] = l->power_1m2[l->first_state + k] + row * cells(l, n_element);
    gradin_radiosity_air_fill(l->exchange, l->patches, l->air_1m[band], own->through_m2);
    fill_first(l, own->through_m2, own->first);
    gradin_status status = gradin_radiosity_solve(&system, NULL);
    bool is_shared = status == GRADIN_OK && !l->has_only_middles;
    for (int b = group->first; is_shared && b < group->first + group->n; b++)
        if (b != band) share_band(all, band, b);
    return status;
}

static size_t scratch_size(const gradin_patch_emission *l) {
    return gradin_radiosity_scratch(l->patches->n, l->n_same, l->model->n_element);
}

static solver *alloc_solvers(gradin_arena *arena, const gradin_patch_emission *l, int n_thread) {
    solver *own = gradin_arena_alloc(arena, (size_t)n_thread, sizeof *own);
    for (int i = 0; own && i < n_thread; i++) {
        own[i].through_m2 = gradin_arena_alloc(arena, cells(l, l->patches->n), sizeof(double));
        own[i].first = gradin_arena_alloc(arena, cells(l, l->model->n_element), sizeof(double));
        own[i].scratch = gradin_arena_alloc(arena, scratch_size(l), sizeof(double));
        if (!own[i].through_m2 || !own[i].first || !own[i].scratch) return NULL;
    }
    return own;
}

/* Memory is cleared as it is given out, which takes time: only as much as there are groups. */
static bool make_middles(gradin_arena *arena, gradin_patch_emission *l) {
    size_t n = (size_t)l->n_group * cells(l, l->model->n_element);
    for (int state = l->first_state; state < GRADIN_N_SHADE_STATE; state++) {
        l->power_1m2[state] = gradin_arena_alloc(arena, n, sizeof(double));
        if (!l->power_1m2[state]) return false;
    }
    return true;
}

static bool prepare(gradin_arena *arena, all_bands *all) {
    all->n_state = GRADIN_N_SHADE_STATE - all->l->first_state;
    all->alpha =
        gradin_arena_alloc(arena, cells(all->l, GRADIN_N_BAND * all->n_state), sizeof(double));
    if (!all->alpha) return false;
    for (int k = 0; k < all->n_state; k++)
        gradin_patches_alpha(all->l->model, all->l->patches,
                             (gradin_shade_state)(all->l->first_state + k), all->l->factor,
                             alpha_at(all, 0, k), cells(all->l, all->n_state));
    group_bands(all);
    all->path_m = mean_path_m(all->l);
    for (int k = 0; k < all->l->n_group; k++) fill_shares(all, &all->l->group[k]);
    return !all->l->has_only_middles || make_middles(arena, all->l);
}

gradin_status gradin_emission_solve(gradin_arena *arena, gradin_patch_emission *emission,
                                    int n_thread, gradin_error *error) {
    double bytes = 8.0 * (double)(cells(emission, emission->patches->n) + scratch_size(emission));
    int n_own = (int)fmax(fmin(n_thread, most_bytes / bytes), 1.0);
    all_bands all = {.l = emission};
    solver *own = alloc_solvers(arena, emission, n_own);
    gradin_status status = GRADIN_OK;
    if (!own || !prepare(arena, &all)) return out_of_memory(error);
#pragma omp parallel for num_threads(n_own) schedule(dynamic, 1)
    for (int k = 0; k < emission->n_group; k++) {
        gradin_status mine = solve_group(&all, k, &own[omp_get_thread_num()]);
#pragma omp critical(gradin_solve)
        if (mine != GRADIN_OK) status = mine;
    }
    if (status == GRADIN_OK) return GRADIN_OK;
    return gradin_error_add(error, status, NULL,
                            "the room's sound field has no finite solution: nothing absorbs");
}
