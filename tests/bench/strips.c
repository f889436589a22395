/* Which seats miss a strip at the near edge of a floor, as behind a rail, a riser or the row in
 * front: hidden from the edge on, in a quarter of all directions on plan at least. The floor is cut
 * into directions from the eye, and in each as many samples as are hidden, the nearest to the edge,
 * are looked at: nine tenths of all of these are hidden. */
#include "strips.h"
#include "geometry/plan/plan.h"

#include <stdlib.h>

enum { N_DIRECTION = 32 };
static const double most_of = 0.9, broad = 0.25, half = 0.5;

typedef struct place {
    double direction, depth_m; /* depth over the floor on plan, from its edge */
    bool is_hidden;
} place;

static int by_direction_and_depth(const void *a, const void *b) {
    const place *p = a, *q = b;
    if (p->direction != q->direction) return p->direction > q->direction ? 1 : -1;
    return (p->depth_m > q->depth_m) - (p->depth_m < q->depth_m);
}

/* From where the line from the eye first meets the floor's edge. */
static double depth_m(gradin_polygon area, gradin_vec2 eye, gradin_vec2 way) {
    double enter = 1.0;
    for (int i = 0; i < area.n_corner; i++) {
        gradin_vec2 a = plan_corner(area, i), edge = plan_sub(plan_corner(area, i + 1), a);
        double cross = plan_cross(way, edge);
        if (cross == 0.0) continue;
        double t = plan_cross(plan_sub(a, eye), edge) / cross;
        double s = plan_cross(plan_sub(a, eye), way) / cross;
        if (t > 0.0 && s >= 0.0 && s <= 1.0) enter = fmin(enter, t);
    }
    return (1.0 - enter) * hypot(way.x, way.y);
}

static void place_all(gradin_polygon area, gradin_vec3 eye_m, const gradin_vec3 *sample_m,
                      const bool *clear, int n, place *all) {
    gradin_vec2 eye = {eye_m.x, eye_m.y}, ahead = plan_sub(area.corner_m[0], eye);
    double least = INFINITY, most = -INFINITY;
    for (int i = 0; i < n; i++) {
        gradin_vec2 way = {sample_m[i].x - eye.x, sample_m[i].y - eye.y};
        double angle = atan2(plan_cross(ahead, way), ahead.x * way.x + ahead.y * way.y);
        all[i] = (place){angle, depth_m(area, eye, way), !clear[i]};
        least = fmin(least, angle);
        most = fmax(most, angle);
    }
    for (int i = 0; i < n; i++)
        all[i].direction = floor(N_DIRECTION * (all[i].direction - least) / (most - least));
    qsort(all, (size_t)n, sizeof *all, by_direction_and_depth);
}

bool strip_is_near(gradin_polygon area, gradin_vec3 eye_m, const gradin_vec3 *sample_m,
                   const bool *clear, int n) {
    place *all = malloc((size_t)n * sizeof *all);
    int n_hidden = 0, n_near = 0, n_broad = 0;
    if (!all) return false;
    place_all(area, eye_m, sample_m, clear, n, all);
    for (int from = 0, to; from < n; from = to) {
        int hidden = 0;
        for (to = from; to < n && all[to].direction == all[from].direction; to++)
            hidden += all[to].is_hidden;
        for (int i = from; i < from + hidden; i++) n_near += all[i].is_hidden;
        n_hidden += hidden;
        n_broad += hidden > 0;
    }
    free(all);
    return n_hidden > 0 && n_hidden < half * n && n_near >= most_of * n_hidden &&
           n_broad >= broad * N_DIRECTION;
}
