/* base/file.h: what reading and writing whole files share. */
#ifndef GRADIN_BASE_FILE_H
#define GRADIN_BASE_FILE_H

#include "gradin/base.h"

/* Says of the file why it is not taken. Returns the family. */
gradin_status file_refuse(gradin_error *error, gradin_status family, const char *path,
                          const char *text);

/* Files that are nothing without each other. Each is written beside its place, and then all are put
 * there with signals held back. The old one of the last is removed first: after a kill in between
 * the new ones stand without it, and never beside it. When one cannot be put there, those that were
 * are removed again. */
enum { MOST_TOGETHER = 4 };
typedef struct file_together {
    const char *path;
    gradin_bytes bytes;
} file_together;
gradin_status file_write_together(const file_together *file, int n, gradin_error *error);

#endif
