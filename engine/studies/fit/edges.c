/* Edges that open at a height in this layout: every side of every lift tread, in short pieces, each
 * asked by drop.c. Pieces of one line become one edge. A line along a flat section that carries
 * part of a focus area, with seats beyond, is an edge of the stage and told apart. Open stairs,
 * decks that stand anyway and platforms follow (deck_edges.c). Rails and decks of towers are the
 * maker's and not looked at.
 */
#include "studies/fit/fit.h"

#include <stdlib.h>

/* The longest piece, no longer than an opening may be in a guard: common practice, no source. */
static const double PIECE_M = 0.10;
static const double PERSON_M = 2.0, TOUCH_M = 0.02;

typedef struct piece {
    const char *where;
    fit_frame frame; /* of its section: what follows is meant there */
    bool is_along_x;
    double line_m, side; /* the fixed coordinate, the outward sign */
    double from_m, to_m; /* the running one */
    double height_m, drop_m;
    bool is_stage;
} piece;

typedef struct pieces {
    gradin_arena *arena;
    piece *item;
    int n, capacity;
} pieces;

static gradin_vec2 point_of(const piece *p, double beyond_m) {
    double run_m = (p->from_m + p->to_m) / 2.0, line_m = p->line_m + p->side * beyond_m;
    return fit_from_frame(p->frame, p->is_along_x ? (gradin_vec2){run_m, line_m}
                                                  : (gradin_vec2){line_m, run_m});
}

static bool add_piece(const gradin_model *m, pieces *all, piece p) {
    gradin_vec2 at_m = point_of(&p, 0.0);
    gradin_vec2 outward = fit_from_frame(p.frame, p.is_along_x ? (gradin_vec2){0.0, p.side}
                                                               : (gradin_vec2){p.side, 0.0});
    if (!fit_is_open(m, at_m, outward, p.height_m, &p.height_m, &p.drop_m)) return true;
    if (gradin_arena_grow(all->arena, (void **)&all->item, all->n, &all->capacity,
                          sizeof *all->item) != GRADIN_OK)
        return false;
    p.is_stage = p.is_stage && fit_is_before_seats(m, at_m, outward);
    all->item[all->n++] = p;
    return true;
}

static bool add_side(const gradin_model *m, pieces *all, piece side) {
    int n = (int)ceil((side.to_m - side.from_m) / PIECE_M - 1e-9);
    double step_m = (side.to_m - side.from_m) / n, start_m = side.from_m;
    for (int i = 0; i < n; i++) {
        piece p = side;
        p.from_m = start_m + i * step_m;
        p.to_m = start_m + (i + 1) * step_m;
        if (!add_piece(m, all, p)) return false;
    }
    return true;
}

/* A tread of the section. */
static bool add_box(const gradin_model *m, pieces *all, const gradin_section *s, gradin_box2 box,
                    double height_m, bool of_stage) {
    piece sides[] = {
        {.is_along_x = true, .line_m = box.y_min_m, .side = -1.0},
        {.is_along_x = true, .line_m = box.y_max_m, .side = 1.0},
        {.line_m = box.x_min_m, .side = -1.0},
        {.line_m = box.x_max_m, .side = 1.0},
    };
    for (int i = 0; i < 4; i++) {
        sides[i].where = s->name;
        sides[i].frame = fit_frame_of(s);
        sides[i].from_m = sides[i].is_along_x ? box.x_min_m : box.y_min_m;
        sides[i].to_m = sides[i].is_along_x ? box.x_max_m : box.y_max_m;
        sides[i].height_m = height_m;
        sides[i].is_stage = of_stage;
        if (!add_side(m, all, sides[i])) return false;
    }
    return true;
}

/* People play on it: flat, under part of a focus area that lies no more than a person's height
 * above it. */
static bool is_stage(const gradin_model *m, const gradin_section *s) {
    const gradin_setting *set = &s->machine->setting;
    for (int i = 0; i < m->n_focus && set->n_step == 1; i++) {
        if (m->focus[i].kind != GRADIN_FOCUS_FLOOR) continue;
        gradin_vec2 middle_m = gradin_polygon_centroid_m((gradin_polygon){s->corner_m, 4});
        double above_m = gradin_focus_z_m(&m->focus[i], middle_m) - set->position;
        if (above_m > -TOUCH_M && above_m < PERSON_M &&
            gradin_polygon_overlap((gradin_polygon){s->corner_m, 4}, m->focus[i].polygon, TOUCH_M))
            return true;
    }
    return false;
}

static bool add_treads(const gradin_model *m, pieces *all) {
    for (int i = 0; i < m->n_section; i++)
        for (int tread = 0; tread < m->section[i].machine->setting.n_step; tread++) {
            const gradin_section *s = &m->section[i];
            if (!add_box(m, all, s, fit_tread(s, tread),
                         s->machine->setting.position + tread * s->machine->setting.riser_m,
                         is_stage(m, s)))
                return false;
        }
    return true;
}

static int compare(double a, double b) {
    return a < b - 1e-6 ? -1 : a > b + 1e-6;
}

/* Grids at other bearings come apart. */
static int compare_frames(const piece *p, const piece *q) {
    int order = compare(p->frame.x.x, q->frame.x.x);
    return order != 0 ? order : compare(p->frame.x.y, q->frame.x.y);
}

static int along_lines(const void *a, const void *b) {
    const piece *p = a, *q = b;
    if (compare_frames(p, q) != 0) return compare_frames(p, q);
    if (p->is_along_x != q->is_along_x) return p->is_along_x ? -1 : 1;
    int order = compare(p->line_m, q->line_m);
    if (order == 0) order = compare(p->side, q->side);
    return order != 0 ? order : compare(p->from_m, q->from_m);
}

static bool continues(const piece *p, const piece *next) {
    return compare_frames(p, next) == 0 && p->is_along_x == next->is_along_x &&
           compare(p->line_m, next->line_m) == 0 && p->side == next->side &&
           compare(p->to_m, next->from_m) == 0 && isnan(p->drop_m) == isnan(next->drop_m);
}

static gradin_vec2 end_of(const piece *p, double run_m) {
    return fit_from_frame(p->frame, p->is_along_x ? (gradin_vec2){run_m, p->line_m}
                                                  : (gradin_vec2){p->line_m, run_m});
}

static gradin_open_edge edge_of(const piece *p, int n) {
    gradin_open_edge e = {.where = p->where,
                          .from_m = end_of(p, p->from_m),
                          .to_m = end_of(p, p[n - 1].to_m),
                          .low_m = p->height_m,
                          .high_m = p->height_m,
                          .drop_m = p->drop_m,
                          .is_stage = p->is_stage};
    for (int i = 1; i < n; i++) {
        e.low_m = fmin(e.low_m, p[i].height_m);
        e.high_m = fmax(e.high_m, p[i].height_m);
        e.is_stage |= p[i].is_stage;
        if (p[i].drop_m > e.drop_m) e.drop_m = p[i].drop_m;
    }
    e.length_m = hypot(e.to_m.x - e.from_m.x, e.to_m.y - e.from_m.y);
    return e;
}

static bool join_pieces(pieces *all, fit_edges_made *made) {
    if (all->n > 0) qsort(all->item, (size_t)all->n, sizeof *all->item, along_lines);
    for (int start = 0, end; start < all->n; start = end) {
        for (end = start + 1; end < all->n && continues(&all->item[end - 1], &all->item[end]);)
            end++;
        if (!fit_add_edge(made, edge_of(&all->item[start], end - start))) return false;
    }
    return true;
}

bool fit_edges(gradin_arena *arena, gradin_fit *fit) {
    const gradin_model *m = fit->model;
    pieces all = {.arena = arena};
    fit_edges_made made = {.arena = arena};
    if (isnan(m->machinery->rules.guard_drop_m)) return true;
    if (!add_treads(m, &all) || !join_pieces(&all, &made) || !fit_stair_edges(m, &made) ||
        !fit_deck_edges(m, &made))
        return false;
    for (int i = 0; i < made.n; i++) fit->n_stage_edge += made.item[i].is_stage;
    fit->edge = made.item;
    fit->n_edge = made.n;
    return true;
}
