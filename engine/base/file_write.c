/* Whole files out. A file is written beside its final name, synced and renamed, and its folder is
 * synced: a reader sees the old file or the new one, also after the power fails. A link is
 * followed, a pipe or a terminal is written to as it is, and what is no place for a result is
 * refused. */
#include "base/faults.h"
#include "base/file.h"
#include "base/temporaries.h"
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

enum { MODE_BITS = 07777, WRITE_BITS = 0222, NEW_MODE = 0644 };

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

static bool write_pieces(int fd, const gradin_bytes *part, int n_part) {
    for (int i = 0; i < n_part; i++)
        if (!write_all(fd, part[i].at, part[i].size)) return false;
    return true;
}

/* Closes in any case; errno is that of the first thing that failed. */
static bool close_after(int fd, bool is_good) {
    int reason = errno;
    bool is_closed = close(fd) == 0;
    if (!is_good) errno = reason;
    return is_good && is_closed;
}

/* Some file systems cannot sync a folder; that is no failure. */
static void sync_folder(const char *path) {
    char folder[PATH_MAX];
    const char *slash = strrchr(path, '/');
    snprintf(folder, sizeof folder, "%.*s", slash ? (int)(slash - path) + 1 : 1,
             slash ? path : ".");
    int fd = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (fd < 0) return;
    (void)fsync(fd);
    close(fd);
}

/* mode < 0: as new files are. */
static gradin_status replace(const char *path, int mode, const gradin_bytes *part, int n_part,
                             gradin_error *error) {
    int slot, fd = temporary_open(path, NEW_MODE, &slot);
    if (fd < 0)
        return file_refuse(error, GRADIN_IO_FAILED, path,
                           errno == ENAMETOOLONG ? "the name is too long" : strerror(errno));
    bool is_good = (mode < 0 || fchmod(fd, (mode_t)mode) == 0) && write_pieces(fd, part, n_part) &&
                   fsync(fd) == 0;
    is_good = close_after(fd, is_good) && rename(temporary_name(slot), path) == 0;
    int reason = errno;
    if (!is_good) unlink(temporary_name(slot));
    temporary_close(slot);
    if (!is_good) return file_refuse(error, GRADIN_IO_FAILED, path, strerror(reason));
    sync_folder(path);
    return GRADIN_OK;
}

static gradin_status write_through(const char *path, const gradin_bytes *part, int n_part,
                                   gradin_error *error) {
    int fd = open(path, O_WRONLY | O_CLOEXEC | O_NOCTTY);
    if (fd < 0 || !close_after(fd, write_pieces(fd, part, n_part)))
        return file_refuse(error, GRADIN_IO_FAILED, path, strerror(errno));
    return GRADIN_OK;
}

/* A file that is there keeps its mode; one that nobody may write to stays as it is. */
static gradin_status write_over(const char *path, const struct stat *old, const gradin_bytes *part,
                                int n_part, gradin_error *error) {
    char target[PATH_MAX];
    if (S_ISDIR(old->st_mode)) return file_refuse(error, GRADIN_BAD_INPUT, path, "is a folder");
    if (S_ISFIFO(old->st_mode) || S_ISCHR(old->st_mode))
        return write_through(path, part, n_part, error);
    if (!S_ISREG(old->st_mode))
        return file_refuse(error, GRADIN_BAD_INPUT, path, "is neither a file nor a pipe");
    if (!(old->st_mode & WRITE_BITS) || access(path, W_OK) != 0)
        return file_refuse(error, GRADIN_IO_FAILED, path, "may not be written to");
    if (!realpath(path, target)) return file_refuse(error, GRADIN_IO_FAILED, path, strerror(errno));
    return replace(target, (int)(old->st_mode & MODE_BITS), part, n_part, error);
}

gradin_status gradin_write_parts(const char *path, const gradin_bytes *part, int n_part,
                                 gradin_error *error) {
    struct stat old;
    if (NEEDS(error, path, part) != GRADIN_OK) return GRADIN_BAD_USE;
    if (stat(path, &old) == 0) return write_over(path, &old, part, n_part, error);
    if (lstat(path, &old) == 0)
        return file_refuse(error, GRADIN_IO_FAILED, path, "is a link to what is not there");
    return replace(path, -1, part, n_part, error);
}

gradin_status gradin_write_file(const char *path, const void *bytes, size_t size,
                                gradin_error *error) {
    if (NEEDS(error, path, bytes) != GRADIN_OK) return GRADIN_BAD_USE;
    return gradin_write_parts(path, &(gradin_bytes){bytes, size}, 1, error);
}
