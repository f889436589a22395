/* The shadow of one occluder: which pieces, or none, or sample by sample. Pieces hold where every
 * ray that meets the body does so before its sample: where the body ends above the plane of the
 * samples, or beyond the body. */
#include "geometry/mask/mask_pieces.h"

#define BEHIND_M 1e3 /* behind every sample */

/* Height of a body above the samples' plane on the eye's side of it. */
typedef struct extent_up {
    double least_m, most_m;
} extent_up;

static void add_height(const mask_view *v, gradin_vec3 p, double half_m, extent_up *up) {
    double above = p.z - gradin_mask_plane_m(v->grid, p.x, p.y);
    if (v->z_m > 0.0) above = -above;
    if (above - half_m < up->least_m) up->least_m = above - half_m;
    if (above + half_m > up->most_m) up->most_m = above + half_m;
}

/* How far a body with these semi-axes reaches from its centre: of a box their sum, of an ellipsoid
 * their root of squares. */
static double half_height(const mask_view *v, const gradin_shape *s) {
    gradin_vec2 f = s->as.solid.forward, rise = v->grid->rise;
    double up = s->as.solid.half_up_m;
    double ahead = fabs(rise.x * f.x + rise.y * f.y) * s->as.solid.half_forward_m;
    double aside = fabs(rise.y * f.x - rise.x * f.y) * s->as.solid.half_right_m;
    if (!v->grid->is_tilted) return up;
    return s->kind == GRADIN_SHAPE_BOX ? up + ahead + aside
                                       : sqrt(up * up + ahead * ahead + aside * aside);
}

static void add_prism(const mask_view *v, const gradin_shape *s, extent_up *up) {
    gradin_polygon p = s->as.prism.polygon;
    for (int i = 0; i < p.n_corner; i++) {
        gradin_vec3 low = {p.corner_m[i].x, p.corner_m[i].y, s->as.prism.bottom_m};
        gradin_vec3 high = {p.corner_m[i].x, p.corner_m[i].y, s->as.prism.top_m};
        add_height(v, low, 0.0, up);
        add_height(v, high, 0.0, up);
    }
}

static extent_up heights(const mask_view *v, const gradin_shape *s) {
    extent_up up = {INFINITY, -INFINITY};
    if (s->kind == GRADIN_SHAPE_CAPSULE) {
        double half = s->as.capsule.radius_m * hypot(1.0, hypot(v->grid->rise.x, v->grid->rise.y));
        add_height(v, s->as.capsule.a_m, half, &up);
        add_height(v, s->as.capsule.b_m, half, &up);
    } else if (s->kind == GRADIN_SHAPE_TRIANGLE) {
        for (int i = 0; i < 3; i++) add_height(v, s->as.triangle.corner_m[i], 0.0, &up);
    } else if (s->kind == GRADIN_SHAPE_PRISM) {
        add_prism(v, s, &up);
    } else {
        add_height(v, s->as.solid.centre_m, half_height(v, s), &up);
    }
    return up;
}

/* Parts of the way to a sample: half of GRADIN_SEGMENT_END, the other half for rounding. */
#define AT_END 3e-10
#define SHARP 1e-4
#define OFF_M 2e-11

/* A triangle in the plane of the samples, which is often the floor that carries them, is met where
 * the segment ends, if at all: what lies there hides nothing. Not those seen so nearly edge on that
 * rounding could bring the contact before the end. */
static bool carries(const mask_view *v, const gradin_shape *s, extent_up up) {
    if (s->kind != GRADIN_SHAPE_TRIANGLE || !(up.most_m + OFF_M < AT_END * fabs(v->z_m)))
        return false;
    const gradin_vec3 *c = s->as.triangle.corner_m;
    gradin_vec3 p = gradin_sub(c[1], c[0]), q = gradin_sub(c[2], c[0]);
    gradin_vec3 to = gradin_sub(c[0], v->eye_m);
    double far = gradin_norm(to) + 2.0 * s->bound_radius_m;
    return fabs(gradin_dot(gradin_cross(p, q), to)) > SHARP * gradin_norm(p) * gradin_norm(q) * far;
}

/* Samples at least at_m along the plan direction. */
static bool add_plan_limit(const mask_view *v, gradin_vec2 unit, double at_m, mask_wedge *w) {
    gradin_vec2 rise = v->grid->rise;
    double by_z = -at_m / v->z_m, along = (rise.x * unit.x + rise.y * unit.y) * (at_m + 1.0);
    gradin_vec3 normal = {unit.x - by_z * rise.x, unit.y - by_z * rise.y, by_z};
    gradin_vec3 inside = {unit.x * (at_m + 1.0), unit.y * (at_m + 1.0), v->z_m + along};
    gradin_mask_wedge_open(w, v->grid);
    return gradin_mask_wedge_add(w, v, normal, inside);
}

/* Along the plan direction from the eye to the body it lies between two distances: segments that
 * end before the first miss it, those that end beyond the second are past it. */
static bool split(const mask_view *v, const gradin_shape *s, mask_shadow *out) {
    gradin_vec3 to = gradin_sub(s->bound_centre_m, v->eye_m);
    double plan = hypot(to.x, to.y), low = plan - s->bound_radius_m, high;
    if (!(plan > MASK_APART_M)) return false;
    gradin_vec2 unit = {to.x / plan, to.y / plan};
    if (s->kind == GRADIN_SHAPE_CAPSULE) {
        gradin_vec3 a = gradin_sub(s->as.capsule.a_m, v->eye_m);
        gradin_vec3 b = gradin_sub(s->as.capsule.b_m, v->eye_m);
        double at_a = a.x * unit.x + a.y * unit.y, at_b = b.x * unit.x + b.y * unit.y;
        low = fmin(at_a, at_b) - s->as.capsule.radius_m;
        high = fmax(at_a, at_b) + s->as.capsule.radius_m;
    } else {
        high = plan + s->bound_radius_m;
    }
    if (low <= MASK_APART_M) low = -BEHIND_M;
    out->is_split = true;
    return add_plan_limit(v, unit, low - MASK_APART_M, &out->level) &&
           add_plan_limit(v, unit, high + MASK_APART_M, &out->beyond);
}

static mask_form before_samples(const mask_view *v, const gradin_shape *s, mask_shadow *out) {
    extent_up up = heights(v, s);
    if (up.most_m < -MASK_APART_M || carries(v, s, up)) return MASK_NOTHING;
    if (up.least_m > MASK_APART_M) return MASK_PIECES;
    double far = gradin_norm(gradin_sub(s->bound_centre_m, v->eye_m)) + s->bound_radius_m;
    if (far < v->nearest_m - MASK_APART_M) return MASK_PIECES;
    return split(v, s, out) ? MASK_PIECES : MASK_BY_SAMPLE;
}

static mask_form throw_ball(const mask_view *v, gradin_vec3 centre, const mask_ellipsoid *n,
                            mask_shadow *out) {
    mask_form form =
        gradin_mask_conic(v, gradin_sub(centre, v->eye_m), n, &out->conic[out->n_conic]);
    if (form == MASK_PIECES) out->n_conic++;
    return form;
}

static mask_form throw_capsule(const mask_view *v, const gradin_shape *s, mask_shadow *out) {
    double r2 = s->as.capsule.radius_m * s->as.capsule.radius_m;
    mask_ellipsoid ball = {
        .xx = 1.0 / r2, .yy = 1.0 / r2, .zz = 1.0 / r2, .det = 1.0 / (r2 * r2 * r2)};
    if (throw_ball(v, s->as.capsule.a_m, &ball, out) == MASK_BY_SAMPLE ||
        throw_ball(v, s->as.capsule.b_m, &ball, out) == MASK_BY_SAMPLE)
        return MASK_BY_SAMPLE;
    out->has_wedge = true;
    return gradin_mask_band(v, s, &out->wedge);
}

mask_form gradin_mask_throw(const mask_view *v, const gradin_shape *s,
                            const mask_ellipsoid *ellipsoid, mask_shadow *out) {
    out->n_conic = 0;
    out->has_wedge = out->is_split = false;
    bool is_upright = s->kind == GRADIN_SHAPE_BOX || s->kind == GRADIN_SHAPE_PRISM;
    mask_form form = is_upright && !v->grid->is_tilted ? MASK_PIECES : before_samples(v, s, out);
    if (form != MASK_PIECES) return form;
    if (is_upright) {
        out->has_wedge = true;
        return gradin_mask_upright(v, s, &out->wedge);
    }
    if (s->kind == GRADIN_SHAPE_CAPSULE) return throw_capsule(v, s, out);
    if (s->kind == GRADIN_SHAPE_ELLIPSOID)
        return throw_ball(v, s->as.solid.centre_m, ellipsoid, out);
    out->has_wedge = true;
    return gradin_mask_triangle(v, s, &out->wedge);
}
