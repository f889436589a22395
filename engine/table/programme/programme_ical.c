/* A programme as iCalendar (RFC 5545): an event per show and per changeover, in the hall's local
 * time without a time zone (3.3.5, form 1), lines of at most 75 octets (3.1), text escaped
 * (3.3.11). The stamp is fixed, so that the same programme gives the same bytes. */
#include "base/use.h"
#include "gradin/studies/programme_write.h"
#include "studies/shared/complete.h"
#include "table/changeover/moves.h"
#include "table/programme/programme.h"

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

typedef struct entry {
    const char *kind; /* of the identifier */
    int number;
    int64_t from_s, to_s;
    const char *summary, *description;
} entry;

static void put_event(table_text *out, const gradin_programme_plan *plan, const entry *e) {
    char id[120];
    table_put(out, "BEGIN:VEVENT\r\n");
    snprintf(id, sizeof id, "UID:%s-%s-%d@gradin", plan->programme->digest, e->kind, e->number);
    put_line(out, id);
    table_put(out, "DTSTAMP:19700101T000000Z\r\n");
    put_time(out, "DTSTART", e->from_s);
    put_time(out, "DTEND", e->to_s);
    put_text(out, "SUMMARY", e->summary);
    put_text(out, "DESCRIPTION", e->description);
    put_text(out, "LOCATION", plan->model[0].venue_name);
    table_put(out, "END:VEVENT\r\n");
}

static void put_changeover(table_text *out, const gradin_programme_plan *plan, int show) {
    const gradin_staging *s = &plan->staging[show];
    table_text summary = {.arena = out->arena}, about = {.arena = out->arena};
    table_print(&summary, "Changeover: %s to %s", table_staged_layout(plan, s->from_layout),
                table_staged_layout(plan, s->layout));
    table_put_number(&about, TABLE_PERCENT, s->person_hours);
    table_put(&about, " person-hours");
    if (table_has_night(plan->programme)) {
        table_put(&about, ", ");
        table_put_number(&about, TABLE_PERCENT, s->night_hours);
        table_put(&about, " of them at night");
    }
    table_put(&about, ".");
    if (s->short_s > 0) {
        table_put(&about, " DOES NOT FIT: ");
        table_put_clash(&about, plan, show);
        table_put(&about, ".");
    }
    for (int i = 0; i < TABLE_N_MOVE_CAUTION; i++)
        table_print(&about, "\n%s", table_move_caution[i]);
    out->failed |= summary.failed || about.failed;
    if (out->failed) return;
    put_event(out, plan,
              &(entry){"changeover", show + 1, s->begin_s, s->done_s, summary.bytes, about.bytes});
}

static void put_show(table_text *out, const gradin_programme_plan *plan, int show) {
    const gradin_booking *b = &plan->programme->booking[show];
    table_text about = {.arena = out->arena};
    table_print(&about, "Layout %s.", table_staged_layout(plan, plan->staging[show].layout));
    if (plan->staging[show].needs != GRADIN_CLASH_NONE) {
        table_put(&about, " NOT AS ASKED: ");
        table_put_clash(&about, plan, show);
        table_put(&about, ".");
    }
    out->failed |= about.failed;
    if (out->failed) return;
    put_event(out, plan, &(entry){"show", show + 1, b->start_s, b->end_s, b->name, about.bytes});
}

gradin_status gradin_programme_ical(gradin_arena *arena, const gradin_programme_plan *plan,
                                    char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        programme_complete(plan, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    table_put(&out, "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//gradin//programme//EN\r\n");
    for (int i = 0; i < plan->programme->n_booking; i++) {
        if (table_is_changed(&plan->staging[i])) put_changeover(&out, plan, i);
        put_show(&out, plan, i);
    }
    table_put(&out, "END:VCALENDAR\r\n");
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the calendar");
    *text = out.bytes;
    *size = out.size;
    return GRADIN_OK;
}
