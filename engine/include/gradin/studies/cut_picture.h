/* gradin/studies/cut_picture.h: a cut through a hall as a picture. Takes the result struct and
 * computes nothing.
 *
 * Ownership and threads: Pictures are bytes in the arena that is given; pictures of different
 * arenas may be drawn in different threads. */
#ifndef GRADIN_CUT_PICTURE_H
#define GRADIN_CUT_PICTURE_H

#include "gradin/picture.h"
#include "gradin/studies/cut.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The cut to scale with its rows as a table below, on an A3 sheet that lies, as a file in the
 * arena. GRADIN_IO_FAILED without the DejaVu Sans font. */
GRADIN_API gradin_status gradin_cut_picture(gradin_arena *arena, const gradin_cut *cut,
                                            gradin_picture format, unsigned char **bytes,
                                            size_t *size, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
