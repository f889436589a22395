/* render/charts/cues.h: the cue sheets of a changeover, drawn on a canvas sheet by sheet. */
#ifndef GRADIN_RENDER_CUES_H
#define GRADIN_RENDER_CUES_H

#include "gradin/studies/changeover.h"
#include "render/draw/canvas.h"

/* What a gang does: a move, a trip of the store lift for another gang's, or a stop of all. */
typedef struct cue {
    int move, trip; /* move -1: the stop of that number; trip -1: the move itself */
    int start_s, end_s;
} cue;

/* One sheet: cues first to last - 1 of a gang's. */
typedef struct cue_sheet {
    int gang; /* -1: what nobody has to do */
    int first, last, number, n_of_gang;
} cue_sheet;

typedef struct cue_book {
    const gradin_changeover *c;
    cue *cue; /* [n_cue] gang by gang, in order of start */
    int n_cue;
    cue_sheet *sheet; /* [n_sheet] */
    int n_sheet;
} cue_book;

/* Which cues stand on which sheet: by what they need on a canvas of that kind. False without
 * memory. */
bool cues_bind(cue_book *book, gradin_arena *arena, const gradin_changeover *c, canvas *page);
void cues_draw(const cue_book *book, const cue_sheet *sheet, canvas *page);

/* cues_text.c: text in a column, broken between words, and inside a word that is wider; the
 * baseline after the last line. is_drawn false: measured only. */
double cues_column(canvas *page, text_style style, double x, double y, double width,
                   const char *text, bool is_drawn);

#endif
