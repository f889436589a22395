/* table/shared/json_spread.h: the spread of a figure over the seats as a JSON object. */
#ifndef GRADIN_TABLE_JSON_SPREAD_H
#define GRADIN_TABLE_JSON_SPREAD_H

#include "gradin/studies.h"
#include "table/shared/json.h"

/* Null when no seat has the figure. */
void table_json_spread(table_json *json, json_t *parent, const char *key, table_quantity quantity,
                       const gradin_spread *spread, double scale);

#endif
