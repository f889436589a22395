/* Triangles of shapes. An area is cut into level strips at the heights of all its corners on plan;
 * in each strip it is a row of trapezoids. */
#include "render/export/solids.h"

#include <stdlib.h>

enum { TUBE_SIDES = 8 };
static const double apart = 1e-9;

void solids_triangle(solids *s, gradin_vec3 a, gradin_vec3 b, gradin_vec3 c) {
    const gradin_vec3 corner[3] = {a, b, c};
    for (int i = 0; i < 3 && !s->failed; i++)
        if (gradin_arena_grow(s->arena, (void **)&s->vertex, s->n, &s->capacity,
                              sizeof *s->vertex) == GRADIN_OK)
            s->vertex[s->n++] = corner[i];
        else
            s->failed = true;
}

void solids_quad(solids *s, const gradin_vec3 c[4]) {
    solids_triangle(s, c[0], c[1], c[2]);
    solids_triangle(s, c[0], c[2], c[3]);
}

static gradin_vec3 over(gradin_vec2 at, double z) {
    return (gradin_vec3){at.x, at.y, z};
}

static double turn_m2(gradin_polygon p) {
    double sum = 0.0;
    for (int i = 0; i < p.n_corner; i++) {
        gradin_vec2 a = p.corner_m[i], b = p.corner_m[(i + 1) % p.n_corner];
        sum += a.x * b.y - b.x * a.y;
    }
    return sum;
}

static void add_prism(solids *s, gradin_polygon p, double bottom_m, double top_m) {
    bool is_left = turn_m2(p) > 0.0;
    for (int i = 0; i < p.n_corner; i++) {
        gradin_vec2 a = p.corner_m[i], b = p.corner_m[(i + 1) % p.n_corner];
        gradin_vec2 from = is_left ? a : b, to = is_left ? b : a;
        const gradin_vec3 side[4] = {over(from, bottom_m), over(to, bottom_m), over(to, top_m),
                                     over(from, top_m)};
        solids_quad(s, side);
    }
    solids_cover(s, p, NULL, 0, (slope_plane){.z_m = top_m}, true);
    solids_cover(s, p, NULL, 0, (slope_plane){.z_m = bottom_m}, false);
}

void solids_block(solids *s, gradin_vec3 low, gradin_vec3 high) {
    const gradin_vec2 corner[] = {
        {low.x, low.y}, {high.x, low.y}, {high.x, high.y}, {low.x, high.y}};
    add_prism(s, (gradin_polygon){corner, 4}, low.z, high.z);
}

static void add_box(solids *s, const gradin_shape *shape) {
    gradin_vec3 c = shape->as.solid.centre_m;
    gradin_vec2 ahead = shape->as.solid.forward, right = {ahead.y, -ahead.x};
    static const int sign[4][2] = {{-1, 1}, {-1, -1}, {1, -1}, {1, 1}};
    gradin_vec2 corner[4];
    for (int i = 0; i < 4; i++) {
        double f = sign[i][0] * shape->as.solid.half_forward_m;
        double r = sign[i][1] * shape->as.solid.half_right_m;
        corner[i] = (gradin_vec2){c.x + f * ahead.x + r * right.x, c.y + f * ahead.y + r * right.y};
    }
    double up_m = shape->as.solid.half_up_m;
    add_prism(s, (gradin_polygon){corner, 4}, c.z - up_m, c.z + up_m);
}

/* Two unit vectors square to `along`; with it they are right-handed. */
static void square_to(gradin_vec3 along, gradin_vec3 *u, gradin_vec3 *v) {
    gradin_vec3 aside = fabs(along.z) < 0.9 ? (gradin_vec3){0, 0, 1} : (gradin_vec3){1, 0, 0};
    *u = gradin_cross(aside, along);
    *u = gradin_scale(*u, 1.0 / gradin_norm(*u));
    *v = gradin_cross(along, *u);
}

static void add_tube(solids *s, const gradin_shape *shape) {
    gradin_vec3 a = shape->as.capsule.a_m, b = shape->as.capsule.b_m, u, v;
    double radius_m = shape->as.capsule.radius_m, length_m = gradin_norm(gradin_sub(b, a));
    if (!(length_m > apart)) return;
    square_to(gradin_scale(gradin_sub(b, a), 1.0 / length_m), &u, &v);
    gradin_vec3 rim[TUBE_SIDES];
    for (int i = 0; i < TUBE_SIDES; i++) {
        double at = 2.0 * GRADIN_PI * i / TUBE_SIDES;
        rim[i] =
            gradin_add(gradin_scale(u, radius_m * cos(at)), gradin_scale(v, radius_m * sin(at)));
    }
    for (int i = 0; i < TUBE_SIDES; i++) {
        gradin_vec3 p = rim[i], q = rim[(i + 1) % TUBE_SIDES];
        const gradin_vec3 side[4] = {gradin_add(a, p), gradin_add(a, q), gradin_add(b, q),
                                     gradin_add(b, p)};
        solids_quad(s, side);
        solids_triangle(s, a, gradin_add(a, q), gradin_add(a, p));
        solids_triangle(s, b, gradin_add(b, p), gradin_add(b, q));
    }
}

void solids_shape(solids *s, const gradin_shape *shape) {
    switch (shape->kind) {
    case GRADIN_SHAPE_BOX:
        add_box(s, shape);
        break;
    case GRADIN_SHAPE_PRISM:
        add_prism(s, shape->as.prism.polygon, shape->as.prism.bottom_m, shape->as.prism.top_m);
        break;
    case GRADIN_SHAPE_CAPSULE:
        add_tube(s, shape);
        break;
    case GRADIN_SHAPE_TRIANGLE:
        solids_triangle(s, shape->as.triangle.corner_m[0], shape->as.triangle.corner_m[1],
                        shape->as.triangle.corner_m[2]);
        break;
    case GRADIN_SHAPE_ELLIPSOID:
        break;
    }
}

/* An edge where it crosses a strip, at the strip's lower, middle and upper line. */
typedef struct crossing {
    double low_x, middle_x, high_x;
    int polygon; /* -1: the outer */
} crossing;

static int by_middle(const void *a, const void *b) {
    const crossing *one = a, *other = b;
    if (one->middle_x != other->middle_x) return one->middle_x < other->middle_x ? -1 : 1;
    return one->polygon - other->polygon;
}

static int by_size(const void *a, const void *b) {
    double one = *(const double *)a, other = *(const double *)b;
    return one < other ? -1 : one > other;
}

static int cross(gradin_polygon p, int polygon, double low_y, double high_y, crossing *out) {
    double y = 0.5 * (low_y + high_y);
    int n = 0;
    for (int i = 0; i < p.n_corner; i++) {
        gradin_vec2 a = p.corner_m[i], b = p.corner_m[(i + 1) % p.n_corner];
        if ((a.y > y) == (b.y > y)) continue;
        double slope = (b.x - a.x) / (b.y - a.y);
        out[n++] = (crossing){a.x + slope * (low_y - a.y), a.x + slope * (y - a.y),
                              a.x + slope * (high_y - a.y), polygon};
    }
    return n;
}

static gradin_vec3 on_plane(slope_plane at, double x, double y) {
    return (gradin_vec3){x, y, slope_z_m(at, (gradin_vec2){x, y})};
}

static void add_trapezoid(solids *s, const crossing *l, const crossing *r, double low_y,
                          double high_y, slope_plane at, bool is_up) {
    gradin_vec3 corner[4] = {on_plane(at, l->low_x, low_y), on_plane(at, r->low_x, low_y),
                             on_plane(at, r->high_x, high_y), on_plane(at, l->high_x, high_y)};
    if (!is_up) {
        gradin_vec3 kept = corner[1];
        corner[1] = corner[3];
        corner[3] = kept;
    }
    if (r->low_x - l->low_x > apart)
        solids_triangle(s, corner[0], is_up ? corner[1] : corner[2], is_up ? corner[2] : corner[3]);
    if (r->high_x - l->high_x > apart)
        solids_triangle(s, corner[0], is_up ? corner[2] : corner[1], is_up ? corner[3] : corner[2]);
}

typedef struct cover {
    gradin_polygon outer;
    const gradin_polygon *hole;
    int n_hole;
    double *level;  /* [n_level] */
    crossing *edge; /* as many as there are corners */
    bool *is_in;    /* [n_hole] */
    int n_level;
} cover;

typedef struct solids_strips {
    double *level;
    crossing *edge;
    bool *is_in;
    int n_corner, n_hole; /* that they have room for */
} solids_strips;

static void fill_strip(solids *s, const cover *c, double low_y, double high_y, slope_plane at,
                       bool is_up) {
    int n = cross(c->outer, -1, low_y, high_y, c->edge), n_in = 0;
    bool is_inside = false;
    for (int k = 0; k < c->n_hole; k++) {
        n += cross(c->hole[k], k, low_y, high_y, c->edge + n);
        c->is_in[k] = false;
    }
    if (n > 0) qsort(c->edge, (size_t)n, sizeof *c->edge, by_middle);
    for (int i = 0; i + 1 < n; i++) {
        int k = c->edge[i].polygon;
        if (k < 0)
            is_inside = !is_inside;
        else {
            c->is_in[k] = !c->is_in[k];
            n_in += c->is_in[k] ? 1 : -1;
        }
        if (is_inside && n_in == 0 && c->edge[i + 1].middle_x - c->edge[i].middle_x > apart)
            add_trapezoid(s, &c->edge[i], &c->edge[i + 1], low_y, high_y, at, is_up);
    }
}

static solids_strips *strips_of(solids *s, int n_corner, int n_hole) {
    if (!s->strips) s->strips = gradin_arena_alloc(s->arena, 1, sizeof *s->strips);
    solids_strips *kept = s->strips;
    if (!kept || (n_corner <= kept->n_corner && n_hole <= kept->n_hole)) return kept;
    n_corner *= 2;
    kept->level = gradin_arena_alloc(s->arena, (size_t)n_corner, sizeof *kept->level);
    kept->edge = gradin_arena_alloc(s->arena, (size_t)n_corner, sizeof *kept->edge);
    kept->is_in = gradin_arena_alloc(s->arena, (size_t)n_hole + 1, sizeof *kept->is_in);
    kept->n_corner = n_corner;
    kept->n_hole = n_hole;
    return kept->level && kept->edge && kept->is_in ? kept : NULL;
}

static bool prepare(solids *s, cover *c) {
    int n = c->outer.n_corner;
    for (int k = 0; k < c->n_hole; k++) n += c->hole[k].n_corner;
    const solids_strips *kept = strips_of(s, n, c->n_hole);
    if (!kept) return false;
    c->level = kept->level;
    c->edge = kept->edge;
    c->is_in = kept->is_in;
    for (int i = 0; i < c->outer.n_corner; i++) c->level[c->n_level++] = c->outer.corner_m[i].y;
    for (int k = 0; k < c->n_hole; k++)
        for (int i = 0; i < c->hole[k].n_corner; i++)
            c->level[c->n_level++] = c->hole[k].corner_m[i].y;
    qsort(c->level, (size_t)n, sizeof *c->level, by_size);
    return true;
}

void solids_cover(solids *s, gradin_polygon outer, const gradin_polygon *hole, int n_hole,
                  slope_plane at, bool is_up) {
    cover c = {.outer = outer, .hole = hole, .n_hole = n_hole};
    if (s->failed || !prepare(s, &c)) {
        s->failed = true;
        return;
    }
    for (int i = 0; i + 1 < c.n_level; i++)
        if (c.level[i + 1] - c.level[i] > apart)
            fill_strip(s, &c, c.level[i], c.level[i + 1], at, is_up);
}
