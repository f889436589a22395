/* Tables with their lengths in feet and inches: the name of a column says its unit, and a length is
 * converted before it is rounded. 1 ft = 0.3048 m exactly, 1 in = 25.4 mm (NIST SP 811, appendix
 * B.6). 0.001 ft and 0.01 in are finer than the metric table's millimetre. */
#include "table/shared/text.h"

#include <string.h>

bool table_is_length(table_quantity quantity) {
    return quantity == TABLE_METRE || quantity == TABLE_MILLIMETRE;
}

double table_in_feet(table_quantity quantity, double value) {
    return quantity == TABLE_METRE ? value / 0.3048 : value / 25.4;
}

int table_decimals_in_feet(table_quantity quantity) {
    return quantity == TABLE_METRE ? 3 : 2;
}

static bool ends_with(const char *name, size_t length, const char *end) {
    size_t n = strlen(end);
    return length > n && memcmp(name + length - n, end, n) == 0;
}

static void put_column(table_text *text, const char *name, size_t length) {
    bool is_mm = text->is_in_feet && ends_with(name, length, "_mm");
    bool is_m = text->is_in_feet && ends_with(name, length, "_m");
    table_put_bytes(text, name, length - (is_mm ? 2 : is_m ? 1 : 0));
    table_put(text, is_mm ? "in" : is_m ? "ft" : "");
}

void table_put_columns(table_text *text, const char *names) {
    for (;;) {
        size_t length = strcspn(names, ",\r\n");
        put_column(text, names, length);
        names += length;
        size_t between = strspn(names, ",\r\n");
        table_put_bytes(text, names, between);
        names += between;
        if (!*names) return;
    }
}
