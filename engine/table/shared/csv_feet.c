/* The columns of a table with its lengths in feet and inches: a column's name says its unit. */
#include "table/shared/text.h"

#include <string.h>

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
