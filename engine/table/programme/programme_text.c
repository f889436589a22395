/* A programme for people: one line per show, what clashes, what would help. */
#include "base/use.h"
#include "gradin/studies/programme_write.h"
#include "studies/shared/complete.h"
#include "table/changeover/moves.h"
#include "table/programme/programme.h"

enum { SHOW_COLUMNS = 18, LAYOUT_COLUMNS = 12 };

const char *table_staged_layout(const gradin_programme_plan *plan, int layout) {
    return plan->programme->layout_name[layout];
}

bool table_is_changed(const gradin_staging *staging) {
    return staging->from_layout != staging->layout;
}

static void put_gap_clash(table_text *out, const gradin_programme_plan *plan, int show) {
    const gradin_staging *s = &plan->staging[show];
    table_put(out, "the changeover from ");
    table_put(out, table_staged_layout(plan, s->from_layout));
    table_put(out, " takes ");
    table_put_clock(out, (int)(s->done_s - s->begin_s), 0);
    table_put(out, " h, ");
    table_put_clock(out, s->short_s, 0);
    table_put(out, " h more than its window has");
}

void table_put_clash(table_text *out, const gradin_programme_plan *plan, int show) {
    const gradin_booking *b = &plan->programme->booking[show];
    const gradin_staging *s = &plan->staging[show];
    if (s->needs == GRADIN_CLASH_SEATS)
        table_print(out, "needs %d seats; its layouts have at most %d", b->seats, s->most);
    if (s->needs == GRADIN_CLASH_WHEELCHAIRS)
        table_print(out, "needs %d places for wheelchairs; its layouts have at most %d",
                    b->wheelchairs, s->most);
    if (s->needs != GRADIN_CLASH_NONE && (s->short_s > 0 || s->no_way)) table_put(out, "; ");
    if (s->no_way)
        table_print(out, "no changeover leads here from %s: %s",
                    table_staged_layout(plan, s->from_layout), s->no_way);
    if (s->short_s > 0) put_gap_clash(out, plan, show);
}

bool table_has_night(const gradin_programme *p) {
    return p->night_from_s != p->night_to_s;
}

static void put_head(table_text *out, const gradin_programme_plan *plan) {
    table_put_fitted(out, plan->programme->name, TABLE_PAGE_COLUMNS, false);
    table_put(out, "\n");
    table_put_fitted(out, plan->model[0].venue_name, TABLE_PAGE_COLUMNS, false);
    table_print(out, "\n\n  %d shows, %d changeovers; ", plan->programme->n_booking,
                plan->n_changeover);
    table_put_number(out, TABLE_PERCENT, plan->person_hours);
    table_put(out, " person-hours");
    if (table_has_night(plan->programme)) {
        table_put(out, ", ");
        table_put_number(out, TABLE_PERCENT, plan->night_hours);
        table_put(out, " of them at night");
    }
    table_put(out, "; cost ");
    table_put_number(out, TABLE_PERCENT, plan->cost);
    if (plan->n_clash == 0)
        table_put(out,
                  "\n  Every show can be had as asked, and every changeover fits its window.\n");
    else
        table_print(out, "\n  Not as asked: %d of what the shows need cannot be had.\n",
                    plan->n_clash);
}

static void put_show(table_text *out, const gradin_programme_plan *plan, int show) {
    char text[TABLE_DATE_CHARS];
    const gradin_booking *b = &plan->programme->booking[show];
    const gradin_staging *s = &plan->staging[show];
    table_put_fitted(out, b->name, SHOW_COLUMNS, true);
    table_print(out, " %s ", table_time(text, b->start_s, ' '));
    table_put_fitted(out, table_staged_layout(plan, s->layout), LAYOUT_COLUMNS, true);
    if (!table_is_changed(s) || s->no_way) {
        table_put(out, s->no_way ? "                -      -  no way\n"
                                 : "                -      -       -\n");
        return;
    }
    table_print(out, " %s", table_time(text, s->begin_s, ' '));
    table_put_clock(out, (int)(s->done_s - s->begin_s), 7);
    table_put_clock(out, s->short_s > 0 ? 0 : (int)(s->due_s - s->done_s), 8);
    table_put(out, s->short_s > 0 ? " !\n" : "\n");
}

static void put_shows(table_text *out, const gradin_programme_plan *plan) {
    table_print(out, "\n%-*s %-16s %-*s %-16s%7s%8s\n", SHOW_COLUMNS, "show", "starts",
                LAYOUT_COLUMNS, "layout", "changeover at", "takes", "spare");
    for (int i = 0; i < plan->programme->n_booking; i++) put_show(out, plan, i);
}

static void put_clashes(table_text *out, const gradin_programme_plan *plan) {
    if (plan->n_clash > 0) table_put(out, "\nWhat cannot be had:\n");
    for (int i = 0; i < plan->programme->n_booking && plan->n_clash > 0; i++) {
        const gradin_staging *s = &plan->staging[i];
        if (s->needs == GRADIN_CLASH_NONE && s->short_s == 0 && !s->no_way) continue;
        table_print(out, "  %s: ", plan->programme->booking[i].name);
        table_put_clash(out, plan, i);
        table_put(out, "\n");
    }
}

static void put_day(table_text *out, const gradin_programme_plan *plan) {
    const gradin_free_day *d = &plan->free_day;
    if (d->before < 0) {
        table_put(out, "\nOne day more between two shows would save nothing.\n");
        return;
    }
    table_print(out, "\nOne day more before %s would save ",
                plan->programme->booking[d->before].name);
    if (d->saved_clashes > 0) {
        table_print(out, "%d of what cannot be had", d->saved_clashes);
    } else if (d->saved_no_way > 0) {
        table_print(out, "%d %s that cannot be made", d->saved_no_way,
                    d->saved_no_way == 1 ? "changeover" : "changeovers");
    } else if (d->saved_short_s > 0.0) {
        table_put_clock(out, (int)d->saved_short_s, 0);
        table_put(out, " h of what is missing");
    } else {
        table_put(out, "a cost of ");
        table_put_number(out, TABLE_PERCENT, d->saved_cost);
    }
    table_put(out, ".\n");
}

static void put_crew(table_text *out, const gradin_programme_plan *plan) {
    if (!plan->has_more_crew) return;
    table_put(out, "With one person more on every changeover the cost would be ");
    table_put_number(out, TABLE_PERCENT, plan->more_crew_cost);
    if (plan->n_clash > 0)
        table_print(out, ", with %d that cannot be had", plan->more_crew_clashes);
    table_put(out, ".\n");
}

static void put_basis(table_text *out, const gradin_programme_plan *plan) {
    const gradin_machinery *machinery = plan->model[0].machinery;
    bool has_rests = machinery && (machinery->work.n_shift > 0 || machinery->work.n_rest > 0);
    table_put(
        out, "\nThe layouts are the best of all choices: fewest that cannot be had, then the least "
             "time missed, then the least cost. Spare is what a window leaves beyond its margin. "
             "Times are sums of stated rates. ");
    table_put(out, has_rests ? "They keep to the venue's shifts and breaks. Faults and learning "
                               "are not in them. "
                             : "Breaks, faults and learning are not in them. ");
    table_put(out, "Sightlines and noise are not looked at. Hours of work are for law and "
                   "agreement.\n");
}

gradin_status gradin_programme_text(gradin_arena *arena, const gradin_programme_plan *plan,
                                    char **text, gradin_error *error) {
    if (NEEDS(error, arena, text) != GRADIN_OK || programme_complete(plan, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    put_head(&out, plan);
    put_shows(&out, plan);
    put_clashes(&out, plan);
    put_day(&out, plan);
    put_crew(&out, plan);
    put_basis(&out, plan);
    for (int i = 0; i < TABLE_N_MOVE_CAUTION; i++) table_print(&out, "%s\n", table_move_caution[i]);
    table_fold(&out);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the programme");
    *text = out.bytes;
    return GRADIN_OK;
}
