/* table/shared/date.h: dates and times of day in text. */
#ifndef GRADIN_TABLE_DATE_H
#define GRADIN_TABLE_DATE_H

#include <stdint.h>

enum { TABLE_DATE_CHARS = 48 };

/* Of a time from 1970 on. */
void table_date_parts(int64_t time_s, int *year, int *month, int *day);
/* YYYY-MM-DD, and that with the time of day, such as 2027-03-02T19:30 with 'T' between; they give
 * out. */
const char *table_date(char out[TABLE_DATE_CHARS], int64_t time_s);
const char *table_time(char out[TABLE_DATE_CHARS], int64_t time_s, char between);
/* The same to the second, 2027-03-02T19:30:00. */
const char *table_stamp(char out[TABLE_DATE_CHARS], int64_t time_s);

#endif
