/* A file of wishes: the venue, the form, and the few figures that a draft of a layout starts from.
 */
#include "files/wishes.h"
#include "gradin/files.h"

#include <string.h>

static const char *const forms[] = {"end_stage", "thrust", "round", "traverse", "flat_floor", NULL};

/* Common practice, no source: a C of 90 mm is met with the head tilted back; an aisle of 1.1 m. */
static const gradin_wishes plain_wishes = {.axis_deg = 180.0,
                                           .focus_inset_m = 1.0,
                                           .c_m = 0.09,
                                           .seat_width_m = 0.55,
                                           .row_depth_m = 0.9,
                                           .aisle_m = 1.1,
                                           .n_wheelchair = -1};

static void read_stage(reader *r, const node *at, gradin_wishes *w) {
    READ(r, at, {"width", FIELD_LENGTH, true, 1, 100, &w->stage_width_m, 0},
         {"depth", FIELD_LENGTH, true, 1, 100, &w->stage_depth_m, 0},
         {"height", FIELD_LENGTH, false, 0, 3, &w->stage_height_m, 0},
         {"focus_inset", FIELD_LENGTH, false, 0, 10, &w->focus_inset_m, 0},
         {"focus_above", FIELD_LENGTH, false, 0, 2, &w->focus_above_m, 0});
}

static void read_arch(reader *r, const node *at, const gradin_venue *v, gradin_wishes *w) {
    if (!READ(r, at, {"opening", FIELD_LENGTH, true, 0.1, 100, &w->arch_opening_m, 0},
              {"trim", FIELD_LENGTH, true, 0.1, 100, &w->arch_trim_m, 0}))
        return;
    w->has_arch = true;
    if (!v->arch) complain(r, at, "the venue has no arch");
}

/* `yes`, `no`, or a list of names. */
static void read_towers(reader *r, const node *at, const gradin_venue *v, gradin_wishes *w) {
    bool is_list = at && at->kind == NODE_LIST;
    bool all = at && at->kind == NODE_TEXT && strcmp(at->text, "yes") == 0;
    w->use_tower = alloc(&r->c, v->n_tower, sizeof *w->use_tower);
    if (!w->use_tower || !at) return;
    if (!is_list && !all && (at->kind != NODE_TEXT || strcmp(at->text, "no") != 0))
        complain(r, at, "must be yes, no or a list of towers");
    for (int i = 0; i < v->n_tower; i++) w->use_tower[i] = all;
    for (int i = 0; is_list && i < at->n_child; i++) {
        const node *name = at->child[i];
        int found = name->kind == NODE_TEXT
                        ? look_up(r, name, "tower", v->tower, v->n_tower, sizeof *v->tower)
                        : -1;
        if (name->kind != NODE_TEXT) complain(r, name, "must be the name of a tower");
        if (found >= 0) w->use_tower[found] = true;
    }
}

static void read_count(reader *r, const node *at, const char *word, int word_value, int most,
                       int *out) {
    double value;
    if (!at) return;
    if (at->kind == NODE_TEXT && strcmp(at->text, word) == 0)
        *out = word_value;
    else if (at->kind == NODE_TEXT && gradin_parse_number(at->text, &value) &&
             value == floor(value) && value >= 0.0 && value <= most)
        *out = (int)value;
    else
        complain(r, at, "must be a whole number up to %d, or '%s'", most, word);
}

static const char *file_name(reader *r, const node *at) {
    if (!at || at->kind == NODE_TEXT) return at ? at->text : NULL;
    complain(r, at, "must be the name of a file");
    return NULL;
}

static void check_axis(reader *r, const node *root, const gradin_wishes *w) {
    double quarter = w->axis_deg / 90.0;
    if (quarter != floor(quarter) || quarter > 3.0)
        complain(r, map_get(root, "axis_deg"), "must be 0, 90, 180 or 270");
}

static void check_seating(reader *r, const node *at, const gradin_venue *v, gradin_wishes *w) {
    if (!at) return;
    w->seating = file_name(r, at);
    if (w->seating)
        look_up(r, at, "seating", v->crew.seating, v->crew.n_seating, sizeof *v->crew.seating);
}

typedef struct parts {
    const node *venue, *stage, *arch, *towers, *seats, *wheelchairs, *brief, *overflight, *seating;
} parts;

static void read_root(reader *r, const node *root, gradin_wishes *w, parts *at) {
    const node *any;
    int form = 0;
    READ(r, root, {"format", FIELD_ANY, true, 0, 0, &any, 0},
         {"units", FIELD_ANY, true, 0, 0, &any, 0}, {"name", FIELD_TEXT, true, 0, 0, &w->name, 0},
         {"venue", FIELD_ANY, true, 0, 0, &at->venue, 0},
         {"form", FIELD_CHOICE, true, 0, 0, &form, forms},
         {"axis_deg", FIELD_NUMBER, false, 0, 360, &w->axis_deg, 0},
         {"stage", FIELD_MAP, true, 0, 0, &at->stage, 0},
         {"c_value", FIELD_LENGTH, false, 0.001, 1, &w->c_m, 0},
         {"seat_width", FIELD_LENGTH, false, 0.4, 1.5, &w->seat_width_m, 0},
         {"row_depth", FIELD_LENGTH, false, 0.6, 3, &w->row_depth_m, 0},
         {"aisle_width", FIELD_LENGTH, false, 0.6, 5, &w->aisle_m, 0},
         {"curve", FIELD_LENGTH, false, 2, 200, &w->curve_m, 0},
         {"seats", FIELD_ANY, false, 0, 0, &at->seats, 0},
         {"wheelchairs", FIELD_ANY, false, 0, 0, &at->wheelchairs, 0},
         {"towers", FIELD_ANY, false, 0, 0, &at->towers, 0},
         {"vomitories", FIELD_FLAG, false, 0, 0, &w->has_vomitories, 0},
         {"arch", FIELD_MAP, false, 0, 0, &at->arch, 0},
         {"shades", FIELD_NUMBER, false, 0, 1, &w->shades_closed, 0},
         {"seating", FIELD_ANY, false, 0, 0, &at->seating, 0},
         {"brief", FIELD_ANY, false, 0, 0, &at->brief, 0},
         {"overflight", FIELD_ANY, false, 0, 0, &at->overflight, 0});
    w->form = (gradin_form)form;
}

static void keep_places(const node *root, gradin_wishes *w) {
    static const char *const key[GRADIN_N_WISH] = {"venue", "stage",       "c_value",
                                                   "seats", "wheelchairs", "arch"};
    for (int i = 0; i < GRADIN_N_WISH; i++) {
        const node *at = map_get(root, key[i]);
        const gradin_place *place = at ? &at->place : &root->place;
        w->at[i] = (gradin_place){w->file, place->line, place->column, key[i]};
    }
}

static void read_rest(reader *r, const node *root, const parts *at, const gradin_venue *v,
                      gradin_wishes *w) {
    keep_places(root, w);
    check_axis(r, root, w);
    if (at->stage) read_stage(r, at->stage, w);
    if (at->arch) read_arch(r, at->arch, v, w);
    read_towers(r, at->towers, v, w);
    read_count(r, at->seats, "most", 0, GRADIN_MAX_SEAT, &w->n_seat);
    read_count(r, at->wheelchairs, "by table", -1, 1000, &w->n_wheelchair);
    check_seating(r, at->seating, v, w);
    w->brief = file_name(r, at->brief);
    w->overflight = file_name(r, at->overflight);
}

bool wishes_read(reader *r, const char *path, gradin_wishes *w) {
    parts at = {0};
    gradin_venue *v = alloc(&r->c, 1, sizeof *v);
    const node *root = node_read(r, path);
    if (!v || !root || !read_head(r, root, "gradin-wishes-1")) return false;
    *w = plain_wishes;
    w->file = path;
    w->units = r->unit_name;
    w->unit_m = r->unit_m;
    w->audience = gradin_audience_defaults();
    read_root(r, root, w, &at);
    w->venue = file_name(r, at.venue);
    if (!w->venue || !read_venue_beside(r, at.venue, v)) return false;
    w->hall = v;
    read_rest(r, root, &at, v, w);
    return complaints_status(&r->c) == GRADIN_OK;
}

gradin_status gradin_wishes_read(gradin_arena *arena, const char *path, gradin_wishes *wishes,
                                 gradin_error *error) {
    if (!arena || !path || !wishes) return GRADIN_BAD_USE;
    reader r = {.c = {.arena = arena, .error = error}, .unit_m = 1.0};
    const char *file = gradin_arena_copy_text(arena, path);
    if (!file) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    wishes_read(&r, file, wishes);
    return complaints_status(&r.c);
}
