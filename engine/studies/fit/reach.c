/* Has every place a way to a free exit? The floor is walked cell by cell from the free exits
 * inwards: from one cell to the next where the step is no higher than STEP_M and nothing stands
 * within half a person's breadth of its middle. Places on towers and on decks have stairs of their
 * own, which no file states: they are counted and not looked at. A venue that states no exit is not
 * judged. Seats are no obstacle here; what the rules say of rows is held in rows.c. A flood, as in
 * any text on maze search; STEP_M and the breadth are common practice, no source. */
#include "studies/fit/fit.h"

static const double CELL_M = 0.20;
static const double BODY_M = 0.25;  /* half the breadth of a person: 0.5 m is a way, and one of less
                                       than 0.7 m may be missed between cells */
static const double STEP_M = 0.50;  /* higher is climbed by nobody in a crowd */
static const double NEAR_M = 0.45;  /* from a place to the way */
static const double INSIDE_M = 0.5; /* from a door to where the walk begins */
static const double LEVEL_M = 0.01;

typedef struct walk {
    const gradin_model *model;
    gradin_vec2 origin_m;
    int n_column, n_row;
    double *floor_m;     /* [n_row][n_column] of the cells that were reached; NAN elsewhere */
    int *queue;          /* [n_row * n_column] cells to go on from */
    int n_queue, n_done; /* cells entered; gone on from */
    bool *is_blocked;    /* [n_row][n_column] */
    int *part;           /* [n_row][n_column]: which part of the floor a reached cell is of */
    int now;             /* the part that is walked */
} walk;

static gradin_vec2 middle_of(const walk *w, int cell) {
    return (gradin_vec2){w->origin_m.x + (cell % w->n_column + 0.5) * CELL_M,
                         w->origin_m.y + (cell / w->n_column + 0.5) * CELL_M};
}

static int cell_at(const walk *w, gradin_vec2 at_m) {
    int column = (int)floor((at_m.x - w->origin_m.x) / CELL_M);
    int row = (int)floor((at_m.y - w->origin_m.y) / CELL_M);
    bool is_in = column >= 0 && column < w->n_column && row >= 0 && row < w->n_row;
    return is_in ? row * w->n_column + column : -1;
}

/* A cell is tried from each side until somebody enters it, but what stands there is found once. */
static bool has_room(walk *w, int cell, double floor_m) {
    if (w->is_blocked[cell]) return false;
    w->is_blocked[cell] = fit_obstacle(w->model, middle_of(w, cell), floor_m, BODY_M) != NULL;
    return !w->is_blocked[cell];
}

static void enter(walk *w, int cell, double from_m) {
    if (cell < 0 || !isnan(w->floor_m[cell])) return;
    double floor_m = fit_surface_m(w->model, middle_of(w, cell), from_m);
    if (!(fabs(floor_m - from_m) <= STEP_M) || !has_room(w, cell, floor_m)) return;
    w->floor_m[cell] = floor_m;
    w->part[cell] = w->now;
    w->queue[w->n_queue++] = cell;
}

static void go_on(walk *w) {
    for (; w->n_done < w->n_queue; w->n_done++) {
        int cell = w->queue[w->n_done], column = cell % w->n_column;
        double floor_m = w->floor_m[cell];
        if (column > 0) enter(w, cell - 1, floor_m);
        if (column + 1 < w->n_column) enter(w, cell + 1, floor_m);
        if (cell >= w->n_column) enter(w, cell - w->n_column, floor_m);
        if (cell + w->n_column < w->n_column * w->n_row) enter(w, cell + w->n_column, floor_m);
    }
}

/* The part of the floor that the exit leads out of; one that was walked before keeps its number. */
static int enter_by(walk *w, const gradin_element *door, int number) {
    int n = (int)ceil(door->width_m / CELL_M);
    w->now = number;
    for (int i = 0; i <= n; i++) {
        double across_m = door->width_m * i / n;
        gradin_vec2 at_m = {
            door->corner_m.x + door->along.x * across_m - door->outward.x * INSIDE_M,
            door->corner_m.y + door->along.y * across_m - door->outward.y * INSIDE_M};
        int cell = cell_at(w, at_m);
        if (cell >= 0 && !isnan(w->floor_m[cell])) w->now = w->part[cell];
        enter(w, cell, door->corner_m.z);
    }
    return w->now;
}

/* Marks the parts of the floor near a place; false where there are none. */
static bool is_reached(const walk *w, gradin_vec3 seat_m, double near_m, double step_m,
                       bool *is_used) {
    int reach = (int)ceil(near_m / CELL_M), middle = cell_at(w, (gradin_vec2){seat_m.x, seat_m.y});
    bool is_any = false;
    if (middle < 0) return false;
    for (int row = -reach; row <= reach; row++)
        for (int column = -reach; column <= reach; column++) {
            gradin_vec2 at_m = {seat_m.x + column * CELL_M, seat_m.y + row * CELL_M};
            int cell = cell_at(w, at_m);
            if (cell < 0 || hypot(at_m.x - seat_m.x, at_m.y - seat_m.y) > near_m) continue;
            if (!(fabs(w->floor_m[cell] - seat_m.z) <= step_m)) continue;
            is_used[w->part[cell]] = is_any = true;
        }
    return is_any;
}

bool fit_is_on_deck(const gradin_model *m, int seat) {
    gradin_vec3 at_m = m->seats.floor_m[seat];
    if (m->machinery->block_seating[m->seats.block[seat]] == -1) return true;
    for (int i = 0; i < m->n_solid; i++)
        if (m->solid[i].top_m > STEP_M && m->solid[i].top_m < at_m.z + LEVEL_M &&
            gradin_polygon_contains(m->solid[i].polygon, (gradin_vec2){at_m.x, at_m.y}))
            return true;
    return false;
}

static bool start(gradin_arena *arena, const gradin_model *m, walk *w) {
    gradin_box2 room = gradin_polygon_bounds(m->footprint);
    *w = (walk){.model = m, .origin_m = {room.x_min_m, room.y_min_m}};
    w->n_column = (int)ceil((room.x_max_m - room.x_min_m) / CELL_M);
    w->n_row = (int)ceil((room.y_max_m - room.y_min_m) / CELL_M);
    size_t n = (size_t)w->n_column * (size_t)w->n_row;
    w->floor_m = gradin_arena_alloc(arena, n, sizeof *w->floor_m);
    w->queue = gradin_arena_alloc(arena, n, sizeof *w->queue);
    w->is_blocked = gradin_arena_alloc(arena, n, sizeof *w->is_blocked);
    w->part = gradin_arena_alloc(arena, n, sizeof *w->part);
    if (!w->floor_m || !w->queue || !w->is_blocked || !w->part) return false;
    for (size_t i = 0; i < n; i++) w->floor_m[i] = NAN;
    return true;
}

/* Exits that nobody can reach let nobody out. */
static bool leave_out_unused(gradin_arena *arena, gradin_fit *fit, const fit_gates *gates,
                             const int *part, const bool *is_used) {
    bool *is_out = gradin_arena_alloc(arena, (size_t)gates->n, sizeof *is_out);
    for (int i = 0; is_out && i < gates->n; i++) is_out[i] = part[i] >= 0 && !is_used[part[i]];
    return is_out && fit_leave_out(arena, fit, gates, is_out);
}

/* How people come down from a deck is in no file: it may be anywhere near; common
 * practice, no source. */
static const double DOWN_M = 1.5;

bool fit_ways_out(gradin_arena *arena, gradin_fit *fit) {
    const gradin_model *m = fit->model;
    walk w;
    fit_gates gates;
    if (fit->n_exit == 0) return true;
    if (!start(arena, m, &w) || !fit_list_gates(arena, m, &gates)) return false;
    int *part = gradin_arena_alloc(arena, (size_t)gates.n, sizeof *part);
    bool *is_used = gradin_arena_alloc(arena, (size_t)gates.n, sizeof *is_used);
    if (!part || !is_used) return false;
    for (int i = 0; i < gates.n; i++) {
        bool is_free = fit_is_free_exit(fit, &gates.item[i].door);
        part[i] = is_free ? enter_by(&w, &gates.item[i].door, i) : -1;
        go_on(&w);
    }
    for (int i = 0; i < m->seats.n_seat; i++) {
        gradin_vec3 at_m = m->seats.floor_m[i];
        if (fit_is_on_deck(m, i)) {
            fit->n_on_deck++;
            is_reached(&w, at_m, DOWN_M, INFINITY, is_used);
        } else if (!is_reached(&w, at_m, NEAR_M, STEP_M, is_used)) {
            if (fit->n_cut_off++ == 0) fit->first_cut_off = m->seats.id[i];
        }
    }
    bool is_any = fit->n_cut_off + fit->n_on_deck < m->seats.n_seat; /* else all lack a way */
    return !is_any || leave_out_unused(arena, fit, &gates, part, is_used);
}
