/* The spread of a figure over the seats as a JSON object. */
#include "table/shared/json_spread.h"

void table_json_spread(table_json *json, json_t *parent, const char *key, table_quantity quantity,
                       const gradin_spread *spread, double scale) {
    if (!isfinite(spread->median)) {
        table_json_null(json, parent, key);
        return;
    }
    json_t *object = table_json_object(json, parent, key);
    table_json_number(json, object, "least", quantity, scale * spread->least);
    table_json_number(json, object, "p10", quantity, scale * spread->p10);
    table_json_number(json, object, "median", quantity, scale * spread->median);
    table_json_number(json, object, "p90", quantity, scale * spread->p90);
    table_json_number(json, object, "most", quantity, scale * spread->most);
}

void table_json_doubt(table_json *json, json_t *parent, const gradin_uncertainty *uncertainty,
                      const gradin_spread *systematic, const char *source) {
    json_t *object = table_json_object(json, parent, "uncertainty");
    table_json_spread(json, object, "systematic_db", TABLE_DECIBEL, systematic, 1.0);
    table_json_number(json, object, "scatter_db", TABLE_DECIBEL, uncertainty->scatter_db);
    table_json_number(json, object, "source_db", TABLE_DECIBEL, uncertainty->source_db);
    table_json_numbers(json, object, "envelope_db", TABLE_DECIBEL, uncertainty->envelope_db,
                       GRADIN_N_BAND, 1.0);
    table_json_number(json, object, "room_db", TABLE_DECIBEL, uncertainty->room_db);
    table_json_text(json, object, "source", source);
}
