/* table/shared/json_spread.h: the spread of a figure over the seats as a JSON object. */
#ifndef GRADIN_TABLE_JSON_SPREAD_H
#define GRADIN_TABLE_JSON_SPREAD_H

#include "gradin/studies.h"
#include "table/shared/json.h"

/* Null when no seat has the figure. */
void table_json_spread(table_json *json, json_t *parent, const char *key, table_quantity quantity,
                       const gradin_spread *spread, double scale);
/* How well levels are known, as `uncertainty`; systematic: of the A-weighted level over the seats.
 */
void table_json_doubt(table_json *json, json_t *parent, const gradin_uncertainty *uncertainty,
                      const gradin_spread *systematic, const char *source);

#endif
