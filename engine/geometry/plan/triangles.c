/* A simple polygon as triangles by cutting off ears (Meisters 1975, Polygons have ears): of the
 * corners that may be cut the one with the shortest cut, so that no sliver is left that need not
 * be, and the same ones however the polygon is turned. */
#include "geometry/plan/plan.h"

typedef struct ring {
    const gradin_vec2 *corner_m;
    int *left; /* [n] corners that are not cut off yet */
    int n;
    double sign; /* +1 when it runs counter-clockwise */
} ring;

static gradin_vec2 at(const ring *r, int i) {
    return r->corner_m[r->left[(i + r->n) % r->n]];
}

static double turn(gradin_vec2 a, gradin_vec2 b, gradin_vec2 c) {
    return plan_cross(plan_sub(b, a), plan_sub(c, b));
}

static bool is_inside(const ring *r, gradin_vec2 a, gradin_vec2 b, gradin_vec2 c, gradin_vec2 p) {
    return r->sign * turn(a, b, p) >= 0.0 && r->sign * turn(b, c, p) >= 0.0 &&
           r->sign * turn(c, a, p) >= 0.0;
}

/* No other corner lies in the triangle; one that turns nowhere is cut as an ear without area. */
static bool is_ear(const ring *r, int i) {
    gradin_vec2 a = at(r, i - 1), b = at(r, i), c = at(r, i + 1);
    if (r->sign * turn(a, b, c) < 0.0) return false;
    for (int k = i + 2; k < i + r->n - 1; k++)
        if (is_inside(r, a, b, c, at(r, k))) return false;
    return true;
}

static int best_ear(const ring *r) {
    int best = -1;
    double least_m = INFINITY;
    for (int i = 0; i < r->n; i++) {
        gradin_vec2 cut = plan_sub(at(r, i + 1), at(r, i - 1));
        double cut_m = hypot(cut.x, cut.y);
        if (cut_m >= least_m || !is_ear(r, i)) continue;
        least_m = cut_m;
        best = i;
    }
    return best < 0 ? 0 : best; /* rounding hides every ear only where nothing is left to fill */
}

int gradin_polygon_triangles(gradin_polygon polygon, int *scratch, int *corner) {
    ring r = {polygon.corner_m, scratch, polygon.n_corner, 1.0};
    double doubled_m2 = 0.0;
    int n = 0;
    if (!polygon.corner_m || !scratch || !corner) return 0;
    for (int i = 0; i < r.n; i++) {
        r.left[i] = i;
        doubled_m2 += plan_cross(plan_corner(polygon, i), plan_corner(polygon, i + 1));
    }
    r.sign = doubled_m2 < 0.0 ? -1.0 : 1.0;
    while (r.n >= 3) {
        int ear = best_ear(&r);
        for (int k = 0; k < 3; k++) corner[3 * n + k] = r.left[(ear + k - 1 + r.n) % r.n];
        n++;
        r.n--;
        for (int k = ear; k < r.n; k++) r.left[k] = r.left[k + 1];
    }
    return n;
}
