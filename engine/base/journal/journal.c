/* A journal: lines, each behind a digest of itself, each synced before the next. A line that was
 * cut off, or that the disk gave back otherwise, does not have its digest and is left out; the
 * lines after it are read all the same. */
#include "gradin/journal.h"

#include "base/digest.h"
#include "base/file.h"
#include "base/use.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { DIGEST_CHARS = 32 };

/* The text behind the digest; NULL when the digest is not that of the text. */
static const char *good_text(const char *line) {
    char hex[DIGEST_CHARS + 1];
    if (strlen(line) <= DIGEST_CHARS + 1 || line[DIGEST_CHARS] != ' ') return NULL;
    const char *text = line + DIGEST_CHARS + 1;
    gradin_digest_whole(hex, text, strlen(text));
    return memcmp(hex, line, DIGEST_CHARS) == 0 ? text : NULL;
}

static gradin_status take_lines(gradin_arena *arena, char *bytes, size_t size,
                                gradin_journal_lines *lines) {
    int capacity = 0;
    const char **line = NULL;
    for (char *at = bytes, *end; at < bytes + size; at = end + 1) {
        end = memchr(at, '\n', (size_t)(bytes + size - at));
        if (!end) { /* cut off: its end was never written */
            lines->n_damaged++;
            break;
        }
        *end = '\0';
        const char *text = strlen(at) == (size_t)(end - at) ? good_text(at) : NULL;
        lines->n_damaged += text == NULL;
        if (!text) continue;
        if (gradin_arena_grow(arena, (void **)&line, lines->n_line, &capacity, sizeof *line) !=
            GRADIN_OK)
            return GRADIN_NO_MEMORY;
        line[lines->n_line++] = text;
    }
    lines->line = line;
    return GRADIN_OK;
}

gradin_status gradin_journal_read(gradin_arena *arena, const char *path,
                                  gradin_journal_lines *lines, gradin_error *error) {
    char *bytes;
    size_t size;
    struct stat info;
    if (NEEDS(error, arena, path, lines) != GRADIN_OK) return GRADIN_BAD_USE;
    *lines = (gradin_journal_lines){.n_line = 0};
    if (stat(path, &info) != 0 && errno == ENOENT) return GRADIN_OK;
    gradin_status status =
        gradin_read_bytes(arena, path, GRADIN_MAX_JOURNAL_BYTES, &bytes, &size, error);
    if (status != GRADIN_OK) return status;
    if (take_lines(arena, bytes, size, lines) == GRADIN_OK) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

static int print_line(char *out, size_t size, const char *text) {
    char hex[DIGEST_CHARS + 1];
    gradin_digest_whole(hex, text, strlen(text));
    return snprintf(out, size, "%s %s\n", hex, text);
}

static bool is_line(const char *text) {
    size_t n = strlen(text);
    return n > 0 && n <= GRADIN_MAX_JOURNAL_LINE && !strchr(text, '\n');
}

static gradin_status write_anew(gradin_arena *arena, const char *path,
                                const gradin_journal_lines *lines, gradin_error *error) {
    size_t size = 0, at = 0;
    for (int i = 0; i < lines->n_line; i++) size += strlen(lines->line[i]) + DIGEST_CHARS + 2;
    char *bytes = gradin_arena_alloc(arena, size + 1, 1);
    if (!bytes) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    for (int i = 0; i < lines->n_line; i++)
        at += (size_t)print_line(bytes + at, size + 1 - at, lines->line[i]);
    return gradin_write_file(path, bytes, at, error);
}

gradin_status gradin_journal_begin(gradin_arena *arena, const char *path,
                                   const gradin_journal_lines *lines, gradin_journal *journal,
                                   gradin_error *error) {
    if (NEEDS(error, arena, path, lines, journal) != GRADIN_OK) return GRADIN_BAD_USE;
    *journal = (gradin_journal){.fd = -1, .path = path};
    if (!path[0]) return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a journal needs a name");
    for (int i = 0; i < lines->n_line; i++)
        if (!lines->line || !is_line(lines->line[i]))
            return gradin_error_add(error, GRADIN_BAD_USE, NULL, "line %d is none", i);
    gradin_status status = write_anew(arena, path, lines, error);
    if (status != GRADIN_OK) return status;
    journal->fd = open(path, O_WRONLY | O_APPEND | O_CLOEXEC);
    return journal->fd >= 0 ? GRADIN_OK
                            : file_refuse(error, GRADIN_IO_FAILED, path, strerror(errno));
}

static bool write_whole(int fd, const char *bytes, size_t size) {
    while (size > 0) {
        ssize_t n = write(fd, bytes, size);
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) return false;
        bytes += n;
        size -= (size_t)n;
    }
    return true;
}

gradin_status gradin_journal_add(gradin_journal *journal, const char *line, gradin_error *error) {
    char text[GRADIN_MAX_JOURNAL_LINE + DIGEST_CHARS + 4];
    if (NEEDS(error, journal, line) != GRADIN_OK || NEEDS(error, journal->path) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (journal->fd < 0 || !is_line(line))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "a journal takes one line at a time, once it is begun");
    int size = print_line(text, sizeof text, line);
    if (write_whole(journal->fd, text, (size_t)size) && fsync(journal->fd) == 0) return GRADIN_OK;
    return file_refuse(error, GRADIN_IO_FAILED, journal->path, strerror(errno));
}

void gradin_journal_end(gradin_journal *journal) {
    if (!journal || !journal->path) return;
    if (journal->fd >= 0) close(journal->fd);
    journal->fd = -1;
}
