/* Plan polygons: area and centroid by the shoelace sum (taken from the first corner, so that a
 * polygon far from the origin loses no digits), containment by crossing parity with a closed
 * boundary, nearest point, ray. */
#include "geometry/plan/plan.h"

#define BOUNDARY_M 1e-9

static double twice_signed_area(gradin_polygon polygon) {
    double sum = 0.0;
    gradin_vec2 origin = polygon.corner_m[0];
    for (int i = 1; i + 1 < polygon.n_corner; i++)
        sum += plan_cross(plan_sub(polygon.corner_m[i], origin),
                          plan_sub(polygon.corner_m[i + 1], origin));
    return sum;
}

double gradin_polygon_area_m2(gradin_polygon polygon) {
    if (polygon.n_corner < 3) return 0.0;
    return 0.5 * fabs(twice_signed_area(polygon));
}

double gradin_polygon_perimeter_m(gradin_polygon polygon) {
    double sum_m = 0.0;
    for (int i = 0; i < polygon.n_corner; i++) {
        gradin_vec2 side = plan_sub(plan_corner(polygon, i + 1), polygon.corner_m[i]);
        sum_m += hypot(side.x, side.y);
    }
    return sum_m;
}

static gradin_vec2 mean_corner(gradin_polygon polygon) {
    gradin_vec2 sum = {0.0, 0.0};
    for (int i = 0; i < polygon.n_corner; i++)
        sum = plan_along(sum, polygon.corner_m[i], 1.0 / polygon.n_corner);
    return sum;
}

gradin_vec2 gradin_polygon_centroid_m(gradin_polygon polygon) {
    if (polygon.n_corner < 1) return (gradin_vec2){NAN, NAN};
    gradin_vec2 origin = polygon.corner_m[0], moment = {0.0, 0.0};
    for (int i = 1; i + 1 < polygon.n_corner; i++) {
        gradin_vec2 a = plan_sub(polygon.corner_m[i], origin);
        gradin_vec2 b = plan_sub(polygon.corner_m[i + 1], origin);
        double twice_area = plan_cross(a, b);
        moment = plan_along(moment, (gradin_vec2){a.x + b.x, a.y + b.y}, twice_area / 3.0);
    }
    double area = twice_signed_area(polygon);
    return area == 0.0 ? mean_corner(polygon) : plan_along(origin, moment, 1.0 / area);
}

/* fmin() and fmax() are calls; these are not. */
static double lesser(double a, double b) {
    return b < a || isnan(a) ? b : a;
}

static double greater(double a, double b) {
    return b > a || isnan(a) ? b : a;
}

gradin_box2 gradin_polygon_bounds(gradin_polygon polygon) {
    if (polygon.n_corner < 1) return (gradin_box2){NAN, NAN, NAN, NAN};
    gradin_vec2 first = polygon.corner_m[0];
    gradin_box2 box = {first.x, first.y, first.x, first.y};
    for (int i = 1; i < polygon.n_corner; i++) {
        gradin_vec2 p = polygon.corner_m[i];
        box.x_min_m = lesser(box.x_min_m, p.x);
        box.y_min_m = lesser(box.y_min_m, p.y);
        box.x_max_m = greater(box.x_max_m, p.x);
        box.y_max_m = greater(box.y_max_m, p.y);
    }
    return box;
}

gradin_vec2 gradin_plan_nearest_on_segment(gradin_vec2 a, gradin_vec2 b, gradin_vec2 point) {
    gradin_vec2 along = plan_sub(b, a);
    double length2 = plan_dot(along, along);
    if (length2 == 0.0) return a;
    double t = plan_dot(plan_sub(point, a), along) / length2;
    return t <= 0.0 ? a : t >= 1.0 ? b : plan_along(a, along, t);
}

gradin_vec2 gradin_polygon_nearest_m(gradin_polygon polygon, gradin_vec2 point_m, int *edge) {
    if (polygon.n_corner < 1) return (gradin_vec2){NAN, NAN};
    gradin_vec2 best = polygon.corner_m[0];
    double best2 = INFINITY;
    for (int i = 0; i < polygon.n_corner; i++) {
        gradin_vec2 p = gradin_plan_nearest_on_segment(plan_corner(polygon, i),
                                                       plan_corner(polygon, i + 1), point_m);
        gradin_vec2 away = plan_sub(p, point_m);
        double distance2 = plan_dot(away, away);
        if (!(distance2 < best2)) continue;
        best2 = distance2;
        best = p;
        if (edge) *edge = i;
    }
    return best;
}

static bool crossing_parity(gradin_polygon polygon, gradin_vec2 p) {
    bool odd = false;
    for (int i = 0; i < polygon.n_corner; i++) {
        gradin_vec2 a = plan_corner(polygon, i), b = plan_corner(polygon, i + 1);
        if ((a.y > p.y) == (b.y > p.y)) continue;
        if (p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y)) odd = !odd;
    }
    return odd;
}

/* Do all corners lie on one side of the point, farther than the boundary is wide? Most points that
 * are asked about are told off by this alone. */
static bool is_beside_box(gradin_polygon polygon, gradin_vec2 p) {
    const double reach_m = 2.0 * BOUNDARY_M;
    bool left = true, right = true, below = true, above = true;
    for (int i = 0; i < polygon.n_corner; i++) {
        gradin_vec2 c = polygon.corner_m[i];
        left &= c.x > p.x + reach_m;
        right &= c.x < p.x - reach_m;
        below &= c.y > p.y + reach_m;
        above &= c.y < p.y - reach_m;
    }
    return left | right | below | above;
}

bool gradin_polygon_contains(gradin_polygon polygon, gradin_vec2 point_m) {
    if (polygon.n_corner < 1 || is_beside_box(polygon, point_m)) return false;
    if (crossing_parity(polygon, point_m)) return true;
    gradin_vec2 away = plan_sub(gradin_polygon_nearest_m(polygon, point_m, NULL), point_m);
    return plan_dot(away, away) <= BOUNDARY_M * BOUNDARY_M;
}

/* Distance along the ray to the edge a-b. An edge that lies along the ray counts by its ends. */
static bool ray_to_edge(gradin_vec2 origin, gradin_vec2 unit, gradin_vec2 a, gradin_vec2 b,
                        double *t) {
    double side_a = plan_cross(unit, plan_sub(a, origin));
    double side_b = plan_cross(unit, plan_sub(b, origin));
    double ahead_a = plan_dot(unit, plan_sub(a, origin));
    double ahead_b = plan_dot(unit, plan_sub(b, origin));
    if ((side_a > 0.0 && side_b > 0.0) || (side_a < 0.0 && side_b < 0.0)) return false;
    if (side_a == side_b)
        *t = ahead_a >= 0.0 && (ahead_a <= ahead_b || ahead_b < 0.0) ? ahead_a : ahead_b;
    else
        *t = ahead_a + (ahead_b - ahead_a) * (side_a / (side_a - side_b));
    return *t >= 0.0;
}

bool gradin_polygon_ray_m(gradin_polygon polygon, gradin_vec2 origin_m, gradin_vec2 unit,
                          double *t_m) {
    if (gradin_polygon_contains(polygon, origin_m)) {
        *t_m = 0.0;
        return true;
    }
    double nearest = INFINITY, t;
    for (int i = 0; i < polygon.n_corner; i++)
        if (ray_to_edge(origin_m, unit, plan_corner(polygon, i), plan_corner(polygon, i + 1), &t))
            nearest = fmin(nearest, t);
    if (isinf(nearest)) return false;
    *t_m = nearest;
    return true;
}

void gradin_rectangle_corners(gradin_vec2 centre_m, double bearing_deg, double along_m,
                              double across_m, gradin_vec2 corner_m[4]) {
    if (!corner_m) return;
    static const double ahead[4] = {-0.5, -0.5, 0.5, 0.5}, right[4] = {-0.5, 0.5, 0.5, -0.5};
    gradin_vec2 forward = gradin_bearing_unit(bearing_deg);
    gradin_vec2 rightward = {forward.y, -forward.x};
    for (int i = 0; i < 4; i++)
        corner_m[i] = plan_along(plan_along(centre_m, forward, ahead[i] * along_m), rightward,
                                 right[i] * across_m);
}

bool gradin_polygon_is_convex(gradin_polygon p) {
    int n_left = 0, n_right = 0;
    for (int i = 0; i < p.n_corner; i++) {
        gradin_vec2 a = p.corner_m[i], b = p.corner_m[(i + 1) % p.n_corner];
        gradin_vec2 c = p.corner_m[(i + 2) % p.n_corner];
        double turn = (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);
        n_left += turn > 0.0;
        n_right += turn < 0.0;
    }
    return n_left == 0 || n_right == 0;
}

/* Corner i of a is corner first + way i of b. */
static bool lies_on(gradin_polygon a, gradin_polygon b, int first, int way, double slack_m) {
    for (int i = 0; i < a.n_corner; i++) {
        gradin_vec2 p = a.corner_m[i], q = plan_corner(b, first + (way < 0 ? b.n_corner - i : i));
        if (hypot(p.x - q.x, p.y - q.y) > slack_m) return false;
    }
    return true;
}

bool gradin_polygon_is_same(gradin_polygon a, gradin_polygon b, double slack_m) {
    if (a.n_corner != b.n_corner) return false;
    for (int first = 0; first < b.n_corner; first++)
        if (lies_on(a, b, first, 1, slack_m) || lies_on(a, b, first, -1, slack_m)) return true;
    return a.n_corner == 0;
}
