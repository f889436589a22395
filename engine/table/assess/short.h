/* table/assess/short.h: the columns that a client reads, and what stands in them. */
#ifndef GRADIN_TABLE_SHORT_H
#define GRADIN_TABLE_SHORT_H

#include "gradin/studies.h"
#include "table/shared/digits.h"

enum { SHORT_COLUMNS = 12, SHORT_CHARS = 64 };

/* Heading of a column, such as "visible_pct". */
const char *short_name(const gradin_assessment *assessment, int column);
/* What a seat has in a column as text, in text[SHORT_CHARS] where it is made; NULL: does not apply.
 */
const char *short_text(const gradin_assessment *assessment, int column, int seat,
                       char text[SHORT_CHARS]);
/* True when the column holds a number at this seat. *quantity gets its kind. */
bool short_number(const gradin_assessment *assessment, int column, int seat,
                  table_quantity *quantity, double *value);
/* Some seat has something in the column. */
bool short_is_used(const gradin_assessment *assessment, int column);

#endif
