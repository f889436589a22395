/* Exchange areas A_i F_ij of all patches, with what stands between them.
 *
 * Form factor of the unhidden pair, times the bare shares of both, times the share of rays that get
 * through, of four between points of both, or of two where each is so small from the other that
 * hundreds like it fill its row: what they err by averages out. Rays and shares are samples, so the
 * rows do not quite sum to the areas, as those of a closed room must. The matrix is then scaled by
 * d_i d_j until they do: it stays symmetric (reciprocity) and closed, so that no energy is made or
 * lost. (Symmetric scaling: Sinkhorn 1964; consistent view factors: van Leersum, Int. J. Heat and
 * Fluid Flow 10 (1989) 83.)
 *
 * Limit: a patch in a narrow gap, between the turned boxes of a curved row for one, sees little but
 * the patch across. Where the bare areas of the two differ, no such scaling fills the greater from
 * the smaller: one factor would run away and take the smaller out of the room, and even equal ones
 * close slowly. So a factor stays below a bound, and what a row still lacks its patch exchanges
 * with itself, as sound does that stays in its gap. */
#include "acoustics/patches/exchange.h"

#include <cblas.h>
#include <omp.h>

enum { MOST_ROUNDS = 2000 };

static const double far_form = 0.004;
static const double closed_to = 1e-9;
static const double momentum = 0.2;
static const double most_scale = 8.0;     /* patches that see the room ask for less than 6 */
static const double most_kept_part = 0.1; /* of the room's area */

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

/* Some of each lies before the other's plane; else all form factors between them are nought. */
static bool faces(const gradin_patch *a, const gradin_patch *b) {
    return gradin_dot(a->rectangle.normal, b->rectangle.normal) < 1.0 - 1e-12 &&
           gradin_rectangle_before_m(&a->rectangle, &b->rectangle) > 0.0 &&
           gradin_rectangle_before_m(&b->rectangle, &a->rectangle) > 0.0;
}

/* What one thread asks of a row: the patches before it and the share of rays that gets through to
 * each. */
typedef struct asked {
    int *other;         /* [n_patch] */
    double *share;      /* [n_patch] */
    bool *is_far;       /* [n_patch] */
    int *place;         /* [n_patch] in `other`, of the rays from one point */
    gradin_vec3 *end_m; /* [n_patch] of them */
    bool *is_clear;     /* [n_patch] */
} asked;

static asked *alloc_asked(gradin_arena *arena, int n_patch, int n_thread) {
    asked *all = gradin_arena_alloc(arena, (size_t)n_thread, sizeof *all);
    size_t n = (size_t)n_patch;
    for (int i = 0; all && i < n_thread; i++) {
        all[i] = (asked){.other = gradin_arena_alloc(arena, n, sizeof(int)),
                         .share = gradin_arena_alloc(arena, n, sizeof(double)),
                         .is_far = gradin_arena_alloc(arena, n, sizeof(bool)),
                         .place = gradin_arena_alloc(arena, n, sizeof(int)),
                         .end_m = gradin_arena_alloc(arena, n, sizeof(gradin_vec3)),
                         .is_clear = gradin_arena_alloc(arena, n, sizeof(bool))};
        if (!all[i].other || !all[i].share || !all[i].is_far || !all[i].place || !all[i].end_m ||
            !all[i].is_clear)
            return NULL;
    }
    return all;
}

/* The form factor of each to the other is less than far_form. */
static bool are_far(const gradin_patch *a, const gradin_patch *b) {
    gradin_vec3 way = gradin_sub(b->middle_m, a->middle_m);
    double larger_m2 = a->area_m2 > b->area_m2 ? a->area_m2 : b->area_m2;
    return larger_m2 < far_form * GRADIN_PI * gradin_dot(way, way);
}

/* Later patches that patch i faces; returns how many. */
static int list_faced(const gradin_patches *patches, int i, asked *own) {
    const gradin_patch *a = &patches->patch[i];
    int n = 0;
    for (int j = i + 1; j < patches->n; j++) {
        if (!faces(a, &patches->patch[j])) continue;
        own->share[n] = 0.0;
        own->is_far[n] = are_far(a, &patches->patch[j]);
        own->other[n++] = j;
    }
    return n;
}

/* Far patches get the first and the last of the rays or the two between, in turn from one to the
 * next: the points of every patch are all asked by some, or what two of them err by would stay. */
static bool is_asked(const asked *own, int i, int k, int q) {
    bool is_outer = q % (GRADIN_PATCH_SIGHT - 1) == 0;
    return !own->is_far[k] || is_outer == ((i + own->other[k]) % 2 == 0);
}

/* Of those patches the share of the rays that gets through, from a point of the one to the opposite
 * one of the other. */
static int look_across(const gradin_patches *patches, const gradin_mask_scene *scene, int i,
                       asked *own) {
    const gradin_patch *a = &patches->patch[i];
    int n = list_faced(patches, i, own);
    for (int q = 0; q < GRADIN_PATCH_SIGHT; q++) {
        int n_ray = 0, opposite = GRADIN_PATCH_SIGHT - 1 - q;
        for (int k = 0; k < n; k++) {
            if (!is_asked(own, i, k, q)) continue;
            own->place[n_ray] = k;
            own->end_m[n_ray++] = patches->patch[own->other[k]].sight_m[opposite];
        }
        gradin_rays_clear(scene, a->sight_m[q], GRADIN_NO_OWNER, own->end_m, n_ray, own->is_clear);
        for (int r = 0; r < n_ray; r++) {
            int k = own->place[r];
            if (own->is_clear[r]) own->share[k] += own->is_far[k] ? 0.5 : 1.0 / GRADIN_PATCH_SIGHT;
        }
    }
    return n;
}

static void fill_row(const gradin_patches *patches, const gradin_mask_scene *scene, int i,
                     asked *own, double *exchange_m2) {
    const gradin_patch *a = &patches->patch[i];
    size_t n = (size_t)patches->n;
    int n_other = look_across(patches, scene, i, own);
    for (int k = 0; k < n_other; k++) {
        int j = own->other[k];
        const gradin_patch *b = &patches->patch[j];
        if (own->share[k] == 0.0) continue;
        double share = a->exposed * b->exposed * own->share[k];
        double value_m2 = share * gradin_form_exchange_m2(&a->rectangle, &b->rectangle);
        exchange_m2[(size_t)i * n + (size_t)j] = value_m2;
        exchange_m2[(size_t)j * n + (size_t)i] = value_m2;
    }
}

static double row_sum(const double *m, int n, int i) {
    double sum = 0.0;
    for (int j = 0; j < n; j++) sum += m[(size_t)i * (size_t)n + (size_t)j];
    return sum;
}

/* d_i sum_j m_ij d_j */
static void scaled_sums(const double *m, const double *d, int n, double *sum) {
#pragma omp parallel for schedule(static)
    for (int i = 0; i < n; i++) sum[i] = d[i] * cblas_ddot(n, m + (size_t)i * (size_t)n, 1, d, 1);
}

/* Of the rows that can still be mended: one whose factor is at its bound may stay short. */
static double worst_gap(const double *sum, const double *wanted, const double *d, int n) {
    double worst = 0.0;
    for (int i = 0; i < n; i++)
        if (sum[i] > 0.0 && (d[i] < most_scale || sum[i] > wanted[i]))
            worst = fmax(worst, fabs(sum[i] / wanted[i] - 1.0));
    return worst;
}

/* Brings rows that sum to too much down, both ways alike, and puts what rows lack on the diagonal.
 * Returns how much that is. */
static double keep_rest(double *m, const double *wanted, int n, const double *sum, double *share) {
    double kept = 0.0;
    for (int i = 0; i < n; i++) share[i] = sum[i] > wanted[i] ? wanted[i] / sum[i] : 1.0;
#pragma omp parallel for schedule(static)
    for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++)
            m[(size_t)i * (size_t)n + (size_t)j] *= fmin(share[i], share[j]);
    for (int i = 0; i < n; i++) {
        double rest = wanted[i] - row_sum(m, n, i);
        if (!(sum[i] > 0.0) || rest <= closed_to * wanted[i]) continue;
        m[(size_t)i * (size_t)n + (size_t)i] += rest;
        kept += rest;
    }
    return kept;
}

static bool are_all_closed(const double *sum, const double *wanted, int n) {
    for (int i = 0; i < n; i++)
        if (sum[i] > 0.0 && fabs(sum[i] / wanted[i] - 1.0) > closed_to) return false;
    return true;
}

/* Scales each row by what it lacks, and on by a part of what it was scaled by last: a heavy ball in
 * the logarithms (Polyak 1964). Of an error along an eigenvector of the closed rows, with
 * eigenvalue h - 1 in -1..1, a round near the end leaves the larger root r of r2 - (1 + momentum -
 * h) r + momentum = 0: 0.45 of it for any h above 0.31, and less than all of it for the rest. */
static void step(const double *sum, const double *wanted, int n, double *d, double *before) {
    for (int i = 0; i < n; i++) {
        if (!(sum[i] > 0.0)) continue;
        double next = d[i] * (wanted[i] / sum[i]) * pow(d[i] / before[i], momentum);
        before[i] = d[i];
        d[i] = next < most_scale ? next : most_scale;
    }
}

double gradin_exchange_close(double *m, const double *wanted, int n, double *scratch) {
    double *d = scratch, *sum = scratch + n, *before = sum + n;
    for (int i = 0; i < n; i++) before[i] = d[i] = 1.0;
    scaled_sums(m, d, n, sum);
    for (int round = 0; round < MOST_ROUNDS && worst_gap(sum, wanted, d, n) > closed_to; round++) {
        step(sum, wanted, n, d, before);
        scaled_sums(m, d, n, sum);
    }
#pragma omp parallel for schedule(static)
    for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++) m[(size_t)i * (size_t)n + (size_t)j] *= d[i] * d[j];
    return are_all_closed(sum, wanted, n) ? 0.0 : keep_rest(m, wanted, n, sum, d);
}

static void note_raw(gradin_exchange *e) {
    e->raw_low = INFINITY;
    e->raw_high = -INFINITY;
    for (int i = 0; i < e->n; i++) {
        double raw = row_sum(e->exchange_m2, e->n, i) / e->area_m2[i];
        e->raw_low = fmin(e->raw_low, raw);
        e->raw_high = fmax(e->raw_high, raw);
    }
}

static gradin_status check_kept(const gradin_exchange *e, gradin_error *error) {
    double all_m2 = 0.0;
    for (int i = 0; i < e->n; i++) all_m2 += e->area_m2[i];
    if (e->kept_m2 <= most_kept_part * all_m2) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_NUMERIC, NULL,
                            "the room's patches do not close: %.1f of %.1f m2 see too little of "
                            "the rest; a smaller room_patch may help",
                            e->kept_m2, all_m2);
}

gradin_status gradin_exchange_make(gradin_arena *arena, const gradin_patches *patches,
                                   const gradin_mask_scene *scene, gradin_exchange *exchange,
                                   gradin_error *error) {
    size_t n = (size_t)patches->n;
    *exchange = (gradin_exchange){.n = patches->n};
    exchange->area_m2 = gradin_arena_alloc(arena, n, sizeof(double));
    exchange->exchange_m2 = gradin_arena_alloc(arena, n * n, sizeof(double));
    int n_thread = omp_get_max_threads();
    asked *own = alloc_asked(arena, patches->n, n_thread);
    double *scratch = gradin_arena_alloc(arena, 3 * n, sizeof *scratch);
    if (!exchange->area_m2 || !exchange->exchange_m2 || !own || !scratch)
        return out_of_memory(error);
    for (int i = 0; i < patches->n; i++) exchange->area_m2[i] = patches->patch[i].area_m2;
#pragma omp parallel for num_threads(n_thread) schedule(dynamic, 8)
    for (int i = 0; i < patches->n; i++)
        fill_row(patches, scene, i, &own[omp_get_thread_num()], exchange->exchange_m2);
    note_raw(exchange);
    exchange->kept_m2 =
        gradin_exchange_close(exchange->exchange_m2, exchange->area_m2, exchange->n, scratch);
    return check_kept(exchange, error);
}
