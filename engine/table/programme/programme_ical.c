/* A programme as iCalendar: an event per show and per changeover. */
#include "base/use.h"
#include "gradin/studies/programme_write.h"
#include "studies/shared/complete.h"
#include "table/changeover/moves.h"
#include "table/programme/programme.h"
#include "table/shared/ical.h"

#include <stdio.h>

typedef struct entry {
    const char *kind; /* of the identifier */
    int number;
    int64_t from_s, to_s;
    const char *summary, *description;
} entry;

static void put_event(table_text *out, const gradin_programme_plan *plan, const entry *e) {
    char id[120];
    snprintf(id, sizeof id, "%s-%s-%d", plan->programme->digest, e->kind, e->number);
    ical_put(out, &(ical_event){id, e->from_s, e->to_s, e->summary, e->description,
                                plan->model[0].venue_name});
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
    if (plan->staging[show].needs != GRADIN_CLASH_NONE || plan->staging[show].no_way) {
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
    ical_begin(&out, "programme");
    for (int i = 0; i < plan->programme->n_booking; i++) {
        if (table_is_changed(&plan->staging[i]) && !plan->staging[i].no_way)
            put_changeover(&out, plan, i);
        put_show(&out, plan, i);
    }
    ical_end(&out);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the calendar");
    *text = out.bytes;
    *size = out.size;
    return GRADIN_OK;
}
