/* The list of shapes of a room, which grows. */
#include "sightline/view/view.h"

bool view_add(view_room *room, gradin_shape shape, int owner, gradin_view_thing thing, int what) {
    if (gradin_arena_grow(room->arena, (void **)&room->occluder, room->n, &room->capacity,
                          sizeof *room->occluder) != GRADIN_OK ||
        gradin_arena_grow(room->arena, (void **)&room->label, room->n, &room->label_capacity,
                          sizeof *room->label) != GRADIN_OK)
        return false;
    room->occluder[room->n] = (gradin_occluder){.shape = shape, .owner = owner};
    room->label[room->n++] = (view_label){(uint8_t)thing, what};
    return true;
}
