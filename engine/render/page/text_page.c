/* Texts in letters of one width, three columns to a page. */
#include "render/page/parts.h"

#include <stdio.h>
#include <string.h>

enum { COLUMNS = 3 };
#define TOP 118.0
#define BOTTOM (A3_HEIGHT - 92.0)
#define GAP 40.0
#define COLUMN ((A3_INNER - (COLUMNS - 1) * GAP) / COLUMNS)
#define SIZE 15.6 /* 80 letters of 0.602 em fit a column */
#define LINE 20.0

typedef struct flow {
    board *b;
    const gradin_pages *pages;
    int column; /* COLUMNS: the page is full */
    double y;
} flow;

/* Of each layout, by its number where there are several. */
static void put_digests(const gradin_pages *pages, char *text, size_t size) {
    size_t used = 0;
    text[0] = '\0';
    for (int i = 0; i < pages->n; i++) {
        const char *digest = pages->layout[i].assessment->model->digest;
        used += (size_t)(pages->n == 1 ? snprintf(text, size, "%.32s", digest)
                                       : snprintf(text + used, size - used, "%sof page %d %.32s",
                                                  i > 0 ? ", " : "", i + 1, digest));
    }
}

static void open_page(flow *f) {
    char digests[GRADIN_MAX_COMPARED * 48];
    text_style style = {.size = 30.0, .is_bold = true, .ink = COLOUR_INK};
    canvas_turn(f->b->page);
    canvas_text(f->b->page, style, A3_MARGIN, 66.0, "In words");
    canvas_line(f->b->page, (gradin_vec2){A3_MARGIN, 84.0},
                (gradin_vec2){A3_WIDTH - A3_MARGIN, 84.0}, COLOUR_FAINT, 1.2);
    put_digests(f->pages, digests, sizeof digests);
    board_draw_foot(f->b, "", digests);
    f->column = 0;
    f->y = TOP;
}

static void next_column(flow *f) {
    f->y = TOP;
    if (++f->column >= COLUMNS) open_page(f);
}

static double left_of(const flow *f) {
    return A3_MARGIN + f->column * (COLUMN + GAP);
}

static void put_line(flow *f, const char *line, size_t length) {
    char text[TEXT_CHARS];
    text_style style = {.size = SIZE, .is_mono = true, .ink = COLOUR_INK};
    if (f->y > BOTTOM) next_column(f);
    snprintf(text, sizeof text, "%.*s", (int)length, line);
    if (length > 0)
        canvas_text_within(f->b->page, style, left_of(f), f->y, COLUMN, LEAST_TEXT, text);
    f->y += LINE;
}

static void put_text(flow *f, const gradin_page_text *text) {
    text_style style = {.size = 19.0, .is_bold = true, .ink = COLOUR_INK};
    if (f->y > TOP) next_column(f);
    canvas_text_within(f->b->page, style, left_of(f), f->y, COLUMN, 13.0, text->title);
    f->y += 1.6 * LINE;
    for (const char *at = text->text; *at != '\0';) {
        size_t length = strcspn(at, "\n");
        put_line(f, at, length);
        at += length + (at[length] == '\n');
    }
}

void board_draw_texts(board *b, const gradin_pages *pages) {
    flow f = {b, pages, COLUMNS, BOTTOM + LINE};
    for (int i = 0; i < pages->n_text; i++) put_text(&f, &pages->text[i]);
}
