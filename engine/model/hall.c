/* The facts of a venue that a draft of a layout is made from. */
#include "files/wishes.h"

#include <string.h>

static void copy_grids(const venue *v, gradin_hall_grid *grid) {
    int first = 0;
    for (int i = 0; i < v->n_grid; i++) {
        const lift_grid *g = &v->grid[i];
        grid[i] = (gradin_hall_grid){.name = g->name,
                                     .origin_m = g->origin_m,
                                     .n_column = g->n_column,
                                     .n_row = g->n_row,
                                     .first_section = first,
                                     .size_m = {g->size_m[0], g->size_m[1]},
                                     .travel_m = {g->travel_m[0], g->travel_m[1]},
                                     .riser_m = {g->riser_m[0], g->riser_m[1]},
                                     .most_steps = g->most_steps};
        memcpy(grid[i].faces, g->faces, sizeof grid[i].faces);
        first += g->n_column * g->n_row;
    }
}

static bool copy_tower(reader *r, const tower *t, gradin_hall_tower *out) {
    gradin_hall_level *level = take(r, t->n_level, sizeof *level);
    if (!level) return false;
    for (int i = 0; i < t->n_level; i++) {
        const tower_level *l = &t->level[i];
        level[i] = (gradin_hall_level){.deck_m = l->deck_m,
                                       .thickness_m = l->thickness_m,
                                       .n_row = l->n_row,
                                       .n_seat = seats_a_deck_row(t, l),
                                       .row_depth_m = l->row_depth_m,
                                       .riser_m = l->riser_m,
                                       .front_m = l->front_m};
    }
    *out = (gradin_hall_tower){.name = t->name,
                               .front_m = t->front_m,
                               .facing_deg = t->facing_deg,
                               .width_m = t->width_m,
                               .depth_m = t->depth_m,
                               .hoist_m = {t->hoist_m[0], t->hoist_m[1]},
                               .slide_m = {t->slide_m[0], t->slide_m[1]},
                               .slide_bearing_deg = t->slide_bearing_deg,
                               .level = level,
                               .n_level = t->n_level};
    return true;
}

/* A door's start and bearing go along its wall; the room lies on the side where the footprint is.
 */
static gradin_hall_door door_of(const venue *v, const facade_entry *f) {
    gradin_vec2 along = gradin_bearing_unit(f->bearing_deg);
    gradin_hall_door door = {.name = f->name, .width_m = f->width_m};
    door.middle_m.x = f->start_m.x + along.x * f->width_m / 2.0;
    door.middle_m.y = f->start_m.y + along.y * f->width_m / 2.0;
    door.inward = gradin_bearing_unit(f->bearing_deg + 90.0);
    gradin_vec2 probe_m = {door.middle_m.x + 0.1 * door.inward.x,
                           door.middle_m.y + 0.1 * door.inward.y};
    if (!gradin_polygon_contains(v->footprint, probe_m))
        door.inward = (gradin_vec2){-door.inward.x, -door.inward.y};
    return door;
}

static bool copy_lists(reader *r, const venue *v, gradin_hall *hall) {
    const char **section = take(r, v->n_section, sizeof *section);
    const char **shade = take(r, v->n_shade, sizeof *shade);
    gradin_hall_tower *towers = take(r, v->n_tower, sizeof *towers);
    gradin_hall_door *door = take(r, v->n_facade, sizeof *door);
    gradin_hall_grid *grid = take(r, v->n_grid, sizeof *grid);
    if (!section || !shade || !towers || !door || !grid) return false;
    copy_grids(v, grid);
    for (int i = 0; i < v->n_section; i++) section[i] = v->section[i].name;
    for (int i = 0; i < v->n_shade; i++) shade[i] = v->shade[i].name;
    for (int i = 0; i < v->n_tower; i++)
        if (!copy_tower(r, &v->tower[i], &towers[i])) return false;
    for (int i = 0; i < v->n_facade; i++)
        if (v->facade[i].kind == GRADIN_ELEMENT_DOOR)
            door[hall->n_door++] = door_of(v, &v->facade[i]);
    hall->grid = grid;
    hall->section_name = section;
    hall->shade = shade;
    hall->tower = towers;
    hall->door = door;
    return true;
}

static void copy_arch(const venue *v, gradin_hall *hall) {
    const arch *a = v->arch;
    hall->has_arch = a != NULL;
    if (!a) return;
    hall->arch_thickness_m = a->thickness_m;
    for (int i = 0; i < 2; i++) hall->arch_line_m[i] = a->line_m[i];
}

bool hall_facts(reader *r, const venue *v, gradin_hall *hall) {
    *hall = (gradin_hall){.name = v->name,
                          .footprint = v->footprint,
                          .ceiling_m = v->ceiling_m,
                          .rail_min_m = v->rail_min_m,
                          .solid = v->solid,
                          .panel = v->panel,
                          .n_solid = v->n_solid,
                          .n_grid = v->n_grid,
                          .n_section = v->n_section,
                          .n_tower = v->n_tower,
                          .n_panel = v->n_panel,
                          .n_shade = v->n_shade,
                          .machine = v->machine,
                          .n_machine = v->n_machine,
                          .interlock = v->interlock,
                          .n_interlock = v->n_interlock,
                          .rules = v->rules};
    copy_arch(v, hall);
    return copy_lists(r, v, hall);
}
