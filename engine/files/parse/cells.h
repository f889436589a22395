/* files/parse/cells.h: CSV as other programs write it (RFC 4180): a first line of column names, any
 * order of columns, cells in quotes, another separator. */
#ifndef GRADIN_FILES_CELLS_H
#define GRADIN_FILES_CELLS_H

#include "files/parse/node.h"

enum { MAX_CELL = 200 };

typedef struct cell {
    char *text; /* without quotes and blanks around it */
    int column; /* 1-based character of the line at which it begins */
} cell;

typedef struct cell_file {
    const char *path;
    char *next; /* text still to be read; NULL at the end */
    char separator;
    int line;           /* of the row last given, 1-based */
    const int *line_of; /* lines of rows that were made from another file; NULL */
    int n_made;         /* of them given so far */
    int n_name, n_cell;
    const char *name[MAX_CELL]; /* [n_name] of the first line */
    cell cell[MAX_CELL];        /* [n_cell] of the row last given */
} cell_file;

/* Opens the file that `at` names. False after a complaint. */
bool cells_open(reader *r, const node *at, const char *path, size_t most_bytes, char separator,
                cell_file *out);
/* The next row that is not empty and is whole: rows of another count of cells than the first line,
 * or with an open quote, are complained of and passed over. False at the end. */
bool cells_next(reader *r, cell_file *rows);
/* Takes the names from the first line of rows->next. */
bool cells_names(reader *r, cell_file *rows);
/* Index of a column; -1 after a complaint at the key of the map `at` that names it. */
int cells_find(reader *r, const cell_file *rows, const node *at, const char *key, const char *name);
/* Complains of a cell of the row last given. */
void cells_complain(reader *r, const cell_file *rows, int index, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

#endif
