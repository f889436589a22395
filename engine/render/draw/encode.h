/* render/draw/encode.h: a finished canvas as PNG. */
#ifndef GRADIN_RENDER_ENCODE_H
#define GRADIN_RENDER_ENCODE_H

#include "render/draw/canvas.h"

typedef struct encode_note {
    const char *key, *text; /* a text chunk: tEXt, or iTXt where the text is not ASCII */
} encode_note;

/* Indices of 8 bits, or RGB where a palette does not do; no filter. pHYs says that PAGE_WIDTH units
 * are as wide as an A3 sheet; a note says how small the smallest letters are on it. The bytes come
 * from `arena`, everything that is needed on the way from `scratch`. No time stamp: the same pixels
 * and notes give the same bytes. */
gradin_status encode_png(gradin_arena *arena, gradin_arena *scratch, const canvas *page,
                         const encode_note *note, int n_note, unsigned char **bytes, size_t *size,
                         gradin_error *error);

/* GRADIN_BAD_USE for a format that is none. */
gradin_status picture_check(gradin_picture format, gradin_error *error);
/* The same of any format. SVG and PDF end the drawing: nothing may be drawn after. */
gradin_status encode_picture(gradin_arena *arena, gradin_arena *scratch, canvas *page,
                             const encode_note *note, int n_note, unsigned char **bytes,
                             size_t *size, gradin_error *error);

/* What a picture is of, for its notes. */
typedef struct picture_of {
    const char *title, *layout, *digest;
} picture_of;

/* Ends a page that is drawn, where `status` is that of the drawing: encodes it with its notes
 * unless something failed, and closes it. */
gradin_status picture_end(gradin_arena *arena, gradin_arena *scratch, canvas *page,
                          gradin_status status, picture_of of, unsigned char **bytes, size_t *size,
                          gradin_error *error);

#endif
