/* A room's transfer kept in memory from one layout to the next.
 *
 * By radiosity it costs seconds and depends on shape, seats and what absorbs, not on what the glass
 * lets through (cache.c folds all of it into a key). While the key stays, it is taken as it is. The
 * diffuse field is quick: it is made anew each time. */
#include "acoustics/room/room.h"
#include "acoustics/transfer/cache.h"
#include "acoustics/transfer/transfer.h"
#include "base/digest.h"

#include <string.h>

void gradin_transfer_forget(gradin_kept_room *kept) {
    gradin_arena_destroy(kept->arena);
    kept->arena = NULL;
    kept->transfer = NULL;
    kept->key[0] = '\0';
}

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

static gradin_status find_key(const gradin_model *model, gradin_transfer_form form, char key[33],
                              gradin_error *error) {
    gradin_scene scene;
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return out_of_memory(error);
    gradin_status status = gradin_room_scene_make(scratch, model, &scene, error);
    if (status == GRADIN_OK) gradin_cache_key(model, &scene, key);
    if (status == GRADIN_OK) gradin_digest_fold(key, &form, sizeof form);
    gradin_arena_destroy(scratch);
    return status;
}

static gradin_status make_anew(gradin_kept_room *kept, const gradin_model *model,
                               gradin_transfer_form form, const char *cache_folder, const char *key,
                               gradin_error *error) {
    gradin_transfer_forget(kept);
    kept->arena = gradin_arena_create();
    gradin_transfer *made = gradin_arena_alloc(kept->arena, 1, sizeof *made);
    gradin_status status = made
                               ? gradin_transfer_make_states(kept->arena, model, form, cache_folder,
                                                             kept->is_as_set_only, made, error)
                               : out_of_memory(error);
    kept->n_made++;
    if (status != GRADIN_OK) {
        gradin_transfer_forget(kept);
        return status;
    }
    kept->transfer = made;
    memcpy(kept->key, key, sizeof kept->key);
    return GRADIN_OK;
}

gradin_status gradin_transfer_take(gradin_kept_room *kept, gradin_arena *arena,
                                   const gradin_model *model, const char *cache_folder,
                                   gradin_transfer *transfer, gradin_error *error) {
    char key[33];
    gradin_transfer_form form = gradin_transfer_form_of(model);
    if (form == GRADIN_TRANSFER_BY_SIDE)
        return gradin_transfer_make(arena, model, form, cache_folder, transfer, error);
    gradin_status status = find_key(model, form, key, error);
    if (status == GRADIN_OK && (!kept->transfer || strcmp(kept->key, key) != 0))
        status = make_anew(kept, model, form, cache_folder, key, error);
    if (status != GRADIN_OK) return status;
    *transfer = *kept->transfer;
    transfer->eye_m = model->seats.eye_m;
    return GRADIN_OK;
}
