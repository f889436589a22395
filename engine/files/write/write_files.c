/* Venues and layouts as text. */
#include "base/use.h"
#include "files/write/state.h"
#include "files/write/write.h"

gradin_status gradin_venue_write(gradin_arena *arena, const gradin_venue *venue, const char *units,
                                 const gradin_write_options *options, char **text,
                                 gradin_error *error) {
    if (NEEDS(error, arena, venue, text) != GRADIN_OK) return GRADIN_BAD_USE;
    complaints c = {.arena = arena, .error = error};
    schema_text out = writer_open(arena, units, options);
    stated_venue s = {0};
    gradin_status status = gradin_venue_check(arena, venue, error);
    if (status != GRADIN_OK) return status;
    state_venue(&c, venue, out.unit_m, &s);
    if (complaints_status(&c) != GRADIN_OK) return complaints_status(&c);
    if (options && options->head) schema_put(&out, "%s", options->head);
    SCHEMA_WRITE(&out, venue_schema.root, &s, 0);
    return writer_close(&c, &out, text);
}

/* The layout's own lists, as the tables read them. */
static void share_lists(const gradin_layout *p, stated_layout *s) {
    s->aisle = (gradin_area *)(uintptr_t)p->aisle;
    s->n_aisle = p->n_aisle;
    s->passage = (gradin_passage *)(uintptr_t)p->passage;
    s->n_passage = p->n_passage;
    s->c_line = (gradin_c_line *)(uintptr_t)p->c_line;
    s->reverberation = (gradin_reverberation *)(uintptr_t)p->reverberation;
}

/* Of each area only what its kind has. */
static void state_focus(complaints *c, const gradin_layout *p, stated_layout *s) {
    s->focus = alloc(c, p->n_focus, sizeof *s->focus);
    s->n_focus = s->focus ? p->n_focus : 0;
    for (int i = 0; i < s->n_focus; i++) {
        gradin_focus f = p->focus[i];
        if (f.kind != GRADIN_FOCUS_FLOOR) f.polygon = (gradin_polygon){0};
        if (f.kind != GRADIN_FOCUS_UPRIGHT) f.n_line = 0;
        if (f.kind != GRADIN_FOCUS_FLOOR || f.slope == 0.0) f.uphill_deg = NAN;
        s->focus[i] = f;
    }
}

static void state_layout(complaints *c, const gradin_venue *v, const gradin_layout *p,
                         const gradin_layout_files *files, stated_layout *s) {
    *s = (stated_layout){.name = p->name,
                         .venue = files->venue,
                         .brief_file = files->brief,
                         .overflight = files->overflight,
                         .form = (int)p->form,
                         .room_method = (int)p->room_method,
                         .has_diffuse_anyway = p->has_diffuse_anyway,
                         .axis_deg = p->axis_deg,
                         .room_patch_m = p->room_patch_m,
                         .machines = state_settings(c, v, p),
                         .audience = p->audience};
    s->block = state_blocks(c, v, p, &s->n_block);
    s->seat_list = state_seat_lists(c, p, &s->n_seat_list);
    s->boxes = state_boxes(c, p, &s->n_boxes);
    const gradin_solid *solid = own_solids(c, p, &s->n_solid);
    s->solid = state_solids(c, solid, s->n_solid);
    s->rail = own_rails(c, p, &s->n_rail);
    s->scenery = state_scenery(c, v, p);
    s->n_scenery = s->scenery ? p->n_scenery : 0;
    share_lists(p, s);
    state_focus(c, p, s);
    schema_set_presets(&brief_table, &s->brief);
    if (!files->brief) {
        state_rating(c, p, &s->brief.rating);
        s->brief.noise = p->criterion;
    }
    if (p->pass && !files->overflight)
        misuse(c, "the layout has a pass: files.overflight must name the file that it stands in");
}

gradin_status gradin_layout_write(gradin_arena *arena, const gradin_venue *venue,
                                  const gradin_layout *layout, const gradin_layout_files *files,
                                  const gradin_write_options *options, char **text,
                                  gradin_error *error) {
    if (NEEDS(error, arena, venue, layout, files, text) != GRADIN_OK) return GRADIN_BAD_USE;
    complaints c = {.arena = arena, .error = error};
    schema_text out = writer_open(arena, layout->units, options);
    stated_layout s = {0};
    gradin_status status = gradin_layout_check(arena, venue, layout, error);
    if (status != GRADIN_OK) return status;
    state_layout(&c, venue, layout, files, &s);
    if (complaints_status(&c) != GRADIN_OK) return complaints_status(&c);
    if (options && options->head) schema_put(&out, "%s", options->head);
    SCHEMA_WRITE(&out, layout_schema.root, &s, 0);
    return writer_close(&c, &out, text);
}
