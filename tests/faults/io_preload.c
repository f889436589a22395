/* Preloaded into a run (LD_PRELOAD): the n-th call of one kind on what lies below a folder fails.
 *
 * GRADIN_IO_CALL open|read|write|fsync|rename|fstat, GRADIN_IO_FAIL n (from 1; 0: none),
 * GRADIN_IO_BELOW folder, GRADIN_IO_COUNT file that gets how many calls of each kind there were, in
 * that order. Open fails with EMFILE, the others with EIO. With GRADIN_IO_STOP=1 the run is sent
 * SIGINT before that call instead. What libraries read elsewhere (fonts) is left alone. */
#undef _FORTIFY_SOURCE /* with it clang takes read() for a function inside others */
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <signal.h>
#include <stdarg.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

typedef enum call_kind { OPENS, READS, WRITES, FSYNCS, RENAMES, FSTATS, N_KIND } call_kind;
static const char *const kind_name[N_KIND] = {"open", "read", "write", "fsync", "rename", "fstat"};
static atomic_long n_call[N_KIND];

static int is_below(const char *path) {
    const char *folder = getenv("GRADIN_IO_BELOW");
    return folder && strncmp(path, folder, strlen(folder)) == 0;
}

/* An absolute path; links are not followed. */
static int is_path_below(int at, const char *path) {
    char whole[2 * PATH_MAX], folder[PATH_MAX], link[64];
    if (path[0] == '/') return is_below(path);
    snprintf(link, sizeof link, "/proc/self/fd/%d", at);
    ssize_t n = readlink(at == AT_FDCWD ? "/proc/self/cwd" : link, folder, sizeof folder - 1);
    if (n < 0) return 0;
    folder[n] = '\0';
    snprintf(whole, sizeof whole, "%s/%s", folder, path);
    return is_below(whole);
}

static int is_file_below(int fd) {
    char path[PATH_MAX], link[64];
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    ssize_t n = readlink(link, path, sizeof path - 1);
    if (n < 0) return 0;
    path[n] = '\0';
    return is_below(path);
}

/* Counts the call; whether it is the one that fails. */
static int must_fail(call_kind kind) {
    const char *asked = getenv("GRADIN_IO_CALL"), *at = getenv("GRADIN_IO_FAIL");
    long n = atomic_fetch_add(&n_call[kind], 1) + 1;
    if (!asked || strcmp(asked, kind_name[kind]) != 0 || !at || n != strtol(at, NULL, 10)) return 0;
    if (!getenv("GRADIN_IO_STOP")) return 1;
    raise(SIGINT);
    return 0;
}

static int fail(int reason) {
    errno = reason;
    return -1;
}

static int open_at(int at, const char *path, int flags, mode_t mode) {
    if (is_path_below(at, path) && must_fail(OPENS)) return fail(EMFILE);
    return (int)syscall(SYS_openat, at, path, flags, mode);
}

static mode_t mode_of(int flags, va_list rest) {
    return flags & (O_CREAT | __O_TMPFILE) ? (mode_t)va_arg(rest, int) : 0;
}

#define OPEN(name, before, at)                                                                     \
    int name(before const char *path, int flags, ...) {                                            \
        va_list rest;                                                                              \
        va_start(rest, flags);                                                                     \
        mode_t mode = mode_of(flags, rest);                                                        \
        va_end(rest);                                                                              \
        return open_at(at, path, flags, mode);                                                     \
    }
#define FOLDER int folder,
OPEN(open, , AT_FDCWD)
OPEN(open64, , AT_FDCWD)
OPEN(openat, FOLDER, folder)
OPEN(openat64, FOLDER, folder)

int __open_2(const char *path, int flags);
int __open_2(const char *path, int flags) {
    return open_at(AT_FDCWD, path, flags, 0);
}

ssize_t read(int fd, void *bytes, size_t size) {
    if (is_file_below(fd) && must_fail(READS)) return fail(EIO);
    return syscall(SYS_read, fd, bytes, size);
}

ssize_t __read_chk(int fd, void *bytes, size_t size, size_t room);
ssize_t __read_chk(int fd, void *bytes, size_t size, size_t room) {
    return size > room ? fail(EIO) : read(fd, bytes, size);
}

ssize_t write(int fd, const void *bytes, size_t size) {
    if (is_file_below(fd) && must_fail(WRITES)) return fail(EIO);
    return syscall(SYS_write, fd, bytes, size);
}

int fsync(int fd) {
    if (is_file_below(fd) && must_fail(FSYNCS)) return fail(EIO);
    return (int)syscall(SYS_fsync, fd);
}

int fstat(int fd, struct stat *info) {
    if (is_file_below(fd) && must_fail(FSTATS)) return fail(EIO);
    return fstatat(fd, "", info, AT_EMPTY_PATH);
}

int rename(const char *from, const char *to) {
    if (is_path_below(AT_FDCWD, to) && must_fail(RENAMES)) return fail(EIO);
    return (int)syscall(SYS_renameat2, AT_FDCWD, from, AT_FDCWD, to, 0);
}

int renameat(int from_at, const char *from, int to_at, const char *to) {
    if (is_path_below(to_at, to) && must_fail(RENAMES)) return fail(EIO);
    return (int)syscall(SYS_renameat2, from_at, from, to_at, to, 0);
}

__attribute__((destructor)) static void tell(void) {
    const char *path = getenv("GRADIN_IO_COUNT");
    char text[N_KIND * 24];
    size_t size = 0;
    long fd = path ? syscall(SYS_openat, AT_FDCWD, path, O_WRONLY | O_CREAT | O_TRUNC, 0600) : -1;
    if (fd < 0) return;
    for (int k = 0; k < N_KIND; k++)
        size += (size_t)snprintf(text + size, sizeof text - size, "%ld\n", atomic_load(&n_call[k]));
    (void)!syscall(SYS_write, (int)fd, text, size);
    syscall(SYS_close, (int)fd);
}
