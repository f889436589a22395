/* table/assess/of_seat.h: what the long and the short table both say of a seat. */
#ifndef GRADIN_TABLE_OF_SEAT_H
#define GRADIN_TABLE_OF_SEAT_H

#include "gradin/studies.h"

/* Cells of a seat. A text may be NULL: there is none. */
typedef const char *text_of(const gradin_assessment *assessment, int seat);
typedef double number_of(const gradin_assessment *assessment, int seat);

text_of of_seat_id, of_seat_block, of_seat_level, of_seat_kind, of_seat_rating;
/* The house's own labels, where it has them, and the numbers. */
text_of of_seat_row_label, of_seat_seat_label;
number_of of_seat_row, of_seat_number;

#endif
