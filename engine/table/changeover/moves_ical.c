/* A changeover as iCalendar: an event per move and per stop of its crew. */
#include "base/use.h"
#include "studies/shared/complete.h"
#include "table/changeover/moves.h"
#include "table/shared/ical.h"

#include <stdio.h>

enum { ID_CHARS = 120 };

/* The same for the same two layouts and start. */
static void make_id(char id[ID_CHARS], const gradin_changeover *c, const char *kind, int number) {
    snprintf(id, ID_CHARS, "%.32s-%.32s-%lld-%s-%d", c->from->digest, c->to->digest,
             (long long)c->start_s, kind, number);
}

static void put_people(table_text *out, const gradin_move *m) {
    if (m->task[0]) table_print(out, "%s\n", m->task);
    table_print(out, "%d people", m->crew);
    if (m->people && m->people[0]) table_print(out, ": %s", m->people);
    if (m->power_kw > 0.0) {
        table_put(out, ", ");
        table_put_number(out, TABLE_PERCENT, m->power_kw);
        table_put(out, " kW");
    }
    table_put(out, "\n");
}

static void put_move(table_text *out, const gradin_changeover *c, int i) {
    const gradin_move *m = &c->move[i];
    char id[ID_CHARS];
    table_text summary = {.arena = out->arena}, about = {.arena = out->arena};
    table_print(&summary, "%d", i + 1);
    if (m->gang && m->gang[0]) table_print(&summary, " %s", m->gang);
    table_print(&summary, ": %s", m->name);
    put_people(&about, m);
    if (m->waits_for >= 0) table_print(&about, "Starts after move %d.\n", m->waits_for + 1);
    if (m->is_critical) table_put(&about, "On the critical path.\n");
    for (int k = 0; k < TABLE_N_MOVE_CAUTION; k++)
        table_print(&about, "%s%s", k > 0 ? "\n" : "", table_move_caution[k]);
    out->failed |= summary.failed || about.failed;
    if (out->failed) return;
    make_id(id, c, "move", i + 1);
    ical_put(out, &(ical_event){id, c->start_s + m->start_s, c->start_s + m->end_s, summary.bytes,
                                about.bytes, c->from->venue_name});
}

static void put_stop(table_text *out, const gradin_changeover *c, int i) {
    const gradin_stop *s = &c->stop[i];
    char id[ID_CHARS];
    make_id(id, c, "stop", i + 1);
    ical_put(out, &(ical_event){id, c->start_s + s->from_s, c->start_s + s->to_s, s->name,
                                "Nobody works.", c->from->venue_name});
}

gradin_status gradin_changeover_ical(gradin_arena *arena, const gradin_changeover *changeover,
                                     char **text, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, text, size) != GRADIN_OK ||
        changeover_complete(changeover, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (!changeover->has_start)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a calendar needs a start");
    table_text out = {.arena = arena};
    ical_begin(&out, "changeover");
    for (int i = 0; i < changeover->n_move; i++) put_move(&out, changeover, i);
    for (int i = 0; i < changeover->n_stop; i++) put_stop(&out, changeover, i);
    ical_end(&out);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the calendar");
    *text = out.bytes;
    *size = out.size;
    return GRADIN_OK;
}
