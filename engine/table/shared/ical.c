/* iCalendar (RFC 5545): events in the hall's local time without a time zone (3.3.5, form 1), lines
 * of at most 75 octets (3.1), text escaped (3.3.11). The stamp is fixed, so that the same plan
 * gives the same bytes. */
#include "table/shared/ical.h"
#include "table/shared/date.h"

#include <stdio.h>

enum { MOST_OCTETS = 75 };

/* A content line, folded between characters of UTF-8. */
static void put_line(table_text *out, const char *line) {
    int n = 0;
    for (const char *at = line; *at; at++) {
        int more = 1;
        while (((unsigned char)at[more] & 0xC0) == 0x80) more++;
        if (n + more > MOST_OCTETS) {
            table_put(out, "\r\n ");
            n = 1;
        }
        table_put_bytes(out, at, (size_t)more);
        n += more;
        at += more - 1;
    }
    table_put(out, "\r\n");
}

static void put_escaped(table_text *out, const char *text) {
    for (; *text; text++) {
        if (*text == '\\' || *text == ';' || *text == ',') table_put(out, "\\");
        if (*text == '\n')
            table_put(out, "\\n");
        else
            table_put_bytes(out, text, 1);
    }
}

/* "KEY:" and escaped text. */
static void put_text(table_text *out, const char *key, const char *text) {
    table_text line = {.arena = out->arena};
    table_print(&line, "%s:", key);
    put_escaped(&line, text);
    if (line.bytes) put_line(out, line.bytes);
    out->failed |= line.failed;
}

static void put_time(table_text *out, const char *key, int64_t time_s) {
    int year, month, day, of_day = (int)(time_s % 86400);
    table_date_parts(time_s, &year, &month, &day);
    table_print(out, "%s:%04d%02d%02dT%02d%02d%02d\r\n", key, year, month, day, of_day / 3600,
                of_day / 60 % 60, of_day % 60);
}

void ical_begin(table_text *out, const char *product) {
    table_put(out, "BEGIN:VCALENDAR\r\nVERSION:2.0\r\n");
    table_print(out, "PRODID:-//gradin//%s//EN\r\n", product);
}

void ical_put(table_text *out, const ical_event *e) {
    char id[160];
    table_put(out, "BEGIN:VEVENT\r\n");
    snprintf(id, sizeof id, "UID:%s@gradin", e->id);
    put_line(out, id);
    table_put(out, "DTSTAMP:19700101T000000Z\r\n");
    put_time(out, "DTSTART", e->from_s);
    put_time(out, "DTEND", e->to_s);
    put_text(out, "SUMMARY", e->summary);
    put_text(out, "DESCRIPTION", e->description);
    put_text(out, "LOCATION", e->location);
    table_put(out, "END:VEVENT\r\n");
}

void ical_end(table_text *out) {
    table_put(out, "END:VCALENDAR\r\n");
}
