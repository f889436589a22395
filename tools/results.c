/* A folder of results. One run at a time writes into it; while it does, UNFINISHED-VERB.txt says
 * that the verb's files there are not whole. At the end run-VERB.txt names what was run, what was
 * read and what was written, and files of an earlier run of the verb that this one did not write
 * are removed. After a crash the folder holds the old results, the new ones, or the mark, which
 * stays until a run of the verb ends well. */
#include "command.h"
#include "gradin/run.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
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

/* A regular file of the folder as it was found. */
typedef struct found_file {
    char *name;
    ino_t inode;
    struct timespec changed;
} found_file;

enum { NAMED = 6 }; /* files of a note */

typedef struct found_files {
    found_file *file; /* [n], by name */
    int n, capacity;
} found_files;

static struct {
    const verb_form *verb;
    char *const *argument; /* [n_argument] */
    int n_argument;
    gradin_arena *arena; /* NULL until a folder is opened */
    const char *path, *mark;
    int fd; /* locked */
    found_files before;
} folder = {.fd = -1};

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
    list->file[list->n++] =
        (found_file){.name = copy, .inode = info->st_ino, .changed = info->st_ctim};
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

static const found_file *file_in(const found_files *list, const char *name) {
    const found_file key = {.name = (char *)(uintptr_t)name};
    return list->n > 0 ? bsearch(&key, list->file, (size_t)list->n, sizeof *list->file, by_name)
                       : NULL;
}

/* Written since the folder was opened. */
static bool is_new(const found_file *now) {
    const found_file *was = file_in(&folder.before, now->name);
    return !was || was->inode != now->inode || was->changed.tv_sec != now->changed.tv_sec ||
           was->changed.tv_nsec != now->changed.tv_nsec;
}

static int refuse_folder(const char *path, int reason) {
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

/* A name that run-VERB.txt may give: of a file in this folder. */
static bool is_plain(const char *name) {
    return *name && !strchr(name, '/') && strcmp(name, ".") != 0 && strcmp(name, "..") != 0;
}

/* Removes what the earlier run's record names and this run did not write. */
static void remove_stale(const char *record, const found_files *now) {
    char *bytes, *rest;
    size_t size;
    if (gradin_read_file(folder.arena, record, 1 << 20, &bytes, &size, NULL) != GRADIN_OK) return;
    for (char *line = strtok_r(bytes, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest)) {
        if (strncmp(line, "file\t", 5) != 0 || !is_plain(line + 5)) continue;
        const found_file *file = file_in(now, line + 5);
        if (file && !is_new(file)) unlinkat(folder.fd, line + 5, 0);
    }
}

/* One line of the record. What would break the line is shown as '?'. */
static void add_line(char **text, const char *key, const char *value) {
    char *plain = gradin_arena_copy_text(folder.arena, value);
    gradin_plain_line(plain);
    *text =
        *text && plain ? gradin_arena_print(folder.arena, "%s%s\t%s\n", *text, key, plain) : NULL;
}

/* The folder itself is left out: it may be moved. */
static void add_arguments(char **text) {
    for (int i = 0; i < folder.n_argument; i++) {
        if (strcmp(folder.argument[i], "--out") == 0)
            i++;
        else if (strncmp(folder.argument[i], "--out=", 6) != 0)
            add_line(text, "argument", folder.argument[i]);
    }
}

static void add_inputs(char **text, const char *record, const gradin_arena *read_into) {
    const gradin_input *input;
    int n = gradin_inputs(read_into, &input);
    for (int i = 0; i < n; i++) {
        char *path = gradin_path_from(folder.arena, record, input[i].path);
        char *value =
            gradin_arena_print(folder.arena, "%s %s", input[i].digest, path ? path : input[i].path);
        add_line(text, "input", value ? value : input[i].path);
    }
}

/* What this run wrote, less its mark. */
static bool is_result(const found_file *file) {
    return strcmp(file->name, folder.mark) != 0 && is_new(file);
}

static void add_files(char **text, const found_files *now) {
    for (int i = 0; i < now->n; i++)
        if (is_result(&now->file[i])) add_line(text, "file", now->file[i].name);
}

static bool has_result(const found_files *now) {
    for (int i = 0; i < now->n; i++)
        if (is_result(&now->file[i])) return true;
    return false;
}

/* Is it what a run in this folder keeps beside its results, or a record names? */
static bool is_of_a_run(const char *name, const found_files *now) {
    if (strncmp(name, "UNFINISHED-", 11) == 0 || strncmp(name, "run-", 4) == 0) return true;
    for (int i = 0; i < now->n; i++) {
        char *bytes, *rest;
        size_t size;
        const char *record = now->file[i].name;
        if (strncmp(record, "run-", 4) != 0) continue;
        const char *path = gradin_arena_print(folder.arena, "%s/%s", folder.path, record);
        if (!path ||
            gradin_read_file(folder.arena, path, 1 << 20, &bytes, &size, NULL) != GRADIN_OK)
            continue;
        for (char *line = strtok_r(bytes, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest))
            if (strncmp(line, "file\t", 5) == 0 && strcmp(line + 5, name) == 0) return true;
    }
    return false;
}

static bool is_input(const char *name, const gradin_arena *read_into) {
    const gradin_input *input;
    int n = gradin_inputs(read_into, &input);
    for (int i = 0; i < n; i++) {
        const char *slash = strrchr(input[i].path, '/');
        if (strcmp(slash ? slash + 1 : input[i].path, name) == 0) return true;
    }
    return false;
}

/* Files that no run here is known to have written: they stay, and are named. */
static void name_the_rest(char **text, const gradin_arena *read_into, const found_files *now) {
    const char *names = "";
    int n = 0;
    for (int i = 0; i < now->n && names; i++) {
        const char *name = now->file[i].name;
        if (is_result(&now->file[i]) || is_of_a_run(name, now) || is_input(name, read_into))
            continue;
        add_line(text, "not ours", name);
        if (++n <= NAMED)
            names = gradin_arena_print(folder.arena, "%s%s%s", names, n > 1 ? ", " : "", name);
    }
    if (n > NAMED)
        names = gradin_arena_print(folder.arena, "%s and %d more", names ? names : "", n - NAMED);
    if (n > 0 && names)
        say("note: %s holds what no run there wrote, left alone: %s", folder.path, names);
}

static bool write_record(const gradin_arena *read_into, const found_files *now) {
    char *record =
        gradin_arena_print(folder.arena, "%s/run-%s.txt", folder.path, folder.verb->name);
    char *text = gradin_arena_copy_text(folder.arena, "gradin-run-1\n");
    if (!record) return false;
    add_line(&text, "version", GRADIN_VERSION);
    add_line(&text, "verb", folder.verb->name);
    add_arguments(&text);
    add_inputs(&text, record, read_into);
    add_files(&text, now);
    name_the_rest(&text, read_into, now);
    if (!text) return false;
    remove_stale(record, now);
    return gradin_write_file(record, text, strlen(text), NULL) == GRADIN_OK;
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
    if (!is_done && is_listed && !was_marked && !has_result(&now)) remove_mark();
    if (!is_done) return result;
    if (is_listed && write_record(read_into, &now)) {
        remove_mark();
        return result;
    }
    say("%s: the record of the run cannot be written; %s stays there", folder.path, folder.mark);
    return EXIT_MACHINE;
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
    gradin_arena_destroy(folder.arena);
    folder.arena = NULL;
    return result;
}
