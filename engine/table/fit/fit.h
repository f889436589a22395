/* table/fit/fit.h: parts of the rough checks that are written out in a file of their own. */
#ifndef GRADIN_TABLE_FIT_H
#define GRADIN_TABLE_FIT_H

#include "gradin/table.h"
#include "table/shared/json.h"
#include "table/shared/text.h"

void table_put_loads(table_text *text, const gradin_fit *fit);
void table_json_loads(table_json *json, const gradin_fit *fit);
void table_put_slopes(table_text *text, const gradin_fit *fit);
void table_json_slopes(table_json *json, const gradin_fit *fit);
void table_put_routes(table_text *text, const gradin_fit *fit);
void table_json_routes(table_json *json, const gradin_fit *fit);

#endif
