#include "csv.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>

enum { LINE_CHARS = 512 };

static void read_row(const char *name, char *line, int n_column, csv *table) {
    char *at = line, *end = line;
    cr_assert(table->n_row < CSV_MAX_ROW, "%s: too many rows", name);
    for (int i = 0; i < n_column; i++, at = end + 1) {
        table->cell[table->n_row][i] = strtod(at, &end);
        cr_assert(end > at && *end == (i < n_column - 1 ? ',' : '\n'), "%s, row %d, column %d",
                  name, table->n_row + 1, i + 1);
    }
    table->n_row++;
}

csv csv_read(const char *name, int n_row, int n_column) {
    csv table = {0};
    char path[LINE_CHARS], line[LINE_CHARS];
    snprintf(path, sizeof path, "%s/reference/%s", GRADIN_SOURCE_DIR, name);
    FILE *file = fopen(path, "r");
    cr_assert(file != NULL, "%s cannot be read", path);
    cr_assert(n_column <= CSV_MAX_COLUMN && fgets(line, sizeof line, file) != NULL, "%s", name);
    while (fgets(line, sizeof line, file)) read_row(name, line, n_column, &table);
    fclose(file);
    cr_assert(table.n_row == n_row, "%s has %d rows, not %d", name, table.n_row, n_row);
    return table;
}
