/* files/rows.h: plain CSV files with a fixed header line. */
#ifndef GRADIN_FILES_ROWS_H
#define GRADIN_FILES_ROWS_H

#include "files/parse/node.h"

enum { MAX_ROW_CELL = 8 };

typedef struct row_file {
    const char *path;
    char *next;    /* text still to be read; NULL at the end */
    int line;      /* of the row last given, 1-based */
    int n_cell;    /* a row must have */
    bool is_whole; /* the row last given had that many cells */
    char *cell[MAX_ROW_CELL];
} row_file;

/* Opens the file that `at` names, beside r's own; header is its first line, which also fixes the
 * count of cells. False after a complaint. */
bool rows_open(reader *r, const node *at, const char *path, size_t most_bytes, const char *header,
               row_file *rows);
/* The next row that is not empty; false at the end. */
bool rows_next(row_file *rows);
/* Complains of the row last given in `error`. */
void rows_complain(const row_file *rows, gradin_error *error, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

#endif
