/* Shapes of the model where the cut meets them (elementary geometry). Treads below the floor, which
 * are no occluders, come from the lift sections. Of heads only those of the rows are drawn. */
#include "sightline/cut/cut.h"

#include <stdlib.h>

enum { MOST_END = 64 };

gradin_vec2 cut_into(const cutter *c, gradin_vec2 at_m) {
    double dx = at_m.x - c->from_m.x, dy = at_m.y - c->from_m.y;
    return (gradin_vec2){dx * c->unit.x + dy * c->unit.y, dx * c->unit.y - dy * c->unit.x};
}

static int rising(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return x < y ? -1 : x > y;
}

int cut_polygon(const cutter *c, gradin_polygon p, double *x_m, int most) {
    int n = 0;
    for (int i = 0; i < p.n_corner; i++) {
        gradin_vec2 a = cut_into(c, p.corner_m[i]);
        gradin_vec2 b = cut_into(c, p.corner_m[(i + 1) % p.n_corner]);
        if ((a.y <= 0.0) == (b.y <= 0.0) || n >= most) continue;
        x_m[n++] = a.x + (b.x - a.x) * a.y / (a.y - b.y);
    }
    qsort(x_m, (size_t)n, sizeof *x_m, rising);
    return n - n % 2;
}

#define GROW(c, list)                                                                              \
    (gradin_arena_grow((c)->arena, (void **)&(c)->list, (c)->n_##list, &(c)->list##_capacity,      \
                       sizeof *(c)->list) == GRADIN_OK)

static bool add_part(cutter *c, gradin_cut_kind kind, const char *name, gradin_polygon p,
                     double low_m, double high_m) {
    double x_m[MOST_END];
    int n = cut_polygon(c, p, x_m, MOST_END);
    for (int i = 0; i + 1 < n; i += 2) {
        double from_m = fmax(x_m[i], 0.0), to_m = fmin(x_m[i + 1], c->length_m);
        if (!(to_m > from_m)) continue;
        if (!GROW(c, part)) return false;
        c->part[c->n_part++] = (gradin_cut_part){kind, name, {from_m, to_m}, {low_m, high_m}};
    }
    return true;
}

static bool add_box(cutter *c, gradin_cut_kind kind, const char *name, const gradin_shape *s) {
    gradin_vec2 corner_m[4];
    double bearing_deg = gradin_bearing_deg(s->as.solid.forward.x, s->as.solid.forward.y);
    gradin_vec3 m = s->as.solid.centre_m;
    gradin_rectangle_corners((gradin_vec2){m.x, m.y}, bearing_deg, 2.0 * s->as.solid.half_forward_m,
                             2.0 * s->as.solid.half_right_m, corner_m);
    return add_part(c, kind, name, (gradin_polygon){corner_m, 4}, m.z - s->as.solid.half_up_m,
                    m.z + s->as.solid.half_up_m);
}

/* A bar where its axis passes through; an upright post where it stands in the cut. */
static bool add_capsule(cutter *c, const char *name, const gradin_shape *s) {
    gradin_vec3 a3 = s->as.capsule.a_m, b3 = s->as.capsule.b_m;
    double r_m = s->as.capsule.radius_m;
    gradin_vec2 a = cut_into(c, (gradin_vec2){a3.x, a3.y});
    gradin_vec2 b = cut_into(c, (gradin_vec2){b3.x, b3.y});
    if (hypot(b.x - a.x, b.y - a.y) < 1e-6) {
        if (fabs(a.y) > r_m || a.x < 0.0 || a.x > c->length_m) return true;
        if (!GROW(c, part)) return false;
        c->part[c->n_part++] = (gradin_cut_part){
            GRADIN_CUT_RAIL, name, {a.x - r_m, a.x + r_m}, {fmin(a3.z, b3.z), fmax(a3.z, b3.z)}};
        return true;
    }
    if ((a.y <= 0.0) == (b.y <= 0.0)) return true;
    double t = a.y / (a.y - b.y), x_m = a.x + t * (b.x - a.x);
    if (x_m < 0.0 || x_m > c->length_m) return true;
    if (!GROW(c, ring)) return false;
    c->ring[c->n_ring++] = (gradin_cut_ring){{x_m, a3.z + t * (b3.z - a3.z)}, r_m};
    return true;
}

static bool add_triangle(cutter *c, const gradin_shape *s) {
    gradin_cut_trace trace;
    int n = 0;
    for (int i = 0; i < 3 && n < 2; i++) {
        gradin_vec3 p = s->as.triangle.corner_m[i], q = s->as.triangle.corner_m[(i + 1) % 3];
        gradin_vec2 a = cut_into(c, (gradin_vec2){p.x, p.y});
        gradin_vec2 b = cut_into(c, (gradin_vec2){q.x, q.y});
        if ((a.y <= 0.0) == (b.y <= 0.0)) continue;
        double t = a.y / (a.y - b.y);
        trace.end_m[n++] = (gradin_vec2){a.x + t * (b.x - a.x), p.z + t * (q.z - p.z)};
    }
    if (n < 2 || fmax(trace.end_m[0].x, trace.end_m[1].x) < 0.0 ||
        fmin(trace.end_m[0].x, trace.end_m[1].x) > c->length_m)
        return true;
    if (!GROW(c, trace)) return false;
    c->trace[c->n_trace++] = trace;
    return true;
}

static bool add_shape(cutter *c, const gradin_occluder *o) {
    static const gradin_cut_kind kind[GRADIN_N_CAUSE] = {
        [GRADIN_CAUSE_RAIL] = GRADIN_CUT_RAIL, [GRADIN_CAUSE_ARCH] = GRADIN_CUT_ARCH};
    const gradin_shape *s = &o->shape;
    const char *name = c->model->occluder_name[o->name];
    if (o->cause == GRADIN_CAUSE_HEAD) return true;
    switch (s->kind) {
    case GRADIN_SHAPE_BOX:
        return add_box(c, kind[o->cause], name, s);
    case GRADIN_SHAPE_PRISM:
        return add_part(c, kind[o->cause], name, s->as.prism.polygon, s->as.prism.bottom_m,
                        s->as.prism.top_m);
    case GRADIN_SHAPE_CAPSULE:
        return add_capsule(c, name, s);
    case GRADIN_SHAPE_TRIANGLE:
        return add_triangle(c, s);
    case GRADIN_SHAPE_ELLIPSOID:
        break;
    }
    return true;
}

static bool add_pits(cutter *c) {
    for (int i = 0; i < c->model->n_section; i++) {
        const gradin_section *s = &c->model->section[i];
        double top_m = s->machine->setting.position;
        if (top_m < -1e-3 && !add_part(c, GRADIN_CUT_TREAD, s->name,
                                       (gradin_polygon){s->corner_m, 4}, top_m - 0.3, top_m))
            return false;
    }
    return true;
}

bool cut_scene(cutter *c) {
    for (int k = 0; k < c->model->scene.n_occluder; k++)
        if (!add_shape(c, &c->model->scene.occluder[k])) return false;
    return add_pits(c);
}

static bool put_focus(cutter *c, int area, gradin_vec2 a, gradin_vec2 b) {
    if (!GROW(c, focus)) return false;
    c->focus[c->n_focus++] = (gradin_cut_focus){area, {a, b}};
    return true;
}

static gradin_vec2 at_plan(const cutter *c, double x_m) {
    return (gradin_vec2){c->from_m.x + x_m * c->unit.x, c->from_m.y + x_m * c->unit.y};
}

static bool add_floor(cutter *c, int area) {
    const gradin_focus *f = &c->model->focus[area];
    double x_m[MOST_END];
    int n = cut_polygon(c, f->polygon, x_m, MOST_END);
    for (int i = 0; i + 1 < n; i += 2) {
        gradin_vec2 a = {x_m[i], gradin_focus_z_m(f, at_plan(c, x_m[i]))};
        gradin_vec2 b = {x_m[i + 1], gradin_focus_z_m(f, at_plan(c, x_m[i + 1]))};
        if (b.x > 0.0 && a.x < c->length_m && !put_focus(c, area, a, b)) return false;
    }
    return true;
}

static bool add_upright(cutter *c, int area) {
    const gradin_focus *f = &c->model->focus[area];
    for (int i = 0; i + 1 < f->n_line; i++) {
        gradin_vec2 a = cut_into(c, f->line_m[i]), b = cut_into(c, f->line_m[i + 1]);
        if ((a.y <= 0.0) == (b.y <= 0.0)) continue;
        double x_m = a.x + (b.x - a.x) * a.y / (a.y - b.y);
        if (x_m >= 0.0 && x_m <= c->length_m &&
            !put_focus(c, area, (gradin_vec2){x_m, f->bottom_m}, (gradin_vec2){x_m, f->top_m}))
            return false;
    }
    return true;
}

bool cut_focus(cutter *c) {
    for (int a = 0; a < c->model->n_focus; a++) {
        gradin_focus_kind kind = c->model->focus[a].kind;
        if (kind == GRADIN_FOCUS_FLOOR && !add_floor(c, a)) return false;
        if (kind == GRADIN_FOCUS_UPRIGHT && !add_upright(c, a)) return false;
    }
    return true;
}
