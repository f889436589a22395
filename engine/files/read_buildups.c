/* Build-ups without a model: those of a venue, or one measured curve. */
#include "base/use.h"
#include "files/venue/read.h"
#include "gradin/files.h"

#include <string.h>

static bool pick(reader *r, const char *file, const gradin_venue *v, const char *const *name,
                 int n_name, gradin_buildups *found) {
    gradin_buildup *made = alloc(&r->c, n_name, sizeof *made);
    if (!made) return false;
    for (int i = 0; i < n_name; i++) {
        const node at = {.kind = NODE_TEXT, .place = {.file = file, .key = ""}, .text = name[i]};
        int k = look_up(r, &at, "build-up", v->buildup, v->n_buildup, sizeof *v->buildup);
        if (k >= 0 && index_of(made, i, sizeof *made, name[i]) >= 0)
            complain(r, &at, "build-up '%s' is named twice", name[i]);
        if (k >= 0) made[i] = v->buildup[k];
    }
    found->buildup = made;
    found->n_buildup = n_name;
    return r->c.n_error == 0;
}

gradin_status gradin_buildups_read(gradin_arena *arena, const char *venue_path,
                                   const char *const *name, int n_name, gradin_buildups *found,
                                   gradin_error *error) {
    if (NEEDS(error, arena, venue_path, found) != GRADIN_OK ||
        (n_name > 0 && NEEDS(error, name) != GRADIN_OK))
        return GRADIN_BAD_USE;
    gradin_venue v = {0};
    *found = (gradin_buildups){0};
    reader r = {.c = {.arena = arena, .error = error}, .unit_m = 1.0, .digest = found->digest};
    const char *file = note_failure(&r.c, gradin_arena_copy_text(arena, venue_path));
    if (!file || !venue_read(&r, file, &v)) return complaints_status(&r.c);
    found->source = v.name;
    found->buildup = v.buildup;
    found->n_buildup = v.n_buildup;
    found->shade = v.shade;
    found->n_shade = v.n_shade;
    if (n_name > 0 && !pick(&r, file, &v, name, n_name, found)) return complaints_status(&r.c);
    found->note = r.c.note;
    found->n_note = r.c.n_note;
    return complaints_status(&r.c);
}

gradin_status gradin_curve_read(gradin_arena *arena, const char *csv_path, gradin_buildups *found,
                                gradin_error *error) {
    if (NEEDS(error, arena, csv_path, found) != GRADIN_OK) return GRADIN_BAD_USE;
    *found = (gradin_buildups){.n_buildup = 1};
    reader r = {.c = {.arena = arena, .error = error}, .unit_m = 1.0, .digest = found->digest};
    gradin_buildup *made = alloc(&r.c, 1, sizeof *made);
    r.c.file = note_failure(&r.c, gradin_arena_copy_text(arena, csv_path));
    if (!made || !r.c.file || !read_run(&r, NULL, r.c.file, made)) return complaints_status(&r.c);
    const char *slash = strrchr(r.c.file, '/');
    made->name = found->source = slash ? slash + 1 : r.c.file;
    made->sample_m2 = NAN;
    found->buildup = made;
    return complaints_status(&r.c);
}
