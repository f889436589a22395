/* Tables of a layout's page: blocks, worst places, limits in force. */
#include "base/lengths.h"
#include "base/shared/plain.h"
#include "render/maps/legend.h"
#include "render/page/parts.h"

#include <stdio.h>
#include <string.h>

#define LINE 18.5
#define SIZE 14.0
#define GAP 34.0
enum { ONE_PANEL = 10, N_WORST_LINE = GRADIN_N_WORST + 1, MOST_LINE = 22 };

static void put_number(char cell[BOARD_CELL], double value, int decimals) {
    if (isfinite(value))
        gradin_format_fixed(cell, BOARD_CELL, value, decimals);
    else
        snprintf(cell, BOARD_CELL, "\xE2\x80\x93");
}

static void put_count(char cell[BOARD_CELL], int n) {
    snprintf(cell, BOARD_CELL, "%d", n);
}

static void block_row(const gradin_model *m, const char *name, const gradin_seat_sums *sum,
                      board_cells cells) {
    length_unit small = small_unit_of(m->units);
    snprintf(cells[0], BOARD_CELL, "%.80s", name);
    put_count(cells[1], sum->n_seat);
    for (int k = 0; k < GRADIN_N_RATING; k++) put_count(cells[2 + k], sum->n_rating[k]);
    put_number(cells[6], 100.0 * sum->figure[GRADIN_FIGURE_VISIBLE].median, 1);
    put_number(cells[7], small.per_m * sum->figure[GRADIN_FIGURE_C_VALUE].median, small.decimals);
    put_number(cells[8], sum->figure[GRADIN_FIGURE_LAMAX].median, 1);
}

static const board_column block_column[] = {{0.20, false}, {0.10, true}, {0.09, true},
                                            {0.09, true},  {0.08, true}, {0.09, true},
                                            {0.13, true},  {0.11, true}, {0.11, true}};

/* Those of the most places where not all find room. */
static int blocks_of_size(const gradin_layout_page *page, int room, bool *is_listed) {
    int n_block = page->assessment->model->n_block, n = 0;
    for (int k = 0; k < n_block; k++) is_listed[k] = false;
    for (; n < room; n++) {
        int best = -1;
        for (int k = 0; k < n_block; k++)
            if (!is_listed[k] && page->block[k].n_seat > 0 &&
                (best < 0 || page->block[k].n_seat > page->block[best].n_seat))
                best = k;
        if (best < 0) break;
        is_listed[best] = true;
    }
    return n;
}

static void begin_blocks(board *s, const gradin_model *m, board_table *t, double left) {
    char c_text[24];
    snprintf(c_text, sizeof c_text, "C, %s", small_unit_of(m->units).name);
    const char *const head[] = {"block", "seats",   "clear", "good", "fair",
                                "poor",  "seen, %", c_text,  "dB(A)"};
    t->left = left;
    board_put_head(s, t, head);
}

static void draw_blocks(board *s, const gradin_layout_page *page, double top, double bottom,
                        double width) {
    const gradin_model *m = page->assessment->model;
    bool is_double = page->n_bank > ONE_PANEL;
    int lines = (int)((bottom - top) / LINE) - 3, room = is_double ? 2 * lines - 1 : lines;
    bool *is_listed = gradin_arena_alloc(s->scratch, (size_t)m->n_block + 1, sizeof *is_listed);
    if (!is_listed) {
        s->failed = true;
        return;
    }
    int n = blocks_of_size(page, room, is_listed), shown = 0;
    int each = is_double ? (n + 2) / 2 : lines + 1;
    double panel = 0.5 * (width - GAP) * (is_double ? 1.0 : 1.4);
    board_table t = {A3_MARGIN, panel, LINE, SIZE, block_column, 9, top + LINE};
    t.n_column = page->assessment->has_noise ? 9 : 8;
    board_cells cells;
    begin_blocks(s, m, &t, A3_MARGIN);
    for (int k = 0; k < m->n_block; k++) {
        if (!is_listed[k]) continue;
        block_row(m, m->block_name[k], &page->block[k], cells);
        board_put_row(s, &t, (const char(*)[BOARD_CELL])cells, false);
        if (++shown != each) continue;
        t.y = top + LINE;
        begin_blocks(s, m, &t, A3_MARGIN + panel + GAP);
    }
    block_row(m, "all", &page->all, cells);
    board_put_row(s, &t, (const char(*)[BOARD_CELL])cells, true);
    if (n < page->n_bank) {
        char text[96];
        snprintf(text, sizeof text, "%d smaller blocks are counted in all: seats.csv of assess",
                 page->n_bank - n);
        board_put_line(s, &t, text);
    }
}

static void worst_row(const gradin_assessment *a, int seat, board_cells cells) {
    const gradin_sight *g = &a->sight;
    int name = g->worst_occluder[seat];
    double hidden = g->worst_hidden[seat];
    snprintf(cells[0], BOARD_CELL, "%.80s", a->model->seats.id[seat]);
    snprintf(cells[1], BOARD_CELL, "%s", gradin_rating_name(g->rating[seat]));
    snprintf(cells[2], BOARD_CELL, "%s", gradin_reason_name(g->reason[seat]));
    put_number(cells[3], 100.0 * g->visible[seat], 1);
    cells[4][0] = '\0';
    if (name >= 0)
        plain_print(cells[5], BOARD_CELL, "%.60s, %.1f %%", a->model->occluder_name[name],
                    100.0 * hidden);
    else
        snprintf(cells[5], BOARD_CELL, "%s",
                 name == GRADIN_NONE_CLEARLY ? "none clearly" : "\xE2\x80\x93");
}

static void draw_worst(board *s, const gradin_assessment *a, double left, double top,
                       double width) {
    static const board_column column[] = {{0.22, false}, {0.10, false}, {0.24, false},
                                          {0.12, true},  {0.02, false}, {0.30, false}};
    static const char *const head[] = {"worst seats", "rating", "set by",
                                       "seen, %",     "",       "most hidden by"};
    board_table t = {left, width, LINE, SIZE, column, 6, top + LINE};
    board_cells cells;
    board_put_head(s, &t, head);
    for (int k = 0; k < a->n_worst; k++) {
        worst_row(a, a->worst_seat[k], cells);
        board_put_row(s, &t, (const char(*)[BOARD_CELL])cells, false);
    }
}

bool board_noise_limits(const gradin_criterion *c, char *text, size_t size) {
    char nc[24] = "", level[40] = "", sure[16], number[16];
    if (!isnan(c->nc)) {
        gradin_format_fixed(number, sizeof number, c->nc, 0);
        snprintf(nc, sizeof nc, "NC %s", number);
    }
    if (!isnan(c->lamax_dba)) {
        gradin_format_fixed(number, sizeof number, c->lamax_dba, 1);
        snprintf(level, sizeof level, "%smost %s dB(A)", nc[0] ? ", at " : "at ", number);
    }
    gradin_format_fixed(sure, sizeof sure, 100.0 * c->confidence, 0);
    snprintf(text, size, "limits %s%s, %s %% sure", nc, level, sure);
    return nc[0] || level[0];
}

static void noise_limit(const gradin_assessment *a, char *text, size_t size) {
    char limits[96];
    if (!a->has_noise)
        snprintf(text, size, "noise: the layout names no overflight");
    else if (!board_noise_limits(&a->model->criterion, limits, sizeof limits))
        snprintf(text, size, "noise: no limit is stated");
    else
        snprintf(text, size, "overflight: %s", limits);
}

static void draw_limits(board *s, const gradin_assessment *a, double left, double top,
                        double width) {
    static const board_column column[] = {{1.0, false}};
    char head_text[160], text[200];
    const char *brief = a->model->limits.brief;
    const quantity q = quantity_of(a, GRADIN_MAP_RATING, GRADIN_MAP_SCALE_FITTED);
    snprintf(head_text, sizeof head_text, "limits in force, clear / good / fair%s%.60s",
             brief ? "; brief " : "; no brief stated", brief ? brief : "");
    const char *const head[] = {head_text};
    board_table t = {left, width, LINE, SIZE, column, 1, top + LINE};
    board_put_head(s, &t, head);
    for (int k = GRADIN_REASON_VISIBLE; k < (int)GRADIN_N_REASON; k++) {
        legend_limit(&q, (gradin_reason)k, text, sizeof text);
        board_put_line(s, &t, text);
    }
    noise_limit(a, text, sizeof text);
    board_put_line(s, &t, text);
}

double board_layout_tables_height(const gradin_layout_page *page) {
    int lines = page->n_bank > ONE_PANEL ? (page->n_bank + 3) / 2 : page->n_bank + 1;
    if (lines < N_WORST_LINE) lines = N_WORST_LINE;
    return (fmin(lines, MOST_LINE) + 3.0) * LINE;
}

void board_draw_layout_tables(board *s, const gradin_layout_page *page, double top, double bottom) {
    double blocks = 0.47 * A3_INNER, worst = 0.29 * A3_INNER;
    draw_blocks(s, page, top, bottom, blocks);
    draw_worst(s, page->assessment, A3_MARGIN + blocks + GAP, top, worst);
    draw_limits(s, page->assessment, A3_MARGIN + blocks + worst + 2.0 * GAP, top,
                A3_INNER - blocks - worst - 2.0 * GAP);
}
