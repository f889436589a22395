/* Rows and exits against the venue's own rules. A run of seats without a gap has an aisle at an end
 * when an aisle, or free floor within a step, begins there. An exit is a door; it is free when the
 * floor before it is level and nobody sits there. Rows on towers and stairs inside the building are
 * outside this check. */
#include "studies/fit/fit.h"

static const double GAP_M = 0.15;    /* between two seats: a wider one ends the run */
static const double BESIDE_M = 0.30; /* beyond the end seat's edge; half of a narrow aisle */
static const double STEP_M = 0.25, CLEAR_M = 1.0;

static bool are_side_by_side(const gradin_seats *s, int i, int k) {
    if (s->block[i] != s->block[k] || s->row[i] != s->row[k]) return false;
    double reach_m = (s->width_m[i] + s->width_m[k]) / 2.0 + GAP_M;
    return hypot(s->floor_m[i].x - s->floor_m[k].x, s->floor_m[i].y - s->floor_m[k].y) <= reach_m &&
           fabs(s->floor_m[i].z - s->floor_m[k].z) < 0.05;
}

static bool is_in_aisle(const gradin_model *m, int sheet, gradin_vec2 at_m) {
    for (int i = 0; i < m->n_aisle; i++)
        if (m->aisle_sheet[i] == sheet && gradin_polygon_contains(m->aisle[i].polygon, at_m))
            return true;
    return false;
}

/* The end of the run first..last at seat `end`, beyond it as seen from `inner`. */
static bool has_aisle(const gradin_model *m, int first, int last, int end, double sign) {
    const gradin_seats *s = &m->seats;
    gradin_vec2 right = gradin_bearing_unit(s->facing_deg[end] + 90.0);
    double out_m = sign * (s->width_m[end] / 2.0 + BESIDE_M), seat_m = sign * s->width_m[end];
    gradin_vec2 at_m = {s->floor_m[end].x + right.x * out_m, s->floor_m[end].y + right.y * out_m};
    /* an aisle leaves out the seats that it touches, so it begins up to a seat farther off */
    gradin_vec2 next_m = {at_m.x + right.x * seat_m, at_m.y + right.y * seat_m};
    if (is_in_aisle(m, s->sheet[end], at_m) || is_in_aisle(m, s->sheet[end], next_m)) return true;
    double surface_m = fit_surface_m(m, at_m, s->floor_m[end].z);
    return fabs(surface_m - s->floor_m[end].z) <= STEP_M &&
           !fit_is_seat_near(m, at_m, BESIDE_M, first, last);
}

/* +1 when the next seat's side is to the right of the first, by numbering. */
static double direction_of(const gradin_seats *s, int first, int last) {
    gradin_vec2 right = gradin_bearing_unit(s->facing_deg[first] + 90.0);
    double along = (s->floor_m[last].x - s->floor_m[first].x) * right.x +
                   (s->floor_m[last].y - s->floor_m[first].y) * right.y;
    return along < 0.0 ? -1.0 : 1.0;
}

static gradin_row_run run_of(const gradin_model *m, int first, int last) {
    const gradin_local_rules *rules = &m->machinery->rules;
    double sign = direction_of(&m->seats, first, last);
    int n_aisle = has_aisle(m, first, last, first, -sign) + has_aisle(m, first, last, last, sign);
    int most = n_aisle == 2 ? rules->row_two_aisles : n_aisle == 1 ? rules->row_one_aisle : 0;
    return (gradin_row_run){m->seats.id[first], m->seats.id[last], last - first + 1, n_aisle, most};
}

bool fit_rows(gradin_arena *arena, gradin_fit *fit) {
    const gradin_model *m = fit->model;
    gradin_row_run *made = gradin_arena_alloc(arena, (size_t)m->seats.n_seat, sizeof *made);
    if (!made) return false;
    bool is_stated =
        m->machinery->rules.row_one_aisle > 0 && m->machinery->rules.row_two_aisles > 0;
    for (int first = 0, last; first < m->seats.n_seat && is_stated; first = last + 1) {
        for (last = first;
             last + 1 < m->seats.n_seat && are_side_by_side(&m->seats, last, last + 1);)
            last++;
        if (m->machinery->block_seating[m->seats.block[first]] == -1) continue;
        gradin_row_run run = run_of(m, first, last);
        fit->n_row++;
        if (run.n_seat > run.most) made[fit->n_long_row++] = run;
    }
    fit->long_row = made;
    return true;
}

static const char *block_of(const gradin_model *m, const gradin_element *door) {
    double half_m = door->width_m / 2.0;
    gradin_vec2 at_m = {door->corner_m.x + door->along.x * half_m - door->outward.x * CLEAR_M / 2.0,
                        door->corner_m.y + door->along.y * half_m -
                            door->outward.y * CLEAR_M / 2.0};
    if (fabs(fit_surface_m(m, at_m, door->corner_m.z) - door->corner_m.z) > STEP_M)
        return "the floor before it is not at its sill";
    if (fit_is_seat_near(m, at_m, CLEAR_M, 1, 0)) return "seats stand before it";
    if (door->exit == GRADIN_EXIT_WHEN_OPEN && door->open < 1.0)
        return "an exit only when open; it is not open in this layout";
    for (int i = 0; i < m->n_solid; i++)
        if (m->solid[i].bottom_m < door->corner_m.z + 2.0 &&
            m->solid[i].top_m > door->corner_m.z + STEP_M &&
            gradin_polygon_contains(m->solid[i].polygon, at_m))
            return m->solid[i].name;
    return NULL;
}

static gradin_vec2 middle_of(const gradin_element *door) {
    double half_m = door->width_m / 2.0;
    return (gradin_vec2){door->corner_m.x + door->along.x * half_m,
                         door->corner_m.y + door->along.y * half_m};
}

static void count_free(gradin_fit *fit, const gradin_element *door) {
    gradin_exit_side *side = &fit->side[gradin_divide_side(fit->model->divide, middle_of(door))];
    fit->exit_m += door->width_m;
    side->exit_m += door->width_m;
    side->n_free++;
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

static void check_exits(gradin_fit *fit, gradin_blocked *blocked) {
    const gradin_model *m = fit->model;
    for (int i = 0; i < m->n_element; i++) {
        if (m->element[i].kind != GRADIN_ELEMENT_DOOR || m->element[i].exit == GRADIN_EXIT_NONE)
            continue;
        const char *reason = block_of(m, &m->element[i]);
        fit->n_exit++;
        if (reason)
            blocked[fit->n_exit_blocked++] = (gradin_blocked){m->element[i].name, reason};
        else
            count_free(fit, &m->element[i]);
    }
    fit->exit = blocked;
    fit->exit_needed_m = m->seats.n_seat * m->machinery->rules.exit_mm_person / 1000.0;
}

static bool is_seat_at(const gradin_model *m, gradin_polygon polygon) {
    for (int i = 0; i < m->seats.n_seat; i++) {
        gradin_vec2 at_m = {m->seats.floor_m[i].x, m->seats.floor_m[i].y};
        gradin_vec2 near_m = gradin_polygon_nearest_m(polygon, at_m, NULL);
        bool is_close = hypot(near_m.x - at_m.x, near_m.y - at_m.y) < CLEAR_M / 2.0;
        bool is_low = m->seats.floor_m[i].z < 2.0; /* a tower level above it leaves headroom */
        if (is_low && (is_close || gradin_polygon_contains(polygon, at_m))) return true;
    }
    return false;
}

bool fit_exits(gradin_arena *arena, gradin_fit *fit) {
    const gradin_model *m = fit->model;
    gradin_blocked *exit = gradin_arena_alloc(arena, (size_t)m->n_element, sizeof *exit);
    gradin_blocked *vom = gradin_arena_alloc(arena, (size_t)m->n_vomitory, sizeof *vom);
    if (!exit || !vom) return false;
    check_exits(fit, exit);
    count_places(fit);
    fit->n_vom = m->n_vomitory;
    for (int i = 0; i < m->n_vomitory; i++)
        if (is_seat_at(m, m->vomitory[i].polygon))
            vom[fit->n_vom_blocked++] =
                (gradin_blocked){m->vomitory[i].name, "seats stand over or beside it"};
    fit->vom = vom;
    return true;
}
