/* Solid angle of a plane polygon, cut to what lies ahead of the eye.
 *
 * A fan of triangles, each by A. Van Oosterom and J. Strackee, "The solid angle of a plane
 * triangle", IEEE Trans. Biomed. Eng. BME-30 (1983) 125-126 (from memory):
 * tan(W/2) = R1.(R2 x R3) / (r1 r2 r3 + (R1.R2) r3 + (R1.R3) r2 + (R2.R3) r1).
 * Limits: the eye does not lie on the polygon; the polygon is convex. */
#include "sightline/outlook/outlook.h"

enum { MOST_CORNER = 8 };

static double triangle_sr(gradin_vec3 a, gradin_vec3 b, gradin_vec3 c) {
    double ra = gradin_norm(a), rb = gradin_norm(b), rc = gradin_norm(c);
    double top = gradin_dot(a, gradin_cross(b, c));
    double below =
        ra * rb * rc + gradin_dot(a, b) * rc + gradin_dot(a, c) * rb + gradin_dot(b, c) * ra;
    return 2.0 * atan2(fabs(top), below);
}

/* The part with way >= 0, Sutherland and Hodgman against one plane; [n + 1] at most. */
static int clip(const gradin_vec3 *from, const double *way, int n, gradin_vec3 *to) {
    int kept = 0;
    for (int i = 0; i < n; i++) {
        int next = (i + 1) % n;
        if (way[i] >= 0.0) to[kept++] = from[i];
        if ((way[i] >= 0.0) == (way[next] >= 0.0)) continue;
        double t = way[i] / (way[i] - way[next]);
        to[kept++] = gradin_add(from[i], gradin_scale(gradin_sub(from[next], from[i]), t));
    }
    return kept;
}

double outlook_solid_angle_sr(gradin_vec3 eye_m, gradin_vec3 ahead, const gradin_vec3 *corner_m,
                              int n) {
    gradin_vec3 seen[MOST_CORNER], front[2 * MOST_CORNER];
    double way[MOST_CORNER], sum_sr = 0.0;
    for (int i = 0; i < n; i++) {
        seen[i] = gradin_sub(corner_m[i], eye_m);
        way[i] = gradin_dot(seen[i], ahead);
    }
    int n_front = clip(seen, way, n, front);
    for (int i = 1; i + 1 < n_front; i++) sum_sr += triangle_sr(front[0], front[i], front[i + 1]);
    return sum_sr;
}
