/* support/reference.h: tables of published values, reference/SOURCE/NAME.csv. */
#ifndef GRADIN_TEST_REFERENCE_H
#define GRADIN_TEST_REFERENCE_H

enum { REFERENCE_ROWS = 200, REFERENCE_COLUMNS = 16 };

typedef struct reference {
    const char *name;
    int n_row, n_column;
    const char *head[REFERENCE_COLUMNS];
    const char *cell[REFERENCE_ROWS][REFERENCE_COLUMNS];
    char text[1 << 14];
} reference;

/* Reads reference/NAME: a header, then rows of as many cells, none of them quoted. The test fails
 * when the file is missing or of another form, or a cell that is asked for is none. */
void reference_read(const char *name, reference *table);
const char *reference_text(const reference *table, int row, const char *column);
double reference_number(const reference *table, int row, const char *column);
/* The first row whose first column holds the text. */
int reference_row(const reference *table, const char *first);

#endif
