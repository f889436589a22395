/* The rows of a cut as a table in up to three panels. */
#include "base/lengths.h"
#include "base/shared/plain.h"
#include "render/section/cut_page.h"

#include <stdio.h>

enum { N_PANEL = 3, N_COLUMN = 7 };
#define LINE 23.0
#define PANEL_GAP 40.0

static const double from[N_COLUMN] = {0.0, 0.30, 0.56, 0.66, 0.77, 0.86, 0.93};

typedef struct panel {
    const cut_page *p;
    double left, width;
} panel;

static void cell(const panel *at, int column, double y, bool is_bold, const char *text) {
    double next = column + 1 < N_COLUMN ? from[column + 1] : 1.0;
    double left = at->left + from[column] * at->width, width = (next - from[column]) * at->width;
    bool is_number = column >= 2;
    text_style style = {.size = 16.0,
                        .is_bold = is_bold,
                        .ink = COLOUR_INK,
                        .align = is_number ? TEXT_RIGHT : TEXT_LEFT};
    canvas_text_within(at->p->page, style, is_number ? left + width - 6.0 : left, y, width - 8.0,
                       12.0, text);
}

static void draw_head(const panel *at, double y) {
    const gradin_cut *c = at->p->cut;
    static const char *const text[N_COLUMN] = {"row",   "seat",  "C",    "sees %",
                                               "heads", "rails", "other"};
    char c_text[16];
    snprintf(c_text, sizeof c_text, "C, %s", small_unit_of(c->model->units).name);
    for (int k = 0; k < N_COLUMN; k++) cell(at, k, y, true, k == 2 ? c_text : text[k]);
    canvas_line(at->p->page, (gradin_vec2){at->left, y + 7.0},
                (gradin_vec2){at->left + at->width, y + 7.0}, COLOUR_FAINT, 1.2);
}

static void percent(const panel *at, int column, double y, double share) {
    char text[16];
    plain_print(text, sizeof text, "%.1f", 100.0 * share);
    cell(at, column, y, false, text);
}

static void draw_row(const panel *at, int row, double y) {
    const gradin_cut *c = at->p->cut;
    int seat = c->row[row].seat;
    const double *hidden = c->sight->hidden + (size_t)seat * GRADIN_N_CAUSE;
    char name[80], value[LENGTH_CHARS];
    bool is_own = seat == c->seat;
    cut_row_name(c, row, name, sizeof name);
    cell(at, 0, y, is_own, name);
    cell(at, 1, y, is_own, c->model->seats.id[seat]);
    length_number(value, c->sight->c_m[seat], small_unit_of(c->model->units));
    cell(at, 2, y, false, value);
    percent(at, 3, y, c->sight->visible[seat]);
    percent(at, 4, y, hidden[GRADIN_CAUSE_HEAD]);
    percent(at, 5, y, hidden[GRADIN_CAUSE_RAIL]);
    percent(at, 6, y, hidden[GRADIN_CAUSE_STRUCTURE] + hidden[GRADIN_CAUSE_ARCH]);
}

void cut_draw_table(const cut_page *p, double top, double bottom) {
    double width = (CUT_WIDTH - 2.0 * PAGE_MARGIN - (N_PANEL - 1) * PANEL_GAP) / N_PANEL;
    int lines = (int)((bottom - top) / LINE) - 2, most = lines * N_PANEL, n = p->cut->n_row;
    int shown = n < most ? n : most, each = (shown + N_PANEL - 1) / N_PANEL;
    for (int i = 0; i < shown; i++) {
        panel at = {p, PAGE_MARGIN + (i / each) * (width + PANEL_GAP), width};
        if (i % each == 0) draw_head(&at, top + 18.0);
        draw_row(&at, i, top + 18.0 + LINE * (1 + i % each));
    }
    if (shown == n) return;
    char text[80];
    text_style style = {.size = 16.0, .ink = COLOUR_QUIET};
    snprintf(text, sizeof text, "%d rows more: seats.csv of assess has all seats", n - shown);
    canvas_text(p->page, style, PAGE_MARGIN, top + 18.0 + LINE * (1 + each), text);
}
