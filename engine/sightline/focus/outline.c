/* Focus areas as seen on plan: what bounds them, and what is nearest to a point. */
#include "sightline/focus/focus.h"

gradin_polygon gradin_sight_outline(const gradin_focus *area) {
    if (area->kind == GRADIN_FOCUS_POINT) return (gradin_polygon){&area->point_m, 1};
    if (area->kind == GRADIN_FOCUS_UPRIGHT) return (gradin_polygon){area->line_m, area->n_line};
    return area->polygon;
}

gradin_vec2 gradin_sight_path_nearest(gradin_vec2 from_m, const gradin_vec2 *point_m, int n) {
    gradin_vec2 best = point_m[0];
    for (int i = 0; i + 1 < n; i++) {
        gradin_vec2 a = point_m[i], b = point_m[i + 1];
        double dx = b.x - a.x, dy = b.y - a.y, length2 = dx * dx + dy * dy;
        double s = length2 > 0.0 ? ((from_m.x - a.x) * dx + (from_m.y - a.y) * dy) / length2 : 0.0;
        s = fmin(fmax(s, 0.0), 1.0);
        gradin_vec2 p = {a.x + s * dx, a.y + s * dy};
        if (hypot(p.x - from_m.x, p.y - from_m.y) < hypot(best.x - from_m.x, best.y - from_m.y))
            best = p;
    }
    return best;
}

bool gradin_sight_is_over(const gradin_focus *area, gradin_vec2 at_m) {
    return area->kind == GRADIN_FOCUS_FLOOR && gradin_polygon_contains(area->polygon, at_m);
}

gradin_vec2 gradin_sight_nearest(const gradin_focus *area, gradin_vec2 from_m) {
    if (area->kind == GRADIN_FOCUS_FLOOR)
        return gradin_polygon_nearest_m(area->polygon, from_m, NULL);
    gradin_polygon outline = gradin_sight_outline(area);
    return gradin_sight_path_nearest(from_m, outline.corner_m, outline.n_corner);
}
