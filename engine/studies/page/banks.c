/* Which line cuts a bank of seats best: along the mean facing of its seats, through the one near
 * its middle whose line meets most rows, for the middle itself is often an aisle. */
#include "studies/page/banks.h"

#include <stdlib.h>

static const double SQUARE = 0.9; /* cosine to the facing from which a cut shows a row's rake */
enum { TRIED = 24 };              /* seats nearest to the middle whose lines are tried */

static int by_size(const void *a, const void *b) {
    const int *p = a, *q = b;
    return p[1] != q[1] ? q[1] - p[1] : p[0] - q[0];
}

static int rows_of(const gradin_model *model, int block) {
    int n = 0;
    for (int i = 0; i < model->seats.n_seat; i++)
        if (model->seats.block[i] == block && model->seats.row[i] > n) n = model->seats.row[i];
    return n;
}

bool page_banks_find(gradin_arena *arena, const gradin_model *model, const gradin_seat_sums *sums,
                     page_banks *banks) {
    size_t n = (size_t)model->n_block + 1;
    int *sorted = gradin_arena_alloc(arena, 2 * n, sizeof *sorted);
    *banks = (page_banks){.model = model,
                          .by_size = gradin_arena_alloc(arena, n, sizeof *banks->by_size),
                          .is_shown = gradin_arena_alloc(arena, n, sizeof *banks->is_shown),
                          .n_row = gradin_arena_alloc(arena, n, sizeof *banks->n_row)};
    if (!sorted || !banks->by_size || !banks->is_shown || !banks->n_row) return false;
    for (int k = 0; k < model->n_block; k++) {
        if (sums[k].n_seat == 0) continue;
        sorted[2 * banks->n] = k;
        sorted[2 * banks->n++ + 1] = sums[k].n_seat;
        banks->n_row[k] = rows_of(model, k);
    }
    if (banks->n > 0) qsort(sorted, (size_t)banks->n, 2 * sizeof *sorted, by_size);
    for (int i = 0; i < banks->n; i++) banks->by_size[i] = sorted[2 * i];
    return true;
}

/* The middle of a block on plan and the mean way its seats face; false when they cancel. */
static bool middle_of(const gradin_seats *s, int block, gradin_vec2 *middle, gradin_vec2 *way) {
    int n = 0;
    *middle = *way = (gradin_vec2){0.0, 0.0};
    for (int i = 0; i < s->n_seat; i++) {
        if (s->block[i] != block) continue;
        gradin_vec2 facing = gradin_bearing_unit(s->facing_deg[i]);
        *middle = (gradin_vec2){middle->x + s->floor_m[i].x, middle->y + s->floor_m[i].y};
        *way = (gradin_vec2){way->x + facing.x, way->y + facing.y};
        n++;
    }
    double length = hypot(way->x, way->y);
    if (n == 0 || length < 0.1 * n) return false;
    *middle = (gradin_vec2){middle->x / n, middle->y / n};
    *way = (gradin_vec2){way->x / length, way->y / length};
    return true;
}

static double aside_m(const gradin_seats *s, int seat, gradin_vec2 from, gradin_vec2 way) {
    return (s->floor_m[seat].x - from.x) * way.y - (s->floor_m[seat].y - from.y) * way.x;
}

/* Rows of a block that a line through `from` touches; rows are together in the seats' order. */
static int rows_met(const gradin_seats *s, int block, gradin_vec2 from, gradin_vec2 way) {
    int n = 0, last = -1;
    for (int i = 0; i < s->n_seat; i++) {
        if (s->block[i] != block || s->row[i] == last) continue;
        if (fabs(aside_m(s, i, from, way)) > 0.5 * s->width_m[i]) continue;
        last = s->row[i];
        n++;
    }
    return n;
}

/* The next seat of the block by its distance from the middle line; -1 after the last. */
static int next_aside(const gradin_seats *s, int block, gradin_vec2 middle, gradin_vec2 way,
                      double beyond_m) {
    int best = -1;
    double least = INFINITY;
    for (int i = 0; i < s->n_seat; i++) {
        if (s->block[i] != block) continue;
        double far_m = fabs(aside_m(s, i, middle, way));
        if (far_m <= beyond_m + 1e-6 || far_m >= least - 1e-6) continue;
        least = far_m;
        best = i;
    }
    return best;
}

bool page_bank_line(const page_banks *banks, int block, gradin_cut_options *line) {
    const gradin_seats *s = &banks->model->seats;
    gradin_vec2 middle, way, best = {0.0, 0.0};
    int most = 0;
    double beyond_m = -1.0;
    if (!middle_of(s, block, &middle, &way)) return false;
    for (int k = 0; k < TRIED && most < banks->n_row[block]; k++) {
        int seat = next_aside(s, block, middle, way, beyond_m);
        if (seat < 0) break;
        gradin_vec2 from = {s->floor_m[seat].x, s->floor_m[seat].y};
        int n = rows_met(s, block, from, way);
        if (n > most) best = from;
        if (n > most) most = n;
        beyond_m = fabs(aside_m(s, seat, middle, way));
    }
    double reach = 4.0 * sqrt(banks->model->volume_m3) + 1000.0;
    *line = (gradin_cut_options){.seat = -1,
                                 .from_m = {best.x - reach * way.x, best.y - reach * way.y},
                                 .to_m = {best.x + reach * way.x, best.y + reach * way.y}};
    return most > 0;
}

void page_banks_mark(page_banks *banks, const gradin_cut *cut) {
    const gradin_seats *s = &banks->model->seats;
    for (int k = 0; k < banks->model->n_block; k++) {
        int n = 0;
        for (int i = 0; i < cut->n_row; i++)
            n += s->block[cut->row[i].seat] == k && fabs(cut->row[i].along) >= SQUARE;
        if (n > 0 && 2 * n > banks->n_row[k]) banks->is_shown[k] = true;
    }
}
