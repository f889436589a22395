/* Do machines stand clear of each other, of fixed solids and of the room's walls? The way that they
 * take to get there is not checked here.
 * Can the scenery stand where the layout has it: in the room, on one level, on no seat and in no
 * machine's body; and does its way stay on the level that it states?
 * Can a level passage be where it is: in the room, over floors of one height? */
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
