/* The keys of a study. */
#include "files/stated/study.h"

static const char *const figures[] = {"seats",
                                      "wheelchairs",
                                      "clear",
                                      "good",
                                      "fair",
                                      "poor",
                                      "clear_share",
                                      "good_share",
                                      "poor_share",
                                      "visible_p10",
                                      "visible_median",
                                      "c_p10_mm",
                                      "c_median_mm",
                                      "c_p90_mm",
                                      "distance_p90_m",
                                      "distance_most_m",
                                      "lamax_median_dba",
                                      "lamax_p90_dba",
                                      "lamax_most_dba",
                                      "nc_p90",
                                      "events",
                                      "events_mean",
                                      "words_lost_s",
                                      "changeover_minutes",
                                      "crew_hours",
                                      "glass_kg_m2",
                                      "glass_t",
                                      NULL};
static const char *const best[] = {"least", "most", NULL};

static const schema_key varied_keys[] = {
    KEY_TEXT(stated_varied, name, "name", "what tables and pictures call it",
             .preset_note = "the last key of its path"),
    KEY_TEXT(stated_varied, path[GRADIN_VARIED_VENUE], "venue",
             "path of a key of the venue, such as facade.glazing[west glass].buildup; an entry of "
             "a list by its name or number, [*] for all"),
    KEY_TEXT(stated_varied, path[GRADIN_VARIED_LAYOUT], "layout", "path of a key of the layout"),
    KEY_TEXT(stated_varied, path[GRADIN_VARIED_TRAFFIC], "traffic", "path of a key of the traffic"),
    KEY_TEXT(stated_varied, path[GRADIN_VARIED_BRIEF], "brief", "path of a key of the brief"),
    KEY_TEXT(stated_varied, path[GRADIN_VARIED_OVERFLIGHT], "overflight",
             "path of a key of the layout's overflight"),
    KEY_NAMES(stated_varied, also, n_also, "also", "path",
              "more paths of the same file that take the same value",
              ITEMS(1, GRADIN_MAX_VARIED_PATH - 1, "paths"), .preset_note = "none"),
    KEY_NAMES(stated_varied, value, n_value, "values", "value",
              "what it takes, numbers or words, each as it would stand in the file",
              ITEMS(1, GRADIN_MAX_STUDY_VALUE, "values")),
    KEY_NUMBER(stated_varied, from, "from", "first value, in the units of its file",
               LIMITS(-1e9, 1e9), UNSTATED("values are listed")),
    KEY_NUMBER(stated_varied, to, "to", "last value", LIMITS(-1e9, 1e9),
               UNSTATED("values are listed")),
    KEY_NUMBER(stated_varied, step, "step", "from one value to the next", LIMITS(1e-6, 1e9),
               UNSTATED("any value between, for a design of points"))};
static const schema_rule varied_rules[] = {
    {RULE_ONE_OF, {"values", "from"}, "needs values, or from and to", .is_at_key = false},
    {RULE_NEEDS, {"from", "to"}, "from needs to", .is_at_key = true},
    {RULE_NEEDS, {"to", "from"}, "to needs from", .is_at_key = true},
    {RULE_NEEDS, {"step", "from"}, "step needs from and to", .is_at_key = true}};
static const schema_table varied_table = {
    .name = "key of a study",
    .meaning = "one key that takes several values, by exactly one path of venue, layout, traffic, "
               "brief or overflight",
    TABLE_(stated_varied, varied_keys),
    TABLE_RULES(varied_rules),
    TABLE_AT(stated_varied),
    .style = STYLE_BLOCK};

static const schema_key bound_keys[] = {
    KEY_CHOICE(stated_bound, figure, "figure", figures, "what is bound", REQUIRED),
    KEY_NUMBER(stated_bound, least, "least", "that it must be", LIMITS(-1e9, 1e9), UNSTATED("any")),
    KEY_NUMBER(stated_bound, most, "most", "that it may be", LIMITS(-1e9, 1e9), UNSTATED("any"))};
static const schema_rule bound_rules[] = {
    {RULE_ANY_OF, {"least", "most"}, "needs least or most", .is_at_key = false}};
static const schema_table bound_table = {.name = "need of a study",
                                         .meaning = "what a point must keep",
                                         TABLE_(stated_bound, bound_keys),
                                         TABLE_RULES(bound_rules),
                                         TABLE_AT(stated_bound),
                                         .is_line = true};

static const schema_key aim_keys[] = {
    KEY_CHOICE(stated_aim, figure, "figure", figures, "what is aimed at", REQUIRED),
    KEY_CHOICE(stated_aim, best, "best", best, "which end of it is the better one", REQUIRED)};
static const schema_table aim_table = {.name = "aim of a study",
                                       .meaning = "what makes one point better than another",
                                       TABLE_(stated_aim, aim_keys),
                                       TABLE_AT(stated_aim),
                                       .is_line = true};

static const schema_key response_keys[] = {
    KEY_TEXT(stated_response, across, "across", "name of the key along the picture", REQUIRED),
    KEY_TEXT(stated_response, up, "up", "name of the key up the picture", REQUIRED),
    KEY_CHOICE(stated_response, figure, "figure", figures, "what is drawn", REQUIRED)};
static const schema_table response_table = {
    .name = "picture of a study",
    .meaning = "one figure over two keys; the other keys stand as at the best point",
    TABLE_(stated_response, response_keys),
    TABLE_AT(stated_response)};

static const schema_key search_keys[] = {
    KEY_INTEGER(stated_search, n_most, "points", "so many are tried at most",
                LIMITS(2, GRADIN_MAX_SEARCH), PRESET(200)),
    KEY_INTEGER(stated_search, seed, "seed", "of where it begins", LIMITS(0, 1000000), PRESET(1))};
static const schema_table search_table = {
    .name = "search of a study",
    .meaning = "how keys are searched by sweep --seek in place of trying every combination",
    TABLE_(stated_search, search_keys),
    TABLE_AT(stated_search),
    .is_line = true};

static const char *const formats[] = {"gradin-study-1", NULL};
static const schema_key study_keys[] = {
    KEY_HEAD(formats),
    KEY_TEXT(stated_study, name, "name", "of the study", REQUIRED),
    KEY_FILE(stated_study, layout, "layout", "file of the layout that keys are varied of",
             REQUIRED),
    KEY_FILE(stated_study, partner, "partner",
             "file of the layout that changeovers come from and go to",
             .preset_note = "no changeover"),
    KEY_FILE(stated_study, traffic, "traffic", "file of a season of traffic",
             .preset_note = "no events are counted"),
    KEY_FILE(stated_study, brief, "brief", "file of what counts as good",
             .preset_note = "the layout's own"),
    KEY_NUMBER(stated_study, limit_dba, "limit_dba", "of an event's maximum at a seat", UNIT(DBA),
               LIMITS(10, 120), UNSTATED("the traffic's, else the brief's")),
    KEY_NUMBER(stated_study, percentile, "percentile",
               "events and lost words are those that so many of 100 seats keep", UNIT(PERCENT),
               LIMITS(1, 100), PRESET(90)),
    KEY_LIST(stated_study, varied, n_varied, stated_varied, "vary", &varied_table,
             "keys that take several values", REQUIRED, ITEMS(1, GRADIN_MAX_VARIED, "keys")),
    KEY_INTEGER(stated_study, n_design, "points",
                "so many points of Sobol's sequence in place of every combination; best a power of "
                "two",
                LIMITS(1, GRADIN_MAX_STUDY_POINT), .preset_note = "every combination of values"),
    KEY_MAP_PTR(stated_study, search, stated_search, "search", &search_table,
                "sweep --seek picks the points to try; a range needs no step then"),
    KEY_CHOICES(stated_study, figure, n_figure, "figures", figures, "columns of the table",
                ITEMS(1, GRADIN_N_STUDY_FIGURE, "figures"),
                .preset_note = "those of needs and aims"),
    KEY_LIST(stated_study, bound, n_bound, stated_bound, "needs", &bound_table,
             "what a point must keep", ITEMS(1, GRADIN_MAX_STUDY_BOUND, "needs")),
    KEY_LIST(stated_study, aim, n_aim, stated_aim, "aims", &aim_table,
             "what the best point is best in: the first decides, then the next",
             ITEMS(1, GRADIN_MAX_STUDY_AIM, "aims")),
    KEY_MAP_PTR(stated_study, picture, stated_response, "picture", &response_table,
                "one figure over two keys, of a study that tries every combination")};
static const schema_table study_table = {.name = "study",
                                         .meaning = "which keys are varied, and what is asked",
                                         TABLE_(stated_study, study_keys),
                                         TABLE_AT(stated_study),
                                         .style = STYLE_BLOCK};
const schema_file study_schema = {"gradin-study-1", "study",
                                  "Keys that are varied, and what is asked of each point.",
                                  &study_table};
