/* The keys of the crew, its stock of seats and its store, and of live loads (venue/occupancy.c
 * names their sources, and that of a person's 75 kg). */
#include "files/stated/venue.h"

static const char *const seating_kinds[] = {"loose", "telescopic", NULL};
#define SEATING_HEAD                                                                               \
    KEY_TEXT(stated_seating, name, "name", "what blocks call it", REQUIRED),                       \
        KEY_CHOICE(stated_seating, kind, "kind", seating_kinds,                                    \
                   "carried or wheeled seats, or a bank that is run out", REQUIRED)
#define SEATING_TAIL                                                                               \
    KEY_INTEGER(stated_seating, crew, "crew", "people who set or strike it together", REQUIRED,    \
                LIMITS(1, 100)),                                                                   \
        KEY_NUMBER(stated_seating, seat_kg, "seat_kg", "mass of a seat", UNIT(KG),                 \
                   LIMITS(0, 500)),                                                                \
        KEY_FLAG(stated_seating, is_stored, "stored", "comes from and goes to the store lift")

static const schema_key loose_keys[] = {
    SEATING_HEAD,
    KEY_NUMBER(stated_seating, set_rate, "set_seats_person_hour", "pace at which it is set",
               REQUIRED, UNIT(SEATS_PERSON_HOUR), LIMITS(0.1, 10000)),
    KEY_NUMBER(stated_seating, strike_rate, "strike_seats_person_hour",
               "pace at which it is struck", REQUIRED, UNIT(SEATS_PERSON_HOUR), LIMITS(0.1, 10000)),
    SEATING_TAIL};
static const schema_key telescopic_keys[] = {
    SEATING_HEAD,
    KEY_NUMBER(stated_seating, set_rate, "set_s_row", "time to run out a row", REQUIRED,
               UNIT(S_ROW), LIMITS(0.1, 10000)),
    KEY_NUMBER(stated_seating, strike_rate, "strike_s_row", "time to run in a row", REQUIRED,
               UNIT(S_ROW), LIMITS(0.1, 10000)),
    SEATING_TAIL};
static const schema_table loose_table = {.name = "loose seating",
                                         .meaning = "seats that people carry or wheel",
                                         TABLE_(stated_seating, loose_keys),
                                         .form_value = "loose"};
static const schema_table telescopic_table = {.name = "telescopic seating",
                                              .meaning = "a bank that is run out and in",
                                              TABLE_(stated_seating, telescopic_keys),
                                              .form_value = "telescopic"};
static const schema_table *const seating_forms[] = {&loose_table, &telescopic_table, NULL};
static const schema_table seating_table = {.name = "seating",
                                           .meaning = "a stock of seats",
                                           .size = sizeof(stated_seating),
                                           .form = seating_forms,
                                           .form_key = "kind",
                                           TABLE_AT(stated_seating),
                                           .is_line = true};

static const schema_key store_keys[] = {
    KEY_TEXT(stated_store, name, "name", "of the lift", REQUIRED),
    KEY_LENGTH(stated_store, travel_m, "travel", "from the floor to the store", REQUIRED,
               LIMITS(0.1, 50)),
    KEY_NUMBER(stated_store, speed_ms, "speed_ms", "its speed", REQUIRED, UNIT(M_S),
               LIMITS(1e-4, 2)),
    KEY_INTEGER(stated_store, seats_per_trip, "seats_per_trip", "seats that go on it", REQUIRED,
                LIMITS(1, 10000)),
    KEY_NUMBER(stated_store, load_s, "load_s", "time to load and unload one trip", REQUIRED,
               UNIT(S), LIMITS(0, 36000)),
    KEY_MAP(stated_store, drive, gradin_drive, "drive", &drive_table, "what moves it")};
static const schema_table store_table = {.name = "store lift",
                                         .meaning = "a lift to a store below that takes seats away",
                                         TABLE_(stated_store, store_keys)};

static const schema_key crew_keys[] = {
    KEY_INTEGER(stated_crew, people, "people", "on a changeover", REQUIRED, LIMITS(1, 1000)),
    KEY_NUMBER(stated_crew, power_kw, "power_kw", "that may be drawn at once", UNIT(KW),
               LIMITS(0.1, 100000), .preset = INFINITY, .preset_note = "no limit"),
    KEY_NUMBER(stated_crew, rail_rate, "rail_m_person_hour", "pace of setting and striking rails",
               UNIT(M_PERSON_HOUR), LIMITS(0.1, 10000), .preset_note = "rails take no time"),
    KEY_INTEGER(stated_crew, rail_crew, "rail_crew", "people who set rails together",
                LIMITS(1, 100), PRESET(2)),
    KEY_LIST(stated_crew, seating, n_seating, stated_seating, "seating", &seating_table,
             "stocks of seats", .are_names_unique = true),
    KEY_MAP_PTR(stated_crew, store, stated_store, "store", &store_table,
                "the lift to the store of seats"),
    KEY_LIST(stated_crew, shift, n_shift, stated_shift, "shifts", &shift_table,
             "hours in which the crew works", .preset_note = "any hour"),
    KEY_LIST(stated_crew, rest, n_rest, stated_rest, "breaks", &rest_table,
             "meals and rests, kept by all together", ITEMS(0, GRADIN_MAX_REST, "breaks"),
             .preset_note = "none"),
    KEY_LIST(stated_crew, step, n_step, stated_step, "steps", &step_table,
             "lock-out, inspection, sign-off: work that moves nothing", .are_names_unique = true),
    KEY_MAP_PTR(stated_crew, rates, stated_rates, "rates", &rates_table,
                "what an hour of a person costs"),
    KEY_MAP_PTR(stated_crew, spreads, stated_spreads, "contingency", &spreads_table,
                "how much less or more time moves may take")};
const schema_table crew_table = {.name = "crew",
                                 .meaning = "who changes the hall over, and with what",
                                 TABLE_(stated_crew, crew_keys),
                                 TABLE_AT(stated_crew),
                                 .style = STYLE_BLOCK};

static const char *const sources[] = {"en_1991_1_1", "asce_7", NULL};
static const schema_key loads_keys[] = {
    KEY_CHOICE(stated_loads, source, "occupancy", sources, "standard that live loads are from"),
    KEY_NUMBER(stated_loads, use_kn_m2[GRADIN_USE_SEATED], "seated_kn_m2",
               "live load where places stand", UNIT(KN_M2), LIMITS(0.1, 100),
               UNSTATED("as the standard says")),
    KEY_NUMBER(stated_loads, use_kn_m2[GRADIN_USE_OPEN], "open_kn_m2",
               "live load where people may stand and walk", UNIT(KN_M2), LIMITS(0.1, 100),
               UNSTATED("as the standard says")),
    KEY_NUMBER(stated_loads, use_kn_m2[GRADIN_USE_STAGE], "stage_kn_m2", "live load on the stage",
               UNIT(KN_M2), LIMITS(0.1, 100), UNSTATED("as the standard says")),
    KEY_NUMBER(stated_loads, person_kg, "person_kg", "mass of one person", UNIT(KG),
               LIMITS(30, 300), PRESET(75)),
    KEY_NUMBER(stated_loads, floor_kn_m2, "floor_spread_kn_m2", "what the fixed floor may carry",
               UNIT(KN_M2), LIMITS(0.1, 1000), UNSTATED("no limit is stated"))};
const schema_table loads_table = {.name = "loads",
                                  .meaning = "what people weigh, and what the fixed floor carries",
                                  TABLE_(stated_loads, loads_keys)};
