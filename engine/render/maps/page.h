/* render/maps/page.h: one figure of all seats as a page, and as a file. */
#ifndef GRADIN_RENDER_PAGE_H
#define GRADIN_RENDER_PAGE_H

#include "render/maps/easel.h"

/* A PNG in the arena. GRADIN_BAD_USE for a sheet that is not there or a model without extent. */
gradin_status page_png(gradin_arena *arena, const quantity *q, int sheet, unsigned char **bytes,
                       size_t *size, gradin_error *error);
/* A sheet into folder dir as STEM.png, or STEM-sheetK-LEVEL.png when there are several, or .svg,
 * .pdf by q->format; adds it to *n_written. The file whole or not at all. Nothing of a figure that
 * is even. Quantities of one sheet after another are the quickest. */
gradin_status page_write(easel *e, const quantity *q, int sheet, const char *dir, const char *stem,
                         int *n_written, gradin_error *error);
/* Lines of text in the arena, one per map that page_write() leaves out. */
typedef struct left_out {
    gradin_arena *arena;
    char *text;
} left_out;

/* Adds the line when q is even. */
gradin_status page_note_left_out(left_out *so_far, const quantity *q, gradin_error *error);
/* "octave_63hz", "third_100hz". */
const char *page_band_stem(const gradin_band_level *band, char stem[32]);

#endif
