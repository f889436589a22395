/* room/seen.h: what seats see of the room's patches. */
#ifndef GRADIN_ROOM_SEEN_H
#define GRADIN_ROOM_SEEN_H

#include "acoustics/room/patch.h"

/* Rays of n_thread threads. */
typedef struct gradin_seat_rays gradin_seat_rays;
gradin_seat_rays *gradin_seat_rays_alloc(gradin_arena *arena, const gradin_scene *scene,
                                         int n_patch, int n_thread);

/* Solid angles over pi of the patches in view from n_seat eyes, seen[n_seat][n_patch]. */
void gradin_seats_look(gradin_seat_rays *rays, const gradin_patches *patches,
                       const gradin_vec3 *eye_m, int n_seat, double *seen);

#endif
