/* Form factors between rectangles without anything between them.
 *
 * From a point: Lambert's contour sum (1) F = 1/(2 pi) sum Theta_k (n . Gamma_k) over the edges as
 * seen from the point, the rectangle cut off at the point's horizon (Lambert 1760; Baum, Rushmeier
 * and Winget 1989). From a rectangle: the mean of that exact value over Gauss-Legendre points of
 * the smaller, with more points the nearer the two are and where one cuts the other's plane; of two
 * that touch, the mean of both ways. Touching rectangles are good to about 1e-3 of their value,
 * which the tests hold against closed forms, distant ones too. Apart and uncut, (2) A F =
 * A_1 A_2 mean cos cos/(pi r^2) over Gauss points of both is as good: over nine points of each 3e-4
 * of rms at one and a half times the sum of their radii, over four 6e-4 at three times, 2e-5 at
 * eight times (20,000 pairs at random). */
#include "acoustics/patches/form.h"

enum { MAX_CORNER = 5, MAX_POINT = 8, MAX_BOTH = 3 };

/* Gauss-Legendre on 0..1 (Abramowitz and Stegun, table 25.4). */
typedef struct rule {
    int n;
    double at[MAX_POINT], weight[MAX_POINT];
} rule;

static const rule rule_2 = {2, {0.211324865405187118, 0.788675134594812882}, {0.5, 0.5}};
static const rule rule_3 = {3,
                            {0.112701665379258311, 0.5, 0.887298334620741689},
                            {0.277777777777777778, 0.444444444444444444, 0.277777777777777778}};
static const rule rule_4 = {
    4,
    {0.069431844202973712, 0.330009478207571868, 0.669990521792428132, 0.930568155797026288},
    {0.173927422568726929, 0.326072577431273071, 0.326072577431273071, 0.173927422568726929}};
static const rule rule_8 = {
    8,
    {0.019855071751231884, 0.101666761293186630, 0.237233795041835507, 0.408282678752175098,
     0.591717321247824902, 0.762766204958164493, 0.898333238706813370, 0.980144928248768116},
    {0.050614268145188130, 0.111190517226687235, 0.156853322938943644, 0.181341891689180991,
     0.181341891689180991, 0.156853322938943644, 0.111190517226687235, 0.050614268145188130}};

/* Distances of the middles, in sums of the two radii, up to which a rule serves. */
static const double near_8 = 1.05, near_4 = 1.5, near_3 = 3.0;
static const double touching_m = 1e-9;

double gradin_rectangle_m2(const gradin_rectangle *r) {
    return gradin_norm(r->along_m) * gradin_norm(r->up_m);
}

double gradin_rectangle_radius_m(const gradin_rectangle *r) {
    return 0.5 * gradin_norm(gradin_add(r->along_m, r->up_m));
}

gradin_vec3 gradin_rectangle_at_m(const gradin_rectangle *r, double u, double v) {
    return gradin_add(r->corner_m,
                      gradin_add(gradin_scale(r->along_m, u), gradin_scale(r->up_m, v)));
}

static void corners_from(gradin_vec3 from_m, const gradin_rectangle *r, gradin_vec3 corner[4]) {
    corner[0] = gradin_sub(r->corner_m, from_m);
    corner[1] = gradin_add(corner[0], r->along_m);
    corner[2] = gradin_add(corner[1], r->up_m);
    corner[3] = gradin_add(corner[0], r->up_m);
}

/* The part of the quadrilateral on the side of the normal; a convex one has at most 5 corners. */
static int above_horizon(const gradin_vec3 corner[4], gradin_vec3 normal,
                         gradin_vec3 kept[MAX_CORNER]) {
    int n = 0;
    for (int i = 0; i < 4; i++) {
        gradin_vec3 a = corner[i], b = corner[(i + 1) % 4];
        double up_a = gradin_dot(a, normal), up_b = gradin_dot(b, normal);
        if (up_a >= 0.0 && n < MAX_CORNER) kept[n++] = a;
        if ((up_a < 0.0) != (up_b < 0.0) && up_a != 0.0 && up_b != 0.0 && n < MAX_CORNER)
            kept[n++] = gradin_add(a, gradin_scale(gradin_sub(b, a), up_a / (up_a - up_b)));
    }
    return n;
}

double gradin_form_point(gradin_vec3 at_m, gradin_vec3 normal, const gradin_rectangle *to) {
    gradin_vec3 corner[4], kept[MAX_CORNER];
    double sum = 0.0;
    if (!(gradin_dot(gradin_sub(at_m, to->corner_m), to->normal) > 0.0)) return 0.0;
    corners_from(at_m, to, corner);
    int n = above_horizon(corner, normal, kept);
    for (int i = 0; n > 2 && i < n; i++) {
        gradin_vec3 a = kept[i], b = kept[(i + 1) % n], gamma = gradin_cross(a, b);
        double size = gradin_norm(gamma);
        if (size > 0.0) sum += atan2(size, gradin_dot(a, b)) * gradin_dot(gamma, normal) / size;
    }
    return fabs(sum) / (2.0 * GRADIN_PI); /* (1) */
}

static double one_way_m2(const gradin_rectangle *from, const gradin_rectangle *to,
                         const rule *gauss) {
    double sum = 0.0;
    for (int j = 0; j < gauss->n; j++)
        for (int i = 0; i < gauss->n; i++)
            sum += gauss->weight[i] * gauss->weight[j] *
                   gradin_form_point(gradin_rectangle_at_m(from, gauss->at[i], gauss->at[j]),
                                     from->normal, to);
    return sum * gradin_rectangle_m2(from);
}

double gradin_rectangle_before_m(const gradin_rectangle *of, const gradin_rectangle *r) {
    double corner = gradin_dot(gradin_sub(r->corner_m, of->corner_m), of->normal);
    double along = gradin_dot(r->along_m, of->normal), up = gradin_dot(r->up_m, of->normal);
    return corner + (along > 0.0 ? along : 0.0) + (up > 0.0 ? up : 0.0);
}

/* Part of r lies before the plane of `of` and part behind it. */
static bool straddles(const gradin_rectangle *r, const gradin_rectangle *of) {
    gradin_vec3 corner[4];
    int n_before = 0, n_behind = 0;
    corners_from(of->corner_m, r, corner);
    for (int i = 0; i < 4; i++) {
        n_before += gradin_dot(corner[i], of->normal) > touching_m;
        n_behind += gradin_dot(corner[i], of->normal) < -touching_m;
    }
    return n_before > 0 && n_behind > 0;
}

/* Points on a rectangle and their weights; returns how many. */
static int gauss_points(const gradin_rectangle *r, const rule *gauss,
                        gradin_vec3 at_m[MAX_BOTH * MAX_BOTH], double *weight) {
    int n = 0;
    for (int j = 0; j < gauss->n; j++)
        for (int i = 0; i < gauss->n; i++, n++) {
            at_m[n] = gradin_rectangle_at_m(r, gauss->at[i], gauss->at[j]);
            weight[n] = gauss->weight[i] * gauss->weight[j];
        }
    return n;
}

static double far_apart_m2(const gradin_rectangle *a, const gradin_rectangle *b,
                           const rule *gauss) {
    gradin_vec3 from_m[MAX_BOTH * MAX_BOTH], to_m[MAX_BOTH * MAX_BOTH];
    double weight[MAX_BOTH * MAX_BOTH], sum = 0.0;
    if (gradin_rectangle_before_m(a, b) <= 0.0 || gradin_rectangle_before_m(b, a) <= 0.0)
        return 0.0;
    int n = gauss_points(a, gauss, from_m, weight);
    gauss_points(b, gauss, to_m, weight);
    for (int i = 0; i < n; i++) {
        double from = 0.0;
        for (int j = 0; j < n; j++) {
            gradin_vec3 way = gradin_sub(to_m[j], from_m[i]);
            double square = gradin_dot(way, way);
            from -= weight[j] * gradin_dot(way, a->normal) * gradin_dot(way, b->normal) /
                    (square * square);
        }
        sum += weight[i] * from;
    }
    return sum / GRADIN_PI * gradin_rectangle_m2(a) * gradin_rectangle_m2(b); /* (2) */
}

/* An order of two rectangles that does not depend on which comes first: the smaller, then the lower
 * corner. */
static bool is_first(const gradin_rectangle *a, const gradin_rectangle *b) {
    double area_m2 = gradin_rectangle_m2(a), other_m2 = gradin_rectangle_m2(b);
    if (area_m2 != other_m2) return area_m2 < other_m2;
    if (a->corner_m.x != b->corner_m.x) return a->corner_m.x < b->corner_m.x;
    if (a->corner_m.y != b->corner_m.y) return a->corner_m.y < b->corner_m.y;
    return a->corner_m.z < b->corner_m.z;
}

double gradin_form_exchange_m2(const gradin_rectangle *a, const gradin_rectangle *b) {
    double reach_m = gradin_rectangle_radius_m(a) + gradin_rectangle_radius_m(b);
    double apart = gradin_norm(gradin_sub(gradin_rectangle_at_m(a, 0.5, 0.5),
                                          gradin_rectangle_at_m(b, 0.5, 0.5))) /
                   reach_m;
    bool is_cut = straddles(a, b) || straddles(b, a);
    if (apart < near_8) return 0.5 * (one_way_m2(a, b, &rule_8) + one_way_m2(b, a, &rule_8));
    const gradin_rectangle *from = is_first(a, b) ? a : b, *to = from == a ? b : a;
    if (is_cut || apart < near_4) return one_way_m2(from, to, &rule_4);
    return far_apart_m2(from, to, apart < near_3 ? &rule_3 : &rule_2);
}

/* Two triangles by Van Oosterom and Strackee (1983). */
static double triangle_sr(gradin_vec3 a, gradin_vec3 b, gradin_vec3 c) {
    double la = gradin_norm(a), lb = gradin_norm(b), lc = gradin_norm(c);
    double below =
        la * lb * lc + gradin_dot(a, b) * lc + gradin_dot(a, c) * lb + gradin_dot(b, c) * la;
    return 2.0 * atan2(fabs(gradin_dot(a, gradin_cross(b, c))), below);
}

double gradin_rectangle_seen_sr(gradin_vec3 from_m, const gradin_rectangle *r) {
    gradin_vec3 corner[4];
    if (!(gradin_dot(gradin_sub(from_m, r->corner_m), r->normal) > 0.0)) return 0.0;
    corners_from(from_m, r, corner);
    return triangle_sr(corner[0], corner[1], corner[2]) +
           triangle_sr(corner[0], corner[2], corner[3]);
}
