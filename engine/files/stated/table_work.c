/* The keys of a crew's hours: shifts, breaks, steps, rates, and how far times may be off. */
#include "files/stated/venue.h"

static const schema_key shift_keys[] = {
    KEY_CLOCK(stated_shift, from, "from", "time of day, \"hh:mm\"", REQUIRED),
    KEY_CLOCK(stated_shift, to, "to", "time of day, \"hh:mm\"; not after `from`: on the next day",
              REQUIRED)};
const schema_table shift_table = {.name = "shift",
                                  .meaning = "hours in which the crew works",
                                  TABLE_(stated_shift, shift_keys),
                                  TABLE_AT(stated_shift),
                                  .is_line = true};

static const schema_key rest_keys[] = {
    KEY_TEXT(stated_rest, name, "name", "meal, rest", REQUIRED),
    KEY_CLOCK(stated_rest, at_time, "at", "time of day, \"hh:mm\""),
    KEY_NUMBER(stated_rest, after_h, "after_hours",
               "of work since the start or since the last stop at least as long", UNIT(HOURS),
               LIMITS(0.25, 24), UNSTATED("`at` holds")),
    KEY_NUMBER(stated_rest, minutes, "minutes", "how long it is", REQUIRED, UNIT(MINUTES),
               LIMITS(1, 720)),
    KEY_FLAG(stated_rest, is_paid, "paid", "its time is paid")};
static const schema_rule rest_rules[] = {
    {RULE_ONE_OF, {"at", "after_hours"}, "needs 'at' or 'after_hours'", false}};
const schema_table rest_table = {.name = "break",
                                 .meaning = "a meal or rest of the whole crew",
                                 TABLE_(stated_rest, rest_keys),
                                 TABLE_RULES(rest_rules),
                                 TABLE_AT(stated_rest),
                                 .is_line = true};

static const char *const places[] = {
    "first", "before_machines", "before_set", "after_machines", "last", NULL};
static const schema_key step_keys[] = {
    KEY_TEXT(stated_step, name, "name", "lock-out, inspection, sign-off", REQUIRED),
    KEY_TEXT(stated_step, task, "task", "what is done", .preset_note = "the name says it"),
    KEY_CHOICE(stated_step, when, "when", places,
               "before all else; before machines move; when they stand, before anything is set; "
               "when they stand; after all else",
               REQUIRED),
    KEY_NUMBER(stated_step, minutes, "minutes", "how long it takes", REQUIRED, UNIT(MINUTES),
               LIMITS(1, 1440)),
    KEY_INTEGER(stated_step, crew, "crew", "people who do it", LIMITS(0, 1000), PRESET(1))};
const schema_table step_table = {.name = "step",
                                 .meaning = "work that moves nothing",
                                 TABLE_(stated_step, step_keys),
                                 .is_line = true};

static const schema_key rates_keys[] = {
    KEY_NUMBER(stated_rates, day, "day", "cost of a person's hour", REQUIRED, LIMITS(0.01, 1e6)),
    KEY_NUMBER(stated_rates, night, "night", "the same in the night", LIMITS(0.01, 1e6),
               UNSTATED("as by day")),
    KEY_CLOCK(stated_rates, night_from, "night_from", "time of day, \"hh:mm\"",
              .preset_note = "no night"),
    KEY_CLOCK(stated_rates, night_to, "night_to", "time of day, \"hh:mm\"",
              .preset_note = "no night"),
    KEY_NUMBER(stated_rates, overtime, "overtime", "the same beyond overtime_after_hours",
               LIMITS(0.01, 1e6), UNSTATED("no overtime")),
    KEY_NUMBER(stated_rates, overtime_after_h, "overtime_after_hours",
               "paid hours since the shift began", UNIT(HOURS), LIMITS(0.25, 24),
               UNSTATED("no overtime")),
    KEY_TEXT(stated_rates, currency, "currency", "of the rates", .preset_note = "not said")};
static const schema_rule rates_rules[] = {
    {RULE_NEEDS, {"night", "night_from"}, "night needs night_from and night_to", true},
    {RULE_NEEDS, {"night_from", "night_to"}, "night_from needs night_to", true},
    {RULE_NEEDS, {"night_to", "night"}, "night_to needs night, its rate", true},
    {RULE_NEEDS, {"overtime", "overtime_after_hours"}, "overtime needs overtime_after_hours", true},
    {RULE_NEEDS,
     {"overtime_after_hours", "overtime"},
     "overtime_after_hours needs overtime, its rate",
     true}};
const schema_table rates_table = {.name = "rates",
                                  .meaning = "what an hour of a person costs",
                                  TABLE_(stated_rates, rates_keys),
                                  TABLE_RULES(rates_rules),
                                  TABLE_AT(stated_rates)};

#define SPREAD(kind, word, what)                                                                   \
    KEY_ROW(stated_spreads, factor[kind], 3, word,                                                 \
            "factors on the time to " what ": [least, likely, most]", LIMITS(0.1, 20),             \
            UNSTATED("as planned"))
static const schema_key spreads_keys[] = {
    SPREAD(GRADIN_MOVE_STRIKE, "strike", "take seats, rails and scenery away"),
    SPREAD(GRADIN_MOVE_MACHINE, "machines", "move machines"),
    SPREAD(GRADIN_MOVE_SET, "set", "put seats, rails and scenery up"),
    SPREAD(GRADIN_MOVE_STEP, "steps", "do steps")};
const schema_table spreads_table = {.name = "contingency",
                                    .meaning = "how much less or more time moves may take",
                                    TABLE_(stated_spreads, spreads_keys),
                                    TABLE_AT(stated_spreads)};
