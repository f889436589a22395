/* The arena: alignment, zeroed blocks, overflow, growth, and the hook that makes it fail. */
#include "base/arena.h"
#include "base/faults.h"
#include "gradin/base.h"

#include <criterion/criterion.h>
#include <stdint.h>
#include <string.h>
#ifdef __SANITIZE_ADDRESS__
#include <sanitizer/asan_interface.h>
#endif

static gradin_arena *arena;

static void open_arena(void) {
    arena = gradin_arena_create();
    cr_assert(arena);
}

static void close_arena(void) {
    gradin_alloc_fail_at(0);
    gradin_arena_destroy(arena);
}

TestSuite(arena, .init = open_arena, .fini = close_arena);

static bool is_zero(const unsigned char *bytes, size_t size) {
    for (size_t i = 0; i < size; i++)
        if (bytes[i]) return false;
    return true;
}

Test(arena, blocks_are_aligned_zeroed_and_apart) {
    static unsigned char *block[200];
    for (size_t i = 0; i < 200; i++) {
        size_t size = i * i * 37 % 9000 + 1;
        block[i] = gradin_arena_alloc(arena, size, 1);
        cr_assert(block[i]);
        cr_expect_eq((uintptr_t)block[i] % 64, 0, "block %zu", i);
        cr_expect(is_zero(block[i], size), "block %zu", i);
        memset(block[i], (int)i + 1, size);
    }
    for (size_t i = 0; i < 200; i++) cr_expect_eq(block[i][0], (unsigned char)(i + 1));
}

#ifdef __SANITIZE_ADDRESS__
/* A read past an array of the arena is found by the sanitizer, as one past malloc()'s would be. */
Test(arena, bytes_behind_a_block_are_out_of_bounds) {
    for (size_t size = 0; size < 200; size += 8) {
        unsigned char *block = gradin_arena_alloc(arena, size, 1);
        cr_expect(__asan_address_is_poisoned(block + size), "%zu", size);
        cr_expect_null(__asan_region_is_poisoned(block, size), "%zu", size);
    }
}
#endif

Test(arena, a_block_larger_than_a_chunk) {
    size_t size = (size_t)5 << 20;
    unsigned char *large = gradin_arena_alloc(arena, size, 1);
    cr_assert(large);
    cr_expect(is_zero(large, size));
    large[size - 1] = 1;
    cr_expect(gradin_arena_alloc(arena, 1, 1));
}

Test(arena, nothing_is_a_valid_pointer) {
    cr_expect(gradin_arena_alloc(arena, 0, 8));
    cr_expect(gradin_arena_alloc(arena, 8, 0));
    gradin_arena_destroy(NULL);
}

Test(arena, overflow_is_refused) {
    cr_expect_null(gradin_arena_alloc(arena, SIZE_MAX, 2));
    cr_expect_null(gradin_arena_alloc(arena, SIZE_MAX / 8 + 1, 8));
    cr_expect_null(gradin_arena_alloc(arena, SIZE_MAX, 1));
    cr_expect_null(gradin_arena_alloc(arena, SIZE_MAX / 2 + 1, 1));
    cr_expect(gradin_arena_alloc(arena, 8, 8));
}

Test(arena, the_hook_fails_one_allocation) {
    gradin_alloc_fail_at(3);
    cr_expect(gradin_arena_alloc(arena, 1, 1));
    cr_expect(gradin_arena_alloc(arena, 1, 1));
    cr_expect_null(gradin_arena_alloc(arena, 1, 1));
    cr_expect(gradin_arena_alloc(arena, 1, 1));
    gradin_alloc_fail_at(1);
    cr_expect_null(gradin_arena_create());
    gradin_alloc_fail_at(1);
    gradin_alloc_fail_at(0);
    cr_expect(gradin_arena_alloc(arena, 1, 1));
}

Test(arena, texts) {
    char *copy = gradin_arena_copy_text(arena, "row");
    cr_expect_str_eq(copy, "row");
    cr_expect_null(gradin_arena_copy_text(arena, NULL));
    char *empty = gradin_arena_copy_text(arena, "");
    cr_expect_str_eq(empty, "");
    char *printed = gradin_arena_print(arena, "%s-%d", copy, 12);
    cr_expect_str_eq(printed, "row-12");
    char *wide = gradin_arena_print(arena, "%*d", 100000, 7);
    cr_assert(wide);
    cr_expect_eq(strlen(wide), 100000);
    gradin_alloc_fail_at(1);
    cr_expect_null(gradin_arena_print(arena, "x"));
    gradin_alloc_fail_at(1);
    cr_expect_null(gradin_arena_copy_text(arena, "x"));
}

Test(arena, growth_keeps_what_is_there) {
    int *item = NULL, capacity = 0;
    for (int i = 0; i < 1000; i++) {
        void *items = item;
        cr_assert_eq(gradin_arena_grow(arena, &items, i, &capacity, sizeof *item), GRADIN_OK);
        item = items;
        item[i] = i;
    }
    for (int i = 0; i < 1000; i++) cr_expect_eq(item[i], i);
}

Test(arena, failed_growth_changes_nothing) {
    int capacity = 0;
    void *items = NULL;
    cr_assert_eq(gradin_arena_grow(arena, &items, 0, &capacity, 4), GRADIN_OK);
    void *before = items;
    int before_capacity = capacity;
    gradin_alloc_fail_at(1);
    cr_expect_eq(gradin_arena_grow(arena, &items, capacity, &capacity, 4), GRADIN_NO_MEMORY);
    cr_expect_eq(items, before);
    cr_expect_eq(capacity, before_capacity);
}

Test(arena, a_reset_gives_the_memory_to_new_blocks) {
    unsigned char *first = gradin_arena_alloc(arena, 5 << 20, 1);
    unsigned char *small = gradin_arena_alloc(arena, 100, 1);
    cr_assert(first && small);
    memset(first, 7, 5 << 20);
    memset(small, 7, 100);
    arena_reset(arena);
    unsigned char *again = gradin_arena_alloc(arena, 4 << 20, 1);
    cr_assert_eq(again, first, "the same memory");
    for (int i = 0; i < 4 << 20; i += 4097) cr_assert_eq(again[i], 0, "zeroed at %d", i);
    for (int i = 0; i < 1000; i++) {
        unsigned char *block = gradin_arena_alloc(arena, 1000, 1);
        cr_assert(block && (block + 1000 <= again || block >= again + (4 << 20)));
        memset(block, 9, 1000);
    }
    cr_assert_eq(again[0], 0);
}
