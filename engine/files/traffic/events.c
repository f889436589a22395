/* The events of a season: CSV "time,class,track,offset_db", a row per event. One mistyped year
 * would stretch the season over decades and thin out every level and count per day; so an event
 * outside the stated days is refused, and where none are stated one that lies more than a year from
 * the others. */
#include "base/lookup.h"
#include "files/parse/date.h"
#include "files/traffic/traffic.h"

#include <stdlib.h>
#include <string.h>

enum { MAX_EVENT_BYTES = 256 << 20, MAX_ODD = 30, DAY_S = 86400, MAX_GAP_S = 366 * DAY_S };

static const char event_header[] = "time,class,track,offset_db";

typedef struct dated {
    int64_t time_s;
    int line;
} dated;

/* What is wrong with the row, or NULL. */
static const char *parse_row(const gradin_traffic *t, const row_file *rows, gradin_event *event) {
    if (!rows->is_whole) return "needs time,class,track,offset_db";
    if (!gradin_date_parse(rows->cell[0], true, &event->time_s))
        return "the time must be YYYY-MM-DDThh:mm:ss, local";
    if (t->to_s > 0 && (event->time_s < t->from_s || event->time_s >= t->to_s + DAY_S))
        return "is outside the stated days";
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

static int by_time(const void *a, const void *b) {
    const dated *p = a, *q = b;
    if (p->time_s != q->time_s) return p->time_s < q->time_s ? -1 : 1;
    return p->line - q->line;
}

/* The fewer events on one side of the widest gap [first, last) in time's order; none when no gap is
 * wider than a year. */
static void find_strays(const dated *of, int n, int *first, int *last) {
    int at = 0;
    for (int i = 1; i < n; i++)
        if (at == 0 || of[i].time_s - of[i - 1].time_s > of[at].time_s - of[at - 1].time_s) at = i;
    *first = *last = 0;
    if (at == 0 || of[at].time_s - of[at - 1].time_s <= MAX_GAP_S) return;
    *first = at <= n / 2 && at < n - at ? 0 : at;
    *last = *first == 0 ? at : n;
}

/* Refuses events that lie far from the others; `of` comes out sorted. */
static void check_strays(reader *r, const row_file *rows, dated *of, int n) {
    int first, last;
    row_file at = *rows;
    qsort(of, (size_t)n, sizeof *of, by_time);
    find_strays(of, n, &first, &last);
    for (int i = first; i < last; i++) {
        at.line = of[i].line;
        rows_complain(&at, r->c.error,
                      "is more than a year from the other events; if it is meant, the traffic file "
                      "states its days: {from, to}");
        r->c.n_error++;
    }
}

static bool read_rows(reader *r, const node *at, row_file *rows, bool skip_bad,
                      gradin_error *skipped, gradin_traffic *t) {
    gradin_event *event = NULL;
    dated *date = NULL;
    int n = 0, capacity = 0, date_capacity = 0;
    while (rows_next(rows)) {
        gradin_event made;
        const char *wrong = parse_row(t, rows, &made);
        if (wrong) {
            rows_complain(rows, skip_bad ? skipped : r->c.error, "%s", wrong);
            *(skip_bad ? &t->n_skipped : &r->c.n_error) += 1;
            continue;
        }
        if (n == GRADIN_MAX_EVENT) {
            complain(r, at, "has more than %d events", (int)GRADIN_MAX_EVENT);
            return false;
        }
        if (!grow(&r->c, (void **)&event, n, &capacity, sizeof *event) ||
            !grow(&r->c, (void **)&date, n, &date_capacity, sizeof *date))
            return false;
        date[n] = (dated){made.time_s, rows->line};
        event[n++] = made;
    }
    if (n == 0 && r->c.n_error == 0) complain(r, at, "holds no event");
    if (n > 0 && t->to_s == 0) check_strays(r, rows, date, n);
    t->event = event;
    t->n_event = n;
    return complaints_status(&r->c) == GRADIN_OK;
}

bool traffic_read_events(reader *r, const node *at, const char *path, bool skip_bad,
                         gradin_error *skipped, gradin_traffic *t) {
    row_file rows;
    return rows_open(r, at, path, MAX_EVENT_BYTES, event_header, &rows) &&
           read_rows(r, at, &rows, skip_bad, skipped, t);
}
