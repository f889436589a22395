/* Distance and angles from one eye to the areas that are acted on: the floors, where there are any.
 * The width in view is the smallest arc of bearings that holds them all: 360 degrees less the
 * widest free gap between them. */
#include "sightline/rating/angles.h"

#include <stdlib.h>

typedef struct arc {
    double start_deg, span_deg;
} arc;

/* Bearings that an outline fills, unwrapped corner by corner; the eye stands outside it. */
static arc polygon_arc(gradin_polygon polygon, gradin_vec2 eye) {
    double dx = polygon.corner_m[0].x - eye.x, dy = polygon.corner_m[0].y - eye.y;
    double first_deg = gradin_bearing_deg(dx, dy), turned_deg = 0.0, low = 0.0, high = 0.0;
    for (int i = 1; i < polygon.n_corner; i++) {
        double next_x = polygon.corner_m[i].x - eye.x, next_y = polygon.corner_m[i].y - eye.y;
        turned_deg += gradin_deg(atan2(dy * next_x - dx * next_y, dx * next_x + dy * next_y));
        low = fmin(low, turned_deg);
        high = fmax(high, turned_deg);
        dx = next_x;
        dy = next_y;
    }
    return (arc){gradin_wrap_360_deg(first_deg + low), fmin(high - low, 360.0)};
}

static int by_start(const void *a, const void *b) {
    const arc *p = a, *q = b;
    return (p->start_deg > q->start_deg) - (p->start_deg < q->start_deg);
}

static double width_in_view_deg(const sight_focus *focus, gradin_vec2 eye) {
    arc arcs[GRADIN_MAX_FOCUS];
    int n = 0;
    for (int a = 0; a < focus->n_area; a++) {
        if (focus->acting[a] == 0.0) continue;
        if (gradin_sight_is_over(&focus->area[a], eye)) return 360.0;
        arcs[n++] = polygon_arc(gradin_sight_outline(&focus->area[a]), eye);
    }
    qsort(arcs, (size_t)n, sizeof *arcs, by_start);
    double reached_deg = arcs[0].start_deg, gap_deg = 0.0;
    /* arcs that run through north cover the bearings after it */
    for (int a = 0; a < n; a++)
        reached_deg = fmax(reached_deg, arcs[a].start_deg + arcs[a].span_deg - 360.0);
    for (int a = 0; a < n; a++) {
        gap_deg = fmax(gap_deg, arcs[a].start_deg - reached_deg);
        reached_deg = fmax(reached_deg, arcs[a].start_deg + arcs[a].span_deg);
    }
    gap_deg = fmax(gap_deg, arcs[0].start_deg + 360.0 - reached_deg);
    return 360.0 - gap_deg;
}

static double nearest_edge_m(const sight_focus *focus, gradin_vec2 eye) {
    double nearest = INFINITY;
    for (int a = 0; a < focus->n_area; a++) {
        if (focus->acting[a] == 0.0) continue;
        gradin_vec2 p = gradin_sight_nearest(&focus->area[a], eye);
        bool over = gradin_sight_is_over(&focus->area[a], eye);
        nearest = fmin(nearest, over ? 0.0 : hypot(p.x - eye.x, p.y - eye.y));
    }
    return nearest;
}

sight_angles gradin_sight_angles(const sight_focus *focus, gradin_vec3 eye_m, double facing_deg,
                                 double axis_deg) {
    gradin_vec3 way = gradin_sub(focus->middle_m, eye_m);
    gradin_vec2 eye = {eye_m.x, eye_m.y};
    bool is_over = hypot(way.x, way.y) < 1e-9; /* then the focus lies in no direction */
    double to_focus_deg = gradin_bearing_deg(way.x, way.y);
    double from_focus_deg = gradin_bearing_deg(-way.x, -way.y);
    return (sight_angles){
        .distance_m = gradin_norm(way),
        .nearest_m = nearest_edge_m(focus, eye),
        .off_axis_deg =
            isnan(axis_deg) || is_over ? NAN : gradin_bearing_gap_deg(axis_deg, from_focus_deg),
        .down_deg = gradin_deg(atan2(-way.z, hypot(way.x, way.y))),
        .turn_deg = is_over ? NAN : gradin_bearing_gap_deg(facing_deg, to_focus_deg),
        .width_deg = width_in_view_deg(focus, eye)};
}
