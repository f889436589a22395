/* base/lookup.h: items by name. */
#ifndef GRADIN_BASE_LOOKUP_H
#define GRADIN_BASE_LOOKUP_H

#include <stddef.h>

/* Index of the item of that name, or -1. Items are structs of `stride` bytes whose first member is
 * `const char *name`; an item without a name is none. */
int index_of(const void *items, int n, size_t stride, const char *name);

#endif
