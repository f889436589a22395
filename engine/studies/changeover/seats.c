/* Seats that are struck and set. A seat stays when the same seat of the same stock
 * stands at the same place in both layouts and the lift below it does not move. */
#include "studies/changeover/changeover.h"

#include <stdlib.h>
#include <string.h>

typedef struct placed_seat {
    long long key[6]; /* place in tenths of a millimetre, facing in hundredths, width, stock */
    int seat;
} placed_seat;

static int by_key(const void *a, const void *b) {
    return memcmp(((const placed_seat *)a)->key, ((const placed_seat *)b)->key,
                  sizeof((const placed_seat *)a)->key);
}

/* A wheelchair brings its own seat. */
static bool is_movable(const gradin_model *m, int seat) {
    return m->seats.kind[seat] != GRADIN_SEAT_WHEELCHAIR &&
           m->machinery->block_seating[m->seats.block[seat]] != -1;
}

static placed_seat *placed_seats(changeover *c, const gradin_model *m, int *n) {
    const gradin_seats *s = &m->seats;
    placed_seat *made = gradin_arena_alloc(c->arena, (size_t)s->n_seat, sizeof *made);
    *n = 0;
    for (int i = 0; made && i < s->n_seat; i++) {
        if (!is_movable(m, i)) continue;
        made[(*n)++] =
            (placed_seat){{llround(s->floor_m[i].x * 1e4), llround(s->floor_m[i].y * 1e4),
                           llround(s->floor_m[i].z * 1e4), llround(s->facing_deg[i] * 100.0),
                           llround(s->width_m[i] * 1e4),
                           m->machinery->block_seating[s->block[i]] * 8 + (int)s->kind[i]},
                          i};
    }
    if (made) qsort(made, (size_t)*n, sizeof *made, by_key);
    return made;
}

static bool mark_staying(changeover *c, bool *stays_from, bool *stays_to) {
    int n = 0, n_to = 0;
    placed_seat *a = placed_seats(c, c->from, &n), *b = placed_seats(c, c->to, &n_to);
    if (!a || !b) return changeover_no_memory(c);
    for (int i = 0, k = 0; i < n && k < n_to;) {
        int order = by_key(&a[i], &b[k]);
        if (order == 0 && !changeover_is_on_moving_lift(c, c->from->seats.floor_m[a[i].seat])) {
            stays_from[a[i].seat] = stays_to[b[k].seat] = true;
            c->out->n_kept++;
        }
        i += order <= 0;
        k += order >= 0;
    }
    return true;
}

static double hours_of_loose(const gradin_seating *s, bool is_set, int n) {
    return n / ((is_set ? s->set_rate : s->strike_rate) * s->crew);
}

static int count_rows(const gradin_model *m, const int *seat, int n) {
    int rows = 0;
    for (int i = 0; i < n; i++)
        rows += i == 0 || m->seats.row[seat[i]] != m->seats.row[seat[i - 1]];
    return rows;
}

/* Whole seconds of a trip of the store lift: down, up, loading and unloading. */
static int trip_s(const gradin_store *store) {
    double way_s = gradin_move_s(store->travel_m, &store->drive);
    int s = (int)ceil(2.0 * way_s + store->load_s + store->drive.prepare_s - 1e-6);
    return s > 1 ? s : 1;
}

static bool mark_sections(changeover *c, move_detail *w) {
    bool *section = gradin_arena_alloc(c->arena, (size_t)c->n_section, sizeof *section);
    if (!section) return changeover_no_memory(c);
    for (int i = 0; i < w->n_seat; i++) {
        int under = changeover_section_under(c, w->model->seats.floor_m[w->seat[i]]);
        if (under >= 0) section[under] = true;
    }
    w->section = section;
    return true;
}

static bool mark_places(changeover *c, move_detail *w) {
    gradin_vec3 *point_m = gradin_arena_alloc(c->arena, (size_t)w->n_seat, sizeof *point_m);
    if (!point_m) return changeover_no_memory(c);
    for (int i = 0; i < w->n_seat; i++) point_m[i] = w->model->seats.floor_m[w->seat[i]];
    w->point_m = point_m;
    w->n_point = w->n_seat;
    return true;
}

static bool add_seat_work(changeover *c, const gradin_seating *stock, const char *block,
                          move_detail w, bool is_set) {
    double need_s = stock->kind == GRADIN_SEATING_LOOSE
                        ? 3600.0 * hours_of_loose(stock, is_set, w.n_seat)
                        : count_rows(w.model, w.seat, w.n_seat) *
                              (is_set ? stock->set_rate : stock->strike_rate);
    const gradin_store *store = stock->is_stored ? c->a->store : NULL;
    w.n_trip = store ? (w.n_seat + store->seats_per_trip - 1) / store->seats_per_trip : 0;
    int duration_s = (int)ceil(fmax(need_s, (double)w.n_trip * c->trip_s) - 1e-6);
    const char *way = !store ? "" : is_set ? ", from store" : ", to store";
    gradin_move move = {.name = changeover_rows_text(c, block, &w),
                        .task = changeover_print(c, "%s %d x %s%s", is_set ? "set" : "strike",
                                                 w.n_seat, stock->name, way),
                        .block = block,
                        .n_seat = w.n_seat,
                        .lane = is_set ? "seats set" : "seats struck",
                        .kind = is_set ? GRADIN_MOVE_SET : GRADIN_MOVE_STRIKE,
                        .duration_s = duration_s > 0 ? duration_s : 1,
                        .crew = stock->crew,
                        .are_people_near = true};
    if (!move.name || !move.task) return changeover_no_memory(c);
    if (!mark_sections(c, &w) || !mark_places(c, &w)) return false;
    return changeover_add(c, move, w) >= 0;
}

enum { LEAST_PART = 30 }; /* seats: a gang gets no smaller share than this */

static int count_parts(const changeover *c, const gradin_seating *stock, int n) {
    int gangs = c->a->crew / stock->crew, most = n / LEAST_PART;
    if (stock->kind != GRADIN_SEATING_LOOSE) return 1;
    if (most < gangs) gangs = most;
    return gangs > 1 ? gangs : 1;
}

/* A block's seats shared out among gangs. */
static bool add_parts(changeover *c, const gradin_seating *stock, const char *block, move_detail w,
                      bool is_set) {
    int n_part = count_parts(c, stock, w.n_seat);
    for (int part = 0; part < n_part; part++) {
        int first = w.n_seat * part / n_part, end = w.n_seat * (part + 1) / n_part;
        move_detail share = w;
        share.seat = w.seat + first;
        share.n_seat = end - first;
        if (!add_seat_work(c, stock, block, share, is_set)) return false;
    }
    return true;
}

static bool add_block(changeover *c, const gradin_model *m, int block, const bool *stays,
                      bool is_set) {
    int seating = m->machinery->block_seating[block], n = 0;
    int *seat = gradin_arena_alloc(c->arena, (size_t)m->seats.n_seat, sizeof *seat);
    if (!seat) return changeover_no_memory(c);
    for (int i = 0; i < m->seats.n_seat; i++)
        if (m->seats.block[i] == block && is_movable(m, i) && !stays[i]) seat[n++] = i;
    if (n == 0) return true;
    if (seating < 0) {
        changeover_refuse(c, m->venue_file, "machines.crew.seating",
                          "%s has loose seats, but the venue lists no seating under machines.crew",
                          m->block_name[block]);
        return false;
    }
    *(is_set ? &c->out->n_set : &c->out->n_struck) += n;
    return add_parts(c, &m->machinery->seating[seating], m->block_name[block],
                     (move_detail){.model = m, .seat = seat, .n_seat = n}, is_set);
}

bool changeover_seats(changeover *c) {
    bool *from = gradin_arena_alloc(c->arena, (size_t)c->from->seats.n_seat, sizeof *from);
    bool *to = gradin_arena_alloc(c->arena, (size_t)c->to->seats.n_seat, sizeof *to);
    if (!from || !to) return changeover_no_memory(c);
    if (c->a->store) c->trip_s = trip_s(c->a->store);
    if (!mark_staying(c, from, to)) return false;
    for (int i = 0; i < c->from->n_block; i++)
        if (!add_block(c, c->from, i, from, false)) return false;
    for (int i = 0; i < c->to->n_block; i++)
        if (!add_block(c, c->to, i, to, true)) return false;
    return true;
}
