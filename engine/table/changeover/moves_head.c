/* The head of a changeover for people: its hours, when they lie, how sure they are, what they cost,
 * and whether they fit between two shows. */
#include "table/changeover/moves.h"
#include "table/shared/date.h"

#include <stdlib.h>

enum { LAYOUT_COLUMNS = 32 };

static void put_hours(table_text *out, int seconds) {
    table_put_clock(out, seconds, 0);
    table_put(out, " h");
}

static void put_bound(table_text *out, const gradin_changeover *c) {
    if (c->from_move > 0) {
        table_put(out, ", planned again: a shorter one may be");
    } else if (c->work_s == c->lower_bound_s) {
        table_put(out, ", proven least under these rules, crew and power");
    } else {
        table_put(out, "; none can be under ");
        put_hours(out, c->lower_bound_s);
        table_put(out, " (gap at most ");
        table_put_number(out, TABLE_PERCENT,
                         100.0 * (c->work_s - c->lower_bound_s) / c->lower_bound_s);
        table_put(out, " %)");
    }
    table_put(out, "\n");
}

static void put_total(table_text *out, const gradin_changeover *c) {
    table_put(out, "  total        ");
    table_put_clock(out, c->total_s, 6);
    table_put(out, " h");
    if (c->n_stop > 0) {
        table_put(out, " with breaks\n  work         ");
        table_put_clock(out, c->work_s, 6);
        table_put(out, " h");
    }
    put_bound(out, c);
}

static void put_when(table_text *out, const gradin_changeover *c) {
    char start[TABLE_DATE_CHARS], end[TABLE_DATE_CHARS];
    if (!c->has_start) return;
    table_print(out, "  from         %s to %s, local time\n", table_time(start, c->start_s, ' '),
                table_time(end, c->start_s + (c->total_s + 59) / 60 * 60, ' '));
}

static void put_stops(table_text *out, const gradin_changeover *c) {
    int rests = 0, rest_s = 0, off_s = 0;
    for (int i = 0; i < c->n_stop; i++) {
        rests += c->stop[i].is_rest;
        *(c->stop[i].is_rest ? &rest_s : &off_s) += c->stop[i].to_s - c->stop[i].from_s;
    }
    table_put(out, "  breaks       ");
    if (!c->has_start) {
        table_put(out, c->has_rests ? "  none is in these times; --start keeps those of the venue\n"
                                    : "  none is stated, so none is in these times\n");
        return;
    }
    if (!c->has_rests) {
        table_put(out, "  none is stated, so none is in these times\n");
        return;
    }
    table_put_clock(out, rest_s, 6);
    table_print(out, " h in %d break%s", rests, rests == 1 ? "" : "s");
    if (off_s > 0) {
        table_put(out, ", and ");
        put_hours(out, off_s);
        table_put(out, " off shift");
    }
    table_put(out, "\n");
}

static void put_late(table_text *out, const gradin_late *late) {
    table_put(out, "  contingency  ");
    if (late->n_draw == 0) {
        table_put(out, "  none is stated: all go at their stated rates\n");
        return;
    }
    table_put_clock(out, late->within_80_s, 6);
    table_put(out, " h in 80 of 100 drawn nights, ");
    put_hours(out, late->within_95_s);
    table_print(out, " in 95; as planned in %.0f\n", floor(100.0 * late->as_planned));
}

static void put_cost(table_text *out, const gradin_changeover *c) {
    const gradin_cost *cost = &c->cost;
    if (!cost->is_known) return;
    table_put(out, "  cost         ");
    table_put_right(out, TABLE_PERCENT, cost->sum, 6);
    table_print(out, "%s%s for %d people: hours by day ", cost->currency ? " " : "",
                cost->currency ? cost->currency : "", cost->people);
    table_put_number(out, TABLE_PERCENT, cost->day_hours);
    table_put(out, ", night ");
    table_put_number(out, TABLE_PERCENT, cost->night_hours);
    table_put(out, ", overtime ");
    table_put_number(out, TABLE_PERCENT, cost->overtime_hours);
    table_put(out, "\n");
}

static void put_again(table_text *out, const gradin_changeover *c) {
    int done = 0, running = 0;
    if (c->from_move == 0) return;
    for (int i = 0; i < c->n_move; i++) {
        done += c->move[i].state == GRADIN_MOVE_DONE;
        running += c->move[i].state == GRADIN_MOVE_RUNNING;
    }
    table_put(out, "  again        ");
    table_put_clock(out, c->at_s, 6);
    table_print(out, " h: %d done, %d under way and finished, %d planned from then on\n", done,
                running, c->n_move - done - running);
}

void table_put_changeover_head(table_text *out, const gradin_changeover *c) {
    table_put(out, "Changeover from ");
    table_put_fitted(out, c->from->layout_name, LAYOUT_COLUMNS, false);
    table_put(out, " to ");
    table_put_fitted(out, c->to->layout_name, LAYOUT_COLUMNS, false);
    table_put(out, "\n");
    table_put_fitted(out, c->from->venue_name, TABLE_PAGE_COLUMNS, false);
    table_put(out, "\n\n");
    put_total(out, c);
    put_when(out, c);
    put_again(out, c);
    put_stops(out, c);
    put_late(out, &c->late);
    table_put(out, "  rules alone  ");
    table_put_clock(out, c->longest_chain_s, 6);
    table_put(out, " h, whatever the crew\n");
    table_print(out, "  crew         %6d at most at once, of %d; ", c->crew_peak, c->crew);
    table_put_number(out, TABLE_PERCENT, c->person_hours);
    table_put(out, " person-hours\n");
    put_cost(out, c);
    table_put(out, "  power        ");
    table_put_right(out, TABLE_PERCENT, c->power_peak_kw, 6);
    table_put(out, " kW at most at once");
    if (isfinite(c->power_kw)) {
        table_put(out, ", of ");
        table_put_number(out, TABLE_PERCENT, c->power_kw);
    }
    table_print(out, "\n  loose seats  %6d struck, %d set, %d stay\n", c->n_struck, c->n_set,
                c->n_kept);
    if (c->n_piece_out + c->n_piece_in + c->n_piece_kept > 0)
        table_print(out, "  scenery      %6d %s out, %d in, %d stay\n", c->n_piece_out,
                    c->n_piece_out == 1 ? "piece" : "pieces", c->n_piece_in, c->n_piece_kept);
    if (c->n_stand_out + c->n_stand_in > 0)
        table_print(
            out, "  stands       %6d out, %d in: platforms and set pieces, which no move builds\n",
            c->n_stand_out, c->n_stand_in);
}

static void put_share(table_text *out, double share) {
    table_print(out, "in %.0f of 100 drawn nights", floor(100.0 * share));
}

/* What the plan's own times say. */
static void put_spare(table_text *out, const gradin_changeover *c) {
    int spare_s = c->gap_s - c->total_s;
    bool fits = spare_s >= 0;
    table_put(out, !fits                                 ? "it does not fit, over by "
                   : spare_s < c->margin_s               ? "it fits, but tightly, with "
                   : c->late.n_draw > 0 && !c->keeps_gap ? "by its own times it fits, with "
                                                         : "it fits, with ");
    put_hours(out, abs(spare_s));
    table_put(out, fits ? " to spare" : "");
}

void table_put_gap(table_text *out, const gradin_changeover *c) {
    if (c->gap_s <= 0) return;
    table_put(out, "  gap          ");
    table_put_clock(out, c->gap_s, 6);
    table_put(out, " h between the shows: ");
    put_spare(out, c);
    if (c->late.n_draw > 0) {
        table_put(out, c->late.in_gap >= 0.8 ? "; " : ", but only ");
        put_share(out, c->late.in_gap);
    } else if (c->total_s <= c->gap_s) {
        table_put(out, ", if nothing takes longer than stated");
    }
    table_put(out, "\n");
    if (c->margin_s <= 0) return;
    table_put(out, "  margin       ");
    table_put_clock(out, c->margin_s, 6);
    table_put(out, " h to keep free: ");
    table_put(out, c->total_s <= c->gap_s - c->margin_s ? "it stays" : "it does not stay");
    if (c->late.n_draw > 0) {
        table_put(out, ", ");
        put_share(out, c->late.in_margin);
    }
    table_put(out, "\n");
}
