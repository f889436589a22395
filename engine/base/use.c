/* What a public function asks of its caller: pointers that must be there. */

#include "base/use.h"

#include <string.h>

gradin_status use_needs(gradin_error *error, const char *function, const char *names,
                        const void *const *given, size_t n) {
    for (size_t i = 0; i < n; i++) {
        size_t length = strcspn(names, ",");
        if (!given[i])
            return gradin_error_add(error, GRADIN_BAD_USE, NULL, "%s: %.*s is NULL", function,
                                    (int)length, names);
        names += length;
        names += strspn(names, ", ");
    }
    return GRADIN_OK;
}
