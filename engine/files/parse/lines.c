/* A text file line by line, LF or CR LF. */
#include "files/parse/lines.h"

#include <string.h>

char *lines_open(reader *r, const node *at, const char *path, size_t most_bytes) {
    char *bytes;
    size_t size;
    gradin_error reason = {0};
    gradin_status status = gradin_read_file(r->c.arena, path, most_bytes, &bytes, &size, &reason);
    if (!was_read(r, at, path, status, &reason)) return NULL;
    reader_digest(r, bytes, size);
    return bytes;
}

char *lines_take(char **next, int *line) {
    char *taken = *next, *end = strchr(taken, '\n');
    *next = end ? end + 1 : NULL;
    if (end) *end = '\0';
    taken[strcspn(taken, "\r")] = '\0';
    ++*line;
    return taken;
}
