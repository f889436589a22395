/* geometry/mask/mask_look.h: the boxes of one node from the eye, sixteen at once. Included by
 * mask_loops.h, once for each instruction set. */
#ifndef GRADIN_GEOMETRY_MASK_LOOK_H
#define GRADIN_GEOMETRY_MASK_LOOK_H

#include "geometry/mask/mask.h"

#define ROUNDING 1e-6f /* sixteen times the unit roundoff */

typedef struct span {
    lanes low, high;
} span;

typedef struct range {
    lanes_bits low, high; /* whole numbers */
} range;

/* From the eye to the box along one axis. */
static inline span from_eye(const mask_view *v, const bvh_node *node, int axis) {
    return (span){lanes_sub(lanes_load(node->low[axis]), lanes_all(v->eye_high[axis])),
                  lanes_sub(lanes_load(node->high[axis]), lanes_all(v->eye_low[axis]))};
}

static inline lanes gap_of(span s) {
    lanes zero = lanes_all(0.0f);
    return lanes_max(lanes_max(s.low, lanes_sub(zero, s.high)), zero);
}

/* Where rays through the box, which it meets at fractions of which `most` and `least` are the
 * reciprocals by the spacing, pierce the plane, within the samples' own box. What ends there is no
 * larger than the plane from the eye, which the slack counts; what rounding does to larger numbers
 * does not bring them in. */
static inline span pierce(span box, lanes most, lanes least, float begin, float end) {
    lanes low = lanes_min(lanes_mul(box.low, most), lanes_mul(box.low, least));
    lanes high = lanes_max(lanes_mul(box.high, most), lanes_mul(box.high, least));
    return (span){lanes_max(low, lanes_all(begin)), lanes_min(high, lanes_all(end))};
}

static inline span scale_span(span x, float by) {
    lanes low = lanes_mul(x.low, lanes_all(by)), high = lanes_mul(x.high, lanes_all(by));
    return by >= 0.0f ? (span){low, high} : (span){high, low};
}

/* by[0] x + by[1] y over the rectangle. */
static inline span turn_span(span x, span y, const float by[2]) {
    span a = scale_span(x, by[0]), b = scale_span(y, by[1]);
    return (span){lanes_add(a.low, b.low), lanes_add(a.high, b.high)};
}

/* The columns (rows) from low to below high; some may begin late. */
static inline range number(const mask_view *v, span s, float at, float late, float begin,
                           float end) {
    /* ceil(low) and floor(high) + 1 of what is not negative */
    lanes low = lanes_add(s.low, lanes_all(1.0f - at - late - v->slack));
    lanes high = lanes_add(s.high, lanes_all(1.0f - at + v->slack));
    lanes from = lanes_all(begin), to = lanes_all(end);
    return (range){lanes_whole(lanes_max(lanes_min(low, to), from)),
                   lanes_whole(lanes_max(lanes_min(high, to), from))};
}

static inline span wider(span s, float by) {
    return (span){lanes_sub(s.low, lanes_all(by)), lanes_add(s.high, lanes_all(by))};
}

static inline span turned_about(span s) {
    lanes zero = lanes_all(0.0f);
    return (span){lanes_sub(zero, s.high), lanes_sub(zero, s.low)};
}

/* Of boxes ahead, f > 0: for which of them p does not lie wholly to one side of all lines from the
 * eye to the box. g runs across, either way. */
static inline uint32_t met(span f, span g, span pf, span pg) {
    lanes low = lanes_min(lanes_mul(g.low, pf.low), lanes_mul(g.low, pf.high));
    lanes high = lanes_max(lanes_mul(g.high, pf.low), lanes_mul(g.high, pf.high));
    lanes most = lanes_max(lanes_mul(f.low, pg.high), lanes_mul(f.high, pg.high));
    lanes least = lanes_min(lanes_mul(f.low, pg.low), lanes_mul(f.high, pg.low));
    return ~(lanes_below(most, low) | lanes_below(high, least));
}

/* Which of the boxes may hide something of the places p, as seen on plan; all of them when those
 * asked lie on several sides of the eye. p is a rectangle round all that is live behind the box,
 * and where lines run aslant most of it may lie beside them: a third of the leaves end here. */
static inline uint32_t between(const mask_view *v, uint32_t asked, span x, span y, span px,
                               span py) {
    lanes zero = lanes_all(0.0f);
    px = wider(px, v->slack);
    py = wider(py, v->slack);
    if ((asked & ~lanes_below(zero, y.low)) == 0) return met(y, x, py, px);
    if ((asked & ~lanes_below(y.high, zero)) == 0)
        return met(turned_about(y), x, turned_about(py), px);
    if ((asked & ~lanes_below(zero, x.low)) == 0) return met(x, y, px, py);
    if ((asked & ~lanes_below(x.high, zero)) == 0)
        return met(turned_about(x), y, turned_about(px), py);
    return ~0u;
}

/* Heights of the boxes from the eye, told from a plane that rises: all that they may reach. The
 * eye's own slack holds the rounding. */
static inline span heights_of(const mask_view *v, const bvh_node *node, span x, span y) {
    span z = from_eye(v, node, 2);
    if (!v->grid->is_tilted) return z;
    span rise = turn_span(x, y, v->grid->edgewise_rise);
    return (span){lanes_sub(z.low, rise.high), lanes_sub(z.high, rise.low)};
}

/* Children of a node that may hide something of what is live; not their distances. */
static void look(const mask_view *v, const mask_live *live, const bvh_node *node, mask_look *out) {
    span x = from_eye(v, node, 0), y = from_eye(v, node, 1), z = heights_of(v, node, x, y);
    lanes inverse_z = lanes_all(v->inverse_z), one = lanes_all(1.0f);
    lanes a = lanes_mul(z.low, inverse_z), b = lanes_mul(z.high, inverse_z);
    lanes first = lanes_mul(lanes_min(a, b), lanes_all(1.0f - ROUNDING)), last = lanes_max(a, b);
    /* reciprocals of both by one division; contacts nearer than the floor do not count */
    lanes least_t = lanes_all(1e-9f), enter = lanes_max(first, least_t);
    lanes leave = lanes_max(lanes_mul(lanes_min(last, one), lanes_all(1.0f + ROUNDING)), least_t);
    lanes inverse = lanes_div(lanes_all(v->grid->inverse_spacing), lanes_mul(enter, leave));
    lanes most = lanes_mul(inverse, leave), least = lanes_mul(inverse, enter);
    span px = pierce(x, most, least, live->from[0], live->to[0]);
    span py = pierce(y, most, least, live->from[1], live->to[1]);
    range column = number(v, turn_span(px, py, v->grid->to_column), v->column_at,
                          v->grid->most_late, live->column, live->column_end);
    range row =
        number(v, turn_span(px, py, v->grid->to_row), v->row_at, 0.0f, live->row, live->row_end);
    lanes_store_bits(out->column_low, column.low);
    lanes_store_bits(out->column_high, column.high);
    lanes_store_bits(out->row_low, row.low);
    lanes_store_bits(out->row_high, row.high);
    /* an empty place lies beyond all columns; sheared it may lie anywhere */
    uint32_t there = v->grid->is_tilted ? lanes_below(x.low, lanes_all(0.5f * BVH_EMPTY)) : ~0u;
    uint32_t alive = there & lanes_below(lanes_all(0.0f), last) & lanes_below(first, one) &
                     lanes_below(px.low, px.high) & lanes_below(py.low, py.high) &
                     lanes_fewer(column.low, column.high) & lanes_fewer(row.low, row.high);
    out->alive = alive & between(v, alive, x, y, px, py);
}

/* Squared distances of the children. */
static void distances(const mask_view *v, const bvh_node *node, mask_look *out) {
    lanes gx = gap_of(from_eye(v, node, 0)), gy = gap_of(from_eye(v, node, 1));
    lanes gz = gap_of(from_eye(v, node, 2));
    lanes_store(out->near2,
                lanes_add(lanes_add(lanes_mul(gx, gx), lanes_mul(gy, gy)), lanes_mul(gz, gz)));
}

#endif
