/* What places and rails stand on.
 *
 * A rail without a stated foot stands on the highest surface under each point of its path that
 * rests on what is below it (floor, lift, platform, set piece). Where a slab is overhead or the
 * edge of something high is beside the path, it could as well stand up there; then the level of the
 * seats that it guards decides, and without one it is refused. On a level it stands on what rests
 * on the surface nearest to the level's lowest tread: on the gallery's floor, or on a row of it. */
#include "model/build.h"

#include <string.h>

static const double EDGE_M = 0.03; /* a place may reach this far over its tread's edge */

/* The surface at a point of the plan, looked up once. */
typedef struct underfoot {
    gradin_vec2 at_m;
    double z_m;
    int section;                       /* -1: no lift */
    const gradin_floor_region *region; /* of the fixed floor; NULL */
} underfoot;

static underfoot under(const builder *b, gradin_vec2 at_m) {
    underfoot u = {.at_m = at_m};
    u.z_m = gradin_surface_m(b->v, b->p, at_m, &u.section);
    int found = u.section < 0 ? gradin_floor_region_find(b->v->floor, b->v->n_floor, at_m) : -1;
    if (found >= 0) u.region = &b->v->floor[found];
    return u;
}

double fixed_floor_m(const builder *b, gradin_vec2 at_m) {
    int found = gradin_floor_region_find(b->v->floor, b->v->n_floor, at_m);
    return found < 0 ? 0.0 : gradin_floor_region_z_m(&b->v->floor[found], at_m);
}

/* The step from the surface under one point to that under another, were each level or sloping as it
 * is as far as it meets the other: two planes that meet at a line between the points make none. */
static double jump_m(const underfoot *from, const underfoot *to) {
    double there_m = from->region ? gradin_floor_region_z_m(from->region, to->at_m) : from->z_m;
    double back_m = to->region ? gradin_floor_region_z_m(to->region, from->at_m) : to->z_m;
    double ahead_m = to->z_m - there_m, behind_m = back_m - from->z_m;
    return ahead_m * behind_m <= 0.0 ? 0.0 : copysign(fmin(fabs(ahead_m), fabs(behind_m)), ahead_m);
}

footing footing_of(const builder *b, const place *p) {
    place inner = *p;
    inner.width_m -= 2.0 * EDGE_M;
    gradin_vec2 corner_m[4];
    place_corners(&inner, p->depth_m - 2.0 * EDGE_M, corner_m);
    footing f = {INFINITY, -INFINITY, 0.0, 0.0, 0};
    double low_m = 0.0, high_m = 0.0;
    underfoot middle = under(b, p->at_m);
    for (int i = 0; i < 5; i++) {
        underfoot at = i < 4 ? under(b, corner_m[i]) : middle;
        double step_m = jump_m(&middle, &at);
        f.least_m = fmin(f.least_m, at.z_m);
        f.most_m = fmax(f.most_m, at.z_m);
        low_m = fmin(low_m, step_m);
        high_m = fmax(high_m, step_m);
        f.n_off += at.section < 0;
        if (at.section >= 0 && fabs(at.z_m) > fabs(f.lift_m)) f.lift_m = at.z_m;
    }
    f.jump_m = high_m - low_m;
    return f;
}

static const double LEAST_PLATFORM_M = 0.02;

double ground_below_m(const builder *b, const place *p) {
    double ground_m = fixed_floor_m(b, p->at_m);
    for (int i = 0; i < b->n_obstacle; i++) {
        const obstacle *o = &b->obstacle[i];
        if (o->machine == -1 && o->top_m > ground_m && o->top_m < p->z_m + LEAST_PLATFORM_M &&
            gradin_polygon_contains(o->polygon, p->at_m))
            ground_m = o->top_m;
    }
    return ground_m;
}

bool platform_below(const builder *b, const place *p, double *bottom_m) {
    if (p->deck >= 0 || b->p->block[p->block].on != GRADIN_SUPPORT_FLOOR) return false;
    *bottom_m = ground_below_m(b, p);
    if (p->z_m - *bottom_m < LEAST_PLATFORM_M) return false;
    if (b->v->n_floor > 0 && *bottom_m == fixed_floor_m(b, p->at_m))
        *bottom_m = fmin(*bottom_m, footing_of(b, p).least_m); /* down to a floor that slopes */
    return true;
}

/* Something at most this far above a surface rests on it. */
static const double RESTS_M = 0.3;
/* A rail stands on what begins at most this far from its line. */
static const double ON_M = 0.02;
/* A parapet may stand this far before the edge that it guards. */
static const double BESIDE_M = 0.3;
/* What is beside the line counts only where what is under it is of another storey. */
static const double STOREY_M = 1.0;

typedef struct surface {
    gradin_polygon polygon;
    double bottom_m, top_m;
    const char *name;
    bool is_of_tower; /* whose decks have rails of their own */
} surface;

typedef struct search {
    const builder *b;
    const gradin_rail_entry *rail;
    gradin_vec2 at_m;
    double foot_m;     /* what the lowest storey comes to, or that of the level */
    double wanted_m;   /* lowest tread of the rail's level; NAN without one */
    double nearest_m;  /* floor or surface nearest to that so far, */
    double miss_m;     /* and by how much it misses it */
    const char *other; /* what else it could stand on; NULL */
} search;

static double distance_m(gradin_polygon polygon, gradin_vec2 at_m) {
    if (gradin_polygon_contains(polygon, at_m)) return 0.0;
    gradin_vec2 near_m = gradin_polygon_nearest_m(polygon, at_m, NULL);
    return hypot(near_m.x - at_m.x, near_m.y - at_m.y);
}

typedef void (*visit)(search *s, const surface *to, double off_m);

static void visit_if_near(search *s, const surface *to, visit call) {
    double reach_m = BESIDE_M + s->rail->thickness_m / 2.0;
    gradin_box2 box = gradin_polygon_bounds(to->polygon);
    if (s->at_m.x < box.x_min_m - reach_m || s->at_m.x > box.x_max_m + reach_m ||
        s->at_m.y < box.y_min_m - reach_m || s->at_m.y > box.y_max_m + reach_m)
        return;
    double off_m = distance_m(to->polygon, s->at_m);
    if (off_m <= (to->is_of_tower ? 0.0 : reach_m)) call(s, to, off_m);
}

/* Slabs, set pieces and decks; platforms under rows, their aisles included, which rest on the floor
 * or on a slab. */
static void each_surface(search *s, visit call) {
    const builder *b = s->b;
    for (int i = 0; i < b->n_solid; i++) {
        const gradin_solid *solid = &b->solid[i];
        if (solid->kind != GRADIN_SOLID_SLAB && solid->kind != GRADIN_SOLID_SET) continue;
        surface to = {solid->polygon, solid->bottom_m, solid->top_m, solid->name,
                      solid->is_of_tower};
        visit_if_near(s, &to, call);
    }
    for (int i = 0; i < b->n_platform; i++) {
        const gradin_platform *p = &b->platform[i];
        surface to = {p->polygon, p->bottom_m, p->top_m, p->name, false};
        visit_if_near(s, &to, call);
    }
}

static void climb(search *s, const surface *to, double off_m) {
    if (off_m <= ON_M && to->bottom_m <= s->foot_m + RESTS_M && to->top_m > s->foot_m)
        s->foot_m = to->top_m;
}

static void note_other(search *s, const surface *to, double off_m) {
    bool is_high = to->top_m > s->foot_m + (off_m <= ON_M ? 0.0 : HEADROOM_M);
    if (is_high && !s->other) s->other = to->name;
    double miss_m = fabs(to->top_m - s->wanted_m) + (off_m <= ON_M ? 0.0 : STOREY_M);
    if (!(miss_m < s->miss_m)) return;
    s->miss_m = miss_m;
    s->nearest_m = to->top_m;
}

static double level_tread_m(const builder *b, const char *level) {
    double least_m = INFINITY;
    for (int i = 0; level && i < b->n_place; i++)
        if (b->place[i].level && strcmp(b->place[i].level, level) == 0)
            least_m = fmin(least_m, b->place[i].z_m);
    return isfinite(least_m) ? least_m : NAN;
}

static void climb_all(search *s) {
    double before_m;
    do {
        before_m = s->foot_m;
        each_surface(s, climb);
    } while (s->foot_m > before_m);
}

static search look(const builder *b, const gradin_rail_entry *rail, gradin_vec2 at_m) {
    search s = {.b = b, .rail = rail, .at_m = at_m};
    s.foot_m = s.nearest_m = gradin_surface_m(b->v, b->p, at_m, NULL);
    s.wanted_m = level_tread_m(b, rail->level);
    s.miss_m = fabs(s.nearest_m - s.wanted_m);
    climb_all(&s);
    each_surface(&s, note_other);
    if (isnan(s.wanted_m)) return s;
    s.foot_m = s.nearest_m;
    climb_all(&s);
    return s;
}

double rail_foot_m(const builder *b, const gradin_rail_entry *rail, gradin_vec2 at_m) {
    if (!isnan(rail->foot_m)) return rail->foot_m;
    return look(b, rail, at_m).foot_m;
}

void check_rail_feet(builder *b) {
    for (int i = 0; i < b->p->n_rail; i++) {
        const gradin_rail_entry *rail = &b->p->rail[i];
        if (!isnan(rail->foot_m)) continue;
        for (int k = 0; k < rail->n_point; k++) {
            search s = look(b, rail, rail->point_m[k]);
            if (!s.other || !isnan(s.wanted_m)) continue;
            refuse(b->c, rail->at,
                   "rail %s could stand at %.2f m or on %s; give its foot, or the level of the "
                   "seats that it guards",
                   rail->name, s.foot_m, s.other);
            break;
        }
    }
}
