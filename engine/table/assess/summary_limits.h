/* table/assess/summary_limits.h: the part of a summary that tells what a rating was judged by. */
#ifndef GRADIN_TABLE_SUMMARY_LIMITS_H
#define GRADIN_TABLE_SUMMARY_LIMITS_H

#include "gradin/studies.h"
#include "table/shared/json.h"
#include "table/shared/text.h"

void table_summary_limits_text(table_text *out, const gradin_assessment *a);
void table_summary_c_text(table_text *out, const gradin_assessment *a);
void table_summary_limits_json(table_json *json, json_t *parent, const gradin_assessment *a);
void table_summary_c_json(table_json *json, const gradin_assessment *a);

#endif
