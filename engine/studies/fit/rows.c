/* Rows against the venue's own rules. A run of seats without a gap has an aisle at an end when an
 * aisle begins there, or free floor within a step that is as broad as an aisle. Rows on towers and
 * stairs inside the building are outside this check, and so are boxes: small blocks with a door of
 * their own. */
#include "studies/fit/fit.h"

static const double GAP_M = 0.15;    /* between two seats: a wider one ends the run */
static const double BESIDE_M = 0.30; /* beyond the end seat's edge; half of a narrow aisle */
static const double STEP_M = 0.25;
/* An aisle that nobody states: 36 in, the least of IBC 2021 clause 1030.9.1 for level or ramped
 * aisles with seats on one side (from memory). */
static const double AISLE_M = 0.9144, PROBE_M = 0.10;

/* A block of no more places, in rows of no more seats, is a box; common practice, no source. */
enum { BOX_PLACES = 8, BOX_ROW = 4 };

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

/* Floor within a step for the width of an aisle, from the edge of the seat outwards. */
static bool is_free_beside(const gradin_model *m, int end, gradin_vec2 out) {
    gradin_vec3 seat_m = m->seats.floor_m[end];
    int n = (int)ceil(AISLE_M / PROBE_M);
    for (int i = 1; i <= n; i++) {
        double off_m = m->seats.width_m[end] / 2.0 + (AISLE_M - PROBE_M / 2.0) * i / n;
        gradin_vec2 at_m = {seat_m.x + out.x * off_m, seat_m.y + out.y * off_m};
        if (fabs(fit_surface_m(m, at_m, seat_m.z) - seat_m.z) > STEP_M ||
            fit_obstacle(m, at_m, seat_m.z, PROBE_M / 2.0))
            return false;
    }
    return true;
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
    return !fit_is_seat_near(m, at_m, BESIDE_M, first, last) &&
           is_free_beside(m, end, (gradin_vec2){sign * right.x, sign * right.y});
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

int fit_run_end(const gradin_seats *s, int first) {
    int last = first;
    while (last + 1 < s->n_seat && are_side_by_side(s, last, last + 1)) last++;
    return last;
}

bool fit_is_in_box(const gradin_seats *s, int first, int last) {
    int n = 0;
    for (int i = 0; i < s->n_seat; i++) n += s->block[i] == s->block[first];
    return n <= BOX_PLACES && last - first < BOX_ROW;
}

bool fit_rows(gradin_arena *arena, gradin_fit *fit) {
    const gradin_model *m = fit->model;
    gradin_row_run *made = gradin_arena_alloc(arena, (size_t)m->seats.n_seat, sizeof *made);
    if (!made) return false;
    bool is_stated =
        m->machinery->rules.row_one_aisle > 0 && m->machinery->rules.row_two_aisles > 0;
    for (int first = 0, last; first < m->seats.n_seat && is_stated; first = last + 1) {
        last = fit_run_end(&m->seats, first);
        if (m->machinery->block_seating[m->seats.block[first]] == -1) continue;
        if (fit_is_in_box(&m->seats, first, last)) {
            fit->n_box_row++;
            continue;
        }
        gradin_row_run run = run_of(m, first, last);
        fit->n_row++;
        if (run.n_seat > run.most) made[fit->n_long_row++] = run;
    }
    fit->long_row = made;
    return true;
}
