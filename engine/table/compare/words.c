/* Words, keys and units of a comparison. */
#include "table/compare/words.h"

typedef struct figure_words {
    const char *key, *unit_key, *unit;
    table_quantity quantity;
    double scale;
} figure_words;

static const figure_words words[GRADIN_N_FIGURE] = {
    [GRADIN_FIGURE_VISIBLE] = {"visible", "pct", "%", TABLE_PERCENT, 100.0},
    [GRADIN_FIGURE_CLEAR_VIEW] = {"clear_view", "pct", "%", TABLE_PERCENT, 100.0},
    [GRADIN_FIGURE_C_VALUE] = {"c", "mm", "mm", TABLE_MILLIMETRE, 1000.0},
    [GRADIN_FIGURE_DISTANCE] = {"distance", "m", "m", TABLE_METRE, 1.0},
    [GRADIN_FIGURE_OFF_AXIS] = {"off_axis", "deg", "deg", TABLE_DEGREE, 1.0},
    [GRADIN_FIGURE_DOWN] = {"down", "deg", "deg", TABLE_DEGREE, 1.0},
    [GRADIN_FIGURE_TURN] = {"head_turn", "deg", "deg", TABLE_DEGREE, 1.0},
    [GRADIN_FIGURE_LAMAX] = {"lamax", "dba", "dB(A)", TABLE_DECIBEL, 1.0}};

char table_compare_letter(int layout) {
    return (char)('A' + layout);
}

const char *table_compare_name(const gradin_comparison *c, int layout) {
    return c->layout[layout].assessment->model->layout_name;
}

const char *table_figure_name(gradin_figure figure) {
    return gradin_figure_name(figure);
}

const char *table_figure_key(gradin_figure figure) {
    return words[figure].key;
}

const char *table_figure_unit_key(gradin_figure figure) {
    return words[figure].unit_key;
}

table_quantity table_figure_quantity(gradin_figure figure) {
    return words[figure].quantity;
}

double table_figure_scale(gradin_figure figure) {
    return words[figure].scale;
}

length_unit table_figure_unit(gradin_figure figure, const char *units) {
    const figure_words *w = &words[figure];
    if (w->quantity == TABLE_METRE) return length_unit_of(units);
    if (w->quantity == TABLE_MILLIMETRE) return small_unit_of(units);
    return (length_unit){w->unit, w->scale, table_decimals(w->quantity)};
}

const char *table_matched_name(gradin_matched matched) {
    static const char *const name[GRADIN_N_MATCHED] = {"", "name", "place", "mirrored place"};
    return name[matched];
}

const char *table_effect_name(gradin_effect effect) {
    static const char *const name[GRADIN_N_EFFECT] = {"", "worse", "no difference", "better"};
    return name[effect];
}

const char *table_aim_name(gradin_aim aim) {
    static const char *const name[GRADIN_N_AIM] = {[GRADIN_AIM_SEATS] = "seats",
                                                   [GRADIN_AIM_CLEAR] = "clear seats",
                                                   [GRADIN_AIM_GOOD] = "seats at least good",
                                                   [GRADIN_AIM_NOISE] = "noise",
                                                   [GRADIN_AIM_CHANGEOVER] = "changeover into it"};
    return name[aim];
}
