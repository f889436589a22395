/* The keys of machines: lift grids, seating towers, the arch, floor panels, interlocks. */
#include "files/stated/venue.h"

extern const schema_table opening_drive_table;
static const schema_table grid_kind_table, tower_kind_table;

#define KIND_KEY(T)                                                                                \
    KEY_NAME(T, kind, "kind", "kind", "of kinds: what this entry leaves out is as stated there")

static const schema_key grid_keys[] = {
    KEY_TEXT(stated_grid, name, "name", "of the grid; its sections are NAME-A1, NAME-B1, ...",
             REQUIRED),
    KIND_KEY(stated_grid),
    KEY_POINT(stated_grid, origin_m, "origin", "its south-west corner on plan", REQUIRED),
    KEY_NUMBER(
        stated_grid, bearing_deg, "bearing_deg",
        "by which the whole grid is turned clockwise about its origin; west, south and so on "
        "are meant before the turn",
        UNIT(DEG), LIMITS(0, 360)),
    KEY_INTEGER(stated_grid, n_column, "columns", "sections from west to east, A, B, ...", REQUIRED,
                LIMITS(1, 26)),
    KEY_INTEGER(stated_grid, n_row, "rows", "sections from south to north, 1, 2, ...", REQUIRED,
                LIMITS(1, 99)),
    KEY_ROW(stated_grid, size_m, 2, "size", "of one section: [west to east, south to north]",
            REQUIRED, UNIT(LENGTH), LIMITS(0.3, 50)),
    KEY_RANGE(stated_grid, travel_m, "travel", "lowest and highest tread", REQUIRED, UNIT(LENGTH),
              LIMITS(-30, 30)),
    KEY_INTEGER(stated_grid, most_steps, "steps_max", "treads that a section can make",
                LIMITS(1, 20), PRESET(1)),
    KEY_RANGE(stated_grid, riser_m, "riser", "least and greatest rise between its treads",
              UNIT(LENGTH), LIMITS(0, 2)),
    KEY_NUMBERS(stated_grid, facing_deg, n_facing, "facings_deg",
                "bearings its treads can face: its own bearing_deg, and quarter turns from it",
                UNIT(DEG), LIMITS(0, 360), ITEMS(1, 4, NULL)),
    KEY_NUMBER(stated_grid, speed_ms, "speed_ms", "speed of a section", REQUIRED, UNIT(M_S),
               LIMITS(1e-4, 2)),
    KEY_MAP(stated_grid, load_limit, gradin_load_limit, "load_limit", &load_limit_table,
            "what one section may carry"),
    KEY_MAP(stated_grid, drive, gradin_drive, "drive", &drive_table, "what moves a section")};
const schema_table grid_table = {.name = "lift grid",
                                 .meaning = "a field of like lift sections",
                                 TABLE_(stated_grid, grid_keys),
                                 TABLE_AT(stated_grid),
                                 .of_kind = &grid_kind_table,
                                 .is_line = true};
static const schema_table grid_kind_table = {.name = "kind of lift grid",
                                             .meaning = "what lift grids of this kind share",
                                             TABLE_(stated_grid, grid_keys),
                                             .partial_of = &grid_table,
                                             .is_line = true};

static const char *const rail_kinds[] = {"bar", "solid", "posts", NULL};
static const schema_key deck_rail_keys[] = {
    KEY_CHOICE(stated_deck_rail, kind, "kind", rail_kinds, "bars, a solid panel, or posts alone",
               REQUIRED),
    KEY_LENGTH(stated_deck_rail, height_m, "height", "of its top above the front tread", REQUIRED,
               LIMITS(0.1, 2)),
    KEY_LENGTH(stated_deck_rail, thickness_m, "thickness", "of bars and posts", LIMITS(0.01, 0.3),
               PRESET(0.05)),
    KEY_INTEGER(stated_deck_rail, n_bar, "bars", "bars one above the other", LIMITS(1, 10),
                PRESET(1))};
static const schema_table deck_rail_table = {.name = "tower rail",
                                             .meaning = "the rail before a tower's front row",
                                             TABLE_(stated_deck_rail, deck_rail_keys),
                                             TABLE_AT(stated_deck_rail)};

static const schema_key level_keys[] = {
    KEY_TEXT(stated_level, name, "name", "of the level", REQUIRED),
    KEY_LENGTH(stated_level, deck_m, "deck", "height of the front tread at hoist 0", REQUIRED,
               LIMITS(-10, 60)),
    KEY_LENGTH(stated_level, thickness_m, "thickness", "of the slab below the front tread",
               REQUIRED, LIMITS(0.02, 3)),
    KEY_INTEGER(stated_level, n_row, "rows", "of seats", REQUIRED, LIMITS(1, 20)),
    KEY_LENGTH(stated_level, row_depth_m, "row_depth", "from row to row", REQUIRED, LIMITS(0.5, 3)),
    KEY_LENGTH(stated_level, riser_m, "riser", "rise from row to row", LIMITS(0, 1.5)),
    KEY_LENGTH(stated_level, seat_width_m, "seat_width", "from seat to seat", REQUIRED,
               LIMITS(0.4, 1.5)),
    KEY_LENGTH(stated_level, front_m, "front", "clear depth before the first row", LIMITS(0, 5)),
    KEY_NUMBER(stated_level, seat_kg, "seat_kg", "mass of a seat", UNIT(KG), LIMITS(0, 500)),
    KEY_MAP(stated_level, load_limit, gradin_load_limit, "load_limit", &load_limit_table,
            "what the level may carry"),
    KEY_MAP_PTR(stated_level, rail, stated_deck_rail, "rail", &deck_rail_table,
                "the rail before its front row")};
static const schema_table level_table = {.name = "tower level",
                                         .meaning = "one storey of seats in a tower",
                                         TABLE_(stated_level, level_keys),
                                         TABLE_AT(stated_level),
                                         .is_line = true};

static const schema_key slide_keys[] = {
    KEY_NUMBER(stated_slide, bearing_deg, "bearing_deg", "direction in which the slide grows",
               REQUIRED, UNIT(DEG), LIMITS(0, 360)),
    KEY_RANGE(stated_slide, range_m, "range", "least and greatest slide", REQUIRED, UNIT(LENGTH),
              LIMITS(-60, 60)),
    KEY_NUMBER(stated_slide, speed_ms, "speed_ms", "speed of the slide", REQUIRED, UNIT(M_S),
               LIMITS(1e-5, 2)),
    KEY_MAP(stated_slide, drive, gradin_drive, "drive", &drive_table, "what slides it")};
static const schema_table slide_table = {
    .name = "slide", .meaning = "how a tower moves sideways", TABLE_(stated_slide, slide_keys)};

static const schema_key turn_keys[] = {
    KEY_RANGE(stated_turn, range_deg, "range_deg",
              "least and greatest turn, clockwise from facing_deg; it includes 0", REQUIRED,
              UNIT(DEG), LIMITS(-360, 360)),
    KEY_POINT(stated_turn, pivot_m, "pivot", "point on plan about which it turns, at slide 0",
              UNSTATED("the middle of its plan")),
    KEY_NUMBER(stated_turn, speed_deg_s, "speed_deg_s", "speed of the turn", REQUIRED, UNIT(DEG_S),
               LIMITS(1e-4, 90)),
    KEY_MAP(stated_turn, drive, gradin_drive, "drive", &turn_drive_table, "what turns it")};
static const schema_table turn_table = {.name = "turn",
                                        .meaning = "how a tower turns on plan",
                                        TABLE_(stated_turn, turn_keys),
                                        TABLE_AT(stated_turn)};

static const schema_key payload_keys[] = {
    KEY_INTEGER(stated_payload, people, "people", "most people on the tower", LIMITS(1, 100000),
                .preset_note = "not stated"),
    KEY_NUMBER(stated_payload, mass_kg, "mass_kg", "most mass besides itself", UNIT(KG),
               LIMITS(1, 1e6), UNSTATED("not stated"))};
static const schema_rule payload_rules[] = {
    {RULE_ANY_OF, {"people", "mass_kg"}, "states nothing; give people, mass_kg or both", false}};
static const schema_table payload_table = {.name = "payload",
                                           .meaning = "what a tower may bear besides itself",
                                           TABLE_(stated_payload, payload_keys),
                                           TABLE_RULES(payload_rules)};

static const schema_key tower_keys[] = {
    KEY_TEXT(stated_tower, name, "name", "of the tower", REQUIRED),
    KIND_KEY(stated_tower),
    KEY_POINT(stated_tower, front_m, "front", "middle of its front edge on plan at slide 0",
              REQUIRED),
    KEY_NUMBER(stated_tower, facing_deg, "facing_deg", "bearing that its seats face", REQUIRED,
               UNIT(DEG), LIMITS(0, 360)),
    KEY_LENGTH(stated_tower, width_m, "width", "across the facing", REQUIRED, LIMITS(0.5, 60)),
    KEY_LENGTH(stated_tower, depth_m, "depth", "along the facing", REQUIRED, LIMITS(0.5, 30)),
    KEY_LENGTH(stated_tower, post_m, "post", "side of its four square posts; 0: none",
               LIMITS(0, 2)),
    KEY_RANGE(stated_tower, hoist_m, "hoist", "least and greatest hoist", REQUIRED, UNIT(LENGTH),
              LIMITS(-5, 60)),
    KEY_NUMBER(stated_tower, hoist_speed_ms, "hoist_speed_ms", "speed of the hoist", REQUIRED,
               UNIT(M_S), LIMITS(1e-5, 2)),
    KEY_MAP_PTR(stated_tower, slide, stated_slide, "slide", &slide_table, "how it moves sideways"),
    KEY_MAP_PTR(stated_tower, turn, stated_turn, "turn", &turn_table,
                "how it turns, so that a layout may set what its seats face"),
    KEY_NUMBER(stated_tower, mass_kg, "mass_kg", "mass of the tower itself", UNIT(KG),
               LIMITS(1, 1e6)),
    KEY_MAP(stated_tower, payload, stated_payload, "payload", &payload_table,
            "what it may bear besides itself"),
    KEY_MAP(stated_tower, drive, gradin_drive, "drive", &drive_table, "what hoists it"),
    KEY_LIST(stated_tower, level, n_level, stated_level, "levels", &level_table,
             "storeys of seats, from the lowest up", REQUIRED, .are_names_unique = true)};
const schema_table tower_table = {.name = "tower",
                                  .meaning = "a seating tower on hoists",
                                  TABLE_(stated_tower, tower_keys),
                                  TABLE_AT(stated_tower),
                                  .of_kind = &tower_kind_table,
                                  .style = STYLE_BLOCK};
static const schema_table tower_kind_table = {.name = "kind of tower",
                                              .meaning = "what towers of this kind share",
                                              TABLE_(stated_tower, tower_keys),
                                              .partial_of = &tower_table,
                                              .style = STYLE_BLOCK};

static const schema_key kinds_keys[] = {
    KEY_LIST(stated_kinds, grid, n_grid, stated_grid, "lifts", &grid_kind_table,
             "kinds of lift grid", .are_names_unique = true),
    KEY_LIST(stated_kinds, tower, n_tower, stated_tower, "towers", &tower_kind_table,
             "kinds of tower", .are_names_unique = true)};
const schema_table kinds_table = {.name = "kinds",
                                  .meaning = "what several machines have in common, stated once; "
                                             "an entry's own keys win, also within maps",
                                  TABLE_(stated_kinds, kinds_keys),
                                  .style = STYLE_BLOCK};

static const schema_key closing_keys[] = {
    KEY_TEXT(stated_closing, name, "name", "a curtain, a fire curtain, a wall", REQUIRED),
    KEY_SPECTRUM(stated_closing, r_db, "r_db", "its sound reduction index", REQUIRED, UNIT(DB),
                 LIMITS(0, 90)),
    KEY_SPECTRUM(stated_closing, absorption, "absorption", "share of sound that it swallows",
                 REQUIRED, UNIT(SHARE), LIMITS(0, 1)),
    KEY_NUMBER(stated_closing, rate_per_s, "move_s", "time to come down; 0: at once",
               UNIT(S_TO_RATE), LIMITS(0, 36000)),
    KEY_MAP(stated_closing, drive, gradin_drive, "drive", &share_drive_table, "what moves it")};
static const schema_table closing_table = {.name = "closing element",
                                           .meaning = "what comes down in the arch's opening",
                                           TABLE_(stated_closing, closing_keys)};

static const schema_key arch_keys[] = {
    KEY_TEXT(stated_arch, name, "name", "of the arch", REQUIRED),
    KEY_POINTS(stated_arch, line_m, n_line, "line", "its line on plan, wall to wall: two points",
               REQUIRED, UNIT(LENGTH), ITEMS(2, 2, "points")),
    KEY_LENGTH(stated_arch, thickness_m, "thickness", "of its panels", REQUIRED, LIMITS(0.02, 3)),
    KEY_RANGE(stated_arch, opening_m, "opening", "least and greatest clear width", REQUIRED,
              UNIT(LENGTH), LIMITS(0.5, 100)),
    KEY_RANGE(stated_arch, trim_m, "trim", "least and greatest height of the header's underside",
              REQUIRED, UNIT(LENGTH), LIMITS(0.5, 60)),
    KEY_NUMBER(stated_arch, speed_ms, "speed_ms", "speed of the trim", REQUIRED, UNIT(M_S),
               LIMITS(1e-5, 2)),
    KEY_NUMBER(stated_arch, opening_speed_ms, "opening_speed_ms", "speed of the clear width",
               UNIT(M_S), LIMITS(1e-5, 2), .preset_note = "speed_ms"),
    KEY_MAP_PTR(stated_arch, opening_drive, stated_opening_drive, "opening_drive",
                &opening_drive_table, "what moves the clear width"),
    KEY_MAP_PTR(stated_arch, closing, stated_closing, "closing", &closing_table,
                "what comes down in the opening"),
    KEY_MAP(stated_arch, drive, gradin_drive, "drive", &drive_table, "what moves the trim")};
static const schema_table arch_table = {.name = "arch",
                                        .meaning = "a proscenium arch that flies in",
                                        TABLE_(stated_arch, arch_keys),
                                        TABLE_AT(stated_arch)};

static const char *const ways_under[] = {"nowhere", "stairs", "ramp", NULL};
static const schema_key panel_keys[] = {
    KEY_TEXT(stated_panel, name, "name", "of the panel", REQUIRED),
    KEY_POLYGON(stated_panel, polygon, "polygon", "its outline on plan", REQUIRED),
    KEY_NUMBER(stated_panel, stair_top_deg, "stair_top_deg",
               "bearing from its middle to the side at which the stair below comes up", UNIT(DEG),
               LIMITS(0, 360), UNSTATED("not stated")),
    KEY_CHOICE(stated_panel, leads_out, "leads_out", ways_under,
               "what leads out of the hall under it, while it is open: stairs are an exit, a ramp "
               "one for wheelchairs, too"),
    KEY_LENGTH(stated_panel, exit_width_m, "exit_width", "its narrowest clear width on the way out",
               LIMITS(0.3, 20), UNSTATED("as wide as the side at which it comes up")),
    KEY_NUMBER(stated_panel, rate_per_s, "move_s", "time to take it away; 0: at once",
               UNIT(S_TO_RATE), LIMITS(0, 36000)),
    KEY_MAP(stated_panel, load_limit, gradin_load_limit, "load_limit", &load_limit_table,
            "what it may carry"),
    KEY_MAP(stated_panel, drive, gradin_drive, "drive", &share_drive_table, "what moves it")};
static const schema_rule panel_rules[] = {
    {RULE_NEEDS,
     {"leads_out", "stair_top_deg"},
     "needs the side at which one enters it; give stair_top_deg",
     true}};
static const schema_table panel_table = {.name = "floor panel",
                                         .meaning = "a panel over a vomitory's stair or ramp",
                                         TABLE_(stated_panel, panel_keys),
                                         TABLE_RULES(panel_rules),
                                         TABLE_AT(stated_panel),
                                         .is_line = true};

static const schema_key interlock_keys[] = {
    KEY_TEXT(stated_interlock, name, "name", "of the rule", REQUIRED),
    KEY_TEXT(stated_interlock, mover, "machine",
             "who may move: a machine, a grid, or sections FROM..TO", REQUIRED),
    KEY_RANGE(stated_interlock, where, "at",
              "the rule binds while the machine is in this range, and to enter it", UNIT(MACHINE),
              UNSTATED("it binds every move, and no place")),
    KEY_TEXT(stated_interlock, holder, "while",
             "the other machine, grid or sections FROM..TO that must stand right", REQUIRED),
    KEY_RANGE(stated_interlock, within, "within", "range in which every one of them must stand",
              REQUIRED, UNIT(MACHINE))};
static const schema_table interlock_table = {
    .name = "interlock",
    .meaning = "a machine may move, and may stand in `at`, only while another stands `within`",
    TABLE_(stated_interlock, interlock_keys),
    TABLE_AT(stated_interlock),
    .is_line = true};

static const schema_key machines_keys[] = {
    KEY_MAP(stated_machines, kinds, stated_kinds, "kinds", &kinds_table,
            "what several towers or lift grids have in common"),
    KEY_LIST(stated_machines, grid, n_grid, stated_grid, "lifts", &grid_table,
             "grids of lift sections", .are_names_unique = true),
    KEY_LIST(stated_machines, tower, n_tower, stated_tower, "towers", &tower_table,
             "seating towers on hoists", .are_names_unique = true),
    KEY_MAP_PTR(stated_machines, arch, stated_arch, "arch", &arch_table,
                "a proscenium arch that flies in"),
    KEY_LIST(stated_machines, panel, n_panel, stated_panel, "panels", &panel_table,
             "floor panels over vomitory stairs", .are_names_unique = true),
    KEY_MAP_PTR(stated_machines, crew, stated_crew, "crew", &crew_table,
                "who changes the hall over, and with what"),
    KEY_MAP(stated_machines, loads, stated_loads, "loads", &loads_table,
            "what people weigh, and what the fixed floor carries"),
    KEY_LIST(stated_machines, interlock, n_interlock, stated_interlock, "interlocks",
             &interlock_table, "rules between machines", .are_names_unique = true)};
const schema_table machines_table = {.name = "machines",
                                     .meaning = "what moves, what it carries, who moves it",
                                     TABLE_(stated_machines, machines_keys),
                                     .style = STYLE_BLOCK};
