/* The best way out of each row and of each place for a wheelchair. People pass along their row to
 * whichever of its seats has the best way; from there they walk the floor. Which way is the best:
 * the widest, where a way as wide as the venue's rule (else 36 in) counts as wide enough; of those
 * the shortest. 36 in: IBC 2021 clause 1030.9.1 for an aisle with seats on one side, and for
 * wheelchairs ADA Standards 2010 clause 403.5.1; steps up to 13 mm are no step for wheelchairs,
 * clause 303.3; all from memory. Ways are found to about 0.02 m in width and 1 % in length. */
#include "base/use.h"
#include "model/complete.h"
#include "studies/fit/ways.h"

static const double WANTED_M = 0.9144;
static const double STEP_M = 0.50; /* as reach.c */
static const double LEVEL_M = 0.013;
static const double SLACK_M = 0.01;

/* A row or place that is looked at, and how wide its best way is. */
typedef struct party {
    int first, last, route, out_cm;
} party;

typedef struct job {
    gradin_arena *arena; /* of the results; w.arena is for the search alone */
    ways w;
    bool is_wheelchair;
    gradin_route *route; /* [n_route] */
    int n_route;
    party *party; /* [n_party] */
    int n_party;
    /* of the seat that is being looked at: */
    int out_cm, cell;
    double off_m;
    double *access_m; /* [n_seat] to the exit, along the widest way of its party */
    int *access_cell; /* [n_seat] */
} job;

static bool is_wheelchair(const gradin_seats *s, int seat) {
    return s->kind[seat] == GRADIN_SEAT_WHEELCHAIR;
}

static void see_width(void *context, int seat, int cell, double off_m) {
    job *j = context;
    (void)seat;
    (void)off_m;
    if (j->w.out_cm[cell] > j->out_cm) j->out_cm = j->w.out_cm[cell];
}

static void see_length(void *context, int seat, int cell, double off_m) {
    job *j = context;
    double length_m = off_m + j->w.length_m[cell];
    if (!(length_m < j->access_m[seat])) return;
    j->access_m[seat] = length_m;
    j->access_cell[seat] = cell;
}

static int count_places(const gradin_seats *s, int first, int last, bool are_wheelchairs) {
    int n = 0;
    for (int i = first; i <= last; i++) n += is_wheelchair(s, i) == are_wheelchairs;
    return n;
}

/* A row, or one place of it. */
static void add_party(job *j, int first, int last, bool is_in_box) {
    const gradin_model *m = j->w.model;
    gradin_route *route = &j->route[j->n_route++];
    *route = (gradin_route){.first_seat = m->seats.id[first],
                            .last_seat = m->seats.id[last],
                            .n_place = count_places(&m->seats, first, last, j->is_wheelchair),
                            .is_wheelchair = j->is_wheelchair,
                            .state = GRADIN_WAY_NOT_LOOKED};
    if (fit_is_on_deck(m, first)) return;
    j->out_cm = 0;
    for (int i = first; i <= last; i++) ways_from_seat(&j->w, i, see_width, j);
    if (j->out_cm == 0 && is_in_box) return; /* by a door of its own */
    route->state = GRADIN_WAY_NONE;
    if (j->out_cm > 0) j->party[j->n_party++] = (party){first, last, j->n_route - 1, j->out_cm};
}

static void list_parties(job *j) {
    const gradin_seats *s = &j->w.model->seats;
    for (int first = 0, last; first < s->n_seat; first = last + 1) {
        last = fit_run_end(s, first);
        bool is_in_box = fit_is_in_box(s, first, last) && count_places(s, first, last, true) == 0;
        if (!j->is_wheelchair && count_places(s, first, last, false) > 0)
            add_party(j, first, last, is_in_box);
        for (int i = first; i <= last && j->is_wheelchair; i++)
            if (is_wheelchair(s, i)) add_party(j, i, i, is_in_box);
    }
}

static double apart_m(const gradin_seats *s, int a, int b) {
    double along_m = 0.0;
    for (int i = a < b ? a : b; i < (a < b ? b : a); i++)
        along_m +=
            hypot(s->floor_m[i].x - s->floor_m[i + 1].x, s->floor_m[i].y - s->floor_m[i + 1].y);
    return along_m;
}

/* The seat of the party at which `seat` leaves the row; the length of its way. */
static int leaves_at(const job *j, const party *p, int seat, double *length_m) {
    int found = -1;
    *length_m = INFINITY;
    for (int i = p->first; i <= p->last; i++) {
        double to_exit_m = apart_m(&j->w.model->seats, seat, i) + j->access_m[i];
        if (!(to_exit_m < *length_m)) continue;
        *length_m = to_exit_m;
        found = i;
    }
    return found;
}

static bool is_over_focus(const gradin_model *m, const gradin_vec2 *point, int n) {
    for (int k = 0; k < m->n_focus; k++)
        for (int i = 0; i < n && m->focus[k].kind == GRADIN_FOCUS_FLOOR; i++) {
            gradin_vec2 a = point[i], b = point[i + 1 < n ? i + 1 : i];
            for (int part = 0; part < 16; part++) {
                gradin_vec2 at_m = {a.x + (b.x - a.x) * part / 16.0,
                                    a.y + (b.y - a.y) * part / 16.0};
                if (gradin_polygon_contains(m->focus[k].polygon, at_m)) return true;
            }
        }
    return false;
}

static double door_m(const ways *w, int cell) {
    while (w->next[cell] >= 0) cell = w->next[cell];
    return w->door_cm[cell] / 100.0;
}

static const char *exit_of(const ways *w, int cell) {
    while (w->next[cell] >= 0) cell = w->next[cell];
    return w->exit[cell];
}

static bool draw(job *j, const party *p, int from, int by, gradin_route *route) {
    const gradin_seats *s = &j->w.model->seats;
    int cell = j->access_cell[by];
    gradin_vec2 seat_m = {s->floor_m[by].x, s->floor_m[by].y}, *copy;
    const gradin_vec2 *point;
    route->n_point = ways_line(&j->w, seat_m, cell, p->out_cm, &point);
    if (route->n_point == 0) return false;
    copy = gradin_arena_alloc(j->arena, (size_t)route->n_point, sizeof *copy);
    if (!copy) return false;
    for (int i = 0; i < route->n_point; i++) copy[i] = point[i];
    route->point_m = copy;
    route->from_seat = s->id[from];
    route->exit = exit_of(&j->w, cell);
    route->in_row_m = apart_m(s, from, by);
    route->length_m = route->in_row_m + ways_length_m(point, route->n_point);
    route->width_m = ways_narrowest_m(&j->w, point, route->n_point, &route->narrowest_m);
    if (door_m(&j->w, cell) < route->width_m) {
        route->width_m = door_m(&j->w, cell);
        route->narrowest_m = point[route->n_point - 1];
    }
    route->is_over_focus = is_over_focus(j->w.model, point, route->n_point);
    route->state = GRADIN_WAY_OUT;
    return true;
}

static bool find_way(job *j, const party *p) {
    const gradin_seats *s = &j->w.model->seats;
    int from = -1, by = -1;
    double longest_m = -1.0;
    for (int i = p->first; i <= p->last; i++) {
        j->access_m[i] = INFINITY;
        ways_from_seat(&j->w, i, see_length, j);
    }
    for (int i = p->first; i <= p->last; i++) {
        double length_m;
        int at = leaves_at(j, p, i, &length_m);
        if (at < 0 || is_wheelchair(s, i) != j->is_wheelchair || length_m <= longest_m + 1e-9)
            continue;
        longest_m = length_m;
        from = i;
        by = at;
    }
    return from < 0 || draw(j, p, from, by, &j->route[p->route]);
}

static bool find_ways(job *j) {
    for (int width_cm = j->w.wanted_cm; width_cm >= WAYS_BODY_CM; width_cm--) {
        bool is_searched = false;
        for (int k = 0; k < j->n_party; k++) {
            if (j->party[k].out_cm != width_cm) continue;
            if (!is_searched) ways_shortest(&j->w, width_cm);
            is_searched = true;
            if (!find_way(j, &j->party[k])) return false;
        }
    }
    return true;
}

static bool look(job *j, const gradin_fit *fit, double step_m, double wanted_m, bool wheelchairs) {
    double steepest = wheelchairs ? fit_wheelchair_slope(&fit->model->machinery->rules) : INFINITY;
    size_t n = (size_t)fit->model->seats.n_seat + 1;
    gradin_arena *scratch = j->w.arena;
    j->is_wheelchair = wheelchairs;
    j->n_party = 0;
    j->party = gradin_arena_alloc(scratch, n, sizeof *j->party);
    j->access_m = gradin_arena_alloc(scratch, n, sizeof *j->access_m);
    j->access_cell = gradin_arena_alloc(scratch, n, sizeof *j->access_cell);
    if (!j->party || !j->access_m || !j->access_cell ||
        !ways_start(scratch, fit, step_m, steepest, wanted_m, &j->w) || !ways_measure(&j->w))
        return false;
    ways_widest(&j->w, NULL, j->w.wanted_cm);
    list_parties(j);
    return find_ways(j);
}

static void judge(gradin_routes *r, int i, gradin_route *route, const gradin_local_rules *rules) {
    bool is_chair = route->is_wheelchair;
    int *longest = is_chair ? &r->longest_wheelchair : &r->longest;
    int *narrowest = is_chair ? &r->narrowest_wheelchair : &r->narrowest;
    double least_m = is_chair ? rules->wheelchair_way_m : rules->way_width_m;
    if (route->state == GRADIN_WAY_NOT_LOOKED) return;
    *(is_chair ? &r->n_wheelchair : &r->n_row) += 1;
    if (route->state == GRADIN_WAY_NONE) {
        *(is_chair ? &r->n_wheelchair_without : &r->n_row_without) += 1;
        r->n_unmet++;
        return;
    }
    route->is_narrow = least_m > 0.0 && route->width_m < least_m - SLACK_M;
    route->is_long = rules->travel_m > 0.0 && route->length_m > rules->travel_m + SLACK_M;
    r->n_unmet += route->is_narrow || route->is_long;
    if (*longest < 0 || route->length_m > r->route[*longest].length_m) *longest = i;
    if (*narrowest < 0 || route->width_m < r->route[*narrowest].width_m) *narrowest = i;
}

/* Both searches and what they say. */
static bool search(gradin_arena *arena, gradin_arena *scratch, const gradin_fit *fit,
                   gradin_routes *r) {
    size_t n = 2 * (size_t)fit->model->seats.n_seat + 1;
    job j = {.arena = arena, .w = {.arena = scratch}};
    j.route = gradin_arena_alloc(arena, n, sizeof *j.route);
    if (!j.route || !look(&j, fit, STEP_M, r->wanted_m, false) || !fit_dead_ends(&j.w, arena, r) ||
        (fit->model->seats.n_wheelchair > 0 &&
         !look(&j, fit, LEVEL_M, r->wheelchair_wanted_m, true)))
        return false;
    r->route = j.route;
    r->n_route = j.n_route;
    for (int i = 0; i < j.n_route; i++) judge(r, i, &j.route[i], &fit->model->machinery->rules);
    return true;
}

static gradin_routes unjudged(const gradin_local_rules *rules) {
    return (gradin_routes){.longest = -1,
                           .narrowest = -1,
                           .longest_wheelchair = -1,
                           .narrowest_wheelchair = -1,
                           .wanted_m = rules->way_width_m > 0.0 ? rules->way_width_m : WANTED_M,
                           .wheelchair_wanted_m =
                               rules->wheelchair_way_m > 0.0 ? rules->wheelchair_way_m : WANTED_M,
                           .wheelchair_slope = fit_wheelchair_slope(rules),
                           .is_met = true};
}

gradin_status gradin_fit_routes(gradin_arena *arena, gradin_fit *fit, gradin_error *error) {
    if (NEEDS(error, arena, fit) != GRADIN_OK || model_complete(fit->model, error) != GRADIN_OK ||
        NEEDS(error, fit->model->machinery) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_routes *r = gradin_arena_alloc(arena, 1, sizeof *r);
    gradin_arena *scratch = gradin_arena_create();
    if (!r || !scratch) {
        gradin_arena_destroy(scratch);
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the routes");
    }
    *r = unjudged(&fit->model->machinery->rules);
    bool is_done = fit->n_exit == 0 || search(arena, scratch, fit, r);
    gradin_arena_destroy(scratch);
    if (!is_done)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the routes");
    r->is_met = r->n_unmet + r->n_long_dead_end == 0;
    fit->routes = r;
    fit->is_missed[GRADIN_FIT_ROUTES] = !r->is_met;
    fit->is_met &= r->is_met;
    return GRADIN_OK;
}
