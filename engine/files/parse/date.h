/* files/parse/date.h: dates and times of day, local. */
#ifndef GRADIN_FILES_DATE_H
#define GRADIN_FILES_DATE_H

#include "gradin/files.h" /* gradin_date_parse() */

/* YYYY-MM-DD: its midnight. */
bool gradin_day_parse(const char *text, int64_t *time_s);

#endif
