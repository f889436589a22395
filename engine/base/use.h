/* engine/base/use.h: what a public function asks of its caller. */
#ifndef GRADIN_BASE_USE_H
#define GRADIN_BASE_USE_H

#include "gradin/base.h"

/* GRADIN_BAD_USE when one of given[n] is NULL; the diagnostic names the function and that one of
 * the names, which are parted by commas. */
gradin_status use_needs(gradin_error *error, const char *function, const char *names,
                        const void *const *given, size_t n);

/* One call for all pointers that a function needs: NEEDS(error, arena, model). */
#define NEEDS(error, ...)                                                                          \
    use_needs(error, __func__, #__VA_ARGS__, (const void *const[]){__VA_ARGS__},                   \
              sizeof((const void *const[]){__VA_ARGS__}) / sizeof(const void *))

#endif
