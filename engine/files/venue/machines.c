/* The machines of a venue: lift grids, seating towers, the proscenium arch, floor panels. */
#include "files/venue/read.h"

#include <string.h>

static void fill_faces(reader *r, const stated_grid *s, bool faces[4]) {
    const node *list = map_get(s->at, "facings_deg");
    for (int i = 0; i < s->n_facing; i++) {
        int quarter = gradin_grid_quarter(s->bearing_deg, s->facing_deg[i]);
        if (quarter < 0 && s->bearing_deg == 0.0)
            complain(r, list->child[i], "is %s; allowed: 0, 90, 180, 270", list->child[i]->text);
        else if (quarter < 0)
            complain(r, list->child[i],
                     "is %s; allowed: bearing_deg and quarter turns from it, below 360",
                     list->child[i]->text);
        else
            faces[quarter] = true;
    }
}

static void fill_grid(reader *r, const stated_grid *s, gradin_lift_grid *g) {
    *g = gradin_lift_grid_defaults();
    g->name = s->name;
    if (!s->at) return;
    g->at = &s->at->place;
    g->origin_m = s->origin_m;
    g->bearing_deg = gradin_wrap_360_deg(s->bearing_deg);
    g->n_column = s->n_column;
    g->n_row = s->n_row;
    g->most_steps = s->most_steps;
    memcpy(g->size_m, s->size_m, sizeof g->size_m);
    memcpy(g->travel_m, s->travel_m, sizeof g->travel_m);
    memcpy(g->riser_m, s->riser_m, sizeof g->riser_m);
    g->load_limit = s->load_limit;
    g->drive = drive_stated(&s->drive, s->speed_ms, 0.0);
    fill_faces(r, s, g->faces);
}

static void fill_rail(const stated_deck_rail *s, gradin_tower_level *level) {
    if (!s->at) return;
    level->rail_kind = (gradin_rail_kind)s->kind;
    level->rail_height_m = s->height_m;
    level->rail_thickness_m = s->thickness_m;
    level->rail_bars = s->n_bar;
    level->rail_at = &s->at->place;
}

static void fill_level(const stated_level *s, gradin_tower_level *level) {
    *level = gradin_tower_level_defaults();
    level->name = s->name;
    level->at = place_of(s->at);
    level->deck_m = s->deck_m;
    level->thickness_m = s->thickness_m;
    level->n_row = s->n_row;
    level->row_depth_m = s->row_depth_m;
    level->riser_m = s->riser_m;
    level->seat_width_m = s->seat_width_m;
    level->front_m = s->front_m;
    level->seat_kg = s->seat_kg;
    level->load_limit = s->load_limit;
    if (s->rail) fill_rail(s->rail, level);
}

static void fill_levels(reader *r, const stated_tower *s, gradin_tower *t) {
    gradin_tower_level *level = alloc(&r->c, s->n_level, sizeof *level);
    if (!level) return;
    for (int i = 0; i < s->n_level; i++) fill_level(&s->level[i], &level[i]);
    t->level = level;
    t->n_level = s->n_level;
}

static void fill_turn(const stated_turn *s, double mass_kg, gradin_tower *t) {
    if (!s->at) return;
    t->turn_at = &s->at->place;
    memcpy(t->turn_deg, s->range_deg, sizeof t->turn_deg);
    t->pivot_m = s->pivot_m;
    t->turn_drive = drive_stated(&s->drive, s->speed_deg_s, mass_kg);
}

static void fill_tower(reader *r, const stated_tower *s, gradin_tower *t) {
    *t = gradin_tower_defaults();
    t->name = s->name;
    t->front_m = s->front_m;
    t->facing_deg = s->facing_deg;
    t->width_m = s->width_m;
    t->depth_m = s->depth_m;
    t->post_m = s->post_m;
    memcpy(t->hoist_m, s->hoist_m, sizeof t->hoist_m);
    t->hoist_drive = drive_stated(&s->drive, s->hoist_speed_ms, s->mass_kg);
    t->slide_drive = gradin_drive_of(INFINITY, s->mass_kg);
    if (s->slide) {
        t->slide_bearing_deg = s->slide->bearing_deg;
        memcpy(t->slide_m, s->slide->range_m, sizeof t->slide_m);
        t->slide_drive = drive_stated(&s->slide->drive, s->slide->speed_ms, s->mass_kg);
    }
    if (s->turn) fill_turn(s->turn, s->mass_kg, t);
    t->most_people = s->payload.people;
    t->most_kg = s->payload.mass_kg;
    fill_levels(r, s, t);
}

static void fill_towers(reader *r, const stated_machines *s, gradin_venue *v) {
    gradin_tower *made = alloc(&r->c, s->n_tower, sizeof *made);
    if (!made) return;
    for (int i = 0; i < s->n_tower; i++) fill_tower(r, &s->tower[i], &made[i]);
    v->tower = made;
    v->n_tower = s->n_tower;
}

static void fill_closing(const stated_closing *s, gradin_arch *a) {
    a->closing_name = s->name;
    a->closing_drive = drive_stated(&s->drive, s->rate_per_s, 0.0);
    memcpy(a->closing_r_db, s->r_db, sizeof a->closing_r_db);
    memcpy(a->closing_absorption, s->absorption, sizeof a->closing_absorption);
}

static double stated_or(double stated, double otherwise) {
    return isnan(stated) ? otherwise : stated;
}

/* What the drive of the opening leaves out is as for the trim. */
static gradin_drive opening_drive(const stated_arch *s, const gradin_drive *trim) {
    gradin_drive drive = *trim;
    if (s->opening_speed_ms > 0.0) drive.speed_per_s = s->opening_speed_ms;
    if (!s->opening_drive || !s->opening_drive->at) return drive;
    const gradin_drive *own = &s->opening_drive->drive;
    drive.accel_per_s2 = stated_or(own->accel_per_s2, drive.accel_per_s2);
    drive.prepare_s = stated_or(own->prepare_s, drive.prepare_s);
    drive.mass_kg = stated_or(own->mass_kg, drive.mass_kg);
    drive.power_kw = stated_or(own->power_kw, drive.power_kw);
    drive.turn_s = stated_or(own->turn_s, drive.turn_s);
    if (own->crew >= 0) drive.crew = own->crew;
    if (own->at_once >= 0) drive.at_once = own->at_once;
    if (map_get(s->opening_drive->at, "people_near")) drive.are_people_near = own->are_people_near;
    return drive;
}

static void fill_arch(reader *r, const stated_arch *s, gradin_venue *v) {
    gradin_arch *a = alloc(&r->c, 1, sizeof *a);
    if (!a || !s->at) return;
    *a = gradin_arch_defaults();
    a->name = s->name;
    a->at = &s->at->place;
    a->line_m[0] = s->line_m[0];
    a->line_m[1] = s->line_m[1];
    a->thickness_m = s->thickness_m;
    memcpy(a->opening_m, s->opening_m, sizeof a->opening_m);
    memcpy(a->trim_m, s->trim_m, sizeof a->trim_m);
    if (s->closing) fill_closing(s->closing, a);
    a->trim_drive = drive_stated(&s->drive, s->speed_ms, 0.0);
    a->opening_drive = opening_drive(s, &a->trim_drive);
    v->arch = a;
}

static void fill_panels(reader *r, const stated_machines *s, gradin_venue *v) {
    gradin_floor_panel *made = alloc(&r->c, s->n_panel, sizeof *made);
    if (!made) return;
    for (int i = 0; i < s->n_panel; i++) {
        const stated_panel *from = &s->panel[i];
        made[i] = (gradin_floor_panel){.name = from->name,
                                       .polygon = from->polygon,
                                       .stair_top_deg = from->stair_top_deg,
                                       .leads_out = (gradin_way_under)from->leads_out,
                                       .exit_width_m = from->exit_width_m,
                                       .drive = drive_stated(&from->drive, from->rate_per_s, 0.0),
                                       .load_limit = from->load_limit};
    }
    v->panel = made;
    v->n_panel = s->n_panel;
}

static void fill_grids(reader *r, const stated_machines *s, gradin_venue *v) {
    gradin_lift_grid *grid = alloc(&r->c, s->n_grid, sizeof *grid);
    if (!grid) return;
    for (int i = 0; i < s->n_grid; i++) fill_grid(r, &s->grid[i], &grid[i]);
    v->grid = grid;
    v->n_grid = s->n_grid;
}

void fill_machines(reader *r, const stated_machines *s, gradin_venue *v) {
    if (s->n_grid > 0) fill_grids(r, s, v);
    if (s->n_tower > 0) fill_towers(r, s, v);
    if (s->arch) fill_arch(r, s->arch, v);
    if (s->n_panel > 0) fill_panels(r, s, v);
    if (s->crew) fill_crew(r, s->crew, v);
    fill_loads(&s->loads, v);
}
