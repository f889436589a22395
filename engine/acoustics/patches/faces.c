/* Faces of the room: its floor, ceiling and walls, the facade's elements, and every side of what
 * stands or hangs in it. A face may run on behind other things; what of it is bare is measured
 * afterwards. A lift lowered below the floor shows its treads; the sides of its pit are left out.
 * A slim solid of many sides (a round column) counts as a hexagonal prism round it. */
#include "acoustics/patches/patch.h"

enum { MANY_SIDES = 8, FEW_SIDES = 6 };

static const double thin_m = 0.02;
static const double slim_perimeter_m = 6.0;
static const double vent_side_m = 0.2;

static gradin_rectangle upright(gradin_vec2 from, gradin_vec2 to, double low_m, double high_m,
                                gradin_vec2 normal) {
    return (gradin_rectangle){{from.x, from.y, low_m},
                              {to.x - from.x, to.y - from.y, 0.0},
                              {0.0, 0.0, high_m - low_m},
                              {normal.x, normal.y, 0.0}};
}

/* The rectangle round the polygon along its first edge, level at z_m. */
static gradin_rectangle level(gradin_polygon plan, double z_m, double up) {
    gradin_vec2 a = plan.corner_m[0], b = plan.corner_m[1];
    double length_m = hypot(b.x - a.x, b.y - a.y);
    gradin_vec2 u = {(b.x - a.x) / length_m, (b.y - a.y) / length_m}, v = {-u.y, u.x};
    double low_u = INFINITY, high_u = -INFINITY, low_v = INFINITY, high_v = -INFINITY;
    for (int i = 0; i < plan.n_corner; i++) {
        gradin_vec2 c = plan.corner_m[i];
        double at_u = c.x * u.x + c.y * u.y, at_v = c.x * v.x + c.y * v.y;
        low_u = fmin(low_u, at_u), high_u = fmax(high_u, at_u);
        low_v = fmin(low_v, at_v), high_v = fmax(high_v, at_v);
    }
    double wide_m = high_u - low_u, deep_m = high_v - low_v;
    return (gradin_rectangle){{low_u * u.x + low_v * v.x, low_u * u.y + low_v * v.y, z_m},
                              {wide_m * u.x, wide_m * u.y, 0.0},
                              {deep_m * v.x, deep_m * v.y, 0.0},
                              {0.0, 0.0, up}};
}

static double turning(gradin_polygon plan) {
    double sum = 0.0;
    for (int i = 0; i < plan.n_corner; i++) {
        gradin_vec2 a = plan.corner_m[i], b = plan.corner_m[(i + 1) % plan.n_corner];
        sum += a.x * b.y - b.x * a.y;
    }
    return sum;
}

static void add_sides(gradin_patch_maker *maker, gradin_polygon plan, double low_m, double high_m,
                      double side, gradin_patch_kind kind) {
    double sign = (turning(plan) > 0.0 ? 1.0 : -1.0) * side; /* +1: normals out of the polygon */
    for (int i = 0; i < plan.n_corner; i++) {
        gradin_vec2 a = plan.corner_m[i], b = plan.corner_m[(i + 1) % plan.n_corner];
        double length_m = hypot(b.x - a.x, b.y - a.y);
        if (!(length_m > thin_m) || !(high_m - low_m > thin_m)) continue;
        gradin_vec2 normal = {sign * (b.y - a.y) / length_m, -sign * (b.x - a.x) / length_m};
        gradin_patch_add(maker, upright(a, b, low_m, high_m, normal), kind, -1);
    }
}

static void add_room(gradin_patch_maker *maker) {
    const gradin_model *m = maker->model;
    gradin_patch_add(maker, level(m->footprint, 0.0, 1.0), GRADIN_PATCH_FLOOR, -1);
    gradin_patch_add(maker, level(m->footprint, m->ceiling_m, -1.0), GRADIN_PATCH_CEILING, -1);
    add_sides(maker, m->footprint, 0.0, m->ceiling_m, -1.0, GRADIN_PATCH_WALL);
}

static void add_elements(gradin_patch_maker *maker) {
    for (int i = 0; i < maker->model->n_element; i++) {
        const gradin_element *e = &maker->model->element[i];
        bool is_vent = e->kind == GRADIN_ELEMENT_VENT;
        double width_m = is_vent ? vent_side_m : e->width_m;
        double height_m = is_vent ? vent_side_m : e->height_m;
        double back_m = is_vent ? -0.5 * vent_side_m : 0.0;
        gradin_frame f = gradin_element_frame(e);
        gradin_rectangle face = {gradin_element_point_m(e, back_m, back_m),
                                 gradin_scale(f.along, width_m), gradin_scale(f.up, height_m),
                                 gradin_scale(f.outward, -1.0)};
        gradin_patch_add(maker, face, GRADIN_PATCH_ELEMENT, i);
    }
}

static void add_slim(gradin_patch_maker *maker, gradin_polygon plan, double low_m, double high_m) {
    gradin_vec2 corner[FEW_SIDES], c = gradin_polygon_centroid_m(plan);
    double grow = 1.0 / cos(GRADIN_PI / FEW_SIDES);
    for (int i = 0; i < FEW_SIDES; i++) {
        gradin_vec2 at = plan.corner_m[i * plan.n_corner / FEW_SIDES];
        corner[i] = (gradin_vec2){c.x + grow * (at.x - c.x), c.y + grow * (at.y - c.y)};
    }
    add_sides(maker, (gradin_polygon){corner, FEW_SIDES}, low_m, high_m, 1.0, GRADIN_PATCH_WALL);
}

static void add_prism(gradin_patch_maker *maker, const gradin_shape *shape) {
    gradin_polygon plan = shape->as.prism.polygon;
    double ceiling_m = maker->model->ceiling_m;
    double low_m = fmax(shape->as.prism.bottom_m, 0.0);
    double high_m = fmin(shape->as.prism.top_m, ceiling_m);
    if (!(high_m > thin_m) || !(high_m > low_m)) return;
    if (high_m < ceiling_m - thin_m)
        gradin_patch_add(maker, level(plan, high_m, 1.0), GRADIN_PATCH_FLOOR, -1);
    if (low_m > thin_m) gradin_patch_add(maker, level(plan, low_m, -1.0), GRADIN_PATCH_WALL, -1);
    if (plan.n_corner > MANY_SIDES && gradin_polygon_perimeter_m(plan) < slim_perimeter_m)
        add_slim(maker, plan, low_m, high_m);
    else
        add_sides(maker, plan, low_m, high_m, 1.0, GRADIN_PATCH_WALL);
}

/* Treads of a lift below the floor: the same size, in the order of its corners. */
static void add_pit(gradin_patch_maker *maker, const gradin_section *s) {
    const gradin_setting *set = &s->machine->setting;
    gradin_vec2 ahead = gradin_bearing_unit(set->n_step > 1 ? set->facing_deg : 0.0);
    gradin_vec2 right = {ahead.y, -ahead.x};
    gradin_vec2 middle = {0.5 * (s->corner_m[0].x + s->corner_m[2].x),
                          0.5 * (s->corner_m[0].y + s->corner_m[2].y)};
    gradin_vec2 span = {fabs(s->corner_m[2].x - s->corner_m[0].x),
                        fabs(s->corner_m[2].y - s->corner_m[0].y)};
    double deep_m = fabs(ahead.x) * span.x + fabs(ahead.y) * span.y;
    double wide_m = fabs(right.x) * span.x + fabs(right.y) * span.y, step_m = deep_m / set->n_step;
    for (int k = 0; k < set->n_step; k++) {
        double z_m = set->position + k * set->riser_m, at_m = 0.5 * deep_m - (k + 1) * step_m;
        if (z_m > -thin_m) continue;
        gradin_rectangle tread = {{middle.x + at_m * ahead.x - 0.5 * wide_m * right.x,
                                   middle.y + at_m * ahead.y - 0.5 * wide_m * right.y, z_m},
                                  {wide_m * right.x, wide_m * right.y, 0.0},
                                  {step_m * ahead.x, step_m * ahead.y, 0.0},
                                  {0.0, 0.0, 1.0}};
        gradin_patch_add(maker, tread, GRADIN_PATCH_FLOOR, -1);
    }
}

void gradin_patch_faces(gradin_patch_maker *maker) {
    add_room(maker);
    add_elements(maker);
    for (int i = 0; i < maker->n_prism; i++) add_prism(maker, &maker->prism[i]->shape);
    for (int i = 0; i < maker->model->n_section; i++)
        if (maker->model->section[i].machine->setting.position < -thin_m)
            add_pit(maker, &maker->model->section[i]);
}
