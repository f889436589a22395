/* A way as a line, drawn straight wherever as wide a body walks straight, and how wide it is:
 * across it, between what bounds it on both sides, the narrowest of seven directions up to 30
 * degrees off square (a passage need not lie square to the line). Where nothing bounds it on one
 * side it has no width. */
#include "studies/fit/ways.h"

static const double STEP_M = 0.05;    /* of a line that is followed */
static const double MEASURE_M = 0.10; /* between two places that are measured */
static const double REACH_M = 2.5, MOST_M = 3.0;
enum { N_ASKEW = 3, ASKEW_DEG = 10 };

static bool is_wide(const ways *w, gradin_vec2 a, gradin_vec2 b, int least_cm) {
    int n = (int)ceil(hypot(b.x - a.x, b.y - a.y) / STEP_M);
    for (int i = 1; i < n; i++) {
        int cell =
            ways_cell(w, (gradin_vec2){a.x + (b.x - a.x) * i / n, a.y + (b.y - a.y) * i / n});
        if (cell < 0 || w->wide_cm[cell] < least_cm) return false;
    }
    return true;
}

int ways_line(const ways *w, gradin_vec2 from_m, int cell, int least_cm,
              const gradin_vec2 **point) {
    int n = 0, n_cell = 0;
    for (int i = cell; i >= 0; i = w->next[i]) n_cell++;
    gradin_vec2 *made = gradin_arena_alloc(w->arena, (size_t)n_cell + 1, sizeof *made);
    if (!made) return 0;
    made[n++] = from_m;
    made[n++] = ways_middle_m(w, cell);
    for (int before = cell, i = w->next[cell]; i >= 0; before = i, i = w->next[i]) {
        bool is_corner = n > 2 && !is_wide(w, made[n - 2], ways_middle_m(w, i), least_cm);
        if (before == cell || is_corner) n++;
        made[n - 1] = ways_middle_m(w, i);
    }
    *point = made;
    return n;
}

double ways_length_m(const gradin_vec2 *point, int n_point) {
    double length_m = 0.0;
    for (int i = 0; i + 1 < n_point; i++)
        length_m += hypot(point[i + 1].x - point[i].x, point[i + 1].y - point[i].y);
    return length_m;
}

/* How far the floor goes from a point; INFINITY when farther than is looked or out by an exit. */
static double reach_m(const ways *w, gradin_vec2 at_m, gradin_vec2 way) {
    int cell = ways_cell(w, at_m), n = (int)(REACH_M / STEP_M);
    double floor_m = w->floor_m[cell];
    for (int i = 1; i <= n; i++) {
        gradin_vec2 next_m = {at_m.x + way.x * STEP_M * i, at_m.y + way.y * STEP_M * i};
        int next = ways_cell(w, next_m);
        if (next >= 0 && fabs(w->floor_m[next] - floor_m) <= w->step_m) {
            floor_m = w->floor_m[next];
            continue;
        }
        double back_m = STEP_M * (i > 2 ? i - 2 : 0), on_m = STEP_M * (i + 1);
        gradin_vec2 a = {at_m.x + way.x * back_m, at_m.y + way.y * back_m},
                    b = {at_m.x + way.x * on_m, at_m.y + way.y * on_m};
        gradin_vec2 end_m = ways_end_m(w, a, b, floor_m);
        return ways_is_in_exit(w, end_m) ? INFINITY : hypot(end_m.x - at_m.x, end_m.y - at_m.y);
    }
    return INFINITY;
}

static double across_m(const ways *w, gradin_vec2 at_m, double bearing_deg, double most_m) {
    gradin_vec2 way = gradin_bearing_unit(bearing_deg);
    double one_m = reach_m(w, at_m, way);
    if (one_m >= most_m) return most_m;
    return fmin(most_m, one_m + reach_m(w, at_m, (gradin_vec2){-way.x, -way.y}));
}

double ways_narrowest_m(const ways *w, const gradin_vec2 *point, int n_point, gradin_vec2 *narrow) {
    double least_m = MOST_M;
    *narrow = point[n_point - 1];
    for (int i = 1; i + 1 < n_point; i++) { /* not the step from the seat onto the way */
        double dx = point[i + 1].x - point[i].x, dy = point[i + 1].y - point[i].y;
        double square_deg = atan2(dx, dy) * 180.0 / M_PI + 90.0;
        int n = (int)ceil(hypot(dx, dy) / MEASURE_M);
        for (int k = 0; k <= n; k++) {
            gradin_vec2 at_m = {point[i].x + dx * k / n, point[i].y + dy * k / n};
            int cell = ways_cell(w, at_m);
            if (cell < 0 || isnan(w->floor_m[cell])) continue;
            for (int askew = -N_ASKEW; askew <= N_ASKEW; askew++) {
                double wide_m = across_m(w, at_m, square_deg + askew * ASKEW_DEG, least_m);
                if (wide_m >= least_m) continue;
                least_m = wide_m;
                *narrow = at_m;
            }
        }
    }
    return least_m;
}
