/* Paths: of a file beside another, and from one to another. */
#include "gradin/base.h"

#include <errno.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>

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
    if (!above) errno = ENOMEM;
    if (!above || !realpath(above[0] ? above : "/", folder) || !realpath(path, file)) return NULL;
    strcat(folder, "/");
    size_t shared = shared_folders(folder, file);
    char *found = gradin_arena_copy_text(arena, file + shared);
    for (const char *at = folder + shared; *at && found; at++)
        if (*at == '/') found = gradin_arena_print(arena, "../%s", found);
    if (!found) errno = ENOMEM;
    return found;
}
