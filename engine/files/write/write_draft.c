/* The file of a layout that was drafted from wishes. It names the venue, the brief and the
 * overflight of the wishes as seen from its own folder. */
#include "base/use.h"
#include "files/write/write.h"
#include "gradin/files.h"

#include <string.h>

static const char head[] =
    "# Drafted by gradin from the wishes of %s: a start to edit.\n"
    "# It approves nothing: rails, guards, egress, loads and moving machinery are for the local "
    "code,\n# the makers' procedure and a licensed professional.\n"
    "# Rails stand at every edge with a drop over the venue's own guard_drop, but the stage's.\n";

static const char *file_part(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

/* *seen stays NULL for a file that the wishes do not name. */
static gradin_status look_from(gradin_arena *arena, const gradin_wishes *w, const char *name,
                               const char *layout_path, const char **seen, gradin_error *error) {
    *seen = NULL;
    if (!name) return GRADIN_OK;
    char *path = gradin_path_beside(arena, w->file, name);
    if (!path) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    return written_path(arena, name, path, layout_path, seen, error);
}

gradin_status gradin_draft_write(gradin_arena *arena, const gradin_wishes *wishes,
                                 const gradin_layout *layout, const char *layout_path, char **text,
                                 gradin_error *error) {
    gradin_layout_files files = {0};
    gradin_status status = GRADIN_OK;
    if (NEEDS(error, arena, wishes, layout, layout_path, text) != GRADIN_OK ||
        NEEDS(error, wishes->file, wishes->hall) != GRADIN_OK)
        return GRADIN_BAD_USE;
    const char *const name[] = {wishes->venue, wishes->brief, wishes->overflight};
    const char **seen[] = {&files.venue, &files.brief, &files.overflight};
    for (int i = 0; i < 3 && status == GRADIN_OK; i++)
        status = look_from(arena, wishes, name[i], layout_path, seen[i], error);
    if (status != GRADIN_OK) return status;
    const gradin_write_options options = {
        .head = gradin_arena_print(arena, head, file_part(wishes->file)),
        .is_rounded = true,
        .decimals = wishes->unit_m == 1.0 ? 4 : 9};
    if (!options.head) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    return gradin_layout_write(arena, wishes->hall, layout, &files, &options, text, error);
}
