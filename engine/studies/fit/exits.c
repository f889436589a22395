/* Exits left free. An exit is a door, or an open vomitory that leads out; how much of its width
 * counts is found by a sweep from the wall inwards over a landing's length: the widest way in which
 * the floor is within a step of the sill and neither seats nor structure nor rails stand. An exit
 * narrower than the least clear width counts for nothing. What lies beyond the landing is outside
 * this check. */
#include "studies/fit/fit.h"

static const double STEP_M = 0.25, CLEAR_M = 1.0;
static const double RAISED_M = 0.15; /* a step up; common practice, no source */
static const double HEADROOM_M = 2.0;
/* IBC 2021 clauses 1010.1.5 (landing 44 in long) and 1010.1.1 (clear width 32 in); from memory. */
static const double LANDING_M = 1.12, LEAST_CLEAR_M = 0.813;
static const double SWEEP_M = 0.05; /* step of the sweep, */
static const double THIN_M = 0.02;  /* which sees what is as near as this to its points */

/* A seat with whoever sits on it. */
static bool is_on_seat(const gradin_seats *s, int i, gradin_vec2 at_m, double sill_m) {
    double x = at_m.x - s->floor_m[i].x, y = at_m.y - s->floor_m[i].y;
    double wide2 = s->depth_m[i] * s->depth_m[i] + s->width_m[i] * s->width_m[i];
    if (x * x + y * y > 0.2501 * wide2) return false; /* outside the circle round its place */
    gradin_vec2 ahead = gradin_bearing_unit(s->facing_deg[i]);
    double along_m = x * ahead.x + y * ahead.y, across_m = x * ahead.y - y * ahead.x;
    return fabs(s->floor_m[i].z - sill_m) < HEADROOM_M && fabs(along_m) <= s->depth_m[i] / 2.0 &&
           fabs(across_m) <= s->width_m[i] / 2.0;
}

/* What stands at a point before a door; NULL when it is free. */
static const char *stands_at(const gradin_model *m, gradin_vec2 at_m, double sill_m) {
    if (fabs(fit_surface_m(m, at_m, sill_m) - sill_m) > STEP_M)
        return "the floor before it is not at its sill";
    for (int i = 0; i < m->seats.n_seat; i++)
        if (is_on_seat(&m->seats, i, at_m, sill_m)) return "seats stand before it";
    return fit_obstacle(m, at_m, sill_m, THIN_M);
}

/* Column `of` of the strip before the door, from the wall inwards. */
static const char *stands_in_column(const gradin_model *m, const gradin_element *door,
                                    double across_m) {
    int n = (int)ceil(LANDING_M / SWEEP_M);
    for (int i = 1; i <= n; i++) {
        double in_m = LANDING_M * i / n;
        gradin_vec2 at_m = {door->corner_m.x + door->along.x * across_m - door->outward.x * in_m,
                            door->corner_m.y + door->along.y * across_m - door->outward.y * in_m};
        const char *what = stands_at(m, at_m, door->corner_m.z);
        if (what) return what;
    }
    return NULL;
}

/* The widest way straight in that nothing stands in, and the first thing that narrows it. */
static gradin_blocked sweep(const gradin_model *m, const gradin_element *door) {
    gradin_blocked found = {.name = door->name, .width_m = door->width_m};
    int n = (int)ceil(door->width_m / SWEEP_M - 1e-9);
    double step_m = door->width_m / n, run_m = 0.0;
    for (int i = 0; i < n; i++) {
        const char *what = stands_in_column(m, door, (i + 0.5) * step_m);
        run_m = what ? 0.0 : run_m + step_m;
        if (run_m > found.clear_m) found.clear_m = run_m;
        if (what && !found.reason) found.reason = what;
    }
    if (found.clear_m < fmin(LEAST_CLEAR_M, door->width_m) - 1e-9) found.clear_m = 0.0;
    return found;
}

static gradin_blocked check_door(const gradin_model *m, const gradin_element *door) {
    if (door->exit == GRADIN_EXIT_WHEN_OPEN && door->open < 1.0)
        return (gradin_blocked){.name = door->name,
                                .reason = "an exit only when open; it is not open in this layout",
                                .width_m = door->width_m};
    return sweep(m, door);
}

/* On the tread of a bank beside the stair, and not where it comes up: a side is an edge, no way. */
static bool is_up_beside(double floor_m, gradin_vec2 from_m, gradin_vec2 at_m, double top_deg) {
    double way_deg = gradin_bearing_deg(at_m.x - from_m.x, at_m.y - from_m.y);
    return floor_m > RAISED_M && gradin_bearing_gap_deg(way_deg, top_deg) > 45.0; /* NAN: never */
}

/* A level passage has lost its seats, and what stands before it is seen as before any door. */
static bool is_seat_at(const gradin_model *m, int stair) {
    if (m->vomitory_passage[stair]) return false;
    gradin_polygon polygon = m->vomitory[stair].polygon;
    for (int i = 0; i < m->seats.n_seat; i++) {
        gradin_vec3 seat_m = m->seats.floor_m[i];
        gradin_vec2 at_m = {seat_m.x, seat_m.y};
        gradin_vec2 near_m = gradin_polygon_nearest_m(polygon, at_m, NULL);
        bool is_close = hypot(near_m.x - at_m.x, near_m.y - at_m.y) < CLEAR_M / 2.0 &&
                        !is_up_beside(seat_m.z, near_m, at_m, m->vomitory_top_deg[stair]);
        bool is_low = seat_m.z < 2.0; /* a tower level above it leaves headroom */
        if (is_low && (is_close || gradin_polygon_contains(polygon, at_m))) return true;
    }
    return false;
}

static gradin_blocked check_gate(const gradin_model *m, const fit_gate *gate) {
    if (gate->stair >= 0 && is_seat_at(m, gate->stair))
        return (gradin_blocked){.name = gate->door.name,
                                .reason = "seats stand over or beside it",
                                .width_m = gate->door.width_m};
    return check_door(m, &gate->door);
}

static gradin_vec2 middle_of(const gradin_element *door) {
    double half_m = door->width_m / 2.0;
    return (gradin_vec2){door->corner_m.x + door->along.x * half_m,
                         door->corner_m.y + door->along.y * half_m};
}

static void count_free(gradin_fit *fit, const gradin_element *door, double clear_m, int by) {
    gradin_exit_side *side = &fit->side[gradin_divide_side(fit->model->divide, middle_of(door))];
    fit->exit_m += by * clear_m;
    side->exit_m += by * clear_m;
    side->n_free += by;
}

/* Of a free one; takes what narrows it off the list. */
static double take_narrowed(gradin_fit *fit, gradin_blocked *narrowed, const gradin_element *door) {
    double clear_m = door->width_m;
    int n = 0;
    for (int i = 0; i < fit->n_exit_narrowed; i++)
        if (narrowed[i].name == door->name)
            clear_m = narrowed[i].clear_m;
        else
            narrowed[n++] = narrowed[i];
    fit->n_exit_narrowed = n;
    return clear_m;
}

bool fit_leave_out(gradin_arena *arena, gradin_fit *fit, const fit_gates *gates,
                   const bool *is_out) {
    size_t n = (size_t)gates->n;
    gradin_blocked *blocked = gradin_arena_alloc(arena, n, sizeof *blocked);
    gradin_blocked *narrowed = gradin_arena_alloc(arena, n, sizeof *narrowed);
    if (!blocked || !narrowed) return false;
    for (int i = 0; i < fit->n_exit_blocked; i++) blocked[i] = fit->exit[i];
    for (int i = 0; i < fit->n_exit_narrowed; i++) narrowed[i] = fit->narrowed[i];
    for (int i = 0; i < gates->n; i++) {
        const gradin_element *door = &gates->item[i].door;
        if (!is_out[i]) continue;
        count_free(fit, door, take_narrowed(fit, narrowed, door), -1);
        blocked[fit->n_exit_blocked++] = (gradin_blocked){
            .name = door->name, .reason = "no place has a way to it", .width_m = door->width_m};
    }
    fit->exit = blocked;
    fit->narrowed = narrowed;
    return true;
}

static void count_places(gradin_fit *fit) {
    const gradin_model *m = fit->model;
    if (!m->divide) return;
    fit->n_side = 2;
    fit->is_cut = m->divide->closed > 0.0;
    for (int i = 0; i < m->seats.n_seat; i++) {
        gradin_vec2 at_m = {m->seats.floor_m[i].x, m->seats.floor_m[i].y};
        fit->side[gradin_divide_side(m->divide, at_m)].n_place++;
    }
    for (int k = 0; k < 2; k++) {
        fit->side[k].name = m->divide->side_name[k];
        fit->side[k].needed_m = fit->side[k].n_place * m->machinery->rules.exit_mm_person / 1000.0;
    }
}

static void check_exits(gradin_fit *fit, const fit_gates *gates, gradin_element *stair,
                        gradin_blocked *blocked, gradin_blocked *narrowed) {
    const gradin_model *m = fit->model;
    for (int i = 0; i < gates->n; i++) {
        const fit_gate *gate = &gates->item[i];
        gradin_blocked door = check_gate(m, gate);
        fit->n_exit++;
        if (gate->stair >= 0) stair[fit->n_exit_vom++] = gate->door;
        if (door.clear_m > 0.0)
            count_free(fit, &gate->door, door.clear_m, 1);
        else
            blocked[fit->n_exit_blocked++] = door;
        if (door.clear_m > 0.0 && door.reason) narrowed[fit->n_exit_narrowed++] = door;
    }
    fit->exit = blocked;
    fit->narrowed = narrowed;
    fit->exit_vom = stair;
    fit->exit_needed_m = m->seats.n_seat * m->machinery->rules.exit_mm_person / 1000.0;
}

bool fit_is_free_exit(const gradin_fit *fit, const gradin_element *door) {
    if (door->kind != GRADIN_ELEMENT_DOOR || door->exit == GRADIN_EXIT_NONE) return false;
    for (int i = 0; i < fit->n_exit_blocked; i++)
        if (fit->exit[i].name == door->name) return false;
    return true;
}

bool fit_exits(gradin_arena *arena, gradin_fit *fit) {
    const gradin_model *m = fit->model;
    fit_gates gates;
    if (!fit_list_gates(arena, m, &gates)) return false;
    gradin_blocked *exit = gradin_arena_alloc(arena, (size_t)gates.n, sizeof *exit);
    gradin_blocked *narrowed = gradin_arena_alloc(arena, (size_t)gates.n, sizeof *narrowed);
    gradin_blocked *vom = gradin_arena_alloc(arena, (size_t)m->n_vomitory, sizeof *vom);
    gradin_element *stair = gradin_arena_alloc(arena, (size_t)gates.n, sizeof *stair);
    if (!exit || !narrowed || !vom || !stair) return false;
    check_exits(fit, &gates, stair, exit, narrowed);
    count_places(fit);
    fit->n_vom = m->n_vomitory;
    for (int i = 0; i < m->n_vomitory; i++)
        if (is_seat_at(m, i))
            vom[fit->n_vom_blocked++] = (gradin_blocked){.name = m->vomitory[i].name,
                                                         .reason = "seats stand over or beside it"};
    fit->vom = vom;
    return true;
}
