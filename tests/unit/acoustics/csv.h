/* unit/acoustics/csv.h: published values from reference/. */
#ifndef GRADIN_TEST_CSV_H
#define GRADIN_TEST_CSV_H

enum { CSV_MAX_ROW = 64, CSV_MAX_COLUMN = 16 };

typedef struct csv {
    int n_row;
    double cell[CSV_MAX_ROW][CSV_MAX_COLUMN];
} csv;

/* Reads reference/NAME, numbers only below a header of n_column names; the test fails when the file
 * is missing, or not of n_row rows and n_column columns. */
csv csv_read(const char *name, int n_row, int n_column);

#endif
