/* The keys of an overflight's file and of a season of traffic. Words are lost below a speech
 * intelligibility index of 0.45: ANSI S3.5-1997, scope: poor below 0.45, from memory. */
#include "files/stated/noise.h"

enum { MAX_ANGLE = 181 };

static const schema_key lobe_keys[] = {
    KEY_NUMBER(stated_lobe, from_hz, "from_hz", "lowest third octave of the group", UNIT(HZ),
               LIMITS(50, 5000), PRESET(50)),
    KEY_NUMBER(stated_lobe, to_hz, "to_hz", "highest third octave of the group", UNIT(HZ),
               LIMITS(50, 5000), PRESET(5000)),
    KEY_NUMBERS(stated_lobe, angle_deg, n_angle, "angle_deg",
                "angles from the direction of travel, 0 ahead rising to 180 behind", REQUIRED,
                UNIT(DEG), LIMITS(0, 180), ITEMS(2, MAX_ANGLE, NULL)),
    KEY_NUMBERS(stated_lobe, gain_db, n_gain, "gain_db",
                "on top of the stated level at each angle, straight in between", REQUIRED, UNIT(DB),
                LIMITS(-60, 40), ITEMS(0, MAX_ANGLE, NULL))};
static const schema_table lobe_table = {.name = "directivity group",
                                        .meaning = "bands that share a directivity",
                                        TABLE_(stated_lobe, lobe_keys),
                                        TABLE_AT(stated_lobe),
                                        .is_line = true};

static const schema_key directivity_keys[] = {
    KEY_LIST(stated_directivity, lobe, n_lobe, stated_lobe, "groups", &lobe_table,
             "groups of bands; each band in one of them", ITEMS(1, GRADIN_N_BAND, "groups")),
    KEY_FILE(stated_directivity, file, "file", "CSV `from_hz,to_hz,angle_deg,gain_db` instead"),
    KEY_FLAG(stated_directivity, is_mean_level, "level_is_mean",
             "the stated level is the energy mean over all directions")};
static const schema_rule directivity_rules[] = {
    {RULE_ONE_OF, {"groups", "file"}, "needs one of groups and file", false}};
const schema_table directivity_table = {.name = "directivity",
                                        .meaning = "how a source's level depends on direction",
                                        TABLE_(stated_directivity, directivity_keys),
                                        TABLE_RULES(directivity_rules),
                                        TABLE_AT(stated_directivity)};

#define AIR_KEYS(degrees, percent)                                                                 \
    KEY_NUMBER(stated_air, temperature_c, "temperature_c", "of the air", UNIT(DEG_C),              \
               LIMITS(-40, 50), PRESET(degrees)),                                                  \
        KEY_NUMBER(stated_air, humidity_pct, "humidity_pct", "relative humidity", UNIT(PERCENT),   \
                   LIMITS(1, 100), PRESET(percent)),                                               \
        KEY_NUMBER(stated_air, pressure_kpa, "pressure_kpa", "air pressure", UNIT(KPA),            \
                   LIMITS(50, 110), PRESET(101.325))
static const schema_key pass_air_keys[] = {AIR_KEYS(20, 50)};
static const schema_key season_air_keys[] = {AIR_KEYS(15, 70)};
static const schema_table pass_air_table = {
    .name = "air", .meaning = "the day's air", TABLE_(stated_air, pass_air_keys)};
static const schema_table season_air_table = {.name = "air of a season",
                                              .meaning = "the air on average",
                                              TABLE_(stated_air, season_air_keys)};

static const schema_key flight_keys[] = {
    KEY_POINT(stated_flight, point_m, "point", "one point of the track on plan", REQUIRED),
    KEY_LENGTH(stated_flight, altitude_m, "altitude", "above the plan origin's level", REQUIRED,
               LIMITS(20, 20000)),
    KEY_NUMBER(stated_flight, bearing_deg, "bearing_deg", "direction of flight", REQUIRED,
               UNIT(DEG), LIMITS(0, 360)),
    KEY_NUMBER(stated_flight, speed_ms, "speed_ms", "speed over ground", REQUIRED, UNIT(M_S),
               LIMITS(1, 340))};
static const schema_table flight_table = {.name = "straight track",
                                          .meaning = "a straight, level pass",
                                          TABLE_(stated_flight, flight_keys)};

#define SPECTRUM_KEYS(T, m)                                                                        \
    KEY_LENGTH(T, m reference_m, "reference_distance", "distance at which level_db holds",         \
               REQUIRED, LIMITS(1, 10000)),                                                        \
        KEY_NUMBERS(T, m level_db, m n_level, "level_db",                                          \
                    "free field, 21 thirds 50-5000 Hz or 7 octaves 63-4000 Hz, dB re 20 uPa",      \
                    UNIT(DB), LIMITS(-50, 180), ITEMS(GRADIN_N_OCTAVE, GRADIN_N_BAND, "values")),  \
        KEY_FILE(T, m file, "level_file",                                                          \
                 "the same as CSV `band_hz,level_db`: these thirds, or these octaves"),            \
        KEY_MAP_PTR(T, m directivity, stated_directivity, "directivity", &directivity_table,       \
                    "how the level depends on direction", .preset_note = "alike all round")
static const schema_rule spectrum_rules[] = {
    {RULE_ONE_OF, {"level_db", "level_file"}, "needs either level_db or level_file", false}};
static const schema_key spectrum_keys[] = {SPECTRUM_KEYS(stated_spectrum, )};
static const schema_table spectrum_table = {.name = "spectrum",
                                            .meaning = "what a source sends out",
                                            TABLE_(stated_spectrum, spectrum_keys),
                                            TABLE_RULES(spectrum_rules),
                                            .style = STYLE_BLOCK};

static const char *const weightings[] = {"none", "fast", "slow", NULL};
#define METHOD_KEYS                                                                                \
    KEY_FLAG(stated_method, has_lateral, "lateral_attenuation",                                    \
             "lateral attenuation after ECAC Doc 29"),                                             \
        KEY_FLAG(stated_method, has_impedance, "impedance",                                        \
                 "bring levels from the reference impedance, 409.81 N s/m3, to the stated air")
static const schema_key pass_method_keys[] = {METHOD_KEYS};
static const schema_table pass_method_table = {.name = "method of a pass",
                                               .meaning = "what is added to spreading and air",
                                               TABLE_(stated_method, pass_method_keys)};

static const schema_key doubt_keys[] = {
    KEY_NUMBER(stated_doubt, source_db, "source_db",
               "standard uncertainty of the stated levels, alike for all events", UNIT(DB),
               LIMITS(0, 20), PRESET(2.2)),
    KEY_NUMBER(stated_doubt, scatter_db, "scatter_db",
               "standard deviation of single events about the stated level", UNIT(DB),
               LIMITS(0, 20), PRESET(4.4))};
static const schema_table doubt_table = {.name = "uncertainty",
                                         .meaning = "how well levels of the source are known",
                                         TABLE_(stated_doubt, doubt_keys)};

static const char *const pass_formats[] = {"gradin-overflight-1", NULL};
static const schema_key pass_keys[] = {
    KEY_HEAD(pass_formats),
    KEY_TEXT(stated_pass, name, "name", "of the pass", REQUIRED),
    KEY_MAP(stated_pass, track, stated_flight, "track", &flight_table, "where it flies", REQUIRED),
    KEY_MAP(stated_pass, spectrum, stated_spectrum, "spectrum", &spectrum_table,
            "what it sends out", REQUIRED),
    KEY_MAP(stated_pass, air, stated_air, "air", &pass_air_table, "the day's air"),
    KEY_MAP(stated_pass, method, stated_method, "method", &pass_method_table,
            "what is added to spreading and air"),
    KEY_MAP(stated_pass, uncertainty, stated_doubt, "uncertainty", &doubt_table,
            "how well its levels are known"),
    KEY_CHOICE(stated_pass, weighting, "time_weighting", weightings,
               "of the maximum: LAmax of mean squares, LAFmax, LASmax")};
static const schema_table pass_table = {.name = "overflight",
                                        .meaning = "one pass of an aircraft",
                                        TABLE_(stated_pass, pass_keys),
                                        .style = STYLE_BLOCK};
const schema_file pass_schema = {"gradin-overflight-1", "overflight",
                                 "One straight, level pass of an aircraft.", &pass_table};

static const schema_key class_keys[] = {
    KEY_TEXT(stated_class, name, "name", "what events call it", REQUIRED),
    SPECTRUM_KEYS(stated_class, spectrum.),
    KEY_NUMBER(stated_class, scatter_db, "scatter_db",
               "standard deviation of its events about the stated level", UNIT(DB), LIMITS(0, 20),
               UNSTATED("that of `uncertainty`"))};
static const schema_table class_table = {.name = "class",
                                         .meaning = "a kind of source",
                                         TABLE_(stated_class, class_keys),
                                         TABLE_RULES(spectrum_rules),
                                         TABLE_AT(stated_class),
                                         .style = STYLE_BLOCK};

static const schema_key place_keys[] = {
    KEY_POINT(stated_place, at_m, "at", "its place on plan", REQUIRED),
    KEY_LENGTH(stated_place, height_m, "height", "above the plan origin's level", REQUIRED,
               LIMITS(0, 20000)),
    KEY_NUMBER(stated_place, hold_s, "duration_s", "how long an event lasts", REQUIRED, UNIT(S),
               LIMITS(1, 86400)),
    KEY_NUMBER(stated_place, bearing_deg, "bearing_deg",
               "bearing it points to; needed where its class has a directivity", UNIT(DEG),
               LIMITS(0, 360), UNSTATED("none"))};
static const schema_table place_table = {.name = "fixed place",
                                         .meaning = "a source that keeps its place",
                                         TABLE_(stated_place, place_keys)};

static const schema_key track_keys[] = {
    KEY_TEXT(stated_track, name, "name", "what events call it", REQUIRED),
    KEY_FILE(stated_track, file, "file", "points in time: CSV `t_s,x,y,z`"),
    KEY_MAP_PTR(stated_track, straight, stated_flight, "straight", &flight_table,
                "a straight, level pass"),
    KEY_MAP_PTR(stated_track, fixed, stated_place, "fixed", &place_table,
                "a place that the source keeps")};
static const schema_rule track_rules[] = {
    {RULE_ONE_OF, {"file", "straight", "fixed"}, "needs one of file, straight and fixed", false}};
static const schema_table track_table = {.name = "track",
                                         .meaning = "where a source is while it sounds",
                                         TABLE_(stated_track, track_keys),
                                         TABLE_RULES(track_rules),
                                         TABLE_AT(stated_track),
                                         .style = STYLE_BLOCK};

static const schema_key background_keys[] = {
    KEY_TEXT(stated_background, name, "name", "of the state: ventilation low, high", REQUIRED),
    KEY_NUMBER(stated_background, nc, "nc", "NC curve on which its octaves lie", LIMITS(15, 70),
               UNSTATED("by its levels")),
    KEY_NUMBERS(stated_background, level_db, n_level, "level_db",
                "its levels: 21 thirds 50 Hz to 5 kHz, or 7 octaves 63 Hz to 4 kHz", UNIT(DB),
                LIMITS(-50, 120), ITEMS(GRADIN_N_OCTAVE, GRADIN_N_BAND, "levels")),
    KEY_FILE(stated_background, file, "level_file", "CSV `band_hz,level_db` instead")};
static const schema_rule background_rules[] = {{RULE_ONE_OF,
                                                {"nc", "level_db", "level_file"},
                                                "needs one of nc, level_db and level_file",
                                                false}};
static const schema_table background_table = {.name = "background",
                                              .meaning = "the hall's own noise in one state",
                                              TABLE_(stated_background, background_keys),
                                              TABLE_RULES(background_rules),
                                              TABLE_AT(stated_background)};

static const char *const voices[] = {"normal", "raised", "loud", "shout", NULL};
static const schema_key performance_keys[] = {
    KEY_CLOCK(stated_performance, start, "start", "time of day, \"hh:mm\"", REQUIRED),
    KEY_NUMBER(stated_performance, minutes, "minutes", "how long it lasts", REQUIRED, UNIT(MINUTES),
               LIMITS(1, 1440)),
    KEY_CHOICE(stated_performance, voice, "voice", voices, "effort of the voice on stage",
               PRESET(2)),
    KEY_NUMBER(stated_performance, sii_least, "sii_least",
               "below this speech intelligibility index words are lost", LIMITS(0.05, 0.95),
               PRESET(0.45)),
    KEY_NUMBER(stated_performance, background_nc, "background_nc",
               "NC curve on which the hall's own noise lies", LIMITS(15, 70), UNSTATED("silence")),
    KEY_LIST(stated_performance, background, n_background, stated_background, "backgrounds",
             &background_table,
             "the hall's own noise in several states; seats are judged by the first",
             ITEMS(1, GRADIN_MAX_BACKGROUND, "backgrounds"), .are_names_unique = true),
    KEY_NUMBER(stated_performance, limit_dba, "limit_dba", "limit of an event's maximum at a seat",
               UNIT(DBA), LIMITS(0, 140), UNSTATED("lamax_dba of the layout's brief")),
    KEY_NUMBERS(stated_performance, more_limit_dba, n_more_limit, "more_limits_dba",
                "events are counted over these, too", UNIT(DBA), LIMITS(0, 140),
                ITEMS(1, GRADIN_MAX_LIMIT, "limits"))};
static const schema_rule performance_rules[] = {{RULE_CLASH,
                                                 {"background_nc", "backgrounds"},
                                                 "stands beside backgrounds; one of them is enough",
                                                 true}};
static const schema_table performance_table = {.name = "performance",
                                               .meaning = "what events disturb",
                                               TABLE_(stated_performance, performance_keys),
                                               TABLE_RULES(performance_rules)};

#define PERIOD(period) GRADIN_PERIOD_##period
static const schema_key period_keys[] = {
    KEY_CLOCK(stated_periods, start[PERIOD(DAY)], "day", "when the day begins, \"hh:mm\"",
              .preset_note = "07:00"),
    KEY_CLOCK(stated_periods, start[PERIOD(EVENING)], "evening", "when the evening begins",
              .preset_note = "19:00"),
    KEY_CLOCK(stated_periods, start[PERIOD(NIGHT)], "night", "when the night begins",
              .preset_note = "23:00"),
    KEY_NUMBER(stated_periods, penalty_db[PERIOD(EVENING)], "evening_penalty_db",
               "on events of the evening in Lden", UNIT(DB), LIMITS(0, 20), PRESET(5)),
    KEY_NUMBER(stated_periods, penalty_db[PERIOD(NIGHT)], "night_penalty_db",
               "on events of the night in Lden", UNIT(DB), LIMITS(0, 20), PRESET(10))};
#undef PERIOD
static const schema_table period_table = {.name = "periods",
                                          .meaning = "of the day, for LAeq and Lden",
                                          TABLE_(stated_periods, period_keys)};

static const schema_key span_keys[] = {
    KEY_TEXT(stated_span, from, "from", "first day, YYYY-MM-DD", REQUIRED),
    KEY_TEXT(stated_span, to, "to", "last day, YYYY-MM-DD", REQUIRED)};
static const schema_table span_table = {
    .name = "days of a season",
    .meaning = "all its days, those without an event too; no event may lie outside",
    TABLE_(stated_span, span_keys),
    TABLE_AT(stated_span)};

static const schema_key method_keys[] = {
    METHOD_KEYS, KEY_CHOICE(stated_method, weighting, "time_weighting", weightings,
                            "of an event's maximum: LAmax of mean squares, LAFmax, LASmax")};
static const schema_table method_table = {.name = "method",
                                          .meaning = "what is added to spreading and air",
                                          TABLE_(stated_method, method_keys)};

static const char *const traffic_formats[] = {"gradin-traffic-1", NULL};
static const schema_key traffic_keys[] = {
    KEY_HEAD(traffic_formats),
    KEY_TEXT(stated_traffic, name, "name", "of the season", REQUIRED),
    KEY_FILE(stated_traffic, events, "events", "what happens: CSV `time,class,track,offset_db`",
             REQUIRED),
    KEY_LIST(stated_traffic, class_of, n_class, stated_class, "classes", &class_table,
             "kinds of source", REQUIRED, ITEMS(1, GRADIN_MAX_CLASS, "classes"),
             .are_names_unique = true),
    KEY_LIST(stated_traffic, track, n_track, stated_track, "tracks", &track_table, "where they are",
             REQUIRED, ITEMS(1, GRADIN_MAX_TRACK, "tracks"), .are_names_unique = true),
    KEY_MAP(stated_traffic, performance, stated_performance, "performance", &performance_table,
            "what events disturb", REQUIRED),
    KEY_MAP(stated_traffic, periods, stated_periods, "periods", &period_table,
            "of the day, for LAeq and Lden"),
    KEY_MAP_PTR(stated_traffic, span, stated_span, "days", &span_table, "which days are counted",
                .preset_note = "from the first event's to the last's"),
    KEY_MAP(stated_traffic, air, stated_air, "air", &season_air_table, "the air on average"),
    KEY_MAP(stated_traffic, method, stated_method, "method", &method_table,
            "what is added to spreading and air"),
    KEY_MAP(stated_traffic, uncertainty, stated_doubt, "uncertainty", &doubt_table,
            "how well its levels are known; what the events' own offsets scatter is not counted "
            "again")};
static const schema_table traffic_table = {.name = "traffic",
                                           .meaning = "a season of events",
                                           TABLE_(stated_traffic, traffic_keys),
                                           TABLE_AT(stated_traffic),
                                           .style = STYLE_BLOCK};
const schema_file traffic_schema = {"gradin-traffic-1", "traffic",
                                    "A season of traffic: sources, tracks, a performance.",
                                    &traffic_table};
