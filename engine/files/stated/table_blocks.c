/* The keys of seating blocks and rails. */
#include "files/stated/layout.h"

#define STAGGER_KEY(T)                                                                             \
    KEY_NUMBER(T, stagger, "stagger",                                                              \
               "share of a seat by which every other row is shifted to the right of who sits "     \
               "there; below 0 to the left",                                                       \
               UNIT(SHARE), LIMITS(-1, 1))
#define ROW_SEAT_KEY(T)                                                                            \
    KEY_NUMBERS(T, row_seat, n_row_seat, "seats", "of each row from the front", LIMITS(1, 1000),   \
                ITEMS(1, GRADIN_MAX_BLOCK_ROW, NULL))
#define ROWS_KEY(T)                                                                                \
    KEY_INTEGER(T, n_row, "rows", "of seats", REQUIRED, LIMITS(1, GRADIN_MAX_BLOCK_ROW))

static const schema_key straight_keys[] = {
    KEY_POINT(stated_straight, front_m, "front", "middle of the first row on plan", REQUIRED),
    KEY_NUMBER(stated_straight, facing_deg, "facing_deg", "bearing that the seats face", REQUIRED,
               UNIT(DEG), LIMITS(0, 360)),
    ROWS_KEY(stated_straight),
    KEY_INTEGER(stated_straight, n_seat, "seats", "in each row", REQUIRED, LIMITS(1, 1000),
                PRESET(1)),
    ROW_SEAT_KEY(stated_straight),
    STAGGER_KEY(stated_straight)};
static const schema_table straight_table = {.name = "straight rows",
                                            .meaning = "rows of equal length, one behind another",
                                            TABLE_(stated_straight, straight_keys),
                                            TABLE_AT(stated_straight)};

static const schema_key curved_keys[] = {
    KEY_POINT(stated_curved, centre_m, "centre", "of the arcs on plan", REQUIRED),
    KEY_LENGTH(stated_curved, radius_m, "radius", "of the first row's eyes", REQUIRED,
               LIMITS(0.5, 200)),
    KEY_NUMBER(stated_curved, from_deg, "from_deg", "bearing from the centre where rows begin",
               REQUIRED, UNIT(DEG), LIMITS(0, 360)),
    KEY_NUMBER(stated_curved, to_deg, "to_deg",
               "bearing where they end, clockwise; more than from_deg by at most 360", REQUIRED,
               UNIT(DEG), LIMITS(0, 720)),
    ROWS_KEY(stated_curved),
    KEY_INTEGER(stated_curved, n_seat, "seats", "in each row, in the middle of its arc",
                LIMITS(1, 1000), .preset_note = "as many as the arc holds"),
    ROW_SEAT_KEY(stated_curved),
    KEY_NUMBER(stated_curved, stagger, "stagger",
               "share of a seat that every other row loses, and is shifted by half of, clockwise "
               "about the centre; below 0 the other way",
               UNIT(SHARE), LIMITS(-1, 1))};
static const schema_table curved_table = {.name = "curved rows",
                                          .meaning = "rows on arcs about one centre",
                                          TABLE_(stated_curved, curved_keys),
                                          TABLE_AT(stated_curved)};

static const schema_key fill_keys[] = {
    KEY_TEXT(stated_fill, from, "from", "section, or the south-west one of a field", REQUIRED),
    KEY_TEXT(stated_fill, to, "to", "north-east section of the field",
             .preset_note = "`from` alone"),
    KEY_NUMBER(stated_fill, facing_deg, "facing_deg", "bearing that the seats face", UNIT(DEG),
               LIMITS(0, 360), UNSTATED("as the treads face")),
    STAGGER_KEY(stated_fill)};
static const schema_table fill_table = {.name = "filled sections",
                                        .meaning = "as many rows as the treads of lifts hold",
                                        TABLE_(stated_fill, fill_keys),
                                        TABLE_AT(stated_fill)};

static const schema_key fan_keys[] = {
    KEY_POINT(stated_fan, point_m, "point", "from which both lines run", REQUIRED),
    KEY_NUMBER(stated_fan, from_deg, "from_deg", "bearing of the first line", REQUIRED, UNIT(DEG),
               LIMITS(0, 360)),
    KEY_NUMBER(stated_fan, to_deg, "to_deg",
               "bearing of the last, clockwise; more than from_deg by less than 360", REQUIRED,
               UNIT(DEG), LIMITS(0, 720))};
static const schema_table fan_table = {.name = "fan",
                                       .meaning = "seats that lie not wholly between two lines "
                                                  "from one point are left out",
                                       TABLE_(stated_fan, fan_keys),
                                       TABLE_AT(stated_fan)};
static const schema_key trim_keys[] = {
    KEY_FLAG(stated_trim, to_room, "to_room", "leave out seats that reach through the walls"),
    KEY_MAP_PTR(stated_trim, fan, stated_fan, "fan", &fan_table, "leave out seats beside a fan")};
static const schema_table trim_table = {
    .name = "trim", .meaning = "seats that rows lose", TABLE_(stated_trim, trim_keys)};

static const char *const supports[] = {"floor", "lifts", NULL};
static const char *const places[] = {"seat", "wheelchair", "companion", NULL};
static const schema_key block_keys[] = {
    KEY_TEXT(stated_block, name, "name", "of the block; seats are NAME-row-number", REQUIRED),
    KEY_TEXT(stated_block, level, "level", "that it is part of, such as balcony: a map of its own",
             .preset_note = "the main floor"),
    KEY_CHOICE(stated_block, on, "stands_on", supports,
               "the floor, with a platform of its own, or the treads of lifts", REQUIRED,
               .old = "on"),
    KEY_LENGTH(stated_block, seat_width_m, "seat_width", "from seat to seat", REQUIRED,
               LIMITS(0.4, 3)),
    KEY_LENGTH(
        stated_block, seat_depth_m, "seat_depth",
        "of a seat from its back to its front edge, tipped up where it tips: what it leaves of "
        "the row depth is the clearway",
        LIMITS(0.1, 2), UNSTATED("the clearway is not checked")),
    KEY_LENGTH(stated_block, row_depth_m, "row_depth", "of every row", REQUIRED, LIMITS(0.4, 5),
               .preset = NAN),
    KEY_NUMBERS(stated_block, depth_m, n_depth, "row_depth", "of each row from the front",
                UNIT(LENGTH), LIMITS(0.4, 5), ITEMS(0, GRADIN_MAX_BLOCK_ROW, NULL)),
    KEY_LENGTH(stated_block, riser_m, "riser",
               "rise of every row above the one before; the first stands at `base`", LIMITS(0, 2)),
    KEY_NUMBERS(stated_block, rise_m, n_rise, "riser",
                "of each row from the front, of the first above `base`", UNIT(LENGTH), LIMITS(0, 2),
                ITEMS(0, GRADIN_MAX_BLOCK_ROW, NULL)),
    KEY_NUMBER(
        stated_block, slope, "slope",
        "of a floor of its own, rise over run, in place of `riser`: each row stands on it at "
        "its middle, the first at `base`",
        LIMITS(0, 0.25)),
    KEY_LENGTH(stated_block, base_m, "base", "height of its front row in the hall; 0: on the floor",
               LIMITS(-5, 20)),
    KEY_CHOICES(stated_block, pattern, n_pattern, "pattern", places,
                "kinds of place, repeated along each row", ITEMS(1, 16, "places"),
                .needs = "is no place; allowed: seat, wheelchair, companion",
                .preset_note = "seats alone"),
    KEY_NAME(stated_block, seating, "seating", "seating", "stock of seats that it is made of",
             .preset_note = "the venue's first"),
    KEY_NUMBER(stated_block, platform_kn_m2, "platform_kn_m2", "weight of the platform under it",
               UNIT(KN_M2), LIMITS(0, 50)),
    KEY_MAP_PTR(stated_block, straight, stated_straight, "straight", &straight_table,
                "rows of equal length"),
    KEY_MAP_PTR(stated_block, curved, stated_curved, "curved", &curved_table, "rows on arcs"),
    KEY_MAP_PTR(stated_block, fill, stated_fill, "fill", &fill_table,
                "as many rows as the treads of lifts hold"),
    KEY_MAP_PTR(stated_block, trim, stated_trim, "trim", &trim_table, "seats that rows lose"),
    KEY_FILE(stated_block, file, "file",
             "seat list: CSV `row,number,x,y,facing_deg,kind`, lengths in the layout's units",
             .needs = "must be the name of a seat list")};
static const schema_rule block_rules[] = {
    {RULE_ONE_OF,
     {"straight", "curved", "fill", "file"},
     "needs exactly one of straight, curved, fill, file",
     false},
    {RULE_CLASH, {"slope", "riser"}, "rises by itself; leave out riser", true}};
const schema_table block_table = {.name = "block",
                                  .meaning = "seats that belong together",
                                  TABLE_(stated_block, block_keys),
                                  TABLE_RULES(block_rules),
                                  TABLE_AT(stated_block),
                                  .style = STYLE_BLOCK};

static const char *const rail_kinds[] = {"bar", "solid", "posts", NULL};
static const schema_key rail_keys[] = {
    KEY_TEXT(gradin_rail_entry, name, "name", "of the rail", REQUIRED),
    KEY_CHOICE(gradin_rail_entry, kind, "kind", rail_kinds, "bars, a solid panel, or posts alone",
               REQUIRED),
    KEY_POINTS(gradin_rail_entry, point_m, n_point, "path", "its line on plan", REQUIRED,
               UNIT(LENGTH), .n_least = 2),
    KEY_LENGTH(gradin_rail_entry, height_m, "height", "of its top above its foot", REQUIRED,
               LIMITS(0.1, 5)),
    KEY_LENGTH(gradin_rail_entry, thickness_m, "thickness", "of bars and posts", LIMITS(0.01, 0.5),
               PRESET(0.05)),
    KEY_INTEGER(gradin_rail_entry, n_bar, "bars", "bars one above the other", LIMITS(1, 20),
                PRESET(1)),
    KEY_LENGTH(gradin_rail_entry, post_spacing_m, "post_spacing", "from post to post",
               LIMITS(0.1, 10), PRESET(1.5)),
    KEY_LENGTH(gradin_rail_entry, foot_m, "foot", "height of its foot", LIMITS(-20, 100),
               UNSTATED("what is under each point of its path; refused where it could as well "
                        "stand higher up")),
    KEY_TEXT(gradin_rail_entry, level, "level",
             "of the seats that it guards: stands on their level, drawn on their maps",
             .preset_note = "on all maps")};
const schema_table rail_table = {
    .name = "rail",
    .meaning = "a rail that the crew sets up; local code and a licensed professional decide on "
               "guards",
    TABLE_(gradin_rail_entry, rail_keys),
    TABLE_PLACE(gradin_rail_entry),
    .is_line = true};
