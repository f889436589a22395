/* A transfer applied to powers.
 *
 * The direct part has no band in it: one matrix product [seat][element] x [element][band, time].
 * The reverberant part goes through what all elements feed together: two sides of the room, or its
 * patches, each with a sum over the elements of its own. */
#include "acoustics/transfer/transfer.h"

#include <cblas.h>
#include <string.h>

static size_t at(const gradin_transfer *t, int band, int row, int n_row) {
    return ((size_t)band * (size_t)n_row + (size_t)row) * (size_t)t->n_element;
}

size_t gradin_transfer_feed_size(const gradin_transfer *t, int n_time) {
    size_t n = (size_t)n_time;
    if (t->form == GRADIN_TRANSFER_BY_SIDE) return 2 * (GRADIN_N_BAND + 1) * n;
    return t->form == GRADIN_TRANSFER_BY_PATCH ? GRADIN_N_BAND * (size_t)t->n_patch * n : 0;
}

size_t gradin_transfer_scratch(const gradin_transfer *t, int n_seat) {
    return t->form == GRADIN_TRANSFER_BY_PATCH ? (size_t)n_seat * (size_t)t->n_patch : 0;
}

/* fed[listener's side][GRADIN_N_BAND rows, then their A-weighted sum][time] */
static void feed_sides(const gradin_transfer *t, gradin_shade_state state, gradin_powers *p) {
    size_t n = (size_t)p->n_time, n_row = GRADIN_N_BAND + 1;
    memset(p->fed, 0, 2 * n_row * n * sizeof *p->fed);
    for (int side = 0; side < 2; side++)
        for (int b = 0; b < GRADIN_N_BAND; b++) {
            double *fed = p->fed + ((size_t)side * n_row + (size_t)b) * n;
            double *sum = p->fed + ((size_t)side * n_row + GRADIN_N_BAND) * n;
            for (size_t e = 0; e < (size_t)t->n_element; e++) {
                double factor = t->side_1m2[state][side][t->element_side[e]][b];
                const double *let_in = p->let_in + (e * GRADIN_N_BAND + (size_t)b) * n;
                for (size_t k = 0; k < n; k++) fed[k] += factor * let_in[k];
            }
            for (size_t k = 0; k < n; k++) sum[k] += gradin_a_energy(b) * fed[k];
        }
}

void gradin_transfer_feed(const gradin_transfer *t, gradin_shade_state state, gradin_powers *p) {
    if (t->form == GRADIN_TRANSFER_BY_SIDE) feed_sides(t, state, p);
    if (t->form != GRADIN_TRANSFER_BY_PATCH) return;
    for (int b = 0; b < GRADIN_N_BAND; b++) /* [patch][time] = [element][patch]' [element][time] */
        cblas_dgemm(CblasRowMajor, CblasTrans, CblasNoTrans, t->n_patch, p->n_time, t->n_element,
                    1.0, t->emission_1m2[state] + at(t, b, 0, t->n_patch), t->n_patch,
                    p->let_in + b * p->n_time, GRADIN_N_BAND * p->n_time, 0.0,
                    p->fed + (size_t)b * (size_t)t->n_patch * (size_t)p->n_time, p->n_time);
}

/* What the seats see of the patches through the air of one band, [n_seat][n_patch]. */
static void look_through_air(const gradin_transfer *t, int band, int from, int n_seat,
                             double *thinned) {
    size_t n = (size_t)t->n_patch;
    for (int s = from; s < from + n_seat; s++, thinned += n)
        for (size_t j = 0; j < n; j++) {
            const double *p = t->patch_m + 3 * j, seen = t->seen[(size_t)s * n + j];
            gradin_vec3 way = gradin_sub((gradin_vec3){p[0], p[1], p[2]}, t->eye_m[s]);
            thinned[j] = seen > 0.0 ? seen * exp(-t->air_1m[band] * gradin_norm(way)) : 0.0;
        }
}

/* Adds weight x reverberant part of one band, (1) of transfer.c, to square[n_seat] rows `stride`
 * apart. */
static void add_patches(const gradin_transfer *t, const gradin_powers *p, int band, int from,
                        int n_seat, double weight, double *square, int stride, double *scratch) {
    look_through_air(t, band, from, n_seat, scratch);
    cblas_dgemm(CblasRowMajor, CblasNoTrans, CblasNoTrans, n_seat, p->n_time, t->n_patch, weight,
                scratch, t->n_patch, p->fed + (size_t)band * (size_t)t->n_patch * (size_t)p->n_time,
                p->n_time, 1.0, square, stride);
}

static void add_whole(const gradin_transfer *t, gradin_shade_state state, const gradin_powers *p,
                      int band, int from, int n_seat, double weight, double *square, int stride) {
    cblas_dgemm(CblasRowMajor, CblasNoTrans, CblasNoTrans, n_seat, p->n_time, t->n_element, weight,
                t->whole_1m2[state] + at(t, band, from, t->n_seat), t->n_element,
                p->let_in + band * p->n_time, GRADIN_N_BAND * p->n_time, 1.0, square, stride);
}

/* square[n_seat][n_column] = direct x power[element][n_column] */
static void hear_direct(const gradin_transfer *t, const double *power, int from, int n_seat,
                        int n_column, double *square) {
    if (t->form == GRADIN_TRANSFER_BY_ELEMENT) {
        memset(square, 0, (size_t)n_seat * (size_t)n_column * sizeof *square);
        return;
    }
    cblas_dgemm(CblasRowMajor, CblasNoTrans, CblasNoTrans, n_seat, n_column, t->n_element, 1.0,
                t->direct_1m2 + (size_t)from * (size_t)t->n_element, t->n_element, power, n_column,
                0.0, square, n_column);
}

static void add_sides(const gradin_transfer *t, const gradin_powers *p, int first_row, int n_row,
                      int from, int n_seat, double *square) {
    size_t n = (size_t)n_row * (size_t)p->n_time;
    for (int s = 0; s < n_seat; s++) {
        size_t row = (size_t)t->seat_side[from + s] * (GRADIN_N_BAND + 1) + (size_t)first_row;
        const double *fed = p->fed + row * (size_t)p->n_time;
        for (size_t k = 0; k < n; k++) square[(size_t)s * n + k] += fed[k];
    }
}

void gradin_transfer_hear(const gradin_transfer *t, gradin_shade_state state,
                          const gradin_powers *p, int from, int n_seat, double *square,
                          double *scratch) {
    int stride = GRADIN_N_BAND * p->n_time;
    hear_direct(t, p->let_in, from, n_seat, stride, square);
    if (t->form == GRADIN_TRANSFER_BY_SIDE) add_sides(t, p, 0, GRADIN_N_BAND, from, n_seat, square);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double *row = square + b * p->n_time;
        if (t->form == GRADIN_TRANSFER_BY_ELEMENT)
            add_whole(t, state, p, b, from, n_seat, 1.0, row, stride);
        if (t->form == GRADIN_TRANSFER_BY_PATCH)
            add_patches(t, p, b, from, n_seat, 1.0, row, stride, scratch);
    }
}

void gradin_transfer_hear_a(const gradin_transfer *t, gradin_shade_state state,
                            const gradin_powers *p, int from, int n_seat, double *square,
                            double *scratch) {
    hear_direct(t, p->let_in_a, from, n_seat, p->n_time, square);
    if (t->form == GRADIN_TRANSFER_BY_SIDE) add_sides(t, p, GRADIN_N_BAND, 1, from, n_seat, square);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        if (t->form == GRADIN_TRANSFER_BY_ELEMENT)
            add_whole(t, state, p, b, from, n_seat, gradin_a_energy(b), square, p->n_time);
        if (t->form == GRADIN_TRANSFER_BY_PATCH)
            add_patches(t, p, b, from, n_seat, gradin_a_energy(b), square, p->n_time, scratch);
    }
}

void gradin_transfer_rows(const gradin_transfer *t, gradin_shade_state state, int band, int from,
                          int n_seat, double *h_1m2, double *scratch) {
    size_t n_element = (size_t)t->n_element, n = (size_t)n_seat * n_element;
    if (t->form == GRADIN_TRANSFER_BY_ELEMENT) {
        memcpy(h_1m2, t->whole_1m2[state] + at(t, band, from, t->n_seat), n * sizeof *h_1m2);
        return;
    }
    memcpy(h_1m2, t->direct_1m2 + (size_t)from * n_element, n * sizeof *h_1m2);
    if (t->form == GRADIN_TRANSFER_BY_PATCH) {
        look_through_air(t, band, from, n_seat, scratch);
        cblas_dgemm(CblasRowMajor, CblasNoTrans, CblasTrans, n_seat, t->n_element, t->n_patch, 1.0,
                    scratch, t->n_patch, t->emission_1m2[state] + at(t, band, 0, t->n_patch),
                    t->n_patch, 1.0, h_1m2, t->n_element);
        return;
    }
    for (int s = 0; s < n_seat; s++)
        for (size_t e = 0; e < n_element; e++)
            h_1m2[(size_t)s * n_element + e] +=
                t->side_1m2[state][t->seat_side[from + s]][t->element_side[e]][band];
}

/* Sum over the seats of rows[n_seat][n_element], onto one band of sum_1m2. */
static void add_rows(const double *rows, int n_seat, int n_element, int band,
                     double (*sum_1m2)[GRADIN_N_BAND]) {
    for (int s = 0; s < n_seat; s++, rows += n_element)
        for (int e = 0; e < n_element; e++) sum_1m2[e][band] += rows[e];
}

/* view[n_patch] is the sum of what all seats see of the patches, seen[n_patch] scratch. */
static void add_emission(const gradin_transfer *t, gradin_shade_state state, int band, double *view,
                         double *seen, double (*sum_1m2)[GRADIN_N_BAND]) {
    memset(view, 0, (size_t)t->n_patch * sizeof *view);
    for (int s = 0; s < t->n_seat; s++) {
        look_through_air(t, band, s, 1, seen);
        for (int j = 0; j < t->n_patch; j++) view[j] += seen[j];
    }
    cblas_dgemv(CblasRowMajor, CblasNoTrans, t->n_element, t->n_patch, 1.0,
                t->emission_1m2[state] + at(t, band, 0, t->n_patch), t->n_patch, view, 1, 1.0,
                &sum_1m2[0][band], GRADIN_N_BAND);
}

static void add_both_sides(const gradin_transfer *t, gradin_shade_state state, int band,
                           double (*sum_1m2)[GRADIN_N_BAND]) {
    int n_seat[2] = {0, 0};
    for (int s = 0; s < t->n_seat; s++) n_seat[t->seat_side[s]]++;
    for (int e = 0; e < t->n_element; e++)
        for (int side = 0; side < 2; side++)
            sum_1m2[e][band] += n_seat[side] * t->side_1m2[state][side][t->element_side[e]][band];
}

gradin_status gradin_transfer_heard(const gradin_transfer *t, gradin_shade_state state,
                                    double (*sum_1m2)[GRADIN_N_BAND], gradin_error *error) {
    gradin_arena *arena = gradin_arena_create();
    double *view = arena ? gradin_arena_alloc(arena, (size_t)t->n_patch, sizeof *view) : NULL;
    double *seen = view ? gradin_arena_alloc(arena, (size_t)t->n_patch, sizeof *seen) : NULL;
    int n_blas = gradin_blas_single();
    for (int b = 0; seen && b < GRADIN_N_BAND; b++) {
        for (int e = 0; e < t->n_element; e++) sum_1m2[e][b] = 0.0;
        if (t->form == GRADIN_TRANSFER_BY_ELEMENT) {
            add_rows(t->whole_1m2[state] + at(t, b, 0, t->n_seat), t->n_seat, t->n_element, b,
                     sum_1m2);
            continue;
        }
        add_rows(t->direct_1m2, t->n_seat, t->n_element, b, sum_1m2);
        if (t->form == GRADIN_TRANSFER_BY_PATCH)
            add_emission(t, state, b, view, seen, sum_1m2);
        else
            add_both_sides(t, state, b, sum_1m2);
    }
    gradin_blas_restore(n_blas);
    gradin_arena_destroy(arena);
    return seen ? GRADIN_OK : gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}
