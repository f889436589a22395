/* Growing lists of the builder and small shapes. */
#include "model/build.h"

#include <string.h>

#define ADD(b, list, item)                                                                         \
    (grow((b)->c, (void **)&(b)->list, (b)->n_##list, &(b)->list##_capacity, sizeof *(b)->list) && \
     ((b)->list[(b)->n_##list++] = (item), true))

bool add_place(builder *b, place p) {
    if (p.block < b->p->n_block) b->n_laid[p.block]++;
    if (b->n_place < GRADIN_MAX_SEAT) return ADD(b, place, p);
    if (b->full_block < 0) b->full_block = p.block;
    return true;
}

bool add_obstacle(builder *b, obstacle o) {
    o.bounds = gradin_polygon_bounds(o.polygon);
    return ADD(b, obstacle, o);
}

bool add_rail(builder *b, gradin_rail rail) {
    return ADD(b, rail, rail);
}

int add_occluder_name(builder *b, const char *name) {
    return ADD(b, occluder_name, name) ? b->n_occluder_name - 1 : -1;
}

bool add_occluder(builder *b, gradin_shape shape, gradin_cause cause, int owner, int name) {
    gradin_occluder made = {.shape = shape, .cause = (int)cause, .owner = owner, .name = name};
    return ADD(b, occluder, made);
}

bool reserve_occluders(builder *b, int n_more) {
    int wanted = b->n_occluder + n_more;
    if (wanted <= b->occluder_capacity) return true;
    gradin_occluder *block = alloc(b->c, wanted, sizeof *block);
    if (!block) return false;
    if (b->n_occluder > 0) memcpy(block, b->occluder, (size_t)b->n_occluder * sizeof *block);
    b->occluder = block;
    b->occluder_capacity = wanted;
    return true;
}

int add_block_name(builder *b, const char *name, const gradin_place *at) {
    int capacity = b->block_name_capacity;
    if (!grow(b->c, (void **)&b->block_at, b->n_block_name, &capacity, sizeof *b->block_at))
        return -1;
    b->block_at[b->n_block_name] = at;
    return ADD(b, block_name, name) ? b->n_block_name - 1 : -1;
}

const gradin_setting *section_set(const builder *b, int section) {
    return &gradin_layout_state(b->v, b->p, GRADIN_MACHINE_SECTION, section)->set;
}

double tower_hoist_m(const builder *b, int tower) {
    return gradin_layout_state(b->v, b->p, GRADIN_MACHINE_HOIST, tower)->set.position;
}

double tower_slide_m(const builder *b, int tower) {
    return gradin_layout_state(b->v, b->p, GRADIN_MACHINE_SLIDE, tower)->set.position;
}

double tower_turn_deg(const builder *b, int tower) {
    const gradin_machine_state *state = gradin_layout_state(b->v, b->p, GRADIN_MACHINE_TURN, tower);
    return state ? state->set.position : 0.0;
}

bool is_open(const builder *b, int panel) {
    return gradin_layout_state(b->v, b->p, GRADIN_MACHINE_PANEL, panel)->set.position > 0.5;
}

double arch_set(const builder *b, gradin_machine_kind kind) {
    const gradin_machine_state *state = gradin_layout_state(b->v, b->p, kind, 0);
    return state ? state->set.position : 0.0;
}

gradin_vec2 point_along_m(gradin_vec2 from_m, double bearing_deg, double distance_m) {
    gradin_vec2 unit = gradin_bearing_unit(bearing_deg);
    return (gradin_vec2){from_m.x + unit.x * distance_m, from_m.y + unit.y * distance_m};
}

gradin_polygon make_rectangle(complaints *c, gradin_vec2 centre_m, double bearing_deg,
                              double along_m, double across_m) {
    gradin_vec2 *corner_m = alloc(c, 4, sizeof *corner_m);
    if (corner_m) gradin_rectangle_corners(centre_m, bearing_deg, along_m, across_m, corner_m);
    return (gradin_polygon){corner_m, 4};
}

void place_corners(const place *p, double depth_m, gradin_vec2 corner_m[4]) {
    gradin_rectangle_corners(p->at_m, p->facing_deg, depth_m, p->width_m, corner_m);
}

gradin_vec2 outward_at(const builder *b, gradin_vec2 middle_m, gradin_vec2 along) {
    gradin_vec2 right = {along.y, -along.x};
    gradin_vec2 probe_m = {middle_m.x + right.x * 0.2, middle_m.y + right.y * 0.2};
    bool is_inside = gradin_polygon_contains(b->v->footprint, probe_m);
    return is_inside ? (gradin_vec2){-right.x, -right.y} : right;
}

double perimeter_m(gradin_polygon polygon) {
    double sum_m = 0.0;
    for (int i = 0; i < polygon.n_corner; i++) {
        gradin_vec2 a = polygon.corner_m[i], c = polygon.corner_m[(i + 1) % polygon.n_corner];
        sum_m += hypot(c.x - a.x, c.y - a.y);
    }
    return sum_m;
}

gradin_element *blank_element(builder *b) {
    int n = b->model->n_element;
    if (!grow(b->c, (void **)&b->element, n, &b->element_capacity, sizeof *b->element)) return NULL;
    b->model->element = b->element;
    b->element[n] = (gradin_element){.shade = -1, .joint_r_db = INFINITY};
    return &b->element[n];
}

enum { SPOTS_PER_M2 = 4 };

bool find_spots(builder *b, gradin_polygon polygon, spots *found) {
    const gradin_vec2 east = {1.0, 0.0};
    int wanted = 4 + (int)(SPOTS_PER_M2 * gradin_polygon_area_m2(polygon));
    gradin_status status =
        gradin_polygon_grid(b->c->arena, polygon, east, wanted, &found->point_m, &found->n);
    return note_failure(b->c, status == GRADIN_OK ? found->point_m : NULL) != NULL;
}
