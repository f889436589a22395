/* Area that two plan polygons have in common. The second is taken as a fan of triangles from its
 * first corner, each counted with the sign of its turning: their sum is the polygon, convex or not.
 * The first is clipped by each triangle side after side (Sutherland and Hodgman 1974, Reentrant
 * polygon clipping); pieces that hang together by edges without width add no area. */
#include "geometry/plan/plan.h"

enum { MAX_CLIPPED = 512 };

typedef struct piece {
    gradin_vec2 corner_m[MAX_CLIPPED];
    int n;
} piece;

static double side(gradin_vec2 a, gradin_vec2 b, gradin_vec2 p) {
    return plan_cross(plan_sub(b, a), plan_sub(p, a));
}

static void put(piece *out, gradin_vec2 p) {
    if (out->n < MAX_CLIPPED) out->corner_m[out->n++] = p;
}

/* Keeps what lies left of a to b. */
static void clip(const piece *in, gradin_vec2 a, gradin_vec2 b, piece *out) {
    out->n = 0;
    for (int i = 0; i < in->n; i++) {
        gradin_vec2 from = in->corner_m[i], to = in->corner_m[(i + 1) % in->n];
        double s = side(a, b, from), t = side(a, b, to);
        if (s >= 0.0) put(out, from);
        if ((s > 0.0 && t < 0.0) || (s < 0.0 && t > 0.0))
            put(out, plan_along(from, plan_sub(to, from), s / (s - t)));
    }
}

static double in_triangle_m2(const piece *whole, const gradin_vec2 corner_m[3]) {
    piece work[2] = {*whole, {.n = 0}};
    for (int i = 0; i < 3; i++)
        clip(&work[i % 2], corner_m[i], corner_m[(i + 1) % 3], &work[1 - i % 2]);
    return work[1].n < 3 ? 0.0
                         : gradin_polygon_area_m2((gradin_polygon){work[1].corner_m, work[1].n});
}

double gradin_polygon_common_m2(gradin_polygon a, gradin_polygon b) {
    double sum_m2 = 0.0;
    piece whole = {.n = 0};
    if (a.n_corner < 3 || b.n_corner < 3) return 0.0;
    for (int i = 0; i < a.n_corner; i++) put(&whole, a.corner_m[i]);
    for (int i = 1; i + 1 < b.n_corner; i++) {
        gradin_vec2 corner_m[3] = {b.corner_m[0], b.corner_m[i], b.corner_m[i + 1]};
        bool is_right = side(corner_m[0], corner_m[1], corner_m[2]) < 0.0;
        if (is_right) {
            gradin_vec2 swap = corner_m[1];
            corner_m[1] = corner_m[2];
            corner_m[2] = swap;
        }
        sum_m2 += (is_right ? -1.0 : 1.0) * in_triangle_m2(&whole, corner_m);
    }
    return fabs(sum_m2);
}
