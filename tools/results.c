/* A folder of results. One run at a time writes into it; while it does, UNFINISHED-VERB.txt says
 * that the verb's files there are not whole. At the end run-VERB.txt names what was run, what was
 * read and what was written (record.c). After a crash the folder holds the old results, the new
 * ones, or the mark, which stays until a run of the verb ends well. */
#include "command.h"
#include "gradin/run.h"
#include "record.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <pthread.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

static const char mark_text[] =
    "gradin is writing into this folder, or was stopped while it did. If it is not running any\n"
    "more, files here may be of different runs: run it again.\n";

static result_folder folder = {.fd = -1};
static bool is_list_whole = true; /* of what was written */

static bool is_temporary(const char *name) {
    const char *end = strrchr(name, '.');
    if (!end || strcmp(end, ".tmp") != 0) return false;
    const char *at = end;
    while (at > name && strchr("0123456789-", at[-1])) at--;
    return at < end && at > name && at[-1] == '.';
}

static int by_name(const void *a, const void *b) {
    return strcmp(((const found_file *)a)->name, ((const found_file *)b)->name);
}

static bool add_file(found_files *list, const char *name, const struct stat *info) {
    char *copy = gradin_arena_copy_text(folder.arena, name);
    if (!copy || gradin_arena_grow(folder.arena, (void **)&list->file, list->n, &list->capacity,
                                   sizeof *list->file) != GRADIN_OK)
        return false;
    list->file[list->n++] = (found_file){copy, info->st_dev, info->st_ino, info->st_ctim};
    return true;
}

static bool list_folder(found_files *list) {
    int fd = openat(folder.fd, ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    DIR *stream = fd < 0 ? NULL : fdopendir(fd);
    if (!stream) return false;
    bool is_good = true;
    for (struct dirent *e = readdir(stream); e && is_good; e = readdir(stream)) {
        struct stat info;
        if (fstatat(folder.fd, e->d_name, &info, AT_SYMLINK_NOFOLLOW) == 0 && S_ISREG(info.st_mode))
            is_good = add_file(list, e->d_name, &info);
    }
    closedir(stream);
    if (list->n > 0) qsort(list->file, (size_t)list->n, sizeof *list->file, by_name);
    return is_good;
}

const found_file *file_in(const found_files *list, const char *name) {
    const found_file key = {.name = (char *)(uintptr_t)name};
    return list->n > 0 ? bsearch(&key, list->file, (size_t)list->n, sizeof *list->file, by_name)
                       : NULL;
}

/* "a/b" of "a/b/c/". */
static int folder_length(const char *path) {
    int n = (int)strlen(path);
    while (n > 1 && path[n - 1] == '/') n--;
    while (n > 0 && path[n - 1] != '/') n--;
    while (n > 1 && path[n - 1] == '/') n--;
    return n;
}

static int refuse_folder(const char *path, int reason) {
    int length = folder_length(path);
    if (reason == ENOENT && length > 0) {
        say("%s: there is no folder '%.*s'; make it first", path, length, path);
        return EXIT_INPUT;
    }
    say("%s: %s", path,
        reason == EEXIST        ? "exists and is no folder"
        : reason == EWOULDBLOCK ? "another run of gradin is writing there; wait for it, or end it"
                                : strerror(reason));
    return reason == EEXIST || reason == EWOULDBLOCK || reason == ENOENT || reason == ENOTDIR
               ? EXIT_INPUT
               : EXIT_MACHINE;
}

int make_folder(const char *path) {
    struct stat info;
    if (mkdir(path, 0777) == 0) return EXIT_DONE;
    int reason = errno;
    bool is_there = reason == EEXIST && stat(path, &info) == 0 && S_ISDIR(info.st_mode);
    return is_there ? EXIT_DONE : refuse_folder(path, reason);
}

/* What a run that was killed left half-written. */
static void sweep_temporaries(void) {
    if (!file_in(&folder.before, folder.mark)) return;
    for (int i = 0; i < folder.before.n; i++)
        if (is_temporary(folder.before.file[i].name))
            unlinkat(folder.fd, folder.before.file[i].name, 0);
}

static bool mark(void) {
    int fd =
        openat(folder.fd, folder.mark, O_WRONLY | O_CREAT | O_TRUNC | O_NOFOLLOW | O_CLOEXEC, 0644);
    if (fd < 0) return false;
    bool is_good = write(fd, mark_text, sizeof mark_text - 1) == (ssize_t)sizeof mark_text - 1;
    is_good = fsync(fd) == 0 && is_good;
    is_good = close(fd) == 0 && is_good;
    (void)fsync(folder.fd); /* not every file system can */
    return is_good;
}

/* Files may be written by several threads. */
static void note_written(void *user, const char *path) {
    static pthread_mutex_t one = PTHREAD_MUTEX_INITIALIZER;
    found_files *list = user;
    struct stat info;
    if (stat(path, &info) != 0) return;
    pthread_mutex_lock(&one);
    is_list_whole = add_file(list, path, &info) && is_list_whole;
    pthread_mutex_unlock(&one);
}

/* Locked, looked at and marked; errno says why not, EWOULDBLOCK that another run is in it. */
static bool begin(bool waits) {
    folder.fd = open(folder.path, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (folder.fd < 0) return false;
    /* Where locks are not known there are none. */
    if (flock(folder.fd, LOCK_EX | (waits ? 0 : LOCK_NB)) != 0 && !waits && errno == EWOULDBLOCK) {
        close(folder.fd); /* nothing in it is this run's to tidy */
        folder.fd = -1;
        errno = EWOULDBLOCK;
        return false;
    }
    errno = ENOMEM;
    if (!list_folder(&folder.before)) return false;
    gradin_write_watch(note_written, &folder.written);
    sweep_temporaries();
    if (mark()) return true;
    int reason = errno;
    if (!file_in(&folder.before, folder.mark)) unlinkat(folder.fd, folder.mark, 0);
    errno = reason;
    return false;
}

static int open_folder(const char *path, bool waits) {
    if (strcmp(path, "-") == 0) {
        say("-: standard output is no folder");
        return EXIT_INPUT;
    }
    int result = make_folder(path);
    if (result != EXIT_DONE) return result;
    folder.path = path;
    folder.arena = gradin_arena_create();
    folder.mark = gradin_arena_print(folder.arena, "UNFINISHED-%s.txt", folder.verb->name);
    return folder.mark && begin(waits) ? EXIT_DONE : refuse_folder(path, errno);
}

int open_results(const char *path) {
    return open_folder(path, true);
}

int open_results_alone(const char *path) {
    return open_folder(path, false);
}

gradin_status write_results(const char *dir, const result_file *file, int n, gradin_arena *arena,
                            gradin_error *error) {
    gradin_status status = GRADIN_OK;
    for (int i = 0; i < n && status == GRADIN_OK; i++) {
        if (!file[i].bytes) continue;
        const char *path =
            file[i].name ? gradin_arena_print(arena, "%s/%s", dir, file[i].name) : NULL;
        status = path ? gradin_write_file(path, file[i].bytes, file[i].size, error)
                      : gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a name");
    }
    return status;
}

int put_results(const char *dir, const result_file *file, int n, bool is_quiet, gradin_arena *arena,
                gradin_error *error) {
    int result = open_results(dir);
    if (result == EXIT_DONE) result = report(write_results(dir, file, n, arena, error), error);
    if (result != EXIT_DONE || is_quiet) return result;
    const char *line = gradin_arena_print(arena, "written to %s:", dir);
    for (int i = 0; line && i < n; i++)
        line = gradin_arena_print(arena, "%s%s %s", line, i ? "," : "", file[i].name);
    line = line ? gradin_arena_print(arena, "%s\n", line) : NULL;
    return line ? print_out(line) : EXIT_MACHINE;
}

static void remove_mark(void) {
    unlinkat(folder.fd, folder.mark, 0);
    (void)fsync(folder.fd);
}

/* A run that fails before it has written anything leaves the folder as it was. */
static int close_folder(const gradin_arena *read_into, int result) {
    found_files now = {0};
    bool is_listed = list_folder(&now), is_done = result == EXIT_DONE || result == EXIT_LIMIT;
    bool was_marked = file_in(&folder.before, folder.mark);
    if (!is_done && is_listed && !was_marked && !has_result(&folder, &now)) remove_mark();
    if (!is_done) return result;
    if (is_listed && is_list_whole && write_record(&folder, read_into, &now, true)) {
        remove_mark();
        return result;
    }
    say("%s: the record of the run cannot be written; %s stays there", folder.path, folder.mark);
    return EXIT_MACHINE;
}

gradin_status record_so_far(const gradin_arena *read_into, gradin_error *error) {
    found_files now = {0};
    if (list_folder(&now) && is_list_whole && write_record(&folder, read_into, &now, false))
        return GRADIN_OK;
    return gradin_error_add(error, GRADIN_IO_FAILED, &(gradin_place){.file = folder.path},
                            "the record of the run cannot be written");
}

gradin_status allow_overwriting(const char *name, gradin_error *error) {
    return record_allows(&folder, name, error);
}

void begin_run(const verb_form *verb, int n_argument, char *const *argument) {
    folder.verb = verb;
    folder.n_argument = n_argument;
    folder.argument = argument;
}

int end_run(const gradin_arena *read_into, int result) {
    if (folder.fd >= 0) {
        if (folder.mark) result = close_folder(read_into, result);
        close(folder.fd);
        folder.fd = -1;
    }
    gradin_write_watch(NULL, NULL);
    gradin_arena_destroy(folder.arena);
    folder.arena = NULL;
    return result;
}
