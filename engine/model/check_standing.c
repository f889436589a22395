/* Do machines stand clear of each other, of fixed solids and of the room's walls? The way that they
 * take to get there is not checked here.
 * Can the scenery stand where the layout has it: in the room, on one level, on no seat and in no
 * machine's body; and does its way stay on the level that it states?
 * Can a level passage be where it is: in the room, over floors of one height?
 * Does a focus without a height of its own lie on one? */
#include "base/lengths.h"
#include "model/build.h"

static const double LEVEL_M = 0.005; /* surfaces closer than this in height are one */
static const double TOUCH_M = 0.02;  /* drawn this far into a wall or a thing is drawn at it */

static bool is_in_room(const builder *b, gradin_polygon polygon) {
    double outside_m2 =
        gradin_polygon_area_m2(polygon) - gradin_polygon_common_m2(polygon, b->v->footprint);
    return outside_m2 <= TOUCH_M * gradin_polygon_perimeter_m(polygon);
}

/* Height of the surface under the first spot; *other_m that under one on another level, NAN when
 * all are level. */
static double spots_level_m(const builder *b, const spots *area, double *other_m) {
    double level_m = gradin_surface_m(b->v, b->p, area->point_m[0], NULL);
    *other_m = NAN;
    for (int i = 1; i < area->n && isnan(*other_m); i++) {
        double own_m = gradin_surface_m(b->v, b->p, area->point_m[i], NULL);
        if (fabs(own_m - level_m) > LEVEL_M) *other_m = own_m;
    }
    return level_m;
}

/* The height of the whole area; NAN after a complaint. */
static double area_level_m(builder *b, const gradin_scenery *s, const spots *area) {
    char one[LENGTH_CHARS], other[LENGTH_CHARS];
    double other_m, level_m = spots_level_m(b, area, &other_m);
    length_unit unit = length_unit_of(b->p->units);
    if (isnan(other_m)) return level_m;
    refuse_key(b->c, s->at, "area", "%s stands on floors at %s and at %s", s->name,
               length_number(one, level_m, unit), length_text(other, other_m, unit));
    return NAN;
}

static void check_seats_off(builder *b, const gradin_scenery *s, double level_m) {
    const gradin_seats *seats = &b->model->seats;
    int n = 0, first = -1;
    for (int i = 0; i < seats->n_seat; i++) {
        gradin_vec3 at_m = seats->floor_m[i];
        if (at_m.z < level_m - LEVEL_M || at_m.z > level_m + s->height_m ||
            !gradin_polygon_contains(s->area, (gradin_vec2){at_m.x, at_m.y}))
            continue;
        if (n++ == 0) first = i;
    }
    if (n > 0)
        refuse_key(b->c, s->at, "area", "%s stands on %d %s, the first of them %s", s->name, n,
                   n == 1 ? "seat" : "seats", seats->id[first]);
}

/* Machines have their own volumes; the layout's solids may well be the scenery itself. */
static void check_machines_off(builder *b, const gradin_scenery *s, double level_m) {
    for (int i = 0; i < b->n_obstacle; i++) {
        const obstacle *o = &b->obstacle[i];
        if (o->machine == -1 || o->top_m < level_m + TOUCH_M ||
            o->bottom_m > level_m + s->height_m - TOUCH_M ||
            !gradin_polygon_overlap(o->polygon, s->area, TOUCH_M))
            continue;
        refuse_key(b->c, s->at, "area", "%s stands inside %s", s->name, o->name);
        return;
    }
}

/* The fixed floor stays where it is for good. */
static bool leaves_level(builder *b, const spots *way, double level_m, double *floor_m) {
    for (int i = 0, section; i < way->n; i++) {
        *floor_m = gradin_surface_m(b->v, b->p, way->point_m[i], &section);
        if (section < 0 && fabs(*floor_m - level_m) > LEVEL_M) return true;
    }
    return false;
}

static void check_way(builder *b, const gradin_scenery *s, const spots *way, const char *key,
                      double level_m) {
    char length[LENGTH_CHARS], floor[LENGTH_CHARS] = "0";
    double floor_m;
    length_unit unit = length_unit_of(b->p->units);
    if (!leaves_level(b, way, level_m, &floor_m)) return;
    if (floor_m != 0.0) length_text(floor, floor_m, unit);
    refuse_key(b->c, s->at, key,
               "%s is moved at %s, and its %s has fixed floor at %s; state the level at which it "
               "rolls, and 'rides' where lifts may move with it",
               s->name, length_text(length, level_m, unit), key, floor);
}

static void check_one(builder *b, const gradin_scenery *s) {
    spots area, way = {0};
    bool has_way = s->way.n_corner > 0;
    if (!is_in_room(b, s->area) || (has_way && !is_in_room(b, s->way))) {
        refuse_key(b->c, s->at, is_in_room(b, s->area) ? "way" : "area",
                   "reaches outside the room's footprint; end it at the wall");
        return;
    }
    if (!find_spots(b, s->area, &area) || (has_way && !find_spots(b, s->way, &way))) return;
    double stands_m = area_level_m(b, s, &area);
    if (isnan(stands_m)) return;
    check_seats_off(b, s, stands_m);
    check_machines_off(b, s, stands_m);
    double level_m = isnan(s->level_m) ? stands_m : s->level_m;
    check_way(b, s, &area, "area", level_m);
    if (has_way) check_way(b, s, &way, "way", level_m);
}

/* Two things in one place. */
static void check_pairs(builder *b) {
    for (int i = 0; i < b->p->n_scenery; i++)
        for (int k = i + 1; k < b->p->n_scenery; k++) {
            const gradin_scenery *one = &b->p->scenery[i], *other = &b->p->scenery[k];
            if (gradin_polygon_overlap(one->area, other->area, TOUCH_M))
                refuse_key(b->c, other->at, "area", "%s stands where %s stands", other->name,
                           one->name);
        }
}

void check_scenery(builder *b) {
    for (int i = 0; i < b->p->n_scenery; i++) check_one(b, &b->p->scenery[i]);
    if (b->c->n_error == 0) check_pairs(b);
}

static void check_passage(builder *b, const gradin_passage *p) {
    const gradin_place *at = p->at ? p->at : &(gradin_place){.key = p->name};
    char one[LENGTH_CHARS], other[LENGTH_CHARS];
    length_unit unit = length_unit_of(b->p->units);
    spots under;
    if (!is_in_room(b, p->polygon)) {
        refuse(b->c, at, "passage %s reaches outside the room's footprint; end it at the wall",
               p->name);
        return;
    }
    if (!find_spots(b, p->polygon, &under)) return;
    double other_m, level_m = spots_level_m(b, &under, &other_m);
    if (isnan(other_m)) return;
    refuse(b->c, at, "passage %s lies over floors at %s and at %s; a passage is level", p->name,
           length_number(one, level_m, unit), length_text(other, other_m, unit));
}

void check_passages(builder *b) {
    for (int i = 0; i < b->p->n_passage; i++) check_passage(b, &b->p->passage[i]);
}

/* The setting of the lift that is met, else the tower's own; NULL when neither is stated. */
static const gradin_place *place_of(const builder *b, const obstacle *part, const obstacle *o) {
    int section = o->machine - b->v->n_tower;
    bool is_section = section >= 0 && section < b->v->n_section;
    const gradin_machine_state *met =
        is_section ? gradin_layout_state(b->v, b->p, GRADIN_MACHINE_SECTION, section) : NULL;
    return met && met->at
               ? met->at
               : gradin_layout_state(b->v, b->p, GRADIN_MACHINE_HOIST, part->machine)->at;
}

static bool is_tower(const builder *b, const obstacle *o) {
    return o->machine >= 0 && o->machine < b->v->n_tower;
}

static bool meets(const obstacle *a, const obstacle *o) {
    return a->machine != o->machine && a->bottom_m < o->top_m - TOUCH_M &&
           o->bottom_m < a->top_m - TOUCH_M &&
           gradin_polygon_overlap(a->polygon, o->polygon, TOUCH_M);
}

/* The first thing that a tower part runs into. */
static void check_tower_part(builder *b, const obstacle *part, bool *is_told) {
    for (int k = 0; k < b->n_obstacle && !*is_told; k++) {
        const obstacle *o = &b->obstacle[k];
        if (!meets(part, o)) continue;
        char low[LENGTH_CHARS], high[LENGTH_CHARS];
        length_unit unit = length_unit_of(b->p->units);
        *is_told = true;
        refuse(b->c, place_of(b, part, o), "machines clash: %s meets %s between %s and %s",
               part->name, o->name, length_text(low, fmax(part->bottom_m, o->bottom_m), unit),
               length_text(high, fmin(part->top_m, o->top_m), unit));
    }
    for (int k = 0; k < part->polygon.n_corner && !*is_told; k++) {
        if (gradin_polygon_contains(b->v->footprint, part->polygon.corner_m[k])) continue;
        *is_told = true;
        refuse(b->c, place_of(b, part, part),
               "machines clash: %s stands outside the room's footprint", part->name);
    }
    if (!*is_told && part->top_m > b->v->ceiling_m) {
        *is_told = true;
        refuse(b->c, place_of(b, part, part), "machines clash: %s reaches above the ceiling",
               part->name);
    }
}

void check_machines(builder *b) {
    bool *is_told = alloc(b->c, b->v->n_tower, sizeof *is_told);
    if (!is_told) return;
    for (int i = 0; i < b->n_obstacle; i++)
        if (is_tower(b, &b->obstacle[i]))
            check_tower_part(b, &b->obstacle[i], &is_told[b->obstacle[i].machine]);
}

/* A plane over an outline: a lift tread, or a part of the floor. */
typedef struct footing_part {
    gradin_polygon outline;
    const gradin_floor_region *region; /* NULL: level at z_m */
    double z_m;
} footing_part;

/* What a focus and one part have in common, corner by corner. */
typedef struct meeting {
    const gradin_focus *focus;
    const footing_part *part;
    gradin_box2 box;
    double off_m; /* the farthest apart */
} meeting;

static void meet_at(meeting *m, gradin_vec2 at_m) {
    const footing_part *p = m->part;
    double z_m = p->region ? gradin_floor_region_z_m(p->region, at_m) : p->z_m;
    m->off_m = fmax(m->off_m, fabs(z_m - gradin_focus_z_m(m->focus, at_m)));
    m->box.x_min_m = fmin(m->box.x_min_m, at_m.x);
    m->box.y_min_m = fmin(m->box.y_min_m, at_m.y);
    m->box.x_max_m = fmax(m->box.x_max_m, at_m.x);
    m->box.y_max_m = fmax(m->box.y_max_m, at_m.y);
}

static void meet_corners(meeting *m, gradin_polygon of, gradin_polygon within) {
    for (int i = 0; i < of.n_corner; i++)
        if (gradin_polygon_contains(within, of.corner_m[i])) meet_at(m, of.corner_m[i]);
}

/* Where the sides from a to b and from c to d cross. */
static void meet_sides(meeting *m, const gradin_vec2 a[2], const gradin_vec2 c[2]) {
    double ux = a[1].x - a[0].x, uy = a[1].y - a[0].y, vx = c[1].x - c[0].x, vy = c[1].y - c[0].y;
    double wx = c[0].x - a[0].x, wy = c[0].y - a[0].y, det = ux * vy - uy * vx;
    double t = (wx * vy - wy * vx) / det, s = (wx * uy - wy * ux) / det;
    if (!(t >= 0.0 && t <= 1.0 && s >= 0.0 && s <= 1.0)) return; /* alongside: NAN */
    meet_at(m, (gradin_vec2){a[0].x + t * ux, a[0].y + t * uy});
}

static void meet_all_sides(meeting *m, gradin_polygon a, gradin_polygon b) {
    for (int i = 0; i < a.n_corner; i++)
        for (int k = 0; k < b.n_corner; k++) {
            const gradin_vec2 one[2] = {a.corner_m[i], a.corner_m[(i + 1) % a.n_corner]};
            const gradin_vec2 other[2] = {b.corner_m[k], b.corner_m[(k + 1) % b.n_corner]};
            meet_sides(m, one, other);
        }
}

/* The area in common is taken from *left_m2; true when the two lie apart there. */
static bool is_apart(const gradin_focus *f, const footing_part *part, double *left_m2) {
    double common_m2 = gradin_polygon_common_m2(f->polygon, part->outline);
    if (!(common_m2 > 0.0)) return false;
    *left_m2 -= common_m2;
    meeting m = {f, part, {INFINITY, INFINITY, -INFINITY, -INFINITY}, 0.0};
    meet_corners(&m, f->polygon, part->outline);
    meet_corners(&m, part->outline, f->polygon);
    meet_all_sides(&m, f->polygon, part->outline);
    double length_m = hypot(m.box.x_max_m - m.box.x_min_m, m.box.y_max_m - m.box.y_min_m);
    return common_m2 > TOUCH_M * length_m && m.off_m > LEVEL_M;
}

static bool is_off_lift(const builder *b, const gradin_focus *f, int section, double *left_m2) {
    const gradin_setting *set =
        &gradin_layout_state(b->v, b->p, GRADIN_MACHINE_SECTION, section)->set;
    for (int tread = 0; tread < set->n_step; tread++) {
        gradin_vec2 corner_m[4];
        gradin_tread_corners(&b->v->section[section], set, tread, corner_m);
        const footing_part part = {{corner_m, 4}, NULL, set->position + tread * set->riser_m};
        if (is_apart(f, &part, left_m2)) return true;
    }
    return false;
}

/* A focus without a height of its own must lie on one level, or on one slope: it is held against
 * every tread, part of the floor and the fixed floor that its outline lies over, each at the
 * corners of what the two have in common, where planes are farthest apart. */
static bool is_on_several(const builder *b, const gradin_focus *f) {
    double left_m2 = gradin_polygon_area_m2(f->polygon);
    for (int i = 0; i < b->v->n_section; i++)
        if (is_off_lift(b, f, i, &left_m2)) return true;
    for (int i = 0; i < b->v->n_floor; i++) {
        const gradin_floor_region *region = &b->v->floor[i];
        const footing_part part = {region->polygon, region, NAN};
        if (is_apart(f, &part, &left_m2)) return true;
    }
    bool has_floor = left_m2 > 0.5 * TOUCH_M * gradin_polygon_perimeter_m(f->polygon);
    return has_floor && (f->slope > 0.0 || fabs(f->z_m) > LEVEL_M);
}

void check_focus_height(builder *b, const gradin_focus *f) {
    if (is_on_several(b, f))
        refuse(b->c, f->at, "focus %s lies over surfaces of several heights; give z", f->name);
}
