/* The floor as cells, walked from the free exits inwards: from one cell to the next where the step
 * is no higher than step_m and nothing stands in the middle of the cell. A flood, as in any text on
 * maze search. The cells lie along the longest wall and alike from both ends of the room, so that a
 * room turned or mirrored has the same ones. */
#include "studies/fit/ways.h"

static const double CELL_M = 0.10;
static const double INSIDE_M = 0.06; /* from a door to the cell before it */
static const double HEADROOM_M = 2.0;
static const double LEAST_STEP_M = 0.10; /* of a stair; IBC 2021 clause 1011.5.2, from memory */
static const double NEAR_M =
    0.2; /* more than THIN_M and a rail's margin: what fit_obstacle() sees */
static const double SLACK = 1e-6;
static const double SHORT_M = 0.15; /* what is stepped from is nearer */
static const double THIN_M =
    0.03; /* what is as near as this is seen: nothing slips between cells */

gradin_vec2 ways_middle_m(const ways *w, int cell) {
    double along_m = (cell % w->n_column + 0.5) * w->column_m,
           across_m = (cell / w->n_column + 0.5) * w->row_m;
    return (gradin_vec2){w->low_m.x + w->x.x * along_m - w->x.y * across_m,
                         w->low_m.y + w->x.y * along_m + w->x.x * across_m};
}

int ways_cell(const ways *w, gradin_vec2 at_m) {
    double dx = at_m.x - w->low_m.x, dy = at_m.y - w->low_m.y;
    double column = floor((dx * w->x.x + dy * w->x.y) / w->column_m),
           row = floor((dy * w->x.x - dx * w->x.y) / w->row_m);
    bool is_in = column >= 0.0 && column < w->n_column && row >= 0.0 && row < w->n_row;
    return is_in ? (int)row * w->n_column + (int)column : -1;
}

int ways_beside(const ways *w, int cell, int k) {
    static const signed char step[16][2] = {{1, 0},   {0, 1},   {-1, 0}, {0, -1}, {1, 1},  {-1, 1},
                                            {-1, -1}, {1, -1},  {2, 1},  {1, 2},  {-1, 2}, {-2, 1},
                                            {-2, -1}, {-1, -2}, {1, -2}, {2, -1}};
    int column = cell % w->n_column + step[k][0], row = cell / w->n_column + step[k][1];
    bool is_in = column >= 0 && column < w->n_column && row >= 0 && row < w->n_row;
    return is_in ? row * w->n_column + column : -1;
}

/* The seat takes the back of its place where the block states how deep it is, else all of it. */
static bool is_on_seat(const gradin_model *m, int i, gradin_vec2 at_m, double floor_m) {
    const gradin_seats *s = &m->seats;
    const double *stated_m = m->machinery->block_seat_depth_m;
    double x = at_m.x - s->floor_m[i].x, y = at_m.y - s->floor_m[i].y;
    double wide2 = s->depth_m[i] * s->depth_m[i] + s->width_m[i] * s->width_m[i];
    if (x * x + y * y > 0.2501 * wide2) return false; /* outside the circle round its place */
    gradin_vec2 ahead = gradin_bearing_unit(s->facing_deg[i]);
    double along_m = x * ahead.x + y * ahead.y, half_m = s->depth_m[i] / 2.0, front_m = half_m;
    if (stated_m && stated_m[s->block[i]] > 0.0 && s->kind[i] != GRADIN_SEAT_WHEELCHAIR)
        front_m = fmin(half_m, stated_m[s->block[i]] - half_m);
    return fabs(s->floor_m[i].z - floor_m) < HEADROOM_M && along_m >= -half_m &&
           along_m <= front_m && fabs(x * ahead.y - y * ahead.x) <= s->width_m[i] / 2.0;
}

static bool is_seat_at(const ways *w, gradin_vec2 at_m, double floor_m) {
    const int *item;
    for (int k = 0; k < 9; k++)
        for (int i = 0, n = bins_near(&w->seat, at_m, k, &item); i < n; i++)
            if (is_on_seat(w->model, item[i], at_m, floor_m)) return true;
    return false;
}

/* The floor that somebody steps onto from from_m; NAN where nobody does. */
static double step_onto_m(const ways *w, gradin_vec2 at_m, double from_m, double margin_m) {
    double floor_m = fit_surface_m(w->model, at_m, from_m);
    double slope = fit_slope(w->model, at_m, floor_m);
    if (slope > w->steepest + SLACK) return NAN;
    if (!(fabs(floor_m - from_m) <= w->step_m + slope * SHORT_M) || is_seat_at(w, at_m, floor_m))
        return NAN;
    int cell = ways_cell(w, at_m);
    bool may_stand = cell < 0 || w->has_thing[cell];
    if (may_stand && fit_obstacle(w->model, at_m, floor_m, margin_m)) return NAN;
    return floor_m;
}

bool ways_is_free(const ways *w, gradin_vec2 at_m, double from_m, double margin_m) {
    return !isnan(step_onto_m(w, at_m, from_m, margin_m));
}

static void enter(ways *w, int cell, double from_m, int *queue, int *n) {
    if (cell < 0 || !isnan(w->floor_m[cell])) return;
    double floor_m = step_onto_m(w, ways_middle_m(w, cell), from_m, THIN_M);
    if (isnan(floor_m)) return;
    w->floor_m[cell] = floor_m;
    queue[(*n)++] = cell;
}

static double free_width_m(const gradin_fit *fit, const gradin_element *door) {
    for (int i = 0; i < fit->n_exit_narrowed; i++)
        if (fit->narrowed[i].name == door->name) return fit->narrowed[i].clear_m;
    return door->width_m;
}

static void enter_by(ways *w, const gradin_element *door, int *queue, int *n_queue) {
    int n = (int)ceil(2.0 * door->width_m / CELL_M);
    for (int i = 0; i < n; i++) {
        double across_m = door->width_m * (i + 0.5) / n;
        gradin_vec2 at_m = {
            door->corner_m.x + door->along.x * across_m - door->outward.x * INSIDE_M,
            door->corner_m.y + door->along.y * across_m - door->outward.y * INSIDE_M};
        int cell = ways_cell(w, at_m);
        enter(w, cell, door->corner_m.z, queue, n_queue);
        if (cell < 0 || isnan(w->floor_m[cell])) continue;
        w->exit[cell] = door->name;
        w->door_cm[cell] = (int)floor(100.0 * free_width_m(w->fit, door) + 0.5);
    }
}

const gradin_element *ways_gate(const ways *w, int i) {
    const fit_gate *gate = &w->gate.item[i];
    bool is_taken =
        fit_is_free_exit(w->fit, &gate->door) && !(gate->has_steps && w->step_m < LEAST_STEP_M);
    return is_taken ? &gate->door : NULL;
}

static void flood(ways *w, int *queue) {
    int n = 0;
    for (int i = 0; i < w->gate.n; i++)
        if (ways_gate(w, i)) enter_by(w, ways_gate(w, i), queue, &n);
    for (int i = 0; i < n; i++)
        for (int k = 0; k < 4; k++)
            enter(w, ways_beside(w, queue[i], k), w->floor_m[queue[i]], queue, &n);
}

/* The direction of the longest wall. */
static gradin_vec2 longest_wall(gradin_polygon p) {
    gradin_vec2 found = {1.0, 0.0};
    double longest_m = 0.0;
    for (int i = 0; i < p.n_corner; i++) {
        gradin_vec2 a = p.corner_m[i], b = p.corner_m[(i + 1) % p.n_corner];
        double length_m = hypot(b.x - a.x, b.y - a.y);
        if (length_m <= longest_m + 1e-6) continue;
        longest_m = length_m;
        found = (gradin_vec2){(b.x - a.x) / length_m, (b.y - a.y) / length_m};
    }
    return found;
}

static void lay_cells(ways *w) {
    gradin_polygon room = w->model->footprint;
    gradin_box2 box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
    w->x = longest_wall(room);
    for (int i = 0; i < room.n_corner; i++) {
        gradin_vec2 p = room.corner_m[i];
        double along_m = p.x * w->x.x + p.y * w->x.y, across_m = p.y * w->x.x - p.x * w->x.y;
        box = (gradin_box2){fmin(box.x_min_m, along_m), fmin(box.y_min_m, across_m),
                            fmax(box.x_max_m, along_m), fmax(box.y_max_m, across_m)};
    }
    w->low_m = (gradin_vec2){box.x_min_m * w->x.x - box.y_min_m * w->x.y,
                             box.x_min_m * w->x.y + box.y_min_m * w->x.x};
    w->n_column = (int)ceil((box.x_max_m - box.x_min_m) / CELL_M - 1e-6);
    w->n_row = (int)ceil((box.y_max_m - box.y_min_m) / CELL_M - 1e-6);
    w->column_m = (box.x_max_m - box.x_min_m) / w->n_column;
    w->row_m = (box.y_max_m - box.y_min_m) / w->n_row;
    w->n_cell = w->n_column * w->n_row;
}

/* Cells near the box round these points, in the frame of the cells. */
static void mark_near(ways *w, const gradin_vec2 *point_m, int n) {
    gradin_box2 box = {INFINITY, INFINITY, -INFINITY, -INFINITY};
    for (int i = 0; i < n; i++) {
        double x = point_m[i].x - w->low_m.x, y = point_m[i].y - w->low_m.y;
        double along_m = x * w->x.x + y * w->x.y, across_m = y * w->x.x - x * w->x.y;
        box = (gradin_box2){fmin(box.x_min_m, along_m), fmin(box.y_min_m, across_m),
                            fmax(box.x_max_m, along_m), fmax(box.y_max_m, across_m)};
    }
    int left = (int)fmax(0.0, floor((box.x_min_m - NEAR_M) / w->column_m)),
        right = (int)fmin(w->n_column - 1.0, floor((box.x_max_m + NEAR_M) / w->column_m)),
        top = (int)fmin(w->n_row - 1.0, floor((box.y_max_m + NEAR_M) / w->row_m));
    for (int row = (int)fmax(0.0, floor((box.y_min_m - NEAR_M) / w->row_m)); row <= top; row++)
        for (int column = left; column <= right; column++)
            w->has_thing[row * w->n_column + column] = true;
}

static void mark_things(ways *w) {
    const gradin_model *m = w->model;
    gradin_polygon room = m->footprint;
    for (int i = 0; i < room.n_corner; i++) {
        gradin_vec2 ends[2] = {room.corner_m[i], room.corner_m[(i + 1) % room.n_corner]};
        mark_near(w, ends, 2);
    }
    for (int i = 0; i < m->n_solid; i++)
        mark_near(w, m->solid[i].polygon.corner_m, m->solid[i].polygon.n_corner);
    for (int i = 0; i < m->n_rail; i++)
        for (int k = 0; k + 1 < m->rail[i].n_point; k++) {
            const gradin_vec3 *p = &m->rail[i].point_m[k];
            gradin_vec2 ends[2] = {{p[0].x, p[0].y}, {p[1].x, p[1].y}};
            mark_near(w, ends, 2);
        }
}

static bool find_room(ways *w) {
    size_t n = (size_t)w->n_cell;
    w->has_thing = gradin_arena_alloc(w->arena, n, sizeof *w->has_thing);
    w->floor_m = gradin_arena_alloc(w->arena, n, sizeof *w->floor_m);
    w->wide_cm = gradin_arena_alloc(w->arena, n, sizeof *w->wide_cm);
    w->exit = gradin_arena_alloc(w->arena, n, sizeof *w->exit);
    w->door_cm = gradin_arena_alloc(w->arena, n, sizeof *w->door_cm);
    w->out_cm = gradin_arena_alloc(w->arena, n, sizeof *w->out_cm);
    w->length_m = gradin_arena_alloc(w->arena, n, sizeof *w->length_m);
    w->next = gradin_arena_alloc(w->arena, n, sizeof *w->next);
    w->heap = gradin_arena_alloc(w->arena, n, sizeof *w->heap);
    w->place = gradin_arena_alloc(w->arena, n, sizeof *w->place);
    return w->has_thing && w->floor_m && w->wide_cm && w->exit && w->door_cm && w->out_cm &&
           w->length_m && w->next && w->heap && w->place;
}

bool ways_is_step(const ways *w, int from, int to) {
    if (to < 0) return false;
    double rise_m = fabs(w->floor_m[to] - w->floor_m[from]);
    if (rise_m <= w->step_m || !(rise_m > 0.0) || w->model->n_floor == 0)
        return rise_m <= w->step_m;
    double slope = fmax(fit_slope(w->model, ways_middle_m(w, from), w->floor_m[from]),
                        fit_slope(w->model, ways_middle_m(w, to), w->floor_m[to]));
    return rise_m <= w->step_m + slope * hypot(w->column_m, w->row_m);
}

bool ways_start(gradin_arena *arena, const gradin_fit *fit, double step_m, double steepest,
                double wanted_m, ways *w) {
    const gradin_seats *s = &fit->model->seats;
    *w = (ways){.arena = arena,
                .fit = fit,
                .model = fit->model,
                .step_m = step_m,
                .steepest = steepest,
                .wanted_cm = (int)ceil(100.0 * wanted_m - 1e-6)};
    lay_cells(w);
    gradin_vec2 *seat_m = gradin_arena_alloc(arena, (size_t)s->n_seat + 1, sizeof *seat_m);
    int *queue = gradin_arena_alloc(arena, (size_t)w->n_cell, sizeof *queue);
    if (!find_room(w) || !seat_m || !queue || !fit_list_gates(arena, w->model, &w->gate))
        return false;
    for (int i = 0; i < s->n_seat; i++) seat_m[i] = (gradin_vec2){s->floor_m[i].x, s->floor_m[i].y};
    if (!bins_make(arena, seat_m, s->n_seat, &w->seat)) return false;
    for (int i = 0; i < w->n_cell; i++) w->floor_m[i] = NAN;
    mark_things(w);
    flood(w, queue);
    return true;
}
