/* A simple polygon as convex pieces: its triangles, neighbours joined while they stay convex (after
 * Hertel and Mehlhorn 1983: at most four times as many pieces as needed; from memory). */
#include "geometry/plan/plan.h"

/* A corner that turns less would be rounded away when the piece is turned. */
#define TURNS 1e-9
#define SAME_AREA 1e-9
/* Far below the slack of every shadow's edge. */
#define SLIVER 1e-13

typedef struct piece {
    int n, corner[PLAN_PIECE_CORNERS]; /* counter-clockwise */
} piece;

static bool turns_left(gradin_vec2 a, gradin_vec2 b, gradin_vec2 c) {
    gradin_vec2 to = plan_sub(b, a), on = plan_sub(c, b);
    return plan_cross(to, on) > TURNS * hypot(to.x, to.y) * hypot(on.x, on.y);
}

static bool is_convex(gradin_polygon p, const piece *q) {
    for (int i = 0; i < q->n; i++)
        if (!turns_left(p.corner_m[q->corner[i]], p.corner_m[q->corner[(i + 1) % q->n]],
                        p.corner_m[q->corner[(i + 2) % q->n]]))
            return false;
    return true;
}

/* Both without the edge from the i-th corner of a, which is that to the j-th of b. */
static piece joined(const piece *a, int i, const piece *b, int j) {
    piece out = {0};
    for (int k = 1; k <= a->n; k++) out.corner[out.n++] = a->corner[(i + k) % a->n];
    for (int k = 1; k < b->n - 1; k++) out.corner[out.n++] = b->corner[(j + k) % b->n];
    return out;
}

static bool join(gradin_polygon p, piece *a, const piece *b) {
    if (a->n + b->n - 2 > PLAN_PIECE_CORNERS) return false;
    for (int i = 0; i < a->n; i++)
        for (int j = 0; j < b->n; j++) {
            if (a->corner[i] != b->corner[j] ||
                a->corner[(i + 1) % a->n] != b->corner[(j + b->n - 1) % b->n])
                continue;
            piece both = joined(a, i, b, j);
            if (!is_convex(p, &both)) return false;
            *a = both;
            return true;
        }
    return false;
}

static int join_all(gradin_polygon p, piece *all, int n) {
    for (int a = 0; a < n; a++)
        for (int b = a + 1; b < n; b++) {
            if (!join(p, &all[a], &all[b])) continue;
            all[b] = all[--n];
            b = a; /* those that did not fit before may now */
        }
    return n;
}

static double turn_m2(gradin_vec2 a, gradin_vec2 b, gradin_vec2 c) {
    return plan_cross(plan_sub(b, a), plan_sub(c, a));
}

/* The triangle without height that is left where three corners lie in line. */
static bool is_sliver(gradin_vec2 a, gradin_vec2 b, gradin_vec2 c) {
    gradin_vec2 p = plan_sub(b, a), q = plan_sub(c, b), r = plan_sub(a, c);
    return fabs(turn_m2(a, b, c)) <=
           SLIVER * fmax(plan_dot(p, p), fmax(plan_dot(q, q), plan_dot(r, r)));
}

/* 0 unless they fill the polygon without lying over each other. */
static int cut_ears(gradin_polygon p, piece *all) {
    int scratch[PLAN_CUT_CORNERS], corner[3 * PLAN_CUT_CORNERS], kept = 0;
    int n = gradin_polygon_triangles(p, scratch, corner);
    double whole = 0.0, sum = 0.0, size = 0.0;
    for (int i = 0; i < p.n_corner; i++)
        whole += turn_m2(p.corner_m[0], plan_corner(p, i), plan_corner(p, i + 1));
    for (int i = 0; i < n; i++) {
        const int *c = corner + 3 * i;
        gradin_vec2 a = p.corner_m[c[0]], b = p.corner_m[c[1]], d = p.corner_m[c[2]];
        sum += turn_m2(a, b, d);
        size += fabs(turn_m2(a, b, d));
        if (is_sliver(a, b, d)) continue;
        all[kept++] = (piece){3, {c[0], c[whole > 0.0 ? 1 : 2], c[whole > 0.0 ? 2 : 1]}};
    }
    bool is_whole =
        fabs(sum - whole) <= SAME_AREA * fabs(whole) && size - fabs(sum) <= SAME_AREA * size;
    return is_whole ? kept : 0;
}

static bool keep_corners(gradin_arena *arena, gradin_polygon p, const piece *q,
                         gradin_polygon *out) {
    gradin_vec2 *corner = gradin_arena_alloc(arena, (size_t)q->n, sizeof *corner);
    for (int i = 0; corner && i < q->n; i++) corner[i] = p.corner_m[q->corner[i]];
    *out = (gradin_polygon){corner, q->n};
    return corner != NULL;
}

int plan_convex_pieces(gradin_arena *arena, gradin_polygon p, gradin_polygon *out) {
    piece all[PLAN_CUT_CORNERS];
    if (p.n_corner > PLAN_CUT_CORNERS || !gradin_polygon_is_simple(p)) return 0;
    int n = join_all(p, all, cut_ears(p, all));
    for (int i = 0; i < n; i++)
        if (!keep_corners(arena, p, &all[i], &out[i])) return -1;
    return n;
}
