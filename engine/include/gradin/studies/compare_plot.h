/* gradin/studies/compare_plot.h: what changes from one layout to another, on the plan of the
 * second.
 *
 * Ownership and threads: Pictures are bytes in the arena that is given, or whole files; pictures of
 * different arenas may be drawn in different threads. */
#ifndef GRADIN_COMPARE_PLOT_H
#define GRADIN_COMPARE_PLOT_H

#include "gradin/picture.h"
#include "gradin/studies/compare.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum gradin_compare_map {
    GRADIN_COMPARE_MAP_RATING,  /* classes better or worse */
    GRADIN_COMPARE_MAP_VISIBLE, /* points of the focus */
    GRADIN_COMPARE_MAP_C_VALUE,
    GRADIN_COMPARE_MAP_LAMAX, /* dB, shades as set */
    GRADIN_N_COMPARE_MAP
} gradin_compare_map;

GRADIN_API const char *gradin_compare_map_name(gradin_compare_map map); /* file stem */
/* Has any matched seat of the pair the figure in both? */
GRADIN_API bool gradin_compare_map_applies(const gradin_comparison *comparison, int pair,
                                           gradin_compare_map map);
/* One map of one sheet of the second layout as a PNG in the arena. GRADIN_BAD_USE for one that does
 * not apply. */
GRADIN_API gradin_status gradin_compare_map_png(gradin_arena *arena,
                                                const gradin_comparison *comparison, int pair,
                                                gradin_compare_map map, int sheet,
                                                unsigned char **bytes, size_t *size,
                                                gradin_error *error);
/* All that apply into folder dir (which exists): NAME.png of two layouts, NAME_b.png, NAME_c.png of
 * more, by the letter of the second; *n_written (may be NULL) gets their count. A map on which all
 * seats read alike is left out. */
GRADIN_API gradin_status gradin_compare_maps_write(const gradin_comparison *comparison,
                                                   gradin_picture format, const char *dir,
                                                   int *n_written, gradin_error *error);
/* One line per map left out, as text in the arena; "" when there is none. */
GRADIN_API gradin_status gradin_compare_maps_left_out(gradin_arena *arena,
                                                      const gradin_comparison *comparison,
                                                      char **text, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
