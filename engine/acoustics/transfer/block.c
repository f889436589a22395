/* What patches send, times what seats see of them through the air: direct part included.
 *
 * Bands of a group differ by a share of what is sent (emission.h) and by the air on the way to the
 * seat, e^(-m r). With H0 the product in the group's middle band and H1 the same with each patch
 * times its distance, (1) H = share H0 e^(-(m - m0) H1/H0): the mean distance is right and its
 * spread left out, which is (m - m0)^2 var(r)/2, under 1e-4 of H up to 2.5 kHz in a hall of 40 m. A
 * group is the work of one thread. */
#include "acoustics/transfer/block.h"

#include <cblas.h>
#include <omp.h>

struct gradin_block_scratch {
    int n_thread;
    size_t n_cell, n_pair;             /* of one block: [seat][patch], [seat][element] */
    double *apart_m, *thinned, *far_m; /* [n_cell], [n_thread][n_cell], [n_thread][n_cell] */
    double *whole, *whole_far;         /* H0 and H1 [n_thread][n_pair] */
};

gradin_block_scratch *gradin_block_scratch_alloc(gradin_arena *arena,
                                                 const gradin_transfer *transfer, int n_seat,
                                                 int n_thread) {
    size_t n = (size_t)n_seat * (size_t)transfer->n_patch, n_all = (size_t)n_thread;
    size_t n_pair = (size_t)n_seat * (size_t)transfer->n_element;
    gradin_block_scratch *s = gradin_arena_alloc(arena, 1, sizeof *s);
    if (!s) return NULL;
    *s = (gradin_block_scratch){.n_thread = n_thread,
                                .n_cell = n,
                                .n_pair = n_pair,
                                .apart_m = gradin_arena_alloc(arena, n, sizeof(double)),
                                .thinned = gradin_arena_alloc(arena, n_all * n, sizeof(double)),
                                .far_m = gradin_arena_alloc(arena, n_all * n, sizeof(double)),
                                .whole = gradin_arena_alloc(arena, n_all * n_pair, sizeof(double)),
                                .whole_far =
                                    gradin_arena_alloc(arena, n_all * n_pair, sizeof(double))};
    return s->apart_m && s->thinned && s->far_m && s->whole && s->whole_far ? s : NULL;
}

/* The work of one thread: seats from `from` on and one group of bands. */
typedef struct work {
    gradin_transfer *t;
    const gradin_patch_emission *sent;
    const gradin_band_group *group;
    int from, n_seat;
    double *thinned, *far_m, *whole, *whole_far;
} work;

static void fill_apart(const gradin_transfer *t, int from, int n_seat, double *apart_m) {
    for (int s = from; s < from + n_seat; s++, apart_m += t->n_patch)
        for (int j = 0; j < t->n_patch; j++) {
            const double *p = t->patch_m + 3 * (size_t)j;
            apart_m[j] = gradin_norm(gradin_sub((gradin_vec3){p[0], p[1], p[2]}, t->eye_m[s]));
        }
}

static void look_through_air(const work *w, const double *seen, const double *apart_m) {
    size_t n = (size_t)w->n_seat * (size_t)w->t->n_patch;
    double air_1m = w->t->air_1m[w->group->middle];
    for (size_t k = 0; k < n; k++) {
        w->thinned[k] = seen[k] > 0.0 ? seen[k] * exp(-air_1m * apart_m[k]) : 0.0;
        w->far_m[k] = w->thinned[k] * apart_m[k];
    }
}

static void multiply(const work *w, int state, const double *view, double *h) {
    const gradin_transfer *t = w->t;
    size_t n = (size_t)t->n_element * (size_t)t->n_patch, k = (size_t)(w->group - w->sent->group);
    cblas_dgemm(CblasRowMajor, CblasNoTrans, CblasTrans, w->n_seat, t->n_element, t->n_patch, 1.0,
                view, t->n_patch, w->sent->power_1m2[state] + k * n, t->n_patch, 0.0, h,
                t->n_element);
}

static void fill_band(const work *w, int state, int band) {
    const gradin_transfer *t = w->t;
    size_t n_element = (size_t)t->n_element, n = (size_t)w->n_seat * n_element;
    const double *direct = t->direct_1m2 + (size_t)w->from * n_element;
    double *h = t->whole_1m2[state] + gradin_transfer_at(t, band, w->from, 0);
    double rest_1m = t->air_1m[band] - t->air_1m[w->group->middle];
    double share = w->sent->share[state][band];
    for (size_t k = 0; k < n; k++) {
        double thin = rest_1m != 0.0 && w->whole[k] > 0.0
                          ? exp(-rest_1m * w->whole_far[k] / w->whole[k])
                          : 1.0;
        h[k] = direct[k] + share * w->whole[k] * thin; /* (1) */
    }
}

static void fill_group(const work *w) {
    for (int state = w->sent->first_state; state < GRADIN_N_SHADE_STATE; state++) {
        multiply(w, state, w->thinned, w->whole);
        if (w->group->n > 1) multiply(w, state, w->far_m, w->whole_far);
        for (int b = w->group->first; b < w->group->first + w->group->n; b++)
            fill_band(w, state, b);
    }
}

void gradin_block_multiply(gradin_transfer *t, const gradin_patch_emission *sent, int from,
                           int n_seat, const double *seen, gradin_block_scratch *scratch) {
    fill_apart(t, from, n_seat, scratch->apart_m);
#pragma omp parallel for num_threads(scratch->n_thread) schedule(dynamic, 1)
    for (int k = 0; k < sent->n_group; k++) {
        size_t thread = (size_t)omp_get_thread_num();
        work own = {.t = t,
                    .sent = sent,
                    .group = &sent->group[k],
                    .from = from,
                    .n_seat = n_seat,
                    .thinned = scratch->thinned + thread * scratch->n_cell,
                    .far_m = scratch->far_m + thread * scratch->n_cell,
                    .whole = scratch->whole + thread * scratch->n_pair,
                    .whole_far = scratch->whole_far + thread * scratch->n_pair};
        look_through_air(&own, seen, scratch->apart_m);
        fill_group(&own);
    }
}
