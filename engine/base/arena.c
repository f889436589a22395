/* A chunked arena: blocks are never moved and are freed together. Under the address sanitizer the
 * bytes behind each block may not be touched, as if it came from malloc(). */
#include "base/arena.h"
#include "base/digest.h"
#include "base/faults.h"
#include "base/shared/plain.h"
#include "gradin/run.h"

#include <stdarg.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#ifdef __SANITIZE_ADDRESS__
#include <sanitizer/asan_interface.h>
enum { CHUNK_BYTES = 1 << 12, WIDE_BYTES = CHUNK_BYTES }; /* larger: mapped afresh each time */
#else
enum { CHUNK_BYTES = 1 << 18, WIDE_BYTES = 1 << 22 };
#define ASAN_POISON_MEMORY_REGION(from, size) ((void)(from), (void)(size))
#define ASAN_UNPOISON_MEMORY_REGION(from, size) ((void)(from), (void)(size))
#endif

enum { ALIGNMENT = 64 };
/* Chunks from 4 MiB on lie on huge pages where the system has them: large trees are walked at
 * random, and the first touch of small pages takes a fifth of the time of a view. So an arena that
 * holds more than a little takes chunks of that size. */
enum { HUGE_PAGE = 1 << 21, LARGE_BYTES = 1 << 22, WIDE_FROM = 1 << 20 };

typedef struct chunk {
    struct chunk *next;
    size_t used, size;
    unsigned char *bytes;
} chunk;

struct gradin_arena {
    chunk *newest, *spare; /* spare: kept by a reset, empty */
    gradin_input *input;   /* [n_input] */
    int n_input, input_capacity;
    size_t held; /* bytes of the chunks that it took itself */
    arena_dash dash;
};

static atomic_long fail_countdown;

void gradin_alloc_fail_at(long n) {
    atomic_store(&fail_countdown, n);
}

static bool must_fail(void) {
    long left = atomic_load(&fail_countdown);
    return left > 0 && atomic_fetch_sub(&fail_countdown, 1) == 1;
}

gradin_arena *gradin_arena_create(void) {
    return must_fail() ? NULL : calloc(1, sizeof(gradin_arena));
}

static void free_chunks(chunk *first) {
    for (chunk *c = first, *next; c; c = next) {
        next = c->next;
        ASAN_UNPOISON_MEMORY_REGION(c->bytes, c->size);
        free(c->bytes);
        free(c);
    }
}

void gradin_arena_destroy(gradin_arena *arena) {
    if (!arena) return;
    free_chunks(arena->newest);
    free_chunks(arena->spare);
    free(arena);
}

void arena_reset(gradin_arena *arena) {
    for (chunk *c = arena->newest, *next; c; c = next) {
        next = c->next;
        ASAN_UNPOISON_MEMORY_REGION(c->bytes, c->size);
        c->used = 0;
        c->next = arena->spare;
        arena->spare = c;
    }
    arena->newest = NULL;
    arena->input = NULL;
    arena->n_input = arena->input_capacity = 0;
}

void arena_adopt(gradin_arena *arena, gradin_arena *given) {
    if (!given) return;
    chunk **end = arena->newest ? &arena->newest->next : &arena->newest;
    chunk *older = *end, *last = given->newest;
    for (; last && last->next; last = last->next) continue;
    if (last) {
        *end = given->newest;
        last->next = older;
    }
    given->newest = NULL;
    gradin_arena_destroy(given);
}

/* The smallest spare chunk that holds so many bytes, taken off the list. */
static chunk *take_spare(gradin_arena *arena, size_t size) {
    chunk **best = NULL;
    for (chunk **at = &arena->spare; *at; at = &(*at)->next)
        if ((*at)->size >= size && (!best || (*at)->size < (*best)->size)) best = at;
    if (!best) return NULL;
    chunk *taken = *best;
    *best = taken->next;
    return taken;
}

static unsigned char *take_bytes(size_t size) {
    if (size < LARGE_BYTES) return aligned_alloc(ALIGNMENT, size);
    void *bytes = aligned_alloc(HUGE_PAGE, (size + HUGE_PAGE - 1) / HUGE_PAGE * HUGE_PAGE);
#ifdef MADV_HUGEPAGE
    if (bytes) madvise(bytes, size, MADV_HUGEPAGE); /* a wish: its refusal changes nothing */
#endif
    return bytes;
}

static size_t chunk_size(const gradin_arena *arena, size_t least) {
    size_t usual = arena->held >= WIDE_FROM ? WIDE_BYTES : CHUNK_BYTES;
    return least > usual ? least : usual;
}

static chunk *new_chunk(size_t size) {
    chunk *c = calloc(1, sizeof *c);
    if (!c) return NULL;
    c->size = size;
    c->bytes = take_bytes(c->size);
    if (c->bytes) return c;
    free(c);
    return NULL;
}

static chunk *add_chunk(gradin_arena *arena, size_t size) {
    chunk *c = take_spare(arena, size);
    if (!c) {
        c = new_chunk(chunk_size(arena, size));
        if (!c) return NULL;
        arena->held += c->size;
    }
    c->next = arena->newest;
    arena->newest = c;
    return c;
}

void *gradin_arena_alloc(gradin_arena *arena, size_t count, size_t size) {
    size_t wanted;
    if (!arena) return NULL;
    if (__builtin_mul_overflow(count, size, &wanted) || wanted > SIZE_MAX / 2) return NULL;
    size_t bytes = (wanted + ALIGNMENT) / ALIGNMENT * ALIGNMENT; /* never empty */
    if (must_fail()) return NULL;
    chunk *c = arena->newest;
    if (!c || c->size - c->used < bytes) c = add_chunk(arena, bytes);
    if (!c) return NULL;
    unsigned char *block = c->bytes + c->used;
    c->used += bytes;
    memset(block, 0, bytes);
    ASAN_POISON_MEMORY_REGION(block + wanted, bytes - wanted);
    return block;
}

char *gradin_arena_copy_text(gradin_arena *arena, const char *text) {
    if (!text) return NULL;
    size_t size = strlen(text) + 1;
    char *copy = gradin_arena_alloc(arena, size, 1);
    return copy ? memcpy(copy, text, size) : NULL;
}

char *gradin_arena_print(gradin_arena *arena, const char *format, ...) {
    va_list arguments;
    va_start(arguments, format);
    int length = plain_print_list(NULL, 0, format, arguments);
    va_end(arguments);
    char *text = length < 0 ? NULL : gradin_arena_alloc(arena, (size_t)length + 1, 1);
    if (!text) return NULL;
    va_start(arguments, format);
    plain_print_list(text, (size_t)length + 1, format, arguments);
    va_end(arguments);
    return text;
}

gradin_status gradin_arena_grow(gradin_arena *arena, void **items, int count, int *capacity,
                                size_t item_size) {
    if (arena == NULL || items == NULL || capacity == NULL) return GRADIN_BAD_USE;
    if (count < *capacity) return GRADIN_OK;
    int wanted = *capacity > 0 ? *capacity * 2 : 16;
    void *block = gradin_arena_alloc(arena, (size_t)wanted, item_size);
    if (!block) return GRADIN_NO_MEMORY;
    if (count > 0) memcpy(block, *items, (size_t)count * item_size);
    *items = block;
    *capacity = wanted;
    return GRADIN_OK;
}

static gradin_input *find_input(gradin_arena *arena, const char *path) {
    for (int i = 0; i < arena->n_input; i++)
        if (strcmp(arena->input[i].path, path) == 0) return &arena->input[i];
    return NULL;
}

static gradin_input *add_input(gradin_arena *arena, const char *path) {
    char *copy = gradin_arena_copy_text(arena, path);
    if (!copy || gradin_arena_grow(arena, (void **)&arena->input, arena->n_input,
                                   &arena->input_capacity, sizeof *arena->input) != GRADIN_OK)
        return NULL;
    gradin_input *input = &arena->input[arena->n_input++];
    input->path = copy;
    return input;
}

bool arena_note_input(gradin_arena *arena, const char *path, const void *bytes, size_t size) {
    gradin_input *input = find_input(arena, path);
    if (!input) input = add_input(arena, path);
    if (!input) return false;
    gradin_digest_whole(input->digest, bytes, size);
    return true;
}

int gradin_inputs(const gradin_arena *arena, const gradin_input **input) {
    if (!arena || !input) return 0;
    *input = arena->input;
    return arena->n_input;
}

arena_dash *arena_dash_of(gradin_arena *arena) {
    return &arena->dash;
}

void gradin_arena_read_dash(gradin_arena *arena, int fd) {
    if (arena) arena->dash = (arena_dash){.is_input = fd >= 0, .fd = fd};
}
