/* table/shared/report.h: the head and the end that the JSON of every study of a layout has. */
#ifndef GRADIN_TABLE_REPORT_H
#define GRADIN_TABLE_REPORT_H

#include "gradin/model.h"
#include "table/shared/json.h"

/* An object with format and version, and of a model (NULL without) venue, layout and input_digest.
 */
table_json table_json_begin(const char *format, const gradin_model *model);
/* The whole as text; the tree is freed. */
gradin_status table_json_end(gradin_arena *arena, table_json *json, char **text, size_t *size,
                             gradin_error *error);
/* cautions[from..to) as an array. */
void table_json_cautions(table_json *json, const char *const *caution, int from, int to);

#endif
