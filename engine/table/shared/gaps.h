/* table/shared/gaps.h: what of the envelope is in no level, in words and in JSON. */
#ifndef GRADIN_TABLE_SHARED_GAPS_H
#define GRADIN_TABLE_SHARED_GAPS_H

#include "gradin/acoustics.h"
#include "table/shared/json.h"
#include "table/shared/text.h"

void table_put_gaps(table_text *out, const gradin_gaps *gaps);
/* A line: the level at the median seat of what is not stated alone, heavy to light, when
 * level_db is the one of all that is. */
void table_put_gaps_alone(table_text *out, const gradin_gaps *gaps, double level_db);
void table_json_gaps(table_json *json, json_t *parent, const gradin_gaps *gaps);

#endif
