/* Which element of the facade brings a seat most at the seat's maximum: each element's A-weighted
 * mean square, time-weighted as the maximum is. */
#include "acoustics/event/levels.h"

enum { SEAT_BLOCK = 32 };

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

/* Each moment's share in the weighted mean square at the seat's maximum, share[n_seat][n_time]. */
static void fill_shares(const gradin_seat_turn *turn) {
    const gradin_incidence *i = turn->sounding->incidence;
    double *share = (double *)turn->user + (size_t)turn->seat * (size_t)i->moments.n;
    gradin_peak peak = gradin_weighted_peak(&i->steps, turn->square, i->tau_s);
    gradin_weighted_shares(&i->steps, peak, i->tau_s, share);
}

/* The moments that have a share in a seat's maximum. */
typedef struct moment_span {
    int first, end;
    const double *share; /* [n_time] */
} moment_span;

static moment_span span_of(const double *share, int n_time) {
    moment_span span = {0, n_time, share};
    while (span.first < span.end && !(share[span.first] > 0.0)) span.first++;
    while (span.end > span.first && !(share[span.end - 1] > 0.0)) span.end--;
    return span;
}

/* Power let in at that maximum, in one band. */
static double let_in_at_maximum(const gradin_sounding *s, moment_span span, int element, int band) {
    const double *let_in = s->powers.let_in + gradin_incidence_at(s->incidence, element, band, 0);
    double sum = 0.0;
    for (int t = span.first; t < span.end; t++) sum += span.share[t] * let_in[t];
    return sum;
}

/* brought[n_seat][n_element], from the seat `from` on. */
static void fill_block(const gradin_sounding *s, const double *share, int from, int n_seat,
                       double *brought, double *h_1m2, double *factors) {
    int n_element = s->incidence->n_element, n_time = s->incidence->moments.n;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        gradin_transfer_rows(s->room->transfer, s->room->shades, b, from, n_seat, h_1m2, factors);
        for (int k = 0; k < n_seat; k++) {
            moment_span span = span_of(share + (size_t)(from + k) * (size_t)n_time, n_time);
            for (int e = 0; e < n_element; e++) {
                size_t at = (size_t)k * (size_t)n_element + (size_t)e;
                brought[at] += gradin_a_energy(b) * h_1m2[at] * let_in_at_maximum(s, span, e, b);
            }
        }
    }
}

static int largest_at(const double *value, int n) {
    int best = 0;
    for (int i = 1; i < n; i++)
        if (value[i] > value[best]) best = i;
    return best;
}

static gradin_status find_block(const gradin_sounding *s, const double *share, int from, int n_seat,
                                int *loudest) {
    size_t n_element = (size_t)s->incidence->n_element, n = (size_t)n_seat * n_element;
    gradin_arena *arena = gradin_arena_create();
    double *brought = arena ? gradin_arena_alloc(arena, n, sizeof *brought) : NULL;
    double *h_1m2 = brought ? gradin_arena_alloc(arena, n, sizeof *h_1m2) : NULL;
    double *factors =
        h_1m2 ? gradin_arena_alloc(arena, gradin_transfer_scratch(s->room->transfer, n_seat),
                                   sizeof *factors)
              : NULL;
    if (factors) fill_block(s, share, from, n_seat, brought, h_1m2, factors);
    for (int k = 0; factors && k < n_seat; k++)
        loudest[from + k] = largest_at(brought + (size_t)k * n_element, (int)n_element);
    gradin_arena_destroy(arena);
    return factors ? GRADIN_OK : GRADIN_NO_MEMORY;
}

static gradin_status find_all(const gradin_sounding *s, double *share, int *loudest,
                              gradin_error *error) {
    int n_seat = s->room->model->seats.n_seat;
    gradin_status status = gradin_levels_each(s, true, fill_shares, share, error);
    if (status != GRADIN_OK) return status;
#pragma omp parallel for schedule(dynamic, 1)
    for (int from = 0; from < n_seat; from += SEAT_BLOCK) {
        int n = n_seat - from < SEAT_BLOCK ? n_seat - from : SEAT_BLOCK;
        gradin_status own = find_block(s, share, from, n, loudest);
#pragma omp critical(gradin_loudest)
        if (own != GRADIN_OK) status = own;
    }
    return status == GRADIN_OK ? status : out_of_memory(error);
}

gradin_status gradin_sounding_loudest(const gradin_sounding *sounding, int *loudest,
                                      gradin_error *error) {
    size_t n = (size_t)sounding->room->model->seats.n_seat * (size_t)sounding->incidence->moments.n;
    gradin_arena *arena = gradin_arena_create();
    double *share = arena ? gradin_arena_alloc(arena, n, sizeof *share) : NULL;
    gradin_status status = share ? find_all(sounding, share, loudest, error) : out_of_memory(error);
    gradin_arena_destroy(arena);
    return status;
}
