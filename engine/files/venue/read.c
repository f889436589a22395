/* A venue file: its parts, then every drive in one list, then the rules that name them. */
#include "files/venue/read.h"
#include "base/use.h"
#include "gradin/files.h"

void take_status(reader *r, gradin_status status) {
    if (status == GRADIN_BAD_INPUT)
        r->c.n_error++;
    else if (r->c.failed == GRADIN_OK)
        r->c.failed = status;
}

bool venue_read(reader *r, const char *path, gradin_venue *v) {
    stated_venue s = {0};
    *v = gradin_venue_defaults();
    const node *root = node_read(r, path);
    if (!root || !schema_read_head(r, root, venue_schema.format) || !apply_kinds(r, root))
        return false;
    SCHEMA_READ(r, root, venue_schema.root, &s);
    v->name = s.name;
    v->at = &root->place;
    v->units = r->unit_name;
    fill_room(r, &s.room, v);
    if (s.facade) fill_facade(r, s.facade, v);
    if (s.machines) fill_machines(r, s.machines, v);
    if (complaints_status(&r->c) == GRADIN_OK)
        take_status(r, gradin_venue_complete(r->c.arena, v, r->c.error));
    if (complaints_status(&r->c) == GRADIN_OK && s.machines) fill_interlocks(r, s.machines, v);
    return complaints_status(&r->c) == GRADIN_OK;
}

gradin_status gradin_venue_read(gradin_arena *arena, const char *venue_path, gradin_venue *venue,
                                gradin_error *error) {
    if (NEEDS(error, arena, venue_path, venue) != GRADIN_OK) return GRADIN_BAD_USE;
    reader r = {.c = {.arena = arena, .error = error}, .unit_m = 1.0};
    const char *file = note_failure(&r.c, gradin_arena_copy_text(arena, venue_path));
    if (file) venue_read(&r, file, venue);
    return complaints_status(&r.c);
}
