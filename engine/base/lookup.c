/* Items by name. */
#include "base/lookup.h"

#include <string.h>

int index_of(const void *items, int n, size_t stride, const char *name) {
    for (int i = 0; i < n; i++) {
        const char *other = *(const char *const *)((const char *)items + (size_t)i * stride);
        if (other && strcmp(other, name) == 0) return i;
    }
    return -1;
}
