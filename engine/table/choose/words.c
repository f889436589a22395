/* Words and units of a choice. */
#include "table/choose/choose.h"

const char *table_ask_key(gradin_ask ask) {
    static const char *const key[GRADIN_N_ASK] = {
        "form",     "seats",  "wheelchairs", "stage_area", "clear_share", "good_share",
        "distance", "events", "words_lost",  "changeover", "crew_hours",  "takings"};
    return key[ask];
}

const char *table_ask_unit(gradin_ask ask) {
    static const char *const unit[GRADIN_N_ASK] = {
        "1", "seats",        "places", "m2", "%", "%", "m", "events/performance", "s/performance",
        "s", "person-hours", "money"};
    return unit[ask];
}

table_quantity table_ask_quantity(gradin_ask ask) {
    static const table_quantity quantity[GRADIN_N_ASK] = {
        TABLE_SECOND, TABLE_COUNT,  TABLE_COUNT, TABLE_AREA,  TABLE_PERCENT, TABLE_PERCENT,
        TABLE_METRE,  TABLE_SECOND, TABLE_MASS,  TABLE_COUNT, TABLE_MASS,    TABLE_AREA};
    return quantity[ask];
}

double table_ask_scale(gradin_ask ask) {
    return ask == GRADIN_ASK_CLEAR || ask == GRADIN_ASK_GOOD ? 100.0 : 1.0;
}

const char *table_must_word(gradin_verdict verdict) {
    static const char *const word[GRADIN_N_VERDICT] = {"", "has it", "too near to tell",
                                                       "lacks it"};
    return word[verdict];
}

const char *table_choice_verdict(gradin_verdict verdict) {
    static const char *const word[GRADIN_N_VERDICT] = {"", "has all", "too near to tell",
                                                       "lacks some"};
    return word[verdict];
}

const char *table_choice_layout(const gradin_choice *choice, int candidate) {
    return choice->candidate[candidate].model->layout_name;
}

int table_choice_rank(const gradin_choice *choice, int candidate) {
    int k = 0;
    while (choice->order[k] != candidate) k++;
    return k + 1;
}

void table_put_ask(table_text *out, const gradin_choice *choice, gradin_ask ask, int partner) {
    table_put(out, gradin_ask_name(ask));
    if (partner >= 0) table_print(out, ", %s", choice->show->partner[partner].name);
}

static void put_allowed(table_text *out, double value) {
    table_put(out, value > 0.5 ? "allowed" : "excluded");
}

void table_put_bare(table_text *out, gradin_ask ask, double value, const char *units) {
    if (isnan(value))
        table_put(out, "none");
    else if (ask == GRADIN_ASK_FORM)
        put_allowed(out, value);
    else if (ask == GRADIN_ASK_DISTANCE)
        table_put_length_number(out, value, length_unit_of(units));
    else if (ask == GRADIN_ASK_STAGE)
        table_put_number(out, TABLE_MASS, value * pow(length_unit_of(units).per_m, 2.0));
    else if (ask == GRADIN_ASK_CHANGEOVER)
        table_put_clock(out, (int)value, 0);
    else
        table_put_number(out, table_ask_quantity(ask), table_ask_scale(ask) * value);
}

void table_put_asked(table_text *out, gradin_ask ask, double value, const char *units) {
    static const char *const unit[GRADIN_N_ASK] = {[GRADIN_ASK_CLEAR] = " %",
                                                   [GRADIN_ASK_GOOD] = " %",
                                                   [GRADIN_ASK_WORDS] = " s",
                                                   [GRADIN_ASK_CHANGEOVER] = " h"};
    table_put_bare(out, ask, value, units);
    if (isnan(value)) return;
    if (ask == GRADIN_ASK_DISTANCE) table_print(out, " %s", length_unit_of(units).name);
    if (ask == GRADIN_ASK_STAGE) table_print(out, " %s2", length_unit_of(units).name);
    if (unit[ask]) table_put(out, unit[ask]);
}

/* One of the last digit that tables have. */
static double last_digit(gradin_ask ask) {
    double step = 1.0;
    for (int i = 0; i < table_decimals(table_ask_quantity(ask)); i++) step *= 0.1;
    return step / table_ask_scale(ask);
}

static double to_kept_side(gradin_ask ask, double value, double step) {
    double steps = value / step;
    double slack = 1e-6;
    if (isnan(value)) return value;
    return step * (gradin_ask_wants_more(ask) ? floor(steps + slack) : ceil(steps - slack));
}

double table_ask_kept(gradin_ask ask, double value) {
    return to_kept_side(ask, value, last_digit(ask));
}

void table_put_relaxed(table_text *out, gradin_ask ask, double value, const char *units) {
    double step = last_digit(ask);
    if (ask == GRADIN_ASK_CHANGEOVER) step = 60.0;
    if (ask == GRADIN_ASK_DISTANCE) step = 0.01 / length_unit_of(units).per_m;
    if (ask == GRADIN_ASK_STAGE) step = 0.1 / pow(length_unit_of(units).per_m, 2.0);
    table_put_asked(out, ask, to_kept_side(ask, value, step), units);
}
