/* A layout file: its venue, machine settings, blocks, rails, solids, focus, audience and brief. */
#include "files/layout_read.h"

#include <string.h>

static const char *const form_names[] = {"end_stage",  "thrust", "round", "traverse",
                                         "flat_floor", "custom", NULL};
static const char *const room_methods[] = {"diffuse", "radiosity", NULL};

static void read_aisles(reader *r, const node *list, gradin_layout *p) {
    gradin_area *made = alloc(&r->c, list->n_child, sizeof *made);
    if (!made) return;
    for (int i = 0; i < list->n_child; i++)
        READ(r, list->child[i], {"name", FIELD_TEXT, true, 0, 0, &made[i].name, 0},
             {"polygon", FIELD_POLYGON, true, 0, 0, &made[i].polygon, 0});
    check_names(r, list, made, list->n_child, sizeof *made);
    p->aisle = made;
    p->n_aisle = list->n_child;
}

static void read_rail(reader *r, const node *at, double rail_min_m, gradin_rail_entry *rail) {
    const node *path = NULL;
    gradin_vec2 *point_m = NULL;
    int kind = GRADIN_RAIL_BAR;
    *rail = gradin_rail_entry_defaults();
    rail->at = &at->place;
    READ(r, at, {"name", FIELD_TEXT, true, 0, 0, &rail->name, 0},
         {"kind", FIELD_CHOICE, true, 0, 0, &kind, rail_kind_names},
         {"path", FIELD_LIST, true, 0, 0, &path, 0},
         {"height", FIELD_LENGTH, true, 0.1, 5.0, &rail->height_m, 0},
         {"thickness", FIELD_LENGTH, false, 0.01, 0.5, &rail->thickness_m, 0},
         {"bars", FIELD_INTEGER, false, 1, 20, &rail->n_bar, 0},
         {"post_spacing", FIELD_LENGTH, false, 0.1, 10, &rail->post_spacing_m, 0},
         {"foot", FIELD_LENGTH, false, -20, 100, &rail->foot_m, 0});
    rail->kind = (gradin_rail_kind)kind;
    if (path) read_points(r, path, 2, &point_m, &rail->n_point);
    rail->point_m = point_m;
    refuse_low_rail(r, at, rail->height_m, rail_min_m);
}

static void read_rails(reader *r, const node *list, const gradin_venue *v, gradin_layout *p) {
    gradin_rail_entry *made = alloc(&r->c, list->n_child, sizeof *made);
    if (!made) return;
    for (int i = 0; i < list->n_child; i++) read_rail(r, list->child[i], v->rail_min_m, &made[i]);
    check_names(r, list, made, list->n_child, sizeof *made);
    p->rail = made;
    p->n_rail = list->n_child;
}

static void read_focus(reader *r, const node *list, gradin_layout *p) {
    if (list->n_child < 1 || list->n_child > GRADIN_MAX_FOCUS) {
        complain(r, list, "has %d areas; 1 to %d are allowed", list->n_child, GRADIN_MAX_FOCUS);
        return;
    }
    gradin_focus *made = alloc(&r->c, list->n_child, sizeof *made);
    if (!made) return;
    for (int i = 0; i < list->n_child; i++) {
        gradin_focus *f = &made[i];
        *f = gradin_focus_defaults();
        f->at = &list->child[i]->place;
        READ(r, list->child[i], {"name", FIELD_TEXT, true, 0, 0, &f->name, 0},
             {"polygon", FIELD_POLYGON, true, 0, 0, &f->polygon, 0},
             {"z", FIELD_LENGTH, false, -30, 50, &f->z_m, 0},
             {"weight", FIELD_NUMBER, false, 1e-6, 1e6, &f->weight, 0});
    }
    check_names(r, list, made, list->n_child, sizeof *made);
    p->focus = made;
    p->n_focus = list->n_child;
}

static void read_audience(reader *r, const node *at, gradin_audience *a) {
    const node *population = NULL;
    READ(r, at, {"eye_height", FIELD_LENGTH, false, 0.3, 2.2, &a->eye_height_m, 0},
         {"wheelchair_eye_height", FIELD_LENGTH, false, 0.3, 2.2, &a->wheelchair_eye_height_m, 0},
         {"standing_eye_height", FIELD_LENGTH, false, 0.8, 2.5, &a->standing_eye_height_m, 0},
         {"crown", FIELD_LENGTH, false, 0.01, 0.4, &a->crown_m, 0},
         {"head_height", FIELD_LENGTH, false, 0.05, 0.6, &a->head_height_m, 0},
         {"head_breadth", FIELD_LENGTH, false, 0.05, 0.6, &a->head_breadth_m, 0},
         {"head_length", FIELD_LENGTH, false, 0.05, 0.6, &a->head_length_m, 0},
         {"shoulder_breadth", FIELD_LENGTH, false, 0.15, 1.0, &a->shoulder_breadth_m, 0},
         {"shoulder_drop", FIELD_LENGTH, false, 0.05, 0.6, &a->shoulder_drop_m, 0},
         {"eye_distance", FIELD_LENGTH, false, 0.04, 0.09, &a->eye_distance_m, 0},
         {"population", FIELD_MAP, false, 0, 0, &population, 0});
    if (population) population_read(r, population, &a->population);
}

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

static void read_brief(reader *r, const node *at, gradin_layout *p) {
    char *path;
    if (at->kind == NODE_MAP) {
        brief_read_map(r, at, &p->limits, &p->criterion);
        return;
    }
    reader other = beside(r, at, &path);
    if (!path) return;
    brief_read_file(&other, path, &p->limits, &p->criterion);
    take_errors(r, &other);
}

static void read_overflight(reader *r, const node *at, gradin_layout *p) {
    char *path;
    reader other = beside(r, at, &path);
    gradin_pass *pass = path ? alloc(&r->c, 1, sizeof *pass) : NULL;
    if (!pass) return;
    if (pass_read(&other, path, pass)) p->pass = pass;
    take_errors(r, &other);
}

bool read_venue_beside(reader *r, const node *at, gradin_venue *v) {
    char *path;
    reader other = beside(r, at, &path);
    bool good = path && venue_read(&other, path, v);
    take_errors(r, &other);
    return good;
}

typedef struct parts {
    const node *venue, *machines, *blocks, *aisles, *rails, *solids, *focus, *audience, *brief;
    const node *overflight;
} parts;

static bool read_root(reader *r, const node *root, gradin_layout *p, parts *found) {
    const node *any;
    int form = GRADIN_FORM_CUSTOM, method = GRADIN_ROOM_DIFFUSE;
    bool good = READ(r, root, {"format", FIELD_ANY, true, 0, 0, &any, 0},
                     {"units", FIELD_ANY, true, 0, 0, &any, 0},
                     {"name", FIELD_TEXT, true, 0, 0, &p->name, 0},
                     {"venue", FIELD_ANY, true, 0, 0, &found->venue, 0},
                     {"form", FIELD_CHOICE, true, 0, 0, &form, form_names},
                     {"axis_deg", FIELD_NUMBER, false, 0, 360, &p->axis_deg, 0},
                     {"machines", FIELD_MAP, false, 0, 0, &found->machines, 0},
                     {"blocks", FIELD_LIST, false, 0, 0, &found->blocks, 0},
                     {"aisles", FIELD_LIST, false, 0, 0, &found->aisles, 0},
                     {"rails", FIELD_LIST, false, 0, 0, &found->rails, 0},
                     {"solids", FIELD_LIST, false, 0, 0, &found->solids, 0},
                     {"focus", FIELD_LIST, true, 0, 0, &found->focus, 0},
                     {"audience", FIELD_MAP, false, 0, 0, &found->audience, 0},
                     {"brief", FIELD_ANY, false, 0, 0, &found->brief, 0},
                     {"overflight", FIELD_ANY, false, 0, 0, &found->overflight, 0},
                     {"room_method", FIELD_CHOICE, false, 0, 0, &method, room_methods},
                     {"room_patch", FIELD_LENGTH, false, 0.3, 10, &p->room_patch_m, 0});
    p->form = (gradin_form)form;
    p->room_method = (gradin_room_method)method;
    return good;
}

static void read_parts(reader *r, const parts *found, const gradin_venue *v, bool has_venue,
                       gradin_layout *p) {
    if (has_venue) layout_read_machines(r, found->machines, v, p);
    if (has_venue && found->blocks) layout_read_blocks(r, found->blocks, v, p);
    if (found->aisles) read_aisles(r, found->aisles, p);
    if (has_venue && found->rails) read_rails(r, found->rails, v, p);
    if (found->solids) read_solids(r, found->solids, &p->solid, &p->n_solid);
    if (found->focus) read_focus(r, found->focus, p);
    if (found->audience) read_audience(r, found->audience, &p->audience);
    if (found->brief) read_brief(r, found->brief, p);
    if (found->overflight) read_overflight(r, found->overflight, p);
    if (complaints_status(&r->c) == GRADIN_OK && found->blocks)
        layout_read_seat_lists(r, found->blocks, p);
}

bool layout_read(reader *r, const char *path, gradin_venue *v, gradin_layout *p) {
    const node *root = node_read(r, path);
    parts found = {0};
    *p = empty_layout();
    if (!root || !read_head(r, root, "gradin-layout-1")) return false;
    p->at = &root->place;
    p->units = r->unit_name;
    read_root(r, root, p, &found);
    bool has_venue = found.venue && read_venue_beside(r, found.venue, v);
    if (has_venue) has_venue = park_machines(&r->c, v, p);
    read_parts(r, &found, v, has_venue, p);
    return complaints_status(&r->c) == GRADIN_OK;
}
