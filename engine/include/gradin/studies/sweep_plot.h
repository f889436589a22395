/* gradin/studies/sweep_plot.h: one figure of a study over two of its keys, or over the
 * points of a search.
 *
 * Ownership and threads: Pictures are bytes in the arena that is given; pictures of different
 * arenas may be drawn in different threads. */
#ifndef GRADIN_SWEEP_PLOT_H
#define GRADIN_SWEEP_PLOT_H

#include "gradin/picture.h"
#include "gradin/studies/sweep.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Does the study ask for a picture, of two keys with values? */
GRADIN_API bool gradin_sweep_plot_applies(const gradin_sweep_result *result);
/* The figure at every value of the two keys as a picture in the arena; the other keys stand as at
 * the best point. GRADIN_BAD_USE for a study without a picture. */
GRADIN_API gradin_status gradin_sweep_plot_picture(gradin_arena *arena,
                                                   const gradin_sweep_result *result,
                                                   gradin_picture format, unsigned char **bytes,
                                                   size_t *size, gradin_error *error);

/* Was it a search, with an aim? */
GRADIN_API bool gradin_seek_plot_applies(const gradin_sweep_result *result);
/* The figure of the first aim over the points in the order in which they were tried, as a picture
 * in the arena. GRADIN_BAD_USE for what was not searched. */
GRADIN_API gradin_status gradin_seek_plot_picture(gradin_arena *arena,
                                                  const gradin_sweep_result *result,
                                                  gradin_picture format, unsigned char **bytes,
                                                  size_t *size, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
