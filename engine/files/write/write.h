/* files/write/write.h: begin and end of a text. */
#ifndef GRADIN_FILES_WRITE_WRITE_H
#define GRADIN_FILES_WRITE_WRITE_H

#include "base/complaints.h"
#include "files/schema/write.h"
#include "gradin/files.h"

/* Options may be NULL. */
schema_text writer_open(gradin_arena *arena, const char *units,
                        const gradin_write_options *options);
/* Hands the text over, or says why there is none. */
gradin_status writer_close(complaints *c, const schema_text *out, char **text);
/* *seen gets the file `path` as named from the file that is written at `from`; complaints call it
 * `name`. */
gradin_status written_path(gradin_arena *arena, const char *name, const char *path,
                           const char *from, const char **seen, gradin_error *error);

#endif
