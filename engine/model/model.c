/* A model from a venue and a layout: what they state is held against itself, the model is built,
 * and what was built is checked. A check assigns nothing. */
#include "base/use.h"
#include "model/build.h"

#include <string.h>

static void copy_head(builder *b) {
    gradin_model *m = b->model;
    m->venue_name = b->v->name;
    m->layout_name = b->p->name;
    m->form = b->p->form;
    m->footprint = b->v->footprint;
    m->ceiling_m = b->v->ceiling_m;
    m->audience = b->p->audience;
    m->axis_deg = b->p->axis_deg;
    m->pass = b->p->pass;
    m->room_method = b->p->room_method;
    m->room_patch_m = b->p->room_patch_m;
    m->limits = b->p->limits;
    m->criterion = b->p->criterion;
    m->rail_min_m = b->v->rail_min_m;
    m->units = b->p->units;
}

static bool build_model(builder *b) {
    copy_head(b);
    if (!build_focus(b) || !build_decks(b) || !build_obstacles(b) || !build_places(b) ||
        !build_seats(b))
        return false;
    build_solid_sheets(b);
    return build_occluders(b) && build_facade(b) && build_machinery(b) && build_divide(b) &&
           build_drawn(b);
}

/* Each step asks only what makes sense once the one before found nothing. */
static void check_model(builder *b) {
    check_focus(b);
    check_machines(b);
    check_blocks(b);
    if (b->c->n_error == 0) check_places(b);
    if (b->c->n_error == 0) check_seats(b);
}

gradin_status gradin_model_build(gradin_arena *arena, const gradin_venue *venue,
                                 const gradin_layout *layout, gradin_model *model,
                                 gradin_error *error) {
    if (NEEDS(error, arena, venue, layout, model) != GRADIN_OK) return GRADIN_BAD_USE;
    complaints c = {.arena = arena, .error = error};
    builder b = {.c = &c, .v = venue, .p = layout, .model = model};
    memset(model, 0, sizeof *model);
    gradin_status status = gradin_layout_check(arena, venue, layout, error);
    if (status != GRADIN_OK) return status;
    if (layout->at) c.file = layout->at->file;
    if (build_model(&b)) check_model(&b);
    return complaints_status(&c);
}
