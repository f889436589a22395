/* What a layout need not state: its people, the limits of its brief, its machines as parked.
 *
 * Seated eye 1.12 m above the floor, wheelchair eye 1.15 m (theatre practice, from memory);
 * standing eye 1.57 m: mean of British men 1630 and women 1505 mm (reference/anthropometry); head
 * and shoulders: means of women and men of ANSUR II 2012 (Gordon et al., NATICK/TR-15/007): eye to
 * crown 111 mm, head breadth 151, length 195, shoulder breadth 480. Head height 230 mm (chin to
 * crown) and the shoulder 200 mm below the eye are from memory. Slump takes up to
 * 40 mm off the eye (reference/anthropometry).
 *
 * Limits are collected in reference/viewing-limits; no single published limit is undisputed, so a
 * brief may state its own. JGJ 57 is a national code of theatres. Visible: 80 % of the acting area
 * from the worst placed seats (JGJ 57); 95 and 90 no source. A clear view in 80 % of drawn
 * audiences: no source; what a seat sees then decides the lower classes. C-value: 120 mm (JGJ 57),
 * also over two rows where seats are staggered; 90 with the head tilted back, 60 looking between
 * heads (worksheet of reference/c-value). Head gap: 20 degrees are what the eyes take in alone
 * (Neufert); 15 and 10 no source. Distance: faces to 12 m, gesture to 20 (DG 1110.3.120, 1981); 28
 * m for drama, 20 for thrust and arena stages (JGJ 57), here also for a traverse. Off-axis 30 good,
 * 60 limit (from memory). Down: 30 limit (theatre handbook); 20 and 25 no source. Head turn 30
 * comfortable, 45 tolerated (from memory).
 *
 * A seat is called within or over a limit of noise with a chance of 84 %: one standard uncertainty
 * to one side (ISO 12999-1:2020, Table 8). The stated level of a source: 2.2 dB, example of ISO
 * 1996-2:2007, G.2, one outdoor measurement; scatter of routine flights 3.8 to 4.9 dB (Bishop
 * 1975), of which the middle. */
#include "base/use.h"
#include "venue/parts.h"

static const double patch_m = 2.8, confidence = 0.84;
static const double source_uncertainty_db = 2.2, scatter_db = 4.4;

gradin_audience gradin_audience_defaults(void) {
    return (gradin_audience){.eye_height_m = 1.12,
                             .wheelchair_eye_height_m = 1.15,
                             .standing_eye_height_m = 1.57,
                             .crown_m = 0.111,
                             .head_height_m = 0.230,
                             .head_breadth_m = 0.151,
                             .head_length_m = 0.195,
                             .shoulder_breadth_m = 0.480,
                             .shoulder_drop_m = 0.200,
                             .population = {.women = 0.5, .men = 0.5, .slump_m = 0.040}};
}

gradin_limits gradin_limits_defaults(gradin_form form) {
    bool is_near =
        form == GRADIN_FORM_THRUST || form == GRADIN_FORM_ROUND || form == GRADIN_FORM_TRAVERSE;
    return (gradin_limits){.visible_min = {0.95, 0.90, 0.80},
                           .clear_view_min = {0.80, 0.0, 0.0},
                           .c_value_min_m = {0.120, 0.090, 0.060},
                           .head_gap_min_deg = {20.0, 15.0, 10.0},
                           .two_row_c_min_m = {0.120, 0.090, 0.060},
                           .distance_max_m = {12.0, 20.0, is_near ? 20.0 : 28.0},
                           .off_axis_max_deg = {30.0, 60.0, 90.0},
                           .down_max_deg = {20.0, 25.0, 30.0},
                           .turn_max_deg = {30.0, 45.0, 90.0},
                           .is_left_out[GRADIN_REASON_C_VALUE] = true};
}

gradin_criterion gradin_criterion_defaults(void) {
    return (gradin_criterion){NAN, NAN, confidence};
}

gradin_block gradin_block_defaults(void) {
    return (gradin_block){.facing_deg = NAN, .seat_depth_m = NAN, .n_pattern = 1};
}

gradin_rail_entry gradin_rail_entry_defaults(void) {
    return (gradin_rail_entry){
        .thickness_m = 0.05, .post_spacing_m = 1.5, .n_bar = 1, .foot_m = NAN};
}

gradin_focus gradin_focus_defaults(void) {
    return (gradin_focus){.weight = 1.0, .z_m = NAN, .uphill_deg = NAN};
}

gradin_pass gradin_pass_defaults(void) {
    return (gradin_pass){.temperature_c = 20.0,
                         .humidity_pct = 50.0,
                         .pressure_kpa = 101.325,
                         .source_uncertainty_db = source_uncertainty_db,
                         .scatter_db = scatter_db};
}

gradin_layout gradin_layout_empty(void) {
    return (gradin_layout){.units = "m",
                           .form = GRADIN_FORM_CUSTOM,
                           .axis_deg = NAN,
                           .room_method = GRADIN_ROOM_RADIOSITY,
                           .room_patch_m = patch_m,
                           .audience = gradin_audience_defaults(),
                           .limits = gradin_limits_defaults(GRADIN_FORM_CUSTOM),
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
