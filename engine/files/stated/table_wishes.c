/* The keys of a file of wishes. Defaults are common practice, no source: a C of 90 mm is met with
 * the head tilted back; an aisle of 1.1 m. */
#include "files/stated/layout.h"

static const schema_key stage_keys[] = {
    KEY_LENGTH(stated_stage, width_m, "width", "across the axis", REQUIRED, LIMITS(1, 100)),
    KEY_LENGTH(stated_stage, depth_m, "depth", "along the axis", REQUIRED, LIMITS(1, 100)),
    KEY_LENGTH(stated_stage, height_m, "height", "of the stage floor", LIMITS(0, 3)),
    KEY_LENGTH(stated_stage, focus_inset_m, "focus_inset",
               "from the stage's edges in to what every seat should see", LIMITS(0, 10), PRESET(1)),
    KEY_LENGTH(stated_stage, focus_above_m, "focus_above", "of that area above the stage floor",
               LIMITS(0, 2))};
static const schema_table stage_table = {
    .name = "stage", .meaning = "the stage that is wished for", TABLE_(stated_stage, stage_keys)};

static const schema_key arch_keys[] = {
    KEY_LENGTH(stated_arch_wish, opening_m, "opening", "clear width", REQUIRED, LIMITS(0.1, 100)),
    KEY_LENGTH(stated_arch_wish, trim_m, "trim", "height of the header's underside", REQUIRED,
               LIMITS(0.1, 100))};
static const schema_table arch_table = {.name = "arch wish",
                                        .meaning = "the arch flown in",
                                        TABLE_(stated_arch_wish, arch_keys),
                                        TABLE_AT(stated_arch_wish)};

static const schema_key platforms_keys[] = {
    KEY_LENGTH(stated_platforms, step_m, "step", "between the heights in which they come", REQUIRED,
               LIMITS(0.02, 1)),
    KEY_LENGTH(stated_platforms, most_m, "highest", "that one stands", REQUIRED, LIMITS(0.02, 10))};
static const schema_table platforms_table = {.name = "platforms",
                                             .meaning = "under rows in a venue without lifts",
                                             TABLE_(stated_platforms, platforms_keys)};

static const char *const formats[] = {"gradin-wishes-1", NULL};
static const char *const forms[] = {"end_stage", "thrust", "round", "traverse", "flat_floor", NULL};

static const schema_key wishes_keys[] = {
    KEY_HEAD(formats),
    KEY_TEXT(stated_wishes, name, "name", "of the layout to be", REQUIRED),
    KEY_FILE(stated_wishes, venue, "venue", "file of the hall", REQUIRED),
    KEY_CHOICE(stated_wishes, form, "form", forms, "how stage and seats lie to each other",
               REQUIRED),
    KEY_NUMBER(stated_wishes, axis_deg, "axis_deg", "bearing that the stage faces: 0, 90, 180, 270",
               UNIT(DEG), LIMITS(0, 360), PRESET(180)),
    KEY_MAP(stated_wishes, stage, stated_stage, "stage", &stage_table, "its size", REQUIRED),
    KEY_LENGTH(stated_wishes, c_m, "c_value",
               "least C-value of the raked rows, in the section of each bank", LIMITS(0.001, 1),
               PRESET(0.09)),
    KEY_LENGTH(stated_wishes, seat_width_m, "seat_width", "from seat to seat", LIMITS(0.4, 1.5),
               PRESET(0.55)),
    KEY_LENGTH(stated_wishes, row_depth_m, "row_depth", "from row to row", LIMITS(0.6, 3),
               PRESET(0.9)),
    KEY_LENGTH(stated_wishes, aisle_m, "aisle_width", "clear width of aisles", LIMITS(0.6, 5),
               PRESET(1.1)),
    KEY_LENGTH(stated_wishes, curve_m, "curve", "flat floor: radius of the first row",
               LIMITS(2, 200), .preset_note = "straight rows"),
    KEY_INTEGER(stated_wishes, n_seat, "seats", "how many are wished for",
                LIMITS(0, GRADIN_MAX_SEAT), .word = "most", .word_value = 0, .preset_note = "most"),
    KEY_INTEGER(stated_wishes, n_wheelchair, "wheelchairs", "places for wheelchairs",
                LIMITS(0, 1000), .word = "by table", .word_value = -1, .preset = -1,
                .preset_note = "by table"),
    KEY_FLAG(stated_wishes, use_towers, "towers", "use all seating towers, none, or those named",
             .needs = "must be yes, no or a list of towers"),
    KEY_NAMES(stated_wishes, tower, n_tower, "towers", "tower", "those to use",
              .needs = "must be the name of a tower"),
    KEY_FLAG(stated_wishes, has_vomitories, "vomitories", "open the floor panels over stairs"),
    KEY_FLAG(stated_wishes, is_symmetric, "symmetric",
             "alike on both sides of the stage's axis, where the hall is", PRESET(1)),
    KEY_MAP_PTR(stated_wishes, arch, stated_arch_wish, "arch", &arch_table, "the arch flown in"),
    KEY_MAP_PTR(stated_wishes, platforms, stated_platforms, "platforms", &platforms_table,
                "rows rise on them where a venue has no lifts"),
    KEY_NUMBER(stated_wishes, shades_closed, "shades", "how far shades are shut: 0 open to 1 shut",
               UNIT(SHARE), LIMITS(0, 1)),
    KEY_NAME(stated_wishes, seating, "seating", "seating", "stock of seats to use",
             .preset_note = "the venue's first"),
    KEY_FILE(stated_wishes, brief, "brief", "file of what counts as good"),
    KEY_FILE(stated_wishes, overflight, "overflight", "file of a pass of an aircraft")};
static const schema_table wishes_table = {.name = "wishes",
                                          .meaning = "what a draft of a layout starts from",
                                          TABLE_(stated_wishes, wishes_keys),
                                          TABLE_AT(stated_wishes),
                                          .style = STYLE_BLOCK};
const schema_file wishes_schema = {"gradin-wishes-1", "wishes",
                                   "What `gradin draft` starts a layout from.", &wishes_table};
