/* The envelope of a venue: shades, glazed bays, doors, vents, walls, roofs. */
#include "files/venue/read.h"

#include <string.h>

static void fill_shades(reader *r, const stated_facade *s, gradin_venue *v) {
    gradin_shade *made = alloc(&r->c, s->n_shade, sizeof *made);
    if (!made) return;
    for (int i = 0; i < s->n_shade; i++) {
        const stated_shade *from = &s->shade[i];
        gradin_shade *to = &made[i];
        to->name = from->name;
        to->drive = drive_stated(&from->drive, from->rate_per_s, 0.0);
        to->is_by_layers = isnan(from->insertion_loss_db[0]);
        fill_layers(r, from->layer, from->n_layer, &to->layer, &to->n_layer);
        if (!to->is_by_layers)
            memcpy(to->insertion_loss_db, from->insertion_loss_db, sizeof to->insertion_loss_db);
        memcpy(to->absorption, from->absorption, sizeof to->absorption);
    }
    v->shade = made;
    v->n_shade = s->n_shade;
}

/* Layers alone say what a shade does only with the layers of the glass before it. */
static void check_shade(reader *r, const node *shade, const gradin_venue *v,
                        const gradin_facade_entry *e) {
    if (e->shade < 0 || e->buildup < 0) return;
    if (v->shade[e->shade].is_by_layers && !v->buildup[e->buildup].layer)
        complain(r, shade,
                 "is described by layers, build-up '%s' by a measurement alone; give the "
                 "shade insertion_loss_db",
                 v->buildup[e->buildup].name);
}

static void find_parts(reader *r, const stated_entry *s, const gradin_venue *v,
                       gradin_facade_entry *e) {
    const node *buildup = map_get(s->at, "buildup"), *shade = map_get(s->at, "shade");
    if (buildup)
        e->buildup = look_up(r, buildup, "build-up", v->buildup, v->n_buildup, sizeof *v->buildup);
    if (shade) e->shade = look_up(r, shade, "shade", v->shade, v->n_shade, sizeof *v->shade);
    check_shade(r, shade, v, e);
}

enum { AT_500_HZ = 10 };

static void fill_joint(const stated_entry *s, gradin_facade_entry *e) {
    e->joint_r_db = s->joint_r_db;
    if (isnan(s->joint_band_db[AT_500_HZ])) return;
    e->joint_r_db = s->joint_band_db[AT_500_HZ];
    for (int b = 0; b < GRADIN_N_BAND; b++)
        e->joint_shape_db[b] = s->joint_band_db[b] - e->joint_r_db;
}

static void fill_entry(reader *r, const stated_entry *s, gradin_element_kind kind,
                       const gradin_venue *v, gradin_facade_entry *e) {
    *e = gradin_facade_entry_defaults();
    e->name = s->name;
    e->kind = kind;
    e->start_m = s->start_m;
    e->sill_m = s->sill_m;
    e->tilt_deg = s->tilt_deg;
    if (kind == GRADIN_ELEMENT_VENT) memcpy(e->dn_e_db, s->dn_e_db, sizeof e->dn_e_db);
    if (!s->at) return;
    e->at = &s->at->place;
    if (kind == GRADIN_ELEMENT_VENT) return;
    e->bearing_deg = s->bearing_deg;
    e->count = s->count;
    e->width_m = s->width_m;
    e->height_m = s->height_m;
    fill_joint(s, e);
    if (kind == GRADIN_ELEMENT_DOOR) {
        e->exit = (gradin_exit)s->exit;
        e->drive = drive_stated(&s->drive, s->rate_per_s, 0.0);
    }
    find_parts(r, s, v, e);
}

static void fill_opaque(reader *r, const stated_entry *s, gradin_element_kind kind,
                        const gradin_venue *v, gradin_facade_entry *e) {
    *e = gradin_facade_entry_defaults();
    e->name = s->name;
    e->kind = kind;
    if (!s->at) return;
    e->at = &s->at->place;
    e->is_rest = kind == GRADIN_ELEMENT_WALL && isnan(s->from_m.x);
    e->line_m[0] = s->from_m;
    e->line_m[1] = s->to_m;
    e->polygon = s->polygon;
    memcpy(e->absorption, s->absorption, sizeof e->absorption);
    find_parts(r, s, v, e);
}

static void fill_opaques(reader *r, const stated_entry *s, int n, gradin_element_kind kind,
                         gradin_venue *v, gradin_facade_entry *entry) {
    for (int i = 0; i < n; i++) fill_opaque(r, &s[i], kind, v, &entry[v->n_facade++]);
}

static void fill_entries(reader *r, const stated_entry *s, int n, gradin_element_kind kind,
                         gradin_venue *v, gradin_facade_entry *entry) {
    for (int i = 0; i < n; i++) fill_entry(r, &s[i], kind, v, &entry[v->n_facade++]);
}

void fill_facade(reader *r, const stated_facade *s, gradin_venue *v) {
    fill_buildups(r, s, v);
    fill_shades(r, s, v);
    v->has_finite_panes = s->has_finite_panes;
    v->ground = (gradin_ground)s->ground;
    v->site = s->site;
    int n = s->n_glazing + s->n_door + s->n_vent + s->n_wall + s->n_roof;
    gradin_facade_entry *entry = alloc(&r->c, n, sizeof *entry);
    if (!entry || (s->n_buildup > 0 && !v->buildup) || (s->n_shade > 0 && !v->shade)) return;
    v->facade = entry;
    fill_entries(r, s->glazing, s->n_glazing, GRADIN_ELEMENT_PANE, v, entry);
    fill_entries(r, s->door, s->n_door, GRADIN_ELEMENT_DOOR, v, entry);
    fill_entries(r, s->vent, s->n_vent, GRADIN_ELEMENT_VENT, v, entry);
    fill_opaques(r, s->wall, s->n_wall, GRADIN_ELEMENT_WALL, v, entry);
    fill_opaques(r, s->roof, s->n_roof, GRADIN_ELEMENT_ROOF, v, entry);
    for (int i = 0; i < v->n_facade; i++)
        if (entry[i].at && entry[i].name && index_of(entry, i, sizeof *entry, entry[i].name) >= 0)
            refuse(&r->c, entry[i].at, "has the name '%s' of another facade entry", entry[i].name);
}
