/* Names that only tables print. */
#include "table/shared/names.h"

#define NAME_OF(list, index)                                                                       \
    ((size_t)(index) < sizeof(list) / sizeof(list)[0] ? (list)[(size_t)(index)] : "none")

const char *table_element_kind_name(gradin_element_kind kind) {
    static const char *const name[] = {"pane", "door", "vent", "wall", "roof"};
    return NAME_OF(name, kind);
}

const char *table_part_name(const gradin_facade_part *part) {
    static const char *const name[GRADIN_N_PART_KIND] = {"glass", "seals", "opening", "vent"};
    bool is_leaf = part->kind == GRADIN_PART_BODY && part->element == GRADIN_ELEMENT_DOOR;
    bool is_opaque = part->kind == GRADIN_PART_BODY &&
                     (part->element == GRADIN_ELEMENT_WALL || part->element == GRADIN_ELEMENT_ROOF);
    return is_leaf ? "leaf" : is_opaque ? "surface" : name[part->kind];
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

const char *table_worst_occluder(const gradin_assessment *assessment, int seat) {
    const gradin_model *model = assessment->model;
    int name = assessment->sight.worst_occluder[seat];
    if (name == GRADIN_NONE_CLEARLY) return "none clearly";
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

const char *table_maximum_key(gradin_time_weighting weighting, int state) {
    static const char *const key[GRADIN_N_WEIGHTING][GRADIN_N_SHADE_STATE] = {
        {"lamax_dba", "lamax_open_dba", "lamax_shut_dba"},
        {"lafmax_dba", "lafmax_open_dba", "lafmax_shut_dba"},
        {"lasmax_dba", "lasmax_open_dba", "lasmax_shut_dba"}};
    return key[weighting][state];
}
