/* The program's own malloc family stands before the C library's; it counts and passes on to glibc's
 * other entry points. */
#include "faults/heap.h"

#include <errno.h>
#include <stdatomic.h>
#include <stddef.h>

#if defined(__SANITIZE_ADDRESS__) || !defined(__GLIBC__)
#define HEAP_IS_OURS 0
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define HEAP_IS_OURS 0
#endif
#endif
#ifndef HEAP_IS_OURS
#define HEAP_IS_OURS 1
#endif

static atomic_long countdown;

void heap_fail_at(long n) {
    atomic_store(&countdown, n);
}

bool heap_can_fail(void) {
    return HEAP_IS_OURS;
}

#if HEAP_IS_OURS
void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *block, size_t size);

static bool must_fail(void) {
    bool fails = atomic_load(&countdown) > 0 && atomic_fetch_sub(&countdown, 1) == 1;
    if (fails) errno = ENOMEM;
    return fails;
}

void *malloc(size_t size) {
    return must_fail() ? NULL : __libc_malloc(size);
}
void *calloc(size_t count, size_t size) {
    return must_fail() ? NULL : __libc_calloc(count, size);
}
void *realloc(void *block, size_t size) {
    return must_fail() ? NULL : __libc_realloc(block, size);
}
#endif
