/* A model from a venue and a layout: what they state is held against itself, the model is built,
 * and what was built is checked. A check assigns nothing. */
#include "base/use.h"
#include "model/build.h"

#include <string.h>

/* Rows of three that differ from the default count as stated, by whoever filled the layout. */
static gradin_limits limits_of(const gradin_layout *p) {
    const gradin_limits usual = gradin_limits_defaults(p->form);
    const gradin_limits any_form = gradin_limits_defaults(GRADIN_FORM_CUSTOM);
    gradin_limits limits = p->limits;
    if (!limits.is_stated[GRADIN_REASON_DISTANCE] &&
        memcmp(limits.distance_max_m, any_form.distance_max_m, sizeof any_form.distance_max_m) == 0)
        memcpy(limits.distance_max_m, usual.distance_max_m, sizeof usual.distance_max_m);
#define STATED(figure, member)                                                                     \
    if (memcmp(limits.member, usual.member, sizeof usual.member) != 0)                             \
    limits.is_stated[GRADIN_REASON_##figure] = true
    STATED(VISIBLE, visible_min);
    STATED(CLEAR_VIEW, clear_view_min);
    STATED(C_VALUE, c_value_min_m);
    STATED(C_VALUE, two_row_c_min_m);
    STATED(DISTANCE, distance_max_m);
    STATED(OFF_AXIS, off_axis_max_deg);
    STATED(DOWN, down_max_deg);
    STATED(TURN, turn_max_deg);
#undef STATED
    if (memcmp(limits.head_gap_min_deg, usual.head_gap_min_deg, sizeof usual.head_gap_min_deg) != 0)
        limits.is_gap_stated = true;
    return limits;
}

static void copy_head(builder *b) {
    gradin_model *m = b->model;
    m->venue_name = b->v->name;
    m->layout_name = b->p->name;
    m->form = b->p->form;
    m->footprint = b->v->footprint;
    m->ceiling_m = b->v->ceiling_m;
    m->floor = b->v->floor;
    m->n_floor = b->v->n_floor;
    m->audience = b->p->audience;
    m->axis_deg = b->p->axis_deg;
    m->c_line = b->p->c_line;
    m->pass = b->p->pass;
    m->room_method = b->p->room_method;
    m->has_diffuse_anyway = b->p->has_diffuse_anyway;
    m->room_patch_m = b->p->room_patch_m;
    m->reverberation = b->p->reverberation;
    m->limits = limits_of(b->p);
    m->criterion = b->p->criterion;
    m->rail_min_m = b->v->rail_min_m;
    m->units = b->p->units;
    m->file = b->p->at ? b->p->at->file : NULL;
    m->venue_file = b->v->at ? b->v->at->file : NULL;
}

/* A floor without a height lies on the surface below its middle, and slopes with it. */
static void lay_on_surface(builder *b, gradin_focus *focus) {
    gradin_vec2 middle_m = gradin_polygon_centroid_m(focus->polygon);
    int section, region = gradin_floor_region_find(b->v->floor, b->v->n_floor, middle_m);
    focus->z_m = gradin_surface_m(b->v, b->p, middle_m, &section);
    if (section >= 0 || region < 0) return;
    focus->slope = gradin_floor_region_slope(&b->v->floor[region], &focus->uphill_deg);
    if (isnan(focus->uphill_deg)) focus->uphill_deg = focus->slope = 0.0;
    for (int i = 0; i < focus->polygon.n_corner && focus->slope > 0.0; i++)
        focus->z_m = fmin(
            focus->z_m, gradin_floor_region_z_m(&b->v->floor[region], focus->polygon.corner_m[i]));
}

/* Solids on which somebody may stand, those no higher than the focus. */
static double highest_below_m(const gradin_solid *solid, int n, gradin_vec2 at_m, double most_m) {
    double top_m = -INFINITY;
    for (int i = 0; i < n; i++)
        if (solid[i].top_m <= most_m && gradin_polygon_contains(solid[i].polygon, at_m))
            top_m = fmax(top_m, solid[i].top_m);
    return top_m;
}

static double over_floor_m(const builder *b, const gradin_focus *f) {
    const double slack_m = 0.001;
    gradin_vec2 middle_m = gradin_polygon_centroid_m(f->polygon);
    double z_m = gradin_focus_z_m(f, middle_m), most_m = z_m + slack_m;
    double below_m = gradin_surface_m(b->v, b->p, middle_m, NULL);
    below_m = fmax(below_m, highest_below_m(b->v->solid, b->v->n_solid, middle_m, most_m));
    below_m = fmax(below_m, highest_below_m(b->p->solid, b->p->n_solid, middle_m, most_m));
    return z_m - below_m;
}

/* Faces over a floor that is an area itself leave nothing out. */
static bool is_raised(const gradin_focus *focus, int n, const gradin_focus *f) {
    if (f->kind != GRADIN_FOCUS_FLOOR || !(f->over_floor_m > GRADIN_FOCUS_OVER_M)) return false;
    gradin_vec2 middle_m = gradin_polygon_centroid_m(f->polygon);
    for (int i = 0; i < n; i++)
        if (focus[i].kind == GRADIN_FOCUS_FLOOR && focus[i].over_floor_m <= GRADIN_FOCUS_OVER_M &&
            gradin_polygon_contains(focus[i].polygon, middle_m))
            return false;
    return true;
}

static bool build_focus(builder *b) {
    gradin_focus *focus = alloc(b->c, b->p->n_focus, sizeof *focus);
    if (!focus) return false;
    for (int i = 0; i < b->p->n_focus; i++) {
        focus[i] = b->p->focus[i];
        if (focus[i].kind == GRADIN_FOCUS_FLOOR && isnan(focus[i].z_m))
            lay_on_surface(b, &focus[i]);
        if (focus[i].kind != GRADIN_FOCUS_FLOOR) continue;
        focus[i].over_floor_m = over_floor_m(b, &focus[i]);
    }
    for (int i = 0; i < b->p->n_focus; i++)
        focus[i].is_raised = is_raised(focus, b->p->n_focus, &focus[i]);
    b->model->focus = focus;
    b->model->n_focus = b->p->n_focus;
    return true;
}

static bool build_model(builder *b) {
    copy_head(b);
    if (!build_focus(b) || !build_decks(b) || !build_obstacles(b) || !build_places(b) ||
        !build_seats(b))
        return false;
    build_solid_sheets(b);
    return build_platforms(b) && build_occluders(b) && build_facade(b) && build_machinery(b) &&
           build_divide(b) && build_drawn(b);
}

/* Each step asks only what makes sense once the one before found nothing. */
static void check_model(builder *b) {
    check_focus(b);
    check_machines(b);
    check_blocks(b);
    check_passages(b);
    if (b->c->n_error == 0) check_levels(b);
    if (b->c->n_error == 0) check_rail_feet(b);
    if (b->c->n_error == 0) check_places(b);
    if (b->c->n_error == 0) check_seats(b);
    if (b->c->n_error == 0) check_scenery(b);
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
    if (complaints_status(&c) == GRADIN_OK) note_doubts(&b);
    model->note = c.note;
    model->n_note = c.n_note;
    return complaints_status(&c);
}
