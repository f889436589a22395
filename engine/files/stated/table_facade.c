/* The keys of the facade: build-ups, shades, glazing, doors, vents. */
#include "files/stated/venue.h"

static const schema_key glass_keys[] = {
    KEY_NUMBER(stated_layer, glass_m, "glass_mm", "thickness of a pane of float glass", REQUIRED,
               UNIT(MM), LIMITS(0.5, 100)),
    KEY_NUMBER(stated_layer, loss, "loss", "internal loss factor in bending", LIMITS(1e-5, 2),
               PRESET(GRADIN_GLASS_LOSS))};
static const schema_key plate_keys[] = {
    KEY_NUMBER(stated_layer, plate_m, "plate_mm", "thickness of a plate of any material", REQUIRED,
               UNIT(MM), LIMITS(0.1, 500)),
    KEY_NUMBER(stated_layer, density_kgm3, "density_kgm3", "density", REQUIRED, UNIT(KG_M3),
               LIMITS(10, 20000)),
    KEY_NUMBER(stated_layer, young_pa, "young_gpa", "Young's modulus", REQUIRED, UNIT(GPA),
               LIMITS(1e-4, 1000)),
    KEY_NUMBER(stated_layer, poisson, "poisson", "Poisson's ratio", REQUIRED, LIMITS(0, 0.49)),
    KEY_NUMBER(stated_layer, loss, "loss", "internal loss factor in bending", REQUIRED,
               LIMITS(1e-5, 2))};

static const schema_key relaxation_keys[] = {
    KEY_NUMBER(stated_relaxation, instant_pa, "instant_mpa", "shear modulus of the fastest strain",
               REQUIRED, UNIT(MPA), LIMITS(1e-3, 1e5)),
    KEY_POINTS(stated_relaxation, term, n_term, "terms",
               "Prony series: [share of instant_mpa, relaxation time in s] each", REQUIRED,
               LIMITS(0, 1e12), ITEMS(1, GRADIN_MAX_RELAXATION, "terms")),
    KEY_ROW(stated_relaxation, wlf, 2, "wlf",
            "shift with temperature after Williams, Landel and Ferry: [C1, C2 in K]", REQUIRED,
            LIMITS(0, 1000)),
    KEY_NUMBER(stated_relaxation, reference_c, "reference_c", "temperature at which the times hold",
               UNIT(DEG_C), LIMITS(-100, 200), PRESET(GRADIN_GLAZING_TEMPERATURE_C))};
static const schema_table relaxation_table = {
    .name = "relaxation",
    .meaning = "an interlayer's shear modulus by time and temperature",
    TABLE_(stated_relaxation, relaxation_keys),
    TABLE_AT(stated_relaxation)};

static const schema_key interlayer_keys[] = {
    KEY_NUMBER(stated_layer, interlayer_m, "interlayer_mm",
               "thickness of a soft sheet glued between two panes; PVB unless its modulus is given",
               REQUIRED, UNIT(MM), LIMITS(0.05, 20)),
    KEY_NUMBER(stated_layer, shear_pa, "shear_mpa", "shear modulus, the same at every frequency",
               UNIT(MPA), LIMITS(1e-4, 1e4), UNSTATED("PVB by frequency and temperature")),
    KEY_NUMBER(stated_layer, loss, "loss", "loss factor beside shear_mpa", LIMITS(1e-4, 3),
               PRESET(GRADIN_PVB_LOSS)),
    KEY_NUMBER(stated_layer, density_kgm3, "density_kgm3", "density", UNIT(KG_M3), LIMITS(10, 5000),
               PRESET(GRADIN_PVB_DENSITY_KGM3)),
    KEY_MAP_PTR(stated_layer, relaxation, stated_relaxation, "relaxation", &relaxation_table,
                "a material of its own by time and temperature")};
static const schema_rule interlayer_rules[] = {
    {RULE_CLASH,
     {"relaxation", "shear_mpa"},
     "stands beside shear_mpa; one of them is enough",
     true},
    {RULE_NEEDS,
     {"loss", "shear_mpa"},
     "belongs to a constant modulus; give it under shear_mpa",
     true}};

static const char *const gases[] = {"air", "argon", NULL};
static const schema_key gap_keys[] = {KEY_NUMBER(stated_layer, gap_m, "gap_mm", "width of a cavity",
                                                 REQUIRED, UNIT(MM), LIMITS(1, 2000)),
                                      KEY_CHOICE(stated_layer, gas, "gas", gases, "what fills it")};
static const schema_key porous_keys[] = {
    KEY_NUMBER(stated_layer, porous_m, "porous_mm", "thickness of fibres or open foam", REQUIRED,
               UNIT(MM), LIMITS(0.5, 2000)),
    KEY_NUMBER(stated_layer, resistivity_pasm2, "resistivity_pasm2", "static flow resistivity",
               REQUIRED, UNIT(PA_S_M2), LIMITS(100, 1e6))};
static const schema_key sheet_keys[] = {
    KEY_NUMBER(stated_layer, sheet_kgm3, "sheet_kgm2", "mass of a limp cloth or foil", REQUIRED,
               UNIT(KG_M2), LIMITS(0.01, 100)),
    KEY_NUMBER(stated_layer, resistance_pasm, "resistance_pasm", "flow resistance", UNIT(PA_S_M),
               LIMITS(1, 1e7), .preset = INFINITY, .preset_note = "airtight")};

static const schema_table glass_table = {
    .name = "glass layer", .meaning = "a pane of float glass", TABLE_(stated_layer, glass_keys)};
static const schema_table plate_table = {
    .name = "plate layer", .meaning = "any plate in bending", TABLE_(stated_layer, plate_keys)};
static const schema_table interlayer_table = {.name = "interlayer",
                                              .meaning = "a soft sheet between two panes",
                                              TABLE_(stated_layer, interlayer_keys),
                                              TABLE_RULES(interlayer_rules)};
static const schema_table gap_table = {
    .name = "gap layer", .meaning = "a cavity", TABLE_(stated_layer, gap_keys)};
static const schema_table porous_table = {
    .name = "porous layer", .meaning = "fibres or foam", TABLE_(stated_layer, porous_keys)};
static const schema_table sheet_table = {
    .name = "sheet layer", .meaning = "a limp cloth or foil", TABLE_(stated_layer, sheet_keys)};
static const schema_table *const layer_forms[] = {
    &glass_table, &plate_table, &interlayer_table, &gap_table, &porous_table, &sheet_table, NULL};
const schema_table layer_table = {
    .name = "layer",
    .meaning = "one layer; its first key says what it is",
    .size = sizeof(stated_layer),
    .form = layer_forms,
    .form_text = "needs one of glass_mm, plate_mm, interlayer_mm, gap_mm, porous_mm, sheet_kgm2",
    TABLE_AT(stated_layer)};

#define TEMPERATURE_KEY(T, note)                                                                   \
    KEY_NUMBER(T, temperature_c, "temperature_c", "temperature of the interlayers", UNIT(DEG_C),   \
               LIMITS(GRADIN_GLAZING_LEAST_C, GRADIN_GLAZING_MOST_C), note)

enum { MAX_LAYER = 16, MAX_SHADE_LAYER = 8 };

static const char *const frames[] = {"by_gap", "spacer", "joined", "separate", NULL};
static const char *const reveals[] = {"bare", "lined", NULL};
static const schema_key buildup_keys[] = {
    KEY_TEXT(stated_buildup, name, "name", "what glazing and doors call it", REQUIRED),
    KEY_LIST(stated_buildup, layer, n_layer, stated_layer, "layers", &layer_table,
             "from the outside in", ITEMS(1, MAX_LAYER, "layers")),
    TEMPERATURE_KEY(stated_buildup, UNSTATED("the facade's temperature_c")),
    KEY_CHOICE(
        stated_buildup, frames, "frames", frames,
        "what holds the panes of a build-up with gaps: a spacer; joined, in one frame or in two of "
        "the same wall; separate, in leaves of wall that stand apart; by_gap: a spacer up to 25 "
        "mm, "
        "else joined"),
    KEY_CHOICE(stated_buildup, reveals, "reveals", reveals,
               "what lies round its gaps: nothing that absorbs, or a lining that does"),
    KEY_FLAG(stated_buildup, is_flush, "flush",
             "it stands in the face of its wall and not deep in its opening"),
    KEY_FILE(stated_buildup, measured, "measured",
             "sound reduction index as measured: CSV `band_hz,r_db`; it wins over the layers",
             .needs = "needs layers, the name of a file under measured, or both"),
    KEY_TEXT(stated_buildup, generic, "generic",
             "a construction of a common kind by a handbook's figures, "
             "listed in reference/envelope"),
    KEY_TEXT(stated_buildup, report, "report", "where the measurement comes from"),
    KEY_NUMBER(stated_buildup, sample_m2, "sample_m2", "area of the measured sample", UNIT(M2),
               LIMITS(0.01, 100), UNSTATED("not stated"))};
static const schema_rule buildup_rules[] = {
    {RULE_ANY_OF,
     {"layers", "measured", "generic"},
     "needs layers, the name of a file under measured, both, or a generic construction",
     false},
    {RULE_CLASH, {"generic", "layers"}, "stands beside layers; one of them is enough", true},
    {RULE_CLASH, {"generic", "measured"}, "stands beside measured; one of them is enough", true},
    {RULE_NEEDS,
     {"sample_m2", "measured"},
     "belongs to a measurement; give the file under measured",
     true}};
static const schema_table buildup_table = {.name = "build-up",
                                           .meaning = "what a pane or a door is made of",
                                           TABLE_(stated_buildup, buildup_keys),
                                           TABLE_RULES(buildup_rules),
                                           TABLE_AT(stated_buildup),
                                           .is_line = true};

static const schema_key shade_keys[] = {
    KEY_TEXT(stated_shade, name, "name", "what glazing and layouts call it", REQUIRED),
    KEY_SPECTRUM(stated_shade, insertion_loss_db, "insertion_loss_db",
                 "what it takes off the sound when shut", UNIT(DB), LIMITS(0, 60),
                 UNSTATED("worked out from the layers")),
    KEY_LIST(stated_shade, layer, n_layer, stated_layer, "layers", &layer_table,
             "from the glass into the room", ITEMS(1, MAX_SHADE_LAYER, "layers")),
    KEY_SPECTRUM(stated_shade, absorption, "absorption", "of its room side when shut", REQUIRED,
                 UNIT(SHARE), LIMITS(0, 1)),
    KEY_NUMBER(stated_shade, rate_per_s, "close_s", "time to shut it; 0: at once", REQUIRED,
               UNIT(S_TO_RATE), LIMITS(0, 36000)),
    KEY_MAP(stated_shade, drive, gradin_drive, "drive", &share_drive_table, "what moves it")};
static const schema_rule shade_rules[] = {{RULE_ANY_OF,
                                           {"insertion_loss_db", "layers"},
                                           "needs insertion_loss_db, layers, or both",
                                           false}};
static const schema_table shade_table = {.name = "shade",
                                         .meaning = "a curtain, blind or shutter inside the glass",
                                         TABLE_(stated_shade, shade_keys),
                                         TABLE_RULES(shade_rules),
                                         TABLE_AT(stated_shade),
                                         .is_line = true};

#define OPENING_KEYS(count_rule)                                                                   \
    KEY_TEXT(stated_entry, name, "name", "what results call it", REQUIRED),                        \
        KEY_POINT(stated_entry, start_m, "start", "where the first bay begins on plan", REQUIRED), \
        KEY_NUMBER(stated_entry, bearing_deg, "bearing_deg",                                       \
                   "direction of the wall from there, clockwise from north", REQUIRED, UNIT(DEG),  \
                   LIMITS(0, 360)),                                                                \
        KEY_INTEGER(stated_entry, count, "count", "bays side by side", LIMITS(1, GRADIN_MAX_BAY),  \
                    count_rule),                                                                   \
        KEY_LENGTH(stated_entry, width_m, "width", "of one bay", REQUIRED, LIMITS(0.1, 100)),      \
        KEY_LENGTH(stated_entry, height_m, "height", "of one bay", REQUIRED, LIMITS(0.1, 100)),    \
        KEY_LENGTH(stated_entry, sill_m, "sill", "height of its lower edge", REQUIRED,             \
                   LIMITS(-20, 100)),                                                              \
        KEY_NAME(stated_entry, buildup, "buildup", "build-up", "what it is made of", REQUIRED),    \
        KEY_NUMBER(stated_entry, joint_r_db, "joint_r_db",                                         \
                   "sound reduction of its seals per metre of length", UNIT(DB), LIMITS(0, 90),    \
                   .preset = INFINITY, .preset_note = "its seals let nothing through"),            \
        KEY_SPECTRUM(stated_entry, joint_band_db, "joint_bands_db", "the same by band", UNIT(DB),  \
                     LIMITS(0, 90), UNSTATED("joint_r_db in every band")),                         \
        KEY_NAME(stated_entry, shade, "shade", "shade", "what shuts before it")

#define TILT_KEY(text)                                                                             \
    KEY_NUMBER(stated_entry, tilt_deg, "tilt_deg", text, UNIT(DEG), LIMITS(0, 90))

static const char fixed_glass[] = "is fixed glass; doors move";
static const schema_key glazing_keys[] = {
    OPENING_KEYS(REQUIRED),
    TILT_KEY("how far it leans inwards from the upright: 90 is a flat rooflight, to the right of "
             "its bearing"),
    KEY_REFUSED("move_s", fixed_glass), KEY_REFUSED("exit", fixed_glass),
    KEY_REFUSED("drive", fixed_glass)};
static const schema_table glazing_table = {.name = "glazing",
                                           .meaning = "a row of like panes in one wall",
                                           TABLE_(stated_entry, glazing_keys),
                                           TABLE_AT(stated_entry),
                                           .is_line = true};

static const char *const exits[] = {"by_hand", "when_open", "never", NULL};
static const char *const old_exits[] = {"", "", "no", NULL};
static const schema_key door_keys[] = {
    OPENING_KEYS(PRESET(1)),
    KEY_NUMBER(stated_entry, rate_per_s, "move_s", "time to open it; 0: at once", UNIT(S_TO_RATE),
               LIMITS(0, 36000)),
    KEY_CHOICE(stated_entry, exit, "exit", exits,
               "does it count as an exit: opened by hand, only while it stands open, or never",
               .old_words = old_exits),
    KEY_MAP(stated_entry, drive, gradin_drive, "drive", &share_drive_table, "what moves it")};
static const schema_table door_table = {.name = "door",
                                        .meaning = "a door, gate or movable wall in the facade",
                                        TABLE_(stated_entry, door_keys),
                                        TABLE_AT(stated_entry),
                                        .is_line = true};

static const schema_key vent_keys[] = {
    KEY_TEXT(stated_entry, name, "name", "what results call it", REQUIRED),
    KEY_POINT(stated_entry, start_m, "at", "its place on plan", REQUIRED),
    KEY_LENGTH(stated_entry, sill_m, "height", "its height", REQUIRED, LIMITS(-20, 100)),
    KEY_SPECTRUM(stated_entry, dn_e_db, "dn_e_db", "element-normalised level difference Dn,e",
                 REQUIRED, UNIT(DB), LIMITS(0, 120)),
    TILT_KEY("0 in a wall, 90 in the roof")};
static const schema_table vent_table = {.name = "vent",
                                        .meaning = "a small opening that is rated by its Dn,e",
                                        TABLE_(stated_entry, vent_keys),
                                        TABLE_AT(stated_entry),
                                        .is_line = true};

#define OPAQUE_KEYS                                                                                \
    KEY_TEXT(stated_entry, name, "name", "what results call it", REQUIRED),                        \
        KEY_NAME(stated_entry, buildup, "buildup", "build-up",                                     \
                 "what it is made of; without it results say that it is not stated"),              \
        KEY_SPECTRUM(stated_entry, absorption, "absorption", "of its room side", UNIT(SHARE),      \
                     LIMITS(0, 1), UNSTATED("as the room's absorption states"))

static const schema_key wall_keys[] = {
    OPAQUE_KEYS,
    KEY_POINT(stated_entry, from_m, "from", "where it begins, on an edge of the footprint",
              UNSTATED("wherever no other wall is stated")),
    KEY_POINT(stated_entry, to_m, "to", "where it ends, on the same edge",
              UNSTATED("wherever no other wall is stated"))};
static const schema_rule wall_rules[] = {
    {RULE_NEEDS, {"from", "to"}, "needs both from and to", true},
    {RULE_NEEDS, {"to", "from"}, "needs both from and to", true}};
static const schema_table wall_table = {
    .name = "wall",
    .meaning = "an opaque wall from floor to ceiling, less the glazing and the doors in it",
    TABLE_(stated_entry, wall_keys),
    TABLE_RULES(wall_rules),
    TABLE_AT(stated_entry),
    .is_line = true};

static const schema_key roof_keys[] = {
    OPAQUE_KEYS, KEY_POLYGON(stated_entry, polygon, "polygon",
                             "its plan; without it, wherever no other roof is stated")};
static const schema_table roof_table = {
    .name = "roof",
    .meaning = "an opaque, level roof at the ceiling's height, less the rooflights in it",
    TABLE_(stated_entry, roof_keys),
    TABLE_AT(stated_entry),
    .is_line = true};

#define SITE_KEY(m, word, text, unit)                                                              \
    KEY_SPECTRUM(gradin_site, m, word, text, UNIT(unit), LIMITS(-20, 140), .preset = NAN,          \
                 .preset_note = "none", .takes_rated = true)
static const schema_key site_keys[] = {
    SITE_KEY(d2m_nt_db, "d2m_nt_db", "standardised level difference D2m,nT (ISO 16283-3)", DB),
    SITE_KEY(outside_db, "outside_2m_db", "level 2 m before the facade", DB),
    SITE_KEY(inside_db, "inside_db", "level inside at the same time, energy mean of the room", DB),
    KEY_SPECTRUM(gradin_site, reverberation_s, "reverberation_s",
                 "reverberation times of the room when the levels were measured", UNIT(S),
                 LIMITS(0.05, 60), .preset = NAN, .preset_note = "none", .takes_rated = true),
    KEY_FLAG(gradin_site, is_shut, "shades_shut", "all shades were shut then, else all were open")};
static const schema_rule site_rules[] = {
    {RULE_ONE_OF,
     {"d2m_nt_db", "outside_2m_db"},
     "needs either d2m_nt_db, or outside_2m_db, inside_db and reverberation_s",
     false},
    {RULE_NEEDS, {"outside_2m_db", "inside_db"}, "needs inside_db beside it", true},
    {RULE_AS_MANY, {"inside_db", "outside_2m_db"}, "needs as many bands as outside_2m_db", true},
    {RULE_NEEDS, {"inside_db", "reverberation_s"}, "needs reverberation_s beside it", true},
    {RULE_NEEDS, {"reverberation_s", "outside_2m_db"}, "needs outside_2m_db beside it", true}};
static const schema_table site_table = {.name = "site measurement",
                                        .meaning = "what the envelope holds back, as measured; it "
                                                   "corrects the prediction by band",
                                        TABLE_(gradin_site, site_keys),
                                        TABLE_RULES(site_rules),
                                        TABLE_PLACE(gradin_site)};

static const char *const grounds[] = {"not_stated", "hard", "soft", NULL};
static const schema_key facade_keys[] = {
    KEY_LIST(stated_facade, buildup, n_buildup, stated_buildup, "buildups", &buildup_table,
             "what glazing and doors are made of", REQUIRED, .are_names_unique = true),
    TEMPERATURE_KEY(stated_facade, PRESET(GRADIN_GLAZING_TEMPERATURE_C)),
    KEY_FLAG(
        stated_facade, has_finite_panes, "finite_panes",
        "work out each pane's sound reduction with its own width and height, else as that of a "
        "sample of 1.25 m by 1.5 m",
        PRESET(1)),
    KEY_CHOICE(stated_facade, ground, "ground", grounds,
               "what lies before it and reflects: paving or water (hard), grass (soft)"),
    KEY_MAP_PTR(stated_facade, site, gradin_site, "site_measurement", &site_table,
                "what the envelope holds back, as measured",
                .preset_note = "levels are as predicted"),
    KEY_LIST(stated_facade, shade, n_shade, stated_shade, "shades", &shade_table,
             "curtains, blinds and shutters inside the glass", .are_names_unique = true),
    KEY_LIST(stated_facade, glazing, n_glazing, stated_entry, "glazing", &glazing_table,
             "fixed glass"),
    KEY_LIST(stated_facade, door, n_door, stated_entry, "doors", &door_table,
             "doors, gates and movable walls"),
    KEY_LIST(stated_facade, vent, n_vent, stated_entry, "vents", &vent_table, "small openings"),
    KEY_LIST(stated_facade, wall, n_wall, stated_entry, "walls", &wall_table, "opaque walls"),
    KEY_LIST(stated_facade, roof, n_roof, stated_entry, "roofs", &roof_table, "opaque roofs")};
const schema_table facade_table = {.name = "facade",
                                   .meaning = "what lets outside noise in",
                                   TABLE_(stated_facade, facade_keys),
                                   TABLE_AT(stated_facade),
                                   .style = STYLE_BLOCK};
