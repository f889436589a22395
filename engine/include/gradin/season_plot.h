/* gradin/season_plot.h: a season's results as pictures. */
#ifndef GRADIN_SEASON_PLOT_H
#define GRADIN_SEASON_PLOT_H

#include "gradin/season.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Level against time of the loudest flight, outside and at three seats, as a PNG in the arena. */
gradin_status gradin_season_trace_png(gradin_arena *arena, const gradin_season *season,
                                      unsigned char **bytes, size_t *size, gradin_error *error);
/* Events over the limit a performance against its time of start. GRADIN_BAD_USE without a limit. */
gradin_status gradin_season_starts_png(gradin_arena *arena, const gradin_season *season,
                                       unsigned char **bytes, size_t *size, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
