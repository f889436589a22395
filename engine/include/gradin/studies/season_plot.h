/* gradin/studies/season_plot.h: a season's results as pictures.
 *
 * Ownership and threads: Pictures are bytes in the arena that is given, or whole files; pictures of
 * different arenas may be drawn in different threads. */
#ifndef GRADIN_SEASON_PLOT_H
#define GRADIN_SEASON_PLOT_H

#include "gradin/picture.h"
#include "gradin/studies/season.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum gradin_season_map {
    GRADIN_SEASON_MAP_LAMAX, /* loudest event, dB(A), shades as set */
    GRADIN_SEASON_MAP_LAMAX_OPEN,
    GRADIN_SEASON_MAP_LAMAX_SHUT,
    GRADIN_SEASON_MAP_SHADE_GAIN, /* open less shut, dB, on the scale of differences */
    GRADIN_SEASON_MAP_LAEQ,       /* of the events over all performances, dB(A) */
    GRADIN_SEASON_MAP_OVER,       /* events over the limit a performance; only with a limit */
    GRADIN_SEASON_MAP_WORDS_LOST, /* s of the worst class */
    GRADIN_SEASON_MAP_SII,        /* without traffic */
    GRADIN_N_SEASON_MAP
} gradin_season_map;

GRADIN_API const char *
gradin_season_map_name(gradin_season_map map); /* file stem: "season_lamax", ... */
GRADIN_API bool gradin_season_map_applies(const gradin_season *season, gradin_season_map map);
/* As gradin_map_png(), gradin_maps_write() and gradin_maps_left_out(); levels by band as
 * season_octave_63hz.png. */
GRADIN_API gradin_status gradin_season_map_png(gradin_arena *arena, const gradin_season *season,
                                               gradin_season_map map, int sheet,
                                               unsigned char **bytes, size_t *size,
                                               gradin_error *error);
GRADIN_API gradin_status gradin_season_maps_write(const gradin_season *season,
                                                  gradin_picture format, const char *dir,
                                                  int *n_written, gradin_error *error);
GRADIN_API gradin_status gradin_season_maps_left_out(gradin_arena *arena,
                                                     const gradin_season *season, char **text,
                                                     gradin_error *error);

/* Level against time of the loudest flight, outside and at the seats chosen, as a picture in the
 * arena. */
GRADIN_API gradin_status gradin_season_trace_picture(gradin_arena *arena,
                                                     const gradin_season *season,
                                                     gradin_picture format, unsigned char **bytes,
                                                     size_t *size, gradin_error *error);
/* Events over the limit a performance against its time of start. GRADIN_BAD_USE without a limit. */
GRADIN_API gradin_status gradin_season_starts_picture(gradin_arena *arena,
                                                      const gradin_season *season,
                                                      gradin_picture format, unsigned char **bytes,
                                                      size_t *size, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
