/* Plain CSV: no quotes, a fixed header line, LF or CR LF. */
#include "files/parse/rows.h"
#include "base/shared/plain.h"
#include "files/parse/lines.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static int count_cells(const char *line) {
    int n = 1;
    for (; *line; line++) n += *line == ',';
    return n;
}

bool rows_open(reader *r, const node *at, const char *path, size_t most_bytes, const char *header,
               row_file *rows) {
    char *bytes = lines_open(r, at, path, most_bytes);
    if (!bytes) return false;
    *rows = (row_file){.path = path, .next = bytes, .n_cell = count_cells(header)};
    if (strcmp(lines_take(&rows->next, &rows->line), header) != 0) {
        r->c.n_error++;
        rows_complain(rows, r->c.error, "the first line must be %s", header);
        return false;
    }
    return true;
}

bool rows_next(row_file *rows) {
    while (rows->next) {
        char *at = lines_take(&rows->next, &rows->line);
        if (at[0] == '\0') continue;
        int n = 0;
        for (; at && n < rows->n_cell; n++) {
            rows->cell[n] = at;
            at = strchr(at, ',');
            if (at) *at++ = '\0';
        }
        rows->is_whole = n == rows->n_cell && !at;
        return true;
    }
    return false;
}

void rows_complain(const row_file *rows, gradin_error *error, const char *format, ...) {
    char text[GRADIN_TEXT_CHARS];
    va_list arguments;
    va_start(arguments, format);
    plain_print_list(text, sizeof text, format, arguments);
    va_end(arguments);
    gradin_error_add(error, GRADIN_BAD_INPUT,
                     &(gradin_place){.file = rows->path, .line = rows->line, .column = 1}, "%s",
                     text);
}
