/* gradin/run.h: what a program that runs the library once may want to know of it: the files that
 * were read, how to show a name on one line, and how to leave no half-written files.
 *
 * Ownership and threads: The list of inputs is the arena's. gradin_write_abandon() concerns all
 * threads of the process. */
#ifndef GRADIN_RUN_H
#define GRADIN_RUN_H

#include "gradin/base.h"

#ifdef __cplusplus
extern "C" {
#endif

typedef struct gradin_input {
    const char *path;
    char digest[33]; /* hex XXH3-128 of its bytes */
} gradin_input;

/* The files that were read into an arena, in the order of first reading, each once.
 * *input [n_input] is good until the next file is read. Returns n_input; 0 for NULL. */
GRADIN_API int gradin_inputs(const gradin_arena *arena, const gradin_input **input);

/* From here on the name "-" read into the arena means what descriptor fd still holds, read once to
 * its end, by whichever reader comes first; a file of that name is "./-". Names that such an input
 * states are seen from the working folder. At first, and with fd < 0, "-" is a file's name. */
GRADIN_API void gradin_arena_read_dash(gradin_arena *arena, int fd);

/* The digest of a file's bytes, hex XXH3-128 as `xxhsum -H128` prints it. GRADIN_BAD_INPUT when
 * there is no such file or it may not be read, GRADIN_IO_FAILED when reading fails. */
GRADIN_API gradin_status gradin_file_digest(const char *path, char hex[33], gradin_error *error);

/* Each character of `text` that would steer a terminal, break a line or turn it around becomes '?',
 * as in the diagnostics. */
GRADIN_API void gradin_plain_line(char *text);

/* Removes the temporary files of whatever is being written. Safe in a signal's handler, after which
 * the process must end. */
GRADIN_API void gradin_write_abandon(void);

/* From here on tell(user, path) is called when a file has been written at `path`, by the thread
 * that wrote it; tell NULL: no more. Concerns all threads; set it while nothing is written. */
typedef void (*gradin_write_tell)(void *user, const char *path);
GRADIN_API void gradin_write_watch(gradin_write_tell tell, void *user);

#ifdef __cplusplus
}
#endif

#endif
