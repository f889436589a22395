/* Tables of a pair's page: blocks, largest changes, changeover, verdict. */
#include "base/lengths.h"
#include "render/page/parts.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define LINE 19.5
#define SIZE 14.5
#define GAP 34.0

typedef struct side_sums {
    const gradin_seat_sums *a, *b;
    const gradin_change_sums *change;
} side_sums;

static void put_good(char cell[BOARD_CELL], const gradin_seat_sums *sum) {
    char share[16];
    int n = sum->n_rating[GRADIN_RATING_CLEAR] + sum->n_rating[GRADIN_RATING_GOOD];
    if (sum->n_seat == 0)
        snprintf(cell, BOARD_CELL, "\xE2\x80\x93");
    else
        snprintf(cell, BOARD_CELL, "%s", board_percent((double)n / sum->n_seat, share));
}

static void block_row(const char *name, const side_sums *of, board_cells cells) {
    snprintf(cells[0], BOARD_CELL, "%.80s", name);
    snprintf(cells[1], BOARD_CELL, "%d", of->a->n_seat);
    snprintf(cells[2], BOARD_CELL, "%d", of->b->n_seat);
    put_good(cells[3], of->a);
    put_good(cells[4], of->b);
    snprintf(cells[5], BOARD_CELL, "%d", of->change->n_better);
    snprintf(cells[6], BOARD_CELL, "%d", of->change->n_same);
    snprintf(cells[7], BOARD_CELL, "%d", of->change->n_worse);
}

static void draw_blocks(board *s, const gradin_comparison *c, int pair, double top, double bottom,
                        double width) {
    static const board_column column[] = {{0.26, false}, {0.1, true},  {0.1, true},  {0.15, true},
                                          {0.15, true},  {0.09, true}, {0.07, true}, {0.08, true}};
    static const char *const head[] = {"block",         "seats A", "seats B", "clear, good A",
                                       "clear, good B", "better",  "same",    "worse"};
    const gradin_compared_pair *p = &c->pair[pair];
    const gradin_compared_layout *a = &c->layout[p->first], *b = &c->layout[p->second];
    board_table t = {A3_MARGIN, width, LINE, SIZE, column, 8, top + LINE};
    board_cells cells;
    int room = (int)((bottom - top) / LINE) - 4, shown = 0, n = 0;
    board_put_head(s, &t, head);
    for (int k = 0; k < c->n_block; k++) {
        const side_sums of = {&a->block[k], &b->block[k], &p->block[k]};
        if (of.a->n_seat + of.b->n_seat == 0) continue;
        n++;
        if (shown == room) continue;
        block_row(c->block_name[k], &of, cells);
        board_put_row(s, &t, (const char(*)[BOARD_CELL])cells, false);
        shown++;
    }
    const side_sums all = {&a->all, &b->all, &p->all};
    block_row("all", &all, cells);
    board_put_row(s, &t, (const char(*)[BOARD_CELL])cells, true);
    if (shown == n) return;
    char text[96];
    snprintf(text, sizeof text, "%d blocks more are counted in all: compare.csv", n - shown);
    board_put_line(s, &t, text);
}

/* The value as people read it, with its unit. */
static void value_text(gradin_figure figure, double value, const char *units, char *text,
                       size_t size) {
    char length[LENGTH_CHARS], number[16];
    if (figure == GRADIN_FIGURE_C_VALUE || figure == GRADIN_FIGURE_DISTANCE) {
        length_unit unit =
            figure == GRADIN_FIGURE_DISTANCE ? length_unit_of(units) : small_unit_of(units);
        snprintf(text, size, "%.30s", length_number(length, value, unit));
        return;
    }
    bool is_share = figure == GRADIN_FIGURE_VISIBLE || figure == GRADIN_FIGURE_CLEAR_VIEW;
    gradin_format_fixed(number, sizeof number, is_share ? 100.0 * value : value, 1);
    snprintf(text, size, "%s", number);
}

static const char *unit_of(gradin_figure figure, const char *units) {
    switch (figure) {
    case GRADIN_FIGURE_VISIBLE:
    case GRADIN_FIGURE_CLEAR_VIEW:
        return "%";
    case GRADIN_FIGURE_C_VALUE:
        return small_unit_of(units).name;
    case GRADIN_FIGURE_DISTANCE:
        return length_unit_of(units).name;
    case GRADIN_FIGURE_LAMAX:
        return "dB(A)";
    default:
        return "deg";
    }
}

/* The figure that moved the class; else what is seen, or the level. */
static gradin_figure figure_of(const gradin_seat_change *c) {
    if (c->steps != 0) return c->cause;
    gradin_effect seen = c->effect[GRADIN_FIGURE_VISIBLE];
    bool is_told = seen == GRADIN_EFFECT_WORSE || seen == GRADIN_EFFECT_BETTER;
    return is_told ? GRADIN_FIGURE_VISIBLE : GRADIN_FIGURE_LAMAX;
}

static void change_row(const gradin_assessment *a, const gradin_assessment *b,
                       const gradin_seat_change *c, board_cells cells) {
    gradin_figure figure = figure_of(c);
    const char *units = a->model->units;
    char before[40], after[40];
    value_text(figure, c->value[0][figure], units, before, sizeof before);
    value_text(figure, c->value[1][figure], units, after, sizeof after);
    if (c->matched == GRADIN_MATCHED_NAME)
        snprintf(cells[0], BOARD_CELL, "%.90s", a->model->seats.id[c->seat[0]]);
    else
        snprintf(cells[0], BOARD_CELL, "%.40s = %.40s", a->model->seats.id[c->seat[0]],
                 b->model->seats.id[c->seat[1]]);
    snprintf(cells[1], BOARD_CELL, "%s \xE2\x86\x92 %s",
             gradin_rating_name(a->sight.rating[c->seat[0]]),
             gradin_rating_name(b->sight.rating[c->seat[1]]));
    snprintf(cells[2], BOARD_CELL, "%s %s \xE2\x86\x92 %s %s", gradin_figure_name(figure), before,
             after, unit_of(figure, units));
}

static void draw_changes(board *s, const gradin_comparison *c, int pair, double left, double top,
                         double bottom, double width) {
    static const board_column column[] = {{0.36, false}, {0.22, false}, {0.42, false}};
    static const char *const head[] = {"largest changes, A to B", "class", "by"};
    const gradin_compared_pair *p = &c->pair[pair];
    board_table t = {left, width, LINE, SIZE, column, 3, top + LINE};
    board_cells cells;
    int room = (int)((bottom - top) / LINE) - 2;
    board_put_head(s, &t, head);
    for (int k = 0; k < p->n_largest && k < room; k++) {
        change_row(c->layout[p->first].assessment, c->layout[p->second].assessment,
                   &p->change[p->largest[k]], cells);
        board_put_row(s, &t, (const char(*)[BOARD_CELL])cells, false);
    }
    if (p->n_largest == 0) board_put_line(s, &t, "none that can be told");
}

static const gradin_compared_changeover *way_of(const gradin_comparison *c,
                                                const gradin_compared_pair *p, int back) {
    int from = back ? p->second : p->first, to = back ? p->first : p->second;
    return &c->changeover[from * c->n_layout + to];
}

static void way_row(const gradin_compared_changeover *way, board_cells cells) {
    char hours[16];
    gradin_format_fixed(hours, sizeof hours, way->plan.person_hours, 1);
    int minutes = (way->plan.total_s + 59) / 60; /* never less than it takes */
    snprintf(cells[1], BOARD_CELL, "%d:%02d", minutes / 60, minutes % 60);
    snprintf(cells[2], BOARD_CELL, "%s", hours);
    snprintf(cells[3], BOARD_CELL, "%d", way->plan.n_move);
    snprintf(cells[4], BOARD_CELL, "%d", way->plan.crew_peak);
}

static double draw_ways(board *s, const gradin_comparison *c, int pair, double left, double top,
                        double width) {
    static const board_column column[] = {
        {0.24, false}, {0.16, true}, {0.24, true}, {0.16, true}, {0.20, true}};
    static const char *const head[] = {"changeover", "h:mm", "person-hours", "moves",
                                       "most people"};
    const gradin_compared_pair *p = &c->pair[pair];
    board_table t = {left, width, LINE, SIZE, column, 5, top + LINE};
    board_cells cells;
    board_put_head(s, &t, head);
    for (int back = 0; back < 2; back++) {
        const gradin_compared_changeover *way = way_of(c, p, back);
        snprintf(cells[0], BOARD_CELL, "%s%s%.80s", back ? "B to A" : "A to B",
                 way->is_planned ? "" : ": ", way->is_planned ? "" : way->why_not);
        if (!way->is_planned) {
            board_put_line(s, &t, cells[0]);
            continue;
        }
        way_row(way, cells);
        board_put_row(s, &t, (const char(*)[BOARD_CELL])cells, false);
    }
    return t.y;
}

void board_draw_pair_tables(board *s, const gradin_pages *pages, int pair, double top,
                            double bottom) {
    const gradin_comparison *c = pages->comparison;
    double blocks = 0.37 * A3_INNER, changes = 0.32 * A3_INNER;
    double left = A3_MARGIN + blocks + changes + 2.0 * GAP, width = A3_WIDTH - A3_MARGIN - left;
    draw_blocks(s, c, pair, top, bottom, blocks);
    draw_changes(s, c, pair, A3_MARGIN + blocks + GAP, top, bottom, changes);
    double y = draw_ways(s, c, pair, left, top, width);
    text_style style = {.size = 20.0, .is_bold = true, .ink = COLOUR_INK};
    canvas_text(s->page, style, left, y + 24.0, "What it comes to");
    style = (text_style){.size = 17.0, .ink = COLOUR_INK};
    canvas_text_wrapped(s->page, style, left, y + 52.0, width, pages->verdict[pair]);
}
