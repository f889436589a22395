/* A changeover for people: the move list that a crew chief reads, and hours between layouts. */
#include "base/use.h"
#include "studies/shared/complete.h"
#include "table/changeover/moves.h"
#include "table/shared/date.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NAME_COLUMNS = 18, NAME_AT = 27, GANG_COLUMNS = 3, TASK_AT = NAME_AT + NAME_COLUMNS + 1 };

static void put_reason(table_text *out, const gradin_move *m) {
    if (m->cause == GRADIN_STARTS_FREE) return;
    table_print(out, "%*s", NAME_AT, "");
    if (m->cause == GRADIN_STARTS_RESTED) {
        table_put(out, "goes in one piece, so after the break\n");
        return;
    }
    if (m->cause == GRADIN_STARTS_LIMITED) {
        table_print(out, "waits for crew, power, lifts or store lift of move %d\n",
                    m->waits_for + 1);
        return;
    }
    char head[40];
    snprintf(head, sizeof head,
             "%s move %d: ", m->cause == GRADIN_STARTS_AFTER ? "after" : "not beside",
             m->waits_for + 1);
    table_put(out, head);
    table_put_wrapped(out, m->rule ? m->rule : "", NAME_AT + table_columns(head), NAME_AT + 2);
    table_put(out, "\n");
}

/* Hours and minutes from the start, or of the day where it is known. */
static void put_time(table_text *out, const gradin_changeover *c, int at_s, int columns) {
    int64_t clock_s = c->has_start ? (c->start_s + at_s) % 86400 : at_s;
    table_put_clock(out, c->has_start ? (int)((clock_s + 59) / 60 * 60 % 86400) : at_s, columns);
}

/* When the store lift goes for it, the first three times. */
static void put_trips(table_text *out, const gradin_changeover *c, const gradin_move *m) {
    if (m->n_trip == 0) return;
    table_print(out, "%*sstore lift at", NAME_AT, "");
    for (int i = 0; i < m->n_trip && i < 3; i++) {
        table_put(out, i > 0 ? ", " : " ");
        put_time(out, c, m->trip_start_s[i], 0);
    }
    if (m->n_trip > 3) table_print(out, " and %d more", m->n_trip - 3);
    table_put(out, "\n");
}

/* One on the critical path has none. */
static void put_float(table_text *out, const gradin_move *m) {
    if (m->float_s < 60) return;
    table_print(out, "%*sfloat ", NAME_AT, "");
    table_put_clock(out, m->float_s / 60 * 60, 0);
    table_put(out, "\n");
}

/* The letters of its gangs. */
static void put_gang(table_text *out, const gradin_move *m) {
    char letters[40];
    size_t n = 0;
    for (const char *g = m->gang ? m->gang : ""; *g && n + 1 < sizeof letters; g++)
        if (*g != ',' && *g != ' ') letters[n++] = *g;
    letters[n] = '\0';
    table_put_fitted(out, letters, GANG_COLUMNS, true);
}

/* What moves and how, on one line where the name leaves room. */
static void put_what(table_text *out, const gradin_move *m) {
    if (table_columns(m->name) <= NAME_COLUMNS) {
        table_put_fitted(out, m->name, NAME_COLUMNS, true);
        table_put(out, " ");
    } else {
        table_put_wrapped(out, m->name, NAME_AT, NAME_AT + 2);
        if (m->task[0]) table_print(out, "\n%*s", TASK_AT, "");
    }
    table_put_wrapped(out, m->task, TASK_AT, TASK_AT + 2);
    table_put(out, "\n");
}

/* Where the rest was planned again. */
static void put_state(table_text *out, const gradin_move *m) {
    if (m->state == GRADIN_MOVE_PLANNED) return;
    table_print(out, "%*s%s\n", NAME_AT, "",
                m->state == GRADIN_MOVE_DONE ? "is done" : "is under way and finished");
}

static void put_move(table_text *out, const gradin_changeover *c, int number) {
    const gradin_move *m = &c->move[number - 1];
    table_print(out, "%s%3d", m->is_critical ? "*" : m->is_near ? "+" : " ", number);
    put_time(out, c, m->start_s, 7);
    put_time(out, c, m->end_s, 7);
    table_print(out, "%4d ", m->crew);
    put_gang(out, m);
    table_put(out, " ");
    put_what(out, m);
    put_trips(out, c, m);
    put_state(out, m);
    put_reason(out, m);
    put_float(out, m);
}

/* Breaks, and the date where a new day begins, before what starts then. */
static void put_between(table_text *out, const gradin_changeover *c, int from_s, int to_s) {
    char date[TABLE_DATE_CHARS];
    int64_t midnight_s = (c->start_s + from_s) / 86400 * 86400 + 86400;
    for (int i = 0; i < c->n_stop; i++) {
        const gradin_stop *s = &c->stop[i];
        if (s->from_s < from_s || s->from_s >= to_s) continue;
        table_put(out, "    ");
        put_time(out, c, s->from_s, 7);
        put_time(out, c, s->to_s, 7);
        table_print(out, "%*s%s: nobody works\n", NAME_AT - 18, "", s->name);
    }
    if (c->has_start && c->start_s + to_s >= midnight_s)
        table_print(out, "    %s\n", table_date(date, c->start_s + to_s));
}

static void put_moves(table_text *out, const gradin_changeover *c) {
    if (c->n_move == 0) {
        table_put(out, "\nNothing has to move.\n");
        return;
    }
    table_put(out, "\n   #  start    end crew by  what               how\n");
    int from_s = 0;
    for (int i = 0; i < c->n_move; i++) {
        put_between(out, c, from_s, c->move[i].start_s);
        from_s = c->move[i].start_s;
        put_move(out, c, i + 1);
    }
    put_between(out, c, from_s, c->total_s);
    table_put(out,
              "\n* is the critical path: a delay there delays the end. + is near it: its float is\n"
              "at most a twentieth of the total. Float is how much later a move may start when\n"
              "the plan keeps who waits for whom, and for whose crew and power. Times h:mm.\n");
}

static void put_cautions(table_text *out) {
    table_put(out, "\n");
    for (int i = 0; i < TABLE_N_MOVE_CAUTION; i++) table_print(out, "%s\n", table_move_caution[i]);
}

static gradin_status finish(table_text *out, char **text, gradin_error *error) {
    table_fold(out);
    if (out->failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the move list");
    *text = out->bytes;
    return GRADIN_OK;
}

gradin_status gradin_changeover_text(gradin_arena *arena, const gradin_changeover *changeover,
                                     char **text, gradin_error *error) {
    if (NEEDS(error, arena, text) != GRADIN_OK ||
        changeover_complete(changeover, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    table_put_changeover_head(&out, changeover);
    table_put_gap(&out, changeover);
    put_moves(&out, changeover);
    put_cautions(&out);
    return finish(&out, text, error);
}

enum { LINE_COLUMNS = 18, MOST_CELL = 15 };

static int cell_columns(int n) {
    int columns = (TABLE_PAGE_COLUMNS - LINE_COLUMNS) / n;
    return columns < MOST_CELL ? columns : MOST_CELL;
}

static void put_blanks(table_text *out, int n) {
    if (n > 0) table_print(out, "%*s", n, "");
}

/* Where a name of more than `room` columns is broken into two lines; NULL where it is not. */
static const char *break_of(const char *name, int room) {
    if (table_columns(name) <= room) return NULL;
    const char *found = NULL;
    for (const char *c = strchr(name, ' '); c && c - name <= room; c = strchr(c + 1, ' '))
        found = c;
    return found;
}

/* One of the two lines of the head: names stand on the second, what does not fit there before. */
static void put_head_line(table_text *out, const gradin_changeover *row, int n, bool is_second) {
    int room = cell_columns(n) - 2;
    put_blanks(out, LINE_COLUMNS);
    for (int k = 0; k < n; k++) {
        const char *name = row[k].to->layout_name, *gap = break_of(name, room);
        char first[4 * MOST_CELL + 1] = "";
        if (gap) snprintf(first, sizeof first, "%.*s", (int)(gap - name), name);
        const char *piece = is_second ? (gap ? gap + 1 : name) : first;
        int columns = table_columns(piece);
        put_blanks(out, columns > room ? 1 : room - columns + 1);
        table_put_fitted(out, piece, room, false);
        table_put(out, " ");
    }
    table_put(out, "\n");
}

static void put_heads(table_text *out, const gradin_changeover *row, int n) {
    bool is_broken = false;
    for (int k = 0; k < n; k++)
        is_broken |= break_of(row[k].to->layout_name, cell_columns(n) - 2) != NULL;
    if (is_broken) put_head_line(out, row, n, false);
    put_head_line(out, row, n, true);
}

static void put_row(table_text *out, const gradin_changeover *row, int n) {
    int columns = cell_columns(n) - 1;
    table_put_fitted(out, row[0].from->layout_name, LINE_COLUMNS, true);
    for (int k = 0; k < n; k++) {
        const gradin_changeover *c = &row[k];
        if (c->n_move == 0)
            table_print(out, "%*s", columns, "-");
        else
            table_put_clock(out, c->total_s, columns);
        table_put(out, c->work_s > c->lower_bound_s ? "~" : " ");
    }
    table_put(out, "\n");
}

/* Are the venue's hours in it? */
static void put_matrix_hours(table_text *out, const gradin_changeover *changeover, int n) {
    char date[TABLE_DATE_CHARS];
    const gradin_changeover *with = NULL;
    for (int i = 0; i < n && !with; i++)
        if (changeover[i].has_rests) with = &changeover[i];
    if (!with) return;
    if (with->has_start)
        table_print(out, "With the shifts and breaks of the venue, each begun %s\n",
                    table_time(date, with->start_s, ' '));
    else
        table_put(
            out,
            "Working time: the shifts and breaks of the venue are not in it; --start has them\n");
}

gradin_status gradin_matrix_text(gradin_arena *arena, const gradin_changeover *changeover, int n,
                                 char **text, gradin_error *error) {
    if (NEEDS(error, arena, changeover, text) != GRADIN_OK) return GRADIN_BAD_USE;
    if (n < 1) return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a matrix of no layouts");
    for (int i = 0; i < n * n; i++)
        if (changeover_complete(&changeover[i], error) != GRADIN_OK) return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    double widest = 0.0;
    table_put(&out, "Changeover, h:mm, from the layout of the line to that of the column\n");
    put_heads(&out, changeover, n);
    for (int i = 0; i < n; i++) put_row(&out, &changeover[i * n], n);
    for (int i = 0; i < n * n; i++)
        if (changeover[i].lower_bound_s > 0)
            widest = fmax(widest, 100.0 * (changeover[i].work_s - changeover[i].lower_bound_s) /
                                      changeover[i].lower_bound_s);
    table_put(&out, "~ not proven least; the gap to the lower bound is at most ");
    table_put_number(&out, TABLE_PERCENT, widest);
    table_put(&out, " % of the work\n");
    put_matrix_hours(&out, changeover, n * n);
    put_cautions(&out);
    return finish(&out, text, error);
}
