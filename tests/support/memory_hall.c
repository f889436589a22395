#include "support/memory_hall.h"

#include <criterion/criterion.h>

static void rectangle(gradin_vec2 corner_m[4], double x0, double y0, double x1, double y1) {
    corner_m[0] = (gradin_vec2){x0, y0};
    corner_m[1] = (gradin_vec2){x1, y0};
    corner_m[2] = (gradin_vec2){x1, y1};
    corner_m[3] = (gradin_vec2){x0, y1};
}

/* Six octaves from 125 Hz on; 63 Hz takes after 125 Hz. */
static void spread(double band[GRADIN_N_BAND], const double octave[6]) {
    for (int b = 0; b < GRADIN_N_BAND; b++) band[b] = octave[b < 3 ? 0 : b / 3 - 1];
}

static void make_room(memory_hall *h) {
    gradin_venue *v = &h->venue;
    const double floor[6] = {0.1, 0.1, 0.1, 0.1, 0.1, 0.1};
    const double ceiling[6] = {0.3, 0.3, 0.3, 0.3, 0.3, 0.3};
    const double walls[6] = {0.2, 0.2, 0.2, 0.2, 0.2, 0.2};
    const double seating[6] = {0.6, 0.7, 0.8, 0.9, 0.9, 0.8};
    *v = gradin_venue_defaults();
    v->name = "Small room";
    rectangle(h->footprint, 0, 0, 12, 12);
    v->footprint = (gradin_polygon){h->footprint, 4};
    v->ceiling_m = 8.0;
    v->rail_min_m = 0.8;
    spread(v->floor_absorption, floor);
    spread(v->ceiling_absorption, ceiling);
    spread(v->wall_absorption, walls);
    spread(v->seating_absorption, seating);
}

static void make_facade(memory_hall *h) {
    const double loss[6] = {1, 1, 2, 3, 4, 5}, absorption[6] = {0.1, 0.2, 0.3, 0.4, 0.5, 0.5};
    h->glass = (gradin_layer){.kind = GRADIN_LAYER_PLATE,
                              .thickness_m = 8.0 / 1000.0,
                              .density_kgm3 = GRADIN_GLASS_DENSITY_KGM3,
                              .young_pa = GRADIN_GLASS_YOUNG_PA,
                              .poisson = GRADIN_GLASS_POISSON,
                              .loss = GRADIN_GLASS_LOSS};
    h->buildup[0] = (gradin_buildup){.name = "pane",
                                     .layer = &h->glass,
                                     .n_layer = 1,
                                     .temperature_c = GRADIN_GLAZING_TEMPERATURE_C,
                                     .sample_m2 = NAN};
    h->shade[0] = (gradin_shade){.name = "dark", .drive = gradin_drive_of_share(90.0)};
    spread(h->shade[0].insertion_loss_db, loss);
    spread(h->shade[0].absorption, absorption);
    gradin_facade_entry *west = &h->facade[0], *door = &h->facade[1];
    *west = *door = gradin_facade_entry_defaults();
    west->name = "west";
    west->start_m = (gradin_vec2){0, 2};
    west->count = 4;
    west->width_m = 2.0;
    west->height_m = 3.0;
    west->sill_m = 1.0;
    west->buildup = west->shade = 0;
    door->name = "door";
    door->kind = GRADIN_ELEMENT_DOOR;
    door->start_m = (gradin_vec2){4, 0};
    door->bearing_deg = 90.0;
    door->width_m = 1.0;
    door->height_m = 2.0;
    door->buildup = 0;
    door->joint_r_db = 40.0;
    h->venue.buildup = h->buildup;
    h->venue.shade = h->shade;
    h->venue.facade = h->facade;
    h->venue.n_buildup = h->venue.n_shade = 1;
    h->venue.n_facade = 2;
}

static void make_tower(memory_hall *h) {
    gradin_tower *t = &h->tower[0];
    gradin_tower_level *low = &h->level[0];
    *low = gradin_tower_level_defaults();
    low->name = "low";
    low->deck_m = 1.0;
    low->thickness_m = 0.2;
    low->n_row = 2;
    low->row_depth_m = 0.9;
    low->riser_m = 0.3;
    low->seat_width_m = 0.55;
    low->rail_height_m = 0.9;
    *t = gradin_tower_defaults();
    t->name = "T";
    t->front_m = (gradin_vec2){10, 4};
    t->facing_deg = t->slide_bearing_deg = 270.0;
    t->width_m = 2.2;
    t->depth_m = 1.8;
    t->hoist_m[1] = 2.0;
    t->slide_m[1] = 3.0;
    t->hoist_drive = gradin_drive_of(0.005, 0.0);
    t->slide_drive = gradin_drive_of(0.02, 0.0);
    t->level = low;
    t->n_level = 1;
    h->venue.tower = t;
    h->venue.n_tower = 1;
}

static void make_machines(memory_hall *h) {
    gradin_lift_grid *g = &h->grid[0];
    *g = gradin_lift_grid_defaults();
    g->name = "L";
    g->origin_m = (gradin_vec2){4, 2};
    g->n_column = g->n_row = 2;
    g->size_m[0] = g->size_m[1] = 2.0;
    g->travel_m[0] = -1.0;
    g->travel_m[1] = 2.0;
    g->most_steps = 2;
    g->riser_m[1] = 0.5;
    g->faces[0] = g->faces[1] = true;
    g->drive = gradin_drive_of(0.05, 0.0);
    h->venue.grid = g;
    h->venue.n_grid = 1;
    make_tower(h);
    h->arch = gradin_arch_defaults();
    h->arch.name = "arch";
    h->arch.line_m[0] = (gradin_vec2){0, 8};
    h->arch.line_m[1] = (gradin_vec2){12, 8};
    h->arch.thickness_m = 0.2;
    h->arch.opening_m[0] = 4.0;
    h->arch.opening_m[1] = 10.0;
    h->arch.trim_m[0] = 3.0;
    h->arch.trim_m[1] = 6.0;
    h->arch.trim_drive = h->arch.opening_drive = gradin_drive_of(0.02, 0.0);
    h->venue.arch = &h->arch;
}

static void make_pass(memory_hall *h) {
    h->pass = gradin_pass_defaults();
    h->pass.name = "pass";
    h->pass.point_m = (gradin_vec3){-200, 0, 300};
    h->pass.bearing_deg = 180.0;
    h->pass.speed_ms = 70.0;
    h->pass.reference_m = 300.0;
    for (int b = 0; b < GRADIN_N_BAND; b++) h->pass.level_db[b] = 70.0;
}

static void make_entries(memory_hall *h) {
    gradin_layout *p = &h->layout;
    rectangle(h->stage, 3, 9, 9, 11);
    h->focus[0] = gradin_focus_defaults();
    h->focus[0].name = "stage";
    h->focus[0].polygon = (gradin_polygon){h->stage, 4};
    h->block[0] = gradin_block_defaults();
    h->block[0].name = "Stalls";
    h->block[0].on = GRADIN_SUPPORT_LIFTS;
    h->block[0].rows = GRADIN_ROWS_FILL;
    h->block[0].seat_width_m = 0.5;
    h->block[0].row_depth_m = 1.0;
    h->block[0].from_section = gradin_section_find(&h->venue, "L-A1");
    h->block[0].to_section = gradin_section_find(&h->venue, "L-B2");
    h->back[0] = (gradin_vec2){4.1, 2.05};
    h->back[1] = (gradin_vec2){7.9, 2.05};
    h->rail[0] = gradin_rail_entry_defaults();
    h->rail[0].name = "back";
    h->rail[0].point_m = h->back;
    h->rail[0].n_point = 2;
    h->rail[0].height_m = 1.1;
    p->focus = h->focus;
    p->block = h->block;
    p->rail = h->rail;
    p->n_focus = p->n_block = p->n_rail = 1;
}

static void make_layout(memory_hall *h) {
    gradin_layout *p = &h->layout;
    cr_assert_eq(gradin_layout_defaults(h->arena, &h->venue, p, &h->error), GRADIN_OK, "%s",
                 memory_hall_first(h));
    p->name = "Small layout";
    p->form = GRADIN_FORM_END_STAGE;
    p->axis_deg = 180.0;
    p->criterion.nc = 25.0;
    p->pass = &h->pass;
    p->is_seated[0] = true;
    for (int i = 0; i < h->venue.n_section; i++)
        p->machine[gradin_machine_index(&h->venue, GRADIN_MACHINE_SECTION, i)].set =
            (gradin_setting){.position = 0.5, .n_step = 2, .riser_m = 0.2};
    make_pass(h);
    make_entries(h);
}

static void complete(memory_hall *h) {
    cr_assert_eq(gradin_venue_complete(h->arena, &h->venue, &h->error), GRADIN_OK, "%s",
                 memory_hall_first(h));
}

static void make_venue(memory_hall *h) {
    *h = (memory_hall){.arena = gradin_arena_create()};
    cr_assert(h->arena);
    make_room(h);
    make_facade(h);
    make_machines(h);
}

void memory_hall_make(memory_hall *h) {
    make_venue(h);
    complete(h);
    make_layout(h);
}

static void furnish_venue(memory_hall *h) {
    gradin_venue *v = &h->venue;
    rectangle(h->stair, 9, 1, 11, 2);
    h->panel[0] = gradin_floor_panel_defaults();
    h->panel[0].name = "stair";
    h->panel[0].polygon = (gradin_polygon){h->stair, 4};
    v->panel = h->panel;
    v->n_panel = 1;
    h->facade[2] = gradin_facade_entry_defaults();
    h->facade[2].name = "vent";
    h->facade[2].kind = GRADIN_ELEMENT_VENT;
    h->facade[2].start_m = (gradin_vec2){12, 6};
    h->facade[2].sill_m = 4.0;
    v->n_facade = 3;
    h->extra[0] = (gradin_surface){.name = "banner", .area_m2 = 10.0};
    v->extra = h->extra;
    v->n_extra = 1;
    rectangle(h->column_m, 1, 10, 1.5, 10.5);
    h->column[0] = (gradin_solid){
        .name = "column", .kind = GRADIN_SOLID_COLUMN, .polygon = {h->column_m, 4}, .top_m = 8.0};
    v->solid = h->column;
    v->n_solid = 1;
    h->seating[0] =
        (gradin_seating){.name = "chairs", .set_rate = 60.0, .strike_rate = 120.0, .crew = 2};
    h->store = (gradin_store){.name = "store lift",
                              .travel_m = 4.0,
                              .drive = gradin_drive_of(0.1, 0.0),
                              .seats_per_trip = 30};
    v->crew.people = 6;
    v->crew.seating = h->seating;
    v->crew.n_seating = 1;
    v->crew.store = &h->store;
    h->arch.closing_name = "curtain";
    h->tower[0].turn_deg[0] = -30.0;
    h->tower[0].turn_deg[1] = 45.0;
    h->tower[0].turn_drive = gradin_drive_of(0.5, 0.0);
}

static void furnish_rules(memory_hall *h) {
    h->mover[0] = gradin_machine_find(&h->venue, "T slide");
    h->holder[0] = gradin_machine_index(&h->venue, GRADIN_MACHINE_HOIST, 0);
    h->interlock[0] = (gradin_interlock){.name = "slides low",
                                         .mover = h->mover,
                                         .holder = h->holder,
                                         .n_mover = 1,
                                         .n_holder = 1,
                                         .has_at = true,
                                         .at = {0.1, 3.0},
                                         .within = {0.0, 0.5}};
    h->venue.interlock = h->interlock;
    h->venue.n_interlock = 1;
}

static void furnish_blocks(memory_hall *h) {
    gradin_block *straight = &h->block[1], *curved = &h->block[2], *listed = &h->block[3];
    *straight = *curved = *listed = gradin_block_defaults();
    straight->name = "Side";
    straight->n_row = straight->n_seat = 2;
    straight->front_m = (gradin_vec2){2, 4};
    straight->facing_deg = 0.0;
    straight->depth_m = h->depth_m;
    straight->rise_m = h->rise_m;
    h->depth_m[0] = h->depth_m[1] = 0.9;
    curved->name = "Arc";
    curved->rows = GRADIN_ROWS_CURVED;
    curved->front_m = (gradin_vec2){6, 10};
    curved->n_row = 1;
    curved->radius_m = 9.0;
    curved->arc_deg[0] = 170.0;
    curved->arc_deg[1] = 190.0;
    listed->name = "List";
    listed->rows = GRADIN_ROWS_LISTED;
    h->listed[0] = (gradin_listed_seat){.row = 1, .number = 1, .at_m = {1, 7}};
    h->listed[1] = (gradin_listed_seat){.row = 1, .number = 2, .at_m = {2, 7}};
    listed->listed = h->listed;
    listed->n_listed = 2;
    straight->seat_width_m = curved->seat_width_m = listed->seat_width_m = 0.5;
    curved->row_depth_m = listed->row_depth_m = 0.9;
    h->layout.n_block = 4;
    rectangle(h->aisle_m, 5.8, 2, 6.2, 6);
    h->aisle[0] = (gradin_area){.name = "aisle", .polygon = {h->aisle_m, 4}};
    h->layout.aisle = h->aisle;
    h->layout.n_aisle = 1;
}

void memory_hall_furnish(memory_hall *h) {
    make_venue(h);
    furnish_venue(h);
    complete(h);
    furnish_rules(h);
    make_layout(h);
    furnish_blocks(h);
    gradin_machine_state *machine = h->layout.machine;
    h->layout.is_arch_in = true;
    machine[gradin_machine_index(&h->venue, GRADIN_MACHINE_TRIM, 0)].set.position = 4.0;
    machine[gradin_machine_index(&h->venue, GRADIN_MACHINE_OPENING, 0)].set.position = 6.0;
    machine[gradin_machine_index(&h->venue, GRADIN_MACHINE_CURTAIN, 0)].set.position = 0.5;
    machine[gradin_machine_index(&h->venue, GRADIN_MACHINE_PANEL, 0)].set.position = 1.0;
    machine[gradin_machine_index(&h->venue, GRADIN_MACHINE_DOOR, 1)].set.position = 1.0;
    machine[gradin_machine_index(&h->venue, GRADIN_MACHINE_TURN, 0)].set.position = 8.0;
}

void memory_hall_close(memory_hall *h) {
    gradin_arena_destroy(h->arena);
}

const char *memory_hall_first(const memory_hall *h) {
    static char text[2048];
    text[0] = '\0';
    if (h->error.n_diagnostic > 0)
        gradin_diagnostic_format(&h->error.diagnostic[0], text, sizeof text);
    return text;
}
