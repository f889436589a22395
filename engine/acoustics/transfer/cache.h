/* transfer/cache.h: the room's transfer by radiosity kept in a file. */
#ifndef GRADIN_TRANSFER_CACHE_H
#define GRADIN_TRANSFER_CACHE_H

#include "acoustics/room/room.h"
#include "acoustics/transfer/transfer.h"

/* Digest of all that the transfer depends on. The scene is that of gradin_room_scene_make(). */
void gradin_cache_key(const gradin_model *model, const gradin_scene *scene, char hex[33]);

/* Where a folder keeps that key; NULL when out of memory. */
char *gradin_cache_path(gradin_arena *arena, const char *folder, const char *key);

/* Fills the arrays of the transfer's form, of n_state states, the last ones, and n_patch; form,
 * n_seat and n_element are set. Not there or damaged: *is_found false and GRADIN_OK. The arrays
 * stay in the arena. */
gradin_status gradin_cache_read(gradin_arena *arena, const char *path, const char *key, int n_state,
                                gradin_transfer *transfer, bool *is_found);

/* Makes the folder when it is missing. A reader sees the old file, none or the whole. */
gradin_status gradin_cache_write(const char *folder, const char *path, const char *key, int n_state,
                                 const gradin_transfer *transfer, gradin_error *error);

#endif
