/* base/arena.h: an arena remembers the files that were read into it. */
#ifndef GRADIN_BASE_ARENA_H
#define GRADIN_BASE_ARENA_H

#include "gradin/base.h"

/* False when out of memory. */
bool arena_note_input(gradin_arena *arena, const char *path, const void *bytes, size_t size);

/* Frees every block at once, inputs too, but keeps the memory for those to come. */
void arena_reset(gradin_arena *arena);

#endif
