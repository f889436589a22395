/* gradin/journal.h: a file that grows line by line and keeps every line that was told to be there,
 * also after the power fails.
 *
 * Ownership and threads: Lines that are read live in the arena that is given; a journal is written
 * from one thread of one process at a time. */
#ifndef GRADIN_JOURNAL_H
#define GRADIN_JOURNAL_H

#include "gradin/base.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { GRADIN_MAX_JOURNAL_BYTES = 1 << 30, GRADIN_MAX_JOURNAL_LINE = 4000 };

typedef struct gradin_journal_lines {
    const char *const *line; /* [n_line] whole ones, in order */
    int n_line;
    int n_damaged; /* lines that are not what was written: left out */
} gradin_journal_lines;

/* A file that is not there has no lines. */
GRADIN_API gradin_status gradin_journal_read(gradin_arena *arena, const char *path,
                                             gradin_journal_lines *lines, gradin_error *error);

typedef struct gradin_journal {
    int fd; /* -1: closed */
    const char *path;
} gradin_journal;

/* The file anew with these lines, whole or as it was, then open for more. End it with
 * gradin_journal_end(). */
GRADIN_API gradin_status gradin_journal_begin(gradin_arena *arena, const char *path,
                                              const gradin_journal_lines *lines,
                                              gradin_journal *journal, gradin_error *error);
/* One line without its end; on the disk when this returns. GRADIN_BAD_USE for a text with a line
 * end, or longer than GRADIN_MAX_JOURNAL_LINE. */
GRADIN_API gradin_status gradin_journal_add(gradin_journal *journal, const char *line,
                                            gradin_error *error);
GRADIN_API void gradin_journal_end(gradin_journal *journal);

#ifdef __cplusplus
}
#endif

#endif
