/* base/arena.h: an arena remembers the files that were read into it. */
#ifndef GRADIN_BASE_ARENA_H
#define GRADIN_BASE_ARENA_H

#include "gradin/base.h"

/* False when out of memory. */
bool arena_note_input(gradin_arena *arena, const char *path, const void *bytes, size_t size);

/* What the name "-" means, where it is no file's: the descriptor, and what was read from it. */
typedef struct arena_dash {
    bool is_input;
    int fd;
    char *bytes; /* in the arena; NULL before it is read */
    size_t size;
} arena_dash;
arena_dash *arena_dash_of(gradin_arena *arena);

/* All blocks of `given` (NULL: none) become the arena's, and it is destroyed; what files it has
 * read is forgotten. */
void arena_adopt(gradin_arena *arena, gradin_arena *given);

/* Frees every block at once, inputs too, but keeps the memory for those to come. */
void arena_reset(gradin_arena *arena);

#endif
