/* Begin and end of a text. */
#include "files/write/write.h"

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
