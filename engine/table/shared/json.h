/* table/shared/json.h: a thin layer over jansson that rounds numbers to the decimals of their
 * quantity and remembers the first failure. */
#ifndef GRADIN_TABLE_JSON_H
#define GRADIN_TABLE_JSON_H

#include "gradin/base.h"
#include "table/shared/digits.h"

#include <jansson.h>

typedef struct table_json {
    json_t *root;
    bool failed; /* out of memory, or text that is no UTF-8 */
} table_json;

/* Each adds a value under the key of an object; keys keep their order. The new object or array
 * belongs to its parent; NULL after a failure, which all of these accept as a parent. */
json_t *table_json_object(table_json *json, json_t *parent, const char *key);
json_t *table_json_array(table_json *json, json_t *parent, const char *key);
/* A new object or number at the end of an array. */
json_t *table_json_append_object(table_json *json, json_t *array);
void table_json_append_number(table_json *json, json_t *array, table_quantity quantity,
                              double value);
void table_json_append_integer(table_json *json, json_t *array, long value);
void table_json_append_text(table_json *json, json_t *array, const char *text);
/* Text NULL gives null. */
void table_json_text(table_json *json, json_t *parent, const char *key, const char *text);
void table_json_integer(table_json *json, json_t *parent, const char *key, long value);
void table_json_boolean(table_json *json, json_t *parent, const char *key, bool value);
void table_json_null(table_json *json, json_t *parent, const char *key);
/* A number that is not finite gives null. */
void table_json_number(table_json *json, json_t *parent, const char *key, table_quantity quantity,
                       double value);
void table_json_numbers(table_json *json, json_t *parent, const char *key, table_quantity quantity,
                        const double *value, int n, double scale);
/* The whole as text of *size bytes in the arena, ended by a line end; NULL when out of memory. */
char *table_json_dump(gradin_arena *arena, const json_t *root, size_t *size);

#endif
