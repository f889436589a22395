/* room/limits.h: where the diffuse room is wrong. */
#ifndef GRADIN_ROOM_LIMITS_H
#define GRADIN_ROOM_LIMITS_H

#include "gradin/acoustics.h"

/* Why a diffuse field is no picture of this room, or "", and by how much seats are off then: the
 * standard uncertainty that comes on top, 0 as a rule. */
gradin_status gradin_diffuse_note(const gradin_model *model, char note[GRADIN_TEXT_CHARS],
                                  double *beyond_db, gradin_error *error);

/* wings.c: by how much one field is off in the part of the plan that is parted most, and the corner
 * that it lies behind; scratch_m[footprint.n_corner + 2]. */
double gradin_wing_off_db(const gradin_model *model, gradin_vec2 *corner_m, gradin_vec2 *scratch_m);
/* GRADIN_BAD_INPUT when one field must not be taken for this room and nobody insists. */
gradin_status gradin_diffuse_refuse(const gradin_model *model, gradin_error *error);

#endif
