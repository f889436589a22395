/* The room and its standing solids. */
#include "files/write/state.h"

#include <string.h>

void *state_list(complaints *c, const schema_table *table, int n) {
    char *made = n > 0 ? alloc(c, n, table->size) : NULL;
    for (int i = 0; made && i < n; i++) schema_set_presets(table, made + (size_t)i * table->size);
    return made;
}

static void state_mesh(complaints *c, const gradin_solid *solid, stated_solid *s) {
    const gradin_mesh_source *from = solid->source;
    if (!from) {
        misuse(c, "solid %s has no source: only a mesh that was read can be written", solid->name);
        return;
    }
    s->file = from->file;
    s->unit = from->unit;
    s->up = from->up;
    s->at_m = from->at_m;
    s->turn_deg = from->turn_deg;
    s->bottom_m = from->bottom_m;
}

static void state_solid(complaints *c, const gradin_solid *solid, stated_solid *s) {
    s->name = solid->name;
    s->kind = (int)solid->kind;
    s->mass_kg = solid->mass_kg;
    s->carries_kn = solid->carries_kn;
    if (solid->kind == GRADIN_SOLID_MESH) {
        state_mesh(c, solid, s);
        return;
    }
    s->centre_m = (gradin_vec2){NAN, NAN};
    s->polygon = solid->polygon;
    s->bottom_m = solid->bottom_m;
    s->top_m = solid->top_m;
}

stated_solid *state_solids(complaints *c, const gradin_solid *solid, int n) {
    stated_solid *s = state_list(c, &solid_table, n);
    for (int i = 0; s && i < n; i++) state_solid(c, &solid[i], &s[i]);
    return s;
}

static gradin_surface *copy_surfaces(complaints *c, const gradin_venue *v) {
    gradin_surface *made = v->n_extra > 0 ? alloc(c, v->n_extra, sizeof *made) : NULL;
    if (made) memcpy(made, v->extra, (size_t)v->n_extra * sizeof *made);
    return made;
}

static stated_rules state_rules(complaints *c, const gradin_venue *v) {
    stated_rules s = {.rail_min_m = v->rail_min_m, .own = v->rules};
    int n = v->rules.n_wheelchair;
    s.wheelchair = n > 0 ? alloc(c, n, sizeof *s.wheelchair) : NULL;
    s.n_wheelchair = s.wheelchair ? n : 0;
    if (s.wheelchair) memcpy(s.wheelchair, v->rules.wheelchair, (size_t)n * sizeof *s.wheelchair);
    return s;
}

static stated_floor *state_floors(complaints *c, const gradin_venue *v) {
    stated_floor *s = state_list(c, &region_table, v->n_floor);
    for (int i = 0; s && i < v->n_floor; i++) {
        const gradin_floor_region *f = &v->floor[i];
        int n = f->corner_z_m ? f->polygon.n_corner : 0;
        s[i].name = f->name;
        s[i].polygon = f->polygon;
        s[i].z_m = n > 0 ? NAN : f->z_m;
        s[i].corner_z_m = n > 0 ? alloc(c, n, sizeof *s[i].corner_z_m) : NULL;
        s[i].n_corner_z = s[i].corner_z_m ? n : 0;
        for (int k = 0; k < s[i].n_corner_z; k++) s[i].corner_z_m[k] = f->corner_z_m[k];
        if (n > 0 || f->slope == 0.0) continue;
        s[i].slope = f->slope;
        s[i].uphill_deg = f->uphill_deg;
    }
    return s;
}

stated_room state_room(complaints *c, const gradin_venue *v) {
    stated_room s = {.footprint = v->footprint,
                     .ceiling_m = v->ceiling_m,
                     .extra = copy_surfaces(c, v),
                     .n_extra = v->n_extra,
                     .solid = state_solids(c, v->solid, v->n_solid),
                     .n_solid = v->n_solid,
                     .floor = state_floors(c, v),
                     .n_floor = v->n_floor,
                     .rules = state_rules(c, v)};
    memcpy(s.absorption.floor, v->floor_absorption, sizeof s.absorption.floor);
    memcpy(s.absorption.ceiling, v->ceiling_absorption, sizeof s.absorption.ceiling);
    memcpy(s.absorption.walls, v->wall_absorption, sizeof s.absorption.walls);
    memcpy(s.absorption.seating, v->seating_absorption, sizeof s.absorption.seating);
    return s;
}

void state_venue(complaints *c, const gradin_venue *v, double unit_m, stated_venue *s) {
    *s = (stated_venue){.name = v->name,
                        .room = state_room(c, v),
                        .facade = state_facade(c, v),
                        .machines = state_machines(c, v, unit_m)};
}
