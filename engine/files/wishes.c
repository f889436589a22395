/* A file of wishes: the venue, the form, and the few figures that a draft of a layout starts from.
 */
#include "files/wishes.h"
#include "base/use.h"
#include "gradin/files.h"

#include <string.h>

/* `yes`, `no`, or a list of names. */
static void fill_towers(reader *r, const stated_wishes *s, const gradin_venue *v,
                        gradin_wishes *w) {
    const node *list = s->at ? map_get(s->at, "towers") : NULL;
    w->use_tower = alloc(&r->c, v->n_tower, sizeof *w->use_tower);
    if (!w->use_tower || !list) return;
    for (int i = 0; i < v->n_tower; i++) w->use_tower[i] = s->use_towers;
    for (int i = 0; i < s->n_tower; i++) {
        int found = look_up(r, list->child[i], "tower", v->tower, v->n_tower, sizeof *v->tower);
        if (found >= 0) w->use_tower[found] = true;
    }
}

static void fill_arch(reader *r, const stated_arch_wish *s, const gradin_venue *v,
                      gradin_wishes *w) {
    if (!s->at) return;
    w->has_arch = true;
    w->arch_opening_m = s->opening_m;
    w->arch_trim_m = s->trim_m;
    if (!v->arch) complain(r, s->at, "the venue has no arch");
}

static void check_axis(reader *r, const node *root, const gradin_wishes *w) {
    double quarter = w->axis_deg / 90.0;
    if (quarter != floor(quarter) || quarter > 3.0)
        complain(r, map_get(root, "axis_deg"), "must be 0, 90, 180 or 270");
}

static void check_seating(reader *r, const node *at, const gradin_venue *v) {
    if (at && at->kind == NODE_TEXT)
        look_up(r, at, "seating", v->crew.seating, v->crew.n_seating, sizeof *v->crew.seating);
}

static gradin_wishes wishes_of(const reader *r, const stated_wishes *s, const char *path) {
    return (gradin_wishes){.file = path,
                           .units = r->unit_name,
                           .unit_m = r->unit_m,
                           .audience = gradin_audience_defaults(),
                           .limits = gradin_limits_defaults((gradin_form)s->form),
                           .criterion = gradin_criterion_defaults(),
                           .name = s->name,
                           .venue = s->venue,
                           .brief = s->brief,
                           .overflight = s->overflight,
                           .form = (gradin_form)s->form,
                           .axis_deg = s->axis_deg,
                           .stage_width_m = s->stage.width_m,
                           .stage_depth_m = s->stage.depth_m,
                           .stage_height_m = s->stage.height_m,
                           .focus_inset_m = s->stage.focus_inset_m,
                           .focus_above_m = s->stage.focus_above_m,
                           .c_m = s->c_m,
                           .seat_width_m = s->seat_width_m,
                           .row_depth_m = s->row_depth_m,
                           .aisle_m = s->aisle_m,
                           .curve_m = s->curve_m,
                           .n_seat = s->n_seat,
                           .n_wheelchair = s->n_wheelchair,
                           .has_vomitories = s->has_vomitories,
                           .is_symmetric = s->is_symmetric,
                           .shades_closed = s->shades_closed,
                           .seating = s->seating};
}

static void keep_places(const node *root, gradin_wishes *w) {
    static const char *const key[GRADIN_N_WISH] = {"venue",       "stage", "c_value",  "seats",
                                                   "wheelchairs", "arch",  "platforms"};
    for (int i = 0; i < GRADIN_N_WISH; i++) {
        const node *at = map_get(root, key[i]);
        const gradin_place *place = at ? &at->place : &root->place;
        w->at[i] = (gradin_place){w->file, place->line, place->column, key[i]};
    }
}

bool wishes_read(reader *r, const char *path, gradin_wishes *w) {
    stated_wishes s = {0};
    gradin_venue *v = alloc(&r->c, 1, sizeof *v);
    const node *root = v ? SCHEMA_READ_FILE(r, path, &wishes_schema, &s) : NULL;
    if (!root) return false;
    *w = wishes_of(r, &s, path);
    if (!s.venue || !read_venue_beside(r, map_get(root, "venue"), v)) return false;
    w->hall = v;
    if (s.brief) read_brief_beside(r, map_get(root, "brief"), w->form, &w->limits, &w->criterion);
    if (s.overflight) read_pass_beside(r, map_get(root, "overflight"), &w->pass);
    keep_places(root, w);
    check_axis(r, root, w);
    if (s.arch) fill_arch(r, s.arch, v, w);
    if (s.platforms) {
        w->platform_step_m = s.platforms->step_m;
        w->platform_most_m = s.platforms->most_m;
    }
    fill_towers(r, &s, v, w);
    check_seating(r, map_get(root, "seating"), v);
    return complaints_status(&r->c) == GRADIN_OK;
}

gradin_status gradin_wishes_read(gradin_arena *arena, const char *path, gradin_wishes *wishes,
                                 gradin_error *error) {
    if (NEEDS(error, arena, path, wishes) != GRADIN_OK) return GRADIN_BAD_USE;
    char digest[33] = "";
    reader r = {.c = {.arena = arena, .error = error}, .unit_m = 1.0, .digest = digest};
    const char *file = gradin_arena_copy_text(arena, path);
    if (!file) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    wishes_read(&r, file, wishes);
    memcpy(wishes->digest, digest, sizeof digest);
    return complaints_status(&r.c);
}
