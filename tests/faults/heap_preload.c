/* Preloaded into a run (LD_PRELOAD): the n-th request for memory after the start of main() fails,
 * whoever makes it; with GRADIN_HEAP_ALL=1 all after it, too.
 *
 * GRADIN_HEAP_FAIL n (from 1; 0: none), GRADIN_HEAP_CALL malloc (with calloc, realloc, memalign) or
 * mmap (of no file), GRADIN_HEAP_COUNT file that gets how many such calls there were. A program
 * that stands before malloc() itself calls the C library's __libc_malloc(), so both are here.
 *
 * Many requests in one run: GRADIN_HEAP_FORK "ask,answer,words,said,first,last,count". At each of
 * count numbers from first to last the run asks through descriptor ask whether to go on ("n\n") and
 * reads one byte from answer: 'g' forks. In the fork the request fails, and it ends as it will,
 * what it prints going to words and said, while the run waits; then its status follows ("n
 * status\n"), and one more byte is awaited. Any other byte forks nothing. One thread only. */
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdatomic.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

static atomic_long n_call, fail_at;
static atomic_bool is_started, is_mmap, is_all;

/* Numbers at which the run forks, and descriptors. */
static struct {
    int ask, answer, words, said;
    long first, last, count, done; /* count 0: none */
} forks;
static int is_fork;

/* Spread evenly, as by spread() in runs.py. */
static long next_fork(void) {
    long gaps = forks.count > 1 ? forks.count - 1 : 1;
    return forks.first + forks.done * (forks.last - forks.first) / gaps;
}

/* Tells a line, and whether the answer is to go on. */
static int may_go_on(const char *line, int n) {
    char answer = 0;
    if (write(forks.ask, line, (size_t)n) != n || read(forks.answer, &answer, 1) != 1)
        forks.count = 0;
    return answer == 'g';
}

static int become_fork(void) {
    is_fork = 1;
    forks.count = 0;
    unsetenv("GRADIN_HEAP_FORK"); /* for a program that it starts in its own place */
    dup2(forks.words, STDOUT_FILENO);
    dup2(forks.said, STDERR_FILENO);
    return 1;
}

/* Whether this is a fork, in which the request fails. */
static int forks_at(long n) {
    char line[64];
    int status = 0;
    if (forks.done >= forks.count || n != next_fork()) return 0;
    forks.done++;
    if (!may_go_on(line, snprintf(line, sizeof line, "%ld\n", n))) return 0;
    pid_t child = fork();
    if (child == 0) return become_fork();
    if (child < 0 || waitpid(child, &status, 0) != child) status = -1;
    may_go_on(line, snprintf(line, sizeof line, "%ld %d\n", n, status));
    return 0;
}

static int must_fail(int by_mmap) {
    if (!atomic_load(&is_started) || by_mmap != atomic_load(&is_mmap)) return 0;
    long n = atomic_fetch_add(&n_call, 1) + 1, at = atomic_load(&fail_at);
    if (forks_at(n)) at = n;
    int fails = at > 0 && (n == at || (n > at && atomic_load(&is_all)));
    if (fails) errno = ENOMEM;
    return fails;
}

/* The C library's own, whatever stands before it. */
#define NEXT(type, name, ...)                                                                      \
    static type (*next)(__VA_ARGS__);                                                              \
    if (!next) *(void **)(uintptr_t)&next = dlsym(RTLD_NEXT, #name)

#define MALLOC(name)                                                                               \
    void *name(size_t size);                                                                       \
    void *name(size_t size) {                                                                      \
        NEXT(void *, __libc_malloc, size_t);                                                       \
        return must_fail(0) ? NULL : next(size);                                                   \
    }
#define CALLOC(name)                                                                               \
    void *name(size_t count, size_t size);                                                         \
    void *name(size_t count, size_t size) {                                                        \
        NEXT(void *, __libc_calloc, size_t, size_t);                                               \
        return must_fail(0) ? NULL : next(count, size);                                            \
    }
#define REALLOC(name)                                                                              \
    void *name(void *block, size_t size);                                                          \
    void *name(void *block, size_t size) {                                                         \
        NEXT(void *, __libc_realloc, void *, size_t);                                              \
        return must_fail(0) ? NULL : next(block, size);                                            \
    }
#define MEMALIGN(name)                                                                             \
    void *name(size_t alignment, size_t size);                                                     \
    void *name(size_t alignment, size_t size) {                                                    \
        NEXT(void *, __libc_memalign, size_t, size_t);                                             \
        return must_fail(0) ? NULL : next(alignment, size);                                        \
    }
MALLOC(malloc)
MALLOC(__libc_malloc)
CALLOC(calloc)
CALLOC(__libc_calloc)
REALLOC(realloc)
REALLOC(__libc_realloc)
MEMALIGN(memalign)
MEMALIGN(aligned_alloc)
MEMALIGN(__libc_memalign)

int posix_memalign(void **out, size_t alignment, size_t size) {
    void *block = aligned_alloc(alignment, size);
    if (block) *out = block;
    return block ? 0 : ENOMEM;
}

static long ask(long number, const long a[6]) {
    NEXT(long, syscall, long, ...);
    return next(number, a[0], a[1], a[2], a[3], a[4], a[5]);
}

static int is_refused_map(const long a[6]) {
    return (a[3] & MAP_ANONYMOUS) && must_fail(1);
}

/* A program with an mmap() of its own asks the system by this one. */
long syscall(long number, ...) {
    long a[6];
    va_list rest;
    va_start(rest, number);
    for (int i = 0; i < 6; i++) a[i] = va_arg(rest, long);
    va_end(rest);
    return number == SYS_mmap && is_refused_map(a) ? -1 : ask(number, a);
}

void *mmap(void *at, size_t size, int protection, int flags, int file, off_t offset) {
    const long a[6] = {(long)(intptr_t)at, (long)size, protection, flags, file, offset};
    long block = is_refused_map(a) ? -1 : ask(SYS_mmap, a);
    return block == -1 ? MAP_FAILED : (void *)(intptr_t)block;
}

static void start_forks(const char *text) {
    int n = text ? sscanf(text, "%d,%d,%d,%d,%ld,%ld,%ld", &forks.ask, &forks.answer, &forks.words,
                          &forks.said, &forks.first, &forks.last, &forks.count)
                 : 0;
    if (n != 7) forks.count = 0;
}

static int (*real_main)(int, char **, char **);

static int counted_main(int n, char **argument, char **environment) {
    const char *at = getenv("GRADIN_HEAP_FAIL"), *call = getenv("GRADIN_HEAP_CALL");
    atomic_store(&fail_at, at ? strtol(at, NULL, 10) : 0);
    atomic_store(&is_mmap, call && strcmp(call, "mmap") == 0);
    atomic_store(&is_all, getenv("GRADIN_HEAP_ALL") != NULL);
    start_forks(getenv("GRADIN_HEAP_FORK"));
    atomic_store(&is_started, 1);
    int result = real_main(n, argument, environment);
    atomic_store(&is_started, 0);
    return result;
}

int __libc_start_main(int (*main)(int, char **, char **), int n, char **argument,
                      void (*init)(void), void (*fini)(void), void (*rtld_fini)(void),
                      void *stack_end);
int __libc_start_main(int (*main)(int, char **, char **), int n, char **argument,
                      void (*init)(void), void (*fini)(void), void (*rtld_fini)(void),
                      void *stack_end) {
    NEXT(int, __libc_start_main, int (*)(int, char **, char **), int, char **, void (*)(void),
         void (*)(void), void (*)(void), void *);
    real_main = main;
    return next(counted_main, n, argument, init, fini, rtld_fini, stack_end);
}

__attribute__((destructor)) static void tell(void) {
    const char *path = is_fork ? NULL : getenv("GRADIN_HEAP_COUNT");
    char text[32];
    atomic_store(&is_started, 0);
    int n = snprintf(text, sizeof text, "%ld\n", atomic_load(&n_call));
    int file = path ? open(path, O_WRONLY | O_CREAT | O_TRUNC, 0600) : -1;
    if (file < 0) return;
    (void)!write(file, text, (size_t)n);
    close(file);
}
