/* The keys of the audience and of a brief. gradin_audience_defaults() and gradin_limits_defaults()
 * have the same defaults and say where they are from; a test compares them. */
#include "files/stated/layout.h"

#define BODY(m, word, text, least, most, preset)                                                   \
    KEY_LENGTH(gradin_audience, m, word, text, LIMITS(least, most), PRESET(preset))
#define POPULATION(m) population.m

static const schema_key population_keys[] = {
    KEY_NUMBER(gradin_population, women, "women", "share of women; the three add up to 1", REQUIRED,
               UNIT(SHARE), LIMITS(0, 1), .preset = 0.5),
    KEY_NUMBER(gradin_population, men, "men", "share of men", REQUIRED, UNIT(SHARE), LIMITS(0, 1),
               .preset = 0.5),
    KEY_NUMBER(gradin_population, children, "children", "share of children", UNIT(SHARE),
               LIMITS(0, 1)),
    KEY_LENGTH(gradin_population, slump_m, "slump", "the most that a person sits below erect",
               LIMITS(0, 0.2), PRESET(0.040)),
    KEY_REFUSED("seat_height",
                "has no place: audience.eye_height is the mean eye of the plain run and "
                "of the draws",
                .is_refused_at_key = true)};
static const schema_table population_table = {
    .name = "population",
    .meaning = "whom the draws of `assess --draws` are made from",
    TABLE_(gradin_population, population_keys)};

static const schema_key audience_keys[] = {
    BODY(eye_height_m, "eye_height",
         "seated eye above the tread, in the plain run and in the mean of drawn audiences", 0.3,
         2.2, 1.12),
    BODY(wheelchair_eye_height_m, "wheelchair_eye_height",
         "eye of a person in a wheelchair above the tread", 0.3, 2.2, 1.15),
    BODY(standing_eye_height_m, "standing_eye_height",
         "eye of a person who stands up in a row, above the tread", 0.8, 2.5, 1.57),
    BODY(crown_m, "crown", "from the eye to the crown", 0.01, 0.4, 0.111),
    BODY(head_height_m, "head_height", "from chin to crown", 0.05, 0.6, 0.230),
    BODY(head_breadth_m, "head_breadth", "from ear to ear", 0.05, 0.6, 0.151),
    BODY(head_length_m, "head_length", "from brow to the back", 0.05, 0.6, 0.195),
    BODY(shoulder_breadth_m, "shoulder_breadth", "over all", 0.15, 1, 0.480),
    BODY(shoulder_drop_m, "shoulder_drop", "from the eye down to the top of the shoulder", 0.05,
         0.6, 0.200),
    KEY_LENGTH(gradin_audience, eye_distance_m, "eye_distance",
               "between the two eyes; then both look, each once", LIMITS(0.04, 0.09),
               .preset_note = "one eye in the middle looks"),
    KEY_MAP(gradin_audience, population, gradin_population, "population", &population_table,
            "whom the draws of an audience are made from")};
const schema_table audience_table = {.name = "audience",
                                     .meaning = "the sizes of the person on every seat",
                                     TABLE_(gradin_audience, audience_keys)};

static const double visible[] = {0.95, 0.90, 0.80}, clear_view[] = {0.8, 0, 0};
static const double c_value[] = {0.120, 0.090, 0.060}, head_gap[] = {20, 15, 10};
static const double off_axis[] = {30, 60, 90}, down[] = {20, 25, 30}, turn[] = {30, 45, 90};
static const char *const figures[] = {"visible",  "clear_view", "c_value", "distance",
                                      "off_axis", "down",       "turn",    NULL};
#define THREE(m, word, text, ...)                                                                  \
    KEY_ROW(stated_rating, limits.m, 3, word, text ": [clear, good, fair]", __VA_ARGS__)
static const schema_key rating_keys[] = {
    THREE(visible_min, "visible_min", "least share of the focus seen", UNIT(SHARE), LIMITS(0, 1),
          .preset_row = visible),
    THREE(clear_view_min, "clear_view_min",
          "least share of drawn audiences that leave a clear view", UNIT(SHARE), LIMITS(0, 1),
          .preset_row = clear_view),
    THREE(c_value_min_m, "c_value_min", "least C-value over a head in the plane of view",
          UNIT(LENGTH), LIMITS(-2, 2), .preset_row = c_value),
    THREE(head_gap_min_deg, "head_gap_min_deg",
          "least free angle where the view passes between two heads", UNIT(DEG), LIMITS(0, 180),
          .preset_row = head_gap),
    THREE(two_row_c_min_m, "two_row_c_min",
          "least C-value over the row two ahead, where the row in front leaves a gap", UNIT(LENGTH),
          LIMITS(-2, 2), UNSTATED("that of c_value_min")),
    THREE(distance_max_m, "distance_max", "greatest distance to the focus", UNIT(LENGTH),
          LIMITS(0.1, 500), UNSTATED("12, 20, 28 m; of thrust, round and traverse 12, 20, 20 m")),
    THREE(off_axis_max_deg, "off_axis_max_deg", "greatest angle off the stage's axis", UNIT(DEG),
          LIMITS(0, 180), .preset_row = off_axis),
    THREE(down_max_deg, "down_max_deg", "greatest angle of looking down", UNIT(DEG), LIMITS(0, 90),
          .preset_row = down),
    THREE(turn_max_deg, "turn_max_deg", "greatest turn of the head", UNIT(DEG), LIMITS(0, 180),
          .preset_row = turn),
    KEY_CHOICES(stated_rating, rate_by, n_rate_by, "rate_by", figures,
                "the figures that count for the rating; C has a class of its own anyway",
                ITEMS(1, 7, "figures"), .preset_note = "all but c_value")};
const schema_table rating_table = {
    .name = "rating",
    .meaning = "limits from the strictest to the mildest; what is worse is poor",
    TABLE_(stated_rating, rating_keys),
    TABLE_AT(stated_rating),
    .style = STYLE_BLOCK};

static const schema_key noise_keys[] = {
    KEY_NUMBER(gradin_criterion, nc, "nc", "noise criterion (NC) of the hall", LIMITS(15, 70),
               UNSTATED("none")),
    KEY_NUMBER(gradin_criterion, lamax_dba, "lamax_dba", "limit of an event's maximum at a seat",
               UNIT(DBA), LIMITS(0, 140), UNSTATED("none")),
    KEY_NUMBER(gradin_criterion, confidence, "confidence",
               "chance with which a seat must be within the limits, or over them, to be called so; "
               "0.5 compares the bare levels",
               UNIT(SHARE), LIMITS(0.5, 0.99), PRESET(0.84))};
static const schema_table noise_table = {.name = "noise",
                                         .meaning = "what outside noise is held against",
                                         TABLE_(gradin_criterion, noise_keys),
                                         .style = STYLE_BLOCK};

#define BRIEF_KEYS                                                                                 \
    KEY_MAP(stated_brief, rating, stated_rating, "rating", &rating_table,                          \
            "limits of sightlines, distances and angles"),                                         \
        KEY_MAP(stated_brief, noise, gradin_criterion, "noise", &noise_table, "limits of noise")
static const schema_key brief_keys[] = {BRIEF_KEYS};
const schema_table brief_table = {.name = "brief in a layout",
                                  .meaning = "what counts as good, in place of a brief's file",
                                  TABLE_(stated_brief, brief_keys),
                                  .style = STYLE_BLOCK};

static const char *const formats[] = {"gradin-brief-1", NULL};
static const schema_key brief_file_keys[] = {
    KEY_HEAD(formats), KEY_TEXT(stated_brief, name, "name", "of the brief"), BRIEF_KEYS};
/* A file that was cut off after its head says nothing, and must not pass for the defaults. */
static const schema_rule brief_file_rules[] = {
    {RULE_ANY_OF,
     {"rating", "noise"},
     "states neither rating nor noise; one of them is needed",
     false}};
static const schema_table brief_file_table = {.name = "brief file",
                                              .meaning = "what counts as good",
                                              TABLE_(stated_brief, brief_file_keys),
                                              TABLE_RULES(brief_file_rules),
                                              .style = STYLE_BLOCK};
const schema_file brief_schema = {"gradin-brief-1", "brief",
                                  "What counts as good: limits of ratings and of noise.",
                                  &brief_file_table};
