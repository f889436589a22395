/* What a venue must state before anything can be made of it. */
#include "venue/required.h"

static bool need_drive(const owner *o, const char *field, const gradin_drive *d) {
    bool is_fast = isinf(d->speed_per_s) && d->speed_per_s > 0.0;
    if (!is_fast && !(isfinite(d->speed_per_s) && d->speed_per_s > 0.0)) {
        misuse(o->c,
               "%s.%s.speed_per_s is missing or wrong: a speed above 0 is needed, INFINITY "
               "for a machine that moves at once",
               o->name, field);
        return false;
    }
    if (d->at_once >= 1 && d->accel_per_s2 >= 0.0 && d->prepare_s >= 0.0 && d->turn_s >= 0.0 &&
        d->crew >= 0)
        return true;
    misuse(o->c, "%s.%s is wrong: at_once of 1 or more and no negative figure are needed", o->name,
           field);
    return false;
}

static bool need_grid(const owner *o, const gradin_lift_grid *g) {
    return need_text(o, "name", g->name) && need_point(o, "origin_m", g->origin_m) &&
           need_number(o, "bearing_deg", g->bearing_deg) &&
           need_count(o, "n_column", g->n_column, 1, 26) &&
           need_count(o, "n_row", g->n_row, 1, 99) && need_size(o, "size_m[0]", g->size_m[0]) &&
           need_size(o, "size_m[1]", g->size_m[1]) && need_range(o, "travel_m", g->travel_m) &&
           need_count(o, "most_steps", g->most_steps, 1, 100) &&
           need_range(o, "riser_m", g->riser_m) && need_drive(o, "drive", &g->drive);
}

static bool need_level(const owner *o, const gradin_tower_level *l) {
    return need_text(o, "name", l->name) && need_number(o, "deck_m", l->deck_m) &&
           need_size(o, "thickness_m", l->thickness_m) &&
           need_count(o, "n_row", l->n_row, 1, 100) &&
           need_size(o, "row_depth_m", l->row_depth_m) &&
           need_not_below(o, "riser_m", l->riser_m, 0.0) &&
           need_size(o, "seat_width_m", l->seat_width_m) &&
           need_not_below(o, "front_m", l->front_m, 0.0) &&
           need_not_below(o, "rail_height_m", l->rail_height_m, 0.0) &&
           (l->rail_height_m == 0.0 || (need_size(o, "rail_thickness_m", l->rail_thickness_m) &&
                                        need_count(o, "rail_bars", l->rail_bars, 1, 20))) &&
           need_not_below(o, "seat_kg", l->seat_kg, 0.0);
}

/* A pivot of NAN is the middle of the plan. */
static bool need_turn(const owner *o, const gradin_tower *t) {
    return need_range(o, "turn_deg", t->turn_deg) &&
           ((isnan(t->pivot_m.x) && isnan(t->pivot_m.y)) || need_point(o, "pivot_m", t->pivot_m)) &&
           need_drive(o, "turn_drive", &t->turn_drive);
}

static bool need_tower(const owner *o, const gradin_tower *t) {
    bool good = need_text(o, "name", t->name) && need_point(o, "front_m", t->front_m) &&
                need_number(o, "facing_deg", t->facing_deg) &&
                need_size(o, "width_m", t->width_m) && need_size(o, "depth_m", t->depth_m) &&
                need_not_below(o, "post_m", t->post_m, 0.0) &&
                need_range(o, "hoist_m", t->hoist_m) && need_range(o, "slide_m", t->slide_m) &&
                need_number(o, "slide_bearing_deg", t->slide_bearing_deg) &&
                need_drive(o, "hoist_drive", &t->hoist_drive) &&
                need_drive(o, "slide_drive", &t->slide_drive) && need_turn(o, t) &&
                need_list(o, "level", t->level, t->n_level);
    for (int i = 0; good && i < t->n_level; i++) {
        owner item = owner_item(o, "level", i);
        good = need_level(&item, &t->level[i]);
    }
    return good;
}

static bool need_arch(complaints *c, const gradin_arch *a) {
    owner o = owner_of(c, "venue.arch");
    return need_text(&o, "name", a->name) && need_point(&o, "line_m[0]", a->line_m[0]) &&
           need_point(&o, "line_m[1]", a->line_m[1]) &&
           need_size(&o, "thickness_m", a->thickness_m) &&
           need_range(&o, "opening_m", a->opening_m) && need_range(&o, "trim_m", a->trim_m) &&
           need_drive(&o, "trim_drive", &a->trim_drive) &&
           need_drive(&o, "opening_drive", &a->opening_drive) &&
           (!a->closing_name || (need_drive(&o, "closing_drive", &a->closing_drive) &&
                                 need_bands(&o, "closing_r_db", a->closing_r_db) &&
                                 need_bands(&o, "closing_absorption", a->closing_absorption)));
}

static bool need_panel(const owner *o, const gradin_floor_panel *p) {
    return need_text(o, "name", p->name) && need_polygon(o, "polygon", p->polygon) &&
           need_drive(o, "drive", &p->drive);
}

static bool need_machines(const owner *o, const gradin_venue *v) {
    bool good = need_list(o, "grid", v->grid, v->n_grid) &&
                need_list(o, "tower", v->tower, v->n_tower) &&
                need_list(o, "panel", v->panel, v->n_panel);
    for (int i = 0; good && i < v->n_grid; i++) {
        owner item = owner_item(o, "grid", i);
        good = need_grid(&item, &v->grid[i]);
    }
    for (int i = 0; good && i < v->n_tower; i++) {
        owner item = owner_item(o, "tower", i);
        good = need_tower(&item, &v->tower[i]);
    }
    for (int i = 0; good && i < v->n_panel; i++) {
        owner item = owner_item(o, "panel", i);
        good = need_panel(&item, &v->panel[i]);
    }
    return good && (!v->arch || need_arch(o->c, v->arch));
}

static bool need_shade(const owner *o, const gradin_shade *s) {
    return need_text(o, "name", s->name) && need_list(o, "layer", s->layer, s->n_layer) &&
           (s->is_by_layers || need_bands(o, "insertion_loss_db", s->insertion_loss_db)) &&
           need_bands(o, "absorption", s->absorption) && need_drive(o, "drive", &s->drive);
}

/* A wall or a roof: what it is made of and what it absorbs may both be left out. */
static bool need_opaque(const owner *o, const gradin_venue *v, const gradin_facade_entry *e) {
    bool good = (isnan(e->absorption[0]) || need_bands(o, "absorption", e->absorption)) &&
                (e->buildup == -1 || need_index(o, "buildup", e->buildup, v->n_buildup));
    if (!good || e->kind == GRADIN_ELEMENT_ROOF)
        return good && (e->polygon.n_corner == 0 || need_polygon(o, "polygon", e->polygon));
    return e->is_rest ||
           (need_point(o, "line_m[0]", e->line_m[0]) && need_point(o, "line_m[1]", e->line_m[1]));
}

static bool need_entry(const owner *o, const gradin_venue *v, const gradin_facade_entry *e) {
    bool is_opaque = e->kind == GRADIN_ELEMENT_WALL || e->kind == GRADIN_ELEMENT_ROOF;
    if (is_opaque) return need_text(o, "name", e->name) && need_opaque(o, v, e);
    bool is_vent = e->kind == GRADIN_ELEMENT_VENT;
    bool good = need_text(o, "name", e->name) &&
                need_count(o, "kind", (int)e->kind, 0, GRADIN_N_ELEMENT_KIND - 1) &&
                need_point(o, "start_m", e->start_m) &&
                need_number(o, "bearing_deg", e->bearing_deg) &&
                need_count(o, "count", e->count, 1, is_vent ? 1 : GRADIN_MAX_BAY) &&
                need_number(o, "sill_m", e->sill_m) && need_number(o, "tilt_deg", e->tilt_deg) &&
                (e->shade == -1 || need_index(o, "shade", e->shade, v->n_shade));
    if (!good || is_vent) return good && need_bands(o, "dn_e_db", e->dn_e_db);
    return need_size(o, "width_m", e->width_m) && need_size(o, "height_m", e->height_m) &&
           need_index(o, "buildup", e->buildup, v->n_buildup) &&
           (isinf(e->joint_r_db) || need_not_below(o, "joint_r_db", e->joint_r_db, 0.0)) &&
           (e->kind != GRADIN_ELEMENT_DOOR || need_drive(o, "drive", &e->drive));
}

static bool need_facade(const owner *o, const gradin_venue *v) {
    bool good = need_list(o, "buildup", v->buildup, v->n_buildup) &&
                need_list(o, "shade", v->shade, v->n_shade) &&
                need_list(o, "facade", v->facade, v->n_facade);
    for (int i = 0; good && i < v->n_buildup; i++) {
        owner item = owner_item(o, "buildup", i);
        good = need_text(&item, "name", v->buildup[i].name) &&
               need_list(&item, "layer", v->buildup[i].layer, v->buildup[i].n_layer);
    }
    for (int i = 0; good && i < v->n_shade; i++) {
        owner item = owner_item(o, "shade", i);
        good = need_shade(&item, &v->shade[i]);
    }
    for (int i = 0; good && i < v->n_facade; i++) {
        owner item = owner_item(o, "facade", i);
        good = need_entry(&item, v, &v->facade[i]);
    }
    return good;
}

static bool need_floors(const owner *o, const gradin_venue *v) {
    bool good = need_list(o, "floor", v->floor, v->n_floor);
    for (int i = 0; good && i < v->n_floor; i++) {
        const gradin_floor_region *f = &v->floor[i];
        owner item = owner_item(o, "floor", i);
        good = need_text(&item, "name", f->name) && need_polygon(&item, "polygon", f->polygon) &&
               need_number(&item, "z_m", f->z_m) && need_not_below(&item, "slope", f->slope, 0.0) &&
               need_number(&item, "uphill_deg", f->uphill_deg);
        for (int k = 0; good && f->corner_z_m && k < f->polygon.n_corner; k++)
            good = need_number(&item, "corner_z_m", f->corner_z_m[k]);
    }
    return good;
}

static bool need_room(const owner *o, const gradin_venue *v) {
    bool good =
        need_polygon(o, "footprint", v->footprint) && need_size(o, "ceiling_m", v->ceiling_m) &&
        need_bands(o, "floor_absorption", v->floor_absorption) &&
        need_bands(o, "ceiling_absorption", v->ceiling_absorption) &&
        need_bands(o, "wall_absorption", v->wall_absorption) &&
        need_bands(o, "seating_absorption", v->seating_absorption) &&
        need_list(o, "extra", v->extra, v->n_extra) && need_solids(o, v->solid, v->n_solid) &&
        need_floors(o, v) && need_not_below(o, "rail_min_m", v->rail_min_m, 0.0);
    for (int i = 0; good && i < v->n_extra; i++) {
        owner item = owner_item(o, "extra", i);
        good = need_text(&item, "name", v->extra[i].name) &&
               need_not_below(&item, "area_m2", v->extra[i].area_m2, 0.0) &&
               need_bands(&item, "absorption", v->extra[i].absorption);
    }
    return good;
}

static bool need_work(const owner *o, const gradin_work *w) {
    bool good = need_list(o, "crew.work.shift", w->shift, w->n_shift) &&
                need_list(o, "crew.work.rest", w->rest, w->n_rest) &&
                need_count(o, "crew.work.n_rest", w->n_rest, 0, GRADIN_MAX_REST) &&
                need_list(o, "crew.work.step", w->step, w->n_step);
    for (int i = 0; good && i < w->n_rest; i++) {
        owner item = owner_item(o, "crew.work.rest", i);
        good = need_text(&item, "name", w->rest[i].name) &&
               need_count(&item, "length_s", w->rest[i].length_s, 1, 86400) &&
               need_count(&item, "after_s", w->rest[i].after_s, 0, 86400) &&
               need_count(&item, "at_s", w->rest[i].at_s, 0, 86399);
    }
    for (int i = 0; good && i < w->n_step; i++) {
        owner item = owner_item(o, "crew.work.step", i);
        good = need_text(&item, "name", w->step[i].name) &&
               need_count(&item, "when", (int)w->step[i].when, 0, GRADIN_STEP_LAST) &&
               need_count(&item, "duration_s", w->step[i].duration_s, 1, 86400) &&
               need_count(&item, "crew", w->step[i].crew, 0, 1000);
    }
    return good;
}

static bool need_crew(const owner *o, const gradin_crew *crew) {
    bool good = need_list(o, "crew.seating", crew->seating, crew->n_seating);
    for (int i = 0; good && i < crew->n_seating; i++) {
        owner item = owner_item(o, "crew.seating", i);
        good = need_text(&item, "name", crew->seating[i].name) &&
               need_size(&item, "set_rate", crew->seating[i].set_rate) &&
               need_size(&item, "strike_rate", crew->seating[i].strike_rate) &&
               need_count(&item, "crew", crew->seating[i].crew, 1, 1000);
    }
    good = good && need_work(o, &crew->work);
    if (!good || !crew->store) return good;
    return need_text(o, "crew.store.name", crew->store->name) &&
           need_size(o, "crew.store.travel_m", crew->store->travel_m) &&
           need_count(o, "crew.store.seats_per_trip", crew->store->seats_per_trip, 1, 100000) &&
           need_drive(o, "crew.store.drive", &crew->store->drive);
}

/* Of the bands that a rating takes, 100 to 3150 Hz; the others may lack. */
static bool need_rated(const owner *o, const char *field, const double band[GRADIN_N_BAND],
                       bool (*need_one)(const owner *o, const char *field, double value)) {
    bool good = true;
    for (int i = 0; good && i < GRADIN_N_RATED_BAND; i++)
        good = need_one(o, field, band[GRADIN_BAND_100_HZ + i]);
    return good;
}

static bool need_site(const owner *o, const gradin_site *s) {
    if (!isnan(s->d2m_nt_db[GRADIN_BAND_100_HZ]))
        return need_rated(o, "site.d2m_nt_db", s->d2m_nt_db, need_number);
    return need_rated(o, "site.outside_db", s->outside_db, need_number) &&
           need_rated(o, "site.inside_db", s->inside_db, need_number) &&
           need_rated(o, "site.reverberation_s", s->reverberation_s, need_size);
}

bool require_venue(complaints *c, const gradin_venue *v) {
    owner o = owner_of(c, "venue");
    return need_text(&o, "name", v->name) && need_text(&o, "units", v->units) && need_room(&o, v) &&
           need_machines(&o, v) && need_facade(&o, v) && (!v->site || need_site(&o, v->site)) &&
           need_crew(&o, &v->crew) && need_text(&o, "occupancy.source", v->occupancy.source) &&
           need_size(&o, "occupancy.person_kg", v->occupancy.person_kg);
}

static bool need_indices(const owner *o, const char *field, const int *machine, int n,
                         int n_machine) {
    bool good = need_list(o, field, machine, n);
    for (int i = 0; good && i < n; i++) good = need_index(o, field, machine[i], n_machine);
    return good;
}

static bool need_interlock(const owner *o, const gradin_interlock *rule, int n_machine) {
    return need_text(o, "name", rule->name) &&
           need_indices(o, "mover", rule->mover, rule->n_mover, n_machine) &&
           need_indices(o, "holder", rule->holder, rule->n_holder, n_machine) &&
           (!rule->has_at || need_range(o, "at", rule->at)) &&
           need_range(o, "within", rule->within);
}

bool require_whole_venue(complaints *c, const gradin_venue *v) {
    owner o = owner_of(c, "venue");
    if (!require_venue(c, v)) return false;
    if (!is_complete(v)) {
        misuse(c,
               "venue.machine is missing: call gradin_venue_complete() once the parts are there");
        return false;
    }
    bool good = need_list(&o, "interlock", v->interlock, v->n_interlock);
    for (int i = 0; good && i < v->n_interlock; i++) {
        owner item = owner_item(&o, "interlock", i);
        good = need_interlock(&item, &v->interlock[i], v->n_machine);
    }
    return good;
}
