/* How broad a body stands on each cell. Between a cell that is walked and one beside it that is not
 * walked from it lies a point where the floor ends, found by halving; with the corners of what
 * stands there these points bound the floor. The breadth is twice the distance to the nearest,
 * where the body stands best within the cell: away from that point, found by ternary search. What
 * an exit opens is no wall. */
#include "studies/fit/ways.h"

static const double AT_DOOR_M = 0.02;
static const double CORNER_M = 0.001;
static const double HEADROOM_M = 2.0;
enum { N_HALVING = 9, N_TERNARY = 12 };

static bool add_wall(ways *w, gradin_vec2 at_m) {
    if (gradin_arena_grow(w->arena, (void **)&w->wall_m, w->n_wall, &w->wall_capacity,
                          sizeof *w->wall_m) != GRADIN_OK)
        return false;
    w->wall_m[w->n_wall++] = at_m;
    return true;
}

static gradin_vec2 between(gradin_vec2 a, gradin_vec2 b, double t) {
    return (gradin_vec2){a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
}

bool ways_is_in_exit(const ways *w, gradin_vec2 at_m) {
    for (int i = 0; i < w->gate.n; i++) {
        const gradin_element *door = ways_gate(w, i);
        if (!door) continue;
        double x = at_m.x - door->corner_m.x, y = at_m.y - door->corner_m.y;
        double along_m = x * door->along.x + y * door->along.y;
        if (fabs(x * door->outward.x + y * door->outward.y) < AT_DOOR_M && along_m > 0.0 &&
            along_m < door->width_m)
            return true;
    }
    return false;
}

gradin_vec2 ways_end_m(const ways *w, gradin_vec2 a, gradin_vec2 b, double from_m) {
    double free = 0.0, taken = 1.0;
    for (int i = 0; i < N_HALVING; i++) {
        double t = 0.5 * (free + taken);
        if (ways_is_free(w, between(a, b, t), from_m, 0.0))
            free = t;
        else
            taken = t;
    }
    return between(a, b, free);
}

static bool add_ends(ways *w, int cell) {
    static const int ahead[4][2] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
    gradin_vec2 a = ways_middle_m(w, cell);
    for (int k = 0; k < 4; k++) {
        if (ways_is_step(w, cell, ways_beside(w, cell, k))) continue;
        double x = ahead[k][0] * w->column_m, y = ahead[k][1] * w->row_m;
        gradin_vec2 b = {a.x + w->x.x * x - w->x.y * y, a.y + w->x.y * x + w->x.x * y};
        gradin_vec2 end_m = ways_end_m(w, a, b, w->floor_m[cell]);
        if (!ways_is_in_exit(w, end_m) && !add_wall(w, end_m)) return false;
    }
    return true;
}

/* A floor that is walked at the point or beside it; NAN: none. */
static double floor_by_m(const ways *w, gradin_vec2 at_m) {
    int cell = ways_cell(w, at_m);
    if (cell < 0) return NAN;
    if (!isnan(w->floor_m[cell])) return w->floor_m[cell];
    for (int k = 0; k < 8; k++) {
        int beside = ways_beside(w, cell, k);
        if (beside >= 0 && !isnan(w->floor_m[beside])) return w->floor_m[beside];
    }
    return NAN;
}

static bool add_corners(ways *w, gradin_polygon p) {
    for (int k = 0; k < p.n_corner; k++) {
        double floor_m = floor_by_m(w, p.corner_m[k]);
        if (!isnan(floor_m) && fit_obstacle(w->model, p.corner_m[k], floor_m, CORNER_M) &&
            !add_wall(w, p.corner_m[k]))
            return false;
    }
    return true;
}

static bool add_seat(ways *w, int seat) {
    const gradin_seats *s = &w->model->seats;
    gradin_vec2 ahead = gradin_bearing_unit(s->facing_deg[seat]);
    for (int k = 0; k < 4; k++) {
        double along_m = (k < 2 ? 0.5 : -0.5) * s->depth_m[seat],
               across_m = (k % 2 ? 0.5 : -0.5) * s->width_m[seat];
        gradin_vec2 at_m = {s->floor_m[seat].x + ahead.x * along_m + ahead.y * across_m,
                            s->floor_m[seat].y + ahead.y * along_m - ahead.x * across_m};
        double floor_m = floor_by_m(w, at_m);
        bool is_there =
            fabs(s->floor_m[seat].z - floor_m) < HEADROOM_M &&
            !ways_is_free(
                w, between(at_m, (gradin_vec2){s->floor_m[seat].x, s->floor_m[seat].y}, CORNER_M),
                floor_m, 0.0);
        if (is_there && !add_wall(w, at_m)) return false;
    }
    return true;
}

static bool add_jambs(ways *w, const gradin_element *door) {
    gradin_vec2 a = {door->corner_m.x, door->corner_m.y};
    gradin_vec2 b = {a.x + door->along.x * door->width_m, a.y + door->along.y * door->width_m};
    return add_wall(w, a) && add_wall(w, b);
}

static bool add_walls(ways *w) {
    const gradin_model *m = w->model;
    for (int i = 0; i < w->n_cell; i++)
        if (!isnan(w->floor_m[i]) && !add_ends(w, i)) return false;
    for (int i = 0; i < m->n_solid; i++)
        if (!add_corners(w, m->solid[i].polygon)) return false;
    for (int i = 0; i < m->seats.n_seat; i++)
        if (!add_seat(w, i)) return false;
    for (int i = 0; i < w->gate.n; i++)
        if (ways_gate(w, i) && !add_jambs(w, ways_gate(w, i))) return false;
    return add_corners(w, m->footprint) && bins_make(w->arena, w->wall_m, w->n_wall, &w->wall);
}

static gradin_vec2 nearest_wall(const ways *w, gradin_vec2 at_m) {
    gradin_vec2 found = at_m;
    double least_m = INFINITY;
    const int *item;
    for (int k = 0; k < 9; k++)
        for (int i = 0, n = bins_near(&w->wall, at_m, k, &item); i < n; i++) {
            gradin_vec2 p = w->wall_m[item[i]];
            double off_m = hypot(p.x - at_m.x, p.y - at_m.y);
            if (off_m >= least_m) continue;
            least_m = off_m;
            found = p;
        }
    return found;
}

/* The most room within the cell, away from the nearest wall. */
static double best_off_m(const ways *w, gradin_vec2 at_m, double off_m, double most_m) {
    gradin_vec2 wall_m = nearest_wall(w, at_m);
    double reach_m = 0.5 * fmax(w->column_m, w->row_m) * M_SQRT2;
    gradin_vec2 far_m = between(wall_m, at_m, (off_m + reach_m) / off_m);
    double low = 0.0, high = 1.0;
    for (int i = 0; i < N_TERNARY; i++) {
        double a = low + (high - low) / 3.0, b = high - (high - low) / 3.0;
        if (bins_off_m(&w->wall, between(at_m, far_m, a), most_m) <
            bins_off_m(&w->wall, between(at_m, far_m, b), most_m))
            low = a;
        else
            high = b;
    }
    return fmax(off_m, bins_off_m(&w->wall, between(at_m, far_m, 0.5 * (low + high)), most_m));
}

bool ways_measure(ways *w) {
    if (!add_walls(w)) return false;
    double most_m = fmin(0.01 + w->wanted_cm / 200.0, 1.0);
    double slack_m = 0.5 * hypot(w->column_m, w->row_m);
    for (int i = 0; i < w->n_cell; i++) {
        w->wide_cm[i] = 0;
        if (isnan(w->floor_m[i])) continue;
        gradin_vec2 at_m = ways_middle_m(w, i);
        double off_m = bins_off_m(&w->wall, at_m, most_m);
        bool is_useful =
            off_m > 1e-6 && off_m < most_m && 200.0 * (off_m + slack_m) >= WAYS_BODY_CM;
        if (is_useful) off_m = best_off_m(w, at_m, off_m, most_m);
        w->wide_cm[i] = (int)fmin(floor(200.0 * off_m + 0.5), w->wanted_cm);
    }
    return true;
}
