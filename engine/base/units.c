/* Angles and bearings. A bearing is clockwise from north (+y). */
#include "gradin/base.h"

double gradin_wrap_360_deg(double angle_deg) {
    double folded = fmod(angle_deg, 360.0);
    if (folded < 0.0) folded += 360.0;
    return folded >= 360.0 ? 0.0 : folded;
}

double gradin_bearing_gap_deg(double a_deg, double b_deg) {
    double gap = gradin_wrap_360_deg(a_deg - b_deg);
    return gap > 180.0 ? 360.0 - gap : gap;
}

gradin_vec2 gradin_bearing_unit(double bearing_deg) {
    double folded = gradin_wrap_360_deg(bearing_deg);
    /* The four main bearings come out exact, so that square halls stay square. */
    if (folded == 0.0) return (gradin_vec2){0.0, 1.0};
    if (folded == 90.0) return (gradin_vec2){1.0, 0.0};
    if (folded == 180.0) return (gradin_vec2){0.0, -1.0};
    if (folded == 270.0) return (gradin_vec2){-1.0, 0.0};
    return (gradin_vec2){sin(gradin_rad(folded)), cos(gradin_rad(folded))};
}

gradin_vec2 gradin_turned(gradin_vec2 at, gradin_vec2 pivot, double clockwise_deg) {
    if (clockwise_deg == 0.0) return at;
    gradin_vec2 up = gradin_bearing_unit(clockwise_deg);
    double dx = at.x - pivot.x, dy = at.y - pivot.y;
    return (gradin_vec2){pivot.x + dx * up.y + dy * up.x, pivot.y - dx * up.x + dy * up.y};
}

double gradin_bearing_deg(double dx, double dy) {
    if (dx == 0.0 && dy == 0.0) return 0.0;
    return gradin_wrap_360_deg(gradin_deg(atan2(dx, dy)));
}
