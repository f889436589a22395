/* Shadow of an ellipsoid on the plane of the samples, row by row, heights told from that plane.
 *
 * In the eye's frame a ray w meets the ellipsoid with centre c and form N when
 *     (q.w)^2 - K w.Nw >= 0,   q = N c,   K = c.Nc - 1 > 0 (eye outside),
 * the quadratic form S = q q' - K N of the tangent cone. With w = (x, y, h) and A = Sxx a row y is
 * met between the roots of a quadratic in x, whose discriminant is K (p2 y^2 + 2 p1 h y + p0 h^2)
 * with (minors of S divided by K, so that nothing large cancels)
 *     p2 = qx^2 Nyy + qy^2 Nxx - 2 qx qy Nxy - K (Nxx Nyy - Nxy^2)
 *     p1 = qz (Nxx qy - Nxy qx) + qx (qx Nyz - qy Nxz) - K (Nxx Nyz - Nxy Nxz)
 *     p0 = qx^2 Nzz + qz^2 Nxx - 2 qx qz Nxz - K (Nxx Nzz - Nxz^2).
 * By Jacobi's identity on the minors p1^2 - p2 p0 = -A det N: the discriminant's own roots, the
 * rows between which the shadow lies, come without cancellation too.
 *   A < 0, p2 < 0  an ellipse, in front when h cz > 0
 *   A < 0, p2 > 0  a hyperbola; the branch in front lies to higher y when Nxx qy - Nxy qx > 0
 *   A > 0          a half line in every row, toward higher x when qx > 0
 * Derived here; checked against gradin_shape_hit() sample by sample. */
#include "geometry/mask/mask_pieces.h"

mask_ellipsoid gradin_mask_ellipsoid(const gradin_shape *shape) {
    double fx = shape->as.solid.forward.x, fy = shape->as.solid.forward.y;
    double a = 1.0 / (shape->as.solid.half_forward_m * shape->as.solid.half_forward_m);
    double b = 1.0 / (shape->as.solid.half_right_m * shape->as.solid.half_right_m);
    double c = 1.0 / (shape->as.solid.half_up_m * shape->as.solid.half_up_m);
    return (mask_ellipsoid){.xx = a * fx * fx + b * fy * fy,
                            .xy = (a - b) * fx * fy,
                            .yy = a * fy * fy + b * fx * fx,
                            .zz = c,
                            .det = a * b * c};
}

/* Beyond these the single-precision rows would not be sharp: rows and columns off the grid. */
#define FAR_ROW 1e6
#define FAR_COLUMN 1e5
#define NEAR_INSIDE 1e-9 /* of K */
#define NEAR_PARABOLA 1e-7

typedef struct row_form {
    double k, qx, qy, qz, a, p2, p1, edge; /* edge = Nxx qy - Nxy qx */
} row_form;

static void place_roots(const mask_view *v, const row_form *f, double p0, double det,
                        mask_conic *out, double *far) {
    double h = v->z_m, to_row = v->grid->rows_per_m;
    double root = sqrt(-f->a * det), w = -(f->p1 + copysign(root, f->p1));
    double by_both = h / (f->p2 * w);
    double r = (by_both * w * w - v->y_m) * to_row, s = (by_both * p0 * f->p2 - v->y_m) * to_row;
    double low = r < s ? r : s, high = r < s ? s : r;
    if (f->p2 < 0.0)
        *out = (mask_conic){.p = (float)-low, .p_step = 1.0f, .q = (float)high, .q_step = -1.0f};
    else if (f->edge > 0.0)
        *out = (mask_conic){.p = (float)-high, .p_step = 1.0f, .q = (float)-low, .q_step = 1.0f};
    else
        *out = (mask_conic){.p = (float)low, .p_step = -1.0f, .q = (float)high, .q_step = -1.0f};
    *far = fabs(low) > fabs(high) ? fabs(low) : fabs(high);
}

static void place_half_line(const mask_view *v, const row_form *f, double det, mask_conic *out,
                            double *far) {
    double h = v->z_m, to_row = v->grid->rows_per_m;
    double vertex = (-h * f->p1 / f->p2 - v->y_m) * to_row, off = h * to_row / f->p2;
    double square = off * off * f->a * det;
    *out = (mask_conic){
        .p = (float)-vertex, .p_step = 1.0f, .square = (float)square, .side = f->qx > 0.0 ? 1 : -1};
    *far = fmax(fabs(vertex), sqrt(square));
}

/* Heights told from a plane that rises: w N w with w.z = w.z' + rise . w. */
static mask_ellipsoid shear(const mask_ellipsoid *n, gradin_vec2 rise) {
    mask_ellipsoid out = *n;
    out.xx += n->zz * rise.x * rise.x;
    out.xy += n->zz * rise.x * rise.y;
    out.yy += n->zz * rise.y * rise.y;
    out.xz = n->zz * rise.x;
    out.yz = n->zz * rise.y;
    return out;
}

static mask_form find_rows(const mask_view *v, gradin_vec3 c, const mask_ellipsoid *n,
                           mask_conic *out) {
    row_form f;
    double far, h = v->z_m;
    f.qx = n->xx * c.x + n->xy * c.y + n->xz * c.z;
    f.qy = n->xy * c.x + n->yy * c.y + n->yz * c.z;
    f.qz = n->xz * c.x + n->yz * c.y + n->zz * c.z;
    f.k = f.qx * c.x + f.qy * c.y + f.qz * c.z - 1.0;
    if (f.k < NEAR_INSIDE) return MASK_BY_SAMPLE;
    double xx = f.qx * f.qx, yy = f.qy * f.qy, zz = f.qz * f.qz, xy = f.qx * f.qy;
    f.a = xx - f.k * n->xx;
    f.edge = n->xx * f.qy - n->xy * f.qx;
    f.p2 = xx * n->yy + yy * n->xx - 2.0 * xy * n->xy - f.k * (n->xx * n->yy - n->xy * n->xy);
    f.p1 = f.qz * f.edge + f.qx * (f.qx * n->yz - f.qy * n->xz) -
           f.k * (n->xx * n->yz - n->xy * n->xz);
    double p0 =
        xx * n->zz + zz * n->xx - 2.0 * f.qx * f.qz * n->xz - f.k * (n->xx * n->zz - n->xz * n->xz);
    double size = (xx + yy + zz) * (n->xx + n->yy);
    if (fabs(f.a) < NEAR_PARABOLA * (xx + f.k * n->xx) || fabs(f.p2) < NEAR_PARABOLA * size)
        return MASK_BY_SAMPLE;
    if (f.a < 0.0 && f.p2 < 0.0 && h * c.z <= 0.0) return MASK_NOTHING;
    if (f.a < 0.0)
        place_roots(v, &f, p0, n->det, out, &far);
    else
        place_half_line(v, &f, n->det, out, &far);

    double by_a = 1.0 / f.a, aslant = (f.k * n->xy - xy) * by_a;
    double level = (f.k * n->xz - f.qx * f.qz) * h * by_a;
    double middle = (aslant * v->y_m + level - v->x_m) * v->grid->columns_per_m;
    double slope = aslant * v->grid->row_in_columns;
    double reach = fabs(middle) + fabs(slope) * v->grid->n_row;
    if (!(far < FAR_ROW && reach < FAR_COLUMN)) return MASK_BY_SAMPLE;
    out->mid = (float)middle;
    out->mid_step = (float)slope;
    out->gain = (float)(v->grid->row_in_columns * sqrt(f.k * fabs(f.p2)) * fabs(by_a));
    out->slack = (float)(MASK_COLUMN_SLACK + MASK_ROUNDING * reach);
    out->root_slack = (float)(MASK_ROUNDING * (v->grid->n_row + 1.0));
    return MASK_PIECES;
}

mask_form gradin_mask_conic(const mask_view *v, gradin_vec3 c, const mask_ellipsoid *n,
                            mask_conic *out) {
    if (!v->grid->is_tilted) return find_rows(v, c, n, out);
    gradin_vec2 rise = v->grid->rise;
    mask_ellipsoid sheared = shear(n, rise);
    c.z -= rise.x * c.x + rise.y * c.y;
    return find_rows(v, c, &sheared, out);
}
