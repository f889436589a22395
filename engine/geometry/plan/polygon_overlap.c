/* Simplicity of one plan polygon, overlap of two.
 *
 * Overlap of convex polygons: separating axes over the normals of all edges, exact. Otherwise: two
 * edges cross with each end farther than touch_m from the other's line, or a witness point (corner,
 * middle of an edge, middle of an ear) of one lies deeper than touch_m inside the other. */
#include "geometry/plan/plan.h"

static double side_of_line_m(gradin_vec2 a, gradin_vec2 b, gradin_vec2 p) {
    gradin_vec2 along = plan_sub(b, a);
    double length = hypot(along.x, along.y);
    return length > 0.0 ? plan_cross(along, plan_sub(p, a)) / length : 0.0;
}

static double gap_to_segment_m(gradin_vec2 a, gradin_vec2 b, gradin_vec2 p) {
    gradin_vec2 away = plan_sub(gradin_plan_nearest_on_segment(a, b, p), p);
    return hypot(away.x, away.y);
}

/* Each end of either segment lies more than touch_m off the other's line, on opposite sides. */
static bool segments_cross(gradin_vec2 a, gradin_vec2 b, gradin_vec2 c, gradin_vec2 d,
                           double touch_m) {
    double sc = side_of_line_m(a, b, c), sd = side_of_line_m(a, b, d);
    if (!((sc > touch_m && sd < -touch_m) || (sc < -touch_m && sd > touch_m))) return false;
    double sa = side_of_line_m(c, d, a), sb = side_of_line_m(c, d, b);
    return (sa > touch_m && sb < -touch_m) || (sa < -touch_m && sb > touch_m);
}

static bool segments_touch(gradin_vec2 a, gradin_vec2 b, gradin_vec2 c, gradin_vec2 d) {
    return segments_cross(a, b, c, d, 0.0) || gap_to_segment_m(a, b, c) == 0.0 ||
           gap_to_segment_m(a, b, d) == 0.0 || gap_to_segment_m(c, d, a) == 0.0 ||
           gap_to_segment_m(c, d, b) == 0.0;
}

/* The edge leaving corner i turns straight back along the one that reaches it, or has no length. */
static bool folds_back(gradin_polygon polygon, int i) {
    gradin_vec2 into = plan_sub(plan_corner(polygon, i + 1), plan_corner(polygon, i));
    gradin_vec2 out =
        plan_sub(plan_corner(polygon, (i + 2) % polygon.n_corner), plan_corner(polygon, i + 1));
    return plan_dot(into, into) == 0.0 ||
           (plan_cross(into, out) == 0.0 && plan_dot(into, out) < 0.0);
}

bool gradin_polygon_is_simple(gradin_polygon polygon) {
    int n = polygon.n_corner;
    if (n < 3) return false;
    for (int i = 0; i < n; i++) {
        if (folds_back(polygon, i)) return false;
        for (int j = i + 2; j < n; j++) {
            if (i == 0 && j == n - 1) continue; /* neighbours across the closing corner */
            if (segments_touch(plan_corner(polygon, i), plan_corner(polygon, i + 1),
                               plan_corner(polygon, j), plan_corner(polygon, j + 1)))
                return false;
        }
    }
    return true;
}

static double turn_at(gradin_polygon polygon, int i) {
    gradin_vec2 a = plan_corner(polygon, i), b = plan_corner(polygon, i + 1);
    return plan_cross(plan_sub(b, a),
                      plan_sub(plan_corner(polygon, (i + 2) % polygon.n_corner), b));
}

static bool is_convex(gradin_polygon polygon) {
    bool left = false, right = false;
    for (int i = 0; i < polygon.n_corner; i++) {
        double turn = turn_at(polygon, i);
        left = left || turn > 0.0;
        right = right || turn < 0.0;
    }
    return !(left && right);
}

static void extent_m(gradin_polygon polygon, gradin_vec2 axis, double *low, double *high) {
    *low = INFINITY;
    *high = -INFINITY;
    for (int i = 0; i < polygon.n_corner; i++) {
        double s = plan_dot(polygon.corner_m[i], axis);
        *low = fmin(*low, s);
        *high = fmax(*high, s);
    }
}

/* An edge normal of a along which the two share no more than touch_m. */
static bool edge_separates(gradin_polygon a, gradin_polygon b, double touch_m) {
    for (int i = 0; i < a.n_corner; i++) {
        gradin_vec2 edge = plan_sub(plan_corner(a, i + 1), plan_corner(a, i));
        double length = hypot(edge.x, edge.y), low_a, high_a, low_b, high_b;
        if (length == 0.0) continue;
        gradin_vec2 normal = {edge.y / length, -edge.x / length};
        extent_m(a, normal, &low_a, &high_a);
        extent_m(b, normal, &low_b, &high_b);
        if (fmin(high_a, high_b) - fmax(low_a, low_b) <= touch_m) return true;
    }
    return false;
}

static bool lies_deep(gradin_polygon polygon, gradin_vec2 point, double touch_m) {
    if (!gradin_polygon_contains(polygon, point)) return false;
    gradin_vec2 away = plan_sub(gradin_polygon_nearest_m(polygon, point, NULL), point);
    return hypot(away.x, away.y) > touch_m;
}

/* A corner, a middle of an edge or a middle of an ear of a lies deep in b. */
static bool reaches_into(gradin_polygon a, gradin_polygon b, double touch_m) {
    for (int i = 0; i < a.n_corner; i++) {
        gradin_vec2 p = plan_corner(a, i), q = plan_corner(a, i + 1);
        gradin_vec2 r = plan_corner(a, (i + 2) % a.n_corner);
        gradin_vec2 ear = {(p.x + q.x + r.x) / 3.0, (p.y + q.y + r.y) / 3.0};
        if (lies_deep(b, p, touch_m) ||
            lies_deep(b, (gradin_vec2){0.5 * (p.x + q.x), 0.5 * (p.y + q.y)}, touch_m))
            return true;
        if (gradin_polygon_contains(a, ear) && lies_deep(b, ear, touch_m)) return true;
    }
    return false;
}

static bool edges_cross(gradin_polygon a, gradin_polygon b, double touch_m) {
    for (int i = 0; i < a.n_corner; i++)
        for (int j = 0; j < b.n_corner; j++)
            if (segments_cross(plan_corner(a, i), plan_corner(a, i + 1), plan_corner(b, j),
                               plan_corner(b, j + 1), touch_m))
                return true;
    return false;
}

bool gradin_polygon_overlap(gradin_polygon a, gradin_polygon b, double touch_m) {
    if (a.n_corner < 3 || b.n_corner < 3) return false;
    gradin_box2 p = gradin_polygon_bounds(a), q = gradin_polygon_bounds(b);
    if (fmin(p.x_max_m, q.x_max_m) - fmax(p.x_min_m, q.x_min_m) <= touch_m ||
        fmin(p.y_max_m, q.y_max_m) - fmax(p.y_min_m, q.y_min_m) <= touch_m)
        return false;
    if (is_convex(a) && is_convex(b))
        return !edge_separates(a, b, touch_m) && !edge_separates(b, a, touch_m);
    return edges_cross(a, b, touch_m) || reaches_into(a, b, touch_m) || reaches_into(b, a, touch_m);
}
