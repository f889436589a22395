/* geometry/mask/mask_pieces.h: the pieces that shadows are made of. */
#ifndef GRADIN_GEOMETRY_MASK_PIECES_H
#define GRADIN_GEOMETRY_MASK_PIECES_H

#include "geometry/mask/mask.h"

/* Slacks of a piece's ends in columns: a fixed part far above the rounding of numbers up to the
 * grid's size, and a part of each larger number that went into them. */
#define MASK_COLUMN_SLACK 2e-5
#define MASK_ROUNDING 3e-7
/* Bodies nearer than this to the plane of the samples are met sample by sample. */
#define MASK_APART_M 1e-6

/* Ellipsoid with centre c from the eye. */
mask_form gradin_mask_conic(const mask_view *view, gradin_vec3 c, const mask_ellipsoid *n,
                            mask_conic *out);

void gradin_mask_wedge_open(mask_wedge *wedge, const struct gradin_mask_grid *grid);
/* Adds the half space normal . w >= 0 that holds `inside` (both from the eye); false when it is no
 * sharper than rounding. */
bool gradin_mask_wedge_add(mask_wedge *wedge, const mask_view *view, gradin_vec3 normal,
                           gradin_vec3 inside);

mask_form gradin_mask_band(const mask_view *view, const gradin_shape *shape, mask_wedge *wedge);
mask_form gradin_mask_upright(const mask_view *view, const gradin_shape *shape, mask_wedge *wedge);
mask_form gradin_mask_triangle(const mask_view *view, const gradin_shape *shape, mask_wedge *wedge);

#endif
