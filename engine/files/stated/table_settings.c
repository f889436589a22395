/* The keys of where a layout puts the venue's machines. */
#include "files/stated/layout.h"

static const schema_key terrace_keys[] = {
    KEY_INTEGER(stated_terrace, n_step, "steps", "treads of each section", REQUIRED,
                LIMITS(2, 100)),
    KEY_LENGTH(stated_terrace, riser_m, "riser", "rise from tread to tread", REQUIRED,
               LIMITS(0, 10)),
    KEY_NUMBER(stated_terrace, facing_deg, "facing_deg",
               "bearing that people on the treads face; the lowest tread is in front", REQUIRED,
               UNIT(DEG), LIMITS(0, 360))};
static const schema_table terrace_table = {.name = "terrace",
                                           .meaning = "the treads that lift sections make",
                                           TABLE_(stated_terrace, terrace_keys),
                                           TABLE_AT(stated_terrace)};

static const schema_key lift_keys[] = {
    KEY_TEXT(stated_lift, from, "from", "section, or the south-west one of a field", REQUIRED),
    KEY_TEXT(stated_lift, to, "to", "north-east section of the field",
             .preset_note = "`from` alone"),
    KEY_LENGTH(stated_lift, height_m, "height", "of the lowest tread", REQUIRED, LIMITS(-100, 100)),
    KEY_MAP_PTR(stated_lift, terrace, stated_terrace, "terrace", &terrace_table,
                "treads instead of a flat top")};
const schema_table lift_table = {.name = "lift setting",
                                 .meaning = "where lift sections stand; others stay at floor level",
                                 TABLE_(stated_lift, lift_keys),
                                 TABLE_AT(stated_lift),
                                 .is_line = true};

static const schema_key tower_keys[] = {
    KEY_NAME(stated_tower_setting, name, "name", "tower", "of the tower", REQUIRED),
    KEY_LENGTH(stated_tower_setting, hoist_m, "hoist", "height that it is hoisted",
               LIMITS(-100, 100), .is_always_written = true),
    KEY_LENGTH(stated_tower_setting, slide_m, "slide", "way that it is slid", LIMITS(-100, 100),
               .is_always_written = true),
    KEY_NUMBER(stated_tower_setting, facing_deg, "facing_deg",
               "bearing that its seats face, for a tower that turns", UNIT(DEG), LIMITS(0, 360),
               UNSTATED("as the venue states it")),
    KEY_FLAG(stated_tower_setting, is_seated, "seated", "its seats are part of the layout",
             PRESET(1))};
const schema_table tower_setting_table = {
    .name = "tower setting",
    .meaning = "where a tower stands; others stay parked without seats",
    TABLE_(stated_tower_setting, tower_keys),
    TABLE_AT(stated_tower_setting),
    .is_line = true};

static const schema_key arch_keys[] = {
    KEY_FLAG(stated_arch_setting, is_in, "in", "the arch is flown in", REQUIRED),
    KEY_LENGTH(stated_arch_setting, opening_m, "opening", "its clear width; needed when it is in",
               LIMITS(0.1, 100)),
    KEY_LENGTH(stated_arch_setting, trim_m, "trim",
               "height of its header's underside; needed when it is in", LIMITS(0.1, 100)),
    KEY_NUMBER(stated_arch_setting, closed, "closed",
               "how far the closing element is down: 0 up to 1 down", UNIT(SHARE), LIMITS(0, 1))};
static const schema_table arch_table = {.name = "arch setting",
                                        .meaning = "is the arch in, and how wide and high",
                                        TABLE_(stated_arch_setting, arch_keys),
                                        TABLE_AT(stated_arch_setting)};

static const schema_key shade_keys[] = {
    KEY_NAME(stated_share, name, "name", "shade", "of the shade", REQUIRED),
    KEY_NUMBER(stated_share, share, "closed", "0 open to 1 shut", REQUIRED, UNIT(SHARE),
               LIMITS(0, 1))};
static const schema_table shade_table = {.name = "shade setting",
                                         .meaning = "how far a shade is shut; others are open",
                                         TABLE_(stated_share, shade_keys),
                                         TABLE_AT(stated_share),
                                         .is_line = true};
static const schema_key door_keys[] = {
    KEY_NAME(stated_share, name, "name", "door", "of the door", REQUIRED),
    KEY_NUMBER(stated_share, share, "open", "0 shut to 1 open", REQUIRED, UNIT(SHARE),
               LIMITS(0, 1))};
static const schema_table door_table = {.name = "door setting",
                                        .meaning = "how far a door is open; others are shut",
                                        TABLE_(stated_share, door_keys),
                                        TABLE_AT(stated_share),
                                        .is_line = true};
static const schema_key panel_keys[] = {
    KEY_NAME(stated_panel_setting, name, "name", "floor panel", "of the panel", REQUIRED),
    KEY_FLAG(stated_panel_setting, is_open, "open", "it is away, the stair below is in use",
             REQUIRED)};
static const schema_table panel_table = {.name = "panel setting",
                                         .meaning = "is a floor panel away; others are in place",
                                         TABLE_(stated_panel_setting, panel_keys),
                                         TABLE_AT(stated_panel_setting),
                                         .is_line = true};

static const schema_key settings_keys[] = {
    KEY_LIST(stated_settings, lift, n_lift, stated_lift, "lifts", &lift_table,
             "heights of lift sections"),
    KEY_LIST(stated_settings, tower, n_tower, stated_tower_setting, "towers", &tower_setting_table,
             "where seating towers stand"),
    KEY_MAP_PTR(stated_settings, arch, stated_arch_setting, "arch", &arch_table,
                "the proscenium arch"),
    KEY_LIST(stated_settings, shade, n_shade, stated_share, "shades", &shade_table,
             "shades that are shut"),
    KEY_LIST(stated_settings, door, n_door, stated_share, "doors", &door_table,
             "doors that stand open"),
    KEY_LIST(stated_settings, panel, n_panel, stated_panel_setting, "panels", &panel_table,
             "floor panels that are away")};
const schema_table settings_table = {.name = "machine settings",
                                     .meaning = "where the venue's machines stand in this layout",
                                     TABLE_(stated_settings, settings_keys),
                                     TABLE_AT(stated_settings),
                                     .style = STYLE_BLOCK};
