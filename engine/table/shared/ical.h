/* table/shared/ical.h: events as iCalendar (RFC 5545). */
#ifndef GRADIN_TABLE_ICAL_H
#define GRADIN_TABLE_ICAL_H

#include "table/shared/text.h"

#include <stdint.h>

/* Local times since 1970, without a time zone. */
typedef struct ical_event {
    const char *id; /* unique in the world; not escaped */
    int64_t from_s, to_s;
    const char *summary, *description, *location;
} ical_event;

void ical_begin(table_text *out, const char *product); /* "programme" */
void ical_put(table_text *out, const ical_event *event);
void ical_end(table_text *out);

#endif
