/* A cut: its line from wall to wall, what it meets, the rows beside it, and the rays of its seat to
 * the edges of the floor that lies in it. The plane of a seat is that in which its C is measured
 * (c_value/c_seat.c), so the seat's own C is exact there; that of other rows is the table's,
 * measured in their own planes. */
#include "sightline/cut/cut.h"
#include "base/use.h"
#include "model/complete.h"

#include <stdlib.h>

enum { MOST_WALL = 64 };
static const double LEAST_M = 0.001;

static gradin_status refuse(gradin_error *error, gradin_status status, const char *text) {
    return gradin_error_add(error, status, NULL, "%s", text);
}

static bool aim(const gradin_model *model, const gradin_cut_options *o, cutter *c) {
    sight_focus focus = {.floor_middle_m = gradin_sight_floor_middle(model)};
    if (o->seat < 0) {
        c->from_m = o->from_m;
        gradin_vec2 way = {o->to_m.x - o->from_m.x, o->to_m.y - o->from_m.y};
        c->length_m = hypot(way.x, way.y);
        if (!(c->length_m >= LEAST_M)) return false;
        c->unit = (gradin_vec2){way.x / c->length_m, way.y / c->length_m};
        return true;
    }
    gradin_vec3 eye = model->seats.eye_m[o->seat];
    c->from_m = (gradin_vec2){eye.x, eye.y};
    c->unit = gradin_sight_plane(model, &focus, eye, model->seats.facing_deg[o->seat]).unit;
    return true;
}

/* From wall to wall: of a seat's plane, the stretch in which the seat is; of a line, its own ends
 * where they lie in the room. */
static bool fit_to_room(const gradin_model *model, bool has_seat, cutter *c) {
    double x_m[MOST_WALL], low_m = NAN, high_m = NAN, length_m = c->length_m;
    int n = cut_polygon(c, model->footprint, x_m, MOST_WALL);
    for (int i = 0; i + 1 < n; i += 2) {
        double from = has_seat ? x_m[i] : fmax(x_m[i], 0.0);
        double to = has_seat ? x_m[i + 1] : fmin(x_m[i + 1], length_m);
        bool is_it = has_seat ? from <= LEAST_M && to >= -LEAST_M : to - from > LEAST_M;
        if (!is_it) continue;
        if (isnan(low_m)) c->is_wall[0] = from == x_m[i];
        if (isnan(low_m)) low_m = from;
        high_m = to;
        c->is_wall[1] = to == x_m[i + 1];
        if (has_seat) break;
    }
    if (!(high_m - low_m > LEAST_M)) return false;
    c->from_m.x += low_m * c->unit.x;
    c->from_m.y += low_m * c->unit.y;
    c->length_m = high_m - low_m;
    return true;
}

static int by_x(const void *a, const void *b) {
    const gradin_cut_row *p = a, *q = b;
    if (p->x_m != q->x_m) return p->x_m < q->x_m ? -1 : 1;
    return p->seat - q->seat;
}

static bool is_nearer(const gradin_cut_row *a, const gradin_cut_row *b) {
    if (fabs(a->aside_m) != fabs(b->aside_m)) return fabs(a->aside_m) < fabs(b->aside_m);
    return a->seat < b->seat;
}

/* The row of the same block that is there already, and as near along the cut: a row that bends may
 * be met twice. */
static int find_row(const gradin_seats *s, const gradin_cut_row *row, int n, int seat, double x_m) {
    for (int i = n - 1; i >= 0; i--)
        if (s->block[row[i].seat] == s->block[seat] && s->row[row[i].seat] == s->row[seat] &&
            fabs(row[i].x_m - x_m) < s->depth_m[seat])
            return i;
    return -1;
}

static bool find_rows(const cutter *c, int seat, gradin_cut_row **row, int *n) {
    const gradin_seats *s = &c->model->seats;
    gradin_cut_row *found = gradin_arena_alloc(c->arena, (size_t)s->n_seat, sizeof *found);
    *n = 0;
    for (int i = 0; found && i < s->n_seat; i++) {
        gradin_vec2 at = cut_into(c, (gradin_vec2){s->eye_m[i].x, s->eye_m[i].y});
        gradin_vec2 facing = gradin_bearing_unit(s->facing_deg[i]);
        gradin_cut_row one = {i, at.x, at.y, facing.x * c->unit.x + facing.y * c->unit.y};
        if (fabs(at.y) > 0.5 * s->width_m[i] + LEAST_M || at.x < 0.0 || at.x > c->length_m)
            continue;
        int k = find_row(s, found, *n, i, at.x);
        if (k < 0)
            found[(*n)++] = one;
        else if (found[k].seat != seat && (i == seat || is_nearer(&one, &found[k])))
            found[k] = one;
    }
    if (found && *n > 0) qsort(found, (size_t)*n, sizeof *found, by_x);
    *row = found;
    return found != NULL;
}

static gradin_cut_ray ray_to(const cutter *c, int seat, gradin_vec2 to_m, int32_t first) {
    const gradin_model *m = c->model;
    gradin_cut_ray ray = {to_m, 1.0, NULL};
    gradin_vec3 end = {c->from_m.x + to_m.x * c->unit.x, c->from_m.y + to_m.x * c->unit.y, to_m.y};
    gradin_visibility_reference(&m->scene, m->seats.eye_m[seat], seat, &end, 1, &first);
    if (first == GRADIN_CLEAR) return ray;
    gradin_shape_hit(&m->scene.occluder[first].shape, m->seats.eye_m[seat], end, &ray.clear);
    ray.blocked = m->occluder_name[m->scene.occluder[first].name];
    return ray;
}

/* The nearest floor of the focus ahead of the seat, from its near edge to its far one. */
static void cast(const cutter *c, int seat, gradin_cut *cut) {
    const gradin_vec2 nowhere = {NAN, NAN};
    cut->near_edge = cut->far_edge = (gradin_cut_ray){nowhere, 1.0, NULL};
    if (seat < 0) return;
    gradin_vec3 eye = c->model->seats.eye_m[seat];
    double at_m = cut_into(c, (gradin_vec2){eye.x, eye.y}).x, nearest_m = INFINITY;
    for (int i = 0; i < c->n_focus; i++) {
        const gradin_cut_focus *f = &c->focus[i];
        bool is_floor = c->model->focus[f->area].kind == GRADIN_FOCUS_FLOOR;
        double ahead_m = f->end_m[0].x - at_m;
        if (!is_floor || ahead_m < 0.0 || ahead_m >= nearest_m) continue;
        nearest_m = ahead_m;
        cut->near_edge = ray_to(c, seat, f->end_m[0], GRADIN_CLEAR);
        cut->far_edge = ray_to(c, seat, f->end_m[1], GRADIN_CLEAR);
    }
}

static double lowest_m(const cutter *c) {
    double low_m = 0.0;
    for (int i = 0; i < c->n_part; i++)
        if (c->part[i].z_m[1] < low_m) low_m = c->part[i].z_m[1];
    for (int i = 0; i < c->n_focus; i++) low_m = fmin(low_m, c->focus[i].end_m[0].y);
    return low_m;
}

static void hand_over(const cutter *c, int seat, gradin_cut *cut) {
    cut->seat = seat;
    cut->from_m = c->from_m;
    cut->unit = c->unit;
    cut->length_m = c->length_m;
    for (int i = 0; i < 2; i++) cut->is_wall[i] = c->is_wall[i];
    cut->floor_low_m = lowest_m(c);
    cut->part = c->part;
    cut->ring = c->ring;
    cut->trace = c->trace;
    cut->focus = c->focus;
    cut->n_part = c->n_part;
    cut->n_ring = c->n_ring;
    cut->n_trace = c->n_trace;
    cut->n_focus = c->n_focus;
}

gradin_status gradin_cut_compute(gradin_arena *arena, const gradin_model *model,
                                 const gradin_sight *sight, const gradin_cut_options *options,
                                 gradin_cut *cut, gradin_error *error) {
    if (NEEDS(error, arena, sight, options, cut) != GRADIN_OK ||
        model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (sight->n_seat != model->seats.n_seat || options->seat >= model->seats.n_seat)
        return refuse(error, GRADIN_BAD_USE,
                      "the sightlines are of another model, or no such seat");
    cutter c = {.arena = arena, .model = model};
    int seat = options->seat < 0 ? -1 : options->seat;
    gradin_cut_row *row = NULL;
    if (!aim(model, options, &c) || !fit_to_room(model, seat >= 0, &c))
        return refuse(error, GRADIN_BAD_INPUT,
                      "the line of the section is too short or misses the room");
    *cut = (gradin_cut){.model = model, .sight = sight};
    if (!cut_scene(&c) || !cut_focus(&c) || !find_rows(&c, seat, &row, &cut->n_row))
        return refuse(error, GRADIN_NO_MEMORY, "no memory for a section");
    cut->row = row;
    cast(&c, seat, cut);
    hand_over(&c, seat, cut);
    return GRADIN_OK;
}
