/* geometry/mask/mask_loops.h: the loops of the mask kernel over sixteen rows at once. Included once
 * for each instruction set after its lanes_*.h; mask_look.h has those over sixteen boxes.
 *
 * Single precision is enough: every bound carries a slack above its rounding (unit roundoff 6e-8),
 * and the samples within the slack go to gradin_shape_hit() in double precision. */
#ifndef GRADIN_GEOMETRY_MASK_LOOPS_H
#define GRADIN_GEOMETRY_MASK_LOOPS_H

#include "geometry/mask/mask_look.h"

static const float lane_number[16] = {0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15};
/* Loaded from 16 - n: lanes n and up; from 32 - n: lanes below n. */
static const uint32_t lane_steps[48] = {[16] = ~0u, ~0u, ~0u, ~0u, ~0u, ~0u, ~0u, ~0u,
                                        ~0u,        ~0u, ~0u, ~0u, ~0u, ~0u, ~0u, ~0u};

/* Bits. */

static inline lanes_bits rows_of_block(mask_rect rect, int block) {
    int low = rect.row_low - block, high = rect.row_high + 1 - block;
    low = low < 0 ? 0 : low;
    high = high > 16 ? 16 : high;
    return lanes_and(lanes_load_bits(lane_steps + 16 - low),
                     lanes_load_bits(lane_steps + 32 - high));
}

/* Number of the strip's columns that lie below the limit. */
static inline lanes_bits columns_below(lanes limit, float shift) {
    lanes n = lanes_add(limit, lanes_all(shift));
    return lanes_whole(lanes_max(lanes_min(n, lanes_all(33.0f)), lanes_all(0.0f)));
}

static bool any_along(const mask_view *v, const uint32_t *bits, mask_rect rect,
                      const mask_streak *s) {
    float slack = 2.0f * v->slack; /* as in pierce() */
    const struct gradin_mask_grid *g = v->grid;
    lanes late = lanes_load(g->late);
    for (int row = gradin_mask_from(g, rect); row <= rect.row_high; row += 16) {
        lanes y = lanes_add(lanes_load(lane_number), lanes_all((float)row + v->row_at));
        lanes low = s->has_low ? lanes_max(lanes_mul(y, lanes_all(s->low[0])),
                                           lanes_mul(y, lanes_all(s->low[1])))
                               : lanes_all(-1e9f);
        lanes high = s->has_high ? lanes_min(lanes_mul(y, lanes_all(s->high[0])),
                                             lanes_mul(y, lanes_all(s->high[1])))
                                 : lanes_all(1e9f);
        low = lanes_sub(low, late);
        high = lanes_sub(high, late);
        lanes_bits rows = rows_of_block(rect, row);
        for (int strip = rect.column_low >> 5; strip <= rect.column_high >> 5; strip++) {
            float shift = 1.0f - 32.0f * (float)strip - v->column_at;
            lanes_bits from = lanes_from_bit(columns_below(low, shift - slack));
            lanes_bits beyond = lanes_from_bit(columns_below(high, shift + slack));
            lanes_bits here = lanes_load_bits(bits + (size_t)strip * (size_t)g->n_stride + row);
            here = lanes_and(here, lanes_all_bits(gradin_mask_columns(rect, strip)));
            if (lanes_any(lanes_and(lanes_and(here, rows), lanes_without(from, beyond))))
                return true;
        }
    }
    return false;
}

/* Of a word: those whose bound is not below the limit. */
static inline uint32_t not_nearer(const float *far, lanes limit) {
    uint32_t low = lanes_below(lanes_load(far), limit);
    uint32_t high = lanes_below(lanes_load(far + 16), limit);
    return ~(low | high << 16);
}

/* Most words are settled by their own largest bound. */
static bool open_bits(const struct gradin_mask_grid *g, const mask_depth *d, float near,
                      mask_rect rect, uint32_t *out) {
    lanes limit = lanes_all(near);
    bool found = false;
    for (int strip = rect.column_low >> 5; strip <= rect.column_high >> 5; strip++) {
        lanes_bits columns = lanes_all_bits(gradin_mask_columns(rect, strip));
        for (int row = gradin_mask_from(g, rect); row <= rect.row_high; row += 16) {
            size_t at = (size_t)strip * (size_t)g->n_stride + (size_t)row;
            lanes_bits here = lanes_and(lanes_load_bits(g->valid + at), columns);
            here = lanes_and(here, rows_of_block(rect, row));
            lanes_bits clear = lanes_and(here, lanes_load_bits(d->clear + at));
            lanes_bits hidden = lanes_without(here, clear);
            lanes_store_bits(out + at, clear);
            found = found || lanes_any(clear);
            uint32_t left = lanes_used(hidden) & ~lanes_below(lanes_load(d->most + at), limit);
            if (left == 0) continue;
            uint32_t word[16];
            lanes_store_bits(word, hidden);
            for (; left; left &= left - 1) {
                size_t k = (size_t)__builtin_ctz(left);
                uint32_t open = word[k] & not_nearer(d->far + 32 * (at + k), limit);
                out[at + k] |= open;
                found = found || open;
            }
        }
    }
    return found;
}

static void extent(const struct gradin_mask_grid *g, const uint32_t *bits, mask_live *live) {
    mask_rect out = {32 * g->n_strip, -1, g->n_row, -1};
    for (int strip = 0; strip < g->n_strip; strip++) {
        uint32_t columns = 0;
        for (int row = 0; row < g->n_stride; row += 16) {
            lanes_bits here = lanes_load_bits(bits + (size_t)strip * (size_t)g->n_stride + row);
            uint32_t rows = lanes_used(here);
            if (rows == 0) continue;
            int low = row + __builtin_ctz(rows), high = row + 31 - __builtin_clz(rows);
            out.row_low = low < out.row_low ? low : out.row_low;
            out.row_high = high > out.row_high ? high : out.row_high;
            columns |= lanes_together(here);
        }
        if (columns == 0) continue;
        int low = 32 * strip + __builtin_ctz(columns);
        out.column_low = low < out.column_low ? low : out.column_low;
        out.column_high = 32 * strip + 31 - __builtin_clz(columns);
    }
    live->column = (float)out.column_low;
    live->column_end = (float)(out.column_high + 1);
    live->row = (float)out.row_low;
    live->row_end = (float)(out.row_high + 1);
}

static int count(const struct gradin_mask_grid *g, const uint32_t *bits) {
    int n = 0;
    for (int i = 0; i < g->n_strip * g->n_stride; i++) n += __builtin_popcount(bits[i]);
    return n;
}

static void remove_bits(const struct gradin_mask_grid *g, uint32_t *clear, const uint32_t *sure,
                        mask_rect rect) {
    for (int strip = rect.column_low >> 5; strip <= rect.column_high >> 5; strip++)
        for (int row = gradin_mask_from(g, rect); row <= rect.row_high; row += 16) {
            size_t at = (size_t)strip * (size_t)g->n_stride + (size_t)row;
            lanes_store_bits(
                clear + at, lanes_without(lanes_load_bits(clear + at), lanes_load_bits(sure + at)));
        }
}

/* Columns low .. high of each row, once with the slack added on both ends and once taken off. */
typedef struct row_spans {
    lanes wide_low, wide_high, narrow_low, narrow_high;
} row_spans;

static inline int put(uint32_t *to, lanes_bits bits, bool is_first) {
    if (!is_first) bits = lanes_or(bits, lanes_load_bits(to));
    lanes_store_bits(to, bits);
    return lanes_any(bits);
}

/* Writes the intervals of rows row .. row + 15 into every strip of the rectangle. */
static inline int put_spans(const struct gradin_mask_grid *g, row_spans s, mask_rect rect, int row,
                            const uint32_t *open, bool is_first, mask_bits out) {
    int found = 0;
    for (int strip = rect.column_low >> 5; strip <= rect.column_high >> 5; strip++) {
        size_t at = (size_t)strip * (size_t)g->n_stride + (size_t)row;
        float shift = 1.0f - 32.0f * (float)strip;
        lanes_bits wide_low = columns_below(s.wide_low, shift);
        lanes_bits wide_high = columns_below(s.wide_high, shift);
        lanes_bits narrow_low = columns_below(s.narrow_low, shift);
        lanes_bits narrow_high = columns_below(s.narrow_high, shift);
        lanes_bits here = lanes_load_bits(open + at);
        lanes_bits sure =
            lanes_and(here, lanes_without(lanes_from_bit(narrow_low), lanes_from_bit(narrow_high)));
        found |= put(out.sure + at, sure, is_first);
        if (lanes_same(wide_low, narrow_low) && lanes_same(wide_high, narrow_high)) {
            if (is_first) lanes_store_bits(out.doubt + at, lanes_all_bits(0));
            continue;
        }
        lanes_bits wide = lanes_without(lanes_from_bit(wide_low), lanes_from_bit(wide_high));
        lanes_bits doubt = lanes_without(lanes_and(here, wide), sure);
        found |= put(out.doubt + at, doubt, is_first) << 1;
    }
    return found;
}

/* Pieces. */

static inline lanes line(float at, float step, lanes row) {
    return lanes_add(lanes_all(at), lanes_mul(lanes_all(step), row));
}

static inline row_spans spread(lanes middle, lanes wide, lanes narrow, lanes slack) {
    return (row_spans){
        lanes_sub(lanes_sub(middle, wide), slack), lanes_add(lanes_add(middle, wide), slack),
        lanes_add(lanes_sub(middle, narrow), slack), lanes_sub(lanes_add(middle, narrow), slack)};
}

static inline row_spans conic_spans(const mask_conic *c, lanes late, lanes row) {
    lanes p = line(c->p, c->p_step, row), q = line(c->q, c->q_step, row);
    lanes zero = lanes_all(0.0f), gain = lanes_all(c->gain), rounding = lanes_all(ROUNDING);
    lanes p_size = lanes_abs(p), q_size = lanes_abs(q);
    /* two negative roots do not make a positive discriminant */
    lanes d = lanes_mul(lanes_min(p, q), lanes_max(p_size, q_size));
    if (c->side != 0) d = lanes_add(lanes_mul(p, p), lanes_all(c->square));
    lanes d_slack = lanes_mul(lanes_all(c->root_slack), lanes_add(p_size, q_size));
    lanes wide = lanes_mul(gain, lanes_sqrt(lanes_max(lanes_add(d, d_slack), zero)));
    lanes narrow = lanes_mul(gain, lanes_sqrt(lanes_max(lanes_sub(d, d_slack), zero)));
    lanes middle = lanes_sub(line(c->mid, c->mid_step, row), late);
    lanes slack =
        lanes_add(lanes_mul(lanes_add(lanes_abs(middle), wide), rounding), lanes_all(c->slack));
    row_spans s = spread(middle, wide, narrow, slack);
    if (c->side > 0) { /* columns beyond the higher root: it is narrowest where wide is */
        s.narrow_low = lanes_add(lanes_add(middle, wide), slack);
        s.wide_low = lanes_sub(lanes_add(middle, narrow), slack);
        s.wide_high = s.narrow_high = lanes_all(1e9f);
    } else if (c->side < 0) {
        s.narrow_high = lanes_sub(lanes_sub(middle, wide), slack);
        s.wide_high = lanes_add(lanes_sub(middle, narrow), slack);
        s.wide_low = s.narrow_low = lanes_all(-1e9f);
    }
    return s;
}

static int conic(const struct gradin_mask_grid *g, const mask_conic *c, mask_rect rect,
                 const uint32_t *open, bool is_first, mask_bits out) {
    lanes late = lanes_load(g->late);
    int found = 0;
    for (int row = gradin_mask_from(g, rect); row <= rect.row_high; row += 16) {
        lanes number = lanes_add(lanes_load(lane_number), lanes_all((float)row));
        found |= put_spans(g, conic_spans(c, late, number), rect, row, open, is_first, out);
    }
    return found;
}

/* A lower limit that lets every column pass within the rows and none outside. */
static inline lanes outside_rows(float low, float high, lanes row) {
    lanes off = lanes_max(lanes_sub(lanes_all(low), row), lanes_sub(row, lanes_all(high)));
    return lanes_sub(lanes_mul(lanes_max(off, lanes_all(0.0f)), lanes_all(1e12f)), lanes_all(1.0f));
}

static inline row_spans wedge_spans(const mask_wedge *w, lanes late, lanes row) {
    row_spans s = {lanes_all(-1e9f), lanes_all(1e9f), lanes_all(-1e9f), lanes_all(1e9f)};
    for (int i = 0; i < w->n_low; i++) {
        lanes at = lanes_sub(line(w->low[i].at, w->low[i].step, row), late),
              slack = lanes_all(w->low[i].slack);
        s.wide_low = lanes_max(s.wide_low, lanes_sub(at, slack));
        s.narrow_low = lanes_max(s.narrow_low, lanes_add(at, slack));
    }
    for (int i = 0; i < w->n_high; i++) {
        lanes at = lanes_sub(line(w->high[i].at, w->high[i].step, row), late),
              slack = lanes_all(w->high[i].slack);
        s.wide_high = lanes_min(s.wide_high, lanes_add(at, slack));
        s.narrow_high = lanes_min(s.narrow_high, lanes_sub(at, slack));
    }
    s.wide_low = lanes_max(s.wide_low, outside_rows(w->row_low, w->row_high, row));
    s.narrow_low = lanes_max(s.narrow_low, outside_rows(w->sure_row_low, w->sure_row_high, row));
    return s;
}

static int wedge(const struct gradin_mask_grid *g, const mask_wedge *w, mask_rect rect,
                 const uint32_t *open, bool is_first, mask_bits out) {
    lanes late = lanes_load(g->late);
    int found = 0;
    for (int row = gradin_mask_from(g, rect); row <= rect.row_high; row += 16) {
        lanes number = lanes_add(lanes_load(lane_number), lanes_all((float)row));
        found |= put_spans(g, wedge_spans(w, late, number), rect, row, open, is_first, out);
    }
    return found;
}

#include "geometry/mask/beam_loops.h"
#include "geometry/mask/soup_loops.h"

#include "geometry/mask/mask_descend.h"

const mask_table LANES_TABLE = {descend,     children_of, conic, wedge,   any_along, open_bits,
                                remove_bits, count,       boxes, pyramid, group};

#endif
