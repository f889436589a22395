/* The shadow of one occluder: which pieces, or none, or sample by sample. Pieces hold where every
 * ray that meets the body does so before its sample: where the body ends above the plane of the
 * samples, or beyond the body. */
#include "geometry/mask/mask_pieces.h"

#define BEHIND_M 1e3 /* behind every sample */

static double half_height(const gradin_shape *s) {
    if (s->kind == GRADIN_SHAPE_ELLIPSOID) return s->as.solid.half_up_m;
    return 0.0;
}

/* Height of the body above the samples' plane on the eye's side of it: least and most. */
static void heights(const mask_view *v, const gradin_shape *s, double *least, double *most) {
    double z[3], half = half_height(s);
    int n = 0;
    if (s->kind == GRADIN_SHAPE_CAPSULE) {
        z[n++] = s->as.capsule.a_m.z;
        z[n++] = s->as.capsule.b_m.z;
        half = s->as.capsule.radius_m;
    } else if (s->kind == GRADIN_SHAPE_TRIANGLE) {
        for (int i = 0; i < 3; i++) z[n++] = s->as.triangle.corner_m[i].z;
    } else {
        z[n++] = s->as.solid.centre_m.z;
    }
    *least = INFINITY;
    *most = -INFINITY;
    for (int i = 0; i < n; i++) {
        double above = v->z_m < 0.0 ? z[i] - v->grid->z_m : v->grid->z_m - z[i];
        if (above - half < *least) *least = above - half;
        if (above + half > *most) *most = above + half;
    }
}

/* Samples at least at_m along the plan direction. */
static bool add_plan_limit(const mask_view *v, gradin_vec2 unit, double at_m, mask_wedge *w) {
    gradin_vec3 normal = {unit.x, unit.y, -at_m / v->z_m};
    gradin_vec3 inside = {unit.x * (at_m + 1.0), unit.y * (at_m + 1.0), v->z_m};
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
    double least, most;
    heights(v, s, &least, &most);
    if (most < -MASK_APART_M) return MASK_NOTHING;
    if (least > MASK_APART_M) return MASK_PIECES;
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
    mask_ellipsoid ball = {1.0 / r2, 0.0, 1.0 / r2, 1.0 / r2, 1.0 / (r2 * r2 * r2)};
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
    if (s->kind == GRADIN_SHAPE_BOX || s->kind == GRADIN_SHAPE_PRISM) {
        out->has_wedge = true;
        return gradin_mask_upright(v, s, &out->wedge);
    }
    mask_form form = before_samples(v, s, out);
    if (form != MASK_PIECES) return form;
    if (s->kind == GRADIN_SHAPE_CAPSULE) return throw_capsule(v, s, out);
    if (s->kind == GRADIN_SHAPE_ELLIPSOID)
        return throw_ball(v, s->as.solid.centre_m, ellipsoid, out);
    out->has_wedge = true;
    return gradin_mask_triangle(v, s, &out->wedge);
}
