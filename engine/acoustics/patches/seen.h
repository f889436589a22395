/* patches/seen.h: what seats see of the room's patches. */
#ifndef GRADIN_PATCHES_SEEN_H
#define GRADIN_PATCHES_SEEN_H

#include "acoustics/patches/patch.h"

/* Solid angles over pi of the patches in view from n_seat eyes, seen[n_seat][n_patch]. Scene as
 * made by gradin_room_sight_make(). False when out of memory. */
bool gradin_seats_look(gradin_arena *arena, const gradin_mask_scene *scene,
                       const gradin_patches *patches, const gradin_vec3 *eye_m, int n_seat,
                       int n_thread, double *seen);

#endif
