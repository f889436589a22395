/* Machines: grids, towers, the arch, panels, interlocks. */
#include "files/schema/write.h"
#include "files/write/state.h"

#include <string.h>

static void state_grid(complaints *c, const gradin_lift_grid *g, stated_grid *s) {
    *s = (stated_grid){.name = g->name,
                       .origin_m = g->origin_m,
                       .bearing_deg = g->bearing_deg,
                       .n_column = g->n_column,
                       .n_row = g->n_row,
                       .most_steps = g->most_steps,
                       .speed_ms = g->drive.speed_per_s,
                       .load_limit = g->load_limit,
                       .drive = state_drive(&g->drive, 0.0)};
    memcpy(s->size_m, g->size_m, sizeof s->size_m);
    memcpy(s->travel_m, g->travel_m, sizeof s->travel_m);
    memcpy(s->riser_m, g->riser_m, sizeof s->riser_m);
    s->facing_deg = alloc(c, 4, sizeof *s->facing_deg);
    for (int i = 0; s->facing_deg && i < 4; i++)
        if (g->faces[i])
            s->facing_deg[s->n_facing++] = gradin_wrap_360_deg(g->bearing_deg + 90.0 * i);
}

static void state_level(complaints *c, const gradin_tower_level *l, stated_level *s) {
    *s = (stated_level){.name = l->name,
                        .deck_m = l->deck_m,
                        .thickness_m = l->thickness_m,
                        .row_depth_m = l->row_depth_m,
                        .riser_m = l->riser_m,
                        .seat_width_m = l->seat_width_m,
                        .front_m = l->front_m,
                        .seat_kg = l->seat_kg,
                        .n_row = l->n_row,
                        .load_limit = l->load_limit};
    if (l->rail_height_m <= 0.0) return;
    s->rail = alloc(c, 1, sizeof *s->rail);
    if (!s->rail) return;
    *s->rail = (stated_deck_rail){.kind = (int)l->rail_kind,
                                  .height_m = l->rail_height_m,
                                  .thickness_m = l->rail_thickness_m,
                                  .n_bar = l->rail_bars};
}

static stated_slide *state_slide(complaints *c, const gradin_tower *t) {
    bool is_fixed = t->slide_m[0] == t->slide_m[1] && isinf(t->slide_drive.speed_per_s);
    stated_slide *s = is_fixed ? NULL : alloc(c, 1, sizeof *s);
    if (!s) return NULL;
    *s = (stated_slide){.bearing_deg = t->slide_bearing_deg,
                        .range_m = {t->slide_m[0], t->slide_m[1]},
                        .speed_ms = t->slide_drive.speed_per_s,
                        .drive = state_drive(&t->slide_drive, t->hoist_drive.mass_kg)};
    return s;
}

static stated_turn *state_turn(complaints *c, const gradin_tower *t) {
    bool is_fixed = t->turn_deg[0] == t->turn_deg[1];
    stated_turn *s = is_fixed ? NULL : alloc(c, 1, sizeof *s);
    if (!s) return NULL;
    *s = (stated_turn){.range_deg = {t->turn_deg[0], t->turn_deg[1]},
                       .pivot_m = t->pivot_m,
                       .speed_deg_s = t->turn_drive.speed_per_s,
                       .drive = state_drive(&t->turn_drive, t->hoist_drive.mass_kg)};
    return s;
}

static void state_tower(complaints *c, const gradin_tower *t, stated_tower *s) {
    *s = (stated_tower){.name = t->name,
                        .front_m = t->front_m,
                        .facing_deg = t->facing_deg,
                        .width_m = t->width_m,
                        .depth_m = t->depth_m,
                        .post_m = t->post_m,
                        .hoist_m = {t->hoist_m[0], t->hoist_m[1]},
                        .hoist_speed_ms = t->hoist_drive.speed_per_s,
                        .mass_kg = t->hoist_drive.mass_kg,
                        .slide = state_slide(c, t),
                        .turn = state_turn(c, t),
                        .payload = {t->most_people, t->most_kg},
                        .drive = state_drive(&t->hoist_drive, t->hoist_drive.mass_kg),
                        .level = alloc(c, t->n_level, sizeof *s->level),
                        .n_level = t->n_level};
    for (int i = 0; s->level && i < t->n_level; i++) state_level(c, &t->level[i], &s->level[i]);
}

static double unlike(double value, double trim) {
    return value == trim ? NAN : value;
}

/* What is not as for the trim. */
static stated_opening_drive *state_opening(complaints *c, const gradin_arch *a) {
    const gradin_drive *own = &a->opening_drive, *trim = &a->trim_drive;
    gradin_drive same = *own;
    same.speed_per_s = trim->speed_per_s;
    if (memcmp(&same, trim, sizeof same) == 0) return NULL;
    stated_opening_drive *s = alloc(c, 1, sizeof *s);
    if (!s) return NULL;
    s->drive = (gradin_drive){.accel_per_s2 = unlike(own->accel_per_s2, trim->accel_per_s2),
                              .prepare_s = unlike(own->prepare_s, trim->prepare_s),
                              .mass_kg = unlike(own->mass_kg, trim->mass_kg),
                              .power_kw = unlike(own->power_kw, trim->power_kw),
                              .crew = own->crew == trim->crew ? -1 : own->crew,
                              .are_people_near = own->are_people_near,
                              .at_once = own->at_once == trim->at_once ? -1 : own->at_once,
                              .turn_s = unlike(own->turn_s, trim->turn_s)};
    return s;
}

static stated_closing *state_closing(complaints *c, const gradin_arch *a) {
    stated_closing *s = a->closing_name ? alloc(c, 1, sizeof *s) : NULL;
    if (!s) return NULL;
    s->name = a->closing_name;
    s->rate_per_s = a->closing_drive.speed_per_s;
    s->drive = a->closing_drive;
    memcpy(s->r_db, a->closing_r_db, sizeof s->r_db);
    memcpy(s->absorption, a->closing_absorption, sizeof s->absorption);
    return s;
}

static stated_arch *state_arch(complaints *c, const gradin_arch *a) {
    stated_arch *s = a ? alloc(c, 1, sizeof *s) : NULL;
    gradin_vec2 *line = s ? alloc(c, 2, sizeof *line) : NULL;
    if (!line) return NULL;
    memcpy(line, a->line_m, sizeof a->line_m);
    bool has_speed = a->opening_drive.speed_per_s != a->trim_drive.speed_per_s;
    *s = (stated_arch){.name = a->name,
                       .line_m = line,
                       .n_line = 2,
                       .thickness_m = a->thickness_m,
                       .opening_m = {a->opening_m[0], a->opening_m[1]},
                       .trim_m = {a->trim_m[0], a->trim_m[1]},
                       .speed_ms = a->trim_drive.speed_per_s,
                       .opening_speed_ms = has_speed ? a->opening_drive.speed_per_s : 0.0,
                       .drive = state_drive(&a->trim_drive, 0.0),
                       .opening_drive = state_opening(c, a),
                       .closing = state_closing(c, a)};
    return s;
}

static stated_panel *state_panels(complaints *c, const gradin_venue *v) {
    stated_panel *s = v->n_panel > 0 ? alloc(c, v->n_panel, sizeof *s) : NULL;
    for (int i = 0; s && i < v->n_panel; i++)
        s[i] = (stated_panel){.name = v->panel[i].name,
                              .polygon = v->panel[i].polygon,
                              .stair_top_deg = v->panel[i].stair_top_deg,
                              .leads_out = (int)v->panel[i].leads_out,
                              .exit_width_m = v->panel[i].exit_width_m,
                              .rate_per_s = v->panel[i].drive.speed_per_s,
                              .load_limit = v->panel[i].load_limit,
                              .drive = v->panel[i].drive};
    return s;
}

/* The name of one machine, or FROM..TO of sections. */
static const char *machines_text(complaints *c, const gradin_venue *v, const int *machine, int n) {
    const char *first = v->machine[machine[0]].name, *last = v->machine[machine[n - 1]].name;
    return n == 1 ? first : print_text(c, "%s..%s", first, last);
}

static void state_range(const gradin_venue *v, int machine, double unit_m, const double range[2],
                        double written[2]) {
    schema_unit unit = gradin_machine_is_length(v->machine[machine].kind) ? UNIT_LENGTH : UNIT_NONE;
    for (int i = 0; i < 2; i++) written[i] = schema_written(unit, unit_m, range[i]);
}

static stated_interlock *state_interlocks(complaints *c, const gradin_venue *v, double unit_m) {
    stated_interlock *s = v->n_interlock > 0 ? alloc(c, v->n_interlock, sizeof *s) : NULL;
    for (int i = 0; s && i < v->n_interlock; i++) {
        const gradin_interlock *rule = &v->interlock[i];
        s[i] = (stated_interlock){.name = rule->name,
                                  .mover = machines_text(c, v, rule->mover, rule->n_mover),
                                  .holder = machines_text(c, v, rule->holder, rule->n_holder),
                                  .where = {NAN, NAN}};
        if (rule->has_at) state_range(v, rule->mover[0], unit_m, rule->at, s[i].where);
        state_range(v, rule->holder[0], unit_m, rule->within, s[i].within);
    }
    return s;
}

stated_machines *state_machines(complaints *c, const gradin_venue *v, double unit_m) {
    stated_machines *s = alloc(c, 1, sizeof *s);
    if (!s) return NULL;
    *s = (stated_machines){.grid = v->n_grid > 0 ? alloc(c, v->n_grid, sizeof *s->grid) : NULL,
                           .tower = v->n_tower > 0 ? alloc(c, v->n_tower, sizeof *s->tower) : NULL,
                           .arch = state_arch(c, v->arch),
                           .panel = state_panels(c, v),
                           .crew = state_crew(c, v),
                           .loads = state_loads(v),
                           .interlock = state_interlocks(c, v, unit_m),
                           .n_grid = v->n_grid,
                           .n_tower = v->n_tower,
                           .n_panel = v->n_panel,
                           .n_interlock = v->n_interlock};
    for (int i = 0; s->grid && i < v->n_grid; i++) state_grid(c, &v->grid[i], &s->grid[i]);
    for (int i = 0; s->tower && i < v->n_tower; i++) state_tower(c, &v->tower[i], &s->tower[i]);
    return schema_says_nothing(&machines_table, s) ? NULL : s;
}
