/* room/limits.h: where the diffuse room is wrong. */
#ifndef GRADIN_ROOM_LIMITS_H
#define GRADIN_ROOM_LIMITS_H

#include "gradin/acoustics.h"

/* Why a diffuse field is no picture of this room, or "". */
gradin_status gradin_diffuse_note(const gradin_model *model, char note[GRADIN_TEXT_CHARS],
                                  gradin_error *error);

#endif
