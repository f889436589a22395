/* A way as a line, drawn straight wherever as wide a body walks straight, and how wide it is:
 * across it, between what bounds it on both sides, the narrowest of seven directions up to 30
 * degrees off square (a passage need not lie square to the line). Where nothing bounds it on one
 * side it has no width. */
#include "studies/fit/ways.h"

static const double STEP_M = 0.05;    /* of a line that is followed */
static const double MEASURE_M = 0.10; /* between two places that are measured */
static const double FINE_M = 0.025;   /* of the search for where the floor ends */
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

/* A line from a point over the floor, followed cell by cell. */
typedef struct ray {
    gradin_vec2 from_m, way;
    double sure_m, floor_m;
    int cell; /* so far it goes surely, and the floor there; INFINITY: it goes on */
} ray;

static gradin_vec2 along(const ray *r, double off_m) {
    return (gradin_vec2){r->from_m.x + r->way.x * off_m, r->from_m.y + r->way.y * off_m};
}

static ray follow(const ways *w, gradin_vec2 from_m, gradin_vec2 way) {
    ray r = {.from_m = from_m, .way = way, .cell = ways_cell(w, from_m)};
    r.floor_m = w->floor_m[r.cell];
    for (int i = 1; i <= (int)(REACH_M / STEP_M); i++) {
        int next = ways_cell(w, along(&r, STEP_M * i));
        if (!ways_is_step(w, r.cell, next)) {
            r.sure_m = fmax(0.0, STEP_M * (i - 2)); /* the cell's edge is not the floor's */
            return r;
        }
        r.cell = next;
        r.floor_m = w->floor_m[next];
    }
    r.sure_m = INFINITY;
    return r;
}

/* How far the floor goes: to the first point that is not free, found by halving; INFINITY out by an
 * exit. */
static double end_of_m(const ways *w, const ray *r) {
    double off_m = r->sure_m;
    for (double far_m = off_m + REACH_M; off_m < far_m; off_m += FINE_M)
        if (!ways_is_free(w, along(r, off_m + FINE_M), r->floor_m, 0.0)) break;
    gradin_vec2 end_m = ways_end_m(w, along(r, off_m), along(r, off_m + FINE_M), r->floor_m);
    if (ways_is_in_exit(w, end_m)) return INFINITY;
    return hypot(end_m.x - r->from_m.x, end_m.y - r->from_m.y);
}

static double across_m(const ways *w, gradin_vec2 at_m, double bearing_deg, double most_m) {
    gradin_vec2 way = gradin_bearing_unit(bearing_deg);
    ray one = follow(w, at_m, way);
    if (one.sure_m >= most_m) return most_m;
    ray other = follow(w, at_m, (gradin_vec2){-way.x, -way.y});
    if (one.sure_m + other.sure_m >= most_m) return most_m;
    return fmin(most_m, end_of_m(w, &one) + end_of_m(w, &other));
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
