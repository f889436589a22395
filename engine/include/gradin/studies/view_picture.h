/* gradin/studies/view_picture.h: views from seats, and a cut through a hall, as pictures. Takes
 * result structs and computes nothing.
 *
 * Ownership and threads: Pictures are bytes in the arena that is given; pictures of different
 * arenas may be drawn in different threads. */
#ifndef GRADIN_VIEW_PICTURE_H
#define GRADIN_VIEW_PICTURE_H

#include "gradin/picture.h"
#include "gradin/studies/cut.h"
#include "gradin/studies/view.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The view with its figures below as a file in the arena, as wide as the view. GRADIN_IO_FAILED
 * without the DejaVu Sans font. */
GRADIN_API gradin_status gradin_view_picture(gradin_arena *arena, const gradin_view *view,
                                             gradin_picture format, unsigned char **bytes,
                                             size_t *size, gradin_error *error);

/* The view alone as a PNG of its pixels, for a document that says the rest. */
GRADIN_API gradin_status gradin_view_image(gradin_arena *arena, const gradin_view *view,
                                           unsigned char **bytes, size_t *size,
                                           gradin_error *error);

/* Up to GRADIN_MAX_VIEW views of one model and one size on an A3 sheet that lies, four to a row. */
GRADIN_API gradin_status gradin_view_sheet_picture(gradin_arena *arena,
                                                   const gradin_view_entry *entry, int n_entry,
                                                   gradin_picture format, unsigned char **bytes,
                                                   size_t *size, gradin_error *error);

/* The cut to scale with its rows as a table below, on an A3 sheet that lies, as a file in the
 * arena. GRADIN_IO_FAILED without the DejaVu Sans font. */
GRADIN_API gradin_status gradin_cut_picture(gradin_arena *arena, const gradin_cut *cut,
                                            gradin_picture format, unsigned char **bytes,
                                            size_t *size, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
