/* table/shared/text.h: text that grows in an arena. The first failure sticks, so that a writer
 * checks once at its end. */
#ifndef GRADIN_TABLE_TEXT_H
#define GRADIN_TABLE_TEXT_H

#include "base/lengths.h"
#include "gradin/base.h"
#include "table/shared/digits.h"

enum { TABLE_PAGE_COLUMNS = 80 }; /* of a text for people */

typedef struct table_text {
    gradin_arena *arena;
    char *bytes; /* NUL-terminated once anything was written */
    size_t size, capacity;
    bool failed;     /* out of memory */
    bool is_in_feet; /* a table whose lengths are wanted in feet and inches */
} table_text;

void table_put(table_text *text, const char *piece);
void table_put_bytes(table_text *text, const char *bytes, size_t size);
void table_print(table_text *text, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* A cell of RFC 4180: in quotes, quotes doubled, where it holds a comma, a quote or a line break.
 * Text that a spreadsheet would take for a formula stands behind an apostrophe. */
void table_put_quoted(table_text *text, const char *piece);
/* csv_feet.c: the names of columns; in feet, NAME_m and NAME_mm become NAME_ft and NAME_in. */
void table_put_columns(table_text *text, const char *names);
/* The number with the decimals of its quantity, a length in the unit that is wanted; nothing for
 * one that is not finite. */
void table_put_number(table_text *text, table_quantity quantity, double value);
/* At most `columns` characters of UTF-8 text, cut with ".." where it is longer, padded with blanks
 * on the right when `pad`. */
void table_put_fitted(table_text *text, const char *piece, int columns, bool pad);
/* Words from column `at` on, broken before TABLE_PAGE_COLUMNS and begun again at `indent`; no line
 * break at the end. */
void table_put_wrapped(table_text *text, const char *piece, int at, int indent);
/* A number or "-", right-aligned in `columns`. */
void table_put_right(table_text *text, table_quantity quantity, double value, int columns);

/* tables_write.c: text as file `name` in folder `dir`, whole or not at all. */
gradin_status table_write_file(gradin_arena *arena, const char *dir, const char *name,
                               const char *text, size_t size, gradin_error *error);

/* Characters (not bytes) of UTF-8 text. */
int table_columns(const char *piece);

/* A length alone, or with its unit's name, or right-aligned in `columns` ("-" when not finite). */
void table_put_length_number(table_text *text, double length_m, length_unit unit);
void table_put_length(table_text *text, double length_m, length_unit unit);
void table_put_length_right(table_text *text, double length_m, length_unit unit, int columns);

/* Hours and minutes of whole minutes rounded up, such as "6:41", right-aligned in columns. */
void table_put_clock(table_text *text, int seconds, int columns);

/* Breaks each line of a finished text that is wider than a page at its last blank; the rest stands
 * two columns further in. No line ends with blanks. */
void table_fold(table_text *text);

#endif
