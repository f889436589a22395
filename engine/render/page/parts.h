/* render/page/parts.h: the parts that pages about layouts are put together from. */
#ifndef GRADIN_RENDER_PAGE_PARTS_H
#define GRADIN_RENDER_PAGE_PARTS_H

#include "gradin/studies/page/picture.h"
#include "render/draw/boxes.h"
#include "render/draw/canvas.h"
#include "render/maps/quantity.h"

#define A3_WIDTH (PAGE_WIDTH * 420.0 / 297.0) /* lying: ISO 216 */
#define A3_HEIGHT PAGE_WIDTH
#define A3_MARGIN 56.0
#define A3_INNER (A3_WIDTH - 2.0 * A3_MARGIN)
#define PART_HEAD 30.0 /* title of a part, above it */

/* A canvas with what drawing on it needs; out of memory sticks. */
typedef struct board {
    canvas *page;
    gradin_arena *scratch;
    bool failed;
} board;

static inline gradin_box2 box_at(double left, double top, double width, double height) {
    return (gradin_box2){left, top, left + width, top + height};
}

/* frame.c: head, foot, titles of parts. */

typedef struct board_head {
    char title[300], about[300], lines[3][400]; /* the last may be "" */
} board_head;

void board_draw_head(board *s, const board_head *head);
/* Cautions, then version and digests. */
void board_draw_foot(board *s, const char *noise, const char *digests);
void board_part_title(board *s, double left, double top, double width, const char *title);
char *board_percent(double share, char text[16]);   /* "47.8 %" */
char *board_counted(int n, int all, char text[32]); /* "267 (47.8 %)" */

/* plans.c: one plan per level of a figure, as large as they fit; mark may be NULL. */

typedef struct board_plan {
    const quantity *q;
    const gradin_layout_page *mark; /* its sections are drawn as numbered lines; NULL: none */
    bool is_named;                  /* with names of blocks, rows and focus areas */
} board_plan;

/* The units per metre that they are drawn with; 0 without extent. */
double board_draw_plans(board *s, const board_plan *plan, gradin_box2 box);

/* scale.c: colours of a figure with its limits, and classes with their counts; `top` of the bar. */
void board_draw_scale(board *s, const quantity *q, double left, double top, double width);
void board_draw_classes(board *s, const gradin_seat_sums *sum, double left, double top,
                        double width);

/* cuts.c: sections side by side. */
/* The height that they ask for side by side in this width. */
double board_cuts_height(const gradin_layout_page *page, double width);
void board_draw_cuts(board *s, const gradin_layout_page *page, gradin_box2 box);

/* table.c: rows of text; numbers are flush right. */

enum { BOARD_COLUMNS = 12, BOARD_CELL = 96 };

typedef struct board_column {
    double share; /* of the width */
    bool is_number;
} board_column;

typedef struct board_table {
    double left, width, line, size; /* distance of lines and size of letters */
    const board_column *column;
    int n_column;
    double y; /* of the next line's base */
} board_table;

typedef char board_cells[BOARD_COLUMNS][BOARD_CELL];

void board_put_head(board *s, board_table *table, const char *const *text);
void board_put_row(board *s, board_table *table, const board_cells cells, bool is_bold);
/* Words over the whole width. */
void board_put_line(board *s, board_table *table, const char *text);

/* layout_tables.c: "limits NC 40, at most 42.0 dB(A), 84 % sure"; false without any. */
bool board_noise_limits(const gradin_criterion *criterion, char *text, size_t size);

/* layout_page.c, layout_tables.c, pair_page.c, pair_tables.c */
void board_draw_layout(board *s, const gradin_layout_page *page);
double board_layout_tables_height(const gradin_layout_page *page);
void board_draw_layout_tables(board *s, const gradin_layout_page *page, double top, double bottom);
/* text_page.c: texts in columns on as many pages as they need, each on a new one. */
void board_draw_texts(board *s, const gradin_pages *pages);
void board_draw_pair(board *s, const gradin_pages *pages, int pair);
void board_draw_pair_tables(board *s, const gradin_pages *pages, int pair, double top,
                            double bottom);

#endif
