/* Whole files in. What cannot be found or may not be read is the caller's mistake; that a file that
 * is there cannot be read is the machine's. */
#include "base/arena.h"
#include "base/digest.h"
#include "base/file.h"
#include "base/use.h"
#include "gradin/base.h"
#include "gradin/run.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

gradin_status file_refuse(gradin_error *error, gradin_status family, const char *path,
                          const char *text) {
    return gradin_error_add(error, family, &(gradin_place){.file = path}, "%s", text);
}

static gradin_status slurp(gradin_arena *arena, int fd, size_t size, char **bytes) {
    char *block = gradin_arena_alloc(arena, size + 1, 1);
    if (!block) return GRADIN_NO_MEMORY;
    size_t got = 0;
    while (got < size) {
        ssize_t n = read(fd, block + got, size - got);
        if (n < 0 && errno == EINTR) continue;
        if (n <= 0) return GRADIN_IO_FAILED;
        got += (size_t)n;
    }
    *bytes = block;
    return GRADIN_OK;
}

/* What comes through a descriptor to its end, or one byte more than is read of any file: its length
 * is not known before. */
static gradin_status drain(gradin_arena *arena, arena_dash *dash, size_t max_bytes) {
    size_t room = 0, got = 0;
    char *block = NULL;
    for (ssize_t n = 1; n != 0 && got <= max_bytes;) {
        if (got == room) {
            room = room ? 2 * room : 65536;
            char *larger = gradin_arena_alloc(arena, room + 1, 1);
            if (!larger) return GRADIN_NO_MEMORY;
            if (got) memcpy(larger, block, got);
            block = larger;
        }
        n = read(dash->fd, block + got, room - got);
        if (n < 0 && errno != EINTR) return GRADIN_IO_FAILED;
        if (n > 0) got += (size_t)n;
    }
    dash->bytes = block;
    dash->size = got;
    return GRADIN_OK;
}

/* Each reader gets bytes of its own, for one may write into them. */
static gradin_status read_dash(gradin_arena *arena, const char *path, size_t max_bytes,
                               char **bytes, size_t *size, gradin_error *error) {
    arena_dash *dash = arena_dash_of(arena);
    gradin_status status = dash->bytes ? GRADIN_OK : drain(arena, dash, max_bytes);
    if (status == GRADIN_OK && dash->size > max_bytes)
        return gradin_error_add(error, GRADIN_BAD_INPUT, &(gradin_place){.file = path},
                                "has more than the %zu bytes that are read", max_bytes);
    *bytes = status == GRADIN_OK ? gradin_arena_alloc(arena, dash->size + 1, 1) : NULL;
    if (status == GRADIN_OK && !*bytes) status = GRADIN_NO_MEMORY;
    if (status != GRADIN_OK) return file_refuse(error, status, path, gradin_status_name(status));
    memcpy(*bytes, dash->bytes, dash->size);
    *size = dash->size;
    return GRADIN_OK;
}

/* All input is text. A byte order mark, which some editors put first, is no part of it. */
static gradin_status check_text(const char *path, char **bytes, size_t *size, gradin_error *error) {
    if (memchr(*bytes, '\0', *size))
        return file_refuse(error, GRADIN_BAD_INPUT, path,
                           "holds a zero byte; plain text is needed");
    if (*size >= 3 && memcmp(*bytes, "\xEF\xBB\xBF", 3) == 0) {
        *bytes += 3;
        *size -= 3;
    }
    return GRADIN_OK;
}

static gradin_status read_open(gradin_arena *arena, int fd, const char *path, size_t max_bytes,
                               char **bytes, size_t *size, gradin_error *error) {
    struct stat info;
    if (fstat(fd, &info) != 0) return file_refuse(error, GRADIN_IO_FAILED, path, strerror(errno));
    if (!S_ISREG(info.st_mode))
        return file_refuse(error, GRADIN_BAD_INPUT, path, "is not a regular file");
    if ((size_t)info.st_size > max_bytes)
        return gradin_error_add(error, GRADIN_BAD_INPUT, &(gradin_place){.file = path},
                                "has %lld bytes; at most %zu are read", (long long)info.st_size,
                                max_bytes);
    *size = (size_t)info.st_size;
    gradin_status status = slurp(arena, fd, *size, bytes);
    if (status != GRADIN_OK) return file_refuse(error, status, path, gradin_status_name(status));
    return GRADIN_OK;
}

/* A name that leads nowhere, or to what may not be read, is the caller's. */
static gradin_status family_of(int reason) {
    static const int callers[] = {ENOENT, ENOTDIR, ELOOP, ENAMETOOLONG, EACCES, EPERM, ENXIO};
    for (size_t i = 0; i < sizeof callers / sizeof *callers; i++)
        if (reason == callers[i]) return GRADIN_BAD_INPUT;
    return GRADIN_IO_FAILED;
}

/* The arena remembers what was read. */
static gradin_status noted(gradin_arena *arena, const char *path, gradin_status status,
                           char *const *bytes, const size_t *size, gradin_error *error) {
    if (status != GRADIN_OK || arena_note_input(arena, path, *bytes, *size)) return status;
    return file_refuse(error, GRADIN_NO_MEMORY, path, gradin_status_name(GRADIN_NO_MEMORY));
}

gradin_status gradin_read_bytes(gradin_arena *arena, const char *path, size_t max_bytes,
                                char **bytes, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, path, bytes, size) != GRADIN_OK) return GRADIN_BAD_USE;
    if (arena_dash_of(arena)->is_input && strcmp(path, "-") == 0)
        return noted(arena, path, read_dash(arena, path, max_bytes, bytes, size, error), bytes,
                     size, error);
    int fd = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (fd < 0)
        return gradin_error_add(error, family_of(errno), &(gradin_place){.file = path},
                                "cannot be opened: %s", strerror(errno));
    gradin_status status = read_open(arena, fd, path, max_bytes, bytes, size, error);
    close(fd);
    return noted(arena, path, status, bytes, size, error);
}

gradin_status gradin_read_file(gradin_arena *arena, const char *path, size_t max_bytes,
                               char **bytes, size_t *size, gradin_error *error) {
    gradin_status status = gradin_read_bytes(arena, path, max_bytes, bytes, size, error);
    return status == GRADIN_OK ? check_text(path, bytes, size, error) : status;
}

gradin_status gradin_file_digest(const char *path, char hex[33], gradin_error *error) {
    if (NEEDS(error, path, hex) != GRADIN_OK) return GRADIN_BAD_USE;
    int fd = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (fd < 0) return file_refuse(error, family_of(errno), path, strerror(errno));
    gradin_status status = gradin_digest_open(hex, fd);
    int reason = errno;
    close(fd);
    if (status == GRADIN_OK) return status;
    return file_refuse(error, status, path,
                       status == GRADIN_IO_FAILED ? strerror(reason) : gradin_status_name(status));
}
