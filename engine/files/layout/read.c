/* A layout file: its venue, machine settings, blocks, rails, solids, focus, audience and brief. */
#include "files/layout/read.h"

#include "gradin/files.h"

/* Another file that this one names; its errors count here. */
static reader beside(reader *r, const node *at, char **path) {
    reader other = *r;
    other.c.n_error = 0;
    other.named_by = at;
    *path = at->kind == NODE_TEXT
                ? note_failure(&r->c, gradin_path_beside(r->c.arena, r->c.file, at->text))
                : NULL;
    if (at->kind != NODE_TEXT) complain(r, at, "must be the name of a file");
    return other;
}

/* Errors and notes. */
static void take_errors(reader *r, const reader *other) {
    r->c.n_error += other->c.n_error;
    r->c.note = other->c.note;
    r->c.n_note = other->c.n_note;
    r->n_triangle = other->n_triangle;
    r->c.note_capacity = other->c.note_capacity;
    if (r->c.failed == GRADIN_OK) r->c.failed = other->c.failed;
}

void read_brief_beside(reader *r, const node *at, gradin_form form, gradin_limits *limits,
                       gradin_criterion *criterion) {
    char *path;
    reader other = beside(r, at, &path);
    if (!path) return;
    brief_read_file(&other, path, form, limits, criterion);
    take_errors(r, &other);
}

void read_pass_beside(reader *r, const node *at, const gradin_pass **found) {
    char *path;
    reader other = beside(r, at, &path);
    gradin_pass *pass = path ? alloc(&r->c, 1, sizeof *pass) : NULL;
    if (!pass) return;
    if (pass_read(&other, path, pass)) *found = pass;
    take_errors(r, &other);
}

bool read_venue_beside(reader *r, const node *at, gradin_venue *v) {
    char *path;
    reader other = beside(r, at, &path);
    bool good = path && venue_read_once(&other, path, v);
    take_errors(r, &other);
    return good;
}

/* The kind of each area follows from the key that it has. */
static void fill_kinds(gradin_focus *focus, int n) {
    for (int i = 0; i < n; i++)
        focus[i].kind = focus[i].line_m                 ? GRADIN_FOCUS_UPRIGHT
                        : focus[i].polygon.n_corner > 0 ? GRADIN_FOCUS_FLOOR
                                                        : GRADIN_FOCUS_POINT;
}

static void fill_head(const stated_layout *s, gradin_layout *p) {
    p->name = s->name;
    p->form = (gradin_form)s->form;
    p->axis_deg = s->axis_deg;
    p->room_method = (gradin_room_method)s->room_method;
    p->has_diffuse_anyway = s->has_diffuse_anyway;
    p->room_patch_m = s->room_patch_m;
    p->reverberation = s->reverberation;
    p->aisle = s->aisle;
    p->n_aisle = s->n_aisle;
    p->passage = s->passage;
    p->n_passage = s->n_passage;
    p->rail = s->rail;
    p->n_rail = s->n_rail;
    fill_kinds(s->focus, s->n_focus);
    p->focus = s->focus;
    p->n_focus = s->n_focus;
    p->c_line = s->c_line;
    p->audience = s->audience;
    p->criterion = s->brief.noise;
}

static void check_population(reader *r, const node *root, const gradin_population *p) {
    const node *audience = map_get(root, "audience");
    if (fabs(p->women + p->men + p->children - 1.0) > 1e-6)
        complain(r, map_get(audience, "population"),
                 "has shares of women, men and children that do not add up to 1");
}

static void fill_rest(reader *r, const node *root, const stated_layout *s, const gradin_venue *v,
                      bool has_venue, gradin_layout *p) {
    const node *audience = map_get(root, "audience");
    if (has_venue) fill_settings(r, &s->machines, v, p);
    if (has_venue) fill_blocks(r, s, v, p);
    if (has_venue) fill_scenery(r, s, v, p);
    fill_solids(r, s->solid, s->n_solid, &p->solid, &p->n_solid);
    if (has_venue && complaints_status(&r->c) == GRADIN_OK) fill_boxes(r, s, p);
    if (audience && map_get(audience, "population"))
        check_population(r, root, &s->audience.population);
    p->limits = fill_limits(r, &s->brief, p->form);
    if (s->brief_file)
        read_brief_beside(r, map_get(root, "brief"), p->form, &p->limits, &p->criterion);
    if (s->overflight) read_pass_beside(r, map_get(root, "overflight"), &p->pass);
    if (complaints_status(&r->c) == GRADIN_OK) fill_seat_lists(r, s, p);
    if (complaints_status(&r->c) == GRADIN_OK && s->n_seat_list > 0) fill_imported(r, s, v, p);
}

bool layout_read(reader *r, const char *path, gradin_venue *v, gradin_layout *p) {
    stated_layout s = {0};
    *p = gradin_layout_empty();
    const node *root = SCHEMA_READ_FILE(r, path, &layout_schema, &s);
    if (!root) return false;
    p->at = &root->place;
    p->units = r->unit_name;
    fill_head(&s, p);
    bool has_venue = s.venue && read_venue_beside(r, map_get(root, "venue"), v);
    if (has_venue) take_status(r, gradin_layout_park(r->c.arena, v, p, r->c.error));
    has_venue = has_venue && r->c.failed == GRADIN_OK;
    fill_rest(r, root, &s, v, has_venue, p);
    return complaints_status(&r->c) == GRADIN_OK;
}
