/* Results of stages by what they were worked out from: a table of open addresses that doubles. */
#include "studies/sweep/sweep.h"

#include <stdlib.h>
#include <string.h>

enum { KEY_CHARS = 33, FIRST_CAPACITY = 64 };

typedef struct remembered {
    char key[KEY_CHARS]; /* "" where nothing stands */
    sweep_stage_result result;
} remembered;

struct gradin_sweep_memory {
    remembered **slot; /* [capacity] */
    int n, capacity;
    gradin_arena *arena;
};

sweep_memory *sweep_memory_create(void) {
    gradin_arena *arena = gradin_arena_create();
    sweep_memory *m = arena ? gradin_arena_alloc(arena, 1, sizeof *m) : NULL;
    remembered **slot = m ? gradin_arena_alloc(arena, FIRST_CAPACITY, sizeof *slot) : NULL;
    if (!slot) {
        gradin_arena_destroy(arena);
        return NULL;
    }
    *m = (sweep_memory){slot, 0, FIRST_CAPACITY, arena};
    return m;
}

void sweep_memory_destroy(sweep_memory *m) {
    if (m) gradin_arena_destroy(m->arena);
}

/* Keys are digests: their first digits are as good as any. */
static size_t place_of(const char *key) {
    char first[9] = "";
    strncpy(first, key, 8);
    return (size_t)strtoul(first, NULL, 16);
}

static remembered **find_slot(remembered **slot, int capacity, const char *key) {
    size_t at = place_of(key) % (size_t)capacity;
    while (slot[at] && strcmp(slot[at]->key, key) != 0) at = (at + 1) % (size_t)capacity;
    return &slot[at];
}

const sweep_stage_result *sweep_memory_find(const sweep_memory *m, const char *key) {
    const remembered *found = *find_slot(m->slot, m->capacity, key);
    return found ? &found->result : NULL;
}

static bool make_room(sweep_memory *m) {
    if (2 * (m->n + 1) <= m->capacity) return true;
    int capacity = 2 * m->capacity;
    remembered **slot = gradin_arena_alloc(m->arena, (size_t)capacity, sizeof *slot);
    for (int i = 0; slot && i < m->capacity; i++)
        if (m->slot[i]) *find_slot(slot, capacity, m->slot[i]->key) = m->slot[i];
    if (!slot) return false;
    m->slot = slot;
    m->capacity = capacity;
    return true;
}

bool sweep_memory_keep(sweep_memory *m, const char *key, const sweep_stage_result *result) {
    remembered *made = make_room(m) ? gradin_arena_alloc(m->arena, 1, sizeof *made) : NULL;
    if (!made) return false;
    strncpy(made->key, key, KEY_CHARS - 1);
    made->result = *result;
    if (result->refused) {
        made->result.refused = gradin_arena_copy_text(m->arena, result->refused);
        if (!made->result.refused) return false;
    }
    *find_slot(m->slot, m->capacity, key) = made;
    m->n++;
    return true;
}
