/* base/arena.h: an arena remembers the files that were read into it. */
#ifndef GRADIN_BASE_ARENA_H
#define GRADIN_BASE_ARENA_H

#include "gradin/base.h"

/* False when out of memory. */
bool arena_note_input(gradin_arena *arena, const char *path, const void *bytes, size_t size);

#endif
