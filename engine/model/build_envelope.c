/* Opaque walls and roofs become elements, and what of the envelope is not stated gets its area.
 *
 * A wall is cut along its edge of the footprint, a roof along the corners of its plan and of the
 * other roofs, both into pieces of at most most_piece_m. Of each piece what belongs to glazing,
 * doors and other roofs, or lies outside the plan, is taken. Limits: roofs are level, at the
 * ceiling's height; a plan of many slanting edges is cut without regard to its corners, its shares
 * being exact all the same. */
#include "model/build.h"

#include <stdlib.h>

enum { MOST_CUT = 24, MOST_PIECE = 64 };

static const double most_piece_m = 12.0;
static const double on_line_m = 0.1, least_m = 0.01, least_share = 1e-6;

/* A plan's own directions: along its first edge, and left of that. */
typedef struct plan_frame {
    gradin_vec2 u, v;
} plan_frame;

static double over(gradin_vec2 a, gradin_vec2 b) {
    return a.x * b.x + a.y * b.y;
}

static gradin_vec2 unit_of(gradin_vec2 from, gradin_vec2 to) {
    double length_m = hypot(to.x - from.x, to.y - from.y);
    return (gradin_vec2){(to.x - from.x) / length_m, (to.y - from.y) / length_m};
}

static int by_value(const void *a, const void *b) {
    const double *p = a, *q = b;
    return (*p > *q) - (*p < *q);
}

/* Cuts from the corners' coordinates along `unit`, ends included; few enough, or the ends alone. */
static int corner_cuts(gradin_polygon plan, gradin_vec2 unit, double *cut) {
    double low = INFINITY, high = -INFINITY;
    int n = 0;
    for (int i = 0; i < plan.n_corner; i++) {
        double at = over(plan.corner_m[i], unit);
        low = fmin(low, at), high = fmax(high, at);
        if (plan.n_corner <= MOST_CUT) cut[n++] = at;
    }
    if (n == 0) cut[n++] = low, cut[n++] = high;
    qsort(cut, (size_t)n, sizeof *cut, by_value);
    int kept = 1;
    for (int i = 1; i < n; i++)
        if (cut[i] > cut[kept - 1] + least_m) cut[kept++] = cut[i];
    return kept;
}

/* The same with long pieces divided evenly: ends[MOST_PIECE + 1]; how many pieces. */
static int pieces_of(const double *cut, int n_cut, double *ends) {
    int n = 0;
    ends[0] = cut[0];
    for (int i = 0; i + 1 < n_cut; i++) {
        double length_m = cut[i + 1] - cut[i];
        double parts = fmin(fmax(ceil(length_m / most_piece_m - 1e-9), 1.0), MOST_PIECE);
        for (int k = 1; k <= (int)parts && n < MOST_PIECE; k++)
            ends[++n] = cut[i] + length_m * k / parts;
    }
    return n;
}

static void dress(const builder *b, const gradin_facade_entry *e, const double *absorption,
                  gradin_element *made) {
    made->entry = e->name;
    made->kind = e->kind;
    made->wall_top_m = b->v->ceiling_m;
    made->buildup = e->buildup;
    for (int k = 0; k < GRADIN_N_BAND; k++)
        made->absorption[k] = isnan(e->absorption[k]) ? absorption[k] : e->absorption[k];
}

/* Numbers the pieces of one entry when there are several. */
static bool name_pieces(builder *b, const gradin_facade_entry *e, int from) {
    bool is_one = b->model->n_element == from + 1;
    for (int i = from; i < b->model->n_element; i++) {
        b->element[i].name = is_one ? e->name : print_text(b->c, "%s-%d", e->name, i - from + 1);
        if (!b->element[i].name) return false;
    }
    return true;
}

/* Area of the piece's plan that glazing, vents apart, takes overhead. */
static double overhead_m2(const builder *b, gradin_polygon piece, int n_before) {
    double sum_m2 = 0.0;
    for (int i = 0; i < n_before; i++) {
        const gradin_element *e = &b->element[i];
        if (!gradin_element_is_overhead(e) || gradin_element_is_opaque(e)) continue;
        gradin_vec2 corner_m[4];
        for (int k = 0; k < 4; k++) {
            gradin_vec3 at_m = gradin_element_point_m(e, k == 1 || k == 2 ? e->width_m : 0.0,
                                                      k >= 2 ? e->height_m : 0.0);
            corner_m[k] = (gradin_vec2){at_m.x, at_m.y};
        }
        if (e->width_m > 0.0)
            sum_m2 += gradin_polygon_common_m2(piece, (gradin_polygon){corner_m, 4});
    }
    return sum_m2;
}

static gradin_polygon plan_of(const gradin_venue *v, const gradin_facade_entry *e) {
    return e->polygon.n_corner > 0 ? e->polygon : v->footprint;
}

/* The piece's plan that the roof covers, less what other roofs have. */
static double covered_m2(const builder *b, const gradin_facade_entry *e, gradin_polygon piece) {
    double sum_m2 = gradin_polygon_common_m2(piece, plan_of(b->v, e));
    for (int i = 0; i < b->v->n_facade; i++) {
        const gradin_facade_entry *other = &b->v->facade[i];
        if (other->kind == GRADIN_ELEMENT_ROOF && other != e && e->polygon.n_corner == 0 &&
            other->polygon.n_corner > 0)
            sum_m2 -= gradin_polygon_common_m2(piece, other->polygon);
    }
    return sum_m2;
}

static bool add_roof_piece(builder *b, const gradin_facade_entry *e, plan_frame f, double u0,
                           double u1, double v0, double v1, int n_before) {
    const double at[4][2] = {{u0, v0}, {u1, v0}, {u1, v1}, {u0, v1}};
    gradin_vec2 corner_m[4];
    for (int k = 0; k < 4; k++)
        corner_m[k] =
            (gradin_vec2){at[k][0] * f.u.x + at[k][1] * f.v.x, at[k][0] * f.u.y + at[k][1] * f.v.y};
    gradin_polygon piece = {corner_m, 4};
    double whole_m2 = (u1 - u0) * (v1 - v0);
    double own_m2 = covered_m2(b, e, piece) - overhead_m2(b, piece, n_before);
    if (own_m2 < least_share * whole_m2) return true;
    gradin_element *made = blank_element(b);
    if (!made) return false;
    made->corner_m = (gradin_vec3){corner_m[0].x, corner_m[0].y, b->v->ceiling_m};
    made->along = f.u;
    made->outward = (gradin_vec2){-f.v.x, -f.v.y};
    made->tilt_deg = 90.0;
    made->width_m = u1 - u0;
    made->height_m = v1 - v0;
    made->taken = fmax(1.0 - own_m2 / whole_m2, 0.0);
    dress(b, e, b->v->ceiling_absorption, made);
    b->model->n_element++;
    return true;
}

static bool build_roof(builder *b, const gradin_facade_entry *e) {
    gradin_polygon plan = plan_of(b->v, e);
    double cut[MOST_CUT], u[MOST_PIECE + 1], v[MOST_PIECE + 1];
    int n_before = b->model->n_element;
    gradin_vec2 along = unit_of(plan.corner_m[0], plan.corner_m[1]);
    plan_frame f = {along, {-along.y, along.x}};
    int n_u = pieces_of(cut, corner_cuts(plan, f.u, cut), u);
    int n_v = pieces_of(cut, corner_cuts(plan, f.v, cut), v);
    for (int j = 0; j < n_v; j++)
        for (int i = 0; i < n_u; i++)
            if (!add_roof_piece(b, e, f, u[i], u[i + 1], v[j], v[j + 1], n_before)) return false;
    return name_pieces(b, e, n_before);
}

/* One edge of the footprint. */
typedef struct edge {
    gradin_vec2 from_m, along, outward;
    double length_m;
} edge;

static edge edge_of(const builder *b, int i) {
    gradin_polygon plan = b->v->footprint;
    gradin_vec2 from = plan.corner_m[i], to = plan.corner_m[(i + 1) % plan.n_corner];
    gradin_vec2 along = unit_of(from, to);
    gradin_vec2 middle_m = {0.5 * (from.x + to.x), 0.5 * (from.y + to.y)};
    return (edge){from, along, outward_at(b, middle_m, along), hypot(to.x - from.x, to.y - from.y)};
}

/* The part of an edge that a wall's line covers; false when it lies elsewhere. */
static bool on_edge(const edge *e, const gradin_vec2 line_m[2], double span_m[2]) {
    double at_m[2];
    for (int k = 0; k < 2; k++) {
        gradin_vec2 way = {line_m[k].x - e->from_m.x, line_m[k].y - e->from_m.y};
        if (fabs(over(way, e->outward)) > on_line_m) return false;
        at_m[k] = over(way, e->along);
    }
    span_m[0] = fmax(fmin(at_m[0], at_m[1]), 0.0);
    span_m[1] = fmin(fmax(at_m[0], at_m[1]), e->length_m);
    return span_m[1] > span_m[0] + least_m;
}

static double common_m(double a0, double a1, double b0, double b1) {
    return fmax(fmin(a1, b1) - fmax(a0, b0), 0.0);
}

/* Area of the piece of wall that glazing and doors take. */
static double upright_m2(const builder *b, const edge *e, double from_m, double to_m,
                         int n_before) {
    double sum_m2 = 0.0;
    for (int i = 0; i < n_before; i++) {
        const gradin_element *w = &b->element[i];
        gradin_vec2 way = {w->corner_m.x - e->from_m.x, w->corner_m.y - e->from_m.y};
        if (gradin_element_is_overhead(w) || gradin_element_is_opaque(w) ||
            fabs(over(way, e->outward)) > on_line_m || over(w->outward, e->outward) < 0.99)
            continue;
        double a = over(way, e->along), b1 = a + w->width_m * over(w->along, e->along);
        sum_m2 += common_m(from_m, to_m, fmin(a, b1), fmax(a, b1)) *
                  common_m(0.0, b->v->ceiling_m, w->corner_m.z,
                           w->corner_m.z + w->height_m * gradin_element_frame(w).up.z);
    }
    return sum_m2;
}

static bool add_wall_piece(builder *b, const gradin_facade_entry *entry, const edge *e,
                           double from_m, double to_m, int n_before) {
    double whole_m2 = (to_m - from_m) * b->v->ceiling_m;
    double own_m2 = whole_m2 - upright_m2(b, e, from_m, to_m, n_before);
    if (own_m2 < least_share * whole_m2) return true;
    gradin_element *made = blank_element(b);
    if (!made) return false;
    made->corner_m =
        (gradin_vec3){e->from_m.x + from_m * e->along.x, e->from_m.y + from_m * e->along.y, 0.0};
    made->along = e->along;
    made->outward = e->outward;
    made->width_m = to_m - from_m;
    made->height_m = b->v->ceiling_m;
    made->taken = 1.0 - own_m2 / whole_m2;
    dress(b, entry, b->v->wall_absorption, made);
    b->model->n_element++;
    return true;
}

static bool add_span(builder *b, const gradin_facade_entry *entry, const edge *e, double from_m,
                     double to_m, int n_before) {
    const double cut[2] = {from_m, to_m};
    double ends[MOST_PIECE + 1];
    int n = to_m > from_m + least_m ? pieces_of(cut, 2, ends) : 0;
    for (int i = 0; i < n; i++)
        if (!add_wall_piece(b, entry, e, ends[i], ends[i + 1], n_before)) return false;
    return true;
}

/* What no named wall covers of an edge, from its beginning on. */
static bool add_rest(builder *b, const gradin_facade_entry *entry, const edge *e, int n_before) {
    double at_m = 0.0;
    while (at_m < e->length_m) {
        double next_m[2] = {e->length_m, e->length_m};
        for (int i = 0; i < b->v->n_facade; i++) {
            const gradin_facade_entry *other = &b->v->facade[i];
            double span_m[2];
            if (other->kind != GRADIN_ELEMENT_WALL || other->is_rest ||
                !on_edge(e, other->line_m, span_m) || span_m[1] <= at_m + least_m)
                continue;
            if (span_m[0] < next_m[0]) next_m[0] = span_m[0], next_m[1] = span_m[1];
        }
        if (!add_span(b, entry, e, at_m, next_m[0], n_before)) return false;
        at_m = fmax(next_m[1], next_m[0] + least_m);
    }
    return true;
}

static bool build_wall(builder *b, const gradin_facade_entry *entry) {
    int n_before = b->model->n_element;
    for (int i = 0; i < b->v->footprint.n_corner; i++) {
        edge e = edge_of(b, i);
        double span_m[2];
        bool good = true;
        if (entry->is_rest)
            good = add_rest(b, entry, &e, n_before);
        else if (on_edge(&e, entry->line_m, span_m))
            good = add_span(b, entry, &e, span_m[0], span_m[1], n_before);
        if (!good) return false;
    }
    return name_pieces(b, entry, n_before);
}

static bool has_r(const gradin_element *e) {
    return e->buildup >= 0 && e->kind != GRADIN_ELEMENT_VENT;
}

static void measure_open(builder *b) {
    gradin_model *m = b->model;
    double roof_m2 = gradin_polygon_area_m2(b->v->footprint);
    double wall_m2 = perimeter_m(b->v->footprint) * b->v->ceiling_m;
    for (int i = 0; i < m->n_element; i++) {
        const gradin_element *e = &m->element[i];
        double area_m2 = e->width_m * e->height_m * (1.0 - e->taken);
        gradin_frame f = gradin_element_frame(e);
        if (!has_r(e)) continue;
        *(gradin_element_is_overhead(e) ? &roof_m2 : &wall_m2) -=
            area_m2 * (gradin_element_is_overhead(e) ? f.outward.z : f.up.z);
    }
    m->open_roof_m2 = fmax(roof_m2, 0.0);
    m->open_wall_m2 = fmax(wall_m2, 0.0);
}

bool build_envelope(builder *b) {
    for (int i = 0; i < b->v->n_facade; i++) {
        const gradin_facade_entry *e = &b->v->facade[i];
        if (e->kind == GRADIN_ELEMENT_WALL && !build_wall(b, e)) return false;
        if (e->kind == GRADIN_ELEMENT_ROOF && !build_roof(b, e)) return false;
    }
    measure_open(b);
    return true;
}
