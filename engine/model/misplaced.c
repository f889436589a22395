/* Things where they are seldom meant: rails in the air, off their level or through seats, things
 * above the ceiling, seats on what is looked at, blocks with their backs to it. Each is a note with
 * its place; nothing is refused here. How much is seldom meant is common practice, no source. */
#include "base/lengths.h"
#include "model/build.h"

#include <string.h>

static const double PIECE_M = 0.25; /* a rail is looked at in pieces no longer than this */
/* What begins at most this far beside a rail's line carries it, as a parapet before an edge. */
static const double BESIDE_M = 0.3;
static const double RESTS_M = 0.3;     /* or this far above its foot */
static const double AIR_M = 0.5;       /* the line between two points may run this far over steps */
static const double OFF_LEVEL_M = 1.0; /* less may be a step down to the next row */
static const double LEAST_M = 1.0;     /* shorter stretches bridge a gap */
static const double ABOVE_M = 0.01;
static const double SEATED_M = 1.3;      /* height of a seated person */
static const double BODY_M = 0.5;        /* of a seated person from front to back */
static const double INTO_M = 0.1;        /* a rail may be drawn this far into a chair, */
static const double TOUCH_INTO_M = 1e-6; /* and what only touches the rest is not through it */

static const gradin_place *place_or_name(const gradin_place *at, const gradin_place *name) {
    return at ? at : name;
}

/* The longest stretch of a rail that something is true of, and by how much at most. */
typedef struct stretch {
    double run_m, longest_m, most_m;
} stretch;

static void lengthen(stretch *s, double piece_m, double by_m, double least_m) {
    if (!(by_m > least_m)) {
        s->run_m = 0.0;
        return;
    }
    s->run_m += piece_m;
    s->longest_m = fmax(s->longest_m, s->run_m);
    s->most_m = fmax(s->most_m, by_m);
}

/* How high something carries a foot: up to the foot where it reaches there. */
static double carried_m(double bottom_m, double top_m, double foot_m) {
    return bottom_m <= foot_m + RESTS_M ? fmin(top_m, foot_m) : -INFINITY;
}

static bool is_beside(gradin_polygon polygon, gradin_vec2 at_m, double reach_m) {
    if (gradin_polygon_contains(polygon, at_m)) return true;
    gradin_vec2 near_m = gradin_polygon_nearest_m(polygon, at_m, NULL);
    return hypot(near_m.x - at_m.x, near_m.y - at_m.y) <= reach_m;
}

static bool is_near_box(gradin_box2 box, gradin_vec2 at_m, double reach_m) {
    return at_m.x >= box.x_min_m - reach_m && at_m.x <= box.x_max_m + reach_m &&
           at_m.y >= box.y_min_m - reach_m && at_m.y <= box.y_max_m + reach_m;
}

/* Floors and lifts under the point and around it. */
static double ground_m(const builder *b, gradin_vec2 at_m, double reach_m) {
    double best_m = gradin_surface_m(b->v, b->p, at_m, NULL);
    for (int i = 0; i < 4; i++) {
        gradin_vec2 beside_m = point_along_m(at_m, 45.0 + 90.0 * i, reach_m);
        best_m = fmax(best_m, gradin_surface_m(b->v, b->p, beside_m, NULL));
    }
    return best_m;
}

/* How far a foot stands above what is under it. */
static double air_m(const builder *b, gradin_vec3 foot_m, double reach_m) {
    gradin_vec2 at_m = {foot_m.x, foot_m.y};
    double best_m = gradin_surface_m(b->v, b->p, at_m, NULL);
    if (foot_m.z - best_m <= AIR_M) return 0.0;
    best_m = fmax(best_m, ground_m(b, at_m, reach_m));
    for (int i = 0; i < b->n_obstacle; i++) {
        const obstacle *o = &b->obstacle[i];
        double here_m = carried_m(o->bottom_m, o->top_m, foot_m.z);
        if (here_m > best_m && is_near_box(o->bounds, at_m, reach_m) &&
            is_beside(o->polygon, at_m, reach_m))
            best_m = here_m;
    }
    for (int i = 0; i < b->n_platform; i++) {
        const gradin_platform *p = &b->platform[i];
        double here_m = carried_m(p->bottom_m, p->top_m, foot_m.z);
        if (here_m > best_m && is_beside(p->polygon, at_m, reach_m)) best_m = here_m;
    }
    return foot_m.z - best_m;
}

/* Lowest tread of the level; NAN without one. */
static double level_low_m(const builder *b, const char *level) {
    const gradin_seats *s = &b->model->seats;
    double low_m = NAN;
    int index = b->model->n_level - 1;
    while (level && index >= 0 && strcmp(b->model->level_name[index], level) != 0) index--;
    for (int i = 0; level && i < s->n_seat; i++)
        if (s->level[i] == index) low_m = fmin(low_m, s->floor_m[i].z);
    return low_m;
}

static void walk_rail(const builder *b, const gradin_rail *rail, double low_m, stretch *air,
                      stretch *off) {
    double reach_m = BESIDE_M + rail->thickness_m / 2.0;
    for (int k = 0; k + 1 < rail->n_point; k++) {
        gradin_vec3 from_m = rail->point_m[k], along_m = gradin_sub(rail->point_m[k + 1], from_m);
        double length_m = hypot(along_m.x, along_m.y);
        int n = (int)fmin(fmax(ceil(length_m / PIECE_M), 1.0), 4000.0);
        for (int i = 0; i < n; i++) {
            gradin_vec3 foot_m = gradin_add(from_m, gradin_scale(along_m, (i + 0.5) / n));
            lengthen(air, length_m / n, air_m(b, foot_m, reach_m), AIR_M);
            lengthen(off, length_m / n, low_m - foot_m.z, OFF_LEVEL_M);
        }
    }
}

static void note_hanging(builder *b, const gradin_rail_entry *entry, const gradin_rail *rail) {
    char runs[LENGTH_CHARS], by[LENGTH_CHARS];
    length_unit unit = length_unit_of(b->p->units);
    const gradin_place *at = place_or_name(entry->at, &(gradin_place){.key = entry->name});
    stretch air = {0}, off = {0};
    walk_rail(b, rail, level_low_m(b, entry->level), &air, &off);
    if (air.longest_m > LEAST_M)
        note_key(
            b->c, at, "", "rail %s hangs in the air for about %s, up to %s above what is under it",
            entry->name, length_text(runs, air.longest_m, unit), length_text(by, air.most_m, unit));
    if (off.longest_m > LEAST_M)
        note_key(b->c, at, "",
                 "rail %s is on level %s, but about %s of it stands up to %s below the lowest seat "
                 "there",
                 entry->name, entry->level, length_text(runs, off.longest_m, unit),
                 length_text(by, off.most_m, unit));
}

static bool meets(gradin_polygon polygon, gradin_vec3 from_m, gradin_vec3 to_m) {
    double x_m = to_m.x - from_m.x, y_m = to_m.y - from_m.y, length_m = hypot(x_m, y_m), t_m;
    gradin_vec2 unit = {x_m / length_m, y_m / length_m};
    return gradin_polygon_ray_m(polygon, (gradin_vec2){from_m.x, from_m.y}, unit, &t_m) &&
           t_m < length_m;
}

/* Through the body of whoever sits there: above the tread and below the crown. */
static bool is_through(const gradin_seats *s, int seat, const gradin_rail *rail) {
    gradin_vec2 at_m = {s->floor_m[seat].x, s->floor_m[seat].y}, corner_m[4];
    double tread_m = s->floor_m[seat].z, off_m = 2.0 * (INTO_M + TOUCH_INTO_M);
    gradin_rectangle_corners(at_m, s->facing_deg[seat], BODY_M - off_m, s->width_m[seat] - off_m,
                             corner_m);
    for (int k = 0; k + 1 < rail->n_point; k++) {
        gradin_vec3 a_m = rail->point_m[k], b_m = rail->point_m[k + 1];
        bool is_at_height = fmin(a_m.z, b_m.z) < tread_m + SEATED_M &&
                            fmax(a_m.z, b_m.z) + rail->height_m > tread_m + INTO_M;
        if (is_at_height && meets((gradin_polygon){corner_m, 4}, a_m, b_m)) return true;
    }
    return false;
}

static void note_through(builder *b, const gradin_rail_entry *entry, const gradin_rail *rail) {
    const gradin_seats *s = &b->model->seats;
    int n = 0, first = -1;
    for (int i = 0; i < s->n_seat; i++)
        if (is_through(s, i, rail) && n++ == 0) first = i;
    if (n > 0)
        note_key(b->c, place_or_name(entry->at, &(gradin_place){.key = entry->name}), "",
                 "rail %s runs through %d %s, the first of them %s", entry->name, n,
                 n == 1 ? "place" : "places", s->id[first]);
}

static void note_above(builder *b, const gradin_place *at, const char *key, const char *what,
                       const char *name, double top_m) {
    char above[LENGTH_CHARS], ceiling[LENGTH_CHARS];
    length_unit unit = length_unit_of(b->p->units);
    if (!(top_m > b->v->ceiling_m + ABOVE_M)) return;
    note_key(b->c, place_or_name(at, &(gradin_place){.key = name}), key,
             "%s %s reaches %s above the ceiling, which is at %s", what, name,
             length_text(above, top_m - b->v->ceiling_m, unit),
             length_text(ceiling, b->v->ceiling_m, unit));
}

static void note_rails(builder *b) {
    for (int i = 0; i < b->p->n_rail; i++) {
        const gradin_rail_entry *entry = &b->p->rail[i];
        const gradin_rail *rail = &b->rail[i]; /* those of towers come after */
        double top_m = -INFINITY;
        for (int k = 0; k < rail->n_point; k++)
            top_m = fmax(top_m, rail->point_m[k].z + rail->height_m);
        note_hanging(b, entry, rail);
        note_through(b, entry, rail);
        note_above(b, entry->at, "", "rail", entry->name, top_m);
    }
}

/* Columns, walls and models may be built into the ceiling. */
static void note_solids(builder *b, const gradin_solid *solid, int n) {
    for (int i = 0; i < n; i++) {
        const gradin_solid *s = &solid[i];
        if (s->kind == GRADIN_SOLID_SLAB || s->kind == GRADIN_SOLID_SET)
            note_above(b, s->at, "top", s->kind == GRADIN_SOLID_SLAB ? "slab" : "set piece",
                       s->name, s->top_m);
    }
}

static double focus_top_m(const gradin_focus *f) {
    if (f->kind == GRADIN_FOCUS_UPRIGHT) return f->top_m;
    if (f->kind == GRADIN_FOCUS_POINT) return f->z_m;
    double top_m = -INFINITY;
    for (int k = 0; k < f->polygon.n_corner; k++)
        top_m = fmax(top_m, gradin_focus_z_m(f, f->polygon.corner_m[k]));
    return top_m;
}

static bool is_on_focus(const gradin_seats *s, int seat, const gradin_focus *f) {
    gradin_vec2 at_m = {s->floor_m[seat].x, s->floor_m[seat].y};
    return f->kind == GRADIN_FOCUS_FLOOR && gradin_polygon_contains(f->polygon, at_m) &&
           fabs(s->floor_m[seat].z - gradin_focus_z_m(f, at_m)) < SEATED_M;
}

static void note_on_focus(builder *b, const gradin_focus *f) {
    const gradin_seats *s = &b->model->seats;
    int n = 0, first = -1;
    for (int i = 0; i < s->n_seat; i++)
        if (is_on_focus(s, i, f) && n++ == 0) first = i;
    if (n > 0)
        note_key(b->c, place_or_name(f->at, &(gradin_place){.key = f->name}), "",
                 "%d %s inside focus area '%s', the first of them %s", n,
                 n == 1 ? "seat stands" : "seats stand", f->name, s->id[first]);
}

static bool is_before(const gradin_seats *s, int seat, gradin_vec2 at_m) {
    gradin_vec2 ahead = gradin_bearing_unit(s->facing_deg[seat]);
    double x_m = at_m.x - s->floor_m[seat].x, y_m = at_m.y - s->floor_m[seat].y;
    return x_m * ahead.x + y_m * ahead.y >= 0.0;
}

/* Whether any part of what is looked at lies less than 90 degrees off the facing. */
static bool faces_some(const gradin_model *m, int seat) {
    for (int i = 0; i < m->n_focus; i++) {
        const gradin_focus *f = &m->focus[i];
        bool is_line = f->kind == GRADIN_FOCUS_UPRIGHT, is_point = f->kind == GRADIN_FOCUS_POINT;
        const gradin_vec2 *at_m = is_line    ? f->line_m
                                  : is_point ? &f->point_m
                                             : f->polygon.corner_m;
        int n = is_line ? f->n_line : is_point ? 1 : f->polygon.n_corner;
        for (int k = 0; k < n; k++)
            if (is_before(&m->seats, seat, at_m[k])) return true;
    }
    return false;
}

static void note_turned_away(builder *b) {
    const gradin_seats *s = &b->model->seats;
    int *n = alloc(b->c, b->n_block_name, sizeof *n); /* of its seats; -1: one faces it */
    for (int i = 0; n && i < s->n_seat; i++) {
        int block = s->block[i];
        if (n[block] >= 0) n[block] = faces_some(b->model, i) ? -1 : n[block] + 1;
    }
    for (int i = 0; n && i < b->n_block_name; i++) {
        if (n[i] <= 0) continue;
        note_key(b->c, place_or_name(b->block_at[i], &(gradin_place){.key = b->block_name[i]}), "",
                 "%s has its back to the focus: all of it lies more than 90 deg off the facing of "
                 "%s",
                 b->block_name[i], n[i] == 1 ? "its seat" : "each of its seats");
    }
}

void note_misplaced(builder *b) {
    note_rails(b);
    note_solids(b, b->v->solid, b->v->n_solid);
    note_solids(b, b->p->solid, b->p->n_solid);
    for (int i = 0; i < b->model->n_focus; i++) {
        const gradin_focus *f = &b->model->focus[i];
        note_above(b, f->at, "", "focus", f->name, focus_top_m(f));
        note_on_focus(b, f);
    }
    note_turned_away(b);
}
