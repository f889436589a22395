/* The events of a season: CSV "time,class,track,offset_db", a row per event. */
#include "base/lookup.h"
#include "files/traffic/traffic.h"

#include <string.h>

enum { MAX_EVENT_BYTES = 256 << 20, N_TIME_CHARS = 19, MAX_ODD = 30 };

static const char event_header[] = "time,class,track,offset_db";

/* Days since 1 January 1970 of the Gregorian calendar (Howard Hinnant's civil-day count). */
static int64_t day_of(int year, int month, int day) {
    int y = month <= 2 ? year - 1 : year, era = y / 400, of_era = y - era * 400;
    int of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
    return (int64_t)era * 146097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719468;
}

static bool digits(const char *at, int n, int *value) {
    *value = 0;
    for (int i = 0; i < n; i++) {
        if (at[i] < '0' || at[i] > '9') return false;
        *value = 10 * *value + (at[i] - '0');
    }
    return true;
}

static int days_in(int year, int month) {
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    bool is_leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return days[month - 1] + (month == 2 && is_leap);
}

/* ISO 8601 local time, YYYY-MM-DDThh:mm:ss. */
static bool parse_time(const char *t, int64_t *time_s) {
    int year, month, day, hour, minute, second;
    if (strlen(t) != N_TIME_CHARS || t[4] != '-' || t[7] != '-' || t[10] != 'T' || t[13] != ':' ||
        t[16] != ':')
        return false;
    if (!digits(t, 4, &year) || !digits(t + 5, 2, &month) || !digits(t + 8, 2, &day) ||
        !digits(t + 11, 2, &hour) || !digits(t + 14, 2, &minute) || !digits(t + 17, 2, &second))
        return false;
    if (year < 1970 || month < 1 || month > 12 || day < 1 || day > days_in(year, month) ||
        hour > 23 || minute > 59 || second > 59)
        return false;
    *time_s = day_of(year, month, day) * 86400 + hour * 3600 + minute * 60 + second;
    return true;
}

/* What is wrong with the row, or NULL. */
static const char *parse_row(const gradin_traffic *t, const row_file *rows, gradin_event *event) {
    if (!rows->is_whole) return "needs time,class,track,offset_db";
    if (!parse_time(rows->cell[0], &event->time_s))
        return "the time must be YYYY-MM-DDThh:mm:ss, local";
    event->class_index = index_of(t->class_of, t->n_class, sizeof *t->class_of, rows->cell[1]);
    if (event->class_index < 0) return "unknown class";
    event->track = index_of(t->track, t->n_track, sizeof *t->track, rows->cell[2]);
    if (event->track < 0) return "unknown track";
    event->offset_db = 0.0;
    if (rows->cell[3][0] != '\0' && (!gradin_parse_number(rows->cell[3], &event->offset_db) ||
                                     event->offset_db < -MAX_ODD || event->offset_db > MAX_ODD))
        return "offset_db must be empty or a number from -30 to 30";
    return NULL;
}

bool traffic_read_events(reader *r, const node *at, const char *path, bool skip_bad,
                         gradin_error *skipped, gradin_traffic *t) {
    row_file rows;
    gradin_event *event = NULL;
    int n = 0, capacity = 0;
    if (!rows_open(r, at, path, MAX_EVENT_BYTES, event_header, &rows)) return false;
    while (rows_next(&rows)) {
        gradin_event made;
        const char *wrong = parse_row(t, &rows, &made);
        if (wrong) {
            rows_complain(&rows, skip_bad ? skipped : r->c.error, "%s", wrong);
            *(skip_bad ? &t->n_skipped : &r->c.n_error) += 1;
            continue;
        }
        if (n == GRADIN_MAX_EVENT) {
            complain(r, at, "has more than %d events", (int)GRADIN_MAX_EVENT);
            return false;
        }
        if (!grow(&r->c, (void **)&event, n, &capacity, sizeof *event)) return false;
        event[n++] = made;
    }
    if (n == 0 && r->c.n_error == 0) complain(r, at, "holds no event");
    t->event = event;
    t->n_event = n;
    return complaints_status(&r->c) == GRADIN_OK;
}
