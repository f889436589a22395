/* gradin/render.h: results as pictures. Takes result structs and computes nothing.
 *
 * Ownership and threads: Pictures are bytes in the arena that is given, or whole files; pictures of
 * different arenas may be drawn in different threads. */
#ifndef GRADIN_RENDER_H
#define GRADIN_RENDER_H

#include "gradin/acoustics/glazing.h"
#include "gradin/picture.h"
#include "gradin/studies.h"
#include "gradin/studies/changeover.h"
#include "gradin/studies/fit.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef enum gradin_map {
    GRADIN_MAP_VISIBLE,    /* visible fraction, % */
    GRADIN_MAP_C_VALUE,    /* C-value, mm */
    GRADIN_MAP_RATING,     /* rating by class */
    GRADIN_MAP_DISTANCE,   /* m */
    GRADIN_MAP_OFF_AXIS,   /* degrees; only with an axis */
    GRADIN_MAP_TURN,       /* head turn, degrees */
    GRADIN_MAP_LAMAX,      /* dB(A), shades as set; only with noise */
    GRADIN_MAP_LAMAX_OPEN, /* all shades open or shut; only where there are shades */
    GRADIN_MAP_LAMAX_SHUT,
    GRADIN_MAP_SHADE_GAIN, /* open less shut, dB, on the scale of differences */
    GRADIN_MAP_CLEAR_VIEW, /* chance of a clear view, %; only when audiences were drawn */
    GRADIN_N_MAP
} gradin_map;

/* Of the colours of levels and of the C-value. */
typedef enum gradin_map_scale {
    GRADIN_MAP_SCALE_FITTED, /* steps about the limit, over the seats' values */
    GRADIN_MAP_SCALE_FIXED   /* the same for every layout */
} gradin_map_scale;

GRADIN_API const char *gradin_map_name(gradin_map map); /* file stem: "visible", "c_value", ... */
/* Has this assessment the figures that the map needs? */
GRADIN_API bool gradin_map_applies(const gradin_assessment *assessment, gradin_map map);

/* One heat map of one drawing sheet (0-based) as a PNG in the arena. Software, layout, quantity and
 * the digest of the sources stand at the foot and in text chunks; the same assessment gives the
 * same bytes. GRADIN_BAD_USE for a map that does not apply, GRADIN_IO_FAILED without the DejaVu
 * Sans font. */
GRADIN_API gradin_status gradin_map_png(gradin_arena *arena, const gradin_assessment *assessment,
                                        gradin_map map, int sheet, unsigned char **bytes,
                                        size_t *size, gradin_error *error);
/* The same of one of the assessment's levels by band. */
GRADIN_API gradin_status gradin_band_map_png(gradin_arena *arena,
                                             const gradin_assessment *assessment, int band,
                                             int sheet, unsigned char **bytes, size_t *size,
                                             gradin_error *error);
/* All maps that apply into folder dir (which exists), in one format: NAME.png, or
 * NAME-sheetK-LEVEL.png when there are several sheets; levels by band as octave_63hz.png,
 * third_100hz.png. *n_written (may be NULL) gets their count. A map of one figure at each seat is
 * left out, unless it is the rating. */
GRADIN_API gradin_status gradin_maps_write(const gradin_assessment *assessment,
                                           gradin_map_scale scale, gradin_picture format,
                                           const char *dir, int *n_written, gradin_error *error);
/* One line per map that gradin_maps_write() leaves out, with its figure, as text in the arena; ""
 * when there is none. */
GRADIN_API gradin_status gradin_maps_left_out(gradin_arena *arena,
                                              const gradin_assessment *assessment, char **text,
                                              gradin_error *error);
/* Section through a rake: rows, eyes, rays to the point of focus, C and dimensions, to scale. */
GRADIN_API gradin_status gradin_rake_picture(gradin_arena *arena, const gradin_rake *rake,
                                             gradin_picture format, unsigned char **bytes,
                                             size_t *size, gradin_error *error);

/* R of all build-ups against frequency, with the differences of predicted and measured below where
 * a build-up has both. */
GRADIN_API gradin_status gradin_glazing_picture(gradin_arena *arena,
                                                const gradin_glazing_sheet *sheet,
                                                gradin_picture format, unsigned char **bytes,
                                                size_t *size, gradin_error *error);

/* Moves against time, one row per machine or gang. */
GRADIN_API gradin_status gradin_changeover_picture(gradin_arena *arena,
                                                   const gradin_changeover *changeover,
                                                   gradin_picture format, unsigned char **bytes,
                                                   size_t *size, gradin_error *error);
/* Cue sheets of a changeover as PDF: pages of A4 for each gang, with boxes to tick and the cautions
 * on every page. */
GRADIN_API gradin_status gradin_changeover_pdf(gradin_arena *arena,
                                               const gradin_changeover *changeover,
                                               unsigned char **bytes, size_t *size,
                                               gradin_error *error);

/* The hall as a scene for other programs, seats in the colours of a map: glTF 2.0 in one binary
 * file (GLB), metres, y up, x to the plan's east. A node per seat and part, named, below one per
 * kind. GRADIN_BAD_INPUT for a figure that does not apply. */
GRADIN_API gradin_status gradin_hall_glb(gradin_arena *arena, const gradin_assessment *assessment,
                                         gradin_map figure, gradin_map_scale scale,
                                         unsigned char **bytes, size_t *size, gradin_error *error);

/* Plan of the rough checks: routes, narrow places, aisles that lead nowhere, open edges, exits free
 * and blocked, overloads. The checks have their routes. */
GRADIN_API gradin_status gradin_fit_picture(gradin_arena *arena, const gradin_fit *fit,
                                            gradin_picture format, unsigned char **bytes,
                                            size_t *size, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
