/* The keys of the room, of standing solids, and of a venue's file as a whole. */
#include "files/stated/venue.h"

#define ABSORPTION(m, word, text)                                                                  \
    KEY_SPECTRUM(stated_absorption, m, word, text, REQUIRED, UNIT(SHARE), LIMITS(0, 1))

static const schema_key absorption_keys[] = {
    ABSORPTION(floor, "floor", "of the floor where nobody sits"),
    ABSORPTION(ceiling, "ceiling", "of the ceiling"),
    ABSORPTION(walls, "walls", "of the walls between glass and doors"),
    ABSORPTION(seating, "seating", "of the area of seats, as occupied as the result is to be")};
static const schema_table absorption_table = {.name = "absorption",
                                              .meaning =
                                                  "share of sound that the room's surfaces swallow",
                                              TABLE_(stated_absorption, absorption_keys),
                                              .style = STYLE_BLOCK};

static const schema_key extra_keys[] = {
    KEY_TEXT(gradin_surface, name, "name", "what it is", REQUIRED),
    KEY_NUMBER(gradin_surface, area_m2, "area", "its area", REQUIRED, UNIT(AREA), LIMITS(0, 1e6)),
    KEY_SPECTRUM(gradin_surface, absorption, "absorption", "share of sound that it swallows",
                 REQUIRED, UNIT(SHARE), LIMITS(0, 1))};
static const schema_table extra_table = {.name = "extra absorption",
                                         .meaning = "a surface besides floor, ceiling and walls",
                                         TABLE_(gradin_surface, extra_keys),
                                         .is_line = true};

static const char *const solid_kinds[] = {"column", "slab", "wall", "set", "mesh", NULL};
#define WEIGHT_KEYS                                                                                \
    KEY_NUMBER(stated_solid, mass_kg, "mass_kg", "its own mass, which the surface below carries",  \
               UNIT(KG), LIMITS(0, 1e6)),                                                          \
        KEY_NUMBER(stated_solid, carries_kn, "carries_kn", "load that it bears besides itself",    \
                   UNIT(KN), LIMITS(0, 1e4))
static const schema_key prism_keys[] = {
    KEY_TEXT(stated_solid, name, "name", "what results call it", REQUIRED),
    KEY_CHOICE(stated_solid, kind, "kind", solid_kinds,
               "what it is; a mesh takes its shape from a model file", REQUIRED),
    KEY_POLYGON(stated_solid, polygon, "polygon", "its outline on plan"),
    KEY_POINT(stated_solid, centre_m, "centre", "middle of a round column",
              UNSTATED("a polygon is given")),
    KEY_LENGTH(stated_solid, diameter_m, "diameter", "of a round column", LIMITS(0.01, 20),
               .preset_note = "a polygon is given"),
    KEY_LENGTH(stated_solid, bottom_m, "bottom", "height of its underside", REQUIRED,
               LIMITS(-100, 200)),
    KEY_LENGTH(stated_solid, top_m, "top", "height of its top", REQUIRED, LIMITS(-100, 200)),
    WEIGHT_KEYS};
static const schema_rule prism_rules[] = {
    {RULE_ONE_OF, {"polygon", "centre"}, "needs either polygon, or centre and diameter", false},
    {RULE_NEEDS, {"centre", "diameter"}, "needs either polygon, or centre and diameter", false}};
static const schema_table prism_table = {.name = "upright solid",
                                         .meaning = "a column, slab, wall or set piece",
                                         TABLE_(stated_solid, prism_keys),
                                         TABLE_RULES(prism_rules)};

static const char *const mesh_units[] = {"m", "ft", "mm", NULL};
static const char *const mesh_ups[] = {"z_axis", "y_axis", NULL};
static const char *const old_ups[] = {"z", "y", NULL};
static const schema_key mesh_keys[] = {
    KEY_TEXT(stated_solid, name, "name", "what results call it", REQUIRED),
    KEY_CHOICE(stated_solid, kind, "kind", solid_kinds, "mesh", REQUIRED),
    KEY_NAME(stated_solid, file, "file", "model file", "OBJ or STL with the triangles", REQUIRED),
    KEY_CHOICE(stated_solid, unit, "unit", mesh_units, "of lengths in the model file", REQUIRED),
    KEY_CHOICE(stated_solid, up, "up", mesh_ups, "axis of the model file that points up",
               .old_words = old_ups),
    KEY_POINT(stated_solid, at_m, "at", "where the model's origin stands on plan"),
    KEY_NUMBER(stated_solid, turn_deg, "turn_deg",
               "clockwise turn about the model's origin, seen from above", UNIT(DEG),
               LIMITS(-360, 360)),
    KEY_LENGTH(stated_solid, bottom_m, "bottom", "height of the model's lowest corner",
               LIMITS(-100, 200), UNSTATED("heights as in the model file")),
    WEIGHT_KEYS};
static const schema_table mesh_table = {.name = "mesh solid",
                                        .meaning = "a solid whose shape stands in a model file",
                                        TABLE_(stated_solid, mesh_keys),
                                        .form_value = "mesh"};
static const schema_table *const solid_forms[] = {&prism_table, &mesh_table, NULL};
const schema_table solid_table = {.name = "solid",
                                  .meaning = "what stands in the way of sight",
                                  .size = sizeof(stated_solid),
                                  .form = solid_forms,
                                  .form_key = "kind",
                                  TABLE_AT(stated_solid),
                                  .is_line = true};

static const schema_key region_keys[] = {
    KEY_TEXT(stated_floor, name, "name", "what results call it", REQUIRED),
    KEY_POLYGON(stated_floor, polygon, "polygon", "its outline on plan", REQUIRED),
    KEY_LENGTH(stated_floor, z_m, "z", "its height; of a slope, at its lowest corner", REQUIRED,
               LIMITS(-30, 50), .preset = NAN),
    KEY_NUMBERS(stated_floor, corner_z_m, n_corner_z, "z",
                "of each corner, on one plane to 10 mm or so", UNIT(LENGTH), LIMITS(-30, 50),
                ITEMS(3, 1000, NULL)),
    KEY_NUMBER(stated_floor, slope, "slope", "its rise over its run", LIMITS(0, 0.5)),
    KEY_NUMBER(stated_floor, uphill_deg, "uphill_deg", "bearing towards which it rises", UNIT(DEG),
               LIMITS(0, 360), UNSTATED("it is level, or as its corners' heights say"))};
static const schema_rule region_rules[] = {
    {RULE_NEEDS, {"slope", "uphill_deg"}, "needs uphill_deg beside it", true},
    {RULE_NEEDS, {"uphill_deg", "slope"}, "needs slope beside it", true}};
const schema_table region_table = {
    .name = "part of the floor",
    .meaning = "a part of the fixed floor that is not at 0: level or sloping",
    TABLE_(stated_floor, region_keys),
    TABLE_RULES(region_rules),
    TABLE_AT(stated_floor),
    .is_line = true};

static const schema_key wheelchair_keys[] = {
    KEY_INTEGER(gradin_wheelchair_rule, from_seats, "from_seats", "count of seats it begins with",
                REQUIRED, LIMITS(0, 100000)),
    KEY_INTEGER(gradin_wheelchair_rule, places, "places", "for wheelchairs that are needed",
                REQUIRED, LIMITS(0, 10000)),
    KEY_INTEGER(gradin_wheelchair_rule, one_more_per, "one_more_per",
                "one place more for so many seats, or part of them, from from_seats on",
                LIMITS(1, 100000), .preset_note = "no more")};
static const schema_table wheelchair_table = {.name = "places for wheelchairs",
                                              .meaning = "a line of the local code's table",
                                              TABLE_(gradin_wheelchair_rule, wheelchair_keys),
                                              .is_line = true};

static const schema_key rules_keys[] = {
    KEY_LENGTH(stated_rules, rail_min_m, "rail_min", "lowest rail that is allowed anywhere",
               REQUIRED, LIMITS(0.3, 2)),
    KEY_LENGTH(stated_rules, own.guard_drop_m, "guard_drop",
               "an edge with a greater drop needs a guard", LIMITS(0.05, 5),
               UNSTATED("edges are not checked")),
    KEY_INTEGER(stated_rules, own.row_one_aisle, "row_seats_one_aisle",
                "most seats of a row with an aisle at one end", LIMITS(1, 200),
                .preset_note = "not checked"),
    KEY_INTEGER(stated_rules, own.row_two_aisles, "row_seats_two_aisles",
                "most seats of a row with an aisle at both ends", LIMITS(1, 400),
                .preset_note = "not checked"),
    KEY_NUMBER(stated_rules, own.exit_mm_person, "exit_mm_person", "exit width per person",
               UNIT(MM_PERSON), LIMITS(0.1, 100), UNSTATED("not checked")),
    KEY_LENGTH(stated_rules, own.row_depth_m, "row_depth_min", "least from row to row",
               LIMITS(0.3, 5), UNSTATED("not checked")),
    KEY_LENGTH(stated_rules, own.clearway_m, "clearway_min",
               "least between two rows of seats, tipped up where they tip", LIMITS(0.1, 3),
               UNSTATED("not checked")),
    KEY_LIST(stated_rules, wheelchair, n_wheelchair, gradin_wheelchair_rule, "wheelchairs",
             &wheelchair_table,
             "places for wheelchairs by count of seats, from the fewest seats up",
             .preset_note = "not checked"),
    KEY_INTEGER(stated_rules, own.companions, "companions_per_wheelchair",
                "least companion seats for each place for a wheelchair, there or needed",
                LIMITS(1, 10), .preset_note = "not checked"),
    KEY_LENGTH(stated_rules, own.way_width_m, "way_width_min",
               "least clear width along the way from a row to an exit", LIMITS(0.5, 1.9),
               UNSTATED("not checked")),
    KEY_LENGTH(stated_rules, own.wheelchair_way_m, "wheelchair_way_min",
               "least clear width along the way from a place for a wheelchair to an exit",
               LIMITS(0.5, 1.9), UNSTATED("not checked")),
    KEY_NUMBER(stated_rules, own.wheelchair_place_slope, "wheelchair_place_slope_max",
               "steepest floor under a place for a wheelchair, rise over run", LIMITS(0.001, 0.5),
               UNSTATED("not checked")),
    KEY_NUMBER(stated_rules, own.wheelchair_way_slope, "wheelchair_way_slope_max",
               "steepest floor on the way from a place for a wheelchair to an exit, rise over run",
               LIMITS(0.001, 0.5),
               UNSTATED("1:12, above which no way for wheelchairs is looked for")),
    KEY_LENGTH(stated_rules, own.travel_m, "travel_max", "longest way from a place to an exit",
               LIMITS(1, 500), UNSTATED("not checked")),
    KEY_LENGTH(stated_rules, own.dead_end_m, "dead_end_max",
               "longest end of an aisle at which no way leads on", LIMITS(0.1, 100),
               UNSTATED("not checked"))};
static const schema_table rules_table = {.name = "local rules",
                                         .meaning =
                                             "what the venue's own code says; gradin knows no code",
                                         TABLE_(stated_rules, rules_keys),
                                         .style = STYLE_BLOCK};

static const schema_key room_keys[] = {
    KEY_POLYGON(stated_room, footprint, "footprint", "corners of the room's walls on plan",
                REQUIRED),
    KEY_LENGTH(stated_room, ceiling_m, "ceiling", "height of the ceiling", REQUIRED,
               LIMITS(2, 100)),
    KEY_MAP(stated_room, absorption, stated_absorption, "absorption", &absorption_table,
            "of its surfaces, 6 octaves 125-4000 Hz or 21 thirds 50-5000 Hz each", REQUIRED),
    KEY_LIST(stated_room, extra, n_extra, gradin_surface, "extra_absorption", &extra_table,
             "surfaces besides floor, ceiling and walls"),
    KEY_LIST(stated_room, solid, n_solid, stated_solid, "solids", &solid_table,
             "what always stands in the room", .are_names_unique = true),
    KEY_LIST(stated_room, floor, n_floor, stated_floor, "floors", &region_table,
             "parts of the fixed floor that are not at 0, such as a raked one; where two overlap, "
             "by at most 20 mm, the first stated counts",
             .are_names_unique = true),
    KEY_MAP(stated_room, rules, stated_rules, "local_rules", &rules_table,
            "what the venue's own code says", REQUIRED)};
const schema_table room_table = {.name = "room",
                                 .meaning = "walls, ceiling, surfaces and what always stands there",
                                 TABLE_(stated_room, room_keys),
                                 .style = STYLE_BLOCK};

static const char *const formats[] = {"gradin-venue-1", NULL};
static const schema_key venue_keys[] = {
    KEY_HEAD(formats), KEY_TEXT(stated_venue, name, "name", "of the venue", REQUIRED),
    KEY_MAP(stated_venue, room, stated_room, "room", &room_table,
            "walls, ceiling, surfaces and what always stands there", REQUIRED),
    KEY_MAP_PTR(stated_venue, facade, stated_facade, "facade", &facade_table,
                "what lets outside noise in"),
    KEY_MAP_PTR(stated_venue, machines, stated_machines, "machines", &machines_table,
                "what moves, what it carries, who moves it")};
static const schema_table venue_table = {.name = "venue",
                                         .meaning = "a hall, its facade and its machines",
                                         TABLE_(stated_venue, venue_keys),
                                         TABLE_AT(stated_venue),
                                         .style = STYLE_BLOCK};
const schema_file venue_schema = {"gradin-venue-1", "venue",
                                  "A hall: its room, its facade and its machines.", &venue_table};
