/* The events of a season: CSV "time,class,track,offset_db", a row per event. */
#include "base/lookup.h"
#include "files/parse/date.h"
#include "files/traffic/traffic.h"

#include <string.h>

enum { MAX_EVENT_BYTES = 256 << 20, MAX_ODD = 30 };

static const char event_header[] = "time,class,track,offset_db";

/* What is wrong with the row, or NULL. */
static const char *parse_row(const gradin_traffic *t, const row_file *rows, gradin_event *event) {
    if (!rows->is_whole) return "needs time,class,track,offset_db";
    if (!gradin_date_parse(rows->cell[0], true, &event->time_s))
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
