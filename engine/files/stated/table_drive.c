/* The keys of drives and of what surfaces may carry. */
#include "files/stated/venue.h"

#define DRIVE_KEYS(T, m)                                                                           \
    KEY_NUMBER(T, m prepare_s, "prepare_s",                                                        \
               "pins, checks and clearing before and after a move, together", UNIT(S),             \
               LIMITS(0, 36000)),                                                                  \
        KEY_NUMBER(T, m power_kw, "power_kw", "power it draws while it moves", UNIT(KW),           \
                   LIMITS(0, 10000)),                                                              \
        KEY_INTEGER(T, m crew, "crew", "people it takes while it moves", LIMITS(0, 100),           \
                    PRESET(1)),                                                                    \
        KEY_FLAG(T, m are_people_near, "people_near", "others may work beside it while it moves"), \
        KEY_INTEGER(T, m at_once, "at_once", "sections of a grid that may move together",          \
                    LIMITS(1, GRADIN_MAX_SECTION), PRESET(1)),                                     \
        KEY_NUMBER(T, m turn_s, "turn_s", "time to turn a section's treads by a quarter", UNIT(S), \
                   LIMITS(0, 36000))

#define ACCEL_KEY(T, m, ...)                                                                       \
    KEY_NUMBER(T, m accel_per_s2, "accel_ms2",                                                     \
               "acceleration and braking; without it the machine is at full speed at once",        \
               UNIT(M_S2), LIMITS(1e-6, 10), __VA_ARGS__)

static const schema_key drive_keys[] = {
    ACCEL_KEY(gradin_drive, , PRESET(0)),
    KEY_NUMBER(gradin_drive, mass_kg, "mass_kg", "mass that moves", UNIT(KG), LIMITS(1, 1e6),
               UNSTATED("the tower's mass_kg; 0 for other machines")),
    DRIVE_KEYS(gradin_drive, )};
const schema_table drive_table = {.name = "drive",
                                  .meaning = "what moves a machine and what that asks of the house",
                                  TABLE_(gradin_drive, drive_keys)};

static const schema_key turn_drive_keys[] = {
    KEY_NUMBER(gradin_drive, accel_per_s2, "accel_deg_s2",
               "acceleration and braking; without it the tower turns at full speed at once",
               UNIT(DEG_S2), LIMITS(1e-6, 90)),
    KEY_NUMBER(gradin_drive, mass_kg, "mass_kg", "mass that moves", UNIT(KG), LIMITS(1, 1e6),
               UNSTATED("the tower's mass_kg")),
    DRIVE_KEYS(gradin_drive, )};
const schema_table turn_drive_table = {.name = "drive of a turn",
                                       .meaning = "as `drive`, in degrees",
                                       TABLE_(gradin_drive, turn_drive_keys)};

static const char no_accel[] = "does not go with a time from end to end, which holds it";
static const schema_key share_drive_keys[] = {
    KEY_REFUSED("accel_ms2", no_accel, .is_refused_at_key = true),
    KEY_NUMBER(gradin_drive, mass_kg, "mass_kg", "mass that moves", UNIT(KG), LIMITS(1, 1e6)),
    DRIVE_KEYS(gradin_drive, )};
const schema_table share_drive_table = {
    .name = "drive of a thing that opens and shuts",
    .meaning = "as `drive`; its time from end to end is stated beside it",
    TABLE_(gradin_drive, share_drive_keys)};

#define AS_TRIM(x) .preset = x, .preset_note = "as for the trim"
static const schema_key opening_drive_keys[] = {
    ACCEL_KEY(stated_opening_drive, drive., AS_TRIM(NAN)),
    KEY_NUMBER(stated_opening_drive, drive.prepare_s, "prepare_s",
               "pins, checks and clearing before and after a move, together", UNIT(S),
               LIMITS(0, 36000), AS_TRIM(NAN)),
    KEY_NUMBER(stated_opening_drive, drive.mass_kg, "mass_kg", "mass that moves", UNIT(KG),
               LIMITS(1, 1e6), AS_TRIM(NAN)),
    KEY_NUMBER(stated_opening_drive, drive.power_kw, "power_kw", "power it draws while it moves",
               UNIT(KW), LIMITS(0, 10000), AS_TRIM(NAN)),
    KEY_INTEGER(stated_opening_drive, drive.crew, "crew", "people it takes while it moves",
                LIMITS(0, 100), AS_TRIM(-1)),
    KEY_FLAG(stated_opening_drive, drive.are_people_near, "people_near",
             "others may work beside it while it moves", AS_TRIM(NAN)),
    KEY_INTEGER(stated_opening_drive, drive.at_once, "at_once",
                "sections of a grid that may move together", LIMITS(1, GRADIN_MAX_SECTION),
                AS_TRIM(-1)),
    KEY_NUMBER(stated_opening_drive, drive.turn_s, "turn_s",
               "time to turn a section's treads by a quarter", UNIT(S), LIMITS(0, 36000),
               AS_TRIM(NAN))};
const schema_table opening_drive_table = {.name = "opening drive",
                                          .meaning = "as `drive`, for the arch's clear width",
                                          TABLE_(stated_opening_drive, opening_drive_keys),
                                          TABLE_AT(stated_opening_drive)};

static const schema_key limit_keys[] = {
    KEY_NUMBER(gradin_load_limit, spread_kn_m2, "spread_kn_m2", "load spread over the surface",
               UNIT(KN_M2), LIMITS(0.01, 1000), UNSTATED("no limit is stated")),
    KEY_NUMBER(gradin_load_limit, total_kn, "total_kn", "load on the whole surface", UNIT(KN),
               LIMITS(0.01, 1e5), UNSTATED("no limit is stated"))};
static const schema_rule limit_rules[] = {{RULE_ANY_OF,
                                           {"spread_kn_m2", "total_kn"},
                                           "states nothing; give spread_kn_m2, total_kn or both",
                                           false}};
const schema_table load_limit_table = {.name = "load limit",
                                       .meaning = "what a surface may carry by the maker's word",
                                       TABLE_(gradin_load_limit, limit_keys),
                                       TABLE_RULES(limit_rules)};
