/* What is looked at, as figures: the height of a floor that may slope, and the middle of an area.
 * A sloping floor is a plane that rises evenly towards one bearing from its lowest corner. */
#include "gradin/layout.h"

#include "base/shared/slope.h"

double gradin_focus_z_m(const gradin_focus *focus, gradin_vec2 at_m) {
    if (!focus) return NAN;
    return slope_z_m(slope_rising(focus->polygon.corner_m, focus->polygon.n_corner, focus->z_m,
                                  focus->slope, focus->uphill_deg),
                     at_m);
}

static gradin_vec2 line_middle_m(const gradin_vec2 *point_m, int n) {
    gradin_vec2 sum = {0.0, 0.0};
    double length_m = 0.0;
    for (int i = 0; i + 1 < n; i++) {
        gradin_vec2 a = point_m[i], b = point_m[i + 1];
        double piece_m = hypot(b.x - a.x, b.y - a.y);
        sum.x += piece_m * 0.5 * (a.x + b.x);
        sum.y += piece_m * 0.5 * (a.y + b.y);
        length_m += piece_m;
    }
    return (gradin_vec2){sum.x / length_m, sum.y / length_m};
}

gradin_vec3 gradin_focus_middle_m(const gradin_focus *focus) {
    const gradin_vec3 none = {NAN, NAN, NAN};
    if (!focus) return none;
    if (focus->kind == GRADIN_FOCUS_POINT)
        return (gradin_vec3){focus->point_m.x, focus->point_m.y, focus->z_m};
    if (focus->kind == GRADIN_FOCUS_UPRIGHT) {
        if (!focus->line_m || focus->n_line < 2) return none;
        gradin_vec2 m = line_middle_m(focus->line_m, focus->n_line);
        return (gradin_vec3){m.x, m.y, 0.5 * (focus->bottom_m + focus->top_m)};
    }
    if (!focus->polygon.corner_m || focus->polygon.n_corner < 3) return none;
    gradin_vec2 c = gradin_polygon_centroid_m(focus->polygon);
    return (gradin_vec3){c.x, c.y, gradin_focus_z_m(focus, c)};
}

double gradin_focus_lowest_m(const gradin_focus *focus) {
    if (!focus) return NAN;
    return focus->kind == GRADIN_FOCUS_UPRIGHT ? focus->bottom_m : focus->z_m;
}
