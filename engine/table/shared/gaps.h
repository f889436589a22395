/* table/shared/gaps.h: what of the envelope is in no level, in words and in JSON. */
#ifndef GRADIN_TABLE_SHARED_GAPS_H
#define GRADIN_TABLE_SHARED_GAPS_H

#include "gradin/acoustics.h"
#include "table/shared/json.h"
#include "table/shared/text.h"

void table_put_gaps(table_text *out, const gradin_gaps *gaps);
void table_json_gaps(table_json *json, json_t *parent, const gradin_gaps *gaps);

#endif
