/* The room of a picture: the model's occluders with what they are, then what is drawn besides. */
#include "sightline/view/view.h"

#include <string.h>

static gradin_view_thing part_of(const gradin_shape *s) {
    if (s->kind == GRADIN_SHAPE_ELLIPSOID) return GRADIN_VIEW_HEAD;
    bool is_upright =
        s->kind == GRADIN_SHAPE_CAPSULE && fabs(s->as.capsule.a_m.z - s->as.capsule.b_m.z) > 1e-6;
    return is_upright ? GRADIN_VIEW_NECK : GRADIN_VIEW_SHOULDERS;
}

static view_label label_of(const gradin_occluder *o) {
    static const uint8_t thing[GRADIN_N_CAUSE] = {[GRADIN_CAUSE_RAIL] = GRADIN_VIEW_RAIL,
                                                  [GRADIN_CAUSE_STRUCTURE] = GRADIN_VIEW_STRUCTURE,
                                                  [GRADIN_CAUSE_ARCH] = GRADIN_VIEW_ARCH};
    if (o->cause == GRADIN_CAUSE_HEAD) return (view_label){(uint8_t)part_of(&o->shape), o->owner};
    bool is_panel = o->cause == GRADIN_CAUSE_RAIL && o->shape.kind != GRADIN_SHAPE_CAPSULE;
    return (view_label){is_panel ? GRADIN_VIEW_PANEL : thing[o->cause], o->name};
}

/* All of the model's and more than what is drawn besides, mostly: a list that grows leaves the
 * smaller ones behind in the arena, and that of five million triangles has 640 MB. */
static bool reserve(view_room *room) {
    enum { FEW = 4096, PER_SEAT = 8 };
    int n = room->model->scene.n_occluder + FEW + PER_SEAT * room->model->seats.n_seat;
    room->occluder = gradin_arena_alloc(room->arena, (size_t)n, sizeof *room->occluder);
    room->label = gradin_arena_alloc(room->arena, (size_t)n, sizeof *room->label);
    room->capacity = room->label_capacity = n;
    return room->occluder && room->label;
}

static bool add_counted(view_room *room) {
    const gradin_scene *scene = &room->model->scene;
    for (int k = 0; k < scene->n_occluder; k++) {
        const gradin_occluder *o = &scene->occluder[k];
        view_label label = label_of(o);
        if (!view_add(room, o->shape, o->owner, (gradin_view_thing)label.thing, label.what))
            return false;
    }
    room->n_counted = room->n;
    return true;
}

static double reach_m(const view_room *room, gradin_vec3 eye_m) {
    double far_m = 1.0;
    for (int k = 0; k < room->n; k++) {
        const gradin_shape *s = &room->occluder[k].shape;
        far_m = fmax(far_m, gradin_norm(gradin_sub(s->bound_centre_m, eye_m)) + s->bound_radius_m);
    }
    return 1.01 * far_m;
}

bool view_room_build(gradin_arena *arena, const gradin_model *model, const sight_focus *focus,
                     const gradin_view *view, view_room *room) {
    *room = (view_room){.arena = arena, .model = model};
    if (!reserve(room) || !add_counted(room) || !view_furnish(room, view)) return false;
    room->far_m = reach_m(room, view->eye_m);
    const gradin_scene all = {room->occluder, room->n};
    room->all = gradin_mask_scene_create(arena, &all, focus->lie);
    room->own = gradin_mask_scene_create(arena, &model->scene, focus->lie);
    return room->all && room->own;
}
