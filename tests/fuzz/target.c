#include "fuzz/target.h"

#include "fuzz/kinds.h"

#include <dirent.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static char folder[64];
static gradin_error error;

static const char *path_of(const char *name) {
    static char path[400];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    return path;
}

static bool write_bytes(const char *path, const void *bytes, size_t size) {
    int fd = open(path, O_WRONLY | O_CREAT | O_TRUNC, 0600);
    bool ok = fd >= 0 && write(fd, bytes, size) == (ssize_t)size;
    if (fd >= 0) close(fd);
    return ok;
}

/* A copy of a good file; the venue's layout is kept twice, once with the input as its venue. */
static bool copy_good(gradin_arena *arena, const char *hall_dir, const char *name) {
    char *bytes = NULL;
    size_t size = 0;
    const char *from = gradin_arena_print(arena, "%s/%s", hall_dir, name);
    if (gradin_read_file(arena, from, 1 << 20, &bytes, &size, NULL) != GRADIN_OK) return false;
    if (!write_bytes(path_of(name), bytes, size)) return false;
    char *venue = strstr(bytes, "venue: venue.yaml");
    if (strcmp(name, "layout.yaml") != 0 || !venue) return strcmp(name, "layout.yaml") != 0;
    memcpy(venue, "venue: input.yaml", 17);
    return write_bytes(path_of("on_input.yaml"), bytes, size);
}

/* Does what is to be done with each file of a folder; false when it fails, or there is none. */
static bool each_file(gradin_arena *arena, const char *dir,
                      bool (*act)(gradin_arena *, const char *, const char *)) {
    DIR *stream = opendir(dir);
    int n = 0;
    bool ok = stream != NULL;
    for (struct dirent *e; ok && (e = readdir(stream));) {
        if (e->d_name[0] == '.') continue;
        ok = act(arena, dir, e->d_name);
        n++;
    }
    if (stream) closedir(stream);
    return ok && n > 0;
}

static bool remove_one(gradin_arena *arena, const char *dir, const char *name) {
    (void)arena, (void)dir;
    return unlink(path_of(name)) == 0;
}

bool target_open(const char *hall_dir, const char *more_dir) {
    gradin_arena *arena = gradin_arena_create();
    strcpy(folder, "/tmp/gradin-fuzz-XXXXXX");
    bool ok = arena && mkdtemp(folder) && each_file(arena, hall_dir, copy_good) &&
              each_file(arena, more_dir, copy_good);
    gradin_arena_destroy(arena);
    return ok;
}

void target_close(void) {
    each_file(NULL, folder, remove_one);
    rmdir(folder);
}

/* A diagnostic goes to a terminal: no control character of the file may reach it. */
static bool is_printable(const char *text) {
    for (; *text; text++)
        if ((unsigned char)*text < 0x20 || *text == 0x7f) return false;
    return true;
}

static const char *judge(gradin_status status) {
    char line[1024];
    for (int i = 0; i < error.n_diagnostic && status == GRADIN_OK; i++)
        if (error.diagnostic[i].family != GRADIN_OK) return "good, yet it has diagnostics";
    if (status == GRADIN_OK) return NULL;
    if (status != GRADIN_BAD_INPUT && status != GRADIN_NUMERIC) return gradin_status_name(status);
    if (error.n_diagnostic == 0) return "refused without a reason";
    for (int i = 0; i < error.n_diagnostic; i++) {
        if (!error.diagnostic[i].text[0]) return "a diagnostic without a text";
        gradin_diagnostic_format(&error.diagnostic[i], line, sizeof line);
        if (!is_printable(line)) return "a diagnostic with a control character";
    }
    return NULL;
}

gradin_status target_run(const fuzz_kind *kind, const void *bytes, size_t size,
                         const char **complaint) {
    gradin_arena *arena = gradin_arena_create();
    gradin_status status = GRADIN_IO_FAILED;
    gradin_error_clear(&error);
    *complaint = "the input cannot be written";
    if (arena && write_bytes(path_of(kind->input), bytes, size)) {
        status = kind->run(arena, folder, bytes, size, &error);
        *complaint = judge(status);
    }
    gradin_arena_destroy(arena);
    return status;
}
