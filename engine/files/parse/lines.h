/* files/parse/lines.h: a text file line by line. */
#ifndef GRADIN_FILES_LINES_H
#define GRADIN_FILES_LINES_H

#include "files/parse/node.h"

/* All of the file that `at` names, into r's digest as well; NULL after a complaint. */
char *lines_open(reader *r, const node *at, const char *path, size_t most_bytes);
/* The line at *next without its end (LF or CR LF); *next is the one after it, NULL at the end, and
 * *line counts on. */
char *lines_take(char **next, int *line);

#endif
