/* Facade entries become elements on the room's walls, and the room's surfaces get their areas. */
#include "model/build.h"

static bool add_element(builder *b, gradin_element *made, int entry, int bay) {
    const gradin_facade_entry *e = &b->v->facade[entry];
    gradin_vec2 along = gradin_bearing_unit(e->bearing_deg);
    gradin_vec2 corner_m = {e->start_m.x + along.x * e->width_m * bay,
                            e->start_m.y + along.y * e->width_m * bay};
    gradin_vec2 middle_m = {corner_m.x + along.x * e->width_m / 2.0,
                            corner_m.y + along.y * e->width_m / 2.0};
    *made = (gradin_element){
        .name = e->count > 1 ? print_text(b->c, "%s-%d", e->name, bay + 1) : e->name,
        .entry = e->name,
        .kind = e->kind,
        .corner_m = {corner_m.x, corner_m.y, e->sill_m},
        .along = along,
        .outward = outward_at(b, middle_m, along),
        .width_m = e->width_m,
        .height_m = e->height_m,
        .tilt_deg = e->tilt_deg,
        .wall_top_m = b->v->ceiling_m,
        .buildup = e->buildup,
        .shade = e->shade,
        .joint_m = isinf(e->joint_r_db) ? 0.0 : 2.0 * (e->width_m + e->height_m),
        .joint_r_db = e->joint_r_db,
        .open = e->kind == GRADIN_ELEMENT_DOOR
                    ? gradin_layout_state(b->v, b->p, GRADIN_MACHINE_DOOR, entry)->set.position
                    : 0.0,
        .exit = e->exit};
    for (int k = 0; k < GRADIN_N_BAND; k++) {
        made->dn_e_db[k] = e->dn_e_db[k];
        made->joint_shape_db[k] = e->joint_shape_db[k];
    }
    return made->name != NULL;
}

static bool add_roof_vent(builder *b, gradin_element *made, int entry) {
    if (!add_element(b, made, entry, 0)) return false;
    made->width_m = made->height_m = made->joint_m = 0.0;
    return true;
}

/* A vent has no extent: along and outward come from the wall it sits in. */
static bool add_vent(builder *b, gradin_element *made, int entry) {
    const gradin_facade_entry *e = &b->v->facade[entry];
    if (e->tilt_deg > 0.0) return add_roof_vent(b, made, entry);
    int edge = 0;
    gradin_vec2 near_m = gradin_polygon_nearest_m(b->v->footprint, e->start_m, &edge);
    gradin_vec2 from = b->v->footprint.corner_m[edge];
    gradin_vec2 to = b->v->footprint.corner_m[(edge + 1) % b->v->footprint.n_corner];
    if (!add_element(b, made, entry, 0)) return false;
    made->along = gradin_bearing_unit(gradin_bearing_deg(to.x - from.x, to.y - from.y));
    made->outward = outward_at(b, near_m, made->along);
    made->width_m = made->height_m = made->joint_m = 0.0;
    return true;
}

static bool build_elements(builder *b) {
    for (int i = 0; i < b->v->n_facade; i++) {
        const gradin_facade_entry *e = &b->v->facade[i];
        bool is_vent = e->kind == GRADIN_ELEMENT_VENT;
        if (e->kind == GRADIN_ELEMENT_WALL || e->kind == GRADIN_ELEMENT_ROOF) continue;
        for (int bay = 0; bay < e->count; bay++) {
            gradin_element *made = blank_element(b);
            if (!made || !(is_vent ? add_vent(b, made, i) : add_element(b, made, i, bay)))
                return false;
            b->model->n_element++;
        }
    }
    return true;
}

static gradin_surface surface(const char *name, double area_m2, const double *absorption) {
    gradin_surface made = {.name = name, .area_m2 = fmax(area_m2, 0.0)};
    for (int i = 0; i < GRADIN_N_BAND; i++) made.absorption[i] = absorption[i];
    return made;
}

static bool build_surfaces(builder *b) {
    gradin_model *m = b->model;
    const gradin_seats *s = &m->seats;
    gradin_surface *made = alloc(b->c, 4 + b->v->n_extra, sizeof *made);
    if (!made) return false;
    double floor_m2 = gradin_polygon_area_m2(b->v->footprint), seating_m2 = 0.0, facade_m2 = 0.0;
    for (int i = 0; i < s->n_seat; i++) seating_m2 += s->width_m[i] * s->depth_m[i];
    double overhead_m2 = 0.0;
    for (int i = 0; i < m->n_element; i++) {
        const gradin_element *e = &m->element[i];
        double area_m2 = e->width_m * e->height_m * (1.0 - e->taken);
        *(gradin_element_is_overhead(e) ? &overhead_m2 : &facade_m2) += area_m2;
    }
    made[0] = surface("floor", floor_m2 - seating_m2, b->v->floor_absorption);
    made[1] = surface("ceiling", floor_m2 - overhead_m2, b->v->ceiling_absorption);
    made[2] = surface("walls", perimeter_m(b->v->footprint) * b->v->ceiling_m - facade_m2,
                      b->v->wall_absorption);
    made[3] = surface("occupied seating", seating_m2, b->v->seating_absorption);
    for (int i = 0; i < b->v->n_extra; i++) made[4 + i] = b->v->extra[i];
    m->surface = made;
    m->n_surface = 4 + b->v->n_extra;
    m->volume_m3 = floor_m2 * b->v->ceiling_m;
    return true;
}

bool build_facade(builder *b) {
    gradin_shade *shade = alloc(b->c, b->v->n_shade, sizeof *shade);
    if (!shade || !build_elements(b) || !build_envelope(b) || !build_surfaces(b)) return false;
    for (int i = 0; i < b->v->n_shade; i++) {
        shade[i] = b->v->shade[i];
        shade[i].closed = gradin_layout_state(b->v, b->p, GRADIN_MACHINE_SHADE, i)->set.position;
    }
    b->model->shade = shade;
    b->model->n_shade = b->v->n_shade;
    b->model->buildup = b->v->buildup;
    b->model->n_buildup = b->v->n_buildup;
    b->model->ground = b->v->ground;
    b->model->has_finite_panes = b->v->has_finite_panes;
    b->model->site = b->v->site;
    return true;
}
