#include "support/reference.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Cuts a line at its commas. */
static int cut(char *line, const char **cell) {
    int n = 0;
    for (char *next = line; next; n++) {
        cr_assert_lt(n, REFERENCE_COLUMNS);
        cell[n] = next;
        next = strchr(next, ',');
        if (next) *next++ = '\0';
    }
    return n;
}

void reference_read(const char *name, reference *table) {
    char path[512];
    *table = (reference){.name = name};
    snprintf(path, sizeof path, GRADIN_SOURCE_DIR "/reference/%s", name);
    FILE *in = fopen(path, "r");
    cr_assert(in, "%s is missing", path);
    size_t size = fread(table->text, 1, sizeof table->text - 1, in);
    fclose(in);
    cr_assert_lt(size, sizeof table->text - 1, "%s is too long", name);
    cr_assert_null(strpbrk(table->text, "\"\r"), "%s has quotes or carriage returns", name);
    char *line = strtok(table->text, "\n");
    cr_assert(line, "%s is empty", name);
    table->n_column = cut(line, table->head);
    while ((line = strtok(NULL, "\n"))) {
        cr_assert_lt(table->n_row, REFERENCE_ROWS);
        int n = cut(line, table->cell[table->n_row++]);
        cr_assert_eq(n, table->n_column, "%s: row %d has %d cells", name, table->n_row, n);
    }
    cr_assert_gt(table->n_row, 0, "%s has no rows", name);
}

const char *reference_text(const reference *table, int row, const char *column) {
    cr_assert(row >= 0 && row < table->n_row, "%s: no row %d", table->name, row);
    for (int k = 0; k < table->n_column; k++)
        if (strcmp(table->head[k], column) == 0) return table->cell[row][k];
    cr_assert_fail("%s: no column %s", table->name, column);
    return NULL;
}

double reference_number(const reference *table, int row, const char *column) {
    const char *text = reference_text(table, row, column);
    char *end;
    double value = strtod(text, &end);
    cr_assert(end != text && *end == '\0', "%s: '%s' is no number", table->name, text);
    return value;
}

int reference_row(const reference *table, const char *first) {
    for (int i = 0; i < table->n_row; i++)
        if (strcmp(table->cell[i][0], first) == 0) return i;
    cr_assert_fail("%s: no row %s", table->name, first);
    return -1;
}
