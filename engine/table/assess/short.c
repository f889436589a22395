/* The twelve columns of the short table, one record each. */
#include "table/assess/short.h"

#include "table/assess/of_seat.h"
#include "table/shared/names.h"

/* A column has a text, or a number, or a text where there is one and the number otherwise. */
typedef struct column {
    const char *name; /* NULL: by the time weighting of the pass */
    text_of *text;
    number_of *number;
    table_quantity quantity;
} column;

static const char *reason_of(const gradin_assessment *a, int i) {
    return a->sight.reason[i] == GRADIN_REASON_NONE ? NULL : gradin_reason_name(a->sight.reason[i]);
}
static double visible_of(const gradin_assessment *a, int i) {
    return 100.0 * a->sight.visible[i];
}
static double c_of(const gradin_assessment *a, int i) {
    return 1000.0 * a->sight.c_m[i];
}
static double distance_of(const gradin_assessment *a, int i) {
    return a->sight.distance_m[i];
}
static double level_db(const gradin_assessment *a, int i) {
    const double *level = a->has_noise ? a->noise.lamax_db[GRADIN_SHADES_AS_SET] : NULL;
    return level ? level[i] : NAN;
}

static const column columns[SHORT_COLUMNS] = {
    {"seat", of_seat_id, NULL, TABLE_COUNT},
    {"block", of_seat_block, NULL, TABLE_COUNT},
    {"level", of_seat_level, NULL, TABLE_COUNT},
    {"row", of_seat_row_label, of_seat_row, TABLE_COUNT},
    {"number", of_seat_seat_label, of_seat_number, TABLE_COUNT},
    {"kind", of_seat_kind, NULL, TABLE_COUNT},
    {"rating", of_seat_rating, NULL, TABLE_COUNT},
    {"reason", reason_of, NULL, TABLE_COUNT},
    {"visible_pct", NULL, visible_of, TABLE_PERCENT},
    {"distance_m", NULL, distance_of, TABLE_METRE},
    {"c_mm", NULL, c_of, TABLE_MILLIMETRE},
    {NULL, NULL, level_db, TABLE_DECIBEL}};

const char *short_name(const gradin_assessment *a, int k) {
    return columns[k].name ? columns[k].name
                           : table_maximum_key(a->noise.weighting, GRADIN_SHADES_AS_SET);
}

bool short_number(const gradin_assessment *a, int k, int seat, table_quantity *quantity,
                  double *value) {
    const column *c = &columns[k];
    if (!c->number || (c->text && c->text(a, seat))) return false;
    *quantity = c->quantity;
    *value = c->number(a, seat);
    return isfinite(*value);
}

const char *short_text(const gradin_assessment *a, int k, int seat, char text[SHORT_CHARS]) {
    table_quantity quantity;
    double value;
    if (short_number(a, k, seat, &quantity, &value))
        return gradin_format_fixed(text, SHORT_CHARS, value, table_decimals(quantity));
    return columns[k].text ? columns[k].text(a, seat) : NULL;
}

bool short_is_used(const gradin_assessment *a, int k) {
    char text[SHORT_CHARS];
    for (int i = 0; i < a->sight.n_seat; i++)
        if (short_text(a, k, i, text)) return true;
    return false;
}
