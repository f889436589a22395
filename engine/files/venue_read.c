/* A venue file: its parts, then every drive in one list, then the rules that name them. */
#include "files/venue_read.h"
#include "gradin/files.h"

static void read_interlocks(reader *r, const node *machines, gradin_venue *v) {
    const node *interlocks = machines ? map_get(machines, "interlocks") : NULL;
    complete_venue(&r->c, v);
    if (r->c.failed == GRADIN_OK) venue_read_interlocks(r, interlocks, v);
}

bool venue_read(reader *r, const char *path, gradin_venue *v) {
    const node *root = node_read(r, path), *any, *room = NULL, *facade = NULL, *machines = NULL;
    *v = gradin_venue_defaults();
    if (!root || !read_head(r, root, "gradin-venue-1")) return false;
    READ(r, root, {"format", FIELD_ANY, true, 0, 0, &any, 0},
         {"units", FIELD_ANY, true, 0, 0, &any, 0}, {"name", FIELD_TEXT, true, 0, 0, &v->name, 0},
         {"room", FIELD_MAP, true, 0, 0, &room, 0}, {"facade", FIELD_MAP, false, 0, 0, &facade, 0},
         {"machines", FIELD_MAP, false, 0, 0, &machines, 0});
    v->at = &root->place;
    if (room) venue_read_room(r, room, v);
    if (facade) venue_read_facade(r, facade, v);
    if (machines) venue_read_machines(r, machines, v);
    if (complaints_status(&r->c) == GRADIN_OK) read_interlocks(r, machines, v);
    if (complaints_status(&r->c) == GRADIN_OK) check_venue(&r->c, v);
    return complaints_status(&r->c) == GRADIN_OK;
}

void refuse_low_rail(reader *r, const node *at, double height_m, double rail_min_m) {
    check_rail_height(&r->c, &at->place, NULL, height_m, rail_min_m, r->unit_name);
}

gradin_status gradin_venue_read(gradin_arena *arena, const char *venue_path, gradin_venue *venue,
                                gradin_error *error) {
    if (!arena || !venue_path || !venue) return GRADIN_BAD_USE;
    reader r = {.c = {.arena = arena, .error = error}, .unit_m = 1.0};
    const char *file = note_failure(&r.c, gradin_arena_copy_text(arena, venue_path));
    if (file) venue_read(&r, file, venue);
    return complaints_status(&r.c);
}
