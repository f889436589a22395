/* What a caller must fill in: its absence is GRADIN_BAD_USE by the field's name, and never a crash.
 */
#include "gradin/model.h"
#include "support/memory_hall.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

typedef struct spoilt {
    const char *field;
    void (*spoil)(memory_hall *h);
} spoilt;

#define SPOIL(name, statement)                                                                     \
    static void name(memory_hall *h) {                                                             \
        statement;                                                                                 \
    }

SPOIL(venue_name, h->venue.name = NULL)
SPOIL(venue_no_name, h->venue.name = "")
SPOIL(footprint, h->venue.footprint.corner_m = NULL)
SPOIL(footprint_crossed, h->footprint[2].x = -20.0)
SPOIL(footprint_nan, h->footprint[2].x = NAN)
SPOIL(ceiling, h->venue.ceiling_m = NAN)
SPOIL(ceiling_0, h->venue.ceiling_m = 0.0)
SPOIL(absorption, h->venue.wall_absorption[20] = NAN)
SPOIL(extra, h->venue.extra = NULL)
SPOIL(extra_name, h->extra[0].name = NULL)
SPOIL(extra_area, h->extra[0].area_m2 = NAN)
SPOIL(solid, h->venue.solid = NULL)
SPOIL(solid_polygon, h->column[0].polygon.n_corner = 2)
SPOIL(solid_top, h->column[0].top_m = 0.0)
SPOIL(solid_triangles, h->column[0].n_triangle = 3)
SPOIL(grids, h->venue.grid = NULL)
SPOIL(grids_count, h->venue.n_grid = -1)
SPOIL(grid_name, h->grid[0].name = NULL)
SPOIL(grid_columns, h->grid[0].n_column = 0)
SPOIL(grid_many_columns, h->grid[0].n_column = 27)
SPOIL(grid_rows, h->grid[0].n_row = 0)
SPOIL(grid_size, h->grid[0].size_m[1] = NAN)
SPOIL(grid_travel, h->grid[0].travel_m[1] = -2.0)
SPOIL(grid_steps, h->grid[0].most_steps = 0)
SPOIL(grid_speed, h->grid[0].drive.speed_per_s = 0.0)
SPOIL(grid_at_once, h->grid[0].drive.at_once = 0)
SPOIL(towers, h->venue.tower = NULL)
SPOIL(tower_name, h->tower[0].name = NULL)
SPOIL(tower_front, h->tower[0].front_m.y = NAN)
SPOIL(tower_width, h->tower[0].width_m = 0.0)
SPOIL(tower_hoist, h->tower[0].hoist_m[0] = NAN)
SPOIL(tower_drive, h->tower[0].slide_drive = (gradin_drive){0})
SPOIL(levels, h->tower[0].level = NULL)
SPOIL(level_name, h->level[0].name = NULL)
SPOIL(level_thickness, h->level[0].thickness_m = 0.0)
SPOIL(level_rows, h->level[0].n_row = 0)
SPOIL(level_seats, h->level[0].seat_width_m = 0.0)
SPOIL(level_rail, h->level[0].rail_thickness_m = 0.0)
SPOIL(arch_name, h->arch.name = NULL)
SPOIL(arch_line, h->arch.line_m[1].x = NAN)
SPOIL(arch_opening, h->arch.opening_m[0] = 11.0)
SPOIL(arch_r, h->arch.closing_r_db[3] = NAN)
SPOIL(panel_polygon, h->panel[0].polygon = (gradin_polygon){0})
SPOIL(buildups, h->venue.buildup = NULL)
SPOIL(buildup_name, h->buildup[0].name = NULL)
SPOIL(buildup_layers, h->buildup[0].layer = NULL)
SPOIL(shade_name, h->shade[0].name = NULL)
SPOIL(shade_drive, h->shade[0].drive.speed_per_s = NAN)
SPOIL(entries, h->venue.facade = NULL)
SPOIL(entry_name, h->facade[0].name = NULL)
SPOIL(entry_count, h->facade[0].count = 0)
SPOIL(entry_height, h->facade[0].height_m = 0.0)
SPOIL(entry_buildup, h->facade[0].buildup = 1)
SPOIL(entry_shade, h->facade[0].shade = 1)
SPOIL(entry_joint, h->facade[1].joint_r_db = NAN)
SPOIL(vent, h->facade[2].dn_e_db[0] = NAN)
SPOIL(seating, h->venue.crew.seating = NULL)
SPOIL(seating_rate, h->seating[0].set_rate = 0.0)
SPOIL(store, h->store.seats_per_trip = 0)
SPOIL(occupancy, h->venue.occupancy.source = NULL)
SPOIL(not_complete, h->venue.machine = NULL)
SPOIL(half_complete, h->venue.n_machine--)
SPOIL(interlocks, h->venue.interlock = NULL)
SPOIL(interlock_name, h->interlock[0].name = NULL)
SPOIL(interlock_mover, h->mover[0] = 100)
SPOIL(interlock_range, h->interlock[0].within[0] = NAN)

SPOIL(layout_name, h->layout.name = NULL)
SPOIL(form, h->layout.form = (gradin_form)9)
SPOIL(units, h->layout.units = NULL)
SPOIL(machines, h->layout.machine = NULL)
SPOIL(machine_at, h->layout.machine[4].set.position = NAN)
SPOIL(machine_steps, h->layout.machine[4].set.n_step = 0)
SPOIL(seated, h->layout.is_seated = NULL)
SPOIL(blocks, h->layout.block = NULL)
SPOIL(block_name, h->block[0].name = NULL)
SPOIL(block_width, h->block[0].seat_width_m = 0.0)
SPOIL(block_depth, h->block[0].row_depth_m = NAN)
SPOIL(block_section, h->block[0].to_section = 4)
SPOIL(block_span, h->block[0].from_section = 3; h->block[0].to_section = 0)
SPOIL(block_pattern, h->block[0].n_pattern = 17)
SPOIL(block_seating, h->block[0].seating = 1)
SPOIL(block_kind, h->block[0].rows = (gradin_row_kind)4)
SPOIL(straight_rows, h->block[1].n_row = 0)
SPOIL(straight_many_rows, h->block[1].n_row = 201)
SPOIL(straight_seats, h->block[1].n_seat = 0)
SPOIL(straight_depth, h->depth_m[1] = NAN)
SPOIL(straight_facing, h->block[1].facing_deg = NAN)
SPOIL(curved_radius, h->block[2].radius_m = 0.0)
SPOIL(curved_arc, h->block[2].arc_deg[1] = 170.0)
SPOIL(listed, h->block[3].listed = NULL)
SPOIL(listed_row, h->listed[1].row = 0)
SPOIL(rails, h->layout.rail = NULL)
SPOIL(rail_name, h->rail[0].name = NULL)
SPOIL(rail_points, h->rail[0].n_point = 1)
SPOIL(rail_point, h->rail[0].point_m = NULL)
SPOIL(rail_height, h->rail[0].height_m = 0.0)
SPOIL(rail_posts, h->rail[0].post_spacing_m = 0.0)
SPOIL(rail_bars, h->rail[0].n_bar = 0)
SPOIL(aisle, h->aisle[0].polygon.corner_m = NULL)
SPOIL(no_focus, h->layout.n_focus = 0)
SPOIL(focus_null, h->layout.focus = NULL)
SPOIL(focus_weight, h->focus[0].weight = 0.0)
SPOIL(focus_polygon, h->focus[0].polygon.n_corner = 0)
SPOIL(patch, h->layout.room_patch_m = 0.0)
SPOIL(eye, h->layout.audience.eye_height_m = 0.0)
SPOIL(head, h->layout.audience = (gradin_audience){.eye_height_m = 1.2})
SPOIL(pass_name, h->pass.name = NULL)
SPOIL(pass_speed, h->pass.speed_ms = 0.0)
SPOIL(pass_level, h->pass.level_db[4] = NAN)

static const spoilt of_venue[] = {{"venue.name", venue_name},
                                  {"venue.name", venue_no_name},
                                  {"venue.footprint", footprint},
                                  {"venue.footprint", footprint_crossed},
                                  {"venue.footprint", footprint_nan},
                                  {"venue.ceiling_m", ceiling},
                                  {"venue.ceiling_m", ceiling_0},
                                  {"venue.wall_absorption", absorption},
                                  {"venue.extra", extra},
                                  {"venue.extra[0].name", extra_name},
                                  {"venue.extra[0].area_m2", extra_area},
                                  {"venue.solid", solid},
                                  {"venue.solid[0].polygon", solid_polygon},
                                  {"venue.solid[0].top_m", solid_top},
                                  {"venue.solid[0].triangle_m", solid_triangles},
                                  {"venue.grid", grids},
                                  {"venue.grid", grids_count},
                                  {"venue.grid[0].name", grid_name},
                                  {"venue.grid[0].n_column", grid_columns},
                                  {"venue.grid[0].n_column", grid_many_columns},
                                  {"venue.grid[0].n_row", grid_rows},
                                  {"venue.grid[0].size_m[1]", grid_size},
                                  {"venue.grid[0].travel_m", grid_travel},
                                  {"venue.grid[0].most_steps", grid_steps},
                                  {"venue.grid[0].drive.speed_per_s", grid_speed},
                                  {"venue.grid[0].drive", grid_at_once},
                                  {"venue.tower", towers},
                                  {"venue.tower[0].name", tower_name},
                                  {"venue.tower[0].front_m", tower_front},
                                  {"venue.tower[0].width_m", tower_width},
                                  {"venue.tower[0].hoist_m", tower_hoist},
                                  {"venue.tower[0].slide_drive.speed_per_s", tower_drive},
                                  {"venue.tower[0].level", levels},
                                  {"venue.tower[0].level[0].name", level_name},
                                  {"venue.tower[0].level[0].thickness_m", level_thickness},
                                  {"venue.tower[0].level[0].n_row", level_rows},
                                  {"venue.tower[0].level[0].seat_width_m", level_seats},
                                  {"venue.tower[0].level[0].rail_thickness_m", level_rail},
                                  {"venue.arch.name", arch_name},
                                  {"venue.arch.line_m[1]", arch_line},
                                  {"venue.arch.opening_m", arch_opening},
                                  {"venue.arch.closing_r_db", arch_r},
                                  {"venue.panel[0].polygon", panel_polygon},
                                  {"venue.buildup", buildups},
                                  {"venue.buildup[0].name", buildup_name},
                                  {"venue.buildup[0].layer", buildup_layers},
                                  {"venue.shade[0].name", shade_name},
                                  {"venue.shade[0].drive.speed_per_s", shade_drive},
                                  {"venue.facade", entries},
                                  {"venue.facade[0].name", entry_name},
                                  {"venue.facade[0].count", entry_count},
                                  {"venue.facade[0].height_m", entry_height},
                                  {"venue.facade[0].buildup", entry_buildup},
                                  {"venue.facade[0].shade", entry_shade},
                                  {"venue.facade[1].joint_r_db", entry_joint},
                                  {"venue.facade[2].dn_e_db", vent},
                                  {"venue.crew.seating", seating},
                                  {"venue.crew.seating[0].set_rate", seating_rate},
                                  {"venue.crew.store.seats_per_trip", store},
                                  {"venue.occupancy.source", occupancy}};

/* Only once a model is asked for. */
static const spoilt of_whole[] = {{"venue.machine", not_complete},
                                  {"venue.machine", half_complete},
                                  {"venue.interlock", interlocks},
                                  {"venue.interlock[0].name", interlock_name},
                                  {"venue.interlock[0].mover", interlock_mover},
                                  {"venue.interlock[0].within", interlock_range},
                                  {"layout.name", layout_name},
                                  {"layout.form", form},
                                  {"layout.units", units},
                                  {"layout.machine", machines},
                                  {"layout.machine[4].set.position", machine_at},
                                  {"layout.machine[4].set.n_step", machine_steps},
                                  {"layout.is_seated", seated},
                                  {"layout.block", blocks},
                                  {"layout.block[0].name", block_name},
                                  {"layout.block[0].seat_width_m", block_width},
                                  {"layout.block[0].row_depth_m", block_depth},
                                  {"layout.block[0].to_section", block_section},
                                  {"layout.block[0].to_section", block_span},
                                  {"layout.block[0].n_pattern", block_pattern},
                                  {"layout.block[0].seating", block_seating},
                                  {"layout.block[0].rows", block_kind},
                                  {"layout.block[1].n_row", straight_rows},
                                  {"layout.block[1].n_row", straight_many_rows},
                                  {"layout.block[1].n_seat", straight_seats},
                                  {"layout.block[1].depth_m", straight_depth},
                                  {"layout.block[1].facing_deg", straight_facing},
                                  {"layout.block[2].radius_m", curved_radius},
                                  {"layout.block[2].arc_deg", curved_arc},
                                  {"layout.block[3].listed", listed},
                                  {"layout.block[3].listed[1].row", listed_row},
                                  {"layout.rail", rails},
                                  {"layout.rail[0].name", rail_name},
                                  {"layout.rail[0].n_point", rail_points},
                                  {"layout.rail[0].point_m", rail_point},
                                  {"layout.rail[0].height_m", rail_height},
                                  {"layout.rail[0].post_spacing_m", rail_posts},
                                  {"layout.rail[0].n_bar", rail_bars},
                                  {"layout.aisle[0].polygon", aisle},
                                  {"layout.n_focus", no_focus},
                                  {"layout.focus", focus_null},
                                  {"layout.focus[0].weight", focus_weight},
                                  {"layout.focus[0].polygon", focus_polygon},
                                  {"layout.room_patch_m", patch},
                                  {"layout.audience.eye_height_m", eye},
                                  {"layout.audience.wheelchair_eye_height_m", head},
                                  {"layout.pass.name", pass_name},
                                  {"layout.pass.speed_ms", pass_speed},
                                  {"layout.pass.level_db", pass_level}};

static void expect_named(const memory_hall *h, gradin_status status, const char *field) {
    char wanted[128];
    snprintf(wanted, sizeof wanted, "%s is ", field);
    cr_expect_eq(status, GRADIN_BAD_USE, "%s: %s", field, gradin_status_name(status));
    cr_expect(strncmp(memory_hall_first(h), wanted, strlen(wanted)) == 0, "%s: %s", field,
              memory_hall_first(h));
}

static void expect_no_model(const spoilt *s) {
    memory_hall h;
    gradin_model model;
    memory_hall_furnish(&h);
    s->spoil(&h);
    expect_named(&h, gradin_model_build(h.arena, &h.venue, &h.layout, &model, &h.error), s->field);
    memory_hall_close(&h);
}

static void expect_not_complete(const spoilt *s) {
    memory_hall h;
    memory_hall_furnish(&h);
    s->spoil(&h);
    expect_named(&h, gradin_venue_complete(h.arena, &h.venue, &h.error), s->field);
    memory_hall_close(&h);
}

Test(required, a_field_that_is_missing_is_named) {
    for (size_t i = 0; i < sizeof of_venue / sizeof *of_venue; i++) {
        expect_not_complete(&of_venue[i]);
        expect_no_model(&of_venue[i]);
    }
    for (size_t i = 0; i < sizeof of_whole / sizeof *of_whole; i++) expect_no_model(&of_whole[i]);
}

Test(required, arguments_that_are_missing) {
    memory_hall h;
    gradin_model model;
    memory_hall_make(&h);
    gradin_arena *a = h.arena;
    cr_expect_eq(gradin_model_build(NULL, &h.venue, &h.layout, &model, NULL), GRADIN_BAD_USE);
    cr_expect_eq(gradin_model_build(a, NULL, &h.layout, &model, NULL), GRADIN_BAD_USE);
    cr_expect_eq(gradin_model_build(a, &h.venue, NULL, &model, NULL), GRADIN_BAD_USE);
    cr_expect_eq(gradin_model_build(a, &h.venue, &h.layout, NULL, NULL), GRADIN_BAD_USE);
    cr_expect_eq(gradin_venue_complete(a, NULL, NULL), GRADIN_BAD_USE);
    cr_expect_eq(gradin_layout_defaults(a, NULL, &h.layout, NULL), GRADIN_BAD_USE);
    cr_expect_eq(gradin_layout_check(a, &h.venue, NULL, NULL), GRADIN_BAD_USE);
    cr_expect_eq(gradin_model_build(a, &h.venue, &h.layout, &model, NULL), GRADIN_OK);
    memory_hall_close(&h);
}

/* Any eight bytes of any struct of the caller zeroed: pointers NULL, counts and sizes 0. */
Test(required, zeroes_anywhere_are_no_crash) {
    int n_bad_use = 0;
    size_t first = offsetof(memory_hall, venue);
    for (size_t at = first; at + 8 <= sizeof(memory_hall); at += 8) {
        memory_hall h;
        gradin_model model;
        memory_hall_furnish(&h);
        memset((char *)&h + at, 0, 8);
        gradin_status status = gradin_model_build(h.arena, &h.venue, &h.layout, &model, &h.error);
        cr_expect(status == GRADIN_OK || status == GRADIN_BAD_USE || status == GRADIN_BAD_INPUT,
                  "%zu: %s", at - first, gradin_status_name(status));
        cr_expect(status == GRADIN_OK || h.error.n_diagnostic > 0);
        n_bad_use += status == GRADIN_BAD_USE;
        memory_hall_close(&h);
    }
    cr_expect(n_bad_use > 80, "%d", n_bad_use);
}
