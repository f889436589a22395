/* gradin/studies/outlook_map.h: an outlook as a map. Takes the result struct and computes nothing.
 *
 * Ownership and threads: Pictures are bytes in the arena that is given, or whole files; pictures of
 * different arenas may be drawn in different threads. */
#ifndef GRADIN_OUTLOOK_MAP_H
#define GRADIN_OUTLOOK_MAP_H

#include "gradin/picture.h"
#include "gradin/studies/outlook.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Seats by their share of open glass, the points outside, and below the plan the part of the focus
 * that each point sees, of one drawing sheet (0-based), as a PNG in the arena. */
GRADIN_API gradin_status gradin_outlook_map_png(gradin_arena *arena, const gradin_outlook *outlook,
                                                int sheet, unsigned char **bytes, size_t *size,
                                                gradin_error *error);
/* The same of all sheets into folder dir (which exists): outlook.png, or outlook-sheetK-LEVEL.png
 * when there are several. *n_written (may be NULL) gets their count. */
GRADIN_API gradin_status gradin_outlook_map_write(const gradin_outlook *outlook,
                                                  gradin_picture format, const char *dir,
                                                  int *n_written, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
