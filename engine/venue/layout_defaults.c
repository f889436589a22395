/* What a layout need not state: its people, the limits of its brief, its machines as parked.
 *
 * Seated eye 1.12 m above the floor, wheelchair eye 1.15 m (theatre practice, from memory);
 * standing eye 1.57 m: mean of British men 1630 and women 1505 mm (reference/anthropometry); head
 * and shoulders: means of women and men of ANSUR II 2012 (Gordon et al., NATICK/TR-15/007): eye to
 * crown 111 mm, head breadth 151, length 195, shoulder breadth 480. Head height 230 mm (chin to
 * crown) and the shoulder 200 mm below the eye are from memory; so is the loaded seat 430 mm above
 * the tread. Slump takes up to 40 mm off the eye (reference/anthropometry).
 *
 * Limits are collected in reference/viewing-limits; no single published limit is undisputed, so a
 * brief may state its own. Visible: side seats should see at least two thirds of the acting area
 * (theatre handbooks). C-value: 120 mm ideal, 90 acceptable, 60 least (EN 13200-1, from memory).
 * Distance: drama within 20 m, bodies to 33 m (DG 1110.3.120, 1981), faces to about 12 m. Off-axis
 * 30 good, 60 limit; down 30 preferred, 35 limit; head turn 30 comfortable, 45 tolerated (from
 * memory). */
#include "base/use.h"
#include "venue/parts.h"

static const double patch_m = 2.5;

gradin_audience gradin_audience_defaults(void) {
    return (gradin_audience){
        .eye_height_m = 1.12,
        .wheelchair_eye_height_m = 1.15,
        .standing_eye_height_m = 1.57,
        .crown_m = 0.111,
        .head_height_m = 0.230,
        .head_breadth_m = 0.151,
        .head_length_m = 0.195,
        .shoulder_breadth_m = 0.480,
        .shoulder_drop_m = 0.200,
        .population = {.women = 0.5, .men = 0.5, .slump_m = 0.040, .seat_height_m = 0.430}};
}

gradin_limits gradin_limits_defaults(void) {
    return (gradin_limits){.visible_min = {0.95, 0.85, 2.0 / 3.0},
                           .c_value_min_m = {0.120, 0.090, 0.060},
                           .distance_max_m = {12.0, 20.0, 33.0},
                           .off_axis_max_deg = {30.0, 60.0, 90.0},
                           .down_max_deg = {30.0, 35.0, 45.0},
                           .turn_max_deg = {30.0, 45.0, 90.0}};
}

gradin_criterion gradin_criterion_defaults(void) {
    return (gradin_criterion){NAN, NAN};
}

gradin_block gradin_block_defaults(void) {
    return (gradin_block){.facing_deg = NAN, .n_pattern = 1};
}

gradin_rail_entry gradin_rail_entry_defaults(void) {
    return (gradin_rail_entry){
        .thickness_m = 0.05, .post_spacing_m = 1.5, .n_bar = 1, .foot_m = NAN};
}

gradin_focus gradin_focus_defaults(void) {
    return (gradin_focus){.weight = 1.0, .z_m = NAN};
}

gradin_pass gradin_pass_defaults(void) {
    return (gradin_pass){.temperature_c = 20.0, .humidity_pct = 50.0, .pressure_kpa = 101.325};
}

gradin_layout gradin_layout_empty(void) {
    return (gradin_layout){.units = "m",
                           .form = GRADIN_FORM_CUSTOM,
                           .axis_deg = NAN,
                           .room_patch_m = patch_m,
                           .audience = gradin_audience_defaults(),
                           .limits = gradin_limits_defaults(),
                           .criterion = gradin_criterion_defaults()};
}

gradin_status gradin_layout_park(gradin_arena *arena, const gradin_venue *venue,
                                 gradin_layout *layout, gradin_error *error) {
    if (NEEDS(error, arena, venue, layout) != GRADIN_OK) return GRADIN_BAD_USE;
    complaints c = {.arena = arena, .error = error};
    if (!require_whole_venue(&c, venue)) return complaints_status(&c);
    layout->machine = alloc(&c, venue->n_machine, sizeof *layout->machine);
    layout->is_seated = alloc(&c, venue->n_tower, sizeof *layout->is_seated);
    for (int i = 0; i < venue->n_machine && layout->machine; i++)
        layout->machine[i].set = venue->machine[i].setting;
    return complaints_status(&c);
}

gradin_status gradin_layout_defaults(gradin_arena *arena, const gradin_venue *venue,
                                     gradin_layout *layout, gradin_error *error) {
    if (NEEDS(error, arena, venue, layout) != GRADIN_OK) return GRADIN_BAD_USE;
    *layout = gradin_layout_empty();
    return gradin_layout_park(arena, venue, layout, error);
}
