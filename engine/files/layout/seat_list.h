/* files/layout/seat_list.h: the rows of a seat list, read cell by cell. */
#ifndef GRADIN_FILES_LAYOUT_SEAT_LIST_H
#define GRADIN_FILES_LAYOUT_SEAT_LIST_H

#include "files/layout/read.h"

/* A row of the file. */
typedef struct list_row {
    gradin_listed_seat seat;
    const char *block, *level; /* NULL where no column gives them */
    int line;
} list_row;

typedef struct list_rows {
    list_row *row; /* [n] in the order of the file */
    int n, capacity;
    const char *path;
} list_rows;

/* All rows that are right; every cell that is not is complained of. With `is_plain` the file is
 * "row,number,x,y,facing_deg,kind" in the layout's units. False when it cannot be opened or lacks a
 * column. */
bool list_read(reader *r, const node *at, const stated_seat_list *s, bool is_plain,
               const gradin_audience *audience, list_rows *out);

#endif
