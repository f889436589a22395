/* table/text.h: text that grows in an arena. The first failure sticks, so that a writer checks once
 * at its end. */
#ifndef GRADIN_TABLE_TEXT_H
#define GRADIN_TABLE_TEXT_H

#include "gradin/base.h"
#include "table/digits.h"

typedef struct table_text {
    gradin_arena *arena;
    char *bytes; /* NUL-terminated once anything was written */
    size_t size, capacity;
    bool failed; /* out of memory */
} table_text;

void table_put(table_text *text, const char *piece);
void table_put_bytes(table_text *text, const char *bytes, size_t size);
void table_print(table_text *text, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* The number with the decimals of its quantity; nothing for one that is not finite. */
void table_put_number(table_text *text, table_quantity quantity, double value);
/* At most `columns` characters of UTF-8 text, cut with ".." where it is longer, padded with blanks
 * on the right when `pad`. */
void table_put_fitted(table_text *text, const char *piece, int columns, bool pad);
/* A number or "-", right-aligned in `columns`. */
void table_put_right(table_text *text, table_quantity quantity, double value, int columns);

/* Characters (not bytes) of UTF-8 text. */
int table_columns(const char *piece);

#endif
