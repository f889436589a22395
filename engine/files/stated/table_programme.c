/* The keys of a programme. */
#include "files/stated/programme.h"

static const schema_key layout_keys[] = {
    KEY_TEXT(stated_stand, name, "name", "what shows call it", REQUIRED),
    KEY_FILE(stated_stand, file, "file", "of the layout", REQUIRED)};
static const schema_table layout_table = {.name = "layout of a programme",
                                          .meaning = "one that shows may be played in",
                                          TABLE_(stated_stand, layout_keys),
                                          TABLE_AT(stated_stand),
                                          .is_line = true};

static const schema_key show_keys[] = {
    KEY_TEXT(stated_booking, name, "name", "of the show", REQUIRED),
    KEY_TEXT(stated_booking, start, "start", "when it begins, local, YYYY-MM-DDThh:mm", REQUIRED),
    KEY_TEXT(stated_booking, end, "end", "when it is over, local", REQUIRED),
    KEY_NAMES(stated_booking, layout, n_layout, "layouts", "layout",
              "those it may be played in, best first; not stated: any, none of them better",
              ITEMS(1, GRADIN_MAX_PROGRAMME_LAYOUT, "layouts"), .preset_note = "any"),
    KEY_INTEGER(stated_booking, seats, "seats", "least that it needs", LIMITS(0, GRADIN_MAX_SEAT)),
    KEY_INTEGER(stated_booking, wheelchairs, "wheelchairs",
                "least places for wheelchairs that it needs", LIMITS(0, 1000))};
static const schema_table show_table = {.name = "show of a programme",
                                        .meaning = "one performance, or a run without a changeover",
                                        TABLE_(stated_booking, show_keys),
                                        TABLE_AT(stated_booking),
                                        .is_line = true};

static const schema_key before_keys[] = {
    KEY_TEXT(stated_before, layout, "layout", "its name", REQUIRED),
    KEY_TEXT(stated_before, from, "from", "from when on it may be changed, local, YYYY-MM-DDThh:mm",
             REQUIRED)};
static const schema_table before_table = {.name = "before a programme",
                                          .meaning =
                                              "what stands in the hall before the first show",
                                          TABLE_(stated_before, before_keys),
                                          TABLE_AT(stated_before)};

static const schema_key night_keys[] = {
    KEY_CLOCK(stated_night, from, "from", "time of day, \"hh:mm\"", REQUIRED),
    KEY_CLOCK(stated_night, to, "to", "time of day, \"hh:mm\"", REQUIRED),
    KEY_NUMBER(stated_night, factor, "factor", "what an hour of work costs then of one by day",
               LIMITS(1, 10), PRESET(1))};
static const schema_table night_table = {.name = "night of a programme",
                                         .meaning = "hours of work that cost more",
                                         TABLE_(stated_night, night_keys)};

static const char *const formats[] = {"gradin-programme-1", NULL};
static const schema_key programme_keys[] = {
    KEY_HEAD(formats),
    KEY_TEXT(stated_programme, name, "name", "of the programme", REQUIRED),
    KEY_LIST(stated_programme, layout, n_layout, stated_stand, "layouts", &layout_table,
             "those of the hall", REQUIRED, ITEMS(1, GRADIN_MAX_PROGRAMME_LAYOUT, "layouts"),
             .are_names_unique = true),
    KEY_LIST(stated_programme, show, n_show, stated_booking, "shows", &show_table,
             "in the order that they are played", REQUIRED, ITEMS(1, GRADIN_MAX_BOOKING, "shows")),
    KEY_MAP_PTR(stated_programme, before, stated_before, "before", &before_table,
                "what stands in the hall before; not stated: the first show's layout"),
    KEY_NUMBER(stated_programme, clear_min, "clear_minutes",
               "after a show, before a changeover may begin", UNIT(MINUTES), LIMITS(0, 10080)),
    KEY_NUMBER(stated_programme, ready_min, "ready_minutes",
               "before a show, when its changeover must be done", UNIT(MINUTES), LIMITS(0, 10080)),
    KEY_NUMBER(stated_programme, margin_min, "margin_minutes",
               "of each gap between shows that stays free besides", UNIT(MINUTES),
               LIMITS(0, 10080)),
    KEY_MAP_PTR(stated_programme, night, stated_night, "night", &night_table,
                "hours of work that cost more"),
    KEY_NUMBER(stated_programme, hour_cost, "hour_cost",
               "of one person's hour by day, in your currency", LIMITS(0, 1e6), PRESET(1)),
    KEY_NUMBER(stated_programme, step_cost, "step_cost",
               "what it is worth to play a show in a layout one step further up its list",
               LIMITS(0, 1e9))};
static const schema_table programme_table = {.name = "programme",
                                             .meaning = "a run of shows in one hall",
                                             TABLE_(stated_programme, programme_keys),
                                             .style = STYLE_BLOCK};
const schema_file programme_schema = {"gradin-programme-1", "programme",
                                      "A run of shows in one hall, and the layouts that it has.",
                                      &programme_table};
