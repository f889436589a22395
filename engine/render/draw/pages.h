/* render/draw/pages.h: sheets of A4 upright (ISO 216), one after another in one PDF. */
#ifndef GRADIN_RENDER_PAGES_H
#define GRADIN_RENDER_PAGES_H

#include "render/draw/canvas.h"

#define SHEET_HEIGHT (PAGE_WIDTH * 297.0 / 210.0)
#define SHEET_POINT (PAGE_WIDTH * 25.4 / 72.0 / 210.0) /* units of a point of 1/72 inch */

typedef struct pages {
    canvas canvas;
    gradin_arena *arena; /* of the bytes */
    unsigned char *bytes;
    size_t size, capacity;
    bool failed;
} pages;

/* A first page, PAGE_WIDTH wide. GRADIN_IO_FAILED without the font. No date but a fixed one: the
 * same drawing gives the same bytes. pages_close() may be called on what failed. */
gradin_status pages_open(pages *p, gradin_arena *arena, const char *title, gradin_error *error);
void pages_turn(pages *p); /* the page is done; the next one */
gradin_status pages_end(pages *p, gradin_error *error);
void pages_close(pages *p);

#endif
