/* Shadows with straight edges: the band of a capsule, boxes, prisms, triangles. Each edge of the
 * outline, with the eye, spans a plane; the shadow is where all planes have the ray on the body's
 * side, whether it ends on the grid's plane or runs to the horizon. */
#include "geometry/mask/mask_pieces.h"
#include "geometry/plan/plan.h"

#define FAR_COLUMN 1e5
/* A half plane that moves by fewer rows than this across the grid bounds rows, not columns. */
#define LEVEL_ROWS 1e-3
#define ROW_SLACK 1e-5
#define EDGE_ON 1e-10
#define TRIANGLE_EDGE_ON 1e-6

void gradin_mask_wedge_open(mask_wedge *w, const struct gradin_mask_grid *grid) {
    w->n_low = w->n_high = 0;
    w->row_low = w->sure_row_low = -1.0f;
    w->row_high = w->sure_row_high = (float)grid->n_row;
}

/* a i + b j + c >= 0 with b the larger by far */
static bool add_rows(mask_wedge *w, double a, double b, double c, int n_column) {
    double at = -c / b, drift = fabs(a / b) * n_column;
    double slack = drift + ROW_SLACK + MASK_ROUNDING * fabs(at);
    if (!(fabs(at) < FAR_COLUMN)) at = copysign(FAR_COLUMN, at);
    if (b > 0.0) {
        w->row_low = fmaxf(w->row_low, (float)(at - slack));
        w->sure_row_low = fmaxf(w->sure_row_low, (float)(at + slack));
    } else {
        w->row_high = fminf(w->row_high, (float)(at + slack));
        w->sure_row_high = fminf(w->sure_row_high, (float)(at - slack));
    }
    return true;
}

bool gradin_mask_wedge_add(mask_wedge *w, const mask_view *v, gradin_vec3 normal,
                           gradin_vec3 inside) {
    double side = gradin_dot(normal, inside);
    if (!(fabs(side) > EDGE_ON * gradin_norm(normal) * gradin_norm(inside))) return false;
    gradin_vec3 n = side > 0.0 ? normal : gradin_scale(normal, -1.0);
    n.x += n.z * v->grid->rise.x;
    n.y += n.z * v->grid->rise.y;
    double a = n.x * v->grid->column_m, b = n.y * v->grid->row_m;
    double c = n.x * v->x_m + n.y * v->y_m + n.z * v->z_m;
    if (fabs(a) * v->grid->n_column < LEVEL_ROWS * fabs(b))
        return add_rows(w, a, b, c, v->grid->n_column);
    if (a == 0.0) return false;
    double at = -c / a, step = -b / a, reach = fabs(at) + fabs(step) * v->grid->n_row;
    int *count = a > 0.0 ? &w->n_low : &w->n_high;
    if (!(reach < 1e7) || *count == MASK_SIDES) return false;
    float slack = (float)(MASK_COLUMN_SLACK + MASK_ROUNDING * reach);
    if (a > 0.0) {
        w->low[*count].at = (float)at;
        w->low[*count].step = (float)step;
        w->low[*count].slack = slack;
    } else {
        w->high[*count].at = (float)at;
        w->high[*count].step = (float)step;
        w->high[*count].slack = slack;
    }
    ++*count;
    return true;
}

/* Between the two planes through the eye that touch the cylinder, and between the two through the
 * points where they touch the end spheres: with the spheres' own shadows this is all. */
mask_form gradin_mask_band(const mask_view *v, const gradin_shape *shape, mask_wedge *w) {
    gradin_vec3 a = gradin_sub(shape->as.capsule.a_m, v->eye_m);
    gradin_vec3 b = gradin_sub(shape->as.capsule.b_m, v->eye_m), axis = gradin_sub(b, a);
    double length = gradin_norm(axis), radius = shape->as.capsule.radius_m;
    if (!(length > 1e-6 * radius)) return MASK_BY_SAMPLE;
    gradin_vec3 d = gradin_scale(axis, 1.0 / length);
    gradin_vec3 across = gradin_sub(a, gradin_scale(d, gradin_dot(a, d)));
    double off = gradin_norm(across);
    if (!(off > radius * (1.0 + 1e-6))) return MASK_BY_SAMPLE;
    double sine = radius / off, cosine = sqrt(1.0 - sine * sine);
    gradin_vec3 out = gradin_scale(across, 1.0 / off), side = gradin_cross(d, out);
    gradin_vec3 n1 = gradin_add(gradin_scale(out, sine), gradin_scale(side, cosine));
    gradin_vec3 n2 = gradin_sub(gradin_scale(out, sine), gradin_scale(side, cosine));
    gradin_vec3 t1 = gradin_scale(n1, radius), t2 = gradin_scale(n2, radius);
    gradin_vec3 end_a = gradin_cross(gradin_sub(a, t1), gradin_sub(a, t2));
    gradin_vec3 end_b = gradin_cross(gradin_sub(b, t1), gradin_sub(b, t2));
    /* between the points of touch: seen nearly end on, the axis itself lies to one side of them */
    gradin_vec3 half = gradin_scale(gradin_add(t1, t2), 0.5);
    gradin_vec3 touch_a = gradin_sub(a, half), touch_b = gradin_sub(b, half);
    gradin_mask_wedge_open(w, v->grid);
    bool is_sharp = gradin_mask_wedge_add(w, v, n1, a) && gradin_mask_wedge_add(w, v, n2, a) &&
                    gradin_mask_wedge_add(w, v, end_a, touch_b) &&
                    gradin_mask_wedge_add(w, v, end_b, touch_a);
    return is_sharp ? MASK_PIECES : MASK_BY_SAMPLE;
}

typedef struct upright {
    gradin_vec2 corner[MASK_SIDES]; /* [n] counter-clockwise, from the eye */
    int n;
    double bottom, top; /* from the eye */
    gradin_vec3 middle;
} upright;

static bool is_convex(const upright *u) {
    for (int i = 0; i < u->n; i++) {
        gradin_vec2 a = u->corner[i], b = u->corner[(i + 1) % u->n], c = u->corner[(i + 2) % u->n];
        if (!(plan_cross(plan_sub(b, a), plan_sub(c, b)) > 0.0)) return false;
    }
    return true;
}

static bool gather_corners(const mask_view *v, const gradin_shape *s, upright *u) {
    gradin_vec2 eye = {v->eye_m.x, v->eye_m.y};
    if (s->kind == GRADIN_SHAPE_BOX) {
        gradin_vec2 f = s->as.solid.forward, c = {s->as.solid.centre_m.x, s->as.solid.centre_m.y};
        double l = s->as.solid.half_forward_m, r = s->as.solid.half_right_m;
        gradin_vec2 ahead = {f.x * l, f.y * l}, left = {-f.y * r, f.x * r};
        c = plan_sub(c, eye);
        u->n = 4;
        u->corner[0] = (gradin_vec2){c.x + ahead.x + left.x, c.y + ahead.y + left.y};
        u->corner[1] = (gradin_vec2){c.x - ahead.x + left.x, c.y - ahead.y + left.y};
        u->corner[2] = (gradin_vec2){c.x - ahead.x - left.x, c.y - ahead.y - left.y};
        u->corner[3] = (gradin_vec2){c.x + ahead.x - left.x, c.y + ahead.y - left.y};
        return true;
    }
    gradin_polygon p = s->as.prism.polygon;
    if (p.n_corner > MASK_SIDES - 4) return false;
    double twice = 0.0;
    u->n = p.n_corner;
    for (int i = 0; i < p.n_corner; i++)
        twice += plan_cross(plan_sub(plan_corner(p, i), eye), plan_sub(plan_corner(p, i + 1), eye));
    for (int i = 0; i < p.n_corner; i++)
        u->corner[i] = plan_sub(p.corner_m[twice > 0.0 ? i : p.n_corner - 1 - i], eye);
    return true;
}

/* Cuts off what lies beyond the level plane of the samples: no segment reaches it. What stands in a
 * plane that rises is not cut: see before_samples(). */
static mask_form cut_heights(const mask_view *v, const gradin_shape *s, upright *u) {
    bool is_box = s->kind == GRADIN_SHAPE_BOX;
    double middle = s->as.solid.centre_m.z, half = s->as.solid.half_up_m;
    u->bottom = (is_box ? middle - half : s->as.prism.bottom_m) - v->eye_m.z;
    u->top = (is_box ? middle + half : s->as.prism.top_m) - v->eye_m.z;
    if (v->grid->is_tilted) return MASK_PIECES;
    if (gradin_mask_ends_before(v, s)) return MASK_NOTHING;
    double reach = v->z_m < 0.0 ? u->top - v->z_m : v->z_m - u->bottom;
    if (reach < -MASK_APART_M) return MASK_NOTHING;
    if (reach < MASK_APART_M) return MASK_BY_SAMPLE;
    if (v->z_m < 0.0)
        u->bottom = fmax(u->bottom, v->z_m);
    else
        u->top = fmin(u->top, v->z_m);
    return MASK_PIECES;
}

static void find_middle(upright *u) {
    gradin_vec2 sum = {0.0, 0.0};
    for (int i = 0; i < u->n; i++) sum = plan_along(sum, u->corner[i], 1.0);
    u->middle = (gradin_vec3){sum.x / u->n, sum.y / u->n, 0.5 * (u->bottom + u->top)};
}

static gradin_vec3 raise(gradin_vec2 p, double z) {
    return (gradin_vec3){p.x, p.y, z};
}

/* The outline's edges lie between a face seen and a face unseen. */
static bool add_outline(const mask_view *v, const upright *u, mask_wedge *w) {
    bool top_seen = u->top<0.0, bottom_seen = u->bottom> 0.0, any = top_seen || bottom_seen;
    bool before = plan_cross(u->corner[u->n - 1], u->corner[0]) < 0.0, good = true;
    for (int i = 0; i < u->n && good; i++) {
        gradin_vec2 a = u->corner[i], b = u->corner[(i + 1) % u->n];
        bool seen = plan_cross(a, b) < 0.0;
        any = any || seen;
        if (seen != before)
            good = gradin_mask_wedge_add(w, v, (gradin_vec3){a.y, -a.x, 0.0}, u->middle);
        if (good && seen != top_seen)
            good = gradin_mask_wedge_add(w, v, gradin_cross(raise(a, u->top), raise(b, u->top)),
                                         u->middle);
        if (good && seen != bottom_seen)
            good = gradin_mask_wedge_add(
                w, v, gradin_cross(raise(a, u->bottom), raise(b, u->bottom)), u->middle);
        before = seen;
    }
    return good && any;
}

mask_form gradin_mask_upright(const mask_view *v, const gradin_shape *s, mask_wedge *w) {
    upright u;
    mask_form form = cut_heights(v, s, &u);
    if (form != MASK_PIECES) return form;
    if (!gather_corners(v, s, &u) || !is_convex(&u)) return MASK_BY_SAMPLE;
    find_middle(&u);
    gradin_mask_wedge_open(w, v->grid);
    return add_outline(v, &u, w) ? MASK_PIECES : MASK_BY_SAMPLE;
}

mask_form gradin_mask_triangle(const mask_view *v, const gradin_shape *s, mask_wedge *w) {
    gradin_vec3 c[3];
    for (int i = 0; i < 3; i++) c[i] = gradin_sub(s->as.triangle.corner_m[i], v->eye_m);
    gradin_vec3 normal = gradin_cross(gradin_sub(c[1], c[0]), gradin_sub(c[2], c[0]));
    double tilt = fabs(gradin_dot(normal, c[0]));
    if (!(tilt > TRIANGLE_EDGE_ON * gradin_norm(normal) * gradin_norm(c[0]))) return MASK_BY_SAMPLE;
    gradin_mask_wedge_open(w, v->grid);
    for (int i = 0; i < 3; i++)
        if (!gradin_mask_wedge_add(w, v, gradin_cross(c[i], c[(i + 1) % 3]), c[(i + 2) % 3]))
            return MASK_BY_SAMPLE;
    return MASK_PIECES;
}
