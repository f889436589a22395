/* room/limits.h: where the diffuse room is wrong. */
#ifndef GRADIN_ROOM_LIMITS_H
#define GRADIN_ROOM_LIMITS_H

#include "gradin/acoustics.h"

/* Why a diffuse field is no picture of this room, or "", and by how much seats are off then: the
 * standard uncertainty that comes on top, 0 as a rule. */
gradin_status gradin_diffuse_note(const gradin_model *model, char note[GRADIN_TEXT_CHARS],
                                  double *beyond_db, gradin_error *error);

#endif
