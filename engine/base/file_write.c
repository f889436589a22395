/* Whole files out. A file is written beside its final name, synced and renamed, and its folder is
 * synced: a reader sees the old file or the new one, also after the power fails. A link is
 * followed, a pipe or a terminal is written to as it is, and what is no place for a result is
 * refused. */
#include "base/faults.h"
#include "base/file.h"
#include "base/temporaries.h"
#include "base/use.h"
#include "gradin/base.h"
#include "gradin/run.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { MODE_BITS = 07777, WRITE_BITS = 0222, NEW_MODE = 0644 };

static atomic_long write_countdown;
static gradin_write_tell watching;
static void *watching_user;

void gradin_write_watch(gradin_write_tell tell, void *user) {
    watching = tell;
    watching_user = user;
}

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

/* Where a file goes, and what is to be done there. */
typedef struct destination {
    char target[PATH_MAX]; /* links followed */
    int mode;              /* < 0: as new files are */
    int slot;              /* of its temporary, while there is one; -1 */
    bool is_through;       /* a pipe or a terminal: no file beside it */
} destination;

/* A file that is there keeps its mode; one that nobody may write to stays as it is. */
static gradin_status look_at_old(const char *path, const struct stat *old, destination *to,
                                 gradin_error *error) {
    to->is_through = S_ISFIFO(old->st_mode) || S_ISCHR(old->st_mode);
    to->mode = (int)(old->st_mode & MODE_BITS);
    if (S_ISDIR(old->st_mode)) return file_refuse(error, GRADIN_BAD_INPUT, path, "is a folder");
    if (to->is_through) return GRADIN_OK;
    if (!S_ISREG(old->st_mode))
        return file_refuse(error, GRADIN_BAD_INPUT, path, "is neither a file nor a pipe");
    if (!(old->st_mode & WRITE_BITS) || access(path, W_OK) != 0)
        return file_refuse(error, GRADIN_IO_FAILED, path, "may not be written to");
    if (!realpath(path, to->target))
        return file_refuse(error, GRADIN_IO_FAILED, path, strerror(errno));
    return GRADIN_OK;
}

static gradin_status look_at(const char *path, destination *to, gradin_error *error) {
    struct stat old;
    *to = (destination){.mode = -1, .slot = -1};
    if (stat(path, &old) == 0) return look_at_old(path, &old, to, error);
    if (lstat(path, &old) == 0)
        return file_refuse(error, GRADIN_IO_FAILED, path, "is a link to what is not there");
    if (snprintf(to->target, sizeof to->target, "%s", path) < (int)sizeof to->target)
        return GRADIN_OK;
    return file_refuse(error, GRADIN_IO_FAILED, path, "the name is too long");
}

static void drop(destination *to) {
    int reason = errno;
    if (to->slot < 0) return;
    unlink(temporary_name(to->slot));
    temporary_close(to->slot);
    to->slot = -1;
    errno = reason;
}

static gradin_status refuse_place(const char *path, const char *target, gradin_error *error) {
    char text[GRADIN_TEXT_CHARS];
    const char *slash = strrchr(target, '/');
    if (errno == ENAMETOOLONG)
        return file_refuse(error, GRADIN_IO_FAILED, path, "the name is too long");
    if (errno != ENOENT || !slash)
        return file_refuse(error, GRADIN_IO_FAILED, path, strerror(errno));
    snprintf(text, sizeof text, "there is no folder '%.*s'; make it first",
             slash - target < 200 ? (int)(slash - target) : 200, target);
    return file_refuse(error, GRADIN_IO_FAILED, path, text);
}

/* Whole, synced, and beside its place. */
static gradin_status set_beside(const char *path, const gradin_bytes *part, int n_part,
                                destination *to, gradin_error *error) {
    int fd = temporary_open(to->target, NEW_MODE, &to->slot);
    if (fd < 0) {
        to->slot = -1;
        return refuse_place(path, to->target, error);
    }
    bool is_good = (to->mode < 0 || fchmod(fd, (mode_t)to->mode) == 0) &&
                   write_pieces(fd, part, n_part) && fsync(fd) == 0;
    if (close_after(fd, is_good)) return GRADIN_OK;
    drop(to);
    return file_refuse(error, GRADIN_IO_FAILED, path, strerror(errno));
}

static gradin_status put_in_place(const char *path, destination *to, gradin_error *error) {
    if (rename(temporary_name(to->slot), to->target) != 0) {
        drop(to);
        return file_refuse(error, GRADIN_IO_FAILED, path, strerror(errno));
    }
    temporary_close(to->slot);
    to->slot = -1;
    if (watching) watching(watching_user, to->target);
    sync_folder(to->target);
    return GRADIN_OK;
}

static gradin_status write_through(const char *path, const gradin_bytes *part, int n_part,
                                   gradin_error *error) {
    int fd = open(path, O_WRONLY | O_CLOEXEC | O_NOCTTY);
    if (fd < 0 || !close_after(fd, write_pieces(fd, part, n_part)))
        return file_refuse(error, GRADIN_IO_FAILED, path, strerror(errno));
    return GRADIN_OK;
}

gradin_status gradin_write_parts(const char *path, const gradin_bytes *part, int n_part,
                                 gradin_error *error) {
    destination to;
    if (NEEDS(error, path, part) != GRADIN_OK) return GRADIN_BAD_USE;
    gradin_status status = look_at(path, &to, error);
    if (status != GRADIN_OK) return status;
    if (to.is_through) return write_through(path, part, n_part, error);
    status = set_beside(path, part, n_part, &to, error);
    return status == GRADIN_OK ? put_in_place(path, &to, error) : status;
}

gradin_status gradin_write_file(const char *path, const void *bytes, size_t size,
                                gradin_error *error) {
    if (NEEDS(error, path, bytes) != GRADIN_OK) return GRADIN_BAD_USE;
    return gradin_write_parts(path, &(gradin_bytes){bytes, size}, 1, error);
}

static gradin_status set_all_beside(const file_together *file, int n, destination *to,
                                    gradin_error *error) {
    gradin_status status = GRADIN_OK;
    for (int i = 0; i < n && status == GRADIN_OK; i++) {
        status = look_at(file[i].path, &to[i], error);
        if (status == GRADIN_OK && !to[i].is_through)
            status = set_beside(file[i].path, &file[i].bytes, 1, &to[i], error);
    }
    return status;
}

static void remove_placed(const char *path) {
    struct stat info;
    if (lstat(path, &info) == 0 && S_ISREG(info.st_mode)) unlink(path);
}

static gradin_status put_all(const file_together *file, int n, destination *to,
                             gradin_error *error) {
    gradin_status status = GRADIN_OK;
    if (!to[n - 1].is_through) remove_placed(to[n - 1].target);
    for (int i = 0; i < n && status == GRADIN_OK; i++) {
        status = to[i].is_through ? write_through(file[i].path, &file[i].bytes, 1, error)
                                  : put_in_place(file[i].path, &to[i], error);
        for (int k = 0; k < i && status != GRADIN_OK; k++) remove_placed(to[k].target);
    }
    return status;
}

gradin_status file_write_together(const file_together *file, int n, gradin_error *error) {
    destination to[MOST_TOGETHER];
    sigset_t all, before;
    for (int i = 0; i < n; i++) to[i].slot = -1;
    gradin_status status = set_all_beside(file, n, to, error);
    if (status == GRADIN_OK) {
        sigfillset(&all);
        pthread_sigmask(SIG_SETMASK, &all, &before);
        status = put_all(file, n, to, error);
        pthread_sigmask(SIG_SETMASK, &before, NULL);
    }
    for (int i = 0; i < n; i++) drop(&to[i]);
    return status;
}
