/* The seat table for a spreadsheet: the columns that a client reads, those without a figure left
 * out, no cell empty. RFC 4180 as the whole table. A byte order mark stands before text that is not
 * all ASCII: spreadsheets take the rest for another code than UTF-8 (common practice, no source).
 */
#include "base/use.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"
#include "table/assess/short.h"
#include "table/shared/text.h"

#include <string.h>

static const char none[] = "none", mark[] = "\xEF\xBB\xBF";

/* The names (seat -1) or the cells of a seat. */
static void put_line(table_text *out, const gradin_assessment *a, const bool *is_used, int seat) {
    char text[SHORT_CHARS];
    bool is_first = true;
    for (int k = 0; k < SHORT_COLUMNS; k++) {
        if (!is_used[k]) continue;
        const char *cell = seat < 0 ? short_name(a, k) : short_text(a, k, seat, text);
        if (!is_first) table_put(out, ",");
        is_first = false;
        table_quantity quantity;
        double value;
        if (seat >= 0 && short_number(a, k, seat, &quantity, &value))
            table_put_number(out, quantity, value); /* a minus sign is no formula */
        else if (seat < 0 && !cell[strcspn(cell, ",\"\r\n")])
            table_put_columns(out, cell);
        else
            table_put_quoted(out, cell ? cell : none);
    }
    table_put(out, "\r\n");
}

static bool is_ascii(const table_text *text) {
    for (size_t i = 0; i < text->size; i++)
        if ((unsigned char)text->bytes[i] > 0x7F) return false;
    return true;
}

gradin_status gradin_seats_short_csv(gradin_arena *arena, const gradin_assessment *assessment,
                                     gradin_csv_units units, char **text, size_t *size,
                                     gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        assessment_tables_complete(assessment, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text body = {.arena = arena, .is_in_feet = units == GRADIN_CSV_FEET},
               marked = {.arena = arena};
    bool is_used[SHORT_COLUMNS];
    for (int k = 0; k < SHORT_COLUMNS; k++) is_used[k] = short_is_used(assessment, k);
    for (int i = -1; i < assessment->sight.n_seat; i++) put_line(&body, assessment, is_used, i);
    if (!body.failed && !is_ascii(&body)) {
        table_put(&marked, mark);
        table_put_bytes(&marked, body.bytes, body.size);
        body = marked;
    }
    if (body.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the short table");
    *text = body.bytes;
    *size = body.size;
    return GRADIN_OK;
}
