/* Tables of a page. */
#include "render/page/parts.h"

static void put(board *s, const board_table *t, int column, bool is_bold, const char *text) {
    double from = 0.0;
    for (int k = 0; k < column; k++) from += t->column[k].share;
    double left = t->left + from * t->width, width = t->column[column].share * t->width - 8.0;
    bool is_number = t->column[column].is_number;
    text_style style = {.size = t->size,
                        .is_bold = is_bold,
                        .align = is_number ? TEXT_RIGHT : TEXT_LEFT,
                        .ink = COLOUR_INK};
    canvas_text_within(s->page, style, is_number ? left + width : left, t->y, width, LEAST_TEXT,
                       text);
}

void board_put_head(board *s, board_table *t, const char *const *text) {
    for (int k = 0; k < t->n_column; k++) put(s, t, k, true, text[k]);
    canvas_line(s->page, (gradin_vec2){t->left, t->y + 0.3 * t->line},
                (gradin_vec2){t->left + t->width - 8.0, t->y + 0.3 * t->line}, COLOUR_FAINT, 1.2);
    t->y += 1.2 * t->line;
}

void board_put_row(board *s, board_table *t, const board_cells cells, bool is_bold) {
    for (int k = 0; k < t->n_column; k++) put(s, t, k, is_bold, cells[k]);
    t->y += t->line;
}

void board_put_line(board *s, board_table *t, const char *text) {
    text_style style = {.size = t->size, .ink = COLOUR_INK};
    canvas_text_within(s->page, style, t->left, t->y, t->width - 8.0, LEAST_TEXT, text);
    t->y += t->line;
}
