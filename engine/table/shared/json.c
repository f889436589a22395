/* Numbers are rounded as text by gradin_format_fixed() and read back, so that the shortest digits
 * of the double are those of every other output; jansson then prints 15 significant digits, which
 * is fewer than any double can spoil. */
#include "table/shared/json.h"

#include <stdlib.h>
#include <string.h>

enum { NUMBER_CHARS = 400 };

static void set(table_json *json, json_t *parent, const char *key, json_t *value) {
    if (json_object_set_new(parent, key, value) != 0) json->failed = true;
}

static json_t *set_child(table_json *json, json_t *parent, const char *key, json_t *child) {
    if (json_object_set_new(parent, key, child) == 0) return child;
    json->failed = true;
    return NULL;
}

static void append(table_json *json, json_t *array, json_t *value) {
    if (json_array_append_new(array, value) != 0) json->failed = true;
}

/* Whole ones as integers as far as jansson's reach. */
static json_t *rounded(table_quantity quantity, double value) {
    char text[NUMBER_CHARS];
    double number;
    gradin_format_fixed(text, sizeof text, value, table_decimals(quantity));
    if (!gradin_parse_number(text, &number)) return json_null();
    bool is_integer = table_decimals(quantity) == 0 && fabs(number) < 9.2e18;
    return is_integer ? json_integer((json_int_t)number) : json_real(number);
}

json_t *table_json_object(table_json *json, json_t *parent, const char *key) {
    return set_child(json, parent, key, json_object());
}

json_t *table_json_array(table_json *json, json_t *parent, const char *key) {
    return set_child(json, parent, key, json_array());
}

json_t *table_json_append_object(table_json *json, json_t *array) {
    json_t *child = json_object();
    if (json_array_append_new(array, child) == 0) return child;
    json->failed = true;
    return NULL;
}

void table_json_append_number(table_json *json, json_t *array, table_quantity quantity,
                              double value) {
    append(json, array, rounded(quantity, value));
}

void table_json_append_integer(table_json *json, json_t *array, long value) {
    append(json, array, json_integer(value));
}

void table_json_append_text(table_json *json, json_t *array, const char *text) {
    append(json, array, json_string(text));
}

void table_json_text(table_json *json, json_t *parent, const char *key, const char *text) {
    set(json, parent, key, text ? json_string(text) : json_null());
}

void table_json_integer(table_json *json, json_t *parent, const char *key, long value) {
    set(json, parent, key, json_integer(value));
}

void table_json_boolean(table_json *json, json_t *parent, const char *key, bool value) {
    set(json, parent, key, json_boolean(value));
}

void table_json_null(table_json *json, json_t *parent, const char *key) {
    set(json, parent, key, json_null());
}

void table_json_number(table_json *json, json_t *parent, const char *key, table_quantity quantity,
                       double value) {
    set(json, parent, key, rounded(quantity, value));
}

void table_json_numbers(table_json *json, json_t *parent, const char *key, table_quantity quantity,
                        const double *value, int n, double scale) {
    json_t *array = table_json_array(json, parent, key);
    for (int i = 0; i < n; i++) table_json_append_number(json, array, quantity, scale * value[i]);
}

char *table_json_dump(gradin_arena *arena, const json_t *root, size_t *size) {
    char *dumped = json_dumps(root, JSON_INDENT(2) | JSON_REAL_PRECISION(15));
    if (!dumped) return NULL;
    size_t length = strlen(dumped);
    char *text = gradin_arena_alloc(arena, length + 2, 1);
    if (text) {
        memcpy(text, dumped, length);
        text[length] = '\n';
        *size = length + 1;
    }
    free(dumped);
    return text;
}
