/* Convex hull by monotone chains (Andrew 1979, from memory). */
#include "gradin/geometry.h"

#include <stdlib.h>

static const double straight_m2 = 1e-12;

static int by_place(const void *a, const void *b) {
    const gradin_vec2 *p = a, *q = b;
    if (p->x != q->x) return p->x < q->x ? -1 : 1;
    return (p->y > q->y) - (p->y < q->y);
}

static double turn_m2(gradin_vec2 a, gradin_vec2 b, gradin_vec2 c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

int gradin_convex_hull(gradin_vec2 *point_m, int n, gradin_vec2 *hull_m) {
    int m = 0;
    if (!point_m || !hull_m || n < 1) return 0;
    qsort(point_m, (size_t)n, sizeof *point_m, by_place);
    for (int i = 0; i < n; i++) {
        while (m >= 2 && turn_m2(hull_m[m - 2], hull_m[m - 1], point_m[i]) <= straight_m2) m--;
        hull_m[m++] = point_m[i];
    }
    for (int i = n - 2, lower = m + 1; i >= 0; i--) {
        while (m >= lower && turn_m2(hull_m[m - 2], hull_m[m - 1], point_m[i]) <= straight_m2) m--;
        hull_m[m++] = point_m[i];
    }
    return m - 1;
}
