/* Names of a venue's and a layout's items: look-up and suggestions. */
#include "files/venue/read.h"

int look_up(reader *r, const node *at, const char *what, const void *items, int n, size_t stride) {
    int found = index_of(items, n, stride, at->text);
    if (found >= 0) return found;
    const char *names[64];
    int n_name = n < 64 ? n : 64;
    for (int i = 0; i < n_name; i++)
        names[i] = *(const char *const *)((const char *)items + (size_t)i * stride);
    for (int i = 0; i < n_name; i++)
        if (!names[i]) n_name = i;
    complain_unknown(r, at, what, at->text, names, n_name);
    return -1;
}
