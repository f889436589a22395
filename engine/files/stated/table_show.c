/* The keys of a show. */
#include "files/stated/show.h"

static const char *const forms[] = {"end_stage",  "thrust", "round", "traverse",
                                    "flat_floor", "custom", NULL};
static const char *const ratings[] = {"clear", "good", "fair", "poor", NULL};
static const char *const voices[] = {"normal", "raised", "loud", "shout", NULL};
static const char *const states[] = {"open", "shut", NULL};
static const char *const weekdays[] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun", NULL};
static const char *const asks[] = {
    "form",   "seats",      "wheelchairs", "stage_area", "clear_share", "good_share", "distance",
    "events", "words_lost", "changeover",  "crew_hours", "takings",     NULL};

static const schema_key must_keys[] = {
    KEY_INTEGER(stated_must, seats, "seats", "least to sell, wheelchair places with them",
                LIMITS(0, GRADIN_MAX_SEAT)),
    KEY_INTEGER(stated_must, wheelchairs, "wheelchairs", "least wheelchair places to sell",
                LIMITS(0, 1000)),
    KEY_NUMBER(stated_must, clear_share, "clear_share",
               "least share of the seats to sell that is rated clear", UNIT(SHARE), LIMITS(0, 1)),
    KEY_NUMBER(stated_must, good_share, "good_share",
               "least share of them that is rated clear or good", UNIT(SHARE), LIMITS(0, 1)),
    KEY_LENGTH(stated_must, distance_m, "distance",
               "most from any seat to sell to the middle of the focus", LIMITS(1, 200),
               UNSTATED("any")),
    KEY_NUMBER(stated_must, stage_m2, "stage_area", "least floor that is looked at", UNIT(AREA),
               LIMITS(0, 10000)),
    KEY_CHOICES(stated_must, not_form, n_not_form, "not_forms", forms,
                "forms that are out of the question", ITEMS(1, GRADIN_N_FORM, "forms"),
                .preset_note = "none")};
static const schema_table must_table = {.name = "must of a show",
                                        .meaning = "what a layout must have",
                                        TABLE_(stated_must, must_keys),
                                        TABLE_AT(stated_must),
                                        .style = STYLE_BLOCK};

static const schema_key quiet_keys[] = {
    KEY_FILE(stated_quiet, traffic, "traffic", "file of a season of traffic", REQUIRED),
    KEY_NUMBER(stated_quiet, limit_dba, "limit_dba", "of an event's maximum at a seat", UNIT(DBA),
               LIMITS(10, 120), UNSTATED("no events are counted")),
    KEY_NUMBER(stated_quiet, events, "events",
               "most over the limit that are expected in a performance", LIMITS(0, 1000),
               UNSTATED("any")),
    KEY_NUMBER(stated_quiet, words_lost_a_show_s, "words_lost_a_show_s",
               "most of a performance in which traffic takes words away", UNIT(S), LIMITS(0, 86400),
               UNSTATED("any"), .old = "words_lost_s"),
    KEY_NUMBER(stated_quiet, percentile, "percentile",
               "so many of 100 seats to sell must have no more", UNIT(PERCENT), LIMITS(1, 100),
               PRESET(90))};
static const schema_rule quiet_rules[] = {
    {RULE_NEEDS, {"events", "limit_dba"}, "events needs limit_dba", .is_at_key = true}};
static const schema_table quiet_table = {.name = "quiet of a show",
                                         .meaning = "how much of the traffic may be heard",
                                         TABLE_(stated_quiet, quiet_keys),
                                         TABLE_RULES(quiet_rules),
                                         TABLE_AT(stated_quiet)};

static const schema_key dates_keys[] = {
    KEY_NAMES(stated_dates, start, n_start, "starts", "time of day",
              "times of day, \"hh:mm\"; each is a performance",
              ITEMS(1, GRADIN_MAX_SHOW_START, "times"), .preset_note = "the traffic's own"),
    KEY_NUMBER(stated_dates, minutes, "minutes", "how long one lasts, intervals included",
               UNIT(MINUTES), LIMITS(1, 1440), UNSTATED("the traffic's own")),
    KEY_CHOICES(stated_dates, weekday, n_weekday, "weekdays", weekdays,
                "days on which it is played", ITEMS(1, GRADIN_N_WEEKDAY, "days"),
                .preset_note = "every day"),
    KEY_TEXT(stated_dates, from, "from", "first day, YYYY-MM-DD, that the traffic must have",
             .preset_note = "the traffic's first"),
    KEY_TEXT(stated_dates, to, "to", "last day, YYYY-MM-DD", .preset_note = "the traffic's last")};
static const schema_table dates_table = {
    .name = "performances of a show",
    .meaning = "when it is played; without dates the days of the traffic stand for those of the "
               "show",
    TABLE_(stated_dates, dates_keys),
    TABLE_AT(stated_dates)};

static const schema_key partner_keys[] = {
    KEY_TEXT(stated_partner, name, "name", "of the other show", REQUIRED),
    KEY_FILE(stated_partner, layout, "layout", "file of its layout", REQUIRED),
    KEY_NUMBER(stated_partner, hours, "hours",
               "free for the changeover between the two, either way", REQUIRED, LIMITS(0, 1000)),
    KEY_NUMBER(stated_partner, margin_min, "margin_minutes", "of these that must stay free",
               UNIT(MINUTES), LIMITS(0, 10080)),
    KEY_CLOCK(stated_partner, start, "start", "time of day at which the work begins, \"hh:mm\"",
              .preset_note = "where shifts and breaks make it longest")};
static const schema_table partner_table = {.name = "partner of a show",
                                           .meaning =
                                               "a show that stands in the house in turn with it",
                                           TABLE_(stated_partner, partner_keys),
                                           TABLE_AT(stated_partner),
                                           .is_line = true};

static const schema_key price_keys[] = {
    KEY_TEXT(stated_price, name, "name", "of the price", REQUIRED),
    KEY_NUMBER(stated_price, price, "price", "of a seat, in your currency", REQUIRED,
               LIMITS(0, 1e6)),
    KEY_NAMES(stated_price, block, n_block, "blocks", "block", "blocks that have it",
              ITEMS(1, 200, "blocks"), .preset_note = "all"),
    KEY_ROW(stated_price, row, 2, "rows", "first and last row, counted from the front",
            LIMITS(1, GRADIN_MAX_BLOCK_ROW), UNSTATED("all")),
    KEY_CHOICE(stated_price, rated, "rated", ratings, "rating at least",
               PRESET(GRADIN_RATING_POOR)),
    KEY_LENGTH(stated_price, distance_m, "distance", "to the middle of the focus at most",
               LIMITS(1, 200), UNSTATED("any"))};
static const schema_table price_table = {
    .name = "price of a show",
    .meaning = "seats that cost the same; a seat has the first price whose keys all fit it",
    TABLE_(stated_price, price_keys),
    TABLE_AT(stated_price),
    .is_line = true};

static const schema_key wished_keys[] = {
    KEY_CHOICE(stated_wished, ask, "for", asks, "the figure", REQUIRED),
    KEY_NUMBER(stated_wished, weight, "weight", "against the other wishes", REQUIRED,
               LIMITS(0, 1000)),
    KEY_NUMBER(stated_wished, nothing_at, "nothing_at",
               "figure that is worth nothing: seats, a share, m or ft, m2 or ft2, events or "
               "seconds of a performance, hours, person-hours, money",
               LIMITS(0, 1e9), UNSTATED("form has none")),
    KEY_NUMBER(stated_wished, full_at, "full_at", "figure that is worth all of the weight",
               LIMITS(0, 1e9), UNSTATED("form has none")),
    KEY_CHOICES(stated_wished, form, n_form, "forms", forms, "of form: those wished, best first",
                ITEMS(1, GRADIN_N_FORM, "forms"))};
static const schema_rule wished_rules[] = {
    {RULE_ANY_OF,
     {"forms", "full_at"},
     "needs nothing_at and full_at, or forms",
     .is_at_key = false},
    {RULE_NEEDS, {"full_at", "nothing_at"}, "full_at needs nothing_at", .is_at_key = true},
    {RULE_NEEDS, {"nothing_at", "full_at"}, "nothing_at needs full_at", .is_at_key = true},
    {RULE_CLASH, {"forms", "full_at"}, "forms are not beside full_at", .is_at_key = true}};
static const schema_table wished_table = {.name = "wish of a show",
                                          .meaning = "what makes one layout better than another",
                                          TABLE_(stated_wished, wished_keys),
                                          TABLE_RULES(wished_rules),
                                          TABLE_AT(stated_wished),
                                          .is_line = true};

static const char *const formats[] = {"gradin-show-1", NULL};
static const schema_key show_keys[] = {
    KEY_HEAD(formats),
    KEY_TEXT(stated_show, name, "name", "of the show", REQUIRED),
    KEY_FILE(stated_show, brief, "brief", "file of what counts as good, for all layouts",
             .preset_note = "each layout's own"),
    KEY_MAP(stated_show, must, stated_must, "must", &must_table, "what a layout must have"),
    KEY_CHOICE(stated_show, sold_to, "sell_down_to", ratings,
               "rating of the worst seats that are sold; worse ones are held back",
               PRESET(GRADIN_RATING_FAIR)),
    KEY_MAP_PTR(stated_show, quiet, stated_quiet, "quiet", &quiet_table,
                "how much of the traffic may be heard"),
    KEY_MAP_PTR(stated_show, dates, stated_dates, "performances", &dates_table,
                "when it is played"),
    KEY_FLAG(stated_show, is_amplified, "amplified", "is the voice amplified"),
    KEY_CHOICE(stated_show, voice, "voice", voices, "effort of the voice on stage", .preset = -1,
               .preset_note = "the traffic's own"),
    KEY_CHOICE(stated_show, shades, "shades", states, "of the facade during the show", .preset = -1,
               .preset_note = "as each layout sets them"),
    KEY_INTEGER(stated_show, crew, "crew", "people on a changeover", LIMITS(0, 500),
                .preset_note = "the venue's"),
    KEY_LIST(stated_show, partner, n_partner, stated_partner, "partners", &partner_table,
             "shows that share the house with it", ITEMS(1, GRADIN_MAX_PARTNER, "partners")),
    KEY_LIST(stated_show, price, n_price, stated_price, "prices", &price_table,
             "what seats cost, best first", ITEMS(1, GRADIN_MAX_PRICE, "prices")),
    KEY_LIST(stated_show, wished, n_wished, stated_wished, "wishes", &wished_table,
             "what ranks the layouts that have all", ITEMS(1, GRADIN_MAX_WISHED, "wishes")),
    KEY_NUMBER(stated_show, confidence, "confidence",
               "with which a level must keep its need to be said to, and one layout must be ahead "
               "of another",
               LIMITS(0.5, 0.999), PRESET(0.84))};
static const schema_table show_table = {.name = "show",
                                        .meaning = "what a show asks of a layout",
                                        TABLE_(stated_show, show_keys),
                                        TABLE_AT(stated_show),
                                        .style = STYLE_BLOCK};
const schema_file show_schema = {"gradin-show-1", "show", "What a show asks of a layout.",
                                 &show_table};
