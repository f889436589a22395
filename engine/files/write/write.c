/* Begin and end of a text, and the files that it names. */
#include "files/write/write.h"

#include <errno.h>
#include <string.h>

schema_text writer_open(gradin_arena *arena, const char *units,
                        const gradin_write_options *options) {
    bool is_feet = units && strcmp(units, "ft") == 0;
    return (schema_text){.arena = arena,
                         .unit_m = is_feet ? GRADIN_FOOT_M : 1.0,
                         .unit_name = is_feet ? "ft" : "m",
                         .decimals = options && options->is_rounded ? options->decimals : -1};
}

gradin_status writer_close(complaints *c, const schema_text *out, char **text) {
    if (out->has_failed) note_failure(c, NULL);
    if (out->missing && c->failed == GRADIN_OK)
        misuse(c, "%s cannot be written: it is missing, or no finite number", out->missing);
    if (complaints_status(c) == GRADIN_OK) *text = out->bytes;
    return complaints_status(c);
}

gradin_status written_path(gradin_arena *arena, const char *name, const char *path,
                           const char *from, const char **seen, gradin_error *error) {
    *seen = gradin_path_from(arena, from, path);
    if (*seen) return GRADIN_OK;
    if (errno == ENOMEM) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                            "%s cannot be named from the folder of %s: is it there?", name, from);
}
