/* One event's mean squares at the seats, moment by moment.
 *
 * p^2(seat, band, t) = sum over elements of intensity times what the element lets in at the wave's
 * angle (envelope/angle.c) times the transfer. Seats go
 * in blocks: a block's matrix products are the work of one thread, so that any count of threads
 * gives the same bytes. */
#include "acoustics/event/levels.h"
#include "acoustics/envelope/element.h"

#include <omp.h>

enum { SEAT_BLOCK = 32 };

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

/* Power that one element lets in at one moment. */
static void let_in_at(const gradin_sounding *s, const double *a_energy, int e, int t) {
    const gradin_incidence *i = s->incidence;
    size_t n_time = (size_t)i->moments.n;
    int node;
    double part = gradin_angle_place(i->angle_rad[(size_t)e * n_time + (size_t)t], &node),
           sum = 0.0;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        const double *passed_m2 = s->room->passed_m2[e][b] + node;
        size_t at = gradin_incidence_at(i, e, b, t);
        double power = i->incident[at] * (passed_m2[0] + part * (passed_m2[1] - passed_m2[0]));
        s->powers.let_in[at] = power;
        sum += a_energy[b] * power;
    }
    s->powers.let_in_a[(size_t)e * n_time + (size_t)t] = sum;
}

static void fill_powers(gradin_sounding *s) {
    double a_energy[GRADIN_N_BAND];
    for (int b = 0; b < GRADIN_N_BAND; b++) a_energy[b] = gradin_a_energy(b);
    for (int e = 0; e < s->incidence->n_element; e++)
        for (int t = 0; t < s->incidence->moments.n; t++) let_in_at(s, a_energy, e, t);
}

gradin_status gradin_sounding_make(gradin_arena *arena, const gradin_prepared_room *room,
                                   const gradin_incidence *incidence, gradin_sounding *sounding,
                                   gradin_error *error) {
    size_t n_time = (size_t)incidence->moments.n, n_element = (size_t)incidence->n_element;
    size_t n_fed = gradin_transfer_feed_size(room->transfer, incidence->moments.n);
    *sounding = (gradin_sounding){room, incidence, {.n_time = incidence->moments.n}};
    gradin_powers *p = &sounding->powers;
    p->let_in = gradin_arena_alloc(arena, n_element * GRADIN_N_BAND * n_time, sizeof(double));
    p->let_in_a = gradin_arena_alloc(arena, n_element * n_time, sizeof(double));
    p->fed = gradin_arena_alloc(arena, n_fed, sizeof(double));
    if (!p->let_in || !p->let_in_a || !p->fed) return out_of_memory(error);
    fill_powers(sounding);
    gradin_transfer_feed(room->transfer, room->shades, p);
    return GRADIN_OK;
}

void gradin_square_a(const double *square, int n_time, double *sum) {
    for (int t = 0; t < n_time; t++) sum[t] = 0.0;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double weight = gradin_a_energy(b);
        for (int t = 0; t < n_time; t++) sum[t] += weight * square[b * n_time + t];
    }
}

/* What one thread works in. */
typedef struct bench {
    double *square, *factors, *scratch;
} bench;

static bench *alloc_benches(gradin_arena *arena, const gradin_sounding *s, size_t n_row, int n) {
    size_t n_time = (size_t)s->incidence->moments.n;
    size_t n_factor = gradin_transfer_scratch(s->room->transfer, SEAT_BLOCK);
    bench *own = gradin_arena_alloc(arena, (size_t)n, sizeof *own);
    for (int i = 0; own && i < n; i++) {
        own[i].square = gradin_arena_alloc(arena, SEAT_BLOCK * n_row * n_time, sizeof(double));
        own[i].factors = gradin_arena_alloc(arena, n_factor, sizeof(double));
        own[i].scratch = gradin_arena_alloc(arena, n_time, sizeof(double));
        if (!own[i].square || !own[i].factors || !own[i].scratch) return NULL;
    }
    return own;
}

gradin_status gradin_levels_each(const gradin_sounding *sounding, bool is_a_weighted,
                                 void (*turn)(const gradin_seat_turn *turn), void *user,
                                 gradin_error *error) {
    const gradin_transfer *transfer = sounding->room->transfer;
    size_t n_row = is_a_weighted ? 1 : GRADIN_N_BAND;
    size_t n_value = n_row * (size_t)sounding->incidence->moments.n;
    int n_thread = omp_in_parallel() ? 1 : omp_get_max_threads();
    gradin_arena *arena = gradin_arena_create();
    bench *own = arena ? alloc_benches(arena, sounding, n_row, n_thread) : NULL;
#pragma omp parallel for num_threads(n_thread) schedule(dynamic, 1) if (n_thread > 1)
    for (int from = 0; from < (own ? transfer->n_seat : 0); from += SEAT_BLOCK) {
        bench *mine = &own[n_thread > 1 ? omp_get_thread_num() : 0];
        int n = transfer->n_seat - from < SEAT_BLOCK ? transfer->n_seat - from : SEAT_BLOCK;
        (is_a_weighted ? gradin_transfer_hear_a
                       : gradin_transfer_hear)(transfer, sounding->room->shades, &sounding->powers,
                                               from, n, mine->square, mine->factors);
        for (int k = 0; k < n; k++)
            turn(&(gradin_seat_turn){sounding, from + k, mine->square + (size_t)k * n_value,
                                     mine->scratch, user});
    }
    gradin_arena_destroy(arena);
    return own ? GRADIN_OK : out_of_memory(error);
}
