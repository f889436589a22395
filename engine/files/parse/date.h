/* files/parse/date.h: dates and times of day, local. */
#ifndef GRADIN_FILES_DATE_H
#define GRADIN_FILES_DATE_H

#include <stdbool.h>
#include <stdint.h>

/* ISO 8601: YYYY-MM-DDThh:mm, with :ss when has_seconds; from 1970 on, in seconds since then. */
bool gradin_date_parse(const char *text, bool has_seconds, int64_t *time_s);
/* YYYY-MM-DD: its midnight. */
bool gradin_day_parse(const char *text, int64_t *time_s);

#endif
