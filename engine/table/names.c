/* English names for tables; the numbers of a band's nominal frequency are those of IEC 61260-1. */
#include "table/names.h"

#define NAME_OF(list, index)                                                                       \
    ((size_t)(index) < sizeof(list) / sizeof(list)[0] ? (list)[(size_t)(index)] : "none")

const char *table_rating_name(gradin_rating rating) {
    static const char *const name[GRADIN_N_RATING] = {"clear", "good", "fair", "poor"};
    return NAME_OF(name, rating);
}

const char *table_reason_name(gradin_reason reason) {
    static const char *const name[GRADIN_N_REASON] = {"none",     "visible fraction", "C-value",
                                                      "distance", "off-axis angle",   "down angle",
                                                      "head turn"};
    return NAME_OF(name, reason);
}

const char *table_cause_name(int cause) {
    static const char *const name[GRADIN_N_CAUSE] = {"heads", "rails", "structure", "arch"};
    return NAME_OF(name, cause);
}

const char *table_c_case_name(gradin_c_case c_case) {
    static const char *const name[GRADIN_N_C_CASE] = {"none", "row in front", "two rows ahead",
                                                      "between heads"};
    return NAME_OF(name, c_case);
}

const char *table_seat_kind_name(gradin_seat_kind kind) {
    static const char *const name[] = {"seat", "wheelchair", "companion"};
    return NAME_OF(name, kind);
}

const char *table_form_name(gradin_form form) {
    static const char *const name[] = {"end stage", "thrust",     "in the round",
                                       "traverse",  "flat floor", "custom"};
    return NAME_OF(name, form);
}

const char *table_element_kind_name(gradin_element_kind kind) {
    static const char *const name[] = {"pane", "door", "vent"};
    return NAME_OF(name, kind);
}

const char *table_shade_state_key(int state) {
    static const char *const name[GRADIN_N_SHADE_STATE] = {"as_set", "open", "shut"};
    return NAME_OF(name, state);
}

const char *table_shade_state_name(int state) {
    static const char *const name[GRADIN_N_SHADE_STATE] = {"shades as set", "shades open",
                                                           "shades shut"};
    return NAME_OF(name, state);
}

int table_band_hz(int band) {
    static const int nominal_hz[GRADIN_N_BAND] = {50,   63,   80,   100,  125,  160,  200,
                                                  250,  315,  400,  500,  630,  800,  1000,
                                                  1250, 1600, 2000, 2500, 3150, 4000, 5000};
    return nominal_hz[band];
}

const char *table_worst_occluder(const gradin_assessment *assessment, int seat) {
    const gradin_model *model = assessment->model;
    int name = assessment->sight.worst_occluder[seat];
    return name >= 0 && name < model->n_occluder_name ? model->occluder_name[name] : NULL;
}

const char *table_loudest_element(const gradin_assessment *assessment, int seat) {
    const gradin_model *model = assessment->model;
    if (!assessment->has_noise) return NULL;
    int element = assessment->noise.loudest_element[seat];
    return element >= 0 && element < model->n_element ? model->element[element].name : NULL;
}

int table_first_cause(const gradin_assessment *assessment, int seat) {
    const double *hidden = assessment->sight.hidden + (size_t)seat * GRADIN_N_CAUSE;
    int first = -1;
    for (int cause = 0; cause < GRADIN_N_CAUSE; cause++)
        if (hidden[cause] > 0.0 && (first < 0 || hidden[cause] > hidden[first])) first = cause;
    return first;
}

bool table_has_shades(const gradin_assessment *assessment) {
    return assessment->has_noise && assessment->model->n_shade > 0;
}
