/* The rows of a rake as a table below its section: in one column of rows, or two when there are
 * many. */
#include "base/lengths.h"
#include "render/section/rake.h"

#include <stdio.h>

enum { N_COLUMN = 8, ROWS_A_SIDE = 16 };

#define LINE 27.0
#define SIDE_GAP 40.0

static const char *const head[N_COLUMN] = {"row",     "D", "R",          "N",
                                           "ideal N", "C", "worst seat", "moves"};

/* Of a column: none of the row's number, then distances, then what is small. */
static length_unit unit_of(const rake_view *v, int column) {
    const char *units = v->rake->model->units;
    if (column == 0) return (length_unit){"", 1.0, 0};
    return column <= 2 ? stated_unit_of(units) : small_unit_of(units);
}

static int sides(const gradin_rake *rake) {
    return rake->n_row > ROWS_A_SIDE ? 2 : 1;
}

static int rows_a_side(const gradin_rake *rake) {
    return (rake->n_row + sides(rake) - 1) / sides(rake);
}

double rake_table_height(const gradin_rake *rake) {
    return (rows_a_side(rake) + 2.6) * LINE;
}

static double side_width(const gradin_rake *rake) {
    double all = PAGE_WIDTH - 2.0 * PAGE_MARGIN;
    return sides(rake) == 1 ? 0.72 * all : 0.5 * (all - SIDE_GAP);
}

static void put(const rake_view *v, text_style style, int side, int column, double y,
                const char *text) {
    double width = side_width(v->rake), step = width / N_COLUMN;
    style.align = TEXT_RIGHT;
    canvas_text(v->page, style, PAGE_MARGIN + side * (width + SIDE_GAP) + (column + 0.8) * step, y,
                text);
}

static void put_number(const rake_view *v, text_style style, int side, int column, double y,
                       double value) {
    char text[LENGTH_CHARS];
    length_number(text, value, unit_of(v, column));
    put(v, style, side, column, y, text[0] ? text : "\xE2\x80\x93");
}

static void draw_row(const rake_view *v, int k, double top) {
    const gradin_rake *rake = v->rake;
    const gradin_rake_row *row = &rake->row[k];
    int side = k / rows_a_side(rake);
    double y = top + (k % rows_a_side(rake) + 2.4) * LINE;
    text_style style = {.size = 18.0, .ink = COLOUR_INK};
    char name[LENGTH_CHARS];
    rake_row_name(row, name, sizeof name);
    put(v, style, side, 0, y, name);
    put_number(v, style, side, 1, y, row->d_m);
    put_number(v, style, side, 2, y, row->floor_m + row->eye_height_m - rake->focus_z_m);
    put_number(v, style, side, 3, y, row->riser_m);
    put_number(v, style, side, 4, y, row->ideal_riser_m);
    style.is_bold = k > 0 && rake_is_short(rake, k);
    put_number(v, style, side, 5, y, row->c_m);
    style.is_bold = false;
    put_number(v, style, side, 6, y, row->c_seats_m);
    put_number(v, style, side, 7, y, (row->floor_m - row->floor_before_m));
}

void rake_draw_table(const rake_view *v, double top) {
    text_style bold = {.size = 18.0, .is_bold = true, .ink = COLOUR_INK};
    text_style quiet = {.size = 16.0, .ink = COLOUR_QUIET};
    for (int side = 0; side < sides(v->rake); side++)
        for (int column = 0; column < N_COLUMN; column++) {
            put(v, bold, side, column, top + 0.6 * LINE, head[column]);
            put(v, quiet, side, column, top + 1.35 * LINE, unit_of(v, column).name);
        }
    for (int k = 0; k < v->rake->n_row; k++) draw_row(v, k, top);
}
