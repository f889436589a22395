/* The room of a venue: footprint, absorption, standing solids, its own local rules. */
#include "files/mesh/mesh.h"
#include "files/venue/read.h"

#include <string.h>

/* A round column becomes a regular prism whose perimeter is the circle's. The mean breadth of a
 * convex outline over all directions is its perimeter by pi (Cauchy's formula), so the column hides
 * as much on average as the round one. With 32 sides its breadth is the diameter within -0.32 % and
 * +0.16 %: a column of 0.6 m shows 2 mm less to 1 mm more. */
static void round_polygon(reader *r, const stated_solid *s, gradin_polygon *out) {
    enum { N_SIDE = 32 };
    const double half_deg = 180.0 / N_SIDE, half = half_deg * GRADIN_PI / 180.0;
    double radius_m = s->diameter_m / 2.0 * half / sin(half);
    gradin_vec2 *corner = alloc(&r->c, N_SIDE, sizeof *corner);
    for (int i = 0; corner && i < N_SIDE; i++) {
        gradin_vec2 unit = gradin_bearing_unit(2.0 * half_deg * i);
        corner[i] =
            (gradin_vec2){s->centre_m.x + unit.x * radius_m, s->centre_m.y + unit.y * radius_m};
    }
    *out = (gradin_polygon){corner, N_SIDE};
}

static void fill_solid(reader *r, const stated_solid *s, gradin_solid *solid) {
    solid->name = s->name;
    if (!s->at) return;
    solid->at = &s->at->place;
    solid->mass_kg = s->mass_kg;
    solid->carries_kn = s->carries_kn;
    solid->kind = (gradin_solid_kind)s->kind;
    if (solid->kind == GRADIN_SOLID_MESH) {
        fill_mesh_solid(r, s, solid);
        return;
    }
    solid->polygon = s->polygon;
    solid->bottom_m = s->bottom_m;
    solid->top_m = s->top_m;
    if (s->polygon.n_corner == 0) round_polygon(r, s, &solid->polygon);
    if (s->top_m <= s->bottom_m) complain_key(r, s->at, "top", "must be above bottom");
}

void fill_solids(reader *r, const stated_solid *s, int n, const gradin_solid **solid,
                 int *n_solid) {
    gradin_solid *made = n > 0 ? alloc(&r->c, n, sizeof *made) : NULL;
    if (!made) return;
    for (int i = 0; i < n; i++) fill_solid(r, &s[i], &made[i]);
    *solid = made;
    *n_solid = n;
}

/* Heights of the corners, or of a level or sloping plane by its lowest one. */
static void fill_floor(reader *r, const stated_floor *s, gradin_floor_region *f) {
    *f = (gradin_floor_region){.name = s->name, .polygon = s->polygon};
    if (!s->at) return;
    const node *z = map_get(s->at, "z");
    f->at = &s->at->place;
    if (!z || z->kind != NODE_LIST) {
        f->z_m = s->z_m;
        f->slope = s->slope;
        f->uphill_deg = isnan(s->uphill_deg) ? 0.0 : s->uphill_deg;
        return;
    }
    if (s->n_corner_z != s->polygon.n_corner)
        complain(r, z, "has %d heights; its outline has %d corners", s->n_corner_z,
                 s->polygon.n_corner);
    else if (map_get(s->at, "slope"))
        complain_key(r, s->at, "slope", "goes with one z; the corners' heights say how it slopes");
    else
        f->corner_z_m = s->corner_z_m;
}

static void fill_floors(reader *r, const stated_room *s, gradin_venue *v) {
    gradin_floor_region *made = s->n_floor > 0 ? alloc(&r->c, s->n_floor, sizeof *made) : NULL;
    if (!made) return;
    for (int i = 0; i < s->n_floor; i++) fill_floor(r, &s->floor[i], &made[i]);
    v->floor = made;
    v->n_floor = s->n_floor;
}

void fill_room(reader *r, const stated_room *s, gradin_venue *v) {
    v->footprint = s->footprint;
    v->ceiling_m = s->ceiling_m;
    memcpy(v->floor_absorption, s->absorption.floor, sizeof v->floor_absorption);
    memcpy(v->ceiling_absorption, s->absorption.ceiling, sizeof v->ceiling_absorption);
    memcpy(v->wall_absorption, s->absorption.walls, sizeof v->wall_absorption);
    memcpy(v->seating_absorption, s->absorption.seating, sizeof v->seating_absorption);
    v->rail_min_m = s->rules.rail_min_m;
    v->rules = s->rules.own;
    v->rules.wheelchair = s->rules.wheelchair;
    v->rules.n_wheelchair = s->rules.n_wheelchair;
    v->extra = s->extra;
    v->n_extra = s->n_extra;
    fill_solids(r, s->solid, s->n_solid, &v->solid, &v->n_solid);
    fill_floors(r, s, v);
}
