/* Does the venue fit together: facade entries on walls, lifts in the room, rows on their towers,
 * the arch on its line, interlocks within reach? */
#include "base/use.h"
#include "venue/frame.h"
#include "venue/parts.h"

#include <stdio.h>

static const double ON_WALL_M = 0.05; /* farther from the footprint's edge is no wall */
static const double BEYOND_M = 1e-6;
static const double MOST_COMMON_M2 = 0.01;

static bool is_on_wall(const gradin_venue *v, gradin_vec2 at_m) {
    gradin_vec2 near_m = gradin_polygon_nearest_m(v->footprint, at_m, NULL);
    return hypot(near_m.x - at_m.x, near_m.y - at_m.y) <= ON_WALL_M;
}

/* Both ends on one edge of the footprint. */
static bool is_along_wall(const gradin_venue *v, const gradin_vec2 line_m[2]) {
    for (int i = 0; i < v->footprint.n_corner; i++) {
        gradin_vec2 a = v->footprint.corner_m[i];
        gradin_vec2 b = v->footprint.corner_m[(i + 1) % v->footprint.n_corner];
        double length_m = hypot(b.x - a.x, b.y - a.y);
        bool is_on = true;
        for (int k = 0; k < 2; k++) {
            gradin_vec2 way = {line_m[k].x - a.x, line_m[k].y - a.y};
            double at_m = (way.x * (b.x - a.x) + way.y * (b.y - a.y)) / length_m;
            double off_m = (way.y * (b.x - a.x) - way.x * (b.y - a.y)) / length_m;
            is_on = is_on && fabs(off_m) <= ON_WALL_M && at_m >= -ON_WALL_M &&
                    at_m <= length_m + ON_WALL_M;
        }
        if (is_on) return true;
    }
    return false;
}

static bool is_same_rest(const gradin_facade_entry *a, const gradin_facade_entry *b) {
    if (a->kind != b->kind) return false;
    return a->kind == GRADIN_ELEMENT_WALL ? a->is_rest && b->is_rest
                                          : a->polygon.n_corner == 0 && b->polygon.n_corner == 0;
}

static void check_opaque(complaints *c, const gradin_venue *v, int entry) {
    const gradin_facade_entry *e = &v->facade[entry];
    for (int i = 0; i < entry; i++)
        if (is_same_rest(e, &v->facade[i]))
            refuse(c, e->at, "%s covers what %s already covers: only one may be without a place",
                   e->name, v->facade[i].name);
        else if (e->kind == GRADIN_ELEMENT_ROOF && v->facade[i].kind == e->kind &&
                 e->polygon.n_corner > 0 && v->facade[i].polygon.n_corner > 0 &&
                 gradin_polygon_common_m2(e->polygon, v->facade[i].polygon) > MOST_COMMON_M2)
            refuse(c, e->at, "%s overlaps %s", e->name, v->facade[i].name);
    if (e->kind == GRADIN_ELEMENT_WALL && !e->is_rest && !is_along_wall(v, e->line_m))
        refuse(c, e->at, "%s does not lie on an edge of the room's footprint", e->name);
    if (e->polygon.n_corner > 0 && gradin_polygon_common_m2(e->polygon, v->footprint) <
                                       gradin_polygon_area_m2(e->polygon) - MOST_COMMON_M2)
        refuse(c, e->at, "%s reaches outside the room's footprint", e->name);
}

/* Glass that leans: its corners within the room, and not above its ceiling. */
static void check_tilted(complaints *c, const gradin_venue *v, const gradin_facade_entry *e) {
    gradin_vec2 along = gradin_bearing_unit(e->bearing_deg), right = {along.y, -along.x};
    double deep_m = e->height_m * sin(gradin_rad(e->tilt_deg));
    double rise_m = e->height_m * cos(gradin_rad(e->tilt_deg)), length_m = e->count * e->width_m;
    gradin_vec2 probe_m = {e->start_m.x + 0.5 * length_m * along.x + 0.2 * right.x,
                           e->start_m.y + 0.5 * length_m * along.y + 0.2 * right.y};
    if (!gradin_polygon_contains(v->footprint, probe_m)) right = (gradin_vec2){-right.x, -right.y};
    for (int k = 0; k < 4; k++) {
        double a_m = k % 2 ? length_m : 0.0, in_m = k / 2 ? deep_m : 0.0;
        gradin_vec2 at_m = {e->start_m.x + a_m * along.x + in_m * right.x,
                            e->start_m.y + a_m * along.y + in_m * right.y};
        if (gradin_polygon_contains(v->footprint, at_m) || is_on_wall(v, at_m)) continue;
        refuse(c, e->at, "%s reaches outside the room's footprint", e->name);
        break;
    }
    if (e->sill_m + rise_m > v->ceiling_m + BEYOND_M)
        refuse(c, e->at, "%s reaches above the ceiling", e->name);
}

static void check_entry(complaints *c, const gradin_venue *v, const gradin_facade_entry *e) {
    if (e->tilt_deg > 0.0) {
        check_tilted(c, v, e);
        return;
    }
    gradin_vec2 along = gradin_bearing_unit(e->bearing_deg);
    double length_m = e->count * e->width_m;
    gradin_vec2 end_m = {e->start_m.x + along.x * length_m, e->start_m.y + along.y * length_m};
    gradin_vec2 middle_m = {(e->start_m.x + end_m.x) / 2.0, (e->start_m.y + end_m.y) / 2.0};
    if (!is_on_wall(v, e->start_m) || !is_on_wall(v, middle_m) || !is_on_wall(v, end_m))
        refuse(c, e->at, "%s does not lie on an edge of the room's footprint", e->name);
    if (e->sill_m + e->height_m > v->ceiling_m + BEYOND_M)
        refuse(c, e->at, "%s reaches above the ceiling", e->name);
}

static void check_elements(complaints *c, const gradin_venue *v) {
    int64_t n = 0;
    for (int i = 0; i < v->n_facade; i++) {
        const gradin_facade_entry *e = &v->facade[i];
        n += e->count;
        if (e->kind == GRADIN_ELEMENT_WALL || e->kind == GRADIN_ELEMENT_ROOF)
            check_opaque(c, v, i);
        else
            check_entry(c, v, e);
    }
    if (n > GRADIN_MAX_BAY)
        refuse(c, v->facade[0].at, "the facade has %d elements; at most %d are allowed", (int)n,
               GRADIN_MAX_BAY);
}

static bool is_box_inside(const gradin_venue *v, gradin_box2 box, const gradin_lift_section *of) {
    gradin_vec2 corner_m[4];
    grid_corners(of, box, corner_m);
    for (int i = 0; i < 4; i++)
        if (!gradin_polygon_contains(v->footprint, corner_m[i])) return false;
    return true;
}

static bool do_boxes_overlap(gradin_box2 a, gradin_box2 b) {
    return a.x_min_m < b.x_max_m - BEYOND_M && b.x_min_m < a.x_max_m - BEYOND_M &&
           a.y_min_m < b.y_max_m - BEYOND_M && b.y_min_m < a.y_max_m - BEYOND_M;
}

static gradin_box2 grid_box(const gradin_lift_grid *g) {
    return (gradin_box2){g->origin_m.x, g->origin_m.y, g->origin_m.x + g->n_column * g->size_m[0],
                         g->origin_m.y + g->n_row * g->size_m[1]};
}

/* How a grid lies, as one of its sections would say. */
static gradin_lift_section frame_of(const gradin_lift_grid *g) {
    return (gradin_lift_section){.pivot_m = g->origin_m, .bearing_deg = g->bearing_deg};
}

static bool do_grids_overlap(const gradin_lift_grid *a, const gradin_lift_grid *b) {
    if (a->bearing_deg == 0.0 && b->bearing_deg == 0.0)
        return do_boxes_overlap(grid_box(a), grid_box(b));
    gradin_vec2 one_m[4], other_m[4];
    gradin_lift_section one = frame_of(a), other = frame_of(b);
    grid_corners(&one, grid_box(a), one_m);
    grid_corners(&other, grid_box(b), other_m);
    return gradin_polygon_overlap((gradin_polygon){one_m, 4}, (gradin_polygon){other_m, 4},
                                  BEYOND_M);
}

static void check_grids(complaints *c, const gradin_venue *v) {
    for (int i = 0; i < v->n_grid; i++) {
        gradin_lift_section frame = frame_of(&v->grid[i]);
        if (!is_box_inside(v, grid_box(&v->grid[i]), &frame))
            refuse(c, v->grid[i].at, "lifts %s reach outside the room's footprint",
                   v->grid[i].name);
        for (int k = 0; k < i; k++)
            if (do_grids_overlap(&v->grid[i], &v->grid[k]))
                refuse(c, v->grid[i].at, "lifts %s overlap lifts %s", v->grid[i].name,
                       v->grid[k].name);
    }
}

void check_rail_height(complaints *c, const gradin_place *at, const char *name, const char *key,
                       double height_m, double rail_min_m, const char *units) {
    char low[LENGTH_CHARS];
    if (height_m <= 0.0 || height_m >= rail_min_m - 1e-9) return;
    refuse_key(c, at ? at : &(gradin_place){.key = name}, key,
               "is below the %s that the venue's own local rules allow; local code and a "
               "licensed professional decide",
               length_text(low, rail_min_m, stated_unit_of(units)));
}

static void check_level(complaints *c, const gradin_venue *v, const gradin_tower *t, int level) {
    const gradin_tower_level *l = &t->level[level];
    char name[GRADIN_KEY_CHARS], rail[GRADIN_KEY_CHARS + 8];
    snprintf(name, sizeof name, "%s %s", t->name, l->name);
    snprintf(rail, sizeof rail, "%s rail", name);
    const gradin_place *at = l->at ? l->at : &(gradin_place){.key = name};
    check_rail_height(c, l->rail_at, rail, "height", l->rail_height_m, v->rail_min_m, v->units);
    if (l->front_m + l->n_row * l->row_depth_m > t->depth_m + 1e-9)
        refuse_key(c, at, "rows",
                   "do not fit: front + rows x row_depth is more than the tower's depth");
    if (level > 0 && l->deck_m <= l[-1].deck_m)
        refuse_key(c, at, "deck", "must be above the level before it");
}

/* facing_deg is where a tower stands that nobody turns. */
static void check_tower(complaints *c, const gradin_venue *v, const gradin_tower *t) {
    const gradin_place *at = t->turn_at ? t->turn_at : &(gradin_place){.key = t->name};
    if (t->turn_deg[0] > 0.0 || t->turn_deg[1] < 0.0)
        refuse_key(c, at, "range_deg", "must include 0, at which the tower faces its facing_deg");
    for (int k = 0; k < t->n_level; k++) check_level(c, v, t, k);
}

static void check_arch(complaints *c, const gradin_arch *a) {
    if (!a) return;
    double length_m = hypot(a->line_m[1].x - a->line_m[0].x, a->line_m[1].y - a->line_m[0].y);
    if (a->opening_m[1] > length_m)
        refuse_key(c, a->at ? a->at : &(gradin_place){.key = a->name}, "opening",
                   "is wider than the line that carries the arch");
}

static void check_reach(complaints *c, const gradin_venue *v, const gradin_interlock *rule) {
    for (int i = 0; i < rule->n_holder; i++) {
        const gradin_machine *m = &v->machine[rule->holder[i]];
        if (rule->within[0] <= m->travel[1] && rule->within[1] >= m->travel[0]) continue;
        refuse_entry(c, NULL, rule->name, "%s never gets within its range", m->name);
        return;
    }
}

static void check_wheelchairs(complaints *c, const gradin_venue *v) {
    const gradin_wheelchair_rule *line = v->rules.wheelchair;
    for (int i = 1; line && i < v->rules.n_wheelchair; i++) {
        if (line[i].from_seats > line[i - 1].from_seats) continue;
        refuse(c,
               &(gradin_place){.file = v->at ? v->at->file : NULL,
                               .key = "room.local_rules.wheelchairs"},
               "must run from the fewest seats up; %d follows %d", line[i].from_seats,
               line[i - 1].from_seats);
        return;
    }
}

void check_venue(complaints *c, const gradin_venue *v) {
    check_elements(c, v);
    check_grids(c, v);
    check_solids(c, v, v->solid, v->n_solid);
    check_floors(c, v);
    for (int i = 0; i < v->n_tower; i++) check_tower(c, v, &v->tower[i]);
    check_arch(c, v->arch);
    check_wheelchairs(c, v);
    for (int i = 0; i < v->n_interlock; i++) check_reach(c, v, &v->interlock[i]);
}

gradin_status gradin_venue_complete(gradin_arena *arena, gradin_venue *venue, gradin_error *error) {
    if (NEEDS(error, arena, venue) != GRADIN_OK) return GRADIN_BAD_USE;
    complaints c = {.arena = arena, .error = error, .file = venue->at ? venue->at->file : NULL};
    if (require_venue(&c, venue) && complete_venue(&c, venue)) check_venue(&c, venue);
    return complaints_status(&c);
}

gradin_status gradin_venue_check(gradin_arena *arena, const gradin_venue *venue,
                                 gradin_error *error) {
    if (NEEDS(error, arena, venue) != GRADIN_OK) return GRADIN_BAD_USE;
    complaints c = {.arena = arena, .error = error, .file = venue->at ? venue->at->file : NULL};
    if (require_whole_venue(&c, venue)) check_venue(&c, venue);
    return complaints_status(&c);
}

/* A door's start and bearing go along its wall; the room lies on the side where the footprint is.
 */
void gradin_door_place(const gradin_venue *v, const gradin_facade_entry *door,
                       gradin_vec2 *middle_m, gradin_vec2 *inward) {
    if (!v || !door || !middle_m || !inward) return;
    gradin_vec2 along = gradin_bearing_unit(door->bearing_deg);
    *middle_m = (gradin_vec2){door->start_m.x + along.x * door->width_m / 2.0,
                              door->start_m.y + along.y * door->width_m / 2.0};
    *inward = gradin_bearing_unit(door->bearing_deg + 90.0);
    gradin_vec2 probe_m = {middle_m->x + 0.1 * inward->x, middle_m->y + 0.1 * inward->y};
    if (!gradin_polygon_contains(v->footprint, probe_m))
        *inward = (gradin_vec2){-inward->x, -inward->y};
}
