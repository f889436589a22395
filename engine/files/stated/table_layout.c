/* The keys of a layout's file. */
#include "files/stated/layout.h"

static const schema_key aisle_keys[] = {
    KEY_TEXT(gradin_area, name, "name", "of the aisle", REQUIRED),
    KEY_POLYGON(gradin_area, polygon, "polygon", "its outline on plan", REQUIRED),
    KEY_TEXT(gradin_area, level, "level", "of the seats that it runs through",
             .preset_note = "the lowest on which it touches a seat")};
static const schema_table aisle_table = {.name = "aisle",
                                         .meaning =
                                             "seats of its level that it touches are left out",
                                         TABLE_(gradin_area, aisle_keys),
                                         .is_line = true};

#define FOCUS_NAME KEY_TEXT(gradin_focus, name, "name", "of the area", REQUIRED)
#define FOCUS_WEIGHT                                                                               \
    KEY_NUMBER(gradin_focus, weight, "weight", "its part in the mean over all areas",              \
               LIMITS(1e-6, 1e6), PRESET(1))

static const schema_key floor_keys[] = {
    FOCUS_NAME,
    KEY_POLYGON(gradin_focus, polygon, "polygon", "its outline on plan", REQUIRED),
    KEY_LENGTH(gradin_focus, z_m, "z",
               "height of what is looked at; of a slope, at its lowest corner", LIMITS(-30, 50),
               UNSTATED("the surface below it")),
    KEY_NUMBER(gradin_focus, slope, "slope", "of a raked stage: its rise over its run",
               LIMITS(0, 0.5)),
    KEY_NUMBER(gradin_focus, uphill_deg, "uphill_deg", "bearing towards which it rises", UNIT(DEG),
               LIMITS(0, 360), UNSTATED("it is level")),
    FOCUS_WEIGHT};
static const schema_rule floor_rules[] = {
    {RULE_NEEDS, {"slope", "uphill_deg"}, "needs uphill_deg beside it", true},
    {RULE_NEEDS, {"uphill_deg", "slope"}, "needs slope beside it", true},
    {RULE_NEEDS, {"slope", "z"}, "needs z, the height of the lowest corner, beside it", true}};
static const schema_table floor_table = {.name = "floor",
                                         .meaning = "a stage, level or sloping; C is measured to "
                                                    "the edge of the lowest one",
                                         TABLE_(gradin_focus, floor_keys),
                                         .decider = 1,
                                         TABLE_RULES(floor_rules)};

static const schema_key upright_keys[] = {
    FOCUS_NAME,
    KEY_POINTS(gradin_focus, line_m, n_line, "line", "its line on plan", REQUIRED, UNIT(LENGTH),
               ITEMS(2, 1000, "points")),
    KEY_LENGTH(gradin_focus, bottom_m, "bottom", "height of its lower edge", REQUIRED,
               LIMITS(-30, 50)),
    KEY_LENGTH(gradin_focus, top_m, "top", "height of its upper edge", REQUIRED, LIMITS(-30, 50)),
    FOCUS_WEIGHT};
static const schema_table upright_table = {.name = "upright",
                                           .meaning = "a screen, a cloth, surtitles; seen from "
                                                      "either side",
                                           TABLE_(gradin_focus, upright_keys),
                                           .decider = 1};

static const schema_key point_keys[] = {
    FOCUS_NAME,
    KEY_POINT(gradin_focus, point_m, "point", "where it is on plan", REQUIRED, .preset = NAN),
    KEY_LENGTH(gradin_focus, z_m, "z", "its height", REQUIRED, LIMITS(-30, 50), .preset = NAN),
    FOCUS_WEIGHT};
static const schema_table point_table = {.name = "point",
                                         .meaning = "a single point, such as a face at a lectern",
                                         TABLE_(gradin_focus, point_keys),
                                         .decider = 1};

static const schema_table *const focus_forms[] = {&floor_table, &upright_table, &point_table, NULL};
const schema_table focus_table = {
    .name = "focus",
    .meaning = "what every seat should see: a floor, an upright or a point",
    .size = sizeof(gradin_focus),
    .form = focus_forms,
    .form_text = "needs polygon (a floor), line (an upright) or point",
    TABLE_PLACE(gradin_focus),
    .is_line = true};

static const schema_key c_line_keys[] = {
    KEY_TEXT(gradin_c_line, name, "name", "of the line, such as setting line", REQUIRED),
    KEY_POINTS(gradin_c_line, point_m, n_point, "path", "its points on plan", REQUIRED,
               UNIT(LENGTH), ITEMS(2, 1000, "points")),
    KEY_LENGTH(gradin_c_line, z_m, "z", "its height", REQUIRED, LIMITS(-30, 50))};
static const schema_table c_line_table = {.name = "c_line",
                                          .meaning =
                                              "the line to which C is measured: a stage front, a "
                                              "setting line, calf height",
                                          TABLE_(gradin_c_line, c_line_keys),
                                          TABLE_PLACE(gradin_c_line)};

static const schema_key passage_keys[] = {
    KEY_TEXT(gradin_passage, name, "name", "of the passage", REQUIRED),
    KEY_POLYGON(gradin_passage, polygon, "polygon", "its outline on plan", REQUIRED),
    KEY_LENGTH(gradin_passage, headroom_m, "headroom", "clear height over its floor", REQUIRED,
               LIMITS(2, 10)),
    KEY_LENGTH(gradin_passage, cover_m, "cover", "from there up to the treads above it",
               LIMITS(0, 2), PRESET(0.2)),
    KEY_FLAG(gradin_passage, leads_out, "leads_out", "out of the hall, at its far end"),
    KEY_NUMBER(gradin_passage, mouth_deg, "mouth_deg",
               "bearing from its middle to the side at which one enters it", UNIT(DEG),
               LIMITS(0, 360), UNSTATED("not stated")),
    KEY_LENGTH(gradin_passage, exit_width_m, "exit_width", "its narrowest clear width",
               LIMITS(0.3, 20), UNSTATED("as wide as the side at which one enters it"))};
static const schema_rule passage_rules[] = {
    {RULE_NEEDS,
     {"leads_out", "mouth_deg"},
     "needs the side at which one enters it; give mouth_deg",
     true}};
static const schema_table passage_table = {.name = "passage",
                                           .meaning =
                                               "a level way at the floor's height through a bank; "
                                               "seats over it stay where its headroom is under "
                                               "their treads",
                                           TABLE_(gradin_passage, passage_keys),
                                           TABLE_RULES(passage_rules),
                                           TABLE_PLACE(gradin_passage),
                                           .is_line = true};

static const char *const shade_states[] = {"as_set", "open", "shut", NULL};
static const schema_key reverberation_keys[] = {
    KEY_SPECTRUM(gradin_reverberation, measured_s, "measured_s",
                 "reverberation times, 6 octaves 125-4000 Hz or 21 thirds 50-5000 Hz", REQUIRED,
                 UNIT(S), LIMITS(0.05, 60)),
    KEY_SPECTRUM(gradin_reverberation, seating, "seating",
                 "absorption of the seats as they were then, such as empty", UNIT(SHARE),
                 LIMITS(0, 1), UNSTATED("the same as of the venue's seating")),
    KEY_CHOICE(gradin_reverberation, shades, "shades", shade_states,
               "where the shades stood then")};
static const schema_table reverberation_table = {.name = "reverberation",
                                                 .meaning = "measured in this layout; scales what "
                                                            "the room's surfaces absorb",
                                                 TABLE_(gradin_reverberation, reverberation_keys),
                                                 TABLE_PLACE(gradin_reverberation)};

static const char *const formats[] = {"gradin-layout-1", NULL};
static const char *const forms[] = {"end_stage",  "thrust", "round", "traverse",
                                    "flat_floor", "custom", NULL};
static const char *const methods[] = {"diffuse", "radiosity", NULL};

static const schema_key layout_keys[] = {
    KEY_HEAD(formats),
    KEY_FILE(stated_layout, venue, "venue", "file of the hall", REQUIRED),
    KEY_FILE(stated_layout, brief_file, "brief", "file of what counts as good, or the map itself",
             .preset_note = "the defaults of a brief"),
    KEY_MAP(stated_layout, brief, stated_brief, "brief", &brief_table, "what counts as good"),
    KEY_FILE(stated_layout, overflight, "overflight", "file of a pass of an aircraft",
             .preset_note = "no noise is worked out"),
    KEY_TEXT(stated_layout, name, "name", "of the layout", REQUIRED),
    KEY_CHOICE(stated_layout, form, "form", forms, "how stage and seats lie to each other",
               REQUIRED, .preset = GRADIN_FORM_CUSTOM),
    KEY_NUMBER(stated_layout, axis_deg, "axis_deg", "bearing that the stage faces", UNIT(DEG),
               LIMITS(0, 360), UNSTATED("none: angles off an axis do not count")),
    KEY_MAP(stated_layout, machines, stated_settings, "machines", &settings_table,
            "where the venue's machines stand"),
    KEY_LIST(stated_layout, focus, n_focus, gradin_focus, "focus", &focus_table,
             "areas that every seat should see", REQUIRED, ITEMS(1, GRADIN_MAX_FOCUS, "areas"),
             .are_names_unique = true),
    KEY_MAP_PTR(stated_layout, c_line, gradin_c_line, "c_line", &c_line_table,
                "the line to which C is measured",
                .preset_note = "the edge of the lowest floor area of the focus"),
    KEY_LIST(stated_layout, block, n_block, stated_block, "blocks", &block_table, "seats",
             .are_names_unique = true),
    KEY_LIST(stated_layout, seat_list, n_seat_list, stated_seat_list, "seat_lists",
             &seat_list_table, "seats from files that other programs wrote"),
    KEY_LIST(stated_layout, boxes, n_boxes, stated_boxes, "boxes", &boxes_table,
             "rows of boxes, each box a block of its own"),
    KEY_LIST(stated_layout, aisle, n_aisle, gradin_area, "aisles", &aisle_table,
             "aisles through the seats", .are_names_unique = true),
    KEY_LIST(stated_layout, passage, n_passage, gradin_passage, "passages", &passage_table,
             "level ways through banks of seats", .are_names_unique = true),
    KEY_LIST(stated_layout, rail, n_rail, gradin_rail_entry, "rails", &rail_table,
             "rails that the crew sets up", .are_names_unique = true),
    KEY_LIST(stated_layout, solid, n_solid, stated_solid, "solids", &solid_table,
             "set pieces and what else stands in this layout only", .are_names_unique = true),
    KEY_LIST(stated_layout, scenery, n_scenery, stated_scenery, "scenery", &scenery_table,
             "what a changeover brings in and takes out", .are_names_unique = true),
    KEY_MAP(stated_layout, audience, gradin_audience, "audience", &audience_table,
            "the sizes of the person on every seat"),
    KEY_CHOICE(stated_layout, room_method, "room_method", methods,
               "how the room's sound is worked out", PRESET(GRADIN_ROOM_RADIOSITY)),
    KEY_FLAG(stated_layout, has_diffuse_anyway, "room_diffuse_anyway",
             "`room_method: diffuse` is meant, though the plan has parts round a corner"),
    KEY_LENGTH(stated_layout, room_patch_m, "room_patch", "longest side of a patch for radiosity",
               LIMITS(0.3, 10), PRESET(2.8)),
    KEY_MAP_PTR(stated_layout, reverberation, gradin_reverberation, "reverberation",
                &reverberation_table, "measured in this layout",
                .preset_note = "that of the absorption as stated")};
static const schema_table layout_table = {.name = "layout",
                                          .meaning = "one way to set the hall up",
                                          TABLE_(stated_layout, layout_keys),
                                          TABLE_AT(stated_layout),
                                          .style = STYLE_BLOCK};
const schema_file layout_schema = {"gradin-layout-1", "layout",
                                   "One way to set a hall up: machines, seats, stage.",
                                   &layout_table};
