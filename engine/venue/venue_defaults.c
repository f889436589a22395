/* What a venue need not state. */
#include "gradin/venue.h"

static const gradin_load_limit no_limit = {NAN, NAN};

gradin_drive gradin_drive_of(double speed_per_s, double mass_kg) {
    return (gradin_drive){.speed_per_s = speed_per_s, .mass_kg = mass_kg, .crew = 1, .at_once = 1};
}

gradin_drive gradin_drive_of_share(double move_s) {
    return gradin_drive_of(move_s > 0.0 ? 1.0 / move_s : INFINITY, 0.0);
}

static gradin_drive at_once(void) {
    return gradin_drive_of(INFINITY, 0.0);
}

gradin_venue gradin_venue_defaults(void) {
    return (gradin_venue){.units = "m",
                          .crew = {.power_kw = INFINITY,
                                   .rail_crew = 2,
                                   .work = {.rate_night = NAN, .rate_overtime = NAN}},
                          .occupancy = gradin_occupancy_of(GRADIN_OCCUPANCY_EN_1991_1_1),
                          .floor_load = no_limit,
                          .rules = {.guard_drop_m = NAN,
                                    .exit_mm_person = NAN,
                                    .row_depth_m = NAN,
                                    .clearway_m = NAN,
                                    .way_width_m = NAN,
                                    .wheelchair_way_m = NAN,
                                    .wheelchair_place_slope = NAN,
                                    .wheelchair_way_slope = NAN,
                                    .travel_m = NAN,
                                    .dead_end_m = NAN}};
}

gradin_lift_grid gradin_lift_grid_defaults(void) {
    return (gradin_lift_grid){.most_steps = 1, .drive = at_once(), .load_limit = no_limit};
}

gradin_tower_level gradin_tower_level_defaults(void) {
    return (gradin_tower_level){.rail_thickness_m = 0.05, .rail_bars = 1, .load_limit = no_limit};
}

gradin_tower gradin_tower_defaults(void) {
    return (gradin_tower){.pivot_m = {NAN, NAN},
                          .hoist_drive = at_once(),
                          .slide_drive = at_once(),
                          .turn_drive = at_once(),
                          .most_kg = NAN};
}

gradin_arch gradin_arch_defaults(void) {
    return (gradin_arch){
        .trim_drive = at_once(), .opening_drive = at_once(), .closing_drive = at_once()};
}

gradin_floor_panel gradin_floor_panel_defaults(void) {
    return (gradin_floor_panel){
        .stair_top_deg = NAN, .exit_width_m = NAN, .drive = at_once(), .load_limit = no_limit};
}

gradin_facade_entry gradin_facade_entry_defaults(void) {
    gradin_facade_entry entry = {
        .count = 1, .buildup = -1, .shade = -1, .joint_r_db = INFINITY, .drive = at_once()};
    for (int b = 0; b < GRADIN_N_BAND; b++) entry.absorption[b] = NAN;
    return entry;
}
