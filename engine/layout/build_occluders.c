/* Everything that can hide the focus: the audience, rails, obstacles. */
#include "layout/build.h"

/* A head is an ellipsoid whose crown is crown_m above the eye. The eye is at its front: the head's
 * middle lies behind the eye by EYE_TO_MIDDLE of the half length (from memory). */
static const double EYE_TO_MIDDLE = 0.8;
static const double SHOULDER_RADIUS_M = 0.07; /* from memory */
static const double NECK_RADIUS_M = 0.06;     /* from memory */

static gradin_vec3 behind(gradin_vec3 eye_m, double facing_deg, double distance_m, double up_m) {
    gradin_vec2 unit = gradin_bearing_unit(facing_deg);
    return (gradin_vec3){eye_m.x - unit.x * distance_m, eye_m.y - unit.y * distance_m,
                         eye_m.z + up_m};
}

static bool add_head(builder *b, int seat, int name) {
    const gradin_audience *a = &b->p->audience;
    const gradin_seats *s = &b->model->seats;
    gradin_vec3 middle_m =
        behind(s->eye_m[seat], s->facing_deg[seat], EYE_TO_MIDDLE * a->head_length_m / 2.0,
               a->crown_m - a->head_height_m / 2.0);
    gradin_shape head = gradin_ellipsoid(middle_m, s->facing_deg[seat], a->head_length_m / 2.0,
                                         a->head_breadth_m / 2.0, a->head_height_m / 2.0);
    return add_occluder(b, head, GRADIN_CAUSE_HEAD, seat, name);
}

static bool add_shoulders(builder *b, int seat, int name) {
    const gradin_audience *a = &b->p->audience;
    const gradin_seats *s = &b->model->seats;
    gradin_vec3 middle_m =
        behind(s->eye_m[seat], s->facing_deg[seat], EYE_TO_MIDDLE * a->head_length_m / 2.0,
               -a->shoulder_drop_m - SHOULDER_RADIUS_M);
    double half_m = fmax(a->shoulder_breadth_m / 2.0 - SHOULDER_RADIUS_M, 0.0);
    gradin_vec2 right = gradin_bearing_unit(s->facing_deg[seat] + 90.0);
    gradin_vec3 a_m = {middle_m.x - right.x * half_m, middle_m.y - right.y * half_m, middle_m.z};
    gradin_vec3 c_m = {middle_m.x + right.x * half_m, middle_m.y + right.y * half_m, middle_m.z};
    return add_occluder(b, gradin_capsule(a_m, c_m, SHOULDER_RADIUS_M), GRADIN_CAUSE_HEAD, seat,
                        name);
}

/* Between chin and shoulders: without it rays would slip under the chin. */
static bool add_neck(builder *b, int seat, int name) {
    const gradin_audience *a = &b->p->audience;
    const gradin_seats *s = &b->model->seats;
    gradin_vec3 top_m =
        behind(s->eye_m[seat], s->facing_deg[seat], EYE_TO_MIDDLE * a->head_length_m / 2.0,
               a->crown_m - a->head_height_m / 2.0);
    gradin_vec3 foot_m = top_m;
    foot_m.z = s->eye_m[seat].z - a->shoulder_drop_m - SHOULDER_RADIUS_M;
    return add_occluder(b, gradin_capsule(top_m, foot_m, NECK_RADIUS_M), GRADIN_CAUSE_HEAD, seat,
                        name);
}

static bool add_people(builder *b) {
    for (int i = 0; i < b->model->seats.n_seat; i++) {
        int name = add_occluder_name(b, b->model->seats.id[i]);
        if (name < 0 || !add_head(b, i, name) || !add_neck(b, i, name) ||
            !add_shoulders(b, i, name))
            return false;
    }
    return true;
}

static bool add_obstacles(builder *b) {
    for (int i = 0; i < b->n_obstacle; i++) {
        const obstacle *o = &b->obstacle[i];
        bool is_new = i == 0 || o->name != b->obstacle[i - 1].name;
        int name = is_new ? add_occluder_name(b, o->name) : b->n_occluder_name - 1;
        if (name < 0 || !add_occluder(b, gradin_prism(o->polygon, o->bottom_m, o->top_m), o->cause,
                                      GRADIN_NO_OWNER, name))
            return false;
    }
    return true;
}

/* A platform under each row of a floor block that is raised without a lift. */
static bool add_platforms(builder *b) {
    for (int i = 0; i < b->n_place; i++) {
        const place *p = &b->place[i];
        if (p->deck >= 0 || b->p->block[p->block].on != ON_FLOOR || p->z_m < 0.02) continue;
        gradin_polygon under = make_rectangle(b->r, p->at_m, p->facing_deg, p->depth_m, p->width_m);
        int name = add_occluder_name(b, b->block_name[p->block]);
        if (!under.corner_m || name < 0 ||
            !add_occluder(b, gradin_prism(under, 0.0, p->z_m), GRADIN_CAUSE_STRUCTURE,
                          GRADIN_NO_OWNER, name))
            return false;
    }
    return true;
}

bool build_occluders(builder *b) {
    if (!add_people(b) || !build_rails(b) || !add_obstacles(b) || !add_platforms(b)) return false;
    b->model->scene = (gradin_scene){b->occluder, b->n_occluder};
    b->model->occluder_name = b->occluder_name;
    b->model->n_occluder_name = b->n_occluder_name;
    b->model->rail = b->rail;
    b->model->n_rail = b->n_rail;
    return true;
}
