/* gradin/acoustics/source.h: what a source of noise sends where, and which time weighting its
 * maximum is stated in.
 *
 * Ownership and threads: Lobes belong to the caller or to the arena of whoever read them; any
 * number of threads may read them. */
#ifndef GRADIN_SOURCE_H
#define GRADIN_SOURCE_H

#include "gradin/base.h"

#ifdef __cplusplus
extern "C" {
#endif

/* How a source's level depends on the angle between its direction of travel (or its bearing) and
 * the way to the listener: dB on top of the stated level, the same all round that direction. */
typedef struct gradin_lobe {
    int first_band, n_band;
    int n_angle;
    const double *angle_deg; /* [n_angle] 0 (ahead) rising to 180 (behind) */
    const double *gain_db;   /* [n_angle] linear in between */
} gradin_lobe;

typedef struct gradin_directivity {
    const gradin_lobe *lobe; /* [n_lobe] each band in one of them; none: alike all round */
    int n_lobe;
    bool is_mean_level; /* the stated level is the energy mean of all directions */
} gradin_directivity;

/* The quantity whose maximum is meant (IEC 61672-1): the level without time weighting, LAmax; with
 * the exponential time weighting F (125 ms), LAFmax; or with S (1 s), LASmax. */
typedef enum gradin_time_weighting {
    GRADIN_WEIGHTING_NONE,
    GRADIN_WEIGHTING_FAST,
    GRADIN_WEIGHTING_SLOW,
    GRADIN_N_WEIGHTING
} gradin_time_weighting;

/* "LAmax", "LAFmax", "LASmax". */
GRADIN_API const char *gradin_maximum_name(gradin_time_weighting weighting);

#ifdef __cplusplus
}
#endif

#endif
