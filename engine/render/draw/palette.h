/* render/draw/palette.h: a finished canvas in at most 256 colours. */
#ifndef GRADIN_RENDER_PALETTE_H
#define GRADIN_RENDER_PALETTE_H

#include "render/draw/canvas.h"

enum { PALETTE_SIZE = 256 };

/* A stretch of one colour along a row. */
typedef struct colour_stretch {
    uint16_t colour;
    uint16_t length;
} colour_stretch;

typedef struct palette {
    uint32_t ink[PALETTE_SIZE]; /* RGB in the low 24 bits */
    int n;                      /* 0: the picture needs more colours */
    unsigned char *entry;       /* [colour] of the palette */
    colour_stretch *stretch;    /* row by row */
} palette;

/* Colours that cover a patch stay as they are. Those along edges, where two of them blend, may
 * give way to a neighbour that the eye does not tell from them. A picture that shades more than
 * that has no palette. GRADIN_NO_MEMORY alone makes it fail. */
gradin_status palette_of(gradin_arena *scratch, const canvas *page, palette *out);
enum { PALETTE_SLACK = 8 };
/* Indices of the next row, of [width_px + PALETTE_SLACK], of which the last few mean nothing; `at`
 * counts stretches from 0 on. */
void palette_row(const palette *p, int width_px, size_t *at, unsigned char *row);

#endif
