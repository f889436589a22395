/* How radiosity decays, and the factor on the absorption that makes it decay as measured.
 *
 * After the source stops, what patches send back obeys b_i(t) = (1 - alpha_i)/A_i sum_j G_ij
 * e^(-m r_ij) b_j(t - r_ij/c) (Kuttruff, "Room Acoustics", the integral equation of a room's
 * diffuse reflections). In its last and as a rule only visible part it falls as e^(-k t), k =
 * 6 ln(10)/T, and with s_i = sqrt((1 - alpha_i)/A_i) and z = b/s what is left is
 *     (1) z_i = s_i sum_j G_ij e^((k/c - m) r_ij) s_j z_j:
 * the symmetric matrix of (1) has 1 as its largest eigenvalue. So with T measured the matrix is
 * known but for s, and the eigenvalue falls as the absorption grows: the factor is where it is 1.
 * Power iteration finds the eigenvalue (no entry is below 0: Perron and Frobenius), the secant rule
 * kept within a bracket the factor. In a sphere, where F_ij = A_j/A, (1) has a closed form
 * (test_reverberation.c). Eyring's equation takes all paths as one and rings shorter: in a box 7 to
 * 8 % more absorption is needed here for the same time at alpha 0.25, which is what Kuttruff's
 * correction 1 + g2/2 ln(1 - alpha) with a variance g2 of the paths near 0.4 has (from memory).
 *
 * Limits: the late decay, which a short measured range of a room with very uneven absorption may
 * not show; one factor for all surfaces. */
#include "acoustics/patches/decay.h"
#include "acoustics/patches/radiosity.h"

#include <omp.h>

enum { MOST_TURNS = 2000, MOST_STEPS = 60 };

static const double close_enough = 1e-9, least_factor = 1e-3, most_factor = 1e3, widen = 1.3;

double gradin_decay_air_1m(double air_1m, double time_s) {
    return air_1m - 6.0 * log(10.0) / (time_s * gradin_room_air_speed_ms());
}

/* y = m x of a symmetric matrix by its upper half; BLAS rounds by where its arguments lie. */
static void multiply(const double *m, int n, const double *x, double *y) {
    for (int i = 0; i < n; i++) y[i] = 0.0;
    for (int i = 0; i < n; i++) {
        const double *row = m + (size_t)i * (size_t)n;
        double sum = row[i] * x[i];
        for (int j = i + 1; j < n; j++) {
            sum += row[j] * x[j];
            y[j] += row[j] * x[i];
        }
        y[i] += sum;
    }
}

double gradin_decay_left(const gradin_decay *decay, const double *alpha) {
    int n = decay->n;
    double *z = decay->z, *root = z + n, *next = root + n, left = 0.0, before;
    for (int i = 0; i < n; i++) root[i] = sqrt((1.0 - alpha[i]) / decay->area_m2[i]);
    for (int turn = 0; turn < MOST_TURNS; turn++) {
        double square = 0.0, along = 0.0;
        for (int i = 0; i < n; i++) square += z[i] * z[i];
        if (square == 0.0) return 0.0;
        for (int i = 0; i < n; i++) z[i] *= root[i] / sqrt(square);
        multiply(decay->through_m2, n, z, next); /* (1) */
        for (int i = 0; i < n; i++) {
            along += z[i] * next[i];
            z[i] = root[i] * next[i];
        }
        before = left;
        left = along;
        if (!(left > 0.0) || fabs(left - before) <= close_enough * left) break;
    }
    return left;
}

/* One run of bands: what it takes to ask for its factor. */
typedef struct asked {
    const gradin_model *model;
    const gradin_patches *patches;
    gradin_decay decay;
    double *alpha; /* [n] */
    int band;
} asked;

/* Above 0 while the room would ring longer than measured. */
static double excess(const asked *a, double factor) {
    const gradin_reverberation *r = a->model->reverberation;
    gradin_scaling scaling = {.seating = gradin_reverberation_seating(r)};
    scaling.factor[a->band] = factor;
    gradin_patches_alpha_band(a->model, a->patches, (gradin_shade_state)r->shades, &scaling,
                              a->band, a->alpha);
    for (int i = 0; i < a->decay.n; i++) a->decay.z[i] = fmax(a->decay.z[i], 1e-12);
    return log(fmax(gradin_decay_left(&a->decay, a->alpha), 1e-300));
}

typedef struct bracket {
    double low, high; /* 0: not found yet; the room rings too long at low and not at high */
    double low_excess, high_excess;
} bracket;

static bool put(bracket *b, double at, double value) {
    if (value > 0.0) {
        b->low = at;
        b->low_excess = value;
    } else {
        b->high = at;
        b->high_excess = value;
    }
    return value > 0.0;
}

/* False when no factor within bounds is on the other side. */
static bool find_bracket(const asked *a, bracket *b) {
    double at = 1.0;
    *b = (bracket){.low = 0.0};
    double step = put(b, at, excess(a, at)) ? widen : 1.0 / widen;
    while (b->low == 0.0 || b->high == 0.0) {
        at *= step;
        if (at > most_factor || at < least_factor) return false;
        put(b, at, excess(a, at));
    }
    return true;
}

/* By the Illinois rule: a secant that halves what it knows of a side that it keeps twice. */
static double close_in(const asked *a, bracket *b) {
    int kept = 0;
    double at = b->low;
    for (int i = 0; i < MOST_STEPS && b->high - b->low > 1e-7 * b->low; i++) {
        at = b->low + (b->high - b->low) * b->low_excess / (b->low_excess - b->high_excess);
        double value = excess(a, at);
        if (fabs(value) < 10.0 * close_enough) break;
        bool is_low = put(b, at, value);
        if (is_low && kept == 1) b->high_excess *= 0.5;
        if (!is_low && kept == -1) b->low_excess *= 0.5;
        kept = is_low ? 1 : -1;
    }
    return at;
}

/* 0 when there is none. */
static double find_factor(const asked *a) {
    bracket found;
    return find_bracket(a, &found) ? close_in(a, &found) : 0.0;
}

typedef struct runs {
    int n, first[GRADIN_N_BAND], length[GRADIN_N_BAND];
} runs;

static runs list_runs(const gradin_reverberation *measured) {
    runs all = {.n = 0};
    for (int first = 0; first < GRADIN_N_BAND; first += all.length[all.n - 1]) {
        all.first[all.n] = first;
        all.length[all.n++] = gradin_reverberation_run(measured, first);
    }
    return all;
}

static bool alloc_own(gradin_arena *arena, int n_patch, int n_thread, double **through_m2,
                      double **scratch) {
    size_t n = (size_t)n_patch;
    for (int i = 0; i < n_thread; i++) {
        through_m2[i] = gradin_arena_alloc(arena, n * n, sizeof(double));
        scratch[i] = gradin_arena_alloc(arena, 4 * n, sizeof(double));
        if (!through_m2[i] || !scratch[i]) return false;
    }
    return true;
}

gradin_status gradin_decay_factors(gradin_arena *scratch, const gradin_model *model,
                                   const gradin_patches *patches, const gradin_exchange *exchange,
                                   const double *air_1m, int n_thread, double *factor,
                                   gradin_error *error) {
    for (int b = 0; b < GRADIN_N_BAND; b++) factor[b] = 1.0;
    if (!model->reverberation) return GRADIN_OK;
    runs all = list_runs(model->reverberation);
    int n = patches->n, n_own = n_thread < all.n ? n_thread : all.n;
    double **through_m2 = gradin_arena_alloc(scratch, (size_t)n_own, sizeof *through_m2);
    double **own = gradin_arena_alloc(scratch, (size_t)n_own, sizeof *own);
    if (!through_m2 || !own || !alloc_own(scratch, n, n_own, through_m2, own))
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
#pragma omp parallel for num_threads(n_own) schedule(dynamic, 1)
    for (int k = 0; k < all.n; k++) {
        int thread = omp_get_thread_num(), band = all.first[k] + all.length[k] / 2;
        double time_s = model->reverberation->measured_s[band];
        gradin_radiosity_air_fill(exchange, patches, gradin_decay_air_1m(air_1m[band], time_s),
                                  through_m2[thread]);
        asked a = {.model = model,
                   .patches = patches,
                   .decay = {n, exchange->area_m2, through_m2[thread], own[thread]},
                   .alpha = own[thread] + 3 * (size_t)n,
                   .band = band};
        for (int i = 0; i < n; i++) a.decay.z[i] = 1.0;
        double found = find_factor(&a);
        for (int b = all.first[k]; b < all.first[k] + all.length[k]; b++) factor[b] = found;
    }
    for (int b = 0; b < GRADIN_N_BAND; b++)
        if (factor[b] == 0.0)
            return gradin_reverberation_refuse(model, b, "out of reach of radiosity in this room",
                                               error);
    return GRADIN_OK;
}
