/* Lift grids that lie at a bearing. */
#include "venue/frame.h"

/* Bearings that are written with decimals meet a side of the grid to this. */
static const double SIDE_QUARTER = 1e-7;

gradin_vec2 grid_unturned_m(const gradin_lift_section *s, gradin_vec2 at_m) {
    return gradin_turned(at_m, s->pivot_m, -s->bearing_deg);
}

gradin_vec2 grid_turned_m(const gradin_lift_section *s, gradin_vec2 at_m) {
    return gradin_turned(at_m, s->pivot_m, s->bearing_deg);
}

void grid_corners(const gradin_lift_section *s, gradin_box2 box, gradin_vec2 corner_m[4]) {
    corner_m[0] = grid_turned_m(s, (gradin_vec2){box.x_min_m, box.y_min_m});
    corner_m[1] = grid_turned_m(s, (gradin_vec2){box.x_max_m, box.y_min_m});
    corner_m[2] = grid_turned_m(s, (gradin_vec2){box.x_max_m, box.y_max_m});
    corner_m[3] = grid_turned_m(s, (gradin_vec2){box.x_min_m, box.y_max_m});
}

int gradin_grid_quarter(double bearing_deg, double facing_deg) {
    if (!(facing_deg >= 0.0 && facing_deg < 360.0)) return -1;
    double quarters = (facing_deg - bearing_deg) / 90.0, whole = nearbyint(quarters);
    if (fabs(quarters - whole) > SIDE_QUARTER) return -1;
    return (((int)whole % 4) + 4) % 4;
}

void gradin_section_corners(const gradin_lift_section *s, gradin_vec2 corner_m[4]) {
    if (s && corner_m) grid_corners(s, s->box, corner_m);
}
