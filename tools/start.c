/* The linear algebra reads its environment before main() begins. Where that leaves it slow, or
 * waiting for ever, the environment is set and the program started anew, once. */
#include "memory.h"

#include <cblas.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <unistd.h>

/* Sets what nobody set. */
static bool set_new(const char *name, const char *value) {
    return !getenv(name) && setenv(name, value, 0) == 0;
}

/* It starts threads and waits for them for ever when there is no memory for them; ours run beside
 * it, so it needs none. */
static bool is_space_limited(void) {
    struct rlimit space;
    return getrlimit(RLIMIT_AS, &space) == 0 && space.rlim_cur != RLIM_INFINITY;
}

/* A processor that is younger than the library is taken for its oldest, at a third of its speed. */
static bool is_processor_misread(void) {
#if defined(__x86_64__)
    return strcmp(openblas_get_corename(), "Prescott") == 0 && __builtin_cpu_supports("avx2") &&
           __builtin_cpu_supports("fma");
#else
    return false;
#endif
}

void start_well(char *const *argument) {
    bool is_set = is_space_limited() && set_new("OPENBLAS_NUM_THREADS", "1");
    is_set = (is_processor_misread() && set_new("OPENBLAS_CORETYPE", "Haswell")) || is_set;
    if (is_set) execv("/proc/self/exe", argument);
}
