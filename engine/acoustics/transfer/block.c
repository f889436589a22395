/* What patches send, times what seats see of them through the air: direct part included.
 *
 * An octave of bands is the work of one thread. Air takes e^(-m r); of the octave's thirds the
 * middle one has it by exp() and the others by the series of the small rest, (1) e^(-d) = 1 - d (1
 * - d/2 (1
 * - d/3 (1 - d/4 (1 - d/5)))), within 3e-7 for d of at most a quarter. */
#include "acoustics/transfer/block.h"

#include <cblas.h>
#include <omp.h>
#include <string.h>

static const double most_rest = 0.25;

struct gradin_block_scratch {
    int n_thread;
    size_t n_cell;                      /* of one block */
    double *apart_m, *middle, *thinned; /* [n_cell], [n_thread][n_cell], [n_thread][n_cell] */
};

gradin_block_scratch *gradin_block_scratch_alloc(gradin_arena *arena,
                                                 const gradin_transfer *transfer, int n_seat,
                                                 int n_thread) {
    size_t n = (size_t)n_seat * (size_t)transfer->n_patch, n_all = (size_t)n_thread * n;
    gradin_block_scratch *s = gradin_arena_alloc(arena, 1, sizeof *s);
    if (!s) return NULL;
    *s = (gradin_block_scratch){.n_thread = n_thread,
                                .n_cell = n,
                                .apart_m = gradin_arena_alloc(arena, n, sizeof(double)),
                                .middle = gradin_arena_alloc(arena, n_all, sizeof(double)),
                                .thinned = gradin_arena_alloc(arena, n_all, sizeof(double))};
    return s->apart_m && s->middle && s->thinned ? s : NULL;
}

static void fill_apart(const gradin_transfer *t, int from, int n_seat, double *apart_m) {
    for (int s = from; s < from + n_seat; s++, apart_m += t->n_patch)
        for (int j = 0; j < t->n_patch; j++) {
            const double *p = t->patch_m + 3 * (size_t)j;
            apart_m[j] = gradin_norm(gradin_sub((gradin_vec3){p[0], p[1], p[2]}, t->eye_m[s]));
        }
}

static double small_exp(double d) {
    if (fabs(d) > most_rest) return exp(-d);
    return 1.0 -
           d * (1.0 - d / 2.0 * (1.0 - d / 3.0 * (1.0 - d / 4.0 * (1.0 - d / 5.0)))); /* (1) */
}

static void multiply_band(gradin_transfer *t, int state, int band, int from, int n_seat,
                          const double *thinned) {
    size_t row = ((size_t)band * (size_t)t->n_seat + (size_t)from) * (size_t)t->n_element;
    size_t n_emission = (size_t)t->n_element * (size_t)t->n_patch;
    double *h = t->whole_1m2[state] + row;
    memcpy(h, t->direct_1m2 + (size_t)from * (size_t)t->n_element,
           (size_t)n_seat * (size_t)t->n_element * sizeof *h);
    cblas_dgemm(CblasRowMajor, CblasNoTrans, CblasTrans, n_seat, t->n_element, t->n_patch, 1.0,
                thinned, t->n_patch, t->emission_1m2[state] + (size_t)band * n_emission, t->n_patch,
                1.0, h, t->n_element);
}

void gradin_block_multiply(gradin_transfer *t, int first_state, int from, int n_seat,
                           const double *seen, gradin_block_scratch *scratch) {
    size_t n = (size_t)n_seat * (size_t)t->n_patch;
    fill_apart(t, from, n_seat, scratch->apart_m);
#pragma omp parallel for num_threads(scratch->n_thread) schedule(dynamic, 1)
    for (int octave = 0; octave < GRADIN_N_OCTAVE; octave++) {
        size_t own = (size_t)omp_get_thread_num() * scratch->n_cell;
        double *middle = scratch->middle + own, *thinned = scratch->thinned + own;
        double air_1m = t->air_1m[3 * octave + 1];
        for (size_t k = 0; k < n; k++)
            middle[k] = seen[k] > 0.0 ? seen[k] * exp(-air_1m * scratch->apart_m[k]) : 0.0;
        for (int b = 3 * octave; b < 3 * octave + 3; b++) {
            double rest_1m = t->air_1m[b] - air_1m;
            for (size_t k = 0; k < n; k++)
                thinned[k] = middle[k] * small_exp(rest_1m * scratch->apart_m[k]);
            for (int state = first_state; state < GRADIN_N_SHADE_STATE; state++)
                multiply_band(t, state, b, from, n_seat, thinned);
        }
    }
}
