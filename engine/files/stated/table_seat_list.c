/* The keys of a seat list that another program wrote: which column holds what, in which units. */
#include "files/stated/layout.h"

#define COLUMN(m, ...) KEY_TEXT(stated_columns, m, #m, __VA_ARGS__)
static const schema_key column_keys[] = {
    KEY_NAMES(stated_columns, place, n_place, "place", "column",
              "of the place on the drawing: [to the right, up]", REQUIRED,
              .needs = "must be a column's name", ITEMS(2, 2, "columns")),
    COLUMN(floor, "height of the floor under the seat", .preset_note = "`base` for all"),
    COLUMN(eye, "height of the eye: the floor lies the layout's own eye height below it",
           .preset_note = "`base` for all"),
    COLUMN(facing, "the way the seat faces, see `facing_as`",
           .preset_note = "`faces` or `facing_deg` for all"),
    COLUMN(row, "label of the row, letters or figures, kept as written", REQUIRED),
    COLUMN(seat, "label of the seat in its row, kept as written", REQUIRED),
    COLUMN(block, "name of the block", .preset_note = "`name` for all"),
    COLUMN(level, "level of the block", .preset_note = "`level` for all"),
    COLUMN(kind, "kind of place; empty: a seat", .preset_note = "seats alone")};
static const schema_rule column_rules[] = {
    {RULE_CLASH,
     {"floor", "eye"},
     "cannot stand beside eye: one of the two gives the height",
     true}};
static const schema_table columns_table = {
    .name = "columns",
    .meaning = "what the first line of a seat list calls each column",
    TABLE_(stated_columns, column_keys),
    TABLE_RULES(column_rules),
    TABLE_AT(stated_columns)};

#define WORDS(m, ...)                                                                              \
    KEY_NAMES(stated_place_words, m, n_##m, #m, "kind", __VA_ARGS__, .needs = "must be a word",    \
              ITEMS(1, 20, "words"))
static const schema_key kind_keys[] = {
    WORDS(seat, "words for a seat", .preset_note = "seat"),
    WORDS(wheelchair, "words for a wheelchair's place", .preset_note = "wheelchair"),
    WORDS(companion, "words for a companion's seat", .preset_note = "companion")};
static const schema_table place_words_table = {.name = "words of kinds",
                                               .meaning =
                                                   "words of the column `kind`; any other word "
                                                   "is refused",
                                               TABLE_(stated_place_words, kind_keys),
                                               TABLE_AT(stated_place_words)};

static const char *const units[] = {"m", "cm", "mm", "ft", "in", NULL};
static const char *const separators[] = {"comma", "semicolon", "tab", NULL};
static const char *const decimals[] = {"point", "comma", NULL};
static const char *const facings[] = {"bearing", "angle", NULL};
static const char *const supports[] = {"floor", "lifts", NULL};
static const schema_key seat_list_keys[] = {
    KEY_FILE(stated_seat_list, file, "file",
             "CSV with a first line of column names, or a drawing (.dxf)", REQUIRED),
    KEY_CHOICE(stated_seat_list, units, "units", units, "of its places and heights", REQUIRED),
    KEY_MAP(stated_seat_list, columns, stated_columns, "columns", &columns_table,
            "which column holds what", REQUIRED),
    KEY_CHOICE(stated_seat_list, separator, "separator", separators, "between cells of CSV"),
    KEY_CHOICE(stated_seat_list, decimal, "decimal", decimals,
               "sign before decimals; a drawing's own numbers have a point"),
    KEY_TEXT(stated_seat_list, name, "name", "of the block, where no column gives it",
             .preset_note = "the column `block`"),
    KEY_TEXT(stated_seat_list, level, "level", "that all are part of, where no column gives it",
             .preset_note = "the main floor"),
    KEY_NAMES(stated_seat_list, only, n_only, "only", "block",
              "blocks of the column `block` that are taken", .needs = "must be a block's name",
              ITEMS(1, 200, "blocks"), .preset_note = "all"),
    KEY_MAP(stated_seat_list, kinds, stated_place_words, "kinds", &place_words_table,
            "words for kinds of places"),
    KEY_CHOICE(stated_seat_list, facing_as, "facing_as", facings,
               "what the column `facing` holds, in degrees as seen on the drawing: a bearing "
               "clockwise from up, or an angle counterclockwise from the right"),
    KEY_POINT(stated_seat_list, faces_m, "faces", "point on the hall's plan that every seat faces",
              UNSTATED("the column `facing`, or `facing_deg`")),
    KEY_NUMBER(stated_seat_list, facing_deg, "facing_deg",
               "bearing on the hall's plan that all seats face", UNIT(DEG), LIMITS(0, 360),
               UNSTATED("the column `facing`, or `faces`")),
    KEY_POINT(stated_seat_list, origin_m, "origin",
              "where the drawing's origin lies on the hall's plan"),
    KEY_LENGTH(stated_seat_list, origin_height_m, "origin_height",
               "height in the hall of the drawing's height 0", LIMITS(-100, 100)),
    KEY_NUMBER(stated_seat_list, turn_deg, "turn_deg",
               "clockwise turn of the drawing about its origin onto the plan", UNIT(DEG),
               LIMITS(-360, 360)),
    KEY_FLAG(stated_seat_list, is_y_down, "y_down",
             "y runs down the drawing, as on screens, and not up"),
    KEY_CHOICE(stated_seat_list, on, "stands_on", supports,
               "the floor, with a platform of its own, or the treads of lifts"),
    KEY_LENGTH(stated_seat_list, base_m, "base",
               "height of the floor where no column gives it, in the hall", LIMITS(-5, 60)),
    KEY_LENGTH(stated_seat_list, seat_width_m, "seat_width", "from seat to seat", REQUIRED,
               LIMITS(0.4, 3)),
    KEY_LENGTH(stated_seat_list, seat_depth_m, "seat_depth",
               "of a seat from its back to its front edge, tipped up where it tips", LIMITS(0.1, 2),
               UNSTATED("the clearway is not checked")),
    KEY_LENGTH(stated_seat_list, row_depth_m, "row_depth", "of every row", REQUIRED,
               LIMITS(0.4, 5)),
    KEY_NAME(stated_seat_list, seating, "seating", "seating", "stock of seats that it is made of",
             .preset_note = "the venue's first"),
    KEY_NUMBER(stated_seat_list, platform_kn_m2, "platform_kn_m2",
               "weight of the platform under it", UNIT(KN_M2), LIMITS(0, 50))};
const schema_table seat_list_table = {
    .name = "seat list",
    .meaning = "seats from a drawing or a box office: each block of the file is a block of the "
               "layout, its rows counted from the front",
    TABLE_(stated_seat_list, seat_list_keys),
    TABLE_AT(stated_seat_list),
    .style = STYLE_BLOCK};
