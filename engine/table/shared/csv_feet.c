/* A table with its lengths in feet and inches. Works on the finished text (RFC 4180), so that every
 * table has it and none can forget a column: the name of a column says its unit. A column NAME_m
 * becomes NAME_ft, NAME_mm becomes NAME_in; all else stays byte for byte. 1 ft = 0.3048 m exactly,
 * 1 in = 25.4 mm (NIST SP 811, appendix B.6). The figures are those of the metric table, to the
 * millimetre, converted: 0.001 ft and 0.01 in are finer. */
#include "base/use.h"
#include "gradin/table.h"
#include "table/shared/text.h"

#include <string.h>

typedef enum column_unit { COLUMN_OTHER, COLUMN_METRE, COLUMN_MILLIMETRE } column_unit;

static const double METRE_FT = 1.0 / 0.3048, MILLIMETRE_IN = 1.0 / 25.4;

/* The byte after the cell that starts at `at`: a comma, a line break, or the end. */
static size_t end_of_cell(const char *text, size_t at, size_t size) {
    bool is_quoted = false;
    for (; at < size; at++) {
        if (text[at] == '"') is_quoted = !is_quoted;
        if (!is_quoted && (text[at] == ',' || text[at] == '\r' || text[at] == '\n')) break;
    }
    return at;
}

static bool ends_with(const char *cell, size_t length, const char *end) {
    size_t n = strlen(end);
    return length > n && memcmp(cell + length - n, end, n) == 0;
}

static column_unit put_name(table_text *out, const char *cell, size_t length) {
    column_unit unit = ends_with(cell, length, "_mm")  ? COLUMN_MILLIMETRE
                       : ends_with(cell, length, "_m") ? COLUMN_METRE
                                                       : COLUMN_OTHER;
    const size_t cut[] = {0, 1, 2};
    static const char *const end[] = {"", "ft", "in"};
    table_put_bytes(out, cell, length - cut[unit]);
    table_put(out, end[unit]);
    return unit;
}

static void put_cell(table_text *out, column_unit unit, const char *cell, size_t length) {
    char number[64], converted[64];
    double value;
    if (unit == COLUMN_OTHER || length == 0 || length >= sizeof number) {
        table_put_bytes(out, cell, length);
        return;
    }
    memcpy(number, cell, length);
    number[length] = '\0';
    if (!gradin_parse_number(number, &value)) {
        table_put_bytes(out, cell, length);
        return;
    }
    double scale = unit == COLUMN_METRE ? METRE_FT : MILLIMETRE_IN;
    table_put(out, gradin_format_fixed(converted, sizeof converted, scale * value,
                                       unit == COLUMN_METRE ? 3 : 2));
}

static int count_columns(const char *text, size_t size) {
    int n = 1;
    for (size_t at = end_of_cell(text, 0, size); at < size && text[at] == ',';
         at = end_of_cell(text, at + 1, size))
        n++;
    return n;
}

static void convert(table_text *out, column_unit *unit, int n_column, const char *text,
                    size_t size) {
    int line = 0, column = 0;
    for (size_t at = 0; at < size;) {
        size_t end = end_of_cell(text, at, size);
        if (line == 0 && column < n_column)
            unit[column] = put_name(out, text + at, end - at);
        else
            put_cell(out, column < n_column ? unit[column] : COLUMN_OTHER, text + at, end - at);
        if (end < size && text[end] == ',') {
            column++;
            at = end + 1;
            table_put(out, ",");
            continue;
        }
        for (at = end; at < size && (text[at] == '\r' || text[at] == '\n'); at++)
            table_put_bytes(out, text + at, 1);
        line++;
        column = 0;
    }
}

gradin_status gradin_csv_in_feet(gradin_arena *arena, char **text, size_t *size,
                                 gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK || NEEDS(error, *text) != GRADIN_OK)
        return GRADIN_BAD_USE;
    int n_column = count_columns(*text, *size);
    column_unit *unit = gradin_arena_alloc(arena, (size_t)n_column, sizeof *unit);
    table_text out = {.arena = arena};
    if (unit) convert(&out, unit, n_column, *text, *size);
    if (!unit || out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a table in feet");
    *text = out.bytes ? out.bytes : *text;
    *size = out.size;
    return GRADIN_OK;
}
