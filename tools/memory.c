/* Memory that cannot be had ends the run with status 3, whoever asked for it. The libraries that
 * draw, look for fonts, read models and solve systems do worse when a request fails: they crash,
 * wait for ever, or go on and draw something else. So the command stands before the C library's
 * allocator and turns a failure into an orderly end. What our own code asks for comes by
 * aligned_alloc(), which stays as it is: it is checked, and says more. */
#include "memory.h"

#include "command.h"
#include "gradin/run.h"
#include "progress.h"

#include <errno.h>
#include <stdatomic.h>
#include <stdint.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <sys/syscall.h>
#include <unistd.h>

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__) || !defined(__GLIBC__)
#define HEAP_IS_GUARDED 0 /* the sanitizers have an allocator of their own */
#elif defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(thread_sanitizer)
#define HEAP_IS_GUARDED 0
#endif
#endif
#ifndef HEAP_IS_GUARDED
#define HEAP_IS_GUARDED 1
#endif

static atomic_bool is_armed, are_threads_armed;
static _Thread_local bool is_first_thread;

/* A library ends the process: that of the threads does, with 1, when it can start none. */
static void end_early(void) {
    if (!atomic_exchange(&is_armed, false)) return;
    gradin_write_abandon();
    _exit(EXIT_MACHINE);
}

void guard_memory(void) {
    is_first_thread = true;
    atomic_store(&is_armed, true);
    atexit(end_early);
}

void guard_threads(void) {
    atomic_store(&are_threads_armed, true);
}

int leave_memory(int result) {
    atomic_store(&is_armed, false);
    return result;
}

#if HEAP_IS_GUARDED
#pragma GCC visibility push(default) /* the libraries find these before the C library's */
void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *block, size_t size);
void *__libc_memalign(size_t alignment, size_t size);

static void run_out(void) {
    static const char text[] = "gradin: out of memory\n";
    if (!is_first_thread && !atomic_load(&are_threads_armed)) return;
    if (!atomic_exchange(&is_armed, false)) return;
    progress_abandon();
    (void)!write(STDERR_FILENO, text, sizeof text - 1);
    gradin_write_abandon();
    _exit(EXIT_MACHINE);
}

static void *held(void *block, size_t size) {
    if (!block && size > 0) run_out();
    return block;
}

void *malloc(size_t size) {
    return held(__libc_malloc(size), size);
}
void *calloc(size_t count, size_t size) {
    return held(__libc_calloc(count, size), count > 0 ? size : 0);
}
void *realloc(void *block, size_t size) {
    return held(__libc_realloc(block, size), size);
}
int posix_memalign(void **out, size_t alignment, size_t size) {
    void *block = held(__libc_memalign(alignment, size), size);
    if (block) *out = block;
    return block || size == 0 ? 0 : ENOMEM;
}

/* The linear algebra asks the system itself, again and again. */
void *mmap(void *at, size_t size, int protection, int flags, int file, off_t offset) {
    long block = syscall(SYS_mmap, at, size, protection, flags, file, offset);
    if (block == -1 && errno == ENOMEM && (flags & MAP_ANONYMOUS) && !(flags & MAP_HUGETLB))
        run_out();
    return block == -1 ? MAP_FAILED : (void *)(uintptr_t)block;
}
#pragma GCC visibility pop
#endif
