/* Whole files in and out. A file is written beside its final name, synced and renamed, so that a
 * reader never sees half of it. */
#include "base/faults.h"
#include "base/use.h"
#include "gradin/base.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static atomic_long write_countdown;

void gradin_write_fail_at(long n) {
    atomic_store(&write_countdown, n);
}

static ssize_t write_some(int fd, const void *bytes, size_t size) {
    if (atomic_load(&write_countdown) > 0 && atomic_fetch_sub(&write_countdown, 1) == 1) {
        errno = ENOSPC;
        return -1;
    }
    return write(fd, bytes, size);
}

static gradin_status refuse(gradin_error *error, gradin_status family, const char *path,
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

/* All input is text. A byte order mark, which some editors put first, is no part of it. */
static gradin_status check_text(const char *path, char **bytes, size_t *size, gradin_error *error) {
    if (memchr(*bytes, '\0', *size))
        return refuse(error, GRADIN_BAD_INPUT, path, "holds a zero byte; plain text is needed");
    if (*size >= 3 && memcmp(*bytes, "\xEF\xBB\xBF", 3) == 0) {
        *bytes += 3;
        *size -= 3;
    }
    return GRADIN_OK;
}

static gradin_status read_open(gradin_arena *arena, int fd, const char *path, size_t max_bytes,
                               char **bytes, size_t *size, gradin_error *error) {
    struct stat info;
    if (fstat(fd, &info) != 0) return refuse(error, GRADIN_IO_FAILED, path, strerror(errno));
    if (!S_ISREG(info.st_mode))
        return refuse(error, GRADIN_BAD_INPUT, path, "is not a regular file");
    if ((size_t)info.st_size > max_bytes)
        return gradin_error_add(error, GRADIN_BAD_INPUT, &(gradin_place){.file = path},
                                "has %lld bytes; at most %zu are read", (long long)info.st_size,
                                max_bytes);
    *size = (size_t)info.st_size;
    gradin_status status = slurp(arena, fd, *size, bytes);
    if (status != GRADIN_OK) return refuse(error, status, path, gradin_status_name(status));
    return GRADIN_OK;
}

gradin_status gradin_read_bytes(gradin_arena *arena, const char *path, size_t max_bytes,
                                char **bytes, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, path, bytes, size) != GRADIN_OK) return GRADIN_BAD_USE;
    int fd = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (fd < 0)
        return gradin_error_add(error, GRADIN_BAD_INPUT, &(gradin_place){.file = path},
                                "cannot be opened: %s", strerror(errno));
    gradin_status status = read_open(arena, fd, path, max_bytes, bytes, size, error);
    close(fd);
    return status;
}

gradin_status gradin_read_file(gradin_arena *arena, const char *path, size_t max_bytes,
                               char **bytes, size_t *size, gradin_error *error) {
    gradin_status status = gradin_read_bytes(arena, path, max_bytes, bytes, size, error);
    return status == GRADIN_OK ? check_text(path, bytes, size, error) : status;
}

static bool write_all(int fd, const char *bytes, size_t size) {
    while (size > 0) {
        ssize_t n = write_some(fd, bytes, size);
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) return false;
        bytes += n;
        size -= (size_t)n;
    }
    return true;
}

static bool write_parts(int fd, const gradin_bytes *part, int n_part) {
    for (int i = 0; i < n_part; i++)
        if (!write_all(fd, part[i].at, part[i].size)) return false;
    return fsync(fd) == 0;
}

gradin_status gradin_write_file(const char *path, const void *bytes, size_t size,
                                gradin_error *error) {
    if (NEEDS(error, path, bytes) != GRADIN_OK) return GRADIN_BAD_USE;
    return gradin_write_parts(path, &(gradin_bytes){bytes, size}, 1, error);
}

gradin_status gradin_write_parts(const char *path, const gradin_bytes *part, int n_part,
                                 gradin_error *error) {
    if (NEEDS(error, path, part) != GRADIN_OK) return GRADIN_BAD_USE;
    char temporary[4096];
    int length = snprintf(temporary, sizeof temporary, "%s.%ld.tmp", path, (long)getpid());
    if (length < 0 || (size_t)length >= sizeof temporary)
        return refuse(error, GRADIN_IO_FAILED, path, "the name is too long");
    int fd = open(temporary, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644);
    if (fd < 0) return refuse(error, GRADIN_IO_FAILED, path, strerror(errno));
    bool written = write_parts(fd, part, n_part);
    int reason = errno;
    if (close(fd) != 0 && written) {
        written = false;
        reason = errno;
    }
    if (written && rename(temporary, path) != 0) {
        written = false;
        reason = errno;
    }
    if (written) return GRADIN_OK;
    unlink(temporary);
    return refuse(error, GRADIN_IO_FAILED, path, strerror(reason));
}

char *gradin_path_beside(gradin_arena *arena, const char *base, const char *name) {
    if (!base || !name) return NULL;
    const char *slash = strrchr(base, '/');
    if (name[0] == '/' || !slash) return gradin_arena_copy_text(arena, name);
    return gradin_arena_print(arena, "%.*s/%s", (int)(slash - base), base, name);
}

/* Length of the folders that two absolute paths share, with the slash. */
static size_t shared_folders(const char *a, const char *b) {
    size_t shared = 0;
    for (size_t i = 0; a[i] && a[i] == b[i]; i++)
        if (a[i] == '/') shared = i + 1;
    return shared;
}

char *gradin_path_from(gradin_arena *arena, const char *base, const char *path) {
    if (!base || !path) return NULL;
    char folder[PATH_MAX + 1], file[PATH_MAX];
    const char *slash = strrchr(base, '/');
    char *above =
        gradin_arena_print(arena, "%.*s", slash ? (int)(slash - base) : 1, slash ? base : ".");
    if (!above || !realpath(above[0] ? above : "/", folder) || !realpath(path, file)) return NULL;
    strcat(folder, "/");
    size_t shared = shared_folders(folder, file);
    char *found = gradin_arena_copy_text(arena, file + shared);
    for (const char *at = folder + shared; *at && found; at++)
        if (*at == '/') found = gradin_arena_print(arena, "../%s", found);
    return found;
}
