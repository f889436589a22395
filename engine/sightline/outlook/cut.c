/* A polygon less quadrilateral holes, as strips: it is cut along y at every corner, and between two
 * neighbouring cuts the edges do not end, so that what lies between them are trapezoids. Limits:
 * where edges cross each other between two cuts (holes that overlap at an angle) their order in the
 * middle stands for the whole strip. */
#include "sightline/outlook/outlook.h"

#include <stdlib.h>

static const double LEAST_M = 1e-9;

/* An edge within a strip: where it crosses both cuts and the middle; whose it is (-1: the
 * outline's, else the hole). */
typedef struct crossing {
    double y[2], middle;
    int of;
} crossing;

typedef struct cutter {
    gradin_polygon outline;
    const outlook_quad *hole;
    int n_hole;
    crossing *crossing;
    bool *is_in; /* [n_hole] */
    outlook_strip *strip;
    int n_strip;
} cutter;

static int by_value(const void *a, const void *b) {
    const double *p = a, *q = b;
    return (*p > *q) - (*p < *q);
}

static int by_middle(const void *a, const void *b) {
    const crossing *p = a, *q = b;
    if (p->middle != q->middle) return p->middle < q->middle ? -1 : 1;
    return (p->of > q->of) - (p->of < q->of);
}

static double y_at(gradin_vec2 a, gradin_vec2 b, double x) {
    return a.y + (b.y - a.y) * ((x - a.x) / (b.x - a.x));
}

static int add_crossings(cutter *c, gradin_polygon polygon, int of, double x0, double x1, int n) {
    double middle = 0.5 * (x0 + x1);
    for (int i = 0; i < polygon.n_corner; i++) {
        gradin_vec2 a = polygon.corner_m[i], b = polygon.corner_m[(i + 1) % polygon.n_corner];
        if ((a.x > middle) == (b.x > middle)) continue;
        c->crossing[n++] = (crossing){{y_at(a, b, x0), y_at(a, b, x1)}, y_at(a, b, middle), of};
    }
    return n;
}

/* Between two neighbouring cuts, from below. */
static void cut_strip(cutter *c, double x0, double x1) {
    int n = add_crossings(c, c->outline, -1, x0, x1, 0), n_over = 0;
    bool is_in = false;
    for (int k = 0; k < c->n_hole; k++) {
        n = add_crossings(c, (gradin_polygon){c->hole[k].corner_m, 4}, k, x0, x1, n);
        c->is_in[k] = false;
    }
    qsort(c->crossing, (size_t)n, sizeof *c->crossing, by_middle);
    for (int i = 0; i < n; i++) {
        const crossing *at = &c->crossing[i];
        if (at->of < 0) {
            is_in = !is_in;
        } else {
            c->is_in[at->of] = !c->is_in[at->of];
            n_over += c->is_in[at->of] ? 1 : -1;
        }
        if (!is_in || n_over > 0 || i + 1 >= n) continue;
        const crossing *next = &c->crossing[i + 1];
        if (!(next->middle - at->middle > LEAST_M)) continue;
        c->strip[c->n_strip++] =
            (outlook_strip){{x0, x1}, {at->y[0], at->y[1]}, {next->y[0], next->y[1]}};
    }
}

static int find_cuts(const cutter *c, double *x) {
    int n = 0, kept = 1;
    for (int i = 0; i < c->outline.n_corner; i++) x[n++] = c->outline.corner_m[i].x;
    for (int k = 0; k < c->n_hole; k++)
        for (int i = 0; i < 4; i++) x[n++] = c->hole[k].corner_m[i].x;
    qsort(x, (size_t)n, sizeof *x, by_value);
    for (int i = 1; i < n; i++)
        if (x[i] > x[kept - 1] + LEAST_M) x[kept++] = x[i];
    return kept;
}

bool outlook_cut(gradin_arena *arena, gradin_polygon outline, const outlook_quad *hole, int n_hole,
                 outlook_strip **strip, int *n_strip) {
    size_t n_edge = (size_t)outline.n_corner + 4 * (size_t)n_hole;
    cutter c = {.outline = outline, .hole = hole, .n_hole = n_hole};
    double *x = gradin_arena_alloc(arena, n_edge, sizeof *x);
    c.crossing = gradin_arena_alloc(arena, n_edge, sizeof *c.crossing);
    c.is_in = gradin_arena_alloc(arena, (size_t)n_hole, sizeof *c.is_in);
    if (!x || !c.crossing || !c.is_in) return false;
    int n_cut = find_cuts(&c, x), capacity = 0;
    for (int i = 0; i + 1 < n_cut; i++) {
        while (capacity < c.n_strip + (int)n_edge)
            if (gradin_arena_grow(arena, (void **)&c.strip, capacity, &capacity, sizeof *c.strip) !=
                GRADIN_OK)
                return false;
        cut_strip(&c, x[i], x[i + 1]);
    }
    *strip = c.strip;
    *n_strip = c.n_strip;
    return true;
}
