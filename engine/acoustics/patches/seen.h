/* patches/seen.h: what seats see of the room's patches. */
#ifndef GRADIN_PATCHES_SEEN_H
#define GRADIN_PATCHES_SEEN_H

#include "acoustics/patches/between.h"
#include "acoustics/patches/patch.h"

/* Solid angles over pi of the patches in view from n_seat eyes, seen[n_seat][n_patch]. */
void gradin_seats_look(const gradin_between *tree, const gradin_patches *patches,
                       const gradin_vec3 *eye_m, int n_seat, int n_thread, double *seen);

#endif
